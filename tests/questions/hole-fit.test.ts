import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Answer } from '../../src/questions/common/answer'
import { holeFit } from '../../src/questions/hole-fit'

type Body = Record<string, unknown>

const answer = (body: Body): Answer => {
  const answered = holeFit.answer(body)
  if (!answered.ok) throw new Error(JSON.stringify(answered.errors))
  return answered.answer
}

const refused = (body: unknown): string[] => {
  const answered = holeFit.answer(body)
  return answered.ok ? [] : answered.errors.map(({ field }) => field)
}

const figure = (from: Answer, id: string) => from.figures.find((each) => each.id === id)?.value
const cautioned = (from: Answer, source: string) => from.cautions.some((each) => each.source === source)

const threeAlike = { cables: [{ count: 3, diameter: '7 mm' }] }
const verdictHolds = { figure: 'verdict', value: 'holds' }

describe('hole-fit', () => {
  // Three equal circles: 1 + 2/√3 = 2.1547 of one; 15.08 mm / 0.8 = 18.85 mm, and 3/4 in is 19.05 mm.
  it('three cables of 7 mm take a 3/4 in bit', () => {
    const said = answer(threeAlike)
    expect(said.verdict).toBe('info')
    expect(figure(said, 'bundle')).toBeCloseTo(0.0150829, 6)
    expect(Number(figure(said, 'bit')) / 0.0254).toBeCloseTo(0.75, 9)
    expect(said.headline).toMatch(/^Use the 3\/4 in bit/)
    // 3 × (7 / 20.93)² = 33.56 % of 3/4 EMT (0.824 in), under the 40 % of NEC chapter 9 table 1.
    expect(figure(said, 'raceway')).toBe('3/4')
    expect(figure(said, 'fill')).toBeCloseTo(33.56, 1)
    expect(figure(said, 'fillLimit')).toBe(40)
  })

  // 1.05 × 20.93 / 7 = 3.14, between 2.8 and 3.2 (NEC chapter 9 table 1, informational note 2).
  it('warns of three alike near the jam ratio', () => {
    const said = answer({ ...threeAlike, raceway: '3/4' })
    expect(figure(said, 'jamRatio')).toBeCloseTo(3.14, 2)
    expect(cautioned(said, 'nec-ch9-jam-ratio')).toBe(true)
    expect(said.headline).toMatch(/can jam/)
    expect(
      cautioned(answer({ cables: [{ count: 3, diameter: '5 mm' }], raceway: '3/4' }), 'nec-ch9-jam-ratio'),
    ).toBe(false)
  })

  // A flat supply cable of 0.41 × 0.18 in counts as 0.41 in: (10.41 + 6) / 0.8 = 20.5 mm; 7/8 in is 22.2 mm.
  it('one supply cable and one low-voltage pair take a 7/8 in bit, the flat one by its wider side', () => {
    const said = answer({ cables: [{ width: '0.41 in', height: '0.18 in' }, '6 mm'] })
    expect(Number(figure(said, 'bit')) / 0.0254).toBeCloseTo(0.875, 9)
    expect(figure(said, 'bundle')).toBeCloseTo(0.016414, 4)
    expect(said.assumptions.some(({ field, source }) => field === 'cables' && source === 'nec-ch9-t1')).toBe(
      true,
    )
    expect(cautioned(said, 'nec-725-136')).toBe(true)
  })

  // 2 × (9 / 20.93)² = 36.98 %: over 31 % for two cables, under 60 % of a nipple.
  it('judges a raceway by its fill', () => {
    const two = { cables: [{ count: 2, diameter: '9 mm' }], raceway: '3/4' }
    const full = answer(two)
    expect(full.verdict).toBe('fails')
    expect(full.headline).toMatch(/^Too full: 3\/4 in EMT would be filled 37 %.*31 %.*Take 1 in EMT/)
    expect(full.limits.find(({ binds }) => binds)?.id).toBe('fill')
    expect(answer({ ...two, nipple: true }).verdict).not.toBe('fails')
    expect(answer({ ...threeAlike, raceway: '3/4' }).verdict).toBe('holds')
    // 3 × (7.5 / 20.93)² = 38.5 % of 40 %.
    expect(answer({ cables: [{ count: 3, diameter: '7.5 mm' }], raceway: '3/4' }).verdict).toBe('tight')
  })

  it('judges a claim on the bit by the bundle in its hole', () => {
    expect(answer({ ...threeAlike, claim: '1 in' }).claim?.verdict).toBe('holds')
    expect(answer({ ...threeAlike, claim: '3/4 in' }).claim?.verdict).toBe('tight')
    const said = answer({ cables: [{ count: 3, diameter: '10 mm' }], claim: '7/8 in' })
    expect(said.verdict).toBe('fails')
    // 0.8 × 22.225 / 2.1547 = 8.25 mm each; two of 10 mm need 20 mm of 17.78 mm, so only one.
    expect(said.claim?.wouldHoldIf.join()).toMatch(
      /how many at most 1,Cables, diameter at most 5\/16" \(8 mm\)/,
    )
  })

  it('takes a claim on the raceway as one that it passes them', () => {
    const two = { cables: [{ count: 2, diameter: '7/16 in' }] }
    const failing = answer({ ...two, claim: { figure: 'raceway', value: '1/2' } })
    expect(failing.headline).toMatch(/^No, it is not fine\. Too full/)
    expect(failing.claim?.wouldHoldIf.join()).toMatch(/Raceway: 1-1\/4/)
    expect(answer({ ...two, claim: { figure: 'raceway', value: '1-1/4 in EMT' } }).claim?.verdict).toBe(
      'holds',
    )
    expect(answer({ ...threeAlike, raceway: '3/4', claim: verdictHolds }).claim?.verdict).toBe('holds')
  })

  it('says nothing is fine where nothing can be checked', () => {
    expect(refused({ ...threeAlike, claim: verdictHolds })).toEqual(['claim'])
    expect(refused({ ...threeAlike, raceway: '3/4', rules: 'iec', claim: verdictHolds })).toEqual(['claim'])
  })

  it('knows no raceway rule under iec, and says so', () => {
    const said = answer({ ...threeAlike, raceway: '3/4', rules: 'iec', units: 'metric' })
    expect(said.verdict).toBe('info')
    expect(said.figures.map(({ id }) => id)).toEqual(['bit', 'bundle'])
    // 15.08 / 0.8 = 18.85 mm, and 20 mm is the next.
    expect(figure(said, 'bit')).toBeCloseTo(0.02, 9)
    expect(said.headline).toMatch(/rule of the NEC/)
  })

  it('says when no bit is wide enough', () => {
    const said = answer({ cables: ['60 mm', '60 mm'] })
    expect(said.verdict).toBe('fails')
    expect(figure(said, 'bit')).toBeUndefined()
    // 120 / 0.8 = 150 mm.
    expect(said.headline).toMatch(/150 mm/)
  })

  it('asks for framing in wood, and for a bushing in metal', () => {
    expect(cautioned(answer({ cables: '7 mm', material: 'metal' }), 'nec-300-4-b')).toBe(true)
    expect(cautioned(answer({ cables: '7 mm' }), 'nec-300-4-b')).toBe(false)
    // More than two sheathed cables (NEC 334.80).
    expect(cautioned(answer(threeAlike), 'nec-334-80')).toBe(true)
    expect(cautioned(answer({ cables: ['7 mm', '7 mm'] }), 'nec-334-80')).toBe(false)
  })

  it.each([
    [{}, ['cables']],
    [{ cables: [] }, ['cables']],
    [{ cables: [{ count: 3 }] }, ['cables.0.diameter']],
    [{ cables: ['7 mm', { width: '7 mm' }] }, ['cables.1.diameter']],
    [{ cables: [{ diameter: '7 mm', width: '7 mm', height: '3 mm' }] }, ['cables.0.diameter']],
    [
      {
        cables: [
          { count: 20, diameter: '7 mm' },
          { count: 11, diameter: '5 mm' },
        ],
      },
      ['cables'],
    ],
    [{ cables: [{ count: 0, diameter: '7 mm' }] }, ['cables.0.count']],
    [{ cables: '70 mm' }, ['cables.0.diameter']],
    [{ cables: '7 mm', raceway: '5/8' }, ['raceway']],
  ])('refuses %o by its field', (body, fields) => {
    expect(refused(body)).toEqual(fields)
  })

  const mm = fc.double({ min: 2, max: 15, noNaN: true })
  /** What the answer comes to; the smallest raceway is part of it only where none was asked about. */
  const stated = (said: Answer) =>
    `${figure(said, 'bit')} ${said.inputs.raceway ? '' : figure(said, 'raceway')} ${said.verdict}`

  it('does not mind the unit, and counts a bare size as one cable', () => {
    fc.assert(
      fc.property(mm, mm, (one, other) => {
        const inMm = answer({ cables: [`${one} mm`, `${other} mm`] })
        const inInches = answer({
          cables: [one, other].map((d) => ({ count: 1, diameter: `${d / 25.4} in` })),
        })
        expect(stated(inInches)).toBe(stated(inMm))
      }),
      { numRuns: 40 },
    )
  })

  it('never needs less for one more cable', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 6 }), mm, mm, (count, one, other) => {
        const bit = (cables: unknown) => Number(figure(answer({ cables }), 'bit') ?? Number.POSITIVE_INFINITY)
        const fewer = [{ count, diameter: `${one} mm` }]
        expect(bit([...fewer, `${other} mm`])).toBeGreaterThanOrEqual(bit(fewer))
      }),
      { numRuns: 25 },
    )
  })

  // Up to three cables, which are packed as often as it takes; packing costs milliseconds, so few runs.
  it('tells the truth of its room: just inside the same, just outside changed', () => {
    const raceway = fc.constantFrom(undefined, '3/4', '1')
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 2 }), mm, mm, raceway, (count, one, other, size) => {
        const body = (first: string) => ({
          cables: [{ count, diameter: first }, { diameter: `${other} mm` }],
          ...(size ? { raceway: size } : {}),
        })
        const now = answer(body(`${one} mm`))
        const until = now.room.find(({ field }) => field === 'cables.0.diameter')?.until
        if (!until || now.verdict === 'fails') return
        expect(stated(answer(body(`${until.value} m`)))).toBe(stated(now))
        const beyond = holeFit.answer(body(`${until.value * 1.005} m`))
        if (beyond.ok) expect(stated(beyond.answer)).not.toBe(stated(now))
      }),
      { numRuns: 40 },
    )
  })

  it('tells the truth of the room for counts', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 4 }), mm, (count, diameter) => {
        const body = (number: number) => ({ cables: [{ count: number, diameter: `${diameter} mm` }] })
        const now = answer(body(count))
        const until = now.room.find(({ field }) => field === 'cables.0.count')?.until
        if (!until || until.value > 8) return
        expect(stated(answer(body(until.value)))).toBe(stated(now))
        expect(stated(answer(body(until.value + 1)))).not.toBe(stated(now))
      }),
      { numRuns: 25 },
    )
  })

  it('answers or refuses whatever it is sent', () => {
    const text = fc.oneof(fc.constantFrom('7 mm', '1/2 in', '-1 mm', 'x'), fc.jsonValue())
    const cable = fc.oneof(
      text,
      fc.record({ count: fc.integer(), diameter: text, width: text }, { requiredKeys: [] }),
    )
    const likely = fc.record(
      {
        cables: fc.oneof(fc.array(cable, { maxLength: 3 }), fc.jsonValue()),
        raceway: fc.oneof(fc.constantFrom('1/2', '2'), fc.jsonValue()),
        rules: fc.constantFrom('nec', 'iec'),
        claim: fc.oneof(
          text,
          fc.record({ figure: fc.constantFrom('verdict', 'raceway', 'bit', 'fill'), value: text }),
        ),
      },
      { requiredKeys: [] },
    )
    fc.assert(
      fc.property(fc.oneof(likely, fc.jsonValue()), (body) => {
        const answered = holeFit.answer(body)
        expect(answered.ok || answered.errors.every(({ message }) => message.length > 0)).toBe(true)
      }),
      { numRuns: 1000 },
    )
  })
})
