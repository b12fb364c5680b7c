/** Where a value lies on the screen. */
export type Scale = (value: number) => number

/** From one end to the other. */
export type Span = readonly [number, number]

/** A straight scale: the ends of `values`, which differ, lie at the ends of `places`. */
export function straight([from, to]: Span, [start, end]: Span): Scale {
  return (value) => {
    const share = (value - from) / (to - from)
    return start * (1 - share) + end * share
  }
}

/** A logarithmic scale over values above zero; a value beyond an end of `values` lies at that end. */
export function logarithmic([from, to]: Span, places: Span): Scale {
  const scale = straight([Math.log(from), Math.log(to)], places)
  return (value) => scale(Math.log(Math.min(to, Math.max(from, value))))
}

/** One, two or five times a power of ten, of which about `count` make the span. */
function stepOf([from, to]: Span, count: number): number {
  const rough = (to - from) / count
  const power = 10 ** Math.floor(Math.log10(rough))
  const times = rough / power
  // Between two good numbers the parting is where either is as many times too large as the other is too small.
  if (times >= Math.sqrt(50)) return 10 * power
  if (times >= Math.sqrt(10)) return 5 * power
  return times >= Math.SQRT2 ? 2 * power : power
}

/** Multiples of a step, without what its last digit leaves behind. */
const multiple = (of: number, step: number): number => Number((of * step).toPrecision(12))

/** About so many values that are good to read, within a span from a lower to a higher value. */
export function ticks(span: Span, count: number): number[] {
  const step = stepOf(span, count)
  const first = Math.ceil(span[0] / step - 1e-9)
  const last = Math.floor(span[1] / step + 1e-9)
  return Array.from({ length: last - first + 1 }, (_, at) => multiple(first + at, step))
}

/** The least span around this one whose ends are good to read. */
export function widened(span: Span, count: number): Span {
  const step = stepOf(span, count)
  return [multiple(Math.floor(span[0] / step), step), multiple(Math.ceil(span[1] / step), step)]
}

/** A value beside an axis; with `among` it has as many decimals as the finest of them. */
export function axisText(value: number, among: readonly number[] = [value]): string {
  const decimals = Math.max(...among.map((each) => String(each).split('.')[1]?.length ?? 0))
  return value.toFixed(decimals).replace('-', '−')
}

/** The way through points, in the words of an SVG path; nothing where there are none. */
export const wayThrough = (points: readonly (readonly [number, number])[]): string =>
  points.length === 0 ? '' : `M${points.map((point) => point.join(',')).join('L')}`
