import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { checkJob } from '../../../src/jobs/check/board'
import { jobSheet } from '../../../src/jobs/sheet/job-sheet'
import { materialsCsv } from '../../../src/jobs/sheet/materials-csv'
import type { JobSheet } from '../../../src/jobs/sheet/sheet'
import { longHall } from './sample-jobs'

const job = longHall()
const sheet = jobSheet(job, checkJob(job.known), { at: '2026-03-05T10:00:00.000Z', version: '0.1.0' })

/** RFC 4180, read by its grammar: records end with CRLF; a quoted field doubles its quotes. */
function parsed(csv: string): string[][] {
  const records: string[][] = []
  let record: string[] = []
  let at = 0
  while (at < csv.length) {
    let field = ''
    if (csv[at] === '"') {
      for (at++; csv[at] !== '"' || csv[at + 1] === '"'; at++) {
        field += csv[at]
        if (csv[at] === '"') at++
      }
      at++
    } else while (at < csv.length && csv[at] !== ',' && csv[at] !== '\r') field += csv[at++]
    record.push(field)
    if (csv[at] === ',') at++
    else {
      expect(csv.slice(at, at + 2)).toBe('\r\n')
      at += 2
      records.push(record)
      record = []
    }
  }
  return records
}

const withText = (text: string): JobSheet => ({
  ...sheet,
  materials: sheet.materials
    .slice(0, 1)
    .map((material) => ({ ...material, what: text, where: text, note: text })),
})

describe('the materials as CSV', () => {
  it('reads back as it was, row by row', () => {
    const [names, ...rows] = parsed(materialsCsv(sheet))
    expect(names).toEqual(['What', 'Quantity', 'Unit', 'In words', 'For', 'From', 'Question', 'Note'])
    expect(rows.map(([what]) => what)).toEqual(sheet.materials.map(({ what }) => what))
    for (const [at, [, quantity, unit, text]] of rows.entries()) {
      const material = sheet.materials[at]
      expect(Number(quantity)).toBeGreaterThanOrEqual(material?.quantity ?? 0)
      expect(Number(quantity)).toBeLessThanOrEqual((material?.quantity ?? 0) + 0.01)
      expect([unit, text]).toEqual([material?.unit, material?.text])
    }
  })

  it('leaves the quantity empty that is not worked out', () => {
    const unknown = {
      ...sheet,
      materials: sheet.materials.map((material) => ({ ...material, quantity: null })),
    }
    for (const [, quantity] of parsed(materialsCsv(unknown)).slice(1)) expect(quantity).toBe('')
  })

  it('lets no cell become a formula, and changes no other text', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', minLength: 1 }), (text) => {
        const [, row] = parsed(materialsCsv(withText(text)))
        for (const cell of [row?.[0], row?.[4], row?.[7]]) {
          expect(cell).toBe(/^[=+\-@\t\r\uFF1D\uFF0B\uFF0D\uFF20]/.test(text) ? `'${text}` : text)
        }
      }),
      { numRuns: 1000 },
    )
    for (const formula of ['=1+2', '+1', '-1', '@sum', '\t=1', '\r=1']) {
      expect(parsed(materialsCsv(withText(formula)))[1]?.[0]).toBe(`'${formula}`)
    }
  })
})
