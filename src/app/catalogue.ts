import * as z from 'zod/mini'
import type { Question } from '../questions/common/question'
import { sharedWords } from '../questions/common/shared-words'

type JsonSchema = Record<string, unknown>

/** A question's inputs as JSON Schema, from its zod schema, with the words a person sees beside each field. */
export function inputsSchema(question: Question): JsonSchema {
  const { $schema, ...schema } = z.toJSONSchema(question.schema('us'), {
    io: 'input',
    unrepresentable: 'any',
  })
  const properties = (schema.properties ?? {}) as Record<string, JsonSchema>
  for (const [id, property] of Object.entries(properties)) {
    const words = question.words.fields[id] ?? sharedWords.fields[id]
    if (!words) continue
    property.title = words.label
    if (words.hint) property.description = words.hint
    if (words.example && property.type === 'string') property.examples = [words.example]
  }
  return { ...schema, properties }
}

/** What `GET /api/questions` says of one question. */
export const catalogueEntry = (question: Question) => ({
  id: question.id,
  title: question.words.title,
  stage: question.stage,
  inputs: inputsSchema(question),
  figures: Object.entries(question.figures).map(([id, { unit }]) => ({
    id,
    unit: unit === 'size' ? 'AWG' : unit,
    label: question.words.figures[id] ?? id,
  })),
})
