import { readFileSync } from 'node:fs'
import { it } from 'vitest'
import { replyTo } from '../src/app/reply'
import { scoreReply } from './understanding/score'
const mine = new Set(['feed-gauge','tape-reach','driver-size','along-the-tape','task-light','steady-light','running-cost'])
it('x', () => {
  for (const file of (process.env.SET ?? 'examples,work,work2,work3,work4').split(',')) {
  const lines = readFileSync(`tests/understanding/utterances-${file}.jsonl`, 'utf8').trim().split('\n').map((l) => JSON.parse(l))
  let exact = 0, wrong = 0, mt = 0, me = 0
  for (const line of lines) {
    const { reply } = replyTo(line.text, line.following)
    const s = scoreReply(line, reply as never)
    const m = line.question ? mine.has(line.question) : false
    if (s.exact) exact++
    if (m) { mt++; if (s.exact) me++ }
    if (s.silentWrong) wrong++
    const r = reply as any
    if (!s.exact && (process.env.ALL || m)) console.log(`${file} ${s.silentWrong ? 'SILENT ' : ''}[${line.kind} ${line.question ?? ''} ${line.choices ?? ''}${line.following ? ' FOLLOWING '+JSON.stringify(line.following) : ''}] ${line.text}\n   GOT ${r.kind} ${r.reading?.question ?? r.question} ${JSON.stringify(r.reading?.inputs ?? r.choices?.map((c: any) => c.question) ?? '').slice(0,300)}\n   ${JSON.stringify(s.why).slice(0, 500)}`)
  }
  console.log(`TOTAL ${file} exact ${exact}/${lines.length} silent ${wrong} mine ${me}/${mt}`)
  }
})
