import type { Side } from '../questions/common/comparison'

export type Typed = Readonly<Record<string, string>>

/** A question's address, read: what was typed into each field, and what is to be done with the form. */
export type Address = {
  /** What was typed, by the dotted name of its field. */
  typed: Typed
  /** Whether an answer is wanted. */
  asked: boolean
  /** The list that gets one more row. */
  add?: string
  /** The input to open and to fill with what was assumed. */
  open?: string
  /** The job that fills in what is not given, and the part of it that is asked about. */
  about?: { job: string; where: string | null }
}

/** The address of two variants of a question, read. */
export type CompareAddress = Record<Side, Typed> & {
  /** Whether both are there to be compared; where not, B is as A. */
  both: boolean
  /** The fields of one side that are being changed, and the list among them that gets one more row. */
  varying?: { side: Side; fields: readonly string[]; add?: string }
  /** Whether a form was sent: the two now have a plainer address. */
  changed?: true
}

/** The field that a dotted name belongs to: `feeds.0.at` is of `feeds`. */
export const fieldOf = (name: string): string => name.split('.')[0] ?? ''

/** What was typed, without some fields. */
export const without = (typed: Typed, fields: readonly string[]): Typed =>
  Object.fromEntries(Object.entries(typed).filter(([name]) => !fields.includes(fieldOf(name))))

/** The address of a question with these inputs. */
export function addressOf(question: string, inputs: Typed, hash = ''): string {
  const query = new URLSearchParams(inputs).toString()
  return `/q/${question}${query ? `?${query}` : ''}${hash}`
}

/** The names by which an address carries one side's inputs. */
export const asSide = (side: Side, typed: Typed): Record<string, string> =>
  Object.fromEntries(Object.entries(typed).map(([name, value]) => [`${side}.${name}`, value]))

/** The address of two variants of a question; of one that is to be varied, where there is no other. */
export const compareAddressOf = (
  question: string,
  a: Typed,
  b: Typed | undefined,
  more: Typed = {},
): string =>
  `/compare/${question}?${new URLSearchParams({ ...asSide('a', a), ...(b ? asSide('b', b) : {}), ...more })}`
