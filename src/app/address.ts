import type { Address } from '../pages/address'

/** What a form sends beside a question's inputs: which row to add or to remove, which input to open. */
const controls = new Set(['add', 'remove', 'open', 'job', 'where'])

/** Longest query that is read; a longer one is cut off by the server's own header limit anyway. */
const mostEntries = 500

/** Reads the query of a question's address: its typed fields, and what the person wants done with the form. */
export function readAddress(query: URLSearchParams): Address {
  const typed: Record<string, string> = {}
  for (const [key, value] of [...query].slice(0, mostEntries)) {
    if (!controls.has(key) && value.trim() !== '') typed[key] = value
  }
  if (typed['claim.value'] === undefined) delete typed['claim.figure']
  const remove = query.get('remove')
  const kept = remove ? withoutRow(typed, remove) : typed
  const add = query.get('add') ?? undefined
  const open = query.get('open') ?? undefined
  const job = query.get('job')
  const about = job ? { job, where: query.get('where') || null } : undefined
  const fields = [...query.keys()].filter((key) => key !== 'job' && key !== 'where').length
  const asked = add === undefined && remove === null && fields > 0 && (open === undefined || fields > 1)
  return {
    typed: kept,
    asked,
    ...(add ? { add } : {}),
    ...(open ? { open } : {}),
    ...(about ? { about } : {}),
  }
}

/** The fields without one row (`feeds.1`), the rows behind it moved up. */
function withoutRow(typed: Record<string, string>, row: string): Record<string, string> {
  const [field = '', at = ''] = row.split('.')
  const removed = Number(at)
  return Object.fromEntries(
    Object.entries(typed).flatMap(([key, value]) => {
      const [id, index = '', ...rest] = key.split('.')
      if (id !== field || !/^\d+$/.test(index)) return [[key, value]]
      const place = Number(index)
      if (place === removed) return []
      return [[[id, place > removed ? place - 1 : place, ...rest].join('.'), value]]
    }),
  )
}
