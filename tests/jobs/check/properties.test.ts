import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { checkJob } from '../../../src/jobs/check/board'
import { seen } from '../../../src/jobs/check/checked-job'
import type { Crossing } from '../../../src/jobs/check/crossings/crossing'
import { driverHeat } from '../../../src/jobs/check/crossings/driver-heat'
import { driversOnCircuit } from '../../../src/jobs/check/crossings/drivers-on-circuit'
import { tapeOnDriver } from '../../../src/jobs/check/crossings/tape-on-driver'
import { wetPlace } from '../../../src/jobs/check/crossings/wet-place'
import { severityOf } from '../../../src/jobs/check/rows'
import type { FactValue } from '../../../src/jobs/log/job'
import { ownFacts } from '../../../src/jobs/memory/own-facts'
import { questions } from '../../../src/questions/registry'
import { jobOf, known } from './telling'

const severityAt = (crossing: Crossing, job: ReturnType<typeof jobOf>): number =>
  Math.max(...crossing.findings(seen(job)).map(({ state }) => severityOf(state)))

const feet = fc.integer({ min: 1, max: 60 })

describe('a heavier load', () => {
  const job = (hall: number, stairs: number, more: Record<string, string>) =>
    jobOf(
      { voltage: '24 V', tapePower: '4.4 W/ft', driverPower: '150 W', ...more },
      { Hall: { tapeLength: `${hall} ft` }, Stairs: { tapeLength: `${stairs} ft` } },
    )

  it.each([
    [tapeOnDriver, {}],
    [driverHeat, { ambient: '50 °C', fullOutputTo: '45 °C', derateAt: '60 °C', derateTo: '70 %' }],
    [driversOnCircuit, { breaker: '15 A', existing: '1000 W' }],
  ])('never makes it better: $id', (crossing, more) => {
    fc.assert(
      fc.property(feet, feet, fc.integer({ min: 1, max: 40 }), (hall, stairs, added) => {
        const [before, after] = [job(hall, stairs, more), job(hall + added, stairs, more)]
        expect(severityAt(crossing, after)).toBeGreaterThanOrEqual(severityAt(crossing, before))
      }),
      { numRuns: 200 },
    )
  })

  it('and a larger driver never makes it worse', () => {
    fc.assert(
      fc.property(
        feet,
        fc.integer({ min: 10, max: 500 }),
        fc.integer({ min: 1, max: 400 }),
        (hall, watts, more) => {
          const at = (driver: number) =>
            severityAt(tapeOnDriver, job(hall, 5, { driverPower: `${driver} W` }))
          expect(at(watts + more)).toBeLessThanOrEqual(at(watts))
        },
      ),
      { numRuns: 200 },
    )
  })
})

describe('a wetter place', () => {
  it('is never better, nor a lesser listing', () => {
    const wetness = ['dry', 'damp', 'wet']
    const at = (surroundings: string, tapeListing: string) =>
      severityAt(wetPlace, jobOf({ surroundings, tapeListing }))
    const place = fc.integer({ min: 0, max: 2 })
    fc.assert(
      fc.property(place, place, place, place, (where, listed, wetter, lesser) => {
        const now = at(wetness[where] ?? '', wetness[listed] ?? '')
        const then = at(wetness[Math.max(where, wetter)] ?? '', wetness[Math.min(listed, lesser)] ?? '')
        expect(then).toBeGreaterThanOrEqual(now)
      }),
      { numRuns: 1000 },
    )
  })
})

describe('a fact that has nothing to do with the rest', () => {
  const facts = jobOf(
    { voltage: '24 V', tapePower: '4.4 W/ft', driverPower: '150 W', breaker: '15 A', dimmerRating: '200 W' },
    { Hall: { tapeLength: '12 ft', feedDistance: '9 ft' }, Stairs: { tapeLength: '6 ft' } },
  )
  const before = checkJob(facts)

  // What only one question takes, and which rows may change by it.
  const alone: readonly [field: string, value: FactValue, rows: string[]][] = [
    ['legs', ['20 ft', '30 ft'], ['pull-plan']],
    ['frequency', '120 Hz', ['steady-light']],
    ['box', 'octagon 4 x 1-1/2', ['box-fill', 'cable-in-box']],
    ['bundle', ['0.3 in'], ['hole-fit']],
    ['member', '2x10', ['framing-hole']],
    ['hots', [{ current: '3 A' }, { current: '2 A' }], ['shared-neutral']],
    ...ownFacts
      .filter(({ field }) => field.kind === 'described')
      .map(({ id }): [string, FactValue, string[]] => [id, 'any words', []]),
  ]

  it('changes no other row', () => {
    const anything = fc.constantFrom(...alone)
    const place = fc.constantFrom(null, 'Hall', 'Attic')
    fc.assert(
      fc.property(anything, place, ([field, value, rows], where) => {
        const others = (board: typeof before) =>
          board.rows.filter(({ id }) => !rows.includes(id.split('@')[0] ?? ''))
        expect(others(checkJob([...facts, known(field, value, where)]))).toEqual(others(before))
      }),
      { numRuns: 100 },
    )
  })
})

describe('whatever a job holds', () => {
  const fields = [
    ...new Set([
      ...questions.flatMap(({ inputs }) => Object.entries(inputs).map(([id, { fact }]) => fact ?? id)),
      ...ownFacts.map(({ id }) => id),
      'something else',
    ]),
  ]
  const examples = questions.flatMap(({ words }) =>
    Object.values(words.fields).flatMap(({ example }) => example ?? []),
  )
  const text = fc.oneof(
    fc.constantFrom(...examples, '12 ft', '24 V', '96 W', 'iec', 'wet'),
    fc.string({ maxLength: 12 }),
  )
  const value = fc.oneof(
    { weight: 4, arbitrary: text },
    { weight: 1, arbitrary: fc.array(text, { minLength: 1, maxLength: 3 }) },
    { weight: 1, arbitrary: fc.record({ at: text, distance: text }) },
  )
  const fact = fc.tuple(fc.constantFrom(...fields), value, fc.constantFrom(null, 'Hall', 'Stairs'))

  it('never throws, and stays plain data', () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fact, { maxLength: 14, selector: ([field, , where]) => `${field}@${where}` }),
        (told) => {
          const board = checkJob(told.map(([field, said, where]) => known(field, said, where)))
          expect(JSON.parse(JSON.stringify(board))).toEqual(board)
          for (const { sentence } of board.rows) expect(sentence).not.toMatch(/NaN|undefined|\[object/)
        },
      ),
      { numRuns: 300 },
    )
  })
})
