import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { alongTheTape } from '../../src/questions/along-the-tape'
import type { Answer } from '../../src/questions/common/answer'
import { driverSize } from '../../src/questions/driver-size'
import { feedGauge } from '../../src/questions/feed-gauge'
import { type MeterCheckPicture, meterCheck } from '../../src/questions/meter-check'
import '../../src/questions/registry'

type Body = Record<string, unknown>

const answer = (body: Body): Answer => {
  const answered = meterCheck.answer(body)
  if (!answered.ok) throw new Error(JSON.stringify(answered.errors))
  return answered.answer
}

const refused = (body: Body): string[] => {
  const answered = meterCheck.answer(body)
  return answered.ok ? [] : answered.errors.map(({ field }) => field)
}

const figure = (from: Answer, id: string) => from.figures.find((each) => each.id === id)?.value

type Said = {
  id: string
  text: string
  size?: { value: number; unit: string }
  misfit: number
  toldApart: boolean
}
const findings = (from: Answer): Said[] => (from.findings ?? []) as Said[]
const first = (from: Answer): Said => findings(from)[0] as Said

const tape = { voltage: '24 V', tapePower: '14.4 W/m', tapeLength: '5 m' }
const fed = { ...tape, feedDistance: '40 ft', gauge: '14 AWG' }
const soundReadings = {
  driverOpen: '24 V',
  driverLoaded: '24 V',
  tapeStart: '23.45 V',
  tapeEnd: '22.64 V',
  current: '2.55 A',
}

/**
 * A tape of resistors as a fin (any textbook of heat transfer), from its first unit on: that sits half a pitch behind
 * the start, so half of it stands ahead of the fin. 24 V, 14.4 W/m (0.6 A/m), knee 16.8 V, pitch 0.1 m, 5 m.
 */
const fin = (startV: number, railOhmPerM: number) => {
  const length = 5 - 0.05
  const halfUnitA = (0.05 * 0.6 * (startV - 16.8)) / (24 - 16.8)
  const wave = Math.sqrt((24 - 16.8) / (railOhmPerM * 0.6))
  return {
    currentA: halfUnitA + ((startV - 16.8) / (railOhmPerM * wave)) * Math.tanh(length / wave),
    endV: 16.8 + (startV - 16.8) / Math.cosh(length / wave),
  }
}

/** The fin behind some ohms on a source: its current by halving, since the more it draws the less is left for it. */
const finBehind = (sourceV: number, ohm: number, railOhmPerM: number) => {
  let [low, high] = [0, 10]
  while (high - low > 1e-9) {
    const middle = (low + high) / 2
    if (fin(sourceV - middle * ohm, railOhmPerM).currentA > middle) low = middle
    else high = middle
  }
  const startV = sourceV - low * ohm
  return { startV, ...fin(startV, railOhmPerM) }
}

describe('what a sound run reads', () => {
  // CALCULATIONS.md, "The tape as a network": 24 V, 5 m, 14.4 W/m, rails of 0.12315 ohm/m at 20 °C.
  it('is the network of the tape', () => {
    const said = answer({ ...tape, tapeTemp: '20 °C', tapeEnd: '23.2 V' })
    expect(figure(said, 'expectedEnd')).toBeCloseTo(23.181, 3)
    expect(figure(said, 'expectedCurrent')).toBeCloseTo(2.7738, 4)
    expect(figure(said, 'expectedStart')).toBe(24)
  })

  // NEC chapter 9 table 8: 14 AWG 3.14 ohm/1000 ft at 75 °C; 0.00323/K down to 30 °C; IEC 60028: 0.00393/K up to 40 °C.
  it('has the cable at 30 °C and the rails at 40 °C', () => {
    const said = answer({ ...fed, ...soundReadings })
    const cableOhm = 2 * 40 * 0.00314 * (1 + 0.00323 * (30 - 75))
    const closed = finBehind(24, cableOhm, 0.12315 * (1 + 0.00393 * 20))
    expect(figure(said, 'expectedStart')).toBeCloseTo(closed.startV, 3)
    expect(figure(said, 'expectedEnd')).toBeCloseTo(closed.endV, 3)
    expect(figure(said, 'expectedCurrent')).toBeCloseTo(closed.currentA, 3)
    expect(said.inputs.conductorTemp).toMatchObject({ value: 30, from: 'assumed' })
    expect(said.inputs.tapeTemp).toMatchObject({ value: 40, from: 'assumed' })
  })

  it('takes a given rail resistance as that at 20 °C', () => {
    const warm = answer({ ...tape, railResistance: '0.2 ohm/m', tapeTemp: '60 °C', tapeEnd: '22 V' })
    const same = answer({
      ...tape,
      railResistance: `${0.2 * (1 + 0.00393 * 40)} ohm/m`,
      tapeTemp: '20 °C',
      tapeEnd: '22 V',
    })
    expect(figure(warm, 'expectedEnd')).toBeCloseTo(figure(same, 'expectedEnd') as number, 9)
  })
})

describe('what is wrong', () => {
  it('is nothing where the readings are those of a sound run', () => {
    const said = answer({ ...fed, ...soundReadings })
    expect(said.verdict).toBe('holds')
    expect(said.headline).toBe('As designed: a sound run reads like this.')
    expect(first(said)).toMatchObject({ id: 'as-designed' })
    expect(figure(said, 'findings')).toBe('as-designed')
  })

  // 0.6 ohm more than a cable of no length: by the fin. 18 AWG has 7.95 ohm/1000 ft at 75 °C, 6.795 at 30 °C
  // (NEC chapter 9 table 8), so 0.6 ohm is 1000 · 0.6 / (2 · 6.795) = 44 ft of it.
  it('is 0.6 ohm too much in the feed, said as cable', () => {
    const { startV, endV, currentA } = finBehind(24, 0.6, 0.12315 * (1 + 0.00393 * 20))
    const said = answer({
      ...tape,
      driverLoaded: '24 V',
      tapeStart: `${startV} V`,
      tapeEnd: `${endV} V`,
      current: `${currentA} A`,
    })
    expect(said.verdict).toBe('fails')
    expect(first(said)).toMatchObject({ id: 'feed-resistance', toldApart: true })
    expect(first(said).size?.value).toBeCloseTo(0.6, 2)
    expect(first(said).size?.unit).toBe('ohm')
    expect(said.headline).toMatch(/^About 0\.6 ohm.*too much in the feed, as much as in 4[345] ft of 18 AWG/)
    expect(said.headline).toMatch(/one bad splice\. Power off/)
  })

  it('says the range of a size that the readings do not pin down, and no range where they do', () => {
    const { startV, currentA } = finBehind(24, 0.6, 0.12315 * (1 + 0.00393 * 20))
    const readings = { driverLoaded: '24 V', tapeStart: `${startV} V`, current: `${currentA} A` }
    expect(answer({ ...tape, ...readings }).headline).toMatch(/^About 0\.6 ohm \(0\.\d+ to 0\.\d+\) too much/)
    const fine = { meterPercent: '0.05 %', meterVolts: '2 mV', clampPercent: '0.2 %', clampAmps: '10 mA' }
    expect(answer({ ...tape, ...readings, ...fine }).headline).toMatch(/^About 0\.6 ohm too much/)
  })

  it.each([
    [
      { driverOpen: '24.1 V', driverLoaded: '19 V', tapeStart: '18.6 V' },
      'source-low',
      /sags to about 1[89]/,
    ],
    [{ driverOpen: '19 V', driverLoaded: '19 V', tapeStart: '18.6 V' }, 'source-low', /loaded or not/],
    [{ driverLoaded: '19 V', tapeStart: '18.8 V', current: '0.9 A' }, 'source-low', /instead of 24 V/],
    [{ driverOpen: '0 V' }, 'no-output', /puts out nothing.*lock off/],
    [{ driverOpen: '24 V', tapeStart: '-24 V' }, 'reversed', /swapped/],
    [{ driverLoaded: '24 V', tapeStart: '0 V' }, 'open-circuit', /feed is broken/],
    // 14.4 W/m at 24 V is 0.6 A/m, so 1.2 A is 2 m or 6.6 ft.
    [
      { tapeStart: '23.9 V', tapeEnd: '0 V', current: '1.2 A' },
      'open-circuit',
      /tape is broken, somewhere from [56]/,
    ],
    [
      { driverLoaded: '24 V', tapeStart: '23.2 V', tapeEnd: '18.5 V', current: '2.3 A' },
      'poor-joint',
      /4\.\d V lost/,
    ],
  ])('tells from %o: %s', (readings, id, headline) => {
    const said = answer({ ...fed, ...readings })
    expect(figure(said, 'findings')).toBe(id)
    expect(first(said).id).toBe(id)
    expect(said.headline).toMatch(headline)
    expect(said.headline).toMatch(/Power off/)
    expect(said.verdict).toBe('fails')
  })

  it('ranks what is left open, and says which reading would tell', () => {
    const said = answer({ ...fed, tapeEnd: '20.8 V' })
    const open = findings(said).filter(({ toldApart }) => !toldApart)
    expect(open.length).toBeGreaterThan(1)
    expect(said.headline).toMatch(/fit as well: .*To tell which, measure the current in the feed/)
    for (const { text } of findings(said)) expect(text).toMatch(/^[A-Z].*\.$/)
  })

  it('says so when nothing explains the readings', () => {
    const said = answer({ ...fed, tapeStart: '12 V', tapeEnd: '24 V' })
    expect(said.headline).toMatch(/^No single fault explains/)
    expect(said.verdict).toBe('fails')
  })

  it('shows measured, designed and explained side by side', () => {
    const said = answer({ ...fed, driverLoaded: '24 V', tapeStart: '21.9 V', tapeEnd: '21.3 V' })
    expect(said.table?.columns).toHaveLength(4)
    expect(said.table?.rows.map(([, measured]) => measured)).toEqual(['–', '24 V', '21.9 V', '21.3 V', '–'])
    expect(answer({ ...fed, ...soundReadings }).table?.columns).toHaveLength(3)
  })

  it('speaks in metres and mm² where they are spoken', () => {
    const said = answer({
      ...tape,
      rules: 'iec',
      units: 'metric',
      feedDistance: '12 m',
      gauge: '2.5 mm2',
      driverLoaded: '24 V',
      tapeStart: '21.5 V',
      tapeEnd: '21 V',
      current: '1.9 A',
    })
    expect(said.headline).toMatch(/cable were \d+ m longer/)
    expect(said.inputs.gauge).toMatchObject({ value: 2.5, unit: 'mm2' })
    expect(
      answer({ ...tape, rules: 'iec', tapeEnd: '22 V', feedDistance: '1 m' }).inputs.gauge,
    ).toMatchObject({
      value: 1.5,
      unit: 'mm2',
    })
  })
})

describe('a claim', () => {
  const fine = { figure: 'verdict', value: 'holds' }
  it('that it is fine holds on a sound run and fails on a faulty one', () => {
    expect(answer({ ...fed, ...soundReadings, claim: fine }).claim?.verdict).toBe('holds')
    const said = answer({ ...fed, tapeEnd: '20.8 V', claim: fine })
    expect(said.claim?.verdict).toBe('fails')
    expect(said.headline).toMatch(/^No, it is not fine\. About/)
  })

  it('on what should be read is judged', () => {
    const claimed = (value: string) =>
      answer({ ...fed, ...soundReadings, claim: { figure: 'expectedEnd', value } }).claim?.verdict
    expect(claimed('20 V')).toBe('holds')
    expect(claimed('22 V')).toBe('tight')
    expect(claimed('23.5 V')).toBe('fails')
  })
})

describe('what is around it', () => {
  it('warns before the leads touch anything, and of the line side where the way leads there', () => {
    const ids = (body: Body) => answer(body).cautions.map(({ source }) => source)
    expect(
      answer({ ...fed, ...soundReadings }).cautions.filter(({ level }) => level === 'stop'),
    ).toHaveLength(2)
    expect(ids({ ...fed, ...soundReadings })).not.toContain('nec-300-15')
    expect(ids({ ...fed, driverOpen: '0 V' })).toContain('nec-300-15')
    expect(ids({ ...fed, gauge: '1.5 mm2', rules: 'iec', driverOpen: '0 V' })).toContain('iec-60364-5-52-526')
  })

  it('leads on to questions that can be answered as they stand', () => {
    const following = { 'along-the-tape': alongTheTape, 'feed-gauge': feedGauge, 'driver-size': driverSize }
    const bodies = [{ driverLoaded: '24 V', tapeStart: '21.9 V', tapeEnd: '21.3 V' }, { driverOpen: '0 V' }]
    for (const readings of bodies) {
      const { next } = answer({ ...fed, ...readings })
      expect(next).toHaveLength(2)
      for (const { question, inputs } of next) {
        expect(following[question as keyof typeof following].answer(inputs).ok, question).toBe(true)
      }
    }
  })

  it('draws a sound run, the best explanation and what was measured', () => {
    const picture = answer({ ...fed, driverLoaded: '24 V', tapeStart: '21.9 V', tapeEnd: '21.3 V' }).picture
    const data = picture?.data as MeterCheckPicture
    expect(picture?.kind).toBe('meter-check')
    expect(data.measured.map(({ atM }) => atM)).toEqual([undefined, 0, 5])
    expect(data.best?.along.at(-1)?.voltageV).toBeCloseTo(21.3, 0)
    expect(data.description).toMatch(/24 V at the driver.*21\.9 V.*21\.3 V/)
    const sound = answer({ ...fed, ...soundReadings }).picture?.data as MeterCheckPicture
    expect(sound.best).toBeUndefined()
  })

  it('shows only the assumptions that play a part', () => {
    const assumed = (body: Body) => answer(body).assumptions.map(({ field }) => field)
    expect(assumed({ ...tape, tapeEnd: '22 V' })).not.toContain('conductorTemp')
    expect(assumed({ ...tape, tapeEnd: '22 V' })).not.toContain('clampAmps')
    expect(assumed({ ...fed, current: '2 A' })).toEqual(
      expect.arrayContaining(['conductorTemp', 'clampAmps']),
    )
    expect(assumed({ ...fed, current: '2 A' })).not.toContain('meterVolts')
  })
})

describe('what cannot be used', () => {
  it.each([
    [fed, ['tapeEnd']],
    [{ ...fed, tapeEnd: '36.1 V' }, ['tapeEnd']],
    [{ ...fed, driverOpen: '-36.1 V', tapeStart: '91 V' }, ['tapeStart']],
    [{ ...fed, driverOpen: '-36.1 V', tapeStart: '40 V' }, ['driverOpen', 'tapeStart']],
    [{ ...fed, tapeEnd: '20.8' }, ['tapeEnd']],
    [{ ...fed, current: '-1 A' }, ['current']],
    [{ ...fed, tapeEnd: '20 V', gauge: '1.5 mm2' }, ['gauge']],
    [{ ...fed, tapeEnd: '20 V', railResistance: '0.1 ohm/m', railWidth: '4 mm' }, ['railWidth']],
    [{ ...fed, tapeEnd: '20 V', cutLength: '5 mm', tapeLength: '26 m' }, ['tapeLength']],
    [{ ...fed, tapeEnd: '20 V', meterVolts: '0 V' }, ['meterVolts']],
    [{ tapePower: '4.4 W/ft', tapeLength: '17 ft', tapeEnd: '20.8 V' }, ['voltage']],
    [{ ...fed, tapeEnd: '20 V', tapeTemp: '95 °C' }, ['tapeTemp']],
  ])('%o is refused by its field', (body, fields) => {
    expect(refused(body)).toEqual(fields)
  })

  it('takes readings up to one and a half times the voltage, either way round', () => {
    expect(refused({ ...fed, tapeEnd: '36 V', tapeStart: '-36 V' })).toEqual([])
  })

  it('asks what the meter reads at the end when there is no reading at all', () => {
    const answered = meterCheck.answer(fed)
    expect(answered.ok ? '' : answered.errors[0]?.message).toMatch(
      /What does the meter read on the last pads/,
    )
  })
})

describe('whatever is asked', () => {
  const reading = fc.option(fc.double({ min: -36, max: 36, noNaN: true }), { nil: undefined })

  it('does not mind the unit', () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 20, noNaN: true }), reading, (metres, volts) => {
        const said = (length: string, end: string) =>
          meterCheck.answer({ ...tape, tapeLength: length, tapeEnd: end, driverLoaded: '24 V' })
        const inMetres = said(`${metres} m`, `${volts ?? 20} V`)
        const inFeet = said(`${metres / 0.3048} ft`, `${(volts ?? 20) * 1000} mV`)
        expect(inFeet.ok && first(inFeet.answer).id).toBe(inMetres.ok && first(inMetres.answer).id)
      }),
      { numRuns: 40 },
    )
  })

  it('answers or names the field, on any tape and any reading', () => {
    const volts = (value: number | undefined) => (value === undefined ? undefined : `${value} V`)
    fc.assert(
      fc.property(
        fc.record({ driverOpen: reading, driverLoaded: reading, tapeStart: reading, tapeEnd: reading }),
        fc.constantFrom('0.1 m', '3 m', '100 m'),
        fc.constantFrom('20 mm', '100 mm', '500 mm'),
        fc.constantFrom('resistor', 'regulated'),
        fc.constantFrom('0 m', '30 m'),
        (read, tapeLength, cutLength, tapeStyle, feedDistance) => {
          const readings = Object.entries(read).flatMap(([id, value]) =>
            value === undefined ? [] : [[id, volts(value)]],
          )
          const body = {
            ...tape,
            tapeLength,
            cutLength,
            tapeStyle,
            feedDistance,
            ...Object.fromEntries(readings),
          }
          const answered = meterCheck.answer(body)
          if (!answered.ok) expect(answered.errors.every(({ field, message }) => field && message)).toBe(true)
          else expect(answered.answer.headline).not.toMatch(/NaN|Infinity|\{/)
        },
      ),
      { numRuns: 100 },
    )
  })

  it('never throws on odd input', () => {
    const field = fc.constantFrom(...Object.keys(meterCheck.inputs), 'claim')
    fc.assert(
      fc.property(fc.dictionary(field, fc.jsonValue()), fc.boolean(), (odd, onTop) => {
        const answered = meterCheck.answer(onTop ? { ...tape, tapeEnd: '22 V', ...odd } : odd)
        if (!answered.ok) expect(answered.errors.length).toBeGreaterThan(0)
      }),
      { numRuns: 1000 },
    )
  })
})
