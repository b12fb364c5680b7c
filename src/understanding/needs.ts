import type { Input } from '../questions/common/fields'
import { askings } from './asking'
import type { Raw } from './raw'
import type { QuestionShape } from './shape'

type Raws = ReadonlyMap<string, Raw>

/** Of alternatives of which one is given whole, what the best begun one still lacks. */
function lacking(alternatives: readonly (readonly string[])[], have: Raws): string[] {
  if (alternatives.some((fields) => fields.every((field) => have.has(field)))) return []
  const begun = alternatives.filter((fields) => fields.some((field) => have.has(field)))
  const wanted = begun[0] ?? alternatives[0] ?? []
  return wanted.filter((field) => !have.has(field))
}

/** The inputs that the question still needs, the most important first. */
export function missingOf(shape: QuestionShape, have: Raws): string[] {
  const required = Object.entries(shape.inputs)
    .filter(([id, input]: [string, Input]) => input.need === 'required' && !have.has(id))
    .map(([id]) => id)
  const alternatives = shape.alternatives.flatMap((each) => lacking(each, have))
  const asking = askings[shape.id]?.asking
  const needs = (asking?.needs ?? [])
    .filter(({ field, unlessGiven, when, unless }) => {
      const holds = (wanted: Record<string, string>) =>
        Object.entries(wanted).every(([id, value]) => have.get(id) === value)
      if (have.has(field) || unlessGiven.some((other) => have.has(other))) return false
      return holds(when) && !(Object.keys(unless).length > 0 && holds(unless))
    })
    .map(({ field }) => field)
  const missing = [...new Set([...required, ...alternatives, ...needs])]
  const order = asking?.first ?? []
  const rank = (field: string) => (order.includes(field) ? order.indexOf(field) : order.length)
  return missing.sort((a, b) => rank(a) - rank(b))
}

/** Inputs of which one excludes the others: those that must go, since another is given whole. */
export function superfluous(shape: QuestionShape, have: Raws, keep: ReadonlySet<string>): string[] {
  return shape.alternatives.flatMap((alternatives) => {
    const whole = alternatives.filter((fields) => fields.every((field) => have.has(field)))
    const fresh = whole.find((fields) => fields.some((field) => keep.has(field)))
    const begun = alternatives.find((fields) => fields.some((field) => keep.has(field)))
    const fullest = [...whole].sort((one, other) => other.length - one.length)[0]
    const chosen = fresh ?? (keep.size > 0 && begun ? begun : fullest)
    if (chosen === undefined) return []
    return alternatives.flat().filter((field) => have.has(field) && !chosen.includes(field))
  })
}
