import { questions } from '../questions/registry'
import { conclude } from './conclude'
import { clearlyAsked, outOfReach, ranked, settledByWords } from './decide'
import type { Following } from './follow'
import { follow } from './follow-up'
import { type Line, readLine } from './line'
import type { Interpretation } from './reading'
import { choose, type Explanation, type Understood, unreachable } from './reply'
import type { Catalogue } from './shape'
import { changesSubject, goesOn, isWhole } from './subject'
import { isVague } from './vague'
import { vocabulary } from './vocabulary'

export type { Understood } from './reply'

export type Asked = { text: string; following?: Following | undefined; explain?: boolean | undefined }

const known: Catalogue = Object.fromEntries(questions.map((question) => [question.id, question]))

/**
 * Understands one typed or dictated line: which question it asks, with which inputs and which claim, or what to ask
 * back. Deterministic, and it never throws, whatever the text.
 *
 * @param asked the text (what lies beyond 8,000 characters is not read), and the question before it with its inputs
 *   in fixed units or as text
 * @param catalogue the questions there are
 * @example understand({ text: '40 ft, 24 V, 60 W: what gauge?' }).raw // { distance: '40 ft', voltage: '24 V', load: '60 W' }
 */
export function understand(asked: Asked, catalogue: Catalogue = known): Understood {
  const line = readLine(asked.text)
  const readings = ranked(catalogue, line)
  const understood = decide(asked, catalogue, line, readings)
  return asked.explain ? { ...understood, explanation: explain(line, readings, understood) } : understood
}

function decide(asked: Asked, catalogue: Catalogue, line: Line, readings: Interpretation[]): Understood {
  const first = clearlyAsked(readings)
  const { hard } = outOfReach(line)
  if (hard && !(vocabulary.outOfReach[hard]?.yields && first && isWhole(first)))
    return unreachable(hard, line)
  const before =
    asked.following && Object.hasOwn(catalogue, asked.following.question) ? asked.following : undefined
  const shape = before && catalogue[before.question]
  const settled = first ?? settledByWords(catalogue, line, readings)
  const takesAll = () => before !== undefined && shape !== undefined && goesOn(shape, before, line)
  const other = first === undefined && settled && isWhole(settled, shape) && settled.shape.id !== shape?.id
  if (before && shape && !other && !changesSubject(line, readings, first, shape, takesAll)) {
    const followed = follow(shape, before, line, first)
    if (followed) return followed
  }
  if (settled === undefined || isVague(line)) return choose(catalogue, line, readings)
  return conclude(settled, line)
}

function explain(line: Line, readings: readonly Interpretation[], understood: Understood): Explanation {
  const chosen = readings.find((reading) => reading.shape.id === understood.question) ?? readings[0]
  return {
    pieces: (chosen?.view.pieces ?? []).map((piece) => ({
      said: line.said(piece),
      kind: piece.kind,
      readings: piece.readings.map((reading) => `${reading.typed} (${reading.dimension})`),
    })),
    scores: readings.slice(0, 5).map((reading) => ({
      question: reading.shape.id,
      score: Number(reading.score.toFixed(2)),
      asked: Number(reading.ask.toFixed(2)),
    })),
    why: chosen?.why ?? [],
  }
}
