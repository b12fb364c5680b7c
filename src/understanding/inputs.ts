import type { System } from '../quantities/systems'
import type { Field } from '../questions/common/fields'
import { clean } from './clean'
import type { Raw } from './raw'
import { FAR_END, MIDDLE } from './rows/feed-places'
import type { QuestionShape } from './shape'

/** One input in fixed units, as it was read by the question's own schema. */
export type ReadInput = { value: number | string | boolean | object; unit?: string }

/** Why the question would refuse a value. */
export type Refusal = { field: string; reason: string; values: Readonly<Record<string, string>> }

type Issue = { params?: { reason?: string; values?: Record<string, string> } }

/** Cables stay as they were said: `12/2/2` is two pairs, though the box counts it as four conductors. */
const saidInWords = (field: Field<unknown>, raw: Raw): ReadInput | undefined =>
  field.item?.kind === 'described' && Array.isArray(raw) && raw.every((item) => typeof item === 'string')
    ? { value: raw }
    : undefined

/** Reads each raw input by its own field's schema; refused ones are told apart. */
export function readInputs(
  shape: QuestionShape,
  raws: ReadonlyMap<string, Raw>,
  system: System,
): { read: Map<string, ReadInput>; refused: Refusal[] } {
  const read = new Map<string, ReadInput>()
  const refused: Refusal[] = []
  for (const [id, raw] of raws) {
    const field = shape.inputs[id]?.field as Field<unknown> | undefined
    if (field === undefined) continue
    const parsed = field.schema(system).safeParse(raw)
    if (parsed.success) read.set(id, saidInWords(field, raw) ?? field.json(parsed.data))
    else {
      const { params } = (parsed.error.issues[0] ?? {}) as Issue
      refused.push({ field: id, reason: params?.reason ?? 'not-understood', values: params?.values ?? {} })
    }
  }
  return { read, refused }
}

/** Feeds at "the far end" or "the middle" stand where the tape's length puts them. */
export function placedFeeds(shape: QuestionShape, raws: Map<string, Raw>, system: System): void {
  const feeds = raws.get('feeds')
  if (shape.id !== 'along-the-tape' || !Array.isArray(feeds)) return
  const raw = raws.get('tapeLength')
  const parsed = raw === undefined ? undefined : shape.inputs.tapeLength?.field.schema(system).safeParse(raw)
  const lengthM = parsed?.success ? (parsed.data as number) : undefined
  const placed = (feeds as Record<string, Raw>[]).map((feed) => {
    const said = String(feed.at)
    const share = said.startsWith(FAR_END) ? 1 : said === MIDDLE ? 0.5 : undefined
    if (share === undefined) return feed
    const back = said.slice(FAR_END.length)
    return lengthM === undefined
      ? undefined
      : { ...feed, at: `${clean(lengthM * share)} m${share === 1 ? back : ''}` }
  })
  if (placed.every((feed) => feed !== undefined)) raws.set('feeds', placed as Raw[])
  else raws.delete('feeds')
}
