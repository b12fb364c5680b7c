import { z } from 'zod'
import type { Question } from '../questions/common/question'
import { answerSchema } from './answer-schema'
import { inputsSchema } from './catalogue'

const json = (schema: object, example?: unknown) => ({
  'application/json': { schema, ...(example === undefined ? {} : { example }) },
})

const problemSchema = {
  type: 'object',
  required: ['type', 'title', 'status'],
  properties: {
    type: { type: 'string' },
    title: { type: 'string' },
    status: { type: 'integer' },
    errors: {
      type: 'array',
      items: {
        type: 'object',
        required: ['field', 'message'],
        properties: { field: { type: 'string' }, message: { type: 'string' }, example: { type: 'string' } },
      },
    },
  },
}

const faulty = (description: string) => ({
  description,
  content: { 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } } },
})

const answered = { description: 'The answer', content: json({ $ref: '#/components/schemas/Answer' }) }

const examples = (question: Question): Record<string, string> =>
  Object.fromEntries(
    Object.entries(question.inputs)
      .filter(
        ([id, { need }]) =>
          need === 'required' || question.alternatives.some(([first]) => first?.includes(id)),
      )
      .flatMap(([id]) => {
        const example = question.words.fields[id]?.example
        return example === undefined ? [] : [[id, example]]
      }),
  )

const questionPath = (question: Question) => ({
  post: {
    operationId: question.id,
    summary: question.words.title,
    description: question.words.intro,
    requestBody: { required: true, content: json(inputsSchema(question), examples(question)) },
    responses: {
      200: answered,
      413: faulty('The body is over 64 kB'),
      422: faulty('Inputs that cannot be used, all of them'),
    },
  },
})

const { $schema: _, ...answer } = z.toJSONSchema(answerSchema)

/** The description of the API (OpenAPI 3.1), from the schemas that check it. */
export const openapi = (questions: readonly Question[], version: string) => ({
  openapi: '3.1.0',
  info: {
    title: 'Ladderside',
    version,
    description: 'Sizing questions of low-voltage LED tape lighting, answered with their working.',
    license: { name: 'MIT', identifier: 'MIT' },
  },
  servers: [{ url: '/' }],
  paths: {
    '/api/questions': {
      get: {
        operationId: 'listQuestions',
        summary: 'What can be asked',
        responses: {
          200: {
            description: 'Every question with its inputs and figures',
            content: json({ type: 'array' }),
          },
        },
      },
    },
    ...Object.fromEntries(
      questions.map((question) => [`/api/questions/${question.id}`, questionPath(question)]),
    ),
    '/healthz': {
      get: {
        operationId: 'health',
        summary: 'Whether the server can answer',
        responses: { 200: { description: 'It can', content: json({ type: 'object' }) } },
      },
    },
  },
  components: { schemas: { Answer: answer, Problem: problemSchema } },
})
