import type { Range } from './fields'

const relativePrecision = 0.001

/**
 * The nearest value, from `start` towards `end`, at which `changed` turns true, by growing steps and then bisection
 * to 0.1 %; or `null` when nothing changes up to `end`. `inside` is the last value at which nothing changed.
 *
 * Growing steps rather than one bisection over the whole range, because a limit that binds may change twice on the
 * way, and the nearest change is the one that matters. Whole numbers move one by one once the steps are below one.
 */
export function nearestChange(
  start: number,
  end: number,
  whole: boolean,
  changed: (value: number) => boolean,
): { inside: number; outside: number } | null {
  const direction = Math.sign(end - start)
  if (direction === 0) return null
  let inside = start
  for (let step = firstStep(start, end, whole); inside !== end; step *= 2) {
    const probe = probeAt(start + direction * step, end, direction, whole)
    if (changed(probe)) return bisect(inside, probe, whole, changed)
    inside = probe
  }
  return null
}

const probeAt = (value: number, end: number, direction: number, whole: boolean): number => {
  const probe = whole ? Math.round(value) : value
  return (end - probe) * direction <= 0 ? end : probe
}

function bisect(
  from: number,
  to: number,
  whole: boolean,
  changed: (value: number) => boolean,
): { inside: number; outside: number } {
  let [inside, outside] = [from, to]
  while (Math.abs(outside - inside) > (whole ? 1 : precision(inside, outside))) {
    const middle = whole ? Math.round((inside + outside) / 2) : (inside + outside) / 2
    if (changed(middle)) outside = middle
    else inside = middle
  }
  return { inside, outside }
}

const firstStep = (start: number, end: number, whole: boolean): number =>
  whole ? 1 : Math.max(Math.abs(start) * 0.01, Math.abs(end - start) * 1e-4)

const precision = (inside: number, outside: number): number =>
  Math.max(1e-9, relativePrecision * Math.min(Math.abs(inside), Math.abs(outside)))

/** The end of a field's range in one direction. */
export const endOf = (range: Range, direction: 'up' | 'down'): number =>
  direction === 'up' ? range.max : range.min
