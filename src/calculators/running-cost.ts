export type RunningCostInputs = {
  /** Tape watts at full, or the driver's input watts when `efficiencyPercent` is 100; > 0. */
  loadW: number
  /** 0–24. */
  hoursPerDay: number
  /** 0–366. */
  daysPerYear: number
  /** 0–100; power falls in proportion. */
  dimPercent: number
  /** Of the driver, > 0 to 100. */
  efficiencyPercent: number
  /** What the driver draws when the light is off, also on days without use, >= 0 W. */
  standbyW: number
  /** In any currency; without it there is no cost. */
  pricePerKwh?: number
}

export type RunningCost = {
  /** A year, kWh. */
  onTimeKwh: number
  /** A year, kWh. */
  standbyKwh: number
  /** A year, both together, kWh. */
  energyKwh: number
  /** A year, in the currency of the price. */
  cost?: number
}

/** A year of 365 days, or as many as the light is used in. */
const DAYS_IN_A_YEAR = 365

/** What a lighting load takes from the mains in a year, and what that costs: energy is power times time. */
export function runningCost(inputs: RunningCostInputs): RunningCost {
  const hoursOn = inputs.hoursPerDay * inputs.daysPerYear
  const hoursOff = Math.max(DAYS_IN_A_YEAR, inputs.daysPerYear) * 24 - hoursOn
  const inputW = (inputs.loadW * inputs.dimPercent) / inputs.efficiencyPercent
  const onTimeKwh = (inputW * hoursOn) / 1000
  const standbyKwh = (inputs.standbyW * hoursOff) / 1000
  const energyKwh = onTimeKwh + standbyKwh
  const energy = { onTimeKwh, standbyKwh, energyKwh }
  return inputs.pricePerKwh === undefined ? energy : { ...energy, cost: energyKwh * inputs.pricePerKwh }
}
