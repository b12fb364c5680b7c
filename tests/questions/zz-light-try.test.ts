import { it } from 'vitest'
import { readFileSync } from 'node:fs'
it('x', async () => {
  const [id, ...raws] = JSON.parse(readFileSync('/tmp/try.json','utf8'))
  const m = await import(`../../src/questions/${id}.ts`)
  const q = Object.values(m).find((v: any) => v?.answer) as any
  for (const raw of raws) { const r = q.answer(raw); 
    if (!r.ok) { console.log(JSON.stringify(raw), '\n', r.errors.map((e:any)=>e.field+': '+e.message).join('\n ')); continue }
    const a = r.answer
    console.log([JSON.stringify(raw), a.verdict+' | '+a.headline, 'FIG '+a.figures.map((f:any)=>f.label+': '+f.text).join(' | '), 'LIM '+a.limits.map((f:any)=>f.label+': '+f.text+(f.binds?' <':'')).join(' | '), 'CLAIM '+JSON.stringify(a.claim), 'ROOM', ...a.room.map((f:any)=>'  '+f.text), 'ASSUMED', ...a.assumptions.map((f:any)=>'  '+f.text+' -- '+f.why+' '+f.source), 'CAUTION', ...a.cautions.map((f:any)=>'  '+f.level+': '+f.text), 'WORK', ...a.working.map((f:any)=>`  ${f.label}: ${f.formula} = ${f.substituted} = ${f.result} [${f.source}]`), 'NEXT '+JSON.stringify(a.next), 'TABLE', ...(a.table?[a.table.columns,...a.table.rows].map((r:any)=>'  '+r.join(' | ')):[]), 'chosen '+a.table?.chosen, 'INPUTS '+Object.entries(a.inputs).map(([k,v]:any)=>k+'='+v.text).join(', ')].join('\n')) }
})
