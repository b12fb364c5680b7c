import { type View, viewOfItems } from './view'

/** A stretch of a line, from one item up to another. */
export type Stretch = { from: number; to: number }

/** The line without some stretches of it: a comma stands where each was. */
export function without(view: View, stretches: readonly Stretch[]): View {
  if (stretches.length === 0) return view
  const items = view.items.map((item, at) =>
    stretches.some(({ from, to }) => at >= from && at < to)
      ? ({ kind: 'comma', token: item.token } as const)
      : item,
  )
  return viewOfItems(items)
}
