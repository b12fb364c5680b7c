import { notReadyText } from '../jobs/sheet/job-sheet'
import type { JobSheet } from '../jobs/sheet/sheet'
import { sheetWords } from '../jobs/sheet/sheet-words'
import { verdictMarks } from '../questions/common/marks'
import { drawLines, heightOf, plain } from './blocks'
import type { Block } from './flow'
import { type Ink, type Line, linesOf, styles } from './ink'

const padding = 6

/** A row of the title block: boxes side by side, each with a label and what stands in it. */
type Box = { label: Line[]; lines: Line[]; x: number; width: number }

/** How wide the boxes are, row by row, as shares of the whole. */
const rows: readonly (readonly number[])[] = [
  [0.34, 0.26, 0.22, 0.18],
  [0.34, 0.26, 0.4],
]

/** The title block, as on a drawing: the name of the job, its boxes, and whether it is ready to hand over. */
export function titleBlock(ink: Ink, sheet: JobSheet): Block {
  const { width } = ink
  const name = linesOf(ink, plain(sheet.name, styles.title), width - 2 * padding)
  const kind = linesOf(ink, plain(sheetWords.title.toUpperCase(), styles.smallBold), width - 2 * padding)
  const boxes = boxesOf(ink, sheet)
  const rowHeights = boxes.map((row) =>
    Math.max(...row.map(({ label, lines }) => heightOf(label) + Math.max(heightOf(lines), 12) + padding)),
  )
  const headHeight = heightOf(kind) + heightOf(name) + 2 * padding
  const height = headHeight + rowHeights.reduce((sum, each) => sum + each, 0)
  return {
    height,
    draw: (x, y) => {
      drawLines(ink, name, x + padding, drawLines(ink, kind, x + padding, y + padding))
      let at = y + headHeight
      for (const [index, row] of boxes.entries()) {
        const rowHeight = rowHeights[index] ?? 0
        ink.rule([x, at], [x + width, at], index === 0 ? 1.2 : 0.5)
        for (const box of row) drawBox(ink, box, x, at, rowHeight)
        at += rowHeight
      }
      ink.box(x, y, width, height, 1.2)
    },
  }
}

/** The job's name stands above the boxes. */
function boxesOf(ink: Ink, { block: [, ...entries] }: JobSheet): Box[][] {
  let next = 0
  return rows.map((shares) => {
    let x = 0
    return shares.map((share) => {
      const { label = '', text = '' } = entries[next++] ?? {}
      const width = share * ink.width
      const inner = width - 2 * padding
      const box = {
        label: linesOf(ink, plain(label, styles.tiny), inner),
        lines: linesOf(ink, plain(text, styles.bold), inner),
        x,
        width,
      }
      x += width
      return box
    })
  })
}

function drawBox(ink: Ink, box: Box, x: number, y: number, height: number): void {
  const left = x + box.x
  drawLines(ink, box.lines, left + padding, drawLines(ink, box.label, left + padding, y + padding / 2))
  if (box.x > 0) ink.rule([left, y], [left, y + height])
}

/** Why the job is not ready to be handed over; nothing where it is. */
export function banner(ink: Ink, sheet: JobSheet): Block[] {
  if (sheet.notReady.length === 0) return []
  const bar = 5
  const text = `${verdictMarks.fails} ${notReadyText(sheet)}`
  const lines = linesOf(ink, plain(text, styles.banner), ink.width - bar - 2 * padding)
  return [bannerOf(ink, lines, bar)]
}

function bannerOf(ink: Ink, lines: readonly Line[], bar: number): Block {
  const height = heightOf(lines) + 2 * padding
  return {
    before: 6,
    height,
    draw: (x, y) => {
      ink.document.rect(x, y, bar, height).fill('#000')
      ink.box(x, y, ink.width, height, 1.2)
      drawLines(ink, lines, x + bar + padding, y + padding)
    },
    split: (most) => {
      const count = Math.floor((most - 2 * padding) / styles.banner.leading)
      if (count < 1) return undefined
      return [bannerOf(ink, lines.slice(0, count), bar), bannerOf(ink, lines.slice(count), bar)]
    },
  }
}
