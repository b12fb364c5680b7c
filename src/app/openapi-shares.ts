import * as z from 'zod/mini'
import { shareSchema } from '../jobs/share/share'
import { shareBody } from './shares-api'

const json = (schema: z.ZodMiniType, io: 'input' | 'output' = 'output'): object => {
  const { $schema: _, ...body } = z.toJSONSchema(schema, { io, unrepresentable: 'any' })
  return { 'application/json': { schema: body } }
}

const problems = Object.fromEntries(
  Object.entries({
    404: 'There is no such job, or it has no such link',
    409: 'The id is taken: this link was made before',
    422: 'What of the body cannot be used',
    501: 'This home has no links',
    503: 'The log cannot be read or written',
  }).map(([status, description]) => [
    status,
    {
      description,
      content: { 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } } },
    },
  ]),
)

const idIn = (name: string, description: string): object => ({
  name,
  in: 'path',
  required: true,
  schema: { type: 'string', format: 'uuid' },
  description,
})
const job = idIn('id', 'The id of the job')

const made = z.object({ share: shareSchema, token: z.string(), address: z.url() })

/** What can be done with the links of a job: part of the API's description where a home keeps jobs. */
export const sharePaths = {
  '/api/jobs/{id}/shares': {
    get: {
      operationId: 'listShares',
      summary:
        'The links by which the sheet of a job may be read, the newest first; what opens them is not told',
      parameters: [job],
      responses: { 200: { description: 'All links', content: json(z.array(shareSchema)) }, ...problems },
    },
    post: {
      operationId: 'shareJob',
      summary: 'Makes a link; its token and address are told this once',
      parameters: [job],
      requestBody: { required: true, content: json(shareBody, 'input') },
      responses: { 201: { description: 'The link', content: json(made) }, ...problems },
    },
  },
  '/api/jobs/{id}/shares/{share}/revoke': {
    post: {
      operationId: 'revokeShare',
      summary: 'Takes a link back for good',
      parameters: [job, idIn('share', 'The id of the link')],
      responses: { 200: { description: 'The link', content: json(shareSchema) }, ...problems },
    },
  },
}
