import type { Block } from './flow'
import { type Ink, type Line, linesOf, type Run, type Style, styles } from './ink'

type Keeping = Pick<Block, 'before' | 'keepsWithNext'>

/** How high lines stand that follow on one another. */
export const heightOf = (lines: readonly Line[]): number =>
  lines.reduce((sum, { leading }) => sum + leading, 0)

/** Draws lines one under the other. @returns where the next would stand */
export function drawLines(ink: Ink, lines: readonly Line[], x: number, y: number): number {
  let at = y
  for (const line of lines) {
    ink.line(line, x, at)
    at += line.leading
  }
  return at
}

/** How many of these lines fit a height. */
function countFitting(lines: readonly Line[], height: number): number {
  let count = 0
  while (count < lines.length && heightOf(lines.slice(0, count + 1)) <= height) count++
  return count
}

/** Lines of text, divided between lines where they are higher than a page. */
function ofLines(ink: Ink, lines: readonly Line[], keeping: Keeping): Block {
  return {
    ...keeping,
    height: heightOf(lines),
    draw: (x, y) => drawLines(ink, lines, x, y),
    split: (height) => {
      const count = countFitting(lines, height)
      if (count === 0) return undefined
      return [ofLines(ink, lines.slice(0, count), keeping), ofLines(ink, lines.slice(count), {})]
    },
  }
}

/** A paragraph. */
export const paragraph = (ink: Ink, runs: readonly Run[], width: number, keeping: Keeping = {}): Block =>
  ofLines(ink, linesOf(ink, runs, width), keeping)

export const plain = (text: string, style: Style = styles.text): Run[] => [{ text, style }]

/** A heading over a thick rule. */
export function heading(ink: Ink, text: string, width: number): Block {
  const lines = linesOf(ink, plain(text, styles.heading), width)
  const height = heightOf(lines)
  return {
    before: 18,
    keepsWithNext: true,
    height: height + 5,
    draw: (x, y) => {
      drawLines(ink, lines, x, y)
      ink.rule([x, y + height + 1], [x + width, y + height + 1], 1.2)
    },
  }
}

/** A label and what stands beside it, over a thin rule. */
export function entry(ink: Ink, label: string, value: readonly Run[], width: number, share = 0.4): Block {
  const gap = 6
  const labels = linesOf(ink, plain(label, styles.label), width * share - gap)
  const values = linesOf(ink, value, width * (1 - share))
  return ruled(
    ink,
    [
      { lines: labels, x: 0 },
      { lines: values, x: width * share },
    ],
    width,
  )
}

/** A label at the left and a value at the right, as in a ledger. */
export function ledger(ink: Ink, label: string, value: string, width: number, style: Style): Block {
  const values = linesOf(ink, plain(value, style), width * 0.58)
  const valueWidth = Math.max(...values.map((line) => line.width))
  const labels = linesOf(ink, plain(label, styles.small), width - valueWidth - 6)
  const right = values.map((line) => ({ ...line, pieces: shifted(line, valueWidth - line.width) }))
  return ruled(
    ink,
    [
      { lines: labels, x: 0 },
      { lines: right, x: width - valueWidth },
    ],
    width,
  )
}

const shifted = ({ pieces }: Line, by: number) => pieces.map((piece) => ({ ...piece, x: piece.x + by }))

type Cell = { lines: readonly Line[]; x: number }

function ruled(ink: Ink, cells: readonly Cell[], width: number): Block {
  const inner = Math.max(...cells.map(({ lines }) => heightOf(lines)))
  return {
    height: inner + 3,
    draw: (x, y) => {
      for (const cell of cells) drawLines(ink, cell.lines, x + cell.x, y + 1)
      ink.rule([x, y + inner + 2.5], [x + width, y + inner + 2.5], 0.25, '#888')
    },
    split: (height) => divided(ink, cells, height, (parts) => ruled(ink, parts, width)),
  }
}

/** Cells side by side, divided at a height between their lines. */
function divided(
  ink: Ink,
  cells: readonly Cell[],
  height: number,
  made: (cells: readonly Cell[]) => Block,
): readonly [Block, Block] | undefined {
  const counts = cells.map(({ lines }) => countFitting(lines, height - 8))
  if (counts.every((count) => count === 0)) return undefined
  const part = (side: 0 | 1) =>
    cells.map(({ lines, x }, at) => ({
      x,
      lines: side === 0 ? lines.slice(0, counts[at]) : lines.slice(counts[at]),
    }))
  const rest = part(1)
  // An empty cell still has a height of its own.
  const whole = rest.map((cell) =>
    cell.lines.length > 0 ? cell : { ...cell, lines: linesOf(ink, plain(''), 1) },
  )
  return [made(part(0)), made(whole)]
}

/** One column of a table: its name, its share of the width, and whether it is left to be written in. */
export type Column = { name: string; share: number; isBlank?: boolean }

const padding = 3

/** A table's rows, and the row of names that stands over them on every page. */
export function table(
  ink: Ink,
  columns: readonly Column[],
  rows: readonly (readonly (readonly Run[])[])[],
  width: number,
): { header: Block; rows: Block[] } {
  const lefts = columns.map((_, at) =>
    columns.slice(0, at).reduce((sum, { share }) => sum + share * width, 0),
  )
  const cellsOf = (texts: readonly (readonly Run[])[]): Cell[] =>
    columns.map(({ share }, at) => {
      const inset = at === 0 ? 0 : padding
      const runs = texts[at] ?? []
      return {
        lines: linesOf(ink, runs.length > 0 ? runs : plain(''), share * width - inset - padding),
        x: (lefts[at] ?? 0) + inset,
      }
    })
  const names = cellsOf(columns.map(({ name }) => plain(name, styles.smallBold)))
  const nameHeight = Math.max(...names.map(({ lines }) => heightOf(lines)))
  const header: Block = {
    keepsWithNext: true,
    height: nameHeight + 5,
    draw: (x, y) => {
      for (const cell of names) drawLines(ink, cell.lines, x + cell.x, y + 1)
      ink.rule([x, y + nameHeight + 4], [x + width, y + nameHeight + 4], 0.9)
    },
  }
  const blanks = columns.flatMap(({ share, isBlank }, at) =>
    isBlank ? [{ x: lefts[at] ?? 0, width: share * width }] : [],
  )
  const drawn = rows.map((row) => tableRow(ink, cellsOf(row), blanks, width))
  // No row stands alone on a page, at the head of a table or at its foot.
  const keeps = (at: number): boolean => at < drawn.length - 1 && (at === 0 || at === drawn.length - 2)
  return { header, rows: drawn.map((row, at) => ({ ...row, keepsWithNext: keeps(at) })) }
}

/** Hand-writing takes more room than print. */
const leastBlankHeight = 18

function tableRow(
  ink: Ink,
  cells: readonly Cell[],
  blanks: readonly { x: number; width: number }[],
  width: number,
): Block {
  const inner = Math.max(...cells.map(({ lines }) => heightOf(lines)))
  const height = Math.max(inner + 5, blanks.length > 0 ? leastBlankHeight : 0)
  return {
    height,
    draw: (x, y) => {
      for (const cell of cells) drawLines(ink, cell.lines, x + cell.x, y + 2)
      for (const blank of blanks) ink.box(x + blank.x, y, blank.width, height, 0.5)
      ink.rule([x, y + height], [x + width, y + height], 0.25, '#888')
    },
    split: (most) => divided(ink, cells, most, (parts) => tableRow(ink, parts, blanks, width)),
  }
}
