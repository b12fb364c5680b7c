import fc from 'fast-check'
import type { Hono } from 'hono'
import { newId } from '../../../src/jobs/log/identifier'
import { questions } from '../../../src/questions/registry'
import { hostileValue, mutated, mutatedText } from './mutate'

/** What one request is made of. */
export type Asked = { method: string; address: string; headers: [string, string][]; body?: string | FormData }

/** Ids of jobs and of what is in them, links that were shared, jobs as files; changed as jobs come and go. */
export type Known = { ids: string[]; tokens: string[]; files: unknown[]; cookie: string }

export const origin = 'http://127.0.0.1:3150'

const examples = questions.map(({ id, inputs, words }) => ({
  id,
  inputs: Object.fromEntries(
    Object.keys(inputs).flatMap((field) => {
      const example = words.fields[field]?.example
      return example === undefined ? [] : [[field, example]]
    }),
  ) as Record<string, string>,
}))

const lines = [
  'what gauge for 40 feet at 24 volts, 60 watts',
  'counter guy says 16 gauge is plenty for 40 feet at 24 volts, 60 watts',
  'how far does 24 V, 4.4 W/ft tape run on a 96 watt driver',
  'and at 12 volts?',
  'make it sixty feet',
  'may I bore a 2 inch hole in a 2x10 joist',
  'octagon 4 x 1-1/2 with a 14/3 and a 14/2, does it fit',
  '24 V tape, 15 W/m, 4 m. Meter: 24.0 at the first pad, 21.9 at the last pad. Why?',
  'can I splice this live?',
  'openings of 6 m and 3.2 m, tape cuts every 100 mm, 5 m reels, ok to join tape',
]

/** Real bodies of every kind there is; each route gets each, since only the wrong ones are of interest there. */
const bodies: readonly unknown[] = [
  ...examples.map(({ inputs }) => inputs),
  ...examples.map(({ id, inputs }) => ({ question: id, inputs })),
  ...examples.map(({ id, inputs }) => ({ question: id, inputs, where: 'Long hall' })),
  ...examples.map(({ id, inputs }) => ({ text: 'and at 12 volts?', following: { question: id, inputs } })),
  ...lines.map((text) => ({ text })),
  ...lines.map((text) => ({ text, where: 'Long hall' })),
  { id: newId(), name: 'Long hall', place: 'First floor', notes: 'Wet' },
  { name: 'Long hall', state: 'done' },
  { field: 'voltage', value: '24 V' },
  { field: 'voltage', where: 'Long hall', value: '12 V' },
  { field: 'runs', value: ['6 m', '3.2 m'] },
  { entry: newId(), field: 'voltage', which: 'told' },
  { thread: JSON.stringify(lines), text: 'and at 12 volts?' },
  { code: 'ABCD-EFGH', name: 'Phone' },
  { hours: 24 },
  { hours: '168' },
]

/** One of what there is at that moment. */
const oneOf = <T>(all: () => readonly T[]): fc.Arbitrary<T> =>
  fc.nat().map((at) => all()[at % all().length] as T)

/** A parameter of a path: something that is there, or what nobody would write. */
const parameter = (known: Known, path: string): fc.Arbitrary<string> => {
  const isJob = path.includes('/jobs')
  const isShared = path.startsWith('/s/')
  return fc.oneof(
    { weight: isJob ? 20 : 1, arbitrary: oneOf(() => known.ids) },
    { weight: isShared ? 20 : 1, arbitrary: oneOf(() => known.tokens) },
    { weight: isJob || isShared ? 1 : 10, arbitrary: oneOf(() => questions.map(({ id }) => id)) },
    { weight: 2, arbitrary: hostileValue.map((value) => textOf(value)) },
  )
}

const encoded = (text: string): string => encodeURIComponent(whole(text))

/** Half a character, which no address and no form can hold, becomes the sign for one. */
const whole = (text: string): string => text.replace(/\p{Surrogate}/gu, '\ufffd')

const textOf = (value: unknown): string =>
  typeof value === 'string' ? value : (JSON.stringify(value) ?? 'undefined')

/** A value as a form or an address says it: one field for each part. */
const fieldsOf = (value: unknown): [string, string][] =>
  typeof value === 'object' && value !== null
    ? Object.entries(value).map(([name, part]) => [name, textOf(part)])
    : [['text', textOf(value)]]

const query = (value: unknown): string =>
  fieldsOf(value)
    .map(([name, part]) => `${encoded(name)}=${encoded(part)}`)
    .join('&')

const headerText = (value: unknown): string =>
  textOf(value)
    .replace(/[^\x20-\x7e]/g, '?')
    .slice(0, 300)

/** What lets a request through, or now and then something that should not. */
const mostly = (good: string, bad: readonly string[]): fc.Arbitrary<string> =>
  fc.oneof({ weight: 30, arbitrary: fc.constant(good) }, { weight: 1, arbitrary: fc.constantFrom(...bad) })

const headers = (known: Known): fc.Arbitrary<[string, string][]> =>
  fc
    .tuple(
      mostly(known.cookie, ['', 'ladderside-device=x.y']),
      fc.constantFrom('text/html', 'application/json', '*/*', ''),
      mostly(origin, ['', 'null', 'https://elsewhere.example']),
      fc.array(
        fc.tuple(
          fc.constantFrom(
            'accept-language',
            'if-none-match',
            'range',
            'x-forwarded-for',
            'x-forwarded-proto',
            'prefer',
            'te',
          ),
          hostileValue.map(headerText),
        ),
        { maxLength: 1 },
      ),
      mostly('', ['sec-fetch-site', 'cookie', 'origin', 'host', 'content-type']),
    )
    .map(([cookie, accept, from, more, spoiled]) => [
      ['cookie', cookie],
      ['accept', accept],
      ...(from ? ([['origin', from]] as [string, string][]) : []),
      ...more,
      ...(spoiled ? ([[spoiled, 'spoiled']] as [string, string][]) : []),
    ])

/** A body, and the type that is said of it. */
type Sent = { body: string | FormData; type?: string }

/** A body in one of the ways in which one is sent. */
const sent = (body: fc.Arbitrary<unknown>): fc.Arbitrary<Sent> =>
  fc.tuple(mutated(body), fc.nat({ max: 19 })).chain(([value, way]): fc.Arbitrary<Sent> => {
    if (way < 10) return fc.constant({ body: textOf(value), type: 'application/json' })
    if (way < 16) return fc.constant({ body: query(value), type: 'application/x-www-form-urlencoded' })
    if (way < 17) return fc.constant({ body: multipart(value) })
    const broken = mutatedText(fc.constant(textOf(value)))
    const type = fc.constantFrom('application/json', 'multipart/form-data; boundary=x', 'text/plain', '')
    return fc.record({ body: broken, type })
  })

function multipart(value: unknown): FormData {
  const form = new FormData()
  for (const [name, part] of fieldsOf(value)) form.append(whole(name), whole(part))
  form.append('file', new Blob([textOf(value)], { type: 'application/json' }), 'job.json')
  return form
}

/** Every route that the app has, whichever those are, with a request made for it. */
export function requestsFor(app: Hono, known: Known): fc.Arbitrary<Asked> {
  const routes = app.routes
    .filter(({ path }) => !path.includes('*'))
    .map(({ method, path }) => ({ method: method === 'ALL' ? 'POST' : method, path }))
  // A printed sheet takes as long as a hundred other requests, and has nothing of its own to read.
  const [printed, others] = [true, false].map((isPrinted) =>
    routes.filter(({ path }) => path.endsWith('.pdf') === isPrinted),
  )
  const route = fc.oneof(
    { weight: 300, arbitrary: fc.constantFrom(...(others ?? [])) },
    ...(printed ?? []).map((each) => ({ weight: 1, arbitrary: fc.constant(each) })),
    // Another method than the route has, and a path that nothing has.
    {
      weight: 10,
      arbitrary: fc.record({
        method: fc.constantFrom('PUT', 'DELETE', 'PATCH', 'OPTIONS', 'HEAD', 'POST', 'GET'),
        path: fc.oneof(fc.constantFrom(...routes.map(({ path }) => path)), fc.webPath()),
      }),
    },
  )
  return route.chain(({ method, path }) =>
    subject(path, known).chain(({ parameters, body, asks }) =>
      fc
        .tuple(
          fc.option(mutated(body), { freq: asks ? 12 : 2 }),
          headers(known),
          fc.option(sent(body), { freq: 12 }),
        )
        .map(([asked, head, sentBody]): Asked => {
          let at = 0
          const filled = path.replace(/:\w+(\{[^}]*\})?/g, () => encoded(parameters[at++] ?? 'x'))
          const address = `${origin}${filled}${asked === null ? '' : `?${query(asked)}`}`
          const hasBody = method !== 'GET' && method !== 'HEAD' && sentBody !== null
          const type = hasBody ? sentBody.type : undefined
          return {
            method,
            address,
            headers: [...head, ...(type ? ([['content-type', type]] as [string, string][]) : [])],
            ...(hasBody ? { body: sentBody.body } : {}),
          }
        }),
    ),
  )
}

/** Which one a request is about, what a real body or query of it would be, and whether its query is what it asks. */
type Subject = { parameters: string[]; body: fc.Arbitrary<unknown>; asks: boolean }

const ofQuestion = /^\/(api\/)?(q|questions|compare)\/:/

/** The questions get their own inputs for the most part: only what is nearly right gets far. */
function subject(path: string, known: Known): fc.Arbitrary<Subject> {
  const holes = path.split('/').filter((part) => part.startsWith(':')).length
  const any = fc.array(parameter(known, path), { minLength: holes, maxLength: holes }).map((parameters) => ({
    parameters,
    body: oneOf<unknown>(() => [...bodies, ...known.files]),
    asks: false,
  }))
  if (!ofQuestion.test(path)) return any
  const own = fc.constantFrom(...examples).map(({ id, inputs }) => ({
    parameters: [id],
    body: fc.constant(path.includes('compare') ? variantsOf(inputs) : inputs),
    asks: true,
  }))
  return fc.oneof({ weight: 4, arbitrary: own }, { weight: 1, arbitrary: any })
}

/** The same inputs for both variants, as the address of a comparison says them. */
const variantsOf = (inputs: Readonly<Record<string, string>>): Record<string, string> =>
  Object.fromEntries(
    ['a', 'b'].flatMap((side) => Object.entries(inputs).map(([field, said]) => [`${side}.${field}`, said])),
  )
