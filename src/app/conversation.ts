import * as z from 'zod/mini'
import type { Turn } from '../pages/turn'
import { parsed } from './parsed'
import { type Following, longestLine, type Reply, replyTo, replyToPicked } from './reply'

/** One thing a person did in the thread: said a line, or picked one of several readings. */
const act = z.union([
  z.string().check(z.maxLength(longestLine)),
  z.strictObject({
    question: z.string().check(z.maxLength(60)),
    inputs: z.record(z.string(), z.string().check(z.maxLength(200))),
  }),
])

export type Act = z.infer<typeof act>

const thread = z.array(act).check(z.maxLength(200))

/** How much of a thread a page carries: the newest that fit into a form well below the body limit. */
const carriedActs = 12
const carriedCharacters = 24_000

/** Reads the thread that a form carried; what cannot be read starts a new one, since replies are worked out anew. */
export const readThread = (carried: string): Act[] => thread.safeParse(parsed(carried || '[]')).data ?? []

/** The acts that the next page carries on. */
export function keptOf(acts: readonly Act[]): Act[] {
  const kept = acts.slice(-carriedActs)
  while (kept.length > 1 && JSON.stringify(kept).length > carriedCharacters) kept.shift()
  return kept
}

/** Works out the reply to every act in turn, each following the one before it. */
export function turnsOf(acts: readonly Act[]): Turn[] {
  const turns: Turn[] = []
  let following: Following | undefined
  for (const each of acts) {
    const replied =
      typeof each === 'string' ? replyTo(each, following) : replyToPicked(each.question, each.inputs)
    if (!replied) continue
    const said = typeof each === 'string' ? each : replied.reply.message
    turns.push({ said, ...replied })
    following = followingOf(replied.reply) ?? following
  }
  return turns
}

const followingOf = ({ reading }: Reply): Following | undefined =>
  reading && { question: reading.question, inputs: reading.inputs }

/** Reads one act; nothing where it is none. */
export const readAct = (value: unknown): Act | undefined => act.safeParse(value).data

/** Reads what a quick reply's button sends. */
export const readPicked = (text: string): Act | undefined => readAct(parsed(text))
