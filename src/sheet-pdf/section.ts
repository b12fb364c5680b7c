import type { JobSheet } from '../jobs/sheet/sheet'
import { sheetWords } from '../jobs/sheet/sheet-words'
import { type Column, heading, table } from './blocks'
import type { Block, Flow } from './flow'
import type { Ink, Run } from './ink'

/** Where the sections go, and what draws them. */
export type Page = { ink: Ink; flow: Flow }

/** Draws what a section says, under its heading. */
export type Section = (page: Page, sheet: JobSheet) => void

export type SectionId = keyof typeof sheetWords.headings

export const gap = 18

/** A heading, kept with the first of the blocks; it is listed in the document's outline. */
export function begin({ ink }: Page, id: SectionId): Block {
  const title = sheetWords.headings[id]
  const block = heading(ink, title, ink.width)
  return {
    ...block,
    draw: (x, y) => {
      ink.document.outline.addItem(title)
      block.draw(x, y)
    },
  }
}

export const halfOf = (ink: Ink): number => (ink.width - gap) / 2

/** A heading over what stands in two columns: they begin on the page of their heading. */
export function beginColumns(page: Page, lead: readonly Block[], blocks: readonly Block[]): void {
  const first = blocks[0]
  const room: Block = { height: (first?.height ?? 0) + 2, draw: () => undefined }
  page.flow.addKeeping(lead, room)
  page.flow.addInColumns(blocks, gap)
}

export const space = (height: number): Block => ({ height, keepsWithNext: true, draw: () => undefined })

/** A table whose heading, names and first row stay together. */
export function addTable(
  { ink, flow }: Page,
  lead: readonly Block[],
  columns: readonly Column[],
  rows: readonly (readonly (readonly Run[])[])[],
): void {
  const { header, rows: blocks } = table(ink, columns, rows, ink.width)
  flow.add([...lead, header, ...blocks], header)
}
