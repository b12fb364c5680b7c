/** A question's address, read: what was typed into each field, and what is to be done with the form. */
export type Address = {
  /** What was typed, by the dotted name of its field. */
  typed: Readonly<Record<string, string>>
  /** Whether an answer is wanted. */
  asked: boolean
  /** The list that gets one more row. */
  add?: string
  /** The input to open and to fill with what was assumed. */
  open?: string
  /** The job that fills in what is not given, and the part of it that is asked about. */
  about?: { job: string; where: string | null }
}

/** The address of a question with these inputs. */
export function addressOf(question: string, inputs: Readonly<Record<string, string>>, hash = ''): string {
  const query = new URLSearchParams(inputs).toString()
  return `/q/${question}${query ? `?${query}` : ''}${hash}`
}
