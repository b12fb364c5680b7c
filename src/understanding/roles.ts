import type { Field, Input } from '../questions/common/fields'
import type { RoleWords } from './asking'
import { roleWords } from './book'
import type { Piece } from './pieces'
import type { Raw } from './raw'
import type { QuestionShape } from './shape'

/** What a quantity of a line may be to a question: one of its inputs, or a figure that somebody claims. */
export type Role = {
  part: 'fields' | 'figures'
  id: string
  field: Field<unknown> | undefined
  words: readonly RoleWords[]
}
/** A quantity that may have a role, and how much speaks for it. */
export type Candidate = { piece: Piece; role: Role; score: number; raw: Raw | undefined; why: string }

export const roleKey = (role: { part: string; id: string }): string => `${role.part}.${role.id}`
export const flag = (words: readonly RoleWords[], name: 'alone' | 'sum' | 'many' | 'times'): boolean =>
  words[0]?.[name] || words.some((each) => each[name])
export const bareUnit = (words: readonly RoleWords[]): string | undefined =>
  words.find((each) => each.bare !== undefined)?.bare

function rolesOf(shape: QuestionShape): Role[] {
  const fields = Object.entries(shape.inputs).map(
    ([id, input]: [string, Input]): Role => ({
      part: 'fields',
      id,
      field: input.field,
      words: roleWords(shape.id, 'fields', id),
    }),
  )
  const figures = Object.keys(shape.figures).map(
    (id): Role => ({
      part: 'figures',
      id,
      field: undefined,
      words: roleWords(shape.id, 'figures', id),
    }),
  )
  return [...fields, ...figures].filter((role) => role.words.length > 0)
}

const roles = new WeakMap<QuestionShape, Role[]>()
export const rolesFor = (shape: QuestionShape): Role[] => {
  const known = roles.get(shape)
  if (known) return known
  const made = rolesOf(shape)
  roles.set(shape, made)
  return made
}
