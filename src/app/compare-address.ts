import { type CompareAddress, fieldOf, type Typed, without } from '../pages/address'
import type { Side } from '../questions/common/comparison'
import type { Question } from '../questions/common/question'
import { readAddress } from './address'

/** Longest query that is read: two questions' worth. */
const mostEntries = 1000

/**
 * Reads the query of two variants: `a.<field>` and `b.<field>` are their inputs. `vary` asks for a form for one field
 * of B; the form sends what it changes without a side (`varied` names it), beside the rest of both.
 */
export function readCompareAddress(question: Question, query: URLSearchParams): CompareAddress {
  const entries = [...query].slice(0, mostEntries)
  const sides = { a: sideOf(entries, 'a'), b: sideOf(entries, 'b') }
  const both = Object.keys(sides.b).length > 0
  const side = query.get('side') === 'a' ? 'a' : 'b'
  const varied = known(question, (query.get('varied') ?? '').split(','))
  if (varied.length > 0) return changedAddress(sides, both, side, varied, entries)
  const [vary] = known(question, [query.get('vary') ?? ''])
  return {
    a: sides.a,
    b: both ? sides.b : sides.a,
    both,
    ...(vary === undefined ? {} : { varying: { side, fields: withItsOwn(question, vary) } }),
  }
}

function changedAddress(
  sides: Record<Side, Typed>,
  both: boolean,
  side: Side,
  varied: readonly string[],
  entries: readonly [string, string][],
): CompareAddress {
  const plain = entries.filter(([name]) => !/^[ab]\./.test(name))
  const own = readAddress(new URLSearchParams(plain))
  const changed = { ...without(sides[side], varied), ...within(own.typed, varied) }
  const { a, b } = side === 'a' ? { ...sides, a: changed } : { ...sides, b: changed }
  const rows = plain.some(([name]) => name === 'add' || name === 'remove')
  const read = { a, b: both || side === 'b' ? b : a, both: both || (side === 'b' && !rows) }
  return rows
    ? { ...read, varying: { side, fields: varied, ...(own.add ? { add: own.add } : {}) } }
    : { ...read, changed: true }
}

/** A field, with those that only make sense together with it: a tape's power with its length. */
const withItsOwn = (question: Question, field: string): readonly string[] =>
  question.alternatives.flat().find((way) => way.includes(field)) ?? [field]

const known = (question: Question, fields: readonly string[]): string[] =>
  fields.filter((field) => field === 'claim' || Object.hasOwn(question.inputs, field))

function sideOf(entries: readonly [string, string][], side: Side): Typed {
  const own = entries.filter(([name]) => name.startsWith(`${side}.`))
  return readAddress(new URLSearchParams(own.map(([name, value]) => [name.slice(2), value]))).typed
}

const within = (typed: Typed, fields: readonly string[]): Typed =>
  Object.fromEntries(Object.entries(typed).filter(([name]) => fields.includes(fieldOf(name))))
