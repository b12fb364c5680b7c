import { type Context, Hono } from 'hono'
import { checkJob } from '../jobs/check/board'
import type { JobLog } from '../jobs/log/job-log'
import { jobSheet } from '../jobs/sheet/job-sheet'
import { materialsCsv } from '../jobs/sheet/materials-csv'
import type { JobSheet, Paper } from '../jobs/sheet/sheet'
import { JobSheetPage, type SheetLinks } from '../pages/job-sheet'
import { asFile } from './as-file'
import type { Home } from './home'
import { problem } from './problem'
import { ofJob, refusedPage, refusedProblem } from './refused'
import { version } from './version'

/** A job's sheet as it stands at this moment. */
export function sheetOf(open: Parameters<typeof jobSheet>[0]): JobSheet {
  return jobSheet(open, checkJob(open.known), { at: new Date().toISOString(), version })
}

/** The paper that a request asks for, else the one that fits where the job is. */
export const paperOf = (context: Context, { paper }: JobSheet): Paper => {
  const asked = context.req.query('paper')
  return asked === 'a4' || asked === 'letter' ? asked : paper
}

/**
 * The sheet of a job: as a page (`/jobs/:id/sheet`), as JSON (`/api/jobs/:id/sheet`), and at both as a PDF and as the
 * CSV of its materials.
 *
 * @param base where it is mounted: `/jobs` for people, `/api/jobs` for programs
 */
export function jobSheets(home: Home, log: JobLog, base: '/jobs' | '/api/jobs'): Hono {
  const routes = new Hono()
  const refuse = base === '/jobs' ? refusedPage : refusedProblem

  const withJob = ofJob(log, refuse)
  const withSheet = (work: (context: Context, sheet: JobSheet) => Response | Promise<Response>) =>
    withJob((context, open) => work(context, sheetOf(open)))

  routes.get(
    '/:id/sheet',
    withSheet((context, sheet) =>
      base === '/jobs'
        ? context.html(
            <JobSheetPage sheet={sheet} paper={paperOf(context, sheet)} links={linksOf(context, home)} />,
          )
        : context.json(sheet),
    ),
  )

  routes.get(
    '/:id/sheet.csv',
    withSheet((context, sheet) =>
      context.body(materialsCsv(sheet), 200, {
        'content-type': 'text/csv; charset=utf-8; header=present',
        'content-disposition': asFile('attachment', sheet.name, 'csv'),
      }),
    ),
  )

  routes.get(
    '/:id/sheet.pdf',
    withSheet((context, sheet) => sheetAsPdf(context, home, sheet)),
  )

  return routes
}

/** A sheet as a PDF to be looked at, where this home can make one. */
export async function sheetAsPdf(context: Context, { sheetPdf }: Home, sheet: JobSheet): Promise<Response> {
  if (!sheetPdf) return problem(context, 404, 'This home makes no PDF. Print the page instead.')
  const bytes = await sheetPdf(sheet, paperOf(context, sheet))
  return context.body(bytes as Uint8Array<ArrayBuffer>, 200, {
    'content-type': 'application/pdf',
    'content-disposition': asFile('inline', sheet.name, 'pdf'),
  })
}

/** Where a sheet is found for each paper, and as a PDF for the one that is asked for. */
export function papersOf(context: Context, { sheetPdf }: Home, page: string, pdf: string) {
  const paper = context.req.query('paper')
  return {
    ...(sheetPdf ? { pdf: `${pdf}${paper ? `?${new URLSearchParams({ paper })}` : ''}` } : {}),
    a4: `${page}?paper=a4`,
    letter: `${page}?paper=letter`,
  }
}

function linksOf(context: Context, home: Home): SheetLinks {
  const job = context.req.param('id') ?? ''
  const at = `/jobs/${job}/sheet`
  return {
    job: `/jobs/${job}`,
    json: `/api/jobs/${job}/sheet`,
    csv: `${at}.csv`,
    ...papersOf(context, home, at, `${at}.pdf`),
  }
}
