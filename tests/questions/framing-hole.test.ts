import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Answer } from '../../src/questions/common/answer'
import { framingHole } from '../../src/questions/framing-hole'

type Body = Record<string, unknown>

const answer = (body: Body): Answer => {
  const answered = framingHole.answer(body)
  if (!answered.ok) throw new Error(JSON.stringify(answered.errors))
  return answered.answer
}

const refused = (body: unknown): string[] => {
  const answered = framingHole.answer(body)
  return answered.ok ? [] : answered.errors.map(({ field }) => field)
}

const figure = (from: Answer, id: string) => from.figures.find((each) => each.id === id)?.value
const inches = (from: Answer, id: string) => Number(figure(from, id)) / 0.0254

const joist = { member: '2x10', use: 'joist' }
const metricJoist = { rules: 'iec', units: 'metric', depth: '195 mm', use: 'joist' }

// By hand from the text of IRC 2021 R502.8.1 and R602.6, and of NEC 2023 300.4(A), from memory.
describe('framing-hole', () => {
  it('says what a 2x10 joist may have', () => {
    const said = answer(joist)
    expect(said.verdict).toBe('info')
    // 9.25 / 3, 9.25 / 6, 9.25 / 3 in, and 2 in to each edge.
    expect(inches(said, 'largestHole')).toBeCloseTo(3.0833, 3)
    expect(inches(said, 'deepestNotch')).toBeCloseTo(1.5417, 3)
    expect(inches(said, 'longestNotch')).toBeCloseTo(3.0833, 3)
    expect(inches(said, 'edgeNeeded')).toBeCloseTo(2, 9)
    // 9.25 / 4
    expect(inches(answer({ ...joist, place: 'end' }), 'deepestNotch')).toBeCloseTo(2.3125, 9)
    expect(said.headline).toMatch(/3-1\/16".*1-1\/2".*2-5\/16"/)
    expect(said.room).toEqual([])
  })

  it('bores no 2x4 joist', () => {
    const said = answer({ member: '2x4', use: 'joist' })
    expect(figure(said, 'largestHole')).toBe(0)
    expect(said.headline).toMatch(/may not be bored at all/)
    expect(answer({ member: '2x4', use: 'joist', holeDiameter: '1/4 in' }).headline).toMatch(
      /not be bored at all/,
    )
  })

  it.each([
    ['1-3/8 in', 'holds'],
    ['2.9 in', 'tight'],
    ['3.1 in', 'fails'],
  ])('a hole of %s through a 2x10 joist %s', (holeDiameter, verdict) => {
    expect(answer({ ...joist, holeDiameter }).verdict).toBe(verdict)
  })

  it('finds too little timber left at one side: 2x6, 1.4 in hole, 2.5 in from one edge', () => {
    const said = answer({ member: '2x6', use: 'joist', holeDiameter: '1.4 in', edgeDistance: '2.5 in' })
    expect(said.verdict).toBe('fails')
    expect(inches(said, 'edgeLeft')).toBeCloseTo(1.6, 9)
    expect(said.limits.find(({ binds }) => binds)?.id).toBe('edgeLeft')
    expect(said.headline).toMatch(/^Not allowed: only 1-9\/16"/)
  })

  // (3.5 − 1.4) / 2 = 1.05 in, nearer than 1-1/4 in on both sides.
  it('a centred 1.4 in hole in a 2x4 stud takes two plates; a 1 in hole none', () => {
    const stud = { member: '2x4', use: 'stud-bearing' }
    const said = answer({ ...stud, holeDiameter: '1.4 in' })
    expect(figure(said, 'platesNeeded')).toBe(2)
    expect(said.headline).toMatch(/2 steel plates, one on each edge/)
    expect(figure(answer({ ...stud, holeDiameter: '1 in' }), 'platesNeeded')).toBe(0)
    expect(inches(said, 'largestHole')).toBeCloseTo(1.4, 9)
    expect(inches(answer({ ...stud, use: 'stud-other' }), 'largestHole')).toBeCloseTo(2.1, 9)
    expect(inches(said, 'deepestNotch')).toBeCloseTo(0.875, 9)
  })

  it('lets a claim fail with every way out', () => {
    const body = { member: '2x4', use: 'stud-bearing', holeDiameter: '2 in' }
    const said = answer({ ...body, claim: { figure: 'verdict', value: 'holds' } })
    expect(said.headline).toMatch(/^No, it is not fine\. Not allowed/)
    expect(said.claim?.wouldHoldIf.join()).toMatch(/Hole at most 1-3\/8".*doubled/)
    expect(answer({ ...joist, claim: '2 in' }).claim?.verdict).toBe('holds')
    expect(answer({ ...joist, claim: '3 in' }).claim?.verdict).toBe('tight')
    expect(answer({ ...joist, claim: '3.5 in' }).claim?.verdict).toBe('fails')
  })

  it('says nothing is fine where nothing can be checked', () => {
    const claim = { figure: 'verdict', value: 'holds' }
    expect(refused({ ...joist, claim })).toEqual(['claim'])
    expect(refused({ ...metricJoist, use: 'stud-other', holeDiameter: '20 mm', claim })).toEqual(['claim'])
    expect(refused({ ...metricJoist, use: 'stud-other', claim: '20 mm' })).toEqual(['claim'])
    expect(answer({ ...joist, engineered: true, claim }).verdict).toBe('fails')
  })

  it('notches outer thirds, and nothing in the middle third', () => {
    const notch = { ...joist, notchDepth: '1.25 in', notchLength: '3 in' }
    expect(answer({ ...notch, place: 'outer-third' }).verdict).toBe('tight')
    expect(answer({ ...notch, notchLength: '3.2 in', place: 'outer-third' }).verdict).toBe('fails')
    const middle = answer({ ...notch, place: 'middle-third' })
    expect(middle.verdict).toBe('fails')
    expect(middle.headline).toMatch(/middle third.*1-1\/2".*in an outer third/)
    // 5 ft from a support of 12 ft is in the middle third; 3 ft is not.
    expect(answer({ ...notch, span: '12 ft', fromSupport: '5 ft' }).verdict).toBe('fails')
    expect(answer({ ...notch, span: '12 ft', fromSupport: '3 ft' }).verdict).toBe('tight')
    expect(answer(notch).assumptions.some(({ field }) => field === 'place')).toBe(true)
    expect(
      answer({ ...notch, place: 'outer-third' }).cautions.some(({ source }) => source === 'nec-300-4-a'),
    ).toBe(true)
  })

  it('refuses engineered timber, with a stop', () => {
    const said = answer({ depth: '9.5 in', use: 'joist', engineered: true, holeDiameter: '1 in' })
    expect(said.verdict).toBe('fails')
    expect(said.figures).toEqual([])
    expect(said.picture).toBeUndefined()
    expect(said.cautions[0]).toMatchObject({ level: 'stop', source: 'irc-r502-8-2' })
  })

  // IRC 2021 R602.6.1: over half of 3.5 in.
  it('ties a top plate that is cut over half', () => {
    const plate = { member: '2x4', use: 'top-plate' }
    expect(answer({ ...plate, holeDiameter: '2 in' }).headline).toMatch(/metal tie/)
    expect(answer({ ...plate, holeDiameter: '1.7 in' }).headline).not.toMatch(/metal tie/)
    expect(answer({ ...plate, holeDiameter: '3.6 in' }).verdict).toBe('fails')
  })

  it('keeps holes apart', () => {
    expect(answer({ ...joist, holeDiameter: '1 in', otherHoleDistance: '1.9 in' }).verdict).toBe('fails')
    expect(answer({ ...joist, holeDiameter: '1 in', otherHoleDistance: '3 in' }).verdict).toBe('holds')
  })

  // Approved Document A, from memory: 0.25 × 195 = 48.75 mm, 0.125 × 195 = 24.375 mm; 0.25 to 0.4 of 3.6 m.
  it('follows the guidance for joists under iec', () => {
    const hole = { ...metricJoist, span: '3.6 m', holeDiameter: '35 mm' }
    const said = answer({ ...hole, fromSupport: '1.2 m' })
    expect(said.verdict).toBe('holds')
    expect(figure(said, 'largestHole')).toBeCloseTo(0.04875, 9)
    expect(figure(said, 'deepestNotch')).toBeCloseTo(0.024375, 9)
    expect(answer({ ...hole, fromSupport: '0.8 m' }).verdict).toBe('fails')
    expect(answer({ ...hole, fromSupport: '1.5 m' }).verdict).toBe('fails')
    expect(answer({ ...metricJoist, holeDiameter: '35 mm' }).headline).toMatch(/between 0\.25 and 0\.4/)
    expect(answer({ ...hole, depth: '300 mm', fromSupport: '1.2 m' }).verdict).toBe('fails')
    expect(said.sources.some(({ id }) => /^(nec|irc-r6)/.test(id))).toBe(false)
  })

  // Approved Document A, from memory: joists up to 250 mm.
  it('gives no figure for a joist deeper than the guidance covers', () => {
    const deep = { ...metricJoist, depth: '300 mm' }
    const said = answer(deep)
    expect(said.verdict).toBe('info')
    expect(said.figures).toEqual([])
    expect(said.headline).toMatch(/designs the structure/)
    expect(said.cautions[0]?.text).toMatch(/^Leave this member alone/)
    expect(answer({ ...deep, claim: '60 mm' }).verdict).toBe('fails')
    expect(answer({ ...deep, holeDiameter: '20 mm' }).verdict).toBe('fails')
  })

  it('cites no American rule under iec', () => {
    const cited = (body: Body) => answer(body).sources.map(({ id }) => id)
    const bodies = [metricJoist, { ...metricJoist, engineered: true }, { ...metricJoist, use: 'stud-other' }]
    for (const body of bodies) expect(cited(body).join()).not.toMatch(/irc|nec/)
  })

  it('borrows no figure for studs under iec', () => {
    const said = answer({ ...metricJoist, use: 'stud-bearing', holeDiameter: '20 mm' })
    expect(said.verdict).toBe('info')
    expect(said.figures).toEqual([])
    expect(said.room).toEqual([])
    expect(said.headline).toMatch(/no figure.*designs the structure/)
  })

  it.each([
    [{ use: 'joist' }, ['member']],
    [{ member: '2x10' }, ['use']],
    [{ ...joist, depth: '9 in' }, ['depth']],
    [{ ...joist, holeDiameter: '1 in', notchDepth: '1 in' }, ['notchDepth']],
    [{ ...joist, edgeDistance: '1 in' }, ['edgeDistance']],
    [{ ...joist, notchLength: '1 in' }, ['notchLength']],
    [{ ...joist, fromSupport: '1 ft' }, ['fromSupport']],
    [{ ...joist, span: '10 ft', fromSupport: '11 ft' }, ['fromSupport']],
    [{ ...joist, holeDiameter: '1' }, ['holeDiameter']],
    [{ ...joist, holeDiameter: '7 in' }, ['holeDiameter']],
    [{ member: '2x3', use: 'beam' }, ['member', 'use']],
  ])('refuses %o by its field', (body, fields) => {
    expect(refused(body)).toEqual(fields)
  })

  const use = fc.constantFrom('joist', 'stud-bearing', 'stud-bearing-doubled', 'stud-other', 'top-plate')
  const member = fc.constantFrom('2x4', '2x6', '2x8', '2x10', '2x12')
  const diameter = fc.double({ min: 0.15, max: 5.8, noNaN: true })
  const severity = { info: 0, holds: 1, tight: 2, fails: 3 }

  it('never allows a bigger hole more, and does not mind the unit', () => {
    fc.assert(
      fc.property(member, use, diameter, diameter, (size, kind, one, other) => {
        const verdict = (text: string) => answer({ member: size, use: kind, holeDiameter: text }).verdict
        const [small, big] = [Math.min(one, other), Math.max(one, other)]
        expect(severity[verdict(`${big} in`)]).toBeGreaterThanOrEqual(severity[verdict(`${small} in`)])
        expect(verdict(`${big * 25.4} mm`)).toBe(verdict(`${big} in`))
      }),
      { numRuns: 1000 },
    )
  })

  it('tells the truth of its room: just inside the same, just outside changed', () => {
    fc.assert(
      fc.property(member, use, diameter, (size, kind, inDiameter) => {
        const body = { member: size, use: kind }
        const at = (metres: number) => {
          const answered = framingHole.answer({ ...body, holeDiameter: `${metres} m` })
          if (!answered.ok) return 'out of range'
          return `${answered.answer.verdict} ${figure(answered.answer, 'platesNeeded')}`
        }
        const now = answer({ ...body, holeDiameter: `${inDiameter} in` })
        const until = now.room.find(({ field }) => field === 'holeDiameter')?.until
        if (!until) return
        expect(at(until.value)).toBe(at(inDiameter * 0.0254))
        expect(at(until.value * 1.005)).not.toBe(at(inDiameter * 0.0254))
      }),
      { numRuns: 1000 },
    )
  })

  it('answers or refuses whatever it is sent', () => {
    const length = fc.oneof(fc.constantFrom('1 in', '0 m', '100 mm', '3 m', 'x'), fc.jsonValue())
    const likely = fc.record(
      {
        member: fc.oneof(member, fc.jsonValue()),
        use: fc.oneof(use, fc.jsonValue()),
        rules: fc.constantFrom('nec', 'iec'),
        holeDiameter: length,
        edgeDistance: length,
        notchDepth: length,
        span: length,
        fromSupport: length,
        place: fc.constantFrom('end', 'outer-third', 'middle-third'),
        engineered: fc.boolean(),
        claim: fc.oneof(length, fc.record({ figure: fc.constantFrom('verdict', 'edgeLeft'), value: length })),
      },
      { requiredKeys: [] },
    )
    fc.assert(
      fc.property(fc.oneof(likely, fc.jsonValue()), (body) => {
        const answered = framingHole.answer(body)
        expect(answered.ok || answered.errors.every(({ message }) => message.length > 0)).toBe(true)
      }),
      { numRuns: 2000 },
    )
  })
})
