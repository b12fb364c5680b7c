import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Answer } from '../../src/questions/common/answer'
import { feedGauge } from '../../src/questions/feed-gauge'

type Body = Record<string, unknown>

const answer = (body: Body): Answer => {
  const answered = feedGauge.answer(body)
  if (!answered.ok) throw new Error(JSON.stringify(answered.errors))
  return answered.answer
}

const refused = (body: Body): string[] => {
  const answered = feedGauge.answer(body)
  return answered.ok ? [] : answered.errors.map(({ field }) => field)
}

const figure = (from: Answer, id: string) => from.figures.find((each) => each.id === id)?.value

const usual = { distance: '40 ft', voltage: '24 V', load: '60 W' }

describe('feed-gauge', () => {
  // NEC chapter 9 table 8 stranded uncoated copper at 75 °C, drop = 2·I·R·d by hand:
  // 14 AWG 3.14 ohm/1000 ft: 2 × 2.5 A × 3.14 × 0.04 = 0.628 V = 2.617 %.
  it('40 ft, 24 V, 60 W takes 14 AWG', () => {
    const said = answer(usual)
    expect(figure(said, 'gauge')).toBe(14)
    expect(figure(said, 'current')).toBeCloseTo(2.5, 9)
    expect(figure(said, 'drop')).toBeCloseTo(0.628, 6)
    expect(figure(said, 'dropPercent')).toBeCloseTo(2.6167, 3)
    expect(figure(said, 'farEndVoltage')).toBeCloseTo(23.372, 6)
    expect(figure(said, 'loss')).toBeCloseTo(1.57, 6)
    // 3 % of 24 V is 0.72 V; 0.72 / (2 × 2.5 × 3.14/304.8) = 13.978 m.
    expect(figure(said, 'reachAtGauge')).toBeCloseTo(13.978, 3)
    expect(said.headline).toMatch(/^Use 14 AWG/)
    expect(said.limits.find(({ binds }) => binds)?.id).toBe('drop')
  })

  // 12 AWG 1.98 and 10 AWG 1.24 ohm/1000 ft: 4 A × 2 × 1.24 × 0.025 = 0.248 V = 2.067 %; 12 AWG gives 3.30 %.
  it('25 ft, 12 V, 48 W takes 10 AWG', () => {
    const said = answer({ distance: '25 ft', voltage: '12 V', load: '48 W' })
    expect(figure(said, 'gauge')).toBe(10)
    expect(figure(said, 'dropPercent')).toBeCloseTo(2.0667, 3)
    expect(said.table?.rows[said.table.rows.length - 4]?.[0]).toBe('12 AWG')
  })

  it('takes the load as watts, as amperes, or as tape', () => {
    for (const load of [{ current: '2.5 A' }, { tapePower: '12 W/m', tapeLength: '5 m' }]) {
      expect(figure(answer({ distance: '40 ft', voltage: '24 V', ...load }), 'drop')).toBeCloseTo(0.628, 6)
    }
  })

  it('refuses a claim of 16 AWG and says what would make it true', () => {
    const { claim, verdict, headline } = answer({ ...usual, claim: '16 AWG' })
    expect(verdict).toBe('fails')
    expect(claim?.verdict).toBe('fails')
    expect(headline).toMatch(/^No, 16 AWG does not hold\. Use 14 AWG/)
    // 16 AWG 4.99 ohm/1000 ft: 0.998 V, 4.158 %; 3 % would be met at 40 ft × 3/4.158 = 28.86 ft, or at 43.3 W.
    expect(claim?.margin).toMatch(/4\.16 %.*3 %/)
    expect(claim?.wouldHoldIf.join()).toMatch(/Distance at most 28' 10/)
    expect(claim?.wouldHoldIf.join()).toMatch(/Load at most 43\.\d/)
    expect(claim?.wouldHoldIf.join()).toMatch(/Allowed drop at least 4\.1[67]/)
  })

  it('agrees to a claim of a thicker size, and says how tight one just meets it', () => {
    expect(answer({ ...usual, claim: '12 AWG' }).claim?.verdict).toBe('holds')
    expect(answer({ ...usual, allowedDrop: '2.7 %', claim: '14 AWG' }).claim?.verdict).toBe('tight')
    expect(answer({ ...usual, claim: { figure: 'verdict', value: 'holds' } }).claim?.verdict).toBe('holds')
  })

  it('judges a drop only when it was given', () => {
    expect(answer(usual).verdict).toBe('holds')
    expect(answer({ ...usual, allowedDrop: '2.7 %' }).verdict).toBe('tight')
  })

  it('offers every way out, with its number, when no size does it', () => {
    const said = answer({ distance: '200 m', voltage: '12 V', load: '500 W' })
    expect(said.verdict).toBe('fails')
    expect(figure(said, 'gauge')).toBeUndefined()
    expect(said.headline).toMatch(/6 AWG/)
    expect(said.headline).toMatch(/ m\).*of the tape|within/)
    expect(said.headline).toMatch(/at most \d/)
  })

  // NEC 240.4(D): 18 AWG may be protected at 7 A, 14 AWG at 15 A; a 10 A supply that is no Class 2 could push 10 A.
  it('takes a size that carries what the supply can push, and offers a fuse for the thinner one', () => {
    const short = { distance: '3 ft', voltage: '24 V', load: '60 W' }
    expect(figure(answer(short), 'gauge')).toBe(20)
    const said = answer({ ...short, supplyLimit: '10 A' })
    expect(figure(said, 'gauge')).toBe(16)
    expect(said.headline).toMatch(/20 AWG would do behind a 5 A fuse/)
    // 100 VA / 24 V = 4.17 A is the Class 2 limit: a 4 A supply is one.
    expect(figure(answer({ ...short, supplyLimit: '4 A' }), 'gauge')).toBe(20)
    expect(figure(answer({ ...short, supplyLimit: '240 W' }), 'gauge')).toBe(16)
  })

  // IEC 60228 class 5 at 70 °C: 4 mm² 4.95 Ω/km × (1 + 0.00393 × 50) = 5.923 mΩ/m; 2 × 2.5 × 0.005923 × 12 = 0.355 V.
  it('sizes in mm² under iec', () => {
    const said = answer({ distance: '12 m', voltage: '24 V', load: '60 W', rules: 'iec', units: 'metric' })
    expect(said.figures[0]).toMatchObject({ id: 'gauge', value: 2.5, unit: 'mm2' })
    // 2.5 mm²: 7.98 Ω/km at 20 °C → 9.548 mΩ/m → 0.573 V = 2.387 %.
    expect(figure(said, 'dropPercent')).toBeCloseTo(2.387, 3)
    expect(said.localCode).toMatch(/IEC/)
  })

  it('warns past one Class 2 output, and only there', () => {
    const warns = (body: Body) => answer(body).cautions.some(({ source }) => source === 'nec-ch9-t11b')
    expect(warns({ ...usual, load: '100 W' })).toBe(false)
    expect(warns({ ...usual, load: '101 W' })).toBe(true)
    expect(warns({ distance: '10 ft', voltage: '12 V', load: '61 W' })).toBe(true)
  })

  it.each([
    [{ ...usual, distance: '40' }, ['distance']],
    [{ ...usual, voltage: '230 V' }, ['voltage']],
    [{ ...usual, voltage: '48 V', feedKind: 'ac' }, ['voltage']],
    [{ ...usual, current: '2 A' }, ['current']],
    [{ distance: '40 ft', voltage: '24 V', tapePower: '4.4 W/ft' }, ['tapeLength']],
    [{ ...usual, strands: 'flexible' }, ['strands']],
    [{ ...usual, claim: '2.5 mm2' }, ['claim']],
    [{ ...usual, distance: '3,8 m' }, ['distance']],
  ])('refuses %o by its field', (body, fields) => {
    expect(refused(body)).toEqual(fields)
  })

  const feet = fc.double({ min: 1, max: 300, noNaN: true })
  const watts = fc.double({ min: 1, max: 400, noNaN: true })
  const volts = fc.constantFrom(12, 24, 48)

  it('does not mind the unit', () => {
    fc.assert(
      fc.property(feet, watts, volts, (distance, load, voltage) => {
        const [inFeet, inMetres, inInches] = [
          `${distance} ft`,
          `${distance * 0.3048} m`,
          `${distance * 12} in`,
        ].map((text) => answer({ distance: text, voltage: `${voltage} V`, load: `${load} W` }))
        expect(figure(inMetres as Answer, 'gauge')).toBe(figure(inFeet as Answer, 'gauge'))
        expect(figure(inInches as Answer, 'gauge')).toBe(figure(inFeet as Answer, 'gauge'))
      }),
      { numRuns: 1000 },
    )
  })

  it('tells the truth of its room: just inside the same, just outside changed', () => {
    const field = fc.constantFrom('distance', 'load', 'voltage', 'allowedDrop', 'conductorTemp')
    fc.assert(
      fc.property(feet, watts, volts, field, (distance, load, voltage, moved) => {
        const body: Body = { distance: `${distance} ft`, voltage: `${voltage} V`, load: `${load} W` }
        const now = answer(body)
        const room = now.room.find((each) => each.field === moved)
        if (!room?.until) return
        const { value, unit } = room.until
        const down = moved === 'voltage' || moved === 'allowedDrop'
        const outside = value + (down ? -1 : 1) * 0.005 * Math.abs(value)
        const at = (number: number) => {
          const answered = feedGauge.answer({ ...body, [moved]: `${number} ${unit}` })
          return answered.ok ? [figure(answered.answer, 'gauge'), answered.answer.verdict] : 'out of range'
        }
        expect(at(value)[0]).toBe(figure(now, 'gauge'))
        expect(at(outside)).not.toEqual([figure(now, 'gauge'), now.verdict])
      }),
      { numRuns: 1000 },
    )
  })

  it('answers a claim of a size that cannot carry the load at all', () => {
    // 22 AWG, 16.1 mohm/ft loop of 80 ft and more: 83 A would drop over 100 V of the 24 V there are.
    const said = answer({ ...usual, load: '2000 W', claim: '22 AWG' })
    expect(said.verdict).toBe('fails')
    expect(said.claim?.margin).toMatch(/3 %/)
    expect(said.claim?.wouldHoldIf.join()).toMatch(/Load at most \d/)
  })

  it('does not say "use 14" to somebody who claims a thicker one', () => {
    expect(answer({ ...usual, claim: '12 AWG' }).headline).toMatch(/^Yes, 12 AWG holds\. 14 AWG would do/)
    expect(answer({ ...usual, claim: '14 AWG' }).headline).toMatch(/^Yes, 14 AWG holds\. Use 14 AWG/)
  })

  const metric = { distance: '5 m', voltage: '24 V', load: '20 W', rules: 'iec', units: 'metric' }

  // Flexible-cord table of BS 7671: 0.5, 0.75 and 1 mm² are cords; fixed wiring starts at 1.5 mm².
  it('refuses a claim of a size that is not made with such strands', () => {
    const said = answer({ ...metric, strands: 'solid', claim: '0.75 mm2' })
    expect(said.claim?.verdict).toBe('fails')
    expect(said.claim?.margin).toMatch(/0\.75 mm².*1\.5 mm²/)
    expect(said.claim?.wouldHoldIf).toContain('Strands: flexible (fine strands)')
    expect(answer({ ...metric, claim: '0.75 mm2' }).claim?.verdict).toBe('holds')
  })

  // Class 2 is a class of the NEC: under IEC a cord of 3 A (BS 7671) does not stand behind a supply of 4 A.
  it('has a cable carry whatever its supply can push, under iec', () => {
    expect(figure(answer({ ...metric, distance: '1 m', supplyLimit: '3 A' }), 'gauge')).toBe(0.5)
    expect(figure(answer({ ...metric, distance: '1 m', supplyLimit: '4 A' }), 'gauge')).toBe(0.75)
    expect(
      answer(metric)
        .cautions.map(({ text }) => text)
        .join(),
    ).toMatch(/more than 3 A into a fault.*fuse/)
  })

  it('names no rule of the NEC under iec, and says nothing of a share that IEC does not take off', () => {
    for (const body of [metric, { ...metric, load: '400 W', distance: '2 m' }]) {
      const said = answer(body)
      expect(said.sources.filter(({ id }) => id.startsWith('nec'))).toEqual([])
      expect(said.cautions.map(({ text }) => text).join()).not.toMatch(/Class 2|CL2/)
      expect(said.assumptions.some(({ field }) => field === 'continuous')).toBe(false)
    }
  })

  it('warns of a supply past Class 2, however little the load takes', () => {
    const warns = (supplyLimit: string) =>
      answer({ ...usual, supplyLimit }).cautions.some(({ source }) => source === 'nec-ch9-t11b')
    expect([warns('4.1 A'), warns('100 W'), warns('4.3 A'), warns('150 W')]).toEqual([
      false,
      false,
      true,
      true,
    ])
  })

  it('never reads "still this up to there, beyond that the same"', () => {
    for (const body of [
      { ...usual, allowedDrop: '3 %' },
      { ...usual, distance: '0 ft' },
      { ...metric, allowedDrop: '5 %' },
    ]) {
      for (const { text, until } of answer(body).room) {
        const [, still, then] = /still (.*) (?:up|down) to .*; (?:beyond|below) that, (.*)/.exec(text) ?? []
        if (until) expect(then).not.toBe(still)
      }
    }
  })

  it('has a label of its own for each figure and each column', () => {
    const { figures, table } = answer(usual)
    expect(new Set(figures.map(({ label }) => label)).size).toBe(figures.length)
    expect(new Set(table?.columns).size).toBe(table?.columns.length)
  })

  it('says the range of the voltage, and what a claim looks like', () => {
    const message = (body: Body) => {
      const answered = feedGauge.answer(body)
      return answered.ok ? '' : answered.errors.map((error) => error.message).join()
    }
    expect(message({ ...usual, voltage: '61 V' })).toMatch(/3 V to 60 V/)
    for (const claim of [16, true, null, [], { figure: 'gauge' }]) {
      expect(message({ ...usual, claim })).toMatch(/14 AWG/)
    }
  })

  // ASTM B258: 20 AWG is 0.8118 mm thick, 0.5176 mm²; IEC 60028: 1/58 ohm·mm²/m, 0.00393/K; stranded 2 % more.
  // 0.017241 / 0.5176 × 1.02 × (1 + 0.00393 × 55) = 0.04132 ohm/m.
  it('shows the sum by which a size outside table 8 is worked out', () => {
    const { working } = answer({ ...usual, distance: '3 ft' })
    const step = working.find(({ formula }) => formula.startsWith('R′'))
    expect(step?.substituted).toMatch(/0\.017241.*0\.517\d+ mm².*1\.02.*0\.00393 × \(75 − 20\)/)
    expect(step?.result).toMatch(/^0\.0413\d/)
    expect(step?.source).toBe('iec-60028')
  })

  it('never takes a thinner size for a longer way', () => {
    fc.assert(
      fc.property(feet, feet, watts, volts, (one, other, load, voltage) => {
        const gauge = (distance: number) =>
          figure(
            answer({ distance: `${distance} ft`, voltage: `${voltage} V`, load: `${load} W` }),
            'gauge',
          ) ?? 0
        expect(Number(gauge(Math.max(one, other)))).toBeLessThanOrEqual(Number(gauge(Math.min(one, other))))
      }),
      { numRuns: 1000 },
    )
  })
})
