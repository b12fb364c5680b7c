import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Answer } from '../../../src/questions/common/answer'
import { type Compared, type Comparison, compareAnswers } from '../../../src/questions/common/comparison'
import type { Question } from '../../../src/questions/common/question'
import { questionById, questions } from '../../../src/questions/registry'
import { exampleOf } from '../examples'

const known = (id: string): Question => {
  const question = questionById(id)
  if (!question) throw new Error(`There is no question ${id}`)
  return question
}

const answer = (question: Question, raw: unknown): Answer => {
  const answered = question.answer(raw)
  if (!answered.ok) throw new Error(answered.errors.map(({ message }) => message).join(' '))
  return answered.answer
}

const compared = (id: string, a: object, b: object): Comparison =>
  compareAnswers(known(id), answer(known(id), a), answer(known(id), b))

const figureOf = ({ figures }: Comparison, id: string) => figures.find((figure) => figure.id === id)

/** What swapping the two must come to: the sides changed over, each difference the other way. */
const turned = (comparison: Comparison): Comparison => ({
  ...comparison,
  inputs: comparison.inputs.map(({ a, b, ...same }) => ({ ...same, ...sides(b, a) })),
  figures: comparison.figures.map(({ better, ...figure }) => ({
    ...turnedRow(figure),
    ...(better ? { better: better === 'a' ? ('b' as const) : ('a' as const) } : {}),
  })),
  limits: comparison.limits.map(({ binds, ...limit }) => ({
    ...turnedRow(limit),
    binds: binds.map((side) => (side === 'a' ? ('b' as const) : ('a' as const))).sort(),
  })),
  ...(comparison.rows ? { rows: { ...comparison.rows, a: comparison.rows.b, b: comparison.rows.a } } : {}),
  cautions: { ...comparison.cautions, a: comparison.cautions.b, b: comparison.cautions.a },
})

const sides = <T>(a: T | undefined, b: T | undefined) => ({ ...(a ? { a } : {}), ...(b ? { b } : {}) })

const opposite: Record<string, string> = { '+': '−', '−': '+', thicker: 'thinner', thinner: 'thicker' }

function turnedRow<C extends Compared>({ a, b, difference, ...same }: C) {
  if (!difference) return { ...same, ...sides(b, a) }
  const { value, unit, text } = difference
  const back = opposite[text] ?? `${opposite[text.charAt(0)]}${text.slice(1)}`
  return {
    ...same,
    ...sides(b, a),
    difference: { ...(value === undefined ? {} : { value: -value }), unit, text: back },
  }
}

/** The cautions of both may come in either order. */
const settled = (comparison: Comparison): Comparison => ({
  ...comparison,
  cautions: {
    ...comparison.cautions,
    both: [...comparison.cautions.both].sort((one, other) => (one.text < other.text ? -1 : 1)),
  },
})

const gaugeInputs = fc.record(
  {
    distance: fc.double({ min: 1, max: 200, noNaN: true }).map((metres) => `${metres} m`),
    voltage: fc.constantFrom('12 V', '24 V', '48 V'),
    load: fc.double({ min: 1, max: 400, noNaN: true }).map((watts) => `${watts} W`),
    allowedDrop: fc.constantFrom('3 %', '5 %', '10 %'),
    rules: fc.constantFrom('nec', 'iec'),
    units: fc.constantFrom('us', 'metric'),
  },
  { requiredKeys: ['distance', 'voltage', 'load'] },
)

describe('two answers', () => {
  it.each(questions.map(({ id }) => id))('%s compared with itself differs in nothing', (id) => {
    const question = known(id)
    const one = answer(question, exampleOf(question))
    const other = answer(question, exampleOf(question))
    const comparison = compareAnswers(question, one, other)
    expect(comparison.differs).toBe(false)
    expect(comparison.inputs).toEqual([])
    expect(comparison.figures.map(({ id: figure }) => figure).sort()).toEqual(
      one.figures.map(({ id: figure }) => figure).sort(),
    )
    for (const { same, difference } of [...comparison.figures, ...comparison.limits]) {
      expect(same).toBe(true)
      expect(difference).toBeUndefined()
    }
    expect(comparison.cautions).toMatchObject({ a: [], b: [], both: one.cautions })
  })

  it('swapping them swaps the sides, turns the differences round, and does nothing else', () => {
    fc.assert(
      fc.property(gaugeInputs, gaugeInputs, (a, b) => {
        const there = compared('feed-gauge', a, b)
        expect(settled(compared('feed-gauge', b, a))).toEqual(settled(turned(there)))
      }),
      { numRuns: 1000 },
    )
  })

  it('each difference is that of the full values, B less A, and says its sign', () => {
    fc.assert(
      fc.property(gaugeInputs, gaugeInputs, (a, b) => {
        for (const { a: one, b: other, difference } of compared('feed-gauge', a, b).figures) {
          if (difference?.value === undefined) continue
          expect(difference.value).toBe(Number(other?.value) - Number(one?.value))
          expect(difference.text.startsWith(difference.value < 0 ? '−' : '+')).toBe(true)
        }
      }),
      { numRuns: 1000 },
    )
  })

  it('does not take another way of saying the same for a difference', () => {
    const typed = { voltage: '24 V', load: '60 W' }
    const feet = { ...typed, distance: '40 ft', allowedDrop: '3 %' }
    expect(compared('feed-gauge', feet, { ...typed, distance: '480 in' }).differs).toBe(false)
  })

  it('says which comes out better, a gauge by its number and a section the other way round', () => {
    const typed = { distance: '40 ft', voltage: '24 V', load: '60 W' }
    const us = compared('feed-gauge', typed, { ...typed, allowedDrop: '5 %' })
    expect(figureOf(us, 'gauge')).toMatchObject({ better: 'b', difference: { text: 'thinner' } })
    expect(figureOf(us, 'drop')).toMatchObject({ better: 'a' })
    const iec = { ...typed, rules: 'iec' }
    const metric = compared('feed-gauge', iec, { ...iec, allowedDrop: '8 %' })
    expect(figureOf(metric, 'gauge')).toMatchObject({ better: 'b', difference: { text: 'thinner' } })
  })

  it('gives no difference between an AWG and a section', () => {
    const typed = { distance: '40 ft', voltage: '24 V', load: '60 W' }
    const gauge = figureOf(compared('feed-gauge', typed, { ...typed, rules: 'iec' }), 'gauge')
    expect(gauge).toMatchObject({ same: false })
    expect(gauge?.difference).toBeUndefined()
    expect(gauge?.better).toBeUndefined()
  })

  it('orders a figure that comes out in words as its question orders them', () => {
    const a = { frequency: '120 Hz', modulation: '30 %' }
    const comparison = compared('steady-light', a, { ...a, modulation: '1 %' })
    expect(comparison.figures.find(({ better }) => better)).toMatchObject({ better: 'b' })
  })

  it('says the distance of two temperatures, not the temperature', () => {
    const line = { fullOutputTo: '40 degC', derateTo: '50 %' }
    const typed = { voltage: '24 V', tapePower: '4.4 W/ft', tapeLength: ['32 ft'], ...line }
    const limit = compared(
      'driver-size',
      { ...typed, derateAt: '60 degC' },
      { ...typed, derateAt: '70 degC' },
    ).limits.find(({ id }) => id === 'ambient')
    // 10 K is 18 °F wide (NIST SP 811:2008, B.6), though 10 °C is 50 °F.
    expect(limit?.difference?.text).toBe('+18 °F (10 °C)')
  })

  it('sets the row that is claimed beside the one that is chosen', () => {
    const typed = { distance: '40 ft', voltage: '24 V', load: '60 W' }
    const { rows } = compared('feed-gauge', typed, { ...typed, claim: '#16 AWG' })
    expect(rows?.a[0]).toBe('14 AWG')
    expect(rows?.b[0]).toBe('16 AWG')
    expect(compared('feed-gauge', typed, { ...typed, distance: '50 ft' }).rows).toBeUndefined()
  })
})
