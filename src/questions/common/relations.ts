import { sizesFor } from '../../calculators/conductor'
import type { ConductorSize } from '../../quantities/conductor-size'
import type { Rules } from '../../quantities/systems'
import type { Fault } from './fields'
import type { FieldFault } from './read-inputs'

/** Why a conductor's size cannot be used under these rules; `undefined` when it can. */
export function sizeFault(size: ConductorSize, rules: Rules): Fault | undefined {
  const sizes = sizesFor(rules)
  if (sizes[0]?.unit !== size.unit) return { reason: 'size-of-other-rules' }
  if (sizes.some(({ value }) => value === size.value)) return undefined
  return { reason: 'not-in-table', values: { choices: sizes.map(({ value }) => value).join(', ') } }
}

/** The same for the size in a field, when one was given. */
export function sizeFaultAt(field: string, size: ConductorSize | undefined, rules: Rules): FieldFault[] {
  const fault = size && sizeFault(size, rules)
  return fault ? [{ ...fault, field }] : []
}
