import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Answer } from '../../src/questions/common/answer'
import { runningCost } from '../../src/questions/running-cost'

function answered(raw: object): Answer {
  const result = runningCost.answer(raw)
  if (!result.ok) throw new Error(JSON.stringify(result.errors))
  return result.answer
}

const refused = (raw: unknown): string[] => {
  const result = runningCost.answer(raw)
  return result.ok ? [] : result.errors.map(({ field }) => field)
}

const figure = (answer: Answer, id: string) => answer.figures.find((each) => each.id === id)

describe('running-cost', () => {
  it('takes 60 W for 4 h a day to 99.5 kWh on-time and 3.65 kWh standby (energy is power times time)', () => {
    const answer = answered({ load: '60 W' })
    // 60 W / 0.88 · 4 h · 365 + 0.5 W · 20 h · 365
    expect(figure(answer, 'energy')?.value).toBeCloseTo(((60 / 0.88) * 4 * 365 + 0.5 * 20 * 365) / 1000, 9)
    expect(answer.working.map(({ result }) => result)).toEqual(
      expect.arrayContaining(['99.545 kWh', '3.65 kWh']),
    )
    expect(answer.verdict).toBe('info')
    expect(figure(answer, 'cost')).toBeUndefined()
  })

  it('counts standby on unused days too, dimming in proportion, and no driver at 100 %', () => {
    const answer = answered({
      load: '150 W',
      hoursPerDay: '6 h',
      daysPerYear: 300,
      dim: '50 %',
      efficiency: '100 %',
      standby: '1 W',
    })
    expect(figure(answer, 'energy')?.value).toBeCloseTo((75 * 1800 + 1 * (8760 - 1800)) / 1000, 9)
  })

  it.each([
    ['0.31 per kWh', 0.31, '32.00'],
    ['$0.31 per kWh', 0.31, '$32.00'],
    ['€0.31/kWh', 0.31, '€32.00'],
    ['0,31 €/kWh', 0.31, '€32.00'],
    ['0.31 EUR a kWh', 0.31, '32.00 EUR'],
    ['31 cents per kilowatt hour', 0.31, '32.00'],
  ])('reads the price %s and keeps its currency', (price, value, cost) => {
    const answer = answered({ load: '60 W', price })
    expect(answer.inputs.price).toMatchObject({ value, unit: 'per kWh' })
    // 103.195 kWh · 0.31 = 31.99, upwards to the cent
    expect(figure(answer, 'cost')?.text).toBe(cost)
    expect(figure(answer, 'cost')?.value).toBeCloseTo(103.19545 * 0.31, 4)
  })

  it('reads its own price back', () => {
    for (const price of ['$0.31 per kWh', '12 EUR per kWh', '0.3 per kWh']) {
      const text = answered({ load: '60 W', price }).inputs.price?.text ?? ''
      expect(answered({ load: '60 W', price: text }).inputs.price?.text).toBe(text)
    }
  })

  it('judges claims on cost and energy, with what would make them hold', () => {
    const holding = answered({ load: '60 W', price: '0.31 per kWh', claim: '40' })
    expect(holding).toMatchObject({ verdict: 'holds', claim: { verdict: 'holds' } })
    expect(answered({ load: '60 W', price: '0.31 per kWh', claim: '33' }).verdict).toBe('tight')
    const failing = answered({ load: '60 W', claim: { figure: 'energy', value: '90 kWh' } })
    expect(failing).toMatchObject({ verdict: 'fails', claim: { verdict: 'fails' } })
    // (90 − 3.65) kWh · 0.88 / 1460 h = 52.0 W
    expect(failing.claim?.wouldHoldIf[0]).toMatch(/5[12](\.\d)? W/)
  })

  it('repeats a claimed amount as it was said', () => {
    // By hand: 60 W / 88 % × 4 h and 0.5 W × 20 h, 365 days: 103.195 kWh at 0.31 is 31.991, so 32.00 by the cent.
    const failing = answered({ load: '60 W', price: '0.31 per kWh', claim: '31.99' })
    expect(failing.headline).toMatch(/^No, 31\.99 does not hold\. .*32\.00/)
    expect(failing.claim?.text).toContain('31.99')
    expect(failing.claim?.margin).toContain('31.99 was claimed')
  })

  it('asks for the price before it judges a claim on the cost', () => {
    expect(refused({ load: '60 W', claim: '30' })).toEqual(['price'])
    expect(refused({ claim: '30' })).toEqual(['load', 'price'])
  })

  it.each([
    [{}, ['load']],
    [{ load: 60 }, ['load']],
    [
      { load: '0 W', hoursPerDay: '25 h', daysPerYear: 367, dim: '101 %' },
      ['load', 'hoursPerDay', 'daysPerYear', 'dim'],
    ],
    [
      { load: '60 W', efficiency: '40 %', standby: '200 W', daysPerYear: 1.5 },
      ['efficiency', 'standby', 'daysPerYear'],
    ],
    [{ load: '60 W', price: '0.31' }, ['price']],
    [{ load: '60 W', price: '-0.31 per kWh' }, ['price']],
    [{ load: '60 W', price: '5000 per kWh', volts: '24 V' }, ['price', 'volts']],
    [[], ['']],
  ])('names every fault of %j', (raw, fields) => {
    expect(refused(raw).sort()).toEqual([...fields].sort())
  })

  it('says how far the load may grow within the next round sum', () => {
    const answer = answered({ load: '60 W', price: '$0.31 per kWh' })
    const load = answer.room.find(({ field }) => field === 'load')
    // $50 / 0.31 = 161.29 kWh; less 3.65 standby, · 0.88 / 1.46 = 95.0 W
    expect(load?.until?.value).toBeGreaterThan(94.5)
    expect(load?.until?.value).toBeLessThanOrEqual(95.02)
    expect(load?.text).toContain('$50')
  })

  it('gives the same under either rules and units', () => {
    const energies = [{}, { rules: 'iec' }, { units: 'metric' }].map(
      (setting) => figure(answered({ load: '0.06 kW', ...setting }), 'energy')?.value,
    )
    expect(new Set(energies).size).toBe(1)
  })

  it('never throws, whatever it is sent', () => {
    const body = fc.dictionary(
      fc.constantFrom('load', 'hoursPerDay', 'daysPerYear', 'price', 'dim', 'standby', 'claim', 'units'),
      fc.oneof(
        fc.constantFrom('60 W', '4 h', 0, 200, '0.3 per kWh', '0 %', '80 %', 'metric'),
        fc.jsonValue(),
      ),
    )
    fc.assert(
      fc.property(fc.oneof(body, fc.jsonValue()), (raw) => {
        const result = runningCost.answer(raw)
        if (!result.ok) for (const error of result.errors) expect(error.message).not.toBe('')
      }),
      { numRuns: 1000 },
    )
  })
})
