import { type Packing, type PackingOptions, packFewest } from './packing'
import { countCutUnits, countUnits } from './tape-network'

export type CutPlanInputs = {
  /** Length of each opening, 0.01–50 m. */
  openingsM: number[]
  /** Pitch of the tape's cut marks, 0.005–0.5 m, at most a reel. */
  cutLengthM: number
  /** 0.5–100 m; within 5 mm of a mark it counts as cut there. */
  reelLengthM: number
  /** 0.3–6 m. */
  channelLengthM: number
  /** What the saw takes between two pieces of channel, 0–0.01 m; the tape loses nothing. */
  kerfM: number
  /** Kept free of tape at each end of an opening, m; the channel still runs through. */
  endClearanceM: number
  /** Whether a tape longer than a reel may be joined from pieces. */
  joinTape: boolean
}

/** How an opening's tape comes about. `longer-than-reel`: only as separate runs, each fed by itself. */
export type TapeFit = 'one-piece' | 'joined' | 'longer-than-reel' | 'shorter-than-cut'

export type OpeningPlan = {
  openingM: number
  fit: TapeFit
  /** Length lit, floored to a cut, m. */
  tapeM: number
  /** What stays dark of the opening, both ends together, m. */
  darkGapM: number
  /** The lengths that make up the tape, m; more than one only when it is longer than a reel. */
  tapePiecesM: number[]
  /** The lengths that make up the channel, whole lengths first, m. */
  channelPiecesM: number[]
}

/** One reel or one length of channel: what is cut from it, for which opening (its position), and what is left. */
export type Stock = { pieces: { opening: number; lengthM: number }[]; restM: number }

export type StockPlan = {
  /** How many. */
  count: number
  stocks: Stock[]
  /** No plan that uses whole lengths first has fewer. */
  lowerBound: number
  /** Whether the count is proven to be the fewest. */
  proven: boolean
  /** Bought but not used, kerf included, m. */
  wasteM: number
}

export type CutPlan = {
  openings: OpeningPlan[]
  reels: StockPlan
  channels: StockPlan
  /** All openings together, m. */
  tapeM: number
}

/**
 * Cuts tape from reels and channel from lengths for a list of openings, with the fewest of each.
 *
 * Tape is cut on its marks only, so each opening's is floored to one; an opening shorter than a cut gets neither
 * tape nor channel. What is longer than a reel or a length takes whole ones first and the remainder is packed:
 * no other split with as few joints needs fewer, since two parts of one opening can always change places with
 * what lies beside them so that one of them is whole. Packing: see {@link packFewest}. The lists of pieces, which may
 * be thousands, are made when somebody looks.
 *
 * @param search how long the exact packing may take
 */
export function cutPlan(inputs: CutPlanInputs, search: PackingOptions = {}): CutPlan {
  const { openingsM, cutLengthM, reelLengthM, channelLengthM, kerfM, endClearanceM } = inputs
  const units = openingsM.map((openingM) => countUnits(Math.max(0, openingM - 2 * endClearanceM), cutLengthM))
  const channelM = openingsM.map((openingM, index) => (units[index] ? openingM : 0))
  const reelUnits = countCutUnits(reelLengthM, cutLengthM)

  const tapeM = sum(units) * cutLengthM
  const bought = {
    reel: { stockM: reelLengthM, usedM: tapeM },
    channel: { stockM: channelLengthM, usedM: sum(channelM) },
  }
  const tape = fromStock({ lengths: units, stock: reelUnits, gap: 0, unitM: cutLengthM }, bought.reel, search)
  const channel = fromStock(
    { lengths: channelM, stock: channelLengthM, gap: kerfM, unitM: 1 },
    bought.channel,
    search,
  )
  return {
    openings: openingsM.map((openingM, index) => {
      const lit = (units[index] as number) * cutLengthM
      return {
        openingM,
        fit: tapeFit(tape.pieces(index), inputs.joinTape),
        tapeM: lit,
        darkGapM: Math.max(0, openingM - lit),
        get tapePiecesM() {
          return tape.piecesM(index)
        },
        get channelPiecesM() {
          return channel.piecesM(index)
        },
      }
    }),
    reels: tape.plan,
    channels: channel.plan,
    tapeM,
  }
}

function tapeFit(pieces: number, joinTape: boolean): TapeFit {
  if (pieces === 0) return 'shorter-than-cut'
  if (pieces === 1) return 'one-piece'
  return joinTape ? 'joined' : 'longer-than-reel'
}

/** Lengths wanted, the length sold and the gap between pieces, all in units of `unitM` metres. */
type Demand = { lengths: number[]; stock: number; gap: number; unitM: number }

function fromStock(
  demand: Demand,
  { stockM, usedM }: { stockM: number; usedM: number },
  search: PackingOptions,
) {
  const { lengths, stock, gap, unitM } = demand
  const wanted = lengths.map((length) => wholeAndRest(length, stock))
  const cut = wanted.flatMap(({ rest }, opening) => (rest > 0 ? [{ opening, length: rest }] : []))
  const packing = packFewest(
    cut.map(({ length }) => length),
    stock,
    gap,
    search,
  )
  const uncut = sum(wanted.map(({ whole }) => whole))
  const count = uncut + packing.bins.length
  let stocks: Stock[] | undefined
  const plan: StockPlan = {
    count,
    get stocks() {
      stocks ??= laidOut(wanted, cut, packing, demand)
      return stocks
    },
    lowerBound: uncut + packing.lowerBound,
    proven: packing.proven,
    // A reel may be sold a few millimetres short of the marks it holds; that is no negative waste.
    wasteM: Math.max(0, count * stockM - usedM),
  }
  return {
    pieces: (opening: number): number => {
      const { whole = 0, rest = 0 } = wanted[opening] ?? {}
      return whole + (rest > 0 ? 1 : 0)
    },
    piecesM: (opening: number): number[] => {
      const { whole = 0, rest = 0 } = wanted[opening] ?? {}
      return [...Array<number>(whole).fill(stock), ...(rest > 0 ? [rest] : [])].map(
        (length) => length * unitM,
      )
    },
    plan,
  }
}

type Piece = { opening: number; length: number }

/** Every reel or length with its pieces: the whole ones of each opening, then those that are cut. */
function laidOut(
  wanted: readonly { whole: number }[],
  cut: readonly Piece[],
  { bins }: Packing,
  { stock, gap, unitM }: Demand,
): Stock[] {
  const uncut = wanted.flatMap(({ whole }, opening) =>
    Array.from({ length: whole }, () => [{ opening, length: stock }]),
  )
  return [...uncut, ...bins.map((bin) => bin.map((piece) => cut[piece] as Piece))].map((pieces) => ({
    pieces: pieces.map(({ opening, length }) => ({ opening, lengthM: length * unitM })),
    restM: restOf(pieces, stock, gap) * unitM,
  }))
}

function wholeAndRest(length: number, stock: number): { whole: number; rest: number } {
  const whole = Math.floor((length / stock) * (1 + 1e-9))
  const rest = length - whole * stock
  return { whole, rest: rest > stock * 1e-9 ? rest : 0 }
}

/** Every piece costs a cut, but the last one of a length that comes out exactly. */
function restOf(pieces: { length: number }[], stock: number, gap: number): number {
  return Math.max(0, stock - sum(pieces.map(({ length }) => length + gap)))
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0)
}
