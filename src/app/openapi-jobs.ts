import * as z from 'zod/mini'
import { portableSchema } from '../jobs/log/portable'
import { receiptsSchema, sentSchema } from '../jobs/sync/protocol'
import { jobBodies } from './jobs-api'
import { sharePaths } from './openapi-shares'

type Described = { status?: number; description: string; schema?: object }

const bodyOf = (schema: z.ZodMiniType, io: 'input' | 'output' = 'input'): object => {
  const { $schema: _, ...body } = z.toJSONSchema(schema, { io, unrepresentable: 'any' })
  return body
}

const jobId = {
  name: 'id',
  in: 'path',
  required: true,
  schema: { type: 'string', format: 'uuid' },
  description: 'The id of the job, as it was made by whoever began it',
}

const problems = (statuses: Record<number, string>): object =>
  Object.fromEntries(
    Object.entries(statuses).map(([status, description]) => [
      status,
      {
        description,
        content: { 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } } },
      },
    ]),
  )

const refusals = {
  404: 'There is no such job',
  422: 'What of the body cannot be used',
  503: 'The log cannot be read or written',
}

const operation = (
  operationId: string,
  summary: string,
  { status = 200, description, schema = { type: 'object' } }: Described,
  body?: object,
  ofOneJob = true,
): object => ({
  operationId,
  summary,
  ...(ofOneJob ? { parameters: [jobId] } : {}),
  ...(body ? { requestBody: { required: true, content: { 'application/json': { schema: body } } } } : {}),
  responses: {
    [status]: { description, content: { 'application/json': { schema } } },
    ...problems(refusals),
  },
})

const job = { description: 'The job with its facts and its thread' }
const asked = {
  description: 'What was understood and answered, what the job filled in, and what contradicts it',
  schema: { $ref: '#/components/schemas/Reply' },
}

/** What can be done with jobs: part of the API's description where a home keeps them. */
export const jobPaths = {
  '/api/jobs': {
    get: operation(
      'listJobs',
      'The jobs, what was touched last first',
      { description: 'One page of them' },
      undefined,
      false,
    ),
    post: operation(
      'beginJob',
      'Begins a job; the same id again changes nothing',
      { ...job, status: 201 },
      bodyOf(jobBodies.job),
      false,
    ),
  },
  '/api/jobs/import': {
    post: operation(
      'importJob',
      'Adds what a job file has and the log has not',
      { description: 'How many records were added' },
      bodyOf(portableSchema),
      false,
    ),
  },
  '/api/jobs/writes': {
    post: operation(
      'sendRecords',
      'Takes in records that another device made, in their order; sent again, nothing changes',
      {
        description: 'A receipt for each: kept, or refused with the reason',
        schema: bodyOf(receiptsSchema, 'output'),
      },
      bodyOf(sentSchema),
      false,
    ),
  },
  '/api/jobs/{id}': { get: operation('readJob', 'One job as it stands, with how it came to that', job) },
  '/api/jobs/{id}/check': {
    get: operation('checkJob', 'What holds, is tight, fails, or was not asked yet', {
      description: 'The board, in the order of the work',
    }),
  },
  '/api/jobs/{id}/sheet': {
    get: operation('jobSheet', 'The sheet that is handed over', {
      description: 'The sheet; `.csv` behind it for the materials, `.pdf` for the printed one',
    }),
  },
  '/api/jobs/{id}/export': {
    get: operation('exportJob', 'One job as one file', {
      description: 'The file',
      schema: bodyOf(portableSchema, 'output'),
    }),
  },
  '/api/jobs/{id}/changes': {
    post: operation('changeJob', 'Changes name, place, notes or state', job, bodyOf(jobBodies.changes)),
  },
  '/api/jobs/{id}/ask': {
    post: operation(
      'askInJob',
      'Asks a line; the job fills in what is left out and remembers what is new',
      asked,
      bodyOf(jobBodies.ask),
    ),
  },
  '/api/jobs/{id}/entries': {
    post: operation('answerInJob', 'Asks a question by its inputs', asked, bodyOf(jobBodies.entries)),
  },
  '/api/jobs/{id}/facts': {
    post: operation(
      'tellJob',
      'Tells the job a fact; what stood for the same is withdrawn',
      job,
      bodyOf(jobBodies.facts),
    ),
  },
  '/api/jobs/{id}/forget': {
    post: operation('forgetFact', 'Takes a fact back', job, bodyOf(jobBodies.forget)),
  },
  '/api/jobs/{id}/settle': {
    post: operation('settleContradiction', 'Says which of two values holds', job, bodyOf(jobBodies.settle)),
  },
  ...sharePaths,
}
