import { unit } from 'mathjs'
import { describe, expect, it } from 'vitest'
import { runningCost } from '../../src/calculators/running-cost'

const plain = {
  loadW: 60,
  hoursPerDay: 4,
  daysPerYear: 365,
  dimPercent: 100,
  efficiencyPercent: 88,
  standbyW: 0.5,
}

describe('energy of a year, against mathjs units', () => {
  it('60 W for 4 h a day through a driver of 88 %: 99.5 kWh on, 3.65 kWh standing by', () => {
    const cost = runningCost(plain)
    const on =
      unit(60, 'W')
        .multiply(unit(4 * 365, 'hour'))
        .toNumber('kWh') / 0.88
    const off = unit(0.5, 'W')
      .multiply(unit(20 * 365, 'hour'))
      .toNumber('kWh')
    expect(cost.onTimeKwh).toBeCloseTo(on, 9)
    expect(cost.onTimeKwh).toBeCloseTo(99.5, 1)
    expect(cost.standbyKwh).toBeCloseTo(off, 9)
    expect(cost.standbyKwh).toBeCloseTo(3.65, 9)
    expect(cost).not.toHaveProperty('cost')
  })

  it('counts standby on days without use too, over a whole year', () => {
    const cost = runningCost({ ...plain, daysPerYear: 100 })
    expect(cost.standbyKwh).toBeCloseTo(
      unit(0.5, 'W')
        .multiply(unit(8760 - 400, 'hour'))
        .toNumber('kWh'),
      9,
    )
  })

  it('takes a leap year of use as 366 days', () => {
    const cost = runningCost({ ...plain, daysPerYear: 366, hoursPerDay: 24 })
    expect(cost.standbyKwh).toBe(0)
    expect(cost.onTimeKwh).toBeCloseTo(unit(60, 'W').multiply(unit(366, 'day')).toNumber('kWh') / 0.88, 9)
  })

  it('saves in proportion to the dim, and costs energy times price', () => {
    const cost = runningCost({ ...plain, dimPercent: 50, standbyW: 0, pricePerKwh: 0.31 })
    expect(cost.cost).toBeCloseTo(
      (unit(30, 'W').multiply(unit(1460, 'hour')).toNumber('kWh') / 0.88) * 0.31,
      9,
    )
  })
})
