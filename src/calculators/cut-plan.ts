import { packFewest } from './packing'
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
 * what lies beside them so that one of them is whole. Packing: see {@link packFewest}.
 */
export function cutPlan(inputs: CutPlanInputs): CutPlan {
  const { openingsM, cutLengthM, reelLengthM, channelLengthM, kerfM, endClearanceM } = inputs
  const units = openingsM.map((openingM) => countUnits(Math.max(0, openingM - 2 * endClearanceM), cutLengthM))
  const channelM = openingsM.map((openingM, index) => (units[index] ? openingM : 0))
  const reelUnits = countCutUnits(reelLengthM, cutLengthM)

  const tape = fromStock({ lengths: units, stock: reelUnits, gap: 0, unitM: cutLengthM })
  const channel = fromStock({ lengths: channelM, stock: channelLengthM, gap: kerfM, unitM: 1 })
  const tapeM = sum(units) * cutLengthM
  return {
    openings: openingsM.map((openingM, index) => {
      const lit = (units[index] as number) * cutLengthM
      const tapePiecesM = tape.piecesM[index] as number[]
      return {
        openingM,
        fit: tapeFit(tapePiecesM.length, inputs.joinTape),
        tapeM: lit,
        darkGapM: Math.max(0, openingM - lit),
        tapePiecesM,
        channelPiecesM: channel.piecesM[index] as number[],
      }
    }),
    reels: { ...tape.plan, wasteM: waste(tape.plan, reelLengthM, tapeM) },
    channels: { ...channel.plan, wasteM: waste(channel.plan, channelLengthM, sum(channelM)) },
    tapeM,
  }
}

function tapeFit(pieces: number, joinTape: boolean): TapeFit {
  if (pieces === 0) return 'shorter-than-cut'
  if (pieces === 1) return 'one-piece'
  return joinTape ? 'joined' : 'longer-than-reel'
}

/** A reel may be sold a few millimetres short of the marks it holds; that is no negative waste. */
function waste({ stocks }: { stocks: Stock[] }, stockM: number, usedM: number): number {
  return Math.max(0, stocks.length * stockM - usedM)
}

/** Lengths wanted, the length sold and the gap between pieces, all in units of `unitM` metres. */
type Demand = { lengths: number[]; stock: number; gap: number; unitM: number }

function fromStock({ lengths, stock, gap, unitM }: Demand) {
  const wanted = lengths.map((length) => wholeAndRest(length, stock))
  const cut = wanted.flatMap(({ rest }, opening) => (rest > 0 ? [{ opening, length: rest }] : []))
  const packing = packFewest(
    cut.map(({ length }) => length),
    stock,
    gap,
  )
  const uncut = wanted.flatMap(({ whole }, opening) =>
    Array.from({ length: whole }, () => [{ opening, length: stock }]),
  )
  const bins = [
    ...uncut,
    ...packing.bins.map((bin) => bin.map((piece) => cut[piece] as (typeof cut)[number])),
  ]
  return {
    piecesM: wanted.map(({ whole, rest }) =>
      [...Array<number>(whole).fill(stock), ...(rest > 0 ? [rest] : [])].map((length) => length * unitM),
    ),
    plan: {
      stocks: bins.map((pieces) => ({
        pieces: pieces.map(({ opening, length }) => ({ opening, lengthM: length * unitM })),
        restM: restOf(pieces, stock, gap) * unitM,
      })),
      lowerBound: uncut.length + packing.lowerBound,
      proven: packing.proven,
    },
  }
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
