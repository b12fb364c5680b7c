import fc from 'fast-check'
import { expect } from 'vitest'
import type { Answer } from '../../src/questions/common/answer'
import type { FieldError, Question } from '../../src/questions/common/question'

/** The answer to a body that is in order. */
export function answerOf(question: Question, raw: object): Answer {
  const answered = question.answer(raw)
  if (!answered.ok) throw new Error(JSON.stringify(answered.errors))
  return answered.answer
}

/** What is wrong with a body that is not in order. */
export function errorsOf(question: Question, raw: unknown): FieldError[] {
  const answered = question.answer(raw)
  return answered.ok ? [] : answered.errors
}

export const figureOf = (answer: Answer, id: string): Answer['figures'][number]['value'] | undefined =>
  answer.figures.find((figure) => figure.id === id)?.value

export const cautionTexts = (answer: Answer): string => answer.cautions.map(({ text }) => text).join(' ')

/** Whatever is sent, it answers, or names the fields at fault; `likely` are values that fields understand. */
export function neverThrows(question: Question, likely: readonly unknown[] = []): void {
  const value = fc.oneof(
    fc.constantFrom<unknown>(
      '60 W',
      '15 A',
      '24 V',
      '14 AWG',
      '1.5 mm2',
      'true',
      '2',
      0,
      -1,
      null,
      '',
      'iec',
      ...likely,
    ),
    fc.jsonValue({ maxDepth: 2 }),
  )
  const body = fc.dictionary(
    fc.constantFrom(...Object.keys(question.inputs), 'claim', 'hots.0.leg', 'devices.0.gangs', 'x'),
    value,
    { maxKeys: 8 },
  )
  fc.assert(
    fc.property(fc.oneof(body, fc.jsonValue()), (raw) => {
      const answered = question.answer(JSON.parse(JSON.stringify(raw)))
      if (answered.ok) expect(answered.answer.headline).not.toMatch(/[{}]|NaN|Infinity|undefined/)
      else for (const { message } of answered.errors) expect(message.length).toBeGreaterThan(10)
    }),
    { numRuns: 1000 },
  )
}
