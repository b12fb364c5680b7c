import type { Line } from './line'
import { type View, wordAt } from './view'
import { listed } from './vocabulary'

const TOPICS = listed('topics')

const topicAt = (view: View, at: number): string | undefined => {
  const word = wordAt(view, at)
  return [word, word.replace(/s$/, ''), word.replace(/es$/, '')].find((each) => TOPICS.has(each))
}

/** "the dimmer and the breaker": two things beside each other, of which nothing is asked. */
function namesTwo(view: View): boolean {
  return view.items.some((item, at) => {
    if (item.kind !== 'word' || !['and', 'or'].includes(item.text)) return false
    const before = topicAt(view, at - 1)
    const after = [1, 2, 3].map((ahead) => topicAt(view, at + ahead)).find(Boolean)
    return before !== undefined && after !== undefined && before !== after
  })
}

/**
 * Whether a line that follows no other says too little to be one question: at most one number and nothing of the
 * trade by its name ("how far can I go", "will 60 watts be ok"), or two things without a number.
 */
export function isVague(line: Line): boolean {
  const [view] = line.views
  if (view === undefined) return false
  const numbers = view.pieces.filter((piece) => piece.kind !== 'label')
  if (numbers.length > 1 || numbers.some((piece) => piece.members)) return false
  if (numbers.length === 0 && namesTwo(view)) return true
  const plain = numbers.every(
    (piece) => piece.code === undefined && piece.readings[0]?.dimension !== 'frequency',
  )
  return plain && !view.items.some((_, at) => topicAt(view, at) !== undefined)
}
