import { readFileSync } from 'node:fs'
import { join } from 'node:path'

/** What people say, question by question: the first few lines of each from the lines that the understanding is tried on. */
export const saidOf = (question: string, most: number): string[] =>
  ['utterances-examples.jsonl', 'utterances-work.jsonl', 'utterances-work3.jsonl']
    .flatMap((file) => readFileSync(join('tests/understanding', file), 'utf8').trim().split('\n'))
    .map((each) => JSON.parse(each) as { text: string; question?: string; kind: string })
    .filter((each) => each.question === question && each.kind === 'answer')
    .slice(0, most)
    .map(({ text }) => text)

/** What the form of a question holds after a line: the links of a thread lead to it. */
export function formOf(question: string, thread: string): URLSearchParams {
  const [, query = ''] = new RegExp(`href="/q/${question}\\?([^"#]+)`).exec(thread) ?? []
  const inputs = new URLSearchParams(query.replaceAll('&amp;', '&'))
  inputs.delete('open')
  return inputs
}
