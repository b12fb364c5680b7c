import type { JobSheet, Paper } from '../jobs/sheet/sheet'
import { say, sheetWords } from '../jobs/sheet/sheet-words'
import { paragraph, plain } from './blocks'
import { assumed, cautions, localCode, signatures, sources, verdicts } from './closing-sections'
import { Flow } from './flow'
import { Ink, linesOf, styles } from './ink'
import { cutting, drawings, fitted, materials, readings } from './record-sections'
import { begin, type Page, type Section, type SectionId } from './section'
import { sums } from './sums-section'
import { banner, titleBlock } from './title-block'

/** A section, and what stands under its heading where it has nothing to say; without that it is left out. */
type Part = { id: SectionId; draw: Section; isEmpty?(sheet: JobSheet): boolean; none?: string }

/** The sections in their order. */
const parts: readonly Part[] = [
  { id: 'fitted', draw: fitted, isEmpty: (sheet) => sheet.fitted.length === 0, none: say('none.fitted', {}) },
  {
    id: 'drawings',
    draw: drawings,
    isEmpty: (sheet) => sheet.drawings.length === 0,
    none: say('none.drawn', {}),
  },
  { id: 'materials', draw: materials },
  { id: 'cutting', draw: cutting, isEmpty: (sheet) => sheet.cutting.length === 0, none: say('none.cut', {}) },
  {
    id: 'proof',
    draw: readings,
    isEmpty: (sheet) => sheet.readings.length === 0,
    none: say('none.proof', {}),
  },
  {
    id: 'verdicts',
    draw: verdicts,
    isEmpty: (sheet) => sheet.verdicts.length === 0,
    none: say('none.checked', {}),
  },
  { id: 'sums', draw: sums, isEmpty: (sheet) => sheet.sums.length === 0, none: say('none.worked', {}) },
  {
    id: 'assumed',
    draw: assumed,
    isEmpty: (sheet) => sheet.assumed.length === 0,
    none: say('none.assumed', {}),
  },
  {
    id: 'cautions',
    draw: cautions,
    isEmpty: (sheet) => sheet.cautions.length === 0,
    none: say('none.cautions', {}),
  },
  { id: 'localCode', draw: localCode, isEmpty: (sheet) => sheet.localCode.length === 0 },
  { id: 'signatures', draw: signatures },
  { id: 'sources', draw: sources, isEmpty: (sheet) => sheet.sources.length === 0 },
]

function addPart(page: Page, sheet: JobSheet, { id, draw, isEmpty, none }: Part): void {
  if (!isEmpty?.(sheet)) draw(page, sheet)
  else if (none)
    page.flow.add([begin(page, id), paragraph(page.ink, plain(none, styles.small), page.ink.width)])
}

/**
 * A job sheet as a PDF: what the page says, on paper, with its drawings as vectors. The same sheet gives the same
 * bytes.
 *
 * @param paper the paper that suits the job's units, unless said
 */
export async function renderSheetPdf(sheet: JobSheet, paper: Paper = sheet.paper): Promise<Uint8Array> {
  const title = say('runningHead', { title: sheetWords.title, job: sheet.name })
  const ink = new Ink(paper, { title, at: sheet.made.at })
  const bytes = collected(ink)
  const flow = new Flow(ink)
  const page = { ink, flow }
  flow.add([titleBlock(ink, sheet), ...banner(ink, sheet)])
  if (sheet.notes) flow.add([paragraph(ink, plain(sheet.notes), ink.width, { before: 8 })])
  for (const part of parts) addPart(page, sheet, part)
  runningHeads(ink, title, sheet)
  ink.document.end()
  return bytes
}

/** All that the document writes. */
const collected = ({ document }: Ink): Promise<Uint8Array> =>
  new Promise((resolve, reject) => {
    const chunks: Uint8Array[] = []
    document.on('data', (chunk: Uint8Array) => chunks.push(chunk))
    document.on('end', () => resolve(joined(chunks)))
    document.on('error', reject)
  })

function joined(chunks: readonly Uint8Array[]): Uint8Array {
  const all = new Uint8Array(chunks.reduce((sum, { length }) => sum + length, 0))
  let at = 0
  for (const chunk of chunks) {
    all.set(chunk, at)
    at += chunk.length
  }
  return all
}

/** What sheet this is on top of every page but the first, and which page of how many at every foot. */
function runningHeads(ink: Ink, title: string, sheet: JobSheet): void {
  const { start, count } = ink.document.bufferedPageRange()
  const made = `${say('madeWith', { version: sheet.made.version })} · ${sheet.made.at.slice(0, 10)}`
  for (let number = 1; number <= count; number++) {
    ink.document.switchToPage(start + number - 1)
    if (number > 1) {
      const [head] = linesOf(ink, plain(title, styles.tiny), ink.width)
      if (head) ink.line(head, ink.left, ink.top - 22)
      ink.rule([ink.left, ink.top - 11], [ink.right, ink.top - 11], 0.4)
    }
    const page = say('page', { page: String(number), pages: String(count) })
    const foot = ink.bottom + 8
    for (const [text, isRight] of [
      [made, false],
      [page, true],
    ] as const) {
      const [line] = linesOf(ink, plain(text, styles.tiny), ink.width)
      if (line) ink.line(line, isRight ? ink.right - line.width : ink.left, foot)
    }
  }
}
