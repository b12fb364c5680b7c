import { getDocument, OPS, type PDFDocumentProxy } from 'pdfjs-dist/legacy/build/pdf.mjs'
import { describe, expect, it } from 'vitest'
import { checkJob } from '../../src/jobs/check/board'
import type { OpenJob } from '../../src/jobs/log/job-view'
import { jobSheet, notReadyText } from '../../src/jobs/sheet/job-sheet'
import type { JobSheet, Paper } from '../../src/jobs/sheet/sheet'
import { renderSheetPdf } from '../../src/sheet-pdf/sheet-pdf'
import { longHall, openJob, passage } from '../jobs/sheet/sample-jobs'

const sheetOf = (job: OpenJob): JobSheet =>
  jobSheet(job, checkJob(job.known), { at: '2026-03-05T10:00:00.000Z', version: '0.1.0' })

/** One stretch of text on a page, points from the lower left corner. */
type Item = { text: string; x: number; y: number; width: number; height: number }

type ReadPage = { width: number; height: number; items: Item[] }

/** A PDF read back by another program than the one that wrote it. */
async function read(pdf: Uint8Array): Promise<{ pages: ReadPage[]; document: PDFDocumentProxy }> {
  const document = await getDocument({
    data: pdf.slice(),
    verbosity: 0,
    standardFontDataUrl: 'node_modules/pdfjs-dist/standard_fonts/',
  }).promise
  const pages: ReadPage[] = []
  for (let number = 1; number <= document.numPages; number++) {
    const page = await document.getPage(number)
    const [left = 0, bottom = 0, right = 0, top = 0] = page.view
    const { items } = await page.getTextContent()
    pages.push({
      width: right - left,
      height: top - bottom,
      items: items.flatMap((item) =>
        'str' in item && item.str.trim() !== ''
          ? [
              {
                text: item.str,
                x: item.transform[4],
                y: item.transform[5],
                width: item.width,
                height: item.height,
              },
            ]
          : [],
      ),
    })
  }
  return { pages, document }
}

/** Text without its spaces: a line may break wherever there is one. */
const bare = (text: string): string => text.normalize('NFKC').replace(/\s/g, '')

const textOf = (pages: readonly ReadPage[]): string =>
  bare(pages.flatMap(({ items }) => items.map(({ text }) => text)).join(''))

/** The paper's sizes: ISO 216 A4 is 210 mm × 297 mm, letter is 8.5 in × 11 in; a point is 1/72 in. */
const points: Record<Paper, readonly [number, number]> = {
  a4: [(210 / 25.4) * 72, (297 / 25.4) * 72],
  letter: [612, 792],
}

const mm = 72 / 25.4

/** What stands out of the margins: 20 mm left, 13 mm right, and head and foot of 11 mm at the least. */
const outside = ({ width, height, items }: ReadPage): Item[] =>
  items.filter(
    (item) =>
      item.x < 20 * mm - 0.5 ||
      item.x + item.width > width - 13 * mm + 0.5 ||
      item.y < 11 * mm ||
      item.y + item.height > height - 11 * mm,
  )

describe.each(['a4', 'letter'] as const)('the sheet on %s', (paper) => {
  it('has pages of exactly that size, with nothing outside their margins', async () => {
    for (const job of [longHall(), passage(), openJob({ name: 'New' }, [])]) {
      const { pages } = await read(await renderSheetPdf(sheetOf(job), paper))
      for (const page of pages) {
        expect(page.width).toBeCloseTo(points[paper][0], 2)
        expect(page.height).toBeCloseTo(points[paper][1], 2)
        expect(outside(page)).toEqual([])
      }
    }
  })

  it('says all that the sheet says', async () => {
    for (const job of [longHall(), passage()]) {
      const sheet = sheetOf(job)
      const { pages } = await read(await renderSheetPdf(sheet, paper))
      const text = textOf(pages)
      const said = [
        notReadyText(sheet),
        ...sheet.block.flatMap(({ label, text }) => (label === 'Job' ? [text] : [label, text])),
        ...sheet.fitted.flatMap(({ where, facts }) => [
          where,
          ...facts.flatMap((fact) => [fact.label, fact.text]),
        ]),
        ...sheet.fitted.flatMap(({ facts }) => facts.map(({ contested }) => contested)),
        ...sheet.drawings.flatMap(({ caption, says }) => [caption, says]),
        ...sheet.materials.flatMap((material) => [
          material.what,
          material.text,
          material.where,
          material.note,
        ]),
        ...sheet.cutting.flatMap(({ title, columns, rows }) => [title, ...columns, ...rows.flat()]),
        ...sheet.readings.flatMap((reading) => [
          reading.reading,
          reading.expected,
          reading.measured,
          reading.where,
        ]),
        ...sheet.verdicts.flatMap(({ stateText, title, says }) => [stateText, title, says]),
        ...sheet.sums.flatMap(({ headline, figures, steps }) => [
          headline,
          ...figures.flatMap((figure) => [figure.label, figure.text]),
          ...steps.flatMap((step) => [step.label, step.formula, step.substituted, step.result]),
        ]),
        ...sheet.assumed.flatMap(({ text, why }) => [text, why]),
        ...sheet.cautions.map((caution) => caution.text),
        ...sheet.localCode,
        ...sheet.sources.map((source) => source.text),
      ]
      expect(said.filter((each) => !text.includes(bare(each)))).toEqual([])
      expect(text).not.toContain('□')
    }
  })
})

describe('the sheet as a PDF', () => {
  it('takes the paper of the job’s units', async () => {
    const { pages } = await read(await renderSheetPdf(sheetOf(passage())))
    expect(pages[0]?.width).toBeCloseTo(points.a4[0], 2)
  })

  it('tells every page from the others, and what sheet it is of', async () => {
    const { pages } = await read(await renderSheetPdf(sheetOf(longHall())))
    for (const [at, { items }] of pages.entries()) {
      const texts = items.map(({ text }) => text)
      expect(texts).toContain(`Page ${at + 1} of ${pages.length}`)
      if (at > 0) expect(texts).toContain('Job sheet: Long hall and stairs')
    }
  })

  it('loses no sign that answers use, nor one of a name', async () => {
    const name = '′ ″ ² ³ Ω × ≥ ≤ – — ✓ ✕ ▲ ° ½ µ Σ ρ π √ · − “é” ß ø Ж'
    const { pages } = await read(await renderSheetPdf(sheetOf(openJob({ name, place: name }, []))))
    expect(textOf(pages)).toContain(bare(name))
  })

  it('shows a box for a sign that its typeface does not have', async () => {
    const { pages } = await read(
      await renderSheetPdf(sheetOf(openJob({ name: '食堂 north', place: '' }, []))),
    )
    expect(textOf(pages)).toContain('□□north')
  })

  it('holds what is far too long', async () => {
    const job = openJob(
      { name: 'W'.repeat(200), place: 'long way '.repeat(110), notes: 'one more line\n'.repeat(3500) },
      [
        {
          facts: {
            channelName: 'word '.repeat(3000),
            tapeName: 'x'.repeat(9000),
            unheardOf: 'y '.repeat(500),
          },
        },
        { where: 'P'.repeat(200), facts: { voltage: '24 V', tapePower: '14.4 W/m', tapeLength: '5 m' } },
      ],
    )
    const sheet = sheetOf(job)
    const { pages } = await read(await renderSheetPdf(sheet))
    expect(pages.flatMap(outside)).toEqual([])
    expect(textOf(pages).split('onemoreline')).toHaveLength(3501)
    expect(textOf(pages).match(/x/g)?.length).toBeGreaterThanOrEqual(9000)
  })

  it('draws a cutting plan of many bars in pieces that are read', async () => {
    const openings = Array.from({ length: 60 }, (_, at) => `${1000 + 7 * at} mm`)
    const job = openJob({ name: 'Many' }, [{ facts: { units: 'metric', openings, cutLength: '50 mm' } }])
    const { pages } = await read(await renderSheetPdf(sheetOf(job)))
    expect(pages.flatMap(outside)).toEqual([])
    const smallest = Math.min(...pages.flatMap(({ items }) => items.map(({ height }) => height)))
    expect(smallest).toBeGreaterThan(6)
  })

  it('draws in black and grey lines, and no picture of points', async () => {
    const { document, pages } = await read(await renderSheetPdf(sheetOf(longHall())))
    expect(textOf(pages)).toContain(bare('Layout, lengths across to scale'))
    const colours = new Set<string>()
    for (let number = 1; number <= document.numPages; number++) {
      const { fnArray, argsArray } = await (await document.getPage(number)).getOperatorList()
      for (const [at, operator] of fnArray.entries()) {
        expect(operator).not.toBe(OPS.paintImageXObject)
        if (operator === OPS.setFillRGBColor || operator === OPS.setStrokeRGBColor)
          colours.add(String(argsArray[at]))
      }
    }
    expect(colours.size).toBeGreaterThan(2)
    for (const colour of colours) expect(colour).toMatch(/^#(..)\1\1$/)
  })

  it('is titled, in English, and the same whenever it is made', async () => {
    const sheet = sheetOf(longHall())
    const [one, other] = [await renderSheetPdf(sheet), await renderSheetPdf(sheet)]
    expect(Buffer.from(one).equals(Buffer.from(other))).toBe(true)
    const { document } = await read(one)
    const { info } = await document.getMetadata()
    expect(info).toMatchObject({ Title: 'Job sheet: Long hall and stairs', Language: 'en' })
    expect((await document.getOutline()).map(({ title }) => title)).toContain('Expected readings')
  })
})
