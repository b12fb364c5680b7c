import { Hono } from 'hono'
import * as z from 'zod/mini'
import { recordSchemas } from '../jobs/log/job'
import { phoneHome } from './home'
import { Clashing, KeptHere, ShutOut } from './kept-here'
import { stateNow, synchronise, tell } from './synchronise'

/** `/phone`: what waits on this phone, what the server would not take or has otherwise. Only the phone has these pages. */
export const phonePages = new Hono().basePath('/phone')

phonePages.get('/', async (context) => {
  const { kept } = await phoneHome()
  const state = await stateNow()
  if (state.isShutOut) {
    const unsent = await kept?.shop.unsent()
    return context.html(<ShutOut state={state} unsent={unsent?.ok ? unsent.value : []} />)
  }
  const [refused, clashes] = [await kept?.outbox.refused(), await kept?.clashes.list()]
  return context.html(
    <KeptHere state={state} refused={refused?.ok ? refused.value : []}>
      {clashes?.ok && clashes.value.length > 0 ? <Clashing clashes={clashes.value} /> : null}
    </KeptHere>,
  )
})

phonePages.post('/send', async (context) => {
  await synchronise()
  return context.redirect('/phone', 303)
})

phonePages.post('/send-again', async (context) => {
  const { kept } = await phoneHome()
  await kept?.outbox.retryRefused()
  await synchronise()
  return context.redirect('/phone', 303)
})

const recordSchema = z.object({
  kind: z.enum(Object.keys(recordSchemas) as [keyof typeof recordSchemas]),
  id: z.string(),
})

phonePages.post('/put-away', async (context) => {
  const { kept } = await phoneHome()
  const { data } = recordSchema.safeParse(await context.req.parseBody())
  if (data) await kept?.clashes.see(data.kind, data.id)
  await tell()
  return context.redirect('/phone', 303)
})

phonePages.post('/discard', async (context) => {
  const { kept } = await phoneHome()
  const { job } = await context.req.parseBody()
  if (typeof job === 'string' && (await stateNow()).isShutOut) await kept?.shop.discard(job)
  await tell()
  return context.redirect('/phone', 303)
})
