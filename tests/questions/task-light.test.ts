import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Answer } from '../../src/questions/common/answer'
import { taskLight } from '../../src/questions/task-light'

function answered(raw: object): Answer {
  const result = taskLight.answer(raw)
  if (!result.ok) throw new Error(JSON.stringify(result.errors))
  return result.answer
}

const refused = (raw: unknown): string[] => {
  const result = taskLight.answer(raw)
  return result.ok ? [] : result.errors.map(({ field }) => field)
}

const figure = (answer: Answer, id: string): number =>
  answer.figures.find((each) => each.id === id)?.value as number

/** Light of 1 lm/m by the trapezium rule over the tape: inverse-square and both cosine laws, not the closed form. */
function byTrapezium(heightM: number, lengthM: number, alongM = 0, offsetM = 0): number {
  const steps = 20_000
  const piece = (x: number) => heightM ** 2 / Math.PI / (heightM ** 2 + offsetM ** 2 + (x - alongM) ** 2) ** 2
  let sum = (piece(-lengthM / 2) + piece(lengthM / 2)) / 2
  for (let at = 1; at < steps; at++) sum += piece(-lengthM / 2 + (at * lengthM) / steps)
  return (sum * lengthM) / steps
}

const bench = { height: '0.6 m', tapeLength: '2 m', tapeLumens: '1200 lm/m', cover: 'frosted' }

describe('task-light', () => {
  it('gives 500 lx 1 m below an endless tape of 1000 lm/m, and half of it below its end (Φ′/2h, symmetry)', () => {
    const answer = answered({
      height: '1 m',
      tapeLength: '100 m',
      tapeLumens: '1000 lm/m',
      maintained: '100 %',
    })
    expect(figure(answer, 'lux')).toBeCloseTo(500, 2)
    expect(figure(answer, 'luxAtEnd')).toBeCloseTo(250, 2)
  })

  it('needs 1001 lm/m for 500 lx at 0.6 m, 2 m of tape, frosted, 80 % (trapezium rule)', () => {
    const answer = answered(bench)
    const needed = 500 / (byTrapezium(0.6, 2) * 0.8 * 0.8)
    expect(Math.round(needed)).toBe(1001)
    expect(figure(answer, 'neededLumens')).toBeCloseTo(needed, 3)
    expect(figure(answer, 'dimTo')).toBeCloseTo((100 * needed) / 1200, 4)
  })

  it('agrees with the trapezium rule beside the tape and along it, dimmed, from power and efficacy', () => {
    const answer = answered({
      height: '0.8 m',
      tapeLength: '2.4 m',
      tapePower: '14.4 W/m',
      efficacy: '110 lm/W',
      offset: '0.2 m',
      along: '0.5 m',
      coverPasses: '75 %',
      maintained: '70 %',
      dim: '40 %',
    })
    const bare = 14.4 * 110 * byTrapezium(0.8, 2.4, 0.5, 0.2)
    expect(figure(answer, 'luxNew')).toBeCloseTo(bare * 0.75 * 0.4, 3)
    expect(figure(answer, 'lux')).toBeCloseTo(bare * 0.75 * 0.7 * 0.4, 3)
    // The eye's square law (IES Lighting Handbook): √0.4
    expect(figure(answer, 'seenAs')).toBeCloseTo(63.2456, 3)
  })

  it('judges only a target that was given', () => {
    const lux = figure(answered(bench), 'lux')
    expect(answered(bench).verdict).toBe('info')
    const verdictAt = (share: number) => answered({ ...bench, target: `${lux * share} lx` }).verdict
    expect([0.8, 0.95, 1.05].map(verdictAt)).toEqual(['holds', 'tight', 'fails'])
  })

  it('judges at the given dim, and says how far it may be dimmed', () => {
    const lux = figure(answered(bench), 'lux')
    const dimmed = answered({ ...bench, target: '500 lx', dim: '50 %' })
    expect(dimmed.verdict).toBe('fails')
    expect(figure(dimmed, 'lux')).toBeCloseTo(lux / 2, 9)
    expect(dimmed.headline).toContain('dim no lower than 83.4 %')
  })

  it('reports a dim level above 100 where full light is not enough, with ways out that work', () => {
    const raw = { height: '5 ft', tapeLength: '6 ft', tapeLumens: '450 lm/ft', target: '50 fc' }
    const answer = answered(raw)
    expect(answer.verdict).toBe('fails')
    expect(figure(answer, 'dimTo')).toBeGreaterThan(100)
    expect(answer.headline).toMatch(/tape of \d+ lm\/ft/)
    const needed = figure(answer, 'neededLumens')
    expect(answered({ ...raw, tapeLumens: `${needed} lm/m` }).verdict).toBe('tight')
  })

  it('answers the other way round: from a target to the light that the tape must give', () => {
    const answer = answered({ height: '30 in', tapeLength: '6 ft', target: '50 fc' })
    // 50 fc is 538.196 lx; nothing but the maintenance factor stands between
    expect(figure(answer, 'neededLumens')).toBeCloseTo(538.1955 / (byTrapezium(0.762, 1.8288) * 0.8), 2)
    expect(answer.figures.map(({ id }) => id)).not.toContain('lux')
    expect([answer.verdict, answer.headline]).toEqual(['info', expect.stringContaining('359 lm/ft')])
    expect(refused({ height: '30 in', tapeLength: '6 ft' })).toEqual(['tapeLumens'])
  })

  // EN 12464-1: 500 lx for a kitchen work surface; mood 10 to 50 lx is common practice.
  it.each([
    [5, 'less than mood light'],
    [30, 'mood light, not work light'],
    [120, 'more than mood light, less than work light'],
    [600, 'kitchen, work surface'],
  ])('calls %i lx what it is', (lux, words) => {
    const lumens = lux / (byTrapezium(0.9, 3) * 0.8)
    const answer = answered({
      height: '0.9 m',
      tapeLength: '3 m',
      tapeLumens: `${4 * lumens} lm/m`,
      dim: '25 %',
    })
    expect(figure(answer, 'lux')).toBeCloseTo(lux, 3)
    expect(answer.headline).toContain(words)
  })

  it('lists what places and tasks want, with the dim level for each', () => {
    const { table } = answered(bench)
    const row = (place: string) => table?.rows.find(([first]) => String(first).startsWith(place))
    // 50 lx of 599.6 lx: 8.34 %, which looks like √0.0834
    expect(row('mood')?.[1]).toBe('dim to 8.34 %, which looks like 28.9 %')
    expect(row('precision')?.[1]).toContain('needs tape of')
    expect(table?.rows[table.chosen ?? -1]?.[0]).toMatch(/^kitchen, work surface: (?:500 lx|46.5 fc)$/)
  })

  it('judges claims, and says what would make them hold', () => {
    const raw = { height: '0.9 m', tapeLength: '3 m', tapeLumens: '900 lm/m' }
    const lux = 900 * byTrapezium(0.9, 3) * 0.8
    const failing = answered({ ...raw, claim: '800 lx' })
    expect(failing).toMatchObject({ verdict: 'fails', claim: { verdict: 'fails' } })
    const needed = (900 * 800) / lux
    const offered = Number(/(\d+) lm\/m/.exec(failing.claim?.wouldHoldIf.join() ?? '')?.[1])
    expect(offered).toBeGreaterThanOrEqual(needed)
    expect(offered).toBeLessThan(needed * 1.005)
    expect(answered({ ...raw, claim: `${lux * 0.8} lx` }).claim?.verdict).toBe('holds')
    expect(answered({ ...raw, claim: `${lux * 0.95} lx` }).claim?.verdict).toBe('tight')
    expect(refused({ height: '1 m', tapeLength: '2 m', target: '500 lx', claim: '300 lx' })).toEqual([
      'tapeLumens',
    ])
    const covered = answered({ ...raw, cover: 'opal', claim: `${lux * 0.9} lx` })
    expect(covered.claim?.wouldHoldIf.at(-1)).toContain('none')
  })

  it('does not call a dim light fine because nobody said how bright it should be', () => {
    const isFine = { figure: 'verdict', value: 'holds' }
    const judged = (lux: number) => {
      const tapeLumens = `${lux / (byTrapezium(0.9, 3) * 0.8)} lm/m`
      return answered({ height: '0.9 m', tapeLength: '3 m', tapeLumens, claim: isFine })
    }
    // EN 12464-1: 500 lx for work, which is assumed here.
    const dim = judged(300)
    expect([dim.verdict, dim.claim?.verdict]).toEqual(['fails', 'fails'])
    expect(dim.headline).toMatch(/^No, it is not fine\./)
    expect(dim.claim?.wouldHoldIf).not.toEqual([])
    expect(judged(520).verdict).toBe('tight')
    expect(judged(600).verdict).toBe('holds')
    expect(refused({ height: '1 m', tapeLength: '2 m', target: '500 lx', claim: isFine })).toEqual([
      'tapeLumens',
    ])
  })

  it.each([
    [{}, ['height', 'tapeLength']],
    [{ height: '0.9 m' }, ['tapeLength']],
    [{ height: '20 m', tapeLength: '-1 m', tapeLumens: '5 lm/m' }, ['height', 'tapeLength', 'tapeLumens']],
    [{ ...bench, tapePower: '10 W/m' }, ['tapePower']],
    [{ ...bench, cover: 'glass', dim: '0 %', target: '9000 lx' }, ['cover', 'dim', 'target']],
    [{ ...bench, maintained: '20 %', offset: '-1 m', along: 3 }, ['maintained', 'offset', 'along']],
    [{ ...bench, claim: { figure: 'glow', value: 1 } }, ['claim']],
    ['bright', ['']],
  ])('names every fault of %j', (raw, fields) => {
    expect(refused(raw).sort()).toEqual([...fields].sort())
  })

  it('does not mind the units: 30 in is 0.762 m, 50 fc is 538.196 lx', () => {
    const us = answered({ height: '30 in', tapeLength: '6 ft', tapeLumens: '450 lm/ft', target: '50 fc' })
    const metric = answered({
      height: '0.762 m',
      tapeLength: '1828.8 mm',
      tapeLumens: `${450 / 0.3048} lm/m`,
      target: `${50 / 0.3048 ** 2} lx`,
      units: 'metric',
      rules: 'iec',
    })
    for (const id of ['lux', 'luxAtEnd', 'neededLumens', 'dimTo']) {
      expect(figure(metric, id) / figure(us, id)).toBeCloseTo(1, 9)
    }
    expect(us.headline).toContain('fc (')
    expect(metric.headline).toContain('lx (')
  })

  it('has true room: the same just inside, worse just outside', () => {
    const cases = fc.record({
      height: fc.double({ min: 0.2, max: 3, noNaN: true }),
      tapeLength: fc.double({ min: 0.3, max: 6, noNaN: true }),
      tapeLumens: fc.double({ min: 300, max: 3000, noNaN: true }),
      offset: fc.constantFrom(0, 0, 0.3),
    })
    const raw = (c: Record<string, number>) => ({
      height: `${c.height} m`,
      tapeLength: `${c.tapeLength} m`,
      tapeLumens: `${c.tapeLumens} lm/m`,
      offset: `${c.offset} m`,
      target: '300 lx',
    })
    fc.assert(
      fc.property(cases, (given) => {
        const answer = answered(raw(given))
        for (const { field, until } of answer.room) {
          if (!until || !Object.hasOwn(given, field)) continue
          const outside = field === 'height' || field === 'offset' ? 1.005 : 0.995
          const at = (value: number) => answered(raw({ ...given, [field]: value })).verdict
          expect(at(until.value)).toBe(answer.verdict)
          expect(at(until.value * outside + (until.value === 0 ? 0.02 : 0))).not.toBe(answer.verdict)
        }
      }),
      { numRuns: 100 },
    )
  })

  it('never throws, whatever it is sent', () => {
    const body = fc.dictionary(
      fc.constantFrom(
        'height',
        'tapeLength',
        'tapeLumens',
        'tapePower',
        'offset',
        'along',
        'cover',
        'target',
        'dim',
        'claim',
        'units',
      ),
      fc.oneof(
        fc.constantFrom(
          '10 m',
          '0.05 m',
          '20 lm/m',
          '6000 lm/m',
          '0.5 W/m',
          '100 m',
          '-100 m',
          '5000 lx',
          'opal',
          '0.1 %',
          'metric',
        ),
        fc.jsonValue(),
      ),
    )
    const extreme = fc.record({
      height: fc.constantFrom('0.05 m', '10 m'),
      tapeLength: fc.constantFrom('0.01 m', '100 m'),
      tapeLumens: fc.constantFrom('20 lm/m', '6000 lm/m'),
      offset: fc.constantFrom('0 m', '10 m'),
      along: fc.constantFrom('0 m', '-100 m', '100 m'),
      target: fc.constantFrom('1 lx', '5000 lx'),
      dim: fc.constantFrom('0.1 %', '100 %'),
      units: fc.constantFrom('us', 'metric'),
    })
    fc.assert(
      fc.property(fc.oneof(body, extreme, fc.jsonValue()), (raw) => {
        const result = taskLight.answer(raw)
        if (!result.ok) for (const error of result.errors) expect(error.message).not.toBe('')
      }),
      { numRuns: 1000 },
    )
  })
})
