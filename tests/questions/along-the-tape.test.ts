import fc from 'fast-check'
import { lusolve, type Matrix, matrix } from 'mathjs'
import { describe, expect, it } from 'vitest'
import { alongTheTape } from '../../src/questions/along-the-tape'
import type { Answer } from '../../src/questions/common/answer'
import type { TapePicture } from '../../src/questions/common/tape-picture'
import '../../src/questions/registry'

const answerOf = (raw: object): Answer => {
  const answered = alongTheTape.answer(raw)
  if (!answered.ok) throw new Error(JSON.stringify(answered.errors))
  return answered.answer
}

const errorsOf = (raw: unknown) => {
  const answered = alongTheTape.answer(raw)
  return answered.ok ? [] : answered.errors
}

const figure = (answer: Answer, id: string): number =>
  answer.figures.find((each) => each.id === id)?.value as number

const fiveMetres = { voltage: '24 V', tapePower: '14.4 W/m', tapeLength: '5 m' }

describe('the figures', () => {
  // The fin equation V(x) − V_k = (V_s − V_k)·cosh((L' − x)/λ)/cosh(L'/λ), which the network nears with its pitch:
  // any handbook of heat transfer (a straight fin with an adiabatic tip). 24 V, 5 m, r' 0.12315 Ω/m.
  it('nears the fin equation', () => {
    const kneeV = 16.8
    const reach = Math.sqrt((24 - kneeV) / ((2 / 58 / 0.28) * (14.4 / 24)))
    const fin = (at: number, length: number) =>
      kneeV + ((24 - kneeV) * Math.cosh((length - at) / reach)) / Math.cosh(length / reach)
    const fine = answerOf({ ...fiveMetres, cutLength: '5 mm' })
    expect(figure(fine, 'lowestVoltage')).toBeCloseTo(fin(4.9975, 4.9975), 4)
  })

  // Check values of the design, cross-checked there with a circuit simulator.
  it.each([
    [fiveMetres, 23.181, 88.62, 2.7738],
    [{ ...fiveMetres, voltage: '12 V' }, 10.719, 64.41, 4.5605],
    [{ ...fiveMetres, tapeLength: '10 m', feeds: ['0 m', '10 m'] }, 23.181, 88.6, 5.548],
  ])('%j', (raw, lowestV, dimmest, amperes) => {
    const answer = answerOf(raw)
    expect(figure(answer, 'lowestVoltage')).toBeCloseTo(lowestV, 3)
    expect(Math.abs(figure(answer, 'dimmestLight') - dimmest)).toBeLessThan(0.06)
    expect(Math.abs(figure(answer, 'current') - amperes)).toBeLessThan(0.0006)
  })

  // Above the knee a resistor tape is linear: the same nodes by dense elimination (mathjs lusolve). Table 8 of NEC
  // chapter 9: 18 AWG 7.95 Ω and 14 AWG 3.14 Ω for 1000 ft, stranded, at 75 °C.
  it('agrees with dense elimination for two feeds behind a trunk', () => {
    const answer = answerOf({
      ...fiveMetres,
      feeds: [
        { at: '0 m', distance: '6 m', gauge: '18 AWG' },
        { at: '5 m', distance: '11 m', gauge: '18 AWG' },
      ],
      trunk: { distance: '3 m', gauge: '14 AWG' },
    })
    const units = 50
    const kneeV = 16.8
    const unitS = (14.4 * 0.1) / 24 / (24 - kneeV)
    const linkS = 1 / ((2 / 58 / 0.28) * 0.1)
    const feedS = [6, 11].map((metres) => 1 / ((2 * metres * 7.95) / 304.8))
    const trunkS = 1 / ((2 * 3 * 3.14) / 304.8)
    const nodes = units + 1
    const a = Array.from({ length: nodes }, () => new Array<number>(nodes).fill(0))
    const b = new Array<number>(nodes).fill(unitS * kneeV)
    const join = (i: number, j: number, siemens: number) => {
      for (const [row, column, sign] of [
        [i, i, 1],
        [j, j, 1],
        [i, j, -1],
        [j, i, -1],
      ] as const) {
        const line = a[row] as number[]
        line[column] = (line[column] as number) + sign * siemens
      }
    }
    for (let k = 0; k < units; k++) {
      const line = a[k] as number[]
      line[k] = (line[k] as number) + unitS
      if (k + 1 < units) join(k, k + 1, linkS)
    }
    join(0, units, feedS[0] as number)
    join(units - 1, units, feedS[1] as number)
    const split = a[units] as number[]
    split[units] = (split[units] as number) + trunkS
    b[units] = trunkS * 24
    const volts = ((lusolve(matrix(a), matrix(b)) as Matrix).toArray() as number[][]).map(
      ([v]) => v as number,
    )
    const splitV = volts[units] as number
    expect(figure(answer, 'lowestVoltage')).toBeCloseTo(Math.min(...volts.slice(0, units)), 8)
    expect(figure(answer, 'current')).toBeCloseTo(trunkS * (24 - splitV), 8)
    const feeds = answer.figures.find(({ id }) => id === 'feedCurrent')
    const [near, far] = (feeds?.value as number[] | undefined) ?? []
    expect(near).toBeCloseTo((feedS[0] as number) * (splitV - (volts[0] as number)), 8)
    expect(far).toBeCloseTo((feedS[1] as number) * (splitV - (volts[units - 1] as number)), 8)
  })

  // Conservation of energy.
  it('loses nothing between the driver and the tape, the rails and the cables', () => {
    const answer = answerOf({ ...fiveMetres, feeds: [{ at: '2 m', distance: '8 m' }], trunk: '2 m' })
    const parts = ['tapeWatts', 'railLoss', 'cableLoss'].map((id) => figure(answer, id))
    expect(parts.reduce((sum, watts) => sum + watts, 0)).toBeCloseTo(24 * figure(answer, 'current'), 8)
  })

  // 16.4 ft is within 5 mm of the mark at 5 m: the design's rule for tape that is already cut.
  it('does not mind the units', () => {
    const metric = answerOf(fiveMetres)
    const us = answerOf({ voltage: '24 V', tapePower: '4.389120 W/ft', tapeLength: '16.4 ft' })
    for (const { id } of metric.figures.filter(({ value }) => typeof value === 'number'))
      expect(figure(us, id)).toBeCloseTo(figure(metric, id), 4)
  })

  it('takes the rails by their copper, as IEC 60028 has it', () => {
    // One ounce and 8 mm is the same copper as two ounces and 4 mm.
    const same = answerOf({ ...fiveMetres, copperWeight: '1 oz/ft2', railWidth: '8 mm' })
    expect(figure(same, 'lowestVoltage')).toBeCloseTo(figure(answerOf(fiveMetres), 'lowestVoltage'), 10)
    const given = answerOf({ ...fiveMetres, railResistance: `${2 / 58 / 0.28} ohm/m` })
    expect(figure(given, 'lowestVoltage')).toBeCloseTo(figure(same, 'lowestVoltage'), 10)
  })
})

describe('the verdict', () => {
  it.each([
    [{ ...fiveMetres, tapeLength: '2 m' }, 'holds'],
    [fiveMetres, 'tight'],
    [{ ...fiveMetres, evenness: '90 %' }, 'fails'],
    [{ ...fiveMetres, leastLight: '89 %' }, 'fails'],
    [{ ...fiveMetres, tapeStyle: 'regulated' }, 'holds'],
    // Regulated tape keeps its rated 72 W, 3 A at 24 V, of 3.125 A or of 2.917 A.
    [{ ...fiveMetres, tapeStyle: 'regulated', driverPower: '75 W' }, 'tight'],
    [{ ...fiveMetres, tapeStyle: 'regulated', driverPower: '70 W' }, 'fails'],
    [{ ...fiveMetres, tapeLength: '2 m', driverPower: '30 W' }, 'tight'],
    [{ ...fiveMetres, tapeLength: '2 m', driverPower: '28 W' }, 'fails'],
  ])('%j: %s', (raw, verdict) => expect(answerOf(raw).verdict).toBe(verdict))

  it('names the ways out of a failure, each of which is one', () => {
    const raw = { ...fiveMetres, units: 'metric', tapeLength: '8 m', feeds: [{ at: '0 m', distance: '6 m' }] }
    const { headline, verdict } = answerOf(raw)
    expect(verdict).toBe('fails')
    const said = (pattern: RegExp): string => pattern.exec(headline)?.[1] ?? ''
    const ways = [
      { tapeLength: said(/at most ([\d.]+ m) of tape/) },
      { tapePower: said(/tape of at most ([\d.]+ W\/m)/) },
      { voltage: said(/(\d+ V) tape and driver/) },
    ]
    for (const way of ways)
      expect(answerOf({ ...raw, ...way }).verdict, JSON.stringify(way)).not.toBe('fails')
    const longer = { tapeLength: `${Number.parseFloat(ways[0]?.tapeLength ?? '') + 0.1} m` }
    expect(answerOf({ ...raw, ...longer }).verdict).toBe('fails')
  })

  it('offers heavier cable and a nearer driver where the cable is to blame', () => {
    const raw = {
      ...fiveMetres,
      units: 'metric',
      tapeLength: '4 m',
      feeds: [{ at: '2 m', distance: '30 m' }],
    }
    const { headline } = answerOf(raw)
    const gauge = /the same feeds with (\d+ AWG) cable/.exec(headline)?.[1]
    const distance = /the driver within ([\d.]+ m) of the tape/.exec(headline)?.[1]
    for (const way of [{ gauge, distance: '30 m' }, { distance }])
      expect(answerOf({ ...raw, feeds: [{ at: '2 m', ...way }] }).verdict).not.toBe('fails')
  })

  // NEC 240.4(D): 18 AWG 7 A, of which 80 % for hours.
  it('judges the capacity of a feed and of the trunk', () => {
    const heavy = { voltage: '12 V', tapePower: '30 W/m', tapeLength: '4 m', cutLength: '50 mm' }
    const cable = { distance: '0.5 m', gauge: '18 AWG' }
    const fed = answerOf({ ...heavy, feeds: [{ at: '2 m', ...cable }], evenness: '50 %', leastLight: '10 %' })
    expect(fed.verdict).toBe('fails')
    expect(fed.limits.find(({ binds }) => binds)).toMatchObject({ id: 'feedCapacity', value: 5.6 })
    const shared = answerOf({ ...heavy, feeds: ['2 m'], trunk: cable, evenness: '50 %', leastLight: '10 %' })
    expect(shared.limits.find(({ binds }) => binds)).toMatchObject({ id: 'trunkCapacity', value: 5.6 })
    expect(shared.headline).toContain('shared cable')
  })

  it('gives no voltage past what the driver can give', () => {
    const answer = answerOf({
      voltage: '24 V',
      tapePower: '5 W/ft',
      tapeLength: '25 ft',
      driverPower: '96 W',
    })
    expect(answer.verdict).toBe('fails')
    expect(answer.figures.map(({ id }) => id)).toEqual(['current'])
    expect(answer.picture).toBeUndefined()
    expect(answer.limits).toEqual([
      { id: 'driver', label: 'Driver', value: 4, unit: 'A', text: '4 A', binds: true },
    ])
    expect(answer.headline).toContain('a driver of 120 W')
  })

  it('stays dark below the knee', () => {
    const answer = answerOf({ ...fiveMetres, sourceVoltage: '16 V' })
    expect(figure(answer, 'dimmestLight')).toBe(0)
    expect(figure(answer, 'current')).toBe(0)
    expect(answer.verdict).toBe('fails')
  })
})

describe('the cautions', () => {
  const textsOf = (raw: object): string =>
    answerOf(raw)
      .cautions.map(({ text }) => text)
      .join(' ')

  it('stops at two outputs joined, always', () => {
    expect(answerOf(fiveMetres).cautions[0]?.level).toBe('stop')
  })

  it('takes care above the rated voltage', () => {
    expect(textsOf({ ...fiveMetres, sourceVoltage: '25 V' })).toContain('above the tape')
    expect(textsOf(fiveMetres)).not.toContain('above the tape')
  })

  it('asks for a fuse where the driver can push more than the cable may carry', () => {
    const feeds = [{ at: '0 m', distance: '2 m', gauge: '18 AWG' }]
    expect(textsOf({ ...fiveMetres, feeds, driverPower: '240 W' })).toContain('its own fuse of at most 7 A')
    expect(textsOf({ ...fiveMetres, feeds, driverPower: '96 W' })).not.toContain('fuse')
    expect(textsOf({ ...fiveMetres, feeds })).toContain('If the driver can give more than 7 A')
  })

  // Copper of IEC 60028 has 1 + 0.00393·30 times its resistance at 50 °C.
  it('says what warm rails cost, as if they were given warm', () => {
    const warm = answerOf({ ...fiveMetres, railResistance: `${(2 / 58 / 0.28) * (1 + 0.00393 * 30)} ohm/m` })
    const light = warm.figures.find(({ id }) => id === 'dimmestLight')?.text
    expect(textsOf(fiveMetres)).toContain(`gives ${light} of rated light`)
  })
})

describe('a claim', () => {
  it.each([
    ['88 %', 'tight'],
    ['75 %', 'holds'],
    ['95 %', 'fails'],
    [{ figure: 'lowestVoltage', value: '22 V' }, 'tight'],
    [{ figure: 'current', value: '4 A' }, 'holds'],
    [{ figure: 'feedCurrent', value: '2 A' }, 'fails'],
    [{ figure: 'verdict', value: 'holds' }, 'tight'],
  ])('%j: %s', (claim, verdict) => expect(answerOf({ ...fiveMetres, claim }).claim?.verdict).toBe(verdict))

  it('says what would have to be true', () => {
    const raw = { ...fiveMetres, tapeLength: '8 m', claim: { figure: 'verdict', value: 'holds' } }
    const { claim, verdict } = answerOf(raw)
    expect(verdict).toBe('fails')
    const longest = /Tape length at most .*\(([\d.]+) m\)/.exec(claim?.wouldHoldIf.join('\n') ?? '')?.[1]
    expect(answerOf({ ...raw, tapeLength: `${longest} m` }).claim?.verdict).not.toBe('fails')
    expect(answerOf({ ...raw, tapeLength: `${Number(longest) + 0.2} m` }).claim?.verdict).toBe('fails')
  })

  it('fails where there is no such figure past the driver', () => {
    expect(answerOf({ ...fiveMetres, driverPower: '30 W', claim: '10 %' }).claim?.verdict).toBe('fails')
  })
})

describe('the layout it proposes', () => {
  it.each([
    { ...fiveMetres, tapeLength: '8 m', feeds: [{ at: '0 m', distance: '6 m' }] },
    { ...fiveMetres, voltage: '12 V', units: 'metric', trunk: '3 m' },
    { ...fiveMetres, voltage: '12 V', rules: 'iec', feeds: [{ at: '2 m', distance: '25 m' }] },
    { ...fiveMetres, tapeLength: '16.4 ft', evenness: '95 %', feeds: [{ at: '0 ft', distance: '10 ft' }] },
    { voltage: '24 V', tapePower: '5 W/ft', tapeLength: '25 ft', driverPower: '96 W' },
  ])('does when it is asked in turn: %j', (raw) => {
    const answer = answerOf(raw)
    expect(answer.verdict).toBe('fails')
    expect(answer.next[0]?.question).toBe('along-the-tape')
    const inTurn = answerOf(answer.next[0]?.inputs ?? {})
    expect(inTurn.verdict).not.toBe('fails')
    expect(inTurn.inputs.rules?.value).toBe(answer.inputs.rules?.value)
  })

  const proposal = (raw: object) =>
    answerOf(raw).working.find(({ label }) => label.startsWith('The cheapest feed layout'))

  it('is none where the layout does with one feed', () => {
    expect(proposal({ ...fiveMetres, tapeLength: '2 m' })).toBeUndefined()
  })

  it('is one feed where two are more than it takes', () => {
    expect(proposal({ ...fiveMetres, feeds: ['0 m', '5 m'] })?.substituted).toContain('feed one end')
  })

  it('takes more feeds the longer the tape is', () => {
    expect(proposal({ ...fiveMetres, tapeLength: '8 m' })?.substituted).toContain('feed the middle')
    expect(proposal({ ...fiveMetres, tapeLength: '14 m' })?.substituted).toContain('places')
  })
})

describe('faults', () => {
  it.each([
    [{ ...fiveMetres, feeds: ['6 m'] }, 'feeds.0.at'],
    [{ ...fiveMetres, feeds: ['5 m', { at: '1 m', gauge: '1.5 mm2' }] }, 'feeds.1.gauge'],
    [{ ...fiveMetres, feeds: [{ at: '1 m', gauge: '3 AWG' }] }, 'feeds.0.gauge'],
    [{ ...fiveMetres, feeds: [] }, 'feeds'],
    [{ ...fiveMetres, feeds: Array.from({ length: 21 }, () => '0 m') }, 'feeds'],
    [{ ...fiveMetres, feeds: [{ distance: '1 m' }] }, 'feeds.0.at'],
    [{ ...fiveMetres, trunk: { distance: '1 m', gauge: '2.5 mm2' } }, 'trunk.gauge'],
    [{ ...fiveMetres, trunk: { gauge: '18 AWG' } }, 'trunk.distance'],
    [{ ...fiveMetres, sourceVoltage: '28 V' }, 'sourceVoltage'],
    [{ ...fiveMetres, sourceVoltage: '11 V' }, 'sourceVoltage'],
    [{ ...fiveMetres, tapeLength: '60 m', cutLength: '10 mm' }, 'tapeLength'],
    [{ ...fiveMetres, tapeLength: '4 cm' }, 'tapeLength'],
    [{ ...fiveMetres, knee: '0.9' }, 'knee'],
    [{ ...fiveMetres, railResistance: '0.1 ohm/m', copperWeight: '2 oz/ft2' }, 'copperWeight'],
    [{ ...fiveMetres, tapeLength: 5 }, 'tapeLength'],
    [{ ...fiveMetres, voltage: '120 V' }, 'voltage'],
    [{ ...fiveMetres, length: '5 m' }, 'length'],
    [{ voltage: '24 V', tapePower: '14.4 W/m' }, 'tapeLength'],
    [{ ...fiveMetres, claim: { figure: 'reach', value: '5 m' } }, 'claim'],
  ])('%j: %s', (raw, field) => {
    const errors = errorsOf(raw)
    expect(errors.map((error) => error.field)).toEqual([field])
    expect(errors[0]?.message).toMatch(/^[A-Z].*\.$/)
  })

  it('says all that is wrong at once', () => {
    const raw = { ...fiveMetres, feeds: ['6 m', { at: '7 m', gauge: '1 mm2' }], sourceVoltage: '30 V' }
    expect(errorsOf(raw).map(({ field }) => field)).toEqual([
      'sourceVoltage',
      'feeds.0.at',
      'feeds.1.at',
      'feeds.1.gauge',
    ])
  })

  it('takes a feed at the end as it was measured', () => {
    expect(errorsOf({ ...fiveMetres, tapeLength: '16.4 ft', feeds: ['16.4 ft'] })).toEqual([])
    expect(errorsOf({ ...fiveMetres, tapeLength: '16.4 ft', feeds: ['5 m'] })).toEqual([])
  })

  it('survives whatever it is sent', () => {
    const said = fc.oneof(
      fc.constantFrom(
        '24 V',
        '12 V',
        '5 m',
        '16 ft',
        '18 AWG',
        '1.5 mm2',
        '80 %',
        '0.7',
        'nec',
        'iec',
        '96 W',
      ),
      fc.string({ maxLength: 12 }),
      fc.double(),
      fc.constant(null),
    )
    const feed = fc.record({ at: said, distance: said, gauge: said }, { requiredKeys: [] })
    const names = Object.keys(alongTheTape.inputs).filter((id) => id !== 'feeds' && id !== 'trunk')
    const body = fc.record(
      {
        ...Object.fromEntries(names.map((id) => [id, said])),
        feeds: fc.oneof(said, fc.array(fc.oneof(said, feed), { maxLength: 3 })),
        trunk: fc.oneof(said, feed),
        claim: fc.oneof(said, fc.record({ figure: fc.constantFrom('verdict', 'current', 'x'), value: said })),
      },
      { requiredKeys: [] },
    )
    const sound = fc.constant({ voltage: '24 V', tapePower: '10 W/m', tapeLength: '5 m' })
    fc.assert(
      fc.property(
        fc.oneof(
          fc.jsonValue(),
          body,
          fc.tuple(sound, body).map(([a, b]) => ({ ...b, ...a })),
        ),
        (raw) => {
          const answered = alongTheTape.answer(raw)
          if (!answered.ok) {
            expect(answered.errors.length).toBeGreaterThan(0)
            for (const { message } of answered.errors) expect(message).not.toBe('')
          }
        },
      ),
      { numRuns: 1000 },
    )
  })
})

type Raw = Record<string, unknown>

/** The same body with one number changed, by its dotted path. */
function changed(raw: Raw, path: string, value: string): Raw {
  const [key = '', ...rest] = path.split('.')
  if (rest.length === 0) return { ...raw, [key]: value }
  const below = raw[key] as Raw
  const copy = changed(below, rest.join('.'), value)
  return { ...raw, [key]: Array.isArray(below) ? Object.values(copy) : copy }
}

describe('the room', () => {
  const states = (answer: Answer) => [
    answer.verdict,
    answer.verdict === 'fails' ? '' : answer.limits.find(({ binds }) => binds)?.id,
  ]

  const cases: Raw[] = [
    {
      ...fiveMetres,
      tapeLength: '4 m',
      feeds: [{ at: '0 m', distance: '2 m', gauge: '16 AWG' }],
      trunk: { distance: '1 m', gauge: '14 AWG' },
      driverPower: '96 W',
    },
    { ...fiveMetres, tapeLength: '2 m', driverPower: '60 W', railResistance: '0.2 ohm/m' },
    {
      ...fiveMetres,
      rules: 'iec',
      units: 'metric',
      tapeLength: '8 m',
      feeds: [
        { at: '0 m', distance: '1 m', gauge: '1.5 mm2' },
        { at: '8 m', distance: '9 m', gauge: '1.5 mm2' },
      ],
    },
  ]

  it.each(cases.map((raw) => [JSON.stringify(raw), raw]))('is true for %s', (_, raw) => {
    const answer = answerOf(raw)
    const now = states(answer)
    expect(now[0]).not.toBe('fails')
    let moved = 0
    for (const { field, until } of answer.room) {
      if (!until) continue
      const rising = until.value > ((answer.inputs[field]?.value as number) ?? 0) || field.includes('.')
      const at = (factor: number) =>
        states(
          answerOf(changed(raw, field, `${until.value * factor} ${until.unit.replace('oz/ft2', 'oz/ft2')}`)),
        )
      expect(at(1), `${field} inside`).toEqual(now)
      // Outside by what the search is allowed, or by a cut of the tape.
      const outside = field === 'tapeLength' ? 1.03 : 1.006
      expect(at(rising ? outside : 1 / outside), `${field} outside`).not.toEqual(now)
      moved++
    }
    expect(moved).toBeGreaterThan(3)
  })

  it('leaves out what plays no part', () => {
    const fields = answerOf(fiveMetres).room.map(({ field }) => field)
    expect(fields).not.toContain('conductorTemp')
    expect(fields).not.toContain('feeds.0.distance')
    expect(
      answerOf({ ...fiveMetres, railResistance: '0.1 ohm/m' }).room.map(({ field }) => field),
    ).not.toContain('copperWeight')
  })
})

describe('the assumptions', () => {
  it('say what was taken of the cable', () => {
    const texts = (raw: object) => answerOf(raw).assumptions.map(({ text }) => text)
    expect(texts({ ...fiveMetres, feeds: [{ at: '0 m', distance: '3 m' }] })).toContain(
      'Cable of no given size: 18 AWG',
    )
    const metric = { ...fiveMetres, rules: 'iec', units: 'metric', feeds: [{ at: '0 m', distance: '3 m' }] }
    expect(texts(metric)).toContain('Cable of no given size: 1.5 mm²')
    expect(texts(fiveMetres).join()).not.toContain('Cable of no given size')
  })
})

describe('the picture', () => {
  const pictureOf = (raw: object): TapePicture => answerOf(raw).picture?.data as TapePicture

  it('never has more than 200 points, the feeds, the lowest and the ends among them', () => {
    const feeds = Array.from({ length: 20 }, (_, i) => `${i * 2.49 + 0.3} m`)
    const { points, lowest, ends } = pictureOf({
      ...fiveMetres,
      tapeLength: '50 m',
      cutLength: '10 mm',
      feeds,
    })
    expect(points.length).toBeLessThanOrEqual(200)
    const places = points.map(({ atM }) => atM)
    expect(places).toContain(lowest.atM)
    expect(places[0]).toBe(ends[0]?.atM)
    expect(places.at(-1)).toBe(ends[1]?.atM)
  })

  it('holds plain numbers that JSON keeps', () => {
    const picture = pictureOf({ ...fiveMetres, feeds: [{ at: '5 m', distance: '3 m' }], trunk: '1 m' })
    expect(JSON.parse(JSON.stringify(picture))).toEqual(picture)
    expect(picture.limits.map(({ lightPercent }) => lightPercent)[0]).toBe(80)
  })
})

describe('what is read on the ladder', () => {
  // 5 m of 14.4 W/m asks for 2.7738 A; 66.6 W / 24 V is 2.775 A.
  it('never prints more than a limit that holds, nor less than one that is broken', () => {
    const just = answerOf({ ...fiveMetres, driverPower: '66.6 W' }).headline
    const [, value, limit] = /the driver ([\d.]+) A \(limit ([\d.]+) A\)/.exec(just) ?? []
    expect(Number(value)).toBeLessThanOrEqual(Number(limit))
    const over = answerOf({ ...fiveMetres, driverPower: '66.5 W' }).headline
    const [, asks, gives] = /asks for ([\d.]+) A and the driver gives ([\d.]+) A/.exec(over) ?? []
    expect(Number(asks)).toBeGreaterThan(Number(gives))
  })

  it('brings a sagging driver back up before anything else', () => {
    expect(answerOf({ ...fiveMetres, sourceVoltage: '21 V' }).headline).toMatch(
      /Ways out: the driver brought up to 24 V/,
    )
  })

  it('puts the driver right beside the tape where hardly any cable does', () => {
    const feeds = [{ at: '0 m', distance: '200 m', gauge: '22 AWG' }]
    const { headline } = answerOf({ ...fiveMetres, evenness: '50 %', leastLight: '88.6 %', feeds })
    expect(headline).toMatch(/the driver right beside the tape/)
    expect(headline).not.toMatch(/within 0"/)
  })

  it('calls light that no eye sees none', () => {
    const dark = answerOf({ ...fiveMetres, tapePower: '40 W/m', tapeLength: '100 m' })
    expect(figure(dark, 'dimmestLight')).toBe(0)
    expect(figure(dark, 'evenness')).toBe(0)
  })

  it('names no rule of the NEC under iec', () => {
    const feeds = [{ at: '0 m', distance: '3 m' }, { at: '5 m' }]
    const said = answerOf({ ...fiveMetres, rules: 'iec', units: 'metric', feeds })
    expect(said.sources.filter(({ id }) => id.startsWith('nec'))).toEqual([])
    expect(said.cautions.some(({ source }) => source === 'iec-60364-4-43')).toBe(true)
  })

  it('leaves no gap in a sentence that asks for nothing', () => {
    for (const { message } of errorsOf({ ...fiveMetres, feeds: [{ distance: '5 m' }], trunk: {} })) {
      expect(message).not.toMatch(/ {2}/)
    }
  })
})
