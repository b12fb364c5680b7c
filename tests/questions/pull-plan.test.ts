import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Answer } from '../../src/questions/common/answer'
import { pullPlan } from '../../src/questions/pull-plan'

type Body = Record<string, unknown>

const answer = (body: Body): Answer => {
  const answered = pullPlan.answer(body)
  if (!answered.ok) throw new Error(JSON.stringify(answered.errors))
  return answered.answer
}

const refused = (body: unknown): string[] => {
  const answered = pullPlan.answer(body)
  return answered.ok ? [] : answered.errors.map(({ field }) => field)
}

const figure = (from: Answer, id: string) => from.figures.find((each) => each.id === id)?.value
const feet = (metres: unknown) => Number(metres) / 0.3048

const fourLegs = { legs: ['60 ft', '60 ft', '60 ft', '60 ft'], spool: '100 ft' }

describe('pull-plan', () => {
  // By hand: 60 ft × 1.10 + 2 × 0.5 ft = 67 ft; two of them do not go on 100 ft.
  it('four legs of 60 ft take four spools of 100 ft, not three', () => {
    const said = answer({ ...fourLegs, endSlack: '6 in' })
    expect(feet(figure(said, 'cable'))).toBeCloseTo(268, 9)
    expect(figure(said, 'spools')).toBe(4)
    expect((figure(said, 'left') as number[]).map(feet)).toEqual(
      [33, 33, 33, 33].map((left) => expect.closeTo(left, 6)),
    )
    expect(said.headline).toMatch(/^Pull 268' 0" .* 4 legs\. That takes 4 spools/)
    expect(said.table?.rows.map((row) => row.at(-1))).toEqual(['1', '2', '3', '4'])
  })

  // 6 in is all that NEC 300.14 asks for, so it keeps to the limit without room.
  it('holds 6 in at a box, without room, and refuses less', () => {
    expect(answer({ legs: '40 ft', endSlack: '6 in' }).verdict).toBe('tight')
    expect(answer({ legs: '40 ft', endSlack: '7 in' }).verdict).toBe('holds')
    const short = answer({ legs: '40 ft', endSlack: '5.9 in' })
    expect(short.verdict).toBe('fails')
    // 40 ft × 1.1 + 2 × 0.5 ft
    expect(short.headline).toMatch(/at least 6" .* 45' 0"/)
  })

  it('knows no such rule at tape ends, or under iec', () => {
    const tapeEnds = [{ length: '40 ft', from: 'tape', to: 'tape' }]
    expect(answer({ legs: tapeEnds, endSlack: '0 ft' }).verdict).toBe('info')
    const said = answer({ legs: '12 m', endSlack: '0 m', rules: 'iec', units: 'metric' })
    expect(said.verdict).toBe('info')
    expect(said.cautions.some(({ source }) => source?.startsWith('nec'))).toBe(false)
    expect(said.localCode).toMatch(/IEC/)
  })

  it('judges nothing when only asked how much', () => {
    const said = answer({ legs: '40 ft' })
    expect(said.verdict).toBe('info')
    // 40 ft × 1.1 + 2 × 1 ft
    expect(feet(figure(said, 'cable'))).toBeCloseTo(46, 9)
    expect(said.figures).toHaveLength(1)
    expect(said.assumptions.map(({ field }) => field)).toEqual(expect.arrayContaining(['endSlack', 'slack']))
  })

  // 120 ft × 1.1 + 2 ft = 134 ft.
  it('says which leg no spool holds, and what would', () => {
    const said = answer({ legs: ['40 ft', '120 ft'], spool: '100 ft' })
    expect(said.verdict).toBe('fails')
    expect(said.headline).toMatch(/^Leg 2 takes 134' 0" .* a spool of 134' 0"/)
    expect(figure(said, 'spools')).toBeUndefined()
  })

  // 31 ft × 1.1 = 34.1 ft of 6 ft rods.
  it('joins rods for the longest leg', () => {
    expect(figure(answer({ legs: ['18 ft', '31 ft'], rodLength: '6 ft' }), 'rods')).toBe(6)
  })

  it('judges a claim, and says what would make it hold', () => {
    expect(answer({ legs: '40 ft', claim: '60 ft' }).claim?.verdict).toBe('holds')
    expect(answer({ legs: '40 ft', claim: '46 ft' }).claim?.verdict).toBe('tight')
    const said = answer({ legs: '40 ft', slack: '10 %', endSlack: '1 ft', claim: '45 ft' })
    expect(said.verdict).toBe('fails')
    expect(said.headline).toMatch(/^No, 45' 0" .* does not hold\. Pull 46' 0"/)
    // 45 = 40 × (1 + s) + 2 → s = 7.5 %
    expect(said.claim?.wouldHoldIf.join()).toMatch(/Slack along the way at most 7\.[45]/)
    const spools = answer({ ...fourLegs, claim: { figure: 'spools', value: 3 } })
    // Two legs of 68 ft on one spool need 136 ft.
    expect(spools.claim?.wouldHoldIf.join()).toMatch(/one spool at least 136' 0"/)
  })

  it.each([
    [{}, ['legs']],
    [{ legs: [] }, ['legs']],
    [{ legs: '40' }, ['legs.0']],
    [{ legs: ['40 ft', { from: 'box' }] }, ['legs.1.length']],
    [{ legs: [{ length: '40 ft', to: 'roof' }] }, ['legs.0.to']],
    [{ legs: '400 m' }, ['legs.0.length']],
    [{ legs: '40 ft', slack: '60 %', spool: '2 m' }, ['slack', 'spool']],
    [{ legs: '40 ft', claim: '5 W' }, ['claim']],
  ])('refuses %o by its field', (body, fields) => {
    expect(refused(body).map((field) => field.replace(/^(legs\.0)\.length$/, '$1'))).toEqual(
      fields.map((field) => field.replace(/^(legs\.0)\.length$/, '$1')),
    )
  })

  const someLegs = fc.array(fc.double({ min: 1, max: 80, noNaN: true }), { minLength: 1, maxLength: 6 })

  it('does not mind the unit', () => {
    fc.assert(
      fc.property(someLegs, (lengths) => {
        const cable = (unit: string, factor: number) =>
          figure(answer({ legs: lengths.map((length) => `${length * factor} ${unit}`) }), 'cable') as number
        expect(cable('m', 0.3048)).toBeCloseTo(cable('ft', 1), 9)
      }),
      { numRuns: 1000 },
    )
  })

  it('tells the truth of its room: just inside the same, just outside changed', () => {
    fc.assert(
      fc.property(someLegs, fc.constantFrom('slack', 'endSlack', 'spool'), (lengths, moved) => {
        const body: Body = { legs: lengths.map((length) => `${length} ft`), spool: '100 ft' }
        const now = answer(body)
        const until = now.room.find(({ field }) => field === moved)?.until
        if (now.verdict === 'fails' || !until) return
        const at = (value: number) => {
          const answered = pullPlan.answer({ ...body, [moved]: `${value} ${until.unit}` })
          if (!answered.ok) return 'out of range'
          const { verdict } = answered.answer
          return `${figure(answered.answer, 'spools')} ${verdict}`
        }
        expect(at(until.value)).toBe(`${figure(now, 'spools')} ${now.verdict}`)
        expect(at(until.value * (moved === 'spool' ? 0.995 : 1.005))).not.toBe(
          `${figure(now, 'spools')} ${now.verdict}`,
        )
      }),
      { numRuns: 300 },
    )
  })

  it('answers or refuses whatever it is sent', () => {
    const anything = fc.oneof(fc.jsonValue(), fc.record({ legs: fc.jsonValue(), spool: fc.jsonValue() }))
    fc.assert(
      fc.property(anything, (body) => {
        const answered = pullPlan.answer(body)
        expect(answered.ok || answered.errors.every(({ message }) => message.length > 0)).toBe(true)
      }),
      { numRuns: 1000 },
    )
  })
})
