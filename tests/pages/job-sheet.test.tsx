import { once } from 'node:events'
import { readFileSync } from 'node:fs'
import type { AddressInfo } from 'node:net'
import { type ServerType, serve } from '@hono/node-server'
import { Hono } from 'hono'
import { secureHeaders } from 'hono/secure-headers'
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { checkJob } from '../../src/jobs/check/board'
import type { OpenJob } from '../../src/jobs/log/job-view'
import { jobSheet } from '../../src/jobs/sheet/job-sheet'
import type { JobSheet, Paper } from '../../src/jobs/sheet/sheet'
import { JobSheetPage } from '../../src/pages/job-sheet'
import { accessibilityFaults, openBrowser, openPhone, smallTargets, widest } from '../browser'
import { longHall, openJob, passage } from '../jobs/sheet/sample-jobs'

const jobs: Record<string, OpenJob> = {
  sound: longHall(),
  failing: passage(),
  empty: openJob({ name: 'New' }, []),
  long: openJob({ name: 'W'.repeat(200), notes: 'x'.repeat(3000) }, [
    { facts: { tapeName: 'y'.repeat(300) } },
  ]),
}

const sheetOf = (job: OpenJob): JobSheet =>
  jobSheet(job, checkJob(job.known), { at: '2026-03-05T10:00:00.000Z', version: '0.1.0' })

const self = ["'self'"]

/** The page alone, under the policy that it must live with. */
const app = new Hono()
app.use(secureHeaders({ contentSecurityPolicy: { defaultSrc: ["'none'"], styleSrc: self, imgSrc: self } }))
app.get('/style.css', (context) =>
  context.body(readFileSync('src/pages/style.css', 'utf8'), 200, { 'content-type': 'text/css' }),
)
app.get('/given', (context) =>
  context.html(
    <JobSheetPage sheet={sheetOf(longHall())} links={{ a4: '?paper=a4', letter: '?paper=letter' }} />,
  ),
)
app.get('/:job/:paper?', (context) => {
  const job = jobs[context.req.param('job')]
  if (!job) return context.notFound()
  const paper = context.req.param('paper') as Paper | undefined
  const links = { job: '/jobs/x', json: '/json', csv: '/csv', pdf: '/pdf', a4: '/a4', letter: '/letter' }
  return context.html(<JobSheetPage sheet={sheetOf(job)} links={links} {...(paper ? { paper } : {})} />)
})

let browser: Browser
let server: ServerType
let address = ''

beforeAll(async () => {
  browser = await openBrowser()
  server = serve({ fetch: app.fetch, port: 0, hostname: '127.0.0.1' })
  await once(server, 'listening')
  address = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
})

afterAll(async () => {
  server?.close()
  await browser?.close()
})

const onPhone = async <T,>(path: string, dark: boolean, look: (page: Page) => Promise<T>): Promise<T> => {
  const phone = await openPhone(browser, { dark, movesIn: false })
  const page = await phone.newPage()
  await page.goto(address + path)
  const seen = await look(page)
  await phone.close()
  return seen
}

/** What comes out of the browser's printer: each page's size in points, and its text without spaces. */
async function printed(path: string): Promise<{ width: number; height: number; text: string }[]> {
  const page = await browser.newPage()
  await page.goto(address + path)
  const data = new Uint8Array(await page.pdf({ preferCSSPageSize: true }))
  await page.close()
  const document = await getDocument({ data, verbosity: 0 }).promise
  return Promise.all(
    Array.from({ length: document.numPages }, async (_, at) => {
      const sheet = await document.getPage(at + 1)
      const { items } = await sheet.getTextContent()
      const [, , width = 0, height = 0] = sheet.view
      return { width, height, text: bare(items.map((item) => ('str' in item ? item.str : '')).join('')) }
    }),
  )
}

const bare = (text: string): string => text.normalize('NFKC').replace(/\s/g, '')

describe.each(Object.keys(jobs))('the sheet of a job that is %s', (name) => {
  it.each([
    ['day', false],
    ['night', true],
  ])('fits a phone, by %s, for everybody', async (_, dark) => {
    await onPhone(`/${name}`, dark, async (page) => {
      expect(await widest(page)).toBe(360)
      expect(await smallTargets(page)).toEqual([])
      expect(await accessibilityFaults(page)).toEqual([])
    })
  })
})

describe('the sheet of a link that was given away', () => {
  it('leads to no page of the job', async () => {
    await onPhone('/given', false, async (page) => {
      expect(await page.locator('a[href^="/jobs/"]').count()).toBe(0)
      expect(await page.textContent('h1')).toBe('Long hall and stairs')
      expect(await accessibilityFaults(page)).toEqual([])
    })
  })
})

describe('the sheet on paper', () => {
  it.each([
    ['a4', (210 / 25.4) * 72, (297 / 25.4) * 72],
    ['letter', 612, 792],
  ] as const)(
    'is printed on %s, page by page, without what is of the screen alone',
    async (paper, width, height) => {
      const pages = await printed(`/sound/${paper}`)
      for (const [at, page] of pages.entries()) {
        // The browser counts in pixels of 1/96 in, so that A4 comes out to within one of them.
        expect(Math.abs(page.width - width)).toBeLessThan(0.8)
        expect(Math.abs(page.height - height)).toBeLessThan(0.8)
        expect(page.text).toContain(`${at + 1}/${pages.length}`)
      }
      const text = pages.map((page) => page.text).join('')
      expect(text).not.toContain('MaterialsasCSV')
      const { materials, readings, cautions } = sheetOf(jobs.sound as OpenJob)
      for (const material of materials) expect(text).toContain(bare(material.what))
      for (const reading of readings) expect(text).toContain(bare(reading.expected))
      for (const caution of cautions) expect(text).toContain(bare(caution.text))
    },
  )

  it('keeps every heading with what follows it', async () => {
    const headings = [
      'Whatwasfitted,andwhere',
      'Materials',
      'Cuttinglist',
      'Expectedreadings',
      'Jobcheck',
      'Thesums',
    ]
    for (const { text } of await printed('/sound/letter')) {
      for (const heading of headings)
        expect(text.replace(/\d+\/\d+$/, '')).not.toMatch(new RegExp(`${heading}$`))
    }
  })

  it('says plainly that a job is not ready to be handed over', async () => {
    const [first] = await printed('/failing')
    expect(first?.text).toContain(bare('Not ready to hand over:'))
    const [sound] = await printed('/empty')
    expect(sound?.text).not.toContain(bare('Not ready'))
  })
})
