import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Answer } from '../../src/questions/common/answer'
import { tapeReach } from '../../src/questions/tape-reach'
import '../../src/questions/registry'

type Body = Record<string, unknown>

const answer = (body: Body): Answer => {
  const answered = tapeReach.answer(body)
  if (!answered.ok) throw new Error(JSON.stringify(answered.errors))
  return answered.answer
}

const refused = (body: Body): string[] => {
  const answered = tapeReach.answer(body)
  return answered.ok ? [] : answered.errors.map(({ field }) => field)
}

const figure = (from: Answer, id: string) => from.figures.find((each) => each.id === id)?.value

const binding = (from: Answer) => from.limits.filter(({ binds }) => binds).map(({ id }) => id)

const cautions = (from: Answer) => from.cautions.map(({ text }) => text).join('\n')

const usual = { voltage: '24 V', tapePower: '14.4 W/m', driverPower: '96 W' }

/** A driver that never binds before the light does. */
const large = { ...usual, driverPower: '1000 W' }

describe('tape-reach', () => {
  // By hand: 96 W · 80 % / 14.4 W/m = 5.333 m, 53 whole cuts of 100 mm; 14.4 · 5.3 = 76.32 W; /96 W = 79.5 %.
  it('24 V, 14.4 W/m on 96 W stops at 5.3 m by driver load', () => {
    const said = answer(usual)
    expect(figure(said, 'reach')).toBeCloseTo(5.3, 9)
    expect(figure(said, 'cutUnits')).toBe(53)
    expect(figure(said, 'reachByDriver')).toBeCloseTo(5.3, 9)
    expect(figure(said, 'load')).toBeCloseTo(76.32, 6)
    expect(figure(said, 'driverLoad')).toBeCloseTo(79.5, 6)
    expect(binding(said)).toEqual(['driver'])
    expect(said.verdict).toBe('info')
    expect(said.headline).toBe(
      `Driver load stops you at 17' 4-5/8" (5.300 m), 53 cuts, fed at one end; light evenness would allow 19' 0-5/16" (5.800 m).`,
    )
  })

  // The cable equation: light at the far end is 1/cosh(L'/λ) of the near end, λ = √((V − Vₖ)/(r′·i′)) with
  // r′ = 2/58/0.28 Ω/m, so 85 % lies at λ·acosh(1/0.85) + s/2 = 5.86 m (24 V) and 2.92 m (12 V); whole cuts below.
  it('light evenness follows the cable equation', () => {
    const lambdaM = (volts: number) => Math.sqrt((0.3 * volts) / ((2 / 58 / 0.28) * (14.4 / volts)))
    const evenM = (volts: number, cutM: number) =>
      Math.floor((lambdaM(volts) * Math.acosh(1 / 0.85) + cutM / 2) / cutM) * cutM
    expect(figure(answer(usual), 'reachByEvenness')).toBeCloseTo(evenM(24, 0.1), 9)
    expect(figure(answer(usual), 'reachByEvenness')).toBeCloseTo(5.8, 9)
    const low = answer({ ...usual, voltage: '12 V' })
    expect(figure(low, 'reachByEvenness')).toBeCloseTo(evenM(12, 0.05), 9)
    expect(figure(low, 'reachByEvenness')).toBeCloseTo(2.9, 9)
  })

  // Values of the design document, worked there independently of this code.
  it.each([
    ['both ends without cable', { feed: 'both-ends', farFeedDistance: '0 m' }, 11.6],
    ['both ends, the far cable following the run', { feed: 'both-ends' }, 9.0],
    ['the middle', { feed: 'middle' }, 11.5],
    ['regulated tape', { tapeStyle: 'regulated' }, 9.6],
  ])('light evenness alone, %s', (_, change, expectedM) => {
    expect(figure(answer({ ...large, ...change }), 'reachByEvenness')).toBeCloseTo(expectedM, 9)
  })

  // 0.795 Ω of cable (18 AWG stranded, 7.95 Ω/1000 ft, 100 ft out and back) costs 12 V tape its light, not its evenness.
  it('a long cable at 12 V makes brightness bind', () => {
    const said = answer({ ...usual, voltage: '12 V', driverPower: '60 W', feedDistance: '50 ft' })
    expect(figure(said, 'reachByEvenness')).toBeCloseTo(2.9, 9)
    expect(binding(said)).toEqual(['brightness'])
    expect(Number(figure(said, 'dimmestLight'))).toBeGreaterThanOrEqual(80)
    expect(said.headline).toMatch(/^Brightness stops you at/)
    expect(said.working.find(({ result }) => result === '0.795 Ω')?.label).toMatch(/out and back/)
  })

  it('the dimmest light is that of the lowest voltage by the law of the resistor tape', () => {
    const said = answer(usual)
    const volts = Number(figure(said, 'farEndVoltage'))
    expect(figure(said, 'dimmestLight')).toBeCloseTo((100 * (volts - 16.8)) / 7.2, 6)
  })

  // Copper of one ounce has twice the resistance of two, so √2 less reach: 5.86/√2 = 4.15 m; the same as given.
  it('takes the rails as copper or as resistance', () => {
    const thin = figure(answer({ ...usual, copperWeight: '1 oz/ft2' }), 'reachByEvenness')
    expect(thin).toBeCloseTo(4.1, 9)
    const ohm = `${(4 / 58 / 0.28).toFixed(6)} ohm/m`
    const said = answer({ ...usual, railResistance: ohm })
    expect(figure(said, 'reachByEvenness')).toBe(thin)
    expect(said.assumptions.map(({ field }) => field)).not.toContain('copperWeight')
    expect(answer(usual).assumptions.map(({ field }) => field)).toContain('railWidth')
  })

  // The printed run counts once for each side that is fed: 3 m and 6 m.
  it('obeys the maker', () => {
    const one = answer({ ...usual, makerLimit: '3 m' })
    expect(figure(one, 'reach')).toBeCloseTo(3, 9)
    expect(binding(one)).toEqual(['maker'])
    expect(figure(answer({ ...large, makerLimit: '3 m', feed: 'middle' }), 'reachByMaker')).toBeCloseTo(6, 9)
    expect(cautions(one)).toMatch(/obeyed/)
    expect(cautions(answer(usual))).toMatch(/reel prints a shorter longest run/)
  })

  it('limits that tie all bind, and are named', () => {
    const said = answer({ ...usual, makerLimit: '5.3 m' })
    expect(binding(said)).toEqual(['driver', 'maker'])
    expect(said.headline).toMatch(/^Driver load and the maker's longest run stop you at/)
  })

  // BS 7671 (from memory): 0.5 mm² cord carries 3 A.
  it('judges the feed cable by what it may carry, under iec in metres', () => {
    const said = answer({
      voltage: '24 V',
      tapePower: '40 W/m',
      driverPower: '1000 W',
      rules: 'iec',
      units: 'metric',
      gauge: '0.5 mm2',
      feedDistance: '2 m',
      feed: 'middle',
    })
    expect(binding(said)).toEqual(['feedCapacity'])
    expect(Number(figure(said, 'feedCurrent'))).toBeLessThanOrEqual(3)
    expect(said.headline).toMatch(/^The feed cable's current stops you at 1\.900 m/)
    expect(cautions(said)).toMatch(/41\.67 A into a fault, and 0\.5 mm² may carry 3 A/)
    expect(cautions(said)).not.toMatch(/Class 2/)
    expect(said.assumptions.map(({ text }) => text).join()).toMatch(/fine-stranded/)
  })

  it('says when nothing stops the longest tape that is solved', () => {
    const faint = {
      voltage: '60 V',
      tapePower: '0.5 W/m',
      driverPower: '1000 W',
      railResistance: '0.005 ohm/m',
    }
    const said = answer(faint)
    expect(figure(said, 'reach')).toBeCloseTo(100, 9)
    expect(binding(said)).toEqual([])
    expect(said.headline).toMatch(/^Nothing stops it short of 328' 1"/)
    expect(said.limits.find(({ id }) => id === 'evenness')?.text).toMatch(/^beyond/)
  })

  // One cut of 14.4 W/m takes 1.44 W; 80 % of 1 W is less, and 80 % of 1.8 W is just as much.
  it('fails where not even one cut runs, with the ways out', () => {
    const said = answer({ ...usual, driverPower: '1 W' })
    expect(said.verdict).toBe('fails')
    expect(figure(said, 'reach')).toBe(0)
    expect(figure(said, 'farEndVoltage')).toBeUndefined()
    expect(said.headline).toMatch(/driver load is the reason/)
    expect(said.headline).toMatch(/Driver rating at least 1\.8\d* W; Tape power at most/)
    const far = {
      voltage: '12 V',
      tapePower: '40 W/m',
      driverPower: '60 W',
      feedDistance: '600 ft',
      leastLight: '95 %',
    }
    expect(answer(far).headline).toMatch(
      /Feed cable at most .*Feed cable size: \d+ AWG; Least light wanted at most/,
    )
  })

  it('a change that mends nothing is not offered', () => {
    const said = answer({ ...usual, driverPower: '1 W', makerLimit: '0.1 m', cutLength: '500 mm' })
    expect(said.headline).toMatch(/driver load and the maker's longest run is the reason, and no one change/)
  })
})

describe('claims', () => {
  it.each([
    ['4 m', 'holds'],
    ['5 m', 'tight'],
    ['8 m', 'fails'],
  ])('%s %s', (claim, verdict) => {
    const said = answer({ ...usual, claim })
    expect(said.claim?.verdict).toBe(verdict)
    expect(said.verdict).toBe(verdict)
  })

  // 8 m take 115.2 W, which 80 % of 144 W is: the next size sold above that, with the light of two feeds.
  it('says what would have to be true', () => {
    const { claim } = answer({ ...usual, claim: '8 m' })
    expect(claim?.margin).toMatch(/33\.7\d* % short|33\.8 % short/)
    expect(claim?.wouldHoldIf.some((way) => /^Tape power at most/.test(way))).toBe(true)
    expect(claim?.wouldHoldIf.some((way) => /Fed at: the middle, Driver rating: \d+ W/.test(way))).toBe(true)
    const even = answer({ ...large, claim: '8 m' }).claim
    expect(even?.wouldHoldIf).toContain('Fed at: both ends')
  })

  it('offers thicker cable where cable is what costs the light', () => {
    const far = { ...usual, voltage: '12 V', driverPower: '60 W', feedDistance: '50 ft', claim: '2 m' }
    expect(answer(far).claim?.wouldHoldIf.join()).toMatch(/Feed cable size: 1\d AWG/)
  })

  it('"he says it is fine"', () => {
    expect(answer({ ...usual, claim: { figure: 'verdict', value: 'holds' } }).claim?.verdict).toBe('holds')
    const none = answer({ ...usual, driverPower: '1 W', claim: { figure: 'verdict', value: 'holds' } })
    expect(none.claim?.verdict).toBe('fails')
  })
})

describe('room', () => {
  it.each([
    ['driverPower', 'W'],
    ['tapePower', 'W/m'],
    ['feedDistance', 'm'],
    ['evenness', '%'],
    ['copperWeight', 'oz/ft2'],
  ])('%s: just inside the same, a hundredth further less', (field, unit) => {
    const until = answer(usual).room.find((room) => room.field === field)?.until
    expect(until?.unit).toBe(unit)
    const value = Number(until?.value)
    const further = ['driverPower', 'copperWeight'].includes(field) ? 0.99 : 1.01
    const reachAt = (number: number) => figure(answer({ ...usual, [field]: `${number} ${unit}` }), 'reach')
    expect(reachAt(value)).toBeCloseTo(5.3, 9)
    expect(Number(reachAt(value * further))).toBeLessThan(5.25)
  })

  it('says the reach before and beyond', () => {
    const room = answer(usual).room.find(({ field }) => field === 'driverPower')
    expect(room?.text).toMatch(
      /^Driver rating: still 17' 4-5\/8" .* down to 95\.\d W; below that, 17' 0-11\/16"/,
    )
  })

  it('leaves the cable out where there is none', () => {
    const fields = answer(usual).room.map(({ field }) => field)
    expect(fields).not.toContain('conductorTemp')
    expect(answer({ ...usual, feedDistance: '3 m' }).room.map(({ field }) => field)).toContain(
      'conductorTemp',
    )
  })
})

describe('cautions', () => {
  // NEC 2023 chapter 9 table 11(B) (from memory): 100 VA above 20 V, 5 A up to 20 V.
  it.each([
    ['24 V', '100 W', false],
    ['24 V', '120 W', true],
    ['12 V', '60 W', false],
    ['12 V', '75 W', true],
  ])('%s, %s past Class 2: %s', (voltage, driverPower, past) => {
    expect(/Class 2/.test(cautions(answer({ ...usual, voltage, driverPower })))).toBe(past)
  })

  it('both ends from one output; never coiled; metal channel above 10 W/m; warm rails', () => {
    expect(cautions(answer({ ...usual, feed: 'both-ends' }))).toMatch(/same driver output, plus to plus/)
    expect(cautions(answer(usual))).not.toMatch(/same driver output/)
    expect(cautions(answer(usual))).toMatch(/coiled/)
    expect(cautions(answer(usual))).toMatch(/metal channel/)
    expect(cautions(answer({ ...usual, tapePower: '10 W/m' }))).not.toMatch(/metal channel/)
    expect(cautions(answer(usual))).toMatch(/Warm ones \(50 °C\) have 12 % more resistance/)
  })
})

describe('faults', () => {
  it.each([
    ['nothing', {}, ['voltage', 'tapePower', 'driverPower']],
    ['a bare number', { ...usual, tapePower: '14.4' }, ['tapePower']],
    ['line voltage', { ...usual, voltage: '120 V' }, ['voltage']],
    ['a size of the other rules', { ...usual, gauge: '1.5 mm2' }, ['gauge']],
    ['a size that is not made', { ...usual, gauge: '17 AWG' }, ['gauge']],
    ['rails twice', { ...usual, railResistance: '0.1 ohm/m', copperWeight: '1 oz/ft2' }, ['copperWeight']],
    [
      'rails of hair',
      { ...usual, copperWeight: '0.25 oz/ft2', railWidth: '0.5 mm' },
      ['copperWeight', 'railWidth'],
    ],
    [
      'a far cable without a far end',
      { ...usual, feed: 'one-end', farFeedDistance: '3 m' },
      ['farFeedDistance'],
    ],
    ['an unknown field', { ...usual, colour: 'red' }, ['colour']],
    ['a claim in watts', { ...usual, claim: '5 W' }, ['claim']],
  ])('%s', (_, body, fields) => {
    expect(refused(body)).toEqual(fields)
  })

  it('a far cable alone means both ends', () => {
    const said = answer({ ...usual, farFeedDistance: '3 m' })
    expect(said.inputs.feed?.value).toBe('both-ends')
  })

  it('no odd input throws', () => {
    const fields = Object.keys(tapeReach.inputs)
    const odd = fc.oneof(
      fc.constantFrom(
        '24 V',
        '5 m',
        '-1 m',
        '1e9 W/m',
        '0 V',
        '18 AWG',
        '0.5 mm2',
        '99 %',
        '0.85',
        'middle',
        'iec',
        '',
      ),
      fc.jsonValue(),
    )
    const body = fc.dictionary(fc.constantFrom(...fields, 'claim', 'x.0.y'), odd, { maxKeys: 6 })
    fc.assert(
      fc.property(body, fc.boolean(), (change, whole) => {
        const answered = tapeReach.answer(whole ? { ...usual, ...change } : change)
        if (!answered.ok) {
          expect(answered.errors.length).toBeGreaterThan(0)
          for (const error of answered.errors) expect(error.message).toBeTruthy()
        }
      }),
      { numRuns: 1000 },
    )
  })
})

it('units do not matter', () => {
  const feet = answer({ ...usual, tapePower: '4.38912 W/ft', feedDistance: '10 ft', makerLimit: '16.4 ft' })
  const metres = answer({ ...usual, feedDistance: '3.048 m', makerLimit: '4.99872 m', units: 'metric' })
  for (const { id, value } of feet.figures) {
    if (typeof value === 'number') expect(figure(metres, id)).toBeCloseTo(value, 6)
  }
})

it('a larger driver, weaker tape or shorter cable never reaches less', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 5, max: 400, noNaN: true }),
      fc.double({ min: 2, max: 30, noNaN: true }),
      fc.double({ min: 0, max: 30, noNaN: true }),
      (driverW, wattsPerM, distanceM) => {
        const reach = (power: number, weight: number, distance: number) =>
          tapeReach.answer({
            voltage: '24 V',
            driverPower: `${power.toFixed(3)} W`,
            tapePower: `${weight.toFixed(3)} W/m`,
            feedDistance: `${distance.toFixed(3)} m`,
            gauge: '12 AWG',
          })
        const of = (answered: ReturnType<typeof reach>) =>
          answered.ok ? Number(figure(answered.answer, 'reach')) : -1
        const here = of(reach(driverW, wattsPerM, distanceM))
        expect(of(reach(driverW * 1.2, wattsPerM, distanceM))).toBeGreaterThanOrEqual(here - 1e-9)
        expect(of(reach(driverW, wattsPerM * 0.9, distanceM))).toBeGreaterThanOrEqual(here - 1e-9)
        expect(of(reach(driverW, wattsPerM, distanceM * 0.8))).toBeGreaterThanOrEqual(here - 1e-9)
      },
    ),
    { numRuns: 40 },
  )
})

it('leads on to questions already filled in', () => {
  const known = ['along-the-tape', 'feed-gauge', 'meter-check', 'cut-plan']
  const { next } = answer({ ...usual, feedDistance: '10 ft' })
  expect(next.map(({ question }) => question)).toEqual(known)
  expect(next[0]?.inputs).toMatchObject({
    tapeLength: '5.3 m',
    'feeds.0.at': '0 m',
    'feeds.0.distance': '3.048 m',
  })
  expect(next[1]?.inputs).toMatchObject({ voltage: '24 V', tapeLength: '5.3 m' })
  expect(next[3]?.inputs).toEqual({ 'openings.0': '5.3 m', cutLength: '0.1 m' })
})

describe('what a claim or a drift may be about', () => {
  it('asks for the printed run before it judges a claim on it', () => {
    const answered = tapeReach.answer({ ...usual, claim: { figure: 'reachByMaker', value: '5 m' } })
    expect(answered.ok ? [] : answered.errors.map(({ field }) => field)).toEqual(['makerLimit'])
  })

  it('grants any claim on a feed cable that is not there', () => {
    const { claim } = answer({ ...usual, claim: { figure: 'reachByCapacity', value: '90 m' } })
    expect(claim?.verdict).toBe('holds')
  })

  // More drop in the cable lowers the current of resistor tape, so a cable at its capacity then feeds more of it.
  it('counts a longer reach as no change for the worse', () => {
    const body = { ...usual, driverPower: '300 W', feedDistance: '3 m', gauge: '22 AWG' }
    const said = answer({ ...body, leastLight: '10 %', evenness: '50 %' })
    expect(binding(said)).toEqual(['feedCapacity'])
    for (const { text } of said.room) {
      const [, beyond] = /that, .*\((\d+\.\d+) m\)/.exec(text) ?? []
      if (beyond) expect(Number(beyond)).toBeLessThan(Number(figure(said, 'reach')))
    }
  })
})

it('every source it names is in the bibliography, and every assumption says why', () => {
  const said = answer({ ...usual, feed: 'both-ends', feedDistance: '10 ft', makerLimit: '5 m' })
  expect(said.sources.length).toBeGreaterThan(5)
  for (const { why } of said.assumptions) expect(why).toBeTruthy()
  expect(said.picture?.kind).toBe('along-the-tape')
})
