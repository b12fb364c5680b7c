import type { Rules } from '../../quantities/systems'
import { breakers } from '../../tables/breakers'
import type { Setting } from './answer'
import { assumed, quantity } from './fields'
import { printValue } from './printing'
import { asInputs } from './question'
import { type FieldFault, settingInputs } from './read-inputs'

/** Line voltages that may be said under each rule book, V. */
const supplyRange: Readonly<Record<Rules, { min: number; max: number }>> = {
  nec: { min: 100, max: 277 },
  iec: { min: 220, max: 240 },
}

/** The line voltage, V; narrower under `iec`, which {@link supplyFaults} holds. */
export const supplyInput = assumed(quantity('voltage', supplyRange.nec.min, supplyRange.nec.max), (known) =>
  known.rules === 'iec' ? 230 : 120,
)

/** A line voltage that the rule book does not know. */
export function supplyFaults({ supply, rules, units }: Setting & { supply: number }): FieldFault[] {
  const { min, max } = supplyRange[rules]
  if (supply >= min * (1 - 1e-9) && supply <= max * (1 + 1e-9)) return []
  const values = { least: printValue(min, 'V', units), most: printValue(max, 'V', units) }
  return [{ field: 'supply', reason: 'out-of-range', values, example: rules === 'iec' ? '230 V' : '120 V' }]
}

/** A breaker that is not sold under the rule book. */
export function breakerFaults({ breaker, rules }: Setting & { breaker?: number | undefined }): FieldFault[] {
  const { sizesA } = breakers[rules]
  if (breaker === undefined || sizesA.some((size) => Math.abs(size - breaker) < 1e-9)) return []
  const choices = `${sizesA.join(', ')} A`
  return [{ field: 'breaker', reason: 'not-in-table', values: { choices } }]
}

/** The cautions of every answer that touches line voltage, with the rule book's own reasons. */
export const lineCautions = (rules: Rules): string[] =>
  rules === 'iec'
    ? ['line-off', 'line-covers-iec', 'line-apart-iec']
    : ['line-off', 'line-covers', 'line-apart']

/** The rule book and the units for a question that follows, where the person chose them. */
export const chosenSettings = (values: Setting, given: ReadonlySet<string>): Record<string, unknown> =>
  asInputs(
    settingInputs,
    values,
    ['rules', 'units'].filter((id) => given.has(id)),
  )
