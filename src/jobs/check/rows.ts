import { optional } from '../../questions/common/fields'
import { flattenInputs } from '../../questions/common/question'
import { inWords } from '../../questions/common/shared-words'
import type { FactValue } from '../log/job'
import { factKind, factLabel } from '../memory/fact-book'
import type { KnownFact } from '../memory/facts'
import { sameValue } from '../memory/learn'
import type { Place } from './checked-job'
import type { BoardRow, RowState } from './row'
import { say } from './words'

/** From the best to the worst: what cannot be told is worse than what is tight, and better than what fails. */
const severity: Readonly<Record<RowState, number>> = { info: 0, holds: 0, tight: 1, 'not-asked': 2, fails: 3 }

/** How bad a state is: alike for `holds` and `info`. */
export const severityOf = (state: RowState): number => severity[state]

/** The worst of several states; `info` only where there is nothing else. */
export const worstState = (states: readonly RowState[]): RowState =>
  states.reduce<RowState>(
    (worst, state) =>
      severity[state] > severity[worst] || (worst === 'info' && state === 'holds') ? state : worst,
    'info',
  )

const valueText = (value: FactValue): string =>
  typeof value === 'string' ? value : inWords(Object.values(value).map(valueText))

/** A part is named where it is not the row's own. */
function contestText({ field, where, value, contested }: KnownFact, place: Place): string | undefined {
  const [way] = factKind(field)?.ways ?? []
  const unlike = contested.filter((other) => !way || !sameValue(optional(way.field), value, other.value))
  if (unlike.length === 0) return undefined
  const others = [...new Set(unlike.map((fact) => valueText(fact.value)))]
  const said = { label: factLabel(field), value: valueText(value), others: inWords(others) }
  return where === null || where === place
    ? say('contested', said)
    : say('contested.at', { ...said, place: where })
}

/** What is told in two ways that mean different things, among the facts that something rests on. */
export const contests = (uses: readonly KnownFact[], place: Place): string[] => [
  ...new Set(uses.flatMap((fact) => contestText(fact, place) ?? [])),
]

/**
 * A row at a place. What rests on something that is told in two ways may be wrong although it holds: nobody knows yet
 * which of the two is true, so it is tight at best. What fails, fails with what was told last.
 */
export function rowAt(
  id: string,
  place: Place,
  uses: readonly KnownFact[],
  {
    sentences,
    inputs,
    ...row
  }: Omit<BoardRow, 'id' | 'where' | 'sentence' | 'inputs'> & {
    sentences: readonly string[]
    inputs: Record<string, unknown>
  },
): BoardRow {
  const contested = contests(uses, place)
  const state = contested.length > 0 && row.state === 'holds' ? 'tight' : row.state
  return {
    ...row,
    id: place === null ? id : `${id}@${place}`,
    where: place,
    state,
    sentence: [...sentences, ...contested].join(' '),
    inputs: flattenInputs(inputs),
  }
}

/** "Still to be told: Tape power; Tape length." */
export const missingText = (missing: readonly { label: string }[]): string =>
  say('missing', { labels: missing.map(({ label }) => label).join('; ') })
