import { resolve } from 'node:path'
import { expect, it } from 'vitest'
import { checkJob } from '../../src/jobs/check/board'
import { jobSheet } from '../../src/jobs/sheet/job-sheet'
import type { JobSheet } from '../../src/jobs/sheet/sheet'
import { printingApart } from '../../src/sheet-pdf/printing-apart'
import { renderSheetPdf } from '../../src/sheet-pdf/sheet-pdf'
import { longHall } from '../jobs/sheet/sample-jobs'

const job = longHall()
const sheet = jobSheet(job, checkJob(job.known), { at: '2026-03-05T10:00:00.000Z', version: '0.1.0' })

/** The built thread, as the server begins it. */
const script = resolve('dist/sheet-printer.js')

it('prints in a thread of its own what is printed here, each order for itself', async () => {
  const print = printingApart(script)
  const printed = await Promise.all([print(sheet, 'a4'), print(sheet, 'letter'), print(sheet, 'a4')])
  const here = [await renderSheetPdf(sheet, 'a4'), await renderSheetPdf(sheet, 'letter')]
  const texts = printed.map((bytes) => Buffer.from(bytes).toString('base64'))
  expect(texts[0]).toBe(Buffer.from(here[0] ?? []).toString('base64'))
  expect(texts[1]).toBe(Buffer.from(here[1] ?? []).toString('base64'))
  expect(texts[2]).toBe(texts[0])
})

it('says what went wrong with one sheet, and prints the next', async () => {
  const print = printingApart(script)
  await expect(print({} as JobSheet, 'a4')).rejects.toBeInstanceOf(Error)
  expect((await print(sheet, 'a4')).length).toBeGreaterThan(1000)
})

it('says so where there is no such thread', async () => {
  const print = printingApart(resolve('dist/nothing-here.js'))
  await expect(print(sheet, 'a4')).rejects.toBeInstanceOf(Error)
  await expect(print(sheet, 'a4')).rejects.toBeInstanceOf(Error)
})
