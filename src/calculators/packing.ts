/** Where pieces go, and how sure it is that nothing does with fewer bins. */
export type Packing = {
  /** For each bin, the positions of its pieces in the list given, longest first. */
  bins: number[][]
  /** No packing at all has fewer bins than this. */
  lowerBound: number
  /** Whether `bins` is as few as the lower bound, so that fewer is impossible. */
  proven: boolean
  /** Positions of the pieces that no bin holds: larger than the capacity, negative, or not a number. */
  unfit: number[]
}

export type PackingOptions = {
  /**
   * Fillings of a bin that the exact search may look at before it gives up and says so [default 640,000: some 15 ms,
   * for which others wait].
   */
  nodeLimit?: number
}

/** For searches that pack hundreds of times: some 0.2 ms each, and now and then a bin more than it takes. */
export const roughSearch: PackingOptions = { nodeLimit: 5000 }

type Item = { index: number; size: number }
/** Items largest first; `room` is what one bin holds. Both include the gap, see {@link packFewest}. */
type Problem = { items: Item[]; room: number }

/** A set of items is a bit mask, so this many at most; beyond it first-fit decreasing has to do. */
const MOST_PIECES_SOLVED_EXACTLY = 30
const TOLERANCE = 1e-9

/**
 * Packs pieces into the fewest bins: reels, channel lengths, spools, driver outputs.
 *
 * Up to 30 pieces it is exact: bin completion (Korf 2002) with the dominance rule and the lower bound L2 of
 * Martello and Toth, *Knapsack Problems* (1990), chapter 8. Beyond that, or past the node limit, it is first-fit
 * decreasing (never over 11/9 of the fewest, plus 6/9; Dósa 2007), and `proven` says whether the bound meets it.
 *
 * @param pieces sizes, each >= 0, in any one unit
 * @param capacity what a bin holds, > 0, same unit
 * @param gap lost between two neighbours in a bin (a saw's kerf), >= 0, same unit: k pieces take their sum plus
 *   (k − 1) gaps. A rest behind the last piece need not hold another gap: the saw may eat all of it.
 * @example packFewest([1.2, 0.8, 1.2], 2).bins // [[0, 1], [2]]
 */
export function packFewest(
  pieces: readonly number[],
  capacity: number,
  gap = 0,
  { nodeLimit = 640_000 }: PackingOptions = {},
): Packing {
  const fits = (piece: number) => piece >= 0 && piece <= capacity * (1 + TOLERANCE)
  const unfit = pieces.flatMap((piece, index) => (fits(piece) ? [] : [index]))
  // k pieces and k − 1 gaps fit a bin just when k pieces, each with its gap, fit a bin that is one gap longer.
  const items = pieces
    .flatMap((piece, index) => (fits(piece) ? [{ index, size: piece + gap }] : []))
    .sort((a, b) => b.size - a.size || a.index - b.index)
  const problem = { items, room: (capacity + gap) * (1 + TOLERANCE) }

  const firstFit = firstFitDecreasing(problem)
  const bound = fewestConceivable(
    items.map((item) => item.size),
    problem.room,
    firstFit.length,
  )
  const best =
    items.length > MOST_PIECES_SOLVED_EXACTLY
      ? { bins: firstFit, lowerBound: bound }
      : improve(problem, firstFit, bound, nodeLimit)
  return {
    bins: best.bins.map((bin) => bin.map((item) => item.index)),
    lowerBound: best.lowerBound,
    proven: best.bins.length === best.lowerBound,
    unfit,
  }
}

function firstFitDecreasing({ items, room }: Problem): Item[][] {
  const bins: { items: Item[]; used: number }[] = []
  for (const item of items) {
    const bin = bins.find(({ used }) => used + item.size <= room)
    if (bin) {
      bin.items.push(item)
      bin.used += item.size
    } else bins.push({ items: [item], used: item.size })
  }
  return bins.map((bin) => bin.items)
}

/**
 * The lower bound L2: items over half a bin sit alone, and small ones only partly fill what those leave.
 *
 * @param enough where a bound of this many says all, so that no greater one is looked for
 */
function fewestConceivable(sizes: readonly number[], room: number, enough: number): number {
  const smallest = sizes.filter((size) => size <= room / 2)
  let fewest = 0
  for (const least of [0, ...new Set(smallest)]) {
    fewest = Math.max(fewest, fewestIgnoringBelow(sizes, room, least))
    if (fewest >= enough) break
  }
  return fewest
}

function fewestIgnoringBelow(sizes: readonly number[], room: number, least: number): number {
  let alone = 0
  let shareable = 0
  let shareableRoom = 0
  let small = 0
  for (const size of sizes) {
    if (size + least > room) alone++
    else if (size > room / 2) {
      shareable++
      shareableRoom += room - size
    } else if (size >= least) small += size
  }
  return alone + shareable + Math.max(0, Math.ceil((small - shareableRoom) / room))
}

/** Tries each number of bins from the bound upwards; the first that works is the fewest. */
function improve(problem: Problem, firstFit: Item[][], bound: number, nodeLimit: number) {
  const search = new BinCompletion(problem, nodeLimit)
  for (let count = bound; count < firstFit.length; count++) {
    const found = search.into(count)
    if (found) return { bins: found, lowerBound: count }
    if (search.exhausted) return { bins: firstFit, lowerBound: count }
  }
  return { bins: firstFit, lowerBound: firstFit.length }
}

/** Fills one bin after the other, each around the largest item left, and remembers sets that cannot be packed. */
class BinCompletion {
  private nodes = 0
  private readonly failed = new Map<number, number>()

  constructor(
    private readonly problem: Problem,
    private readonly nodeLimit: number,
  ) {}

  get exhausted(): boolean {
    return this.nodes >= this.nodeLimit
  }

  /** A packing into at most `count` bins, or undefined when there is none or the search is exhausted. */
  into(count: number): Item[][] | undefined {
    const all = 2 ** this.problem.items.length - 1
    const masks = this.pack(all, count)
    return masks?.map((mask) => this.members(mask))
  }

  private members(mask: number): Item[] {
    return this.problem.items.filter((_, position) => mask & (1 << position))
  }

  private pack(left: number, count: number): number[] | undefined {
    if (left === 0) return []
    if ((this.failed.get(left) ?? -1) >= count) return undefined
    const sizes = this.members(left).map((item) => item.size)
    if (fewestConceivable(sizes, this.problem.room, count + 1) <= count) {
      // The last bin's rest is this same sum in another order, which may differ in its last digits.
      const noise = this.problem.room * TOLERANCE
      const spare = count * this.problem.room - sizes.reduce((sum, size) => sum + size, 0) + noise
      let packed: number[] | undefined
      this.complete(left, spare, (bin) => {
        if (this.exhausted) return true
        this.nodes++
        const rest = this.pack(left & ~bin, count - 1)
        if (rest) packed = [bin, ...rest]
        return rest !== undefined
      })
      if (packed) return packed
    }
    if (!this.exhausted) this.failed.set(left, count)
    return undefined
  }

  /**
   * Tries the fillings around the largest item left that waste at most `spare` and that no other filling dominates,
   * until one `does`.
   */
  private complete(left: number, spare: number, does: (bin: number) => boolean): void {
    const { items, room } = this.problem
    const first = items.findIndex((_, position) => left & (1 << position))
    this.fill(left, first + 1, 1 << first, room - this.sizeAt(first), spare, does)
  }

  /** Whether a filling that goes on from this one did. A generator would say the same in three times the time. */
  private fill(
    left: number,
    from: number,
    bin: number,
    space: number,
    spare: number,
    does: (bin: number) => boolean,
  ): boolean {
    if (this.exhausted) return false
    const { items } = this.problem
    let position = from
    while (position < items.length && !(left & (1 << position) && this.sizeAt(position) <= space)) position++
    if (position === items.length) {
      if (space <= spare && !this.dominated(left, bin, space)) return does(bin)
      this.nodes++
      return false
    }
    const size = this.sizeAt(position)
    if (this.fill(left, position + 1, bin | (1 << position), space - size, spare, does)) return true
    // Leaving out one of several alike means leaving out them all, or the same filling would come up again.
    while (position < items.length && this.sizeAt(position) === size) position++
    return this.fill(left, position, bin, space, spare, does)
  }

  /** Whether an item left out could go in, or change places with a smaller one that is in: never worse. */
  private dominated(left: number, bin: number, space: number): boolean {
    const { items } = this.problem
    const first = items.findIndex((_, position) => left & (1 << position))
    let largestInside = 0
    for (let position = items.length - 1; position > first; position--) {
      const size = this.sizeAt(position)
      if (bin & (1 << position)) largestInside = Math.max(largestInside, size)
      else if (left & (1 << position) && size > largestInside && size <= space + largestInside) return true
    }
    return false
  }

  private sizeAt(position: number): number {
    return (this.problem.items[position] as Item).size
  }
}
