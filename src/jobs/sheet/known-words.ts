import type { System } from '../../quantities/systems'
import type { Field } from '../../questions/common/fields'
import { sharedWords } from '../../questions/common/shared-words'
import type { FieldWords } from '../../questions/common/words'
import { questions } from '../../questions/registry'
import type { FactValue } from '../log/job'
import { factOf } from '../memory/facts'
import { ownFacts } from '../memory/own-facts'

type KnownField = { field: Field; words: FieldWords | undefined }

/** Every fact that a job may hold, in the order of the work, by its name. */
const fields: ReadonlyMap<string, KnownField> = new Map(
  [
    ...ownFacts.map(({ id, field, words }) => [id, { field, words }] as const),
    ...questions.flatMap((question) =>
      Object.entries(question.inputs).map(([id, { field }]) => {
        const words = question.words.fields[id] ?? sharedWords.fields[id]
        return [factOf(question, id), { field, words }] as const
      }),
    ),
  ].reverse(),
)

const order = [...fields.keys()].reverse()

/** Where a fact stands in the order of the work; one that nothing knows comes last. */
export const orderOf = (field: string): number => {
  const at = order.indexOf(field)
  return at < 0 ? order.length : at
}

/** What a fact is called. */
export const labelOf = (field: string): string => fields.get(field)?.words?.label ?? field

/** What a fact says, as its field prints it; what cannot be read stands as it was typed. */
export function textOf(field: string, value: FactValue, system: System): string {
  const known = fields.get(field)
  const shapes = Array.isArray(value) ? [value, ...(value.length === 1 ? value : [])] : [value, [value]]
  for (const shape of known ? shapes : []) {
    const read = known?.field.schema(system).safeParse(shape)
    if (known && read?.success) return printed(known, read.data, system)
  }
  return asTyped(value)
}

function printed({ field, words }: KnownField, value: unknown, system: System): string {
  const text = field.text(value, system)
  return words?.choices?.[field.kind === 'yes-no' ? String(value) : text] ?? text
}

const asTyped = (value: FactValue): string => {
  if (typeof value === 'string') return value
  return Array.isArray(value)
    ? value.map(asTyped).join(', ')
    : Object.entries(value)
        .map(([key, part]) => `${key} ${asTyped(part)}`)
        .join(', ')
}
