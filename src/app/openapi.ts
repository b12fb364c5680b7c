import * as z from 'zod/mini'
import type { Question } from '../questions/common/question'
import { answerSchema } from './answer-schema'
import { askSchema } from './ask-api'
import { inputsSchema } from './catalogue'
import { comparisonSchema } from './comparison-schema'
import { jobPaths } from './openapi-jobs'

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
    reason: { type: 'string' },
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
const { $schema: ___, ...comparison } = z.toJSONSchema(comparisonSchema)
const { $schema: __, ...asked } = z.toJSONSchema(askSchema, { io: 'input' })

const replySchema = {
  type: 'object',
  required: ['kind', 'message'],
  properties: {
    kind: { enum: ['answer', 'ask-back', 'choose', 'out-of-reach'] },
    reading: {
      type: 'object',
      required: ['question', 'inputs', 'leftOver'],
      properties: {
        question: { type: 'string' },
        inputs: { type: 'object' },
        claim: { type: 'object' },
        leftOver: { type: 'array', items: { type: 'string' } },
      },
    },
    answer: { $ref: '#/components/schemas/Answer' },
    missing: { type: 'array', items: { type: 'object', required: ['field', 'prompt'] } },
    choices: {
      type: 'array',
      items: { type: 'object', required: ['question', 'title', 'inputs'] },
      maxItems: 3,
    },
    changed: { type: 'array', items: { type: 'string' } },
    message: { type: 'string' },
  },
}

/** The description of the API (OpenAPI 3.1), from the schemas that check it; with jobs where the home keeps them. */
export const openapi = (questions: readonly Question[], version: string, keepsJobs: boolean) => ({
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
    '/api/ask': {
      post: {
        operationId: 'ask',
        summary: 'One typed or dictated line becomes a question and its answer, or one good question back',
        requestBody: {
          required: true,
          content: json(asked, { text: 'what gauge for forty feet at twenty four volts, sixty watts' }),
        },
        responses: {
          200: { description: 'What was understood', content: json({ $ref: '#/components/schemas/Reply' }) },
          422: faulty('What cannot be read as a line'),
        },
      },
    },
    '/api/compare/{question}': {
      get: {
        operationId: 'compare',
        summary: 'Two variants of one question, thing by thing',
        parameters: [
          {
            name: 'question',
            in: 'path',
            required: true,
            schema: { enum: questions.map(({ id }) => id) },
          },
          {
            name: 'inputs',
            in: 'query',
            description:
              'The inputs of both, each by its dotted name behind `a.` or `b.`: `a.distance`, `b.feeds.0.at`',
            style: 'form',
            explode: true,
            schema: {
              type: 'object',
              patternProperties: { '^[ab]\\.': { type: 'string' } },
            },
            example: { 'a.distance': '40 ft', 'b.distance': '60 ft' },
          },
        ],
        responses: {
          200: {
            description: 'Both answers and what differs',
            content: json({ $ref: '#/components/schemas/Comparison' }),
          },
          422: faulty('Inputs that cannot be used, each by its side and name'),
        },
      },
    },
    ...(keepsJobs ? jobPaths : {}),
    '/healthz': {
      get: {
        operationId: 'health',
        summary: 'Whether the server can answer',
        responses: { 200: { description: 'It can', content: json({ type: 'object' }) } },
      },
    },
  },
  components: {
    schemas: { Answer: answer, Comparison: comparison, Problem: problemSchema, Reply: replySchema },
  },
})
