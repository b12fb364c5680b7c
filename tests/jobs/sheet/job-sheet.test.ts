import { describe, expect, it } from 'vitest'
import { checkJob } from '../../../src/jobs/check/board'
import type { OpenJob } from '../../../src/jobs/log/job-view'
import { jobSheet, notReadyText } from '../../../src/jobs/sheet/job-sheet'
import type { JobSheet, Material } from '../../../src/jobs/sheet/sheet'
import { questionById } from '../../../src/questions/registry'
import { longHall, openJob, passage } from './sample-jobs'

const made = { at: '2026-03-05T10:00:00.000Z', version: '0.1.0' }
const sheetOf = (job: OpenJob): JobSheet => jobSheet(job, checkJob(job.known), made)

const materialsNamed = (sheet: JobSheet, id: string): Material[] =>
  sheet.materials.filter((material) => material.id === id)

const quantities = (sheet: JobSheet, id: string): (number | null)[] =>
  materialsNamed(sheet, id).map(({ quantity }) => quantity)

/** A job of these facts, of the whole of it. */
const jobOf = (
  facts: Parameters<typeof openJob>[1][number]['facts'],
  ...parts: Parameters<typeof openJob>[1]
) => openJob({ name: 'Test' }, [{ facts }, ...parts])

const tape = { voltage: '24 V', tapePower: '4 W/ft' }

describe('the sheet of a whole job', () => {
  const sheet = sheetOf(longHall())

  it('has a title block as on a drawing', () => {
    expect(Object.fromEntries(sheet.block.map(({ label, text }) => [label, text]))).toMatchObject({
      Job: 'Long hall and stairs',
      Place: 'North house, first floor',
      Circuit: 'panel B, breaker 14',
      'Made by': 'the two of us',
      Date: '2026-03-05',
      State: 'Done',
      'Worked out by': 'Ladderside 0.1.0',
    })
    expect(sheet.paper).toBe('letter')
  })

  it('says what was fitted in the whole job and in each part', () => {
    expect(sheet.fitted.map(({ where }) => where)).toEqual(['Whole job', 'Long hall', 'Stairs'])
    const hall = sheet.fitted[1]?.facts ?? []
    expect(hall).toContainEqual({ label: 'Tape length', text: `13' 4" (4.064 m)`, contested: '' })
    // Readings prove the job; they are nothing that was fitted.
    expect(sheet.fitted.flatMap(({ facts }) => facts).map(({ text }) => text)).not.toContain('24.02 V')
  })

  it('names the answer behind every drawing, cutting list and material', () => {
    const numbers = sheet.sums.map(({ number }) => number)
    expect(numbers).toEqual(numbers.map((_, at) => at + 1))
    for (const { sum } of [...sheet.drawings, ...sheet.cutting]) expect(numbers).toContain(sum)
    for (const { sums } of sheet.materials) for (const sum of sums) expect(numbers).toContain(sum)
  })

  it('says each caution and each assumption once, the stops first', () => {
    const texts = sheet.cautions.map(({ text }) => text)
    expect(new Set(texts).size).toBe(texts.length)
    const levels = sheet.cautions.map(({ level }) => ['stop', 'care', 'note'].indexOf(level))
    expect(levels).toEqual([...levels].sort())
    const assumed = sheet.assumed.map(({ text, why }) => `${text} ${why}`)
    expect(new Set(assumed).size).toBe(assumed.length)
  })

  it('cites every source by its number, in the order of the list', () => {
    const cited = [...sheet.sums.flatMap(({ steps }) => steps), ...sheet.assumed, ...sheet.cautions].flatMap(
      ({ source }) => source ?? [],
    )
    expect([...new Set(cited)]).toEqual(sheet.sources.map((_, at) => at + 1))
  })

  it('shows every row of the job check, whatever it says', () => {
    const board = checkJob(longHall().known)
    expect(sheet.verdicts.map(({ state, title }) => `${state} ${title}`)).toEqual(
      board.rows.map(({ state, title }) => `${state} ${title}`),
    )
  })

  it('is the same for the same job, board and moment', () => {
    const job = longHall()
    expect(JSON.stringify(sheetOf(job))).toBe(JSON.stringify(sheetOf(job)))
    expect(JSON.parse(JSON.stringify(sheetOf(job)))).toEqual(sheetOf(job))
  })
})

describe('whether it may be handed over', () => {
  it('names every check that fails and everything of which two things are said', () => {
    const sheet = sheetOf(passage())
    expect(sheet.notReady).toContain(
      '“What are the voltage and the light at every point, fed like this?” fails (Passage)',
    )
    expect(sheet.notReady).toContain('two things are said of “Tape length” (Passage)')
    expect(notReadyText(sheet)).toMatch(/^Not ready to hand over: /)
    const length = sheet.fitted.flatMap(({ facts }) => facts).find(({ label }) => label === 'Tape length')
    // What was told last counts, what was told before stands beside it.
    expect(length?.text).toBe(`7.500 m (24' 7-1/4")`)
    expect(length?.contested).toContain('8.000 m')
  })

  it('shows what is contested wherever it belongs', () => {
    const sheet = sheetOf(jobOf({ price: '$0.18' }, { facts: { price: '$0.25' } }))
    expect(sheet.fitted[0]?.facts[0]?.contested).toContain('0.18')
    expect(sheetOf(jobOf({ price: '$0.18' })).fitted).toEqual([])
  })

  it('says nothing where nothing speaks against it, and of two ways to say the same', () => {
    const sheet = sheetOf(jobOf({ ...tape, tapeLength: '10 ft' }, { facts: { tapeLength: '120 in' } }))
    expect(sheet.notReady).toEqual([])
    expect(notReadyText(sheet)).toBe('')
  })
})

describe('the paper', () => {
  it('is the one that suits the units', () => {
    expect([sheetOf(longHall()).paper, sheetOf(passage()).paper]).toEqual(['letter', 'a4'])
  })
})

describe('materials', () => {
  it('takes reels and channel from the plan by which they are cut, and the tape of a part once', () => {
    // 13 ft 5 in and twice 2 ft 6 in, planned part by part: a reel of 5 m (16.4 ft) each; channel of 2 m: 13 ft 5 in
    // is 4.09 m, so 3, and twice 762 mm with a saw cut goes into 1.
    const sheet = sheetOf(longHall())
    expect(quantities(sheet, 'tape')).toEqual([2])
    expect(quantities(sheet, 'channel')).toEqual([4])
  })

  it('counts the whole job once where its plan holds the openings of its parts', () => {
    const openings = ['1 m', '1 m', '2 m']
    const sheet = sheetOf(
      jobOf({ ...tape, cutLength: '50 mm', openings }, { where: 'Bench', facts: { openings: ['2 m'] } }),
    )
    // By hand: 4 m of tape is one reel of 5 m; with saw cuts 1 m + 1 m does not come out of 2 m, so 3 of channel.
    expect(quantities(sheet, 'tape')).toEqual([1])
    expect(quantities(sheet, 'channel')).toEqual([3])
    expect(materialsNamed(sheet, 'tape')[0]?.note).toContain('Counted for the whole job')
    expect(sheet.cutting).toHaveLength(1)
  })

  it('gives the length of tape where no cut is planned, and asks for the plan', () => {
    const sheet = sheetOf(
      jobOf(
        tape,
        { where: 'Long hall', facts: { tapeLength: '10 ft' } },
        { where: 'Stairs', facts: { tapeLength: '5 ft' } },
      ),
    )
    const [material] = materialsNamed(sheet, 'tape')
    expect(material?.quantity).toBeCloseTo(15 * 0.3048, 9)
    expect(material?.where).toBe(`Long hall 10' 0" (3.048 m), Stairs 5' 0" (1.524 m)`)
    expect(material?.note).toContain(questionById('cut-plan')?.words.title)
  })

  it('takes the tape of the whole job as all of it, where its parts come to less', () => {
    const part = { where: 'Stairs', facts: { tapeLength: '5 ft' } }
    const [more] = materialsNamed(sheetOf(jobOf({ ...tape, tapeLength: '20 ft' }, part)), 'tape')
    expect(more?.quantity).toBeCloseTo(20 * 0.3048, 9)
    const [less] = materialsNamed(sheetOf(jobOf({ ...tape, tapeLength: '3 ft' }, part)), 'tape')
    expect(less?.quantity).toBeCloseTo(5 * 0.3048, 9)
  })

  it('counts cable by the planned route, the safe way', () => {
    // 20 ft with 10 % and 12 in at both ends: 24 ft (tests/published/pull-plan.test.ts has the rule).
    const sheet = sheetOf(longHall())
    const [hall, stairs] = materialsNamed(sheet, 'cable')
    expect(hall?.quantity).toBeCloseTo(24 * 0.3048, 9)
    expect(hall?.what).toContain('14 AWG')
    // 8 ft without a planned route: 8 × 1.1 + 2 = 10.8 ft.
    expect(stairs?.quantity).toBeCloseTo(10.8 * 0.3048, 9)
  })

  it('keeps cable between boxes apart from cable to the tape', () => {
    const sheet = sheetOf(
      jobOf({
        ...tape,
        gauge: '16 AWG',
        legs: [
          { length: '10 ft', from: 'box', to: 'box' },
          { length: '20 ft', from: 'box', to: 'tape' },
        ],
      }),
    )
    const cables = materialsNamed(sheet, 'cable')
    expect(cables.map(({ what }) => what)).toEqual(['Cable, driver to tape, 2 × 16 AWG', 'Cable, box to box'])
    expect(cables.map(({ quantity }) => (quantity ?? 0) / 0.3048)).toEqual([
      expect.closeTo(24, 6),
      expect.closeTo(13, 6),
    ])
  })

  it('names the sizes of the parts where one route was planned for all of them', () => {
    const gauge = (size: string) => ({ tapeLength: '5 ft', feedDistance: '8 ft', gauge: size })
    const sheet = sheetOf(
      jobOf(
        { ...tape, legs: ['8 ft', '8 ft'] },
        { where: 'A', facts: gauge('18 AWG') },
        { where: 'B', facts: gauge('16 AWG') },
      ),
    )
    expect(materialsNamed(sheet, 'cable').map(({ what }) => what)).toEqual([
      'Cable, driver to tape, 2 × 16 AWG and 18 AWG',
    ])
  })

  it('counts the cable of every feed and of the one they share, by size', () => {
    const sheet = sheetOf(
      jobOf({
        ...tape,
        tapeLength: '20 ft',
        feeds: [
          { at: '0 ft', distance: '10 ft', gauge: '18 AWG' },
          { at: '20 ft', distance: '30 ft', gauge: '18 AWG' },
        ],
        trunk: { distance: '5 ft', gauge: '14 AWG' },
      }),
    )
    const cables = materialsNamed(sheet, 'cable')
    const feet = Object.fromEntries(cables.map(({ what, quantity }) => [what, (quantity ?? 0) / 0.3048]))
    // Each 10 % longer and 2 ft more: 13 + 35, and 7.5.
    expect(feet['Cable, driver to tape, 2 × 18 AWG']).toBeCloseTo(48, 6)
    expect(feet['Cable, driver to tape, 2 × 14 AWG']).toBeCloseTo(7.5, 6)
  })

  it('counts a cable for every part that is fed like the whole job, and none for the whole of it', () => {
    const run = { tapeLength: '5 ft' }
    const fed = { ...tape, feedDistance: '10 ft', gauge: '16 AWG' }
    const sheet = sheetOf(jobOf(fed, { where: 'A', facts: run }, { where: 'B', facts: run }))
    const [cable] = materialsNamed(sheet, 'cable')
    // 10 ft with 10 % and 12 in at both ends is 13 ft, twice.
    expect((cable?.quantity ?? 0) / 0.3048).toBeCloseTo(26, 6)
    expect(cable?.where).toContain('A 13')
  })

  it('counts cable by its distance alone, where no tape is known', () => {
    const [cable] = materialsNamed(sheetOf(jobOf({ feedDistance: '10 ft' })), 'cable')
    expect((cable?.quantity ?? 0) / 0.3048).toBeCloseTo(13, 6)
  })

  it('says of cable without a size which question gives it', () => {
    const [cable] = materialsNamed(sheetOf(jobOf({ legs: ['10 ft'] })), 'cable')
    expect(cable?.what).toBe('Cable, driver to tape')
    expect(cable?.note).toContain(questionById('feed-gauge')?.words.title)
  })

  it('counts drivers that were told, each kind by itself', () => {
    const sheet = sheetOf(
      jobOf(
        { ...tape, driverPower: ['96 W', '96 W'] },
        { where: 'Stairs', facts: { tapeLength: '5 ft', driverPower: '60 W' } },
      ),
    )
    expect(
      materialsNamed(sheet, 'driver').map(({ what, quantity, where }) => [what, quantity, where]),
    ).toEqual([
      ['Driver, 24 V, 96 W', 2, 'Whole job'],
      ['Driver, 24 V, 60 W', 1, 'Stairs'],
    ])
  })

  it('counts Class 2 outputs where one driver is too much', () => {
    // 32 ft of 4.4 W/ft, 140.8 W: two outputs (CALCULATIONS, driver-size).
    const sheet = sheetOf(jobOf({ voltage: '24 V', tapePower: '4.4 W/ft', tapeLength: '32 ft' }))
    expect(materialsNamed(sheet, 'driver').map(({ quantity, unit }) => [quantity, unit])).toEqual([
      [2, 'output'],
    ])
  })

  it('counts a box for each place that has one, and a bit of each size once', () => {
    const box = { box: 'octagon 4 x 2-1/8', bundle: [{ diameter: '8 mm' }] }
    const sheet = sheetOf(
      jobOf({ box: 'square 4 x 1-1/2' }, { where: 'A', facts: box }, { where: 'B', facts: box }),
    )
    expect(materialsNamed(sheet, 'box').map(({ what, quantity }) => [what, quantity])).toEqual([
      ['Box, square 4 x 1-1/2', 1],
      ['Box, octagon 4 x 2-1/8', 2],
    ])
    expect(quantities(sheet, 'bit')).toEqual([1])
  })

  it('counts the plates of a hole near an edge', () => {
    const hole = { memberUse: 'stud-other', member: '2x4', holeDiameter: '1 in', edgeDistance: '1 in' }
    // IRC E3802.1: less than 1-1/4 in from the edge takes a plate.
    expect(quantities(sheetOf(jobOf(hole)), 'plate')[0]).toBeGreaterThanOrEqual(1)
  })

  it('says what is not worked out yet, and what to ask', () => {
    const sheet = sheetOf(openJob({ name: 'New' }, []))
    expect(sheet.materials.map(({ id }) => id)).toEqual([
      'tape',
      'channel',
      'cable',
      'driver',
      'dimmer',
      'box',
      'plate',
      'bit',
    ])
    for (const { quantity, text, question, note } of sheet.materials) {
      expect(quantity).toBeNull()
      expect(text).toBe('not worked out yet')
      expect(note).toContain(questionById(question)?.words.title)
    }
  })

  it('names no money unless a price was given', () => {
    expect(JSON.stringify(sheetOf(longHall()).materials)).not.toMatch(/[$€£]/)
    expect(JSON.stringify(sheetOf(passage()))).not.toMatch(/[$€£]\d/)
  })
})

describe('expected readings', () => {
  const at = (sheet: JobSheet, where: string, reading: string) =>
    sheet.readings.find((each) => each.where === where && each.reading === reading)

  it('gives the range of a usual meter about what a sound run reads', () => {
    const start = at(sheetOf(longHall()), 'Stairs', 'At the driver, tape on at full')
    // 0.5 % of 24 V and 0.02 V (common practice for a hand-held meter): 24 ± 0.14 V.
    expect(start?.low).toBeCloseTo(23.86, 9)
    expect(start?.high).toBeCloseTo(24.14, 9)
    expect(start?.expected).toBe('23.86 V to 24.14 V')
  })

  it('sets what was measured beside it', () => {
    const sheet = sheetOf(longHall())
    expect(at(sheet, 'Long hall', 'At the driver, tape on at full')).toMatchObject({
      measured: '24.02 V: as expected',
      within: true,
    })
    expect(at(sheet, 'Long hall', 'On the first pads of the tape')).toMatchObject({ within: true })
    expect(at(sheet, 'Stairs', 'On the first pads of the tape')).toMatchObject({ measured: '', within: null })
  })

  it('says of a reading that it is not what it should be', () => {
    const run = { voltage: '24 V', tapePower: '14.4 W/m', tapeLength: '5 m', tapeEnd: '17.9 V' }
    expect(at(sheetOf(jobOf(run)), 'Whole job', 'On the last pads of the tape')).toMatchObject({
      measured: '17.9 V: not as expected',
      within: false,
    })
  })

  it('names the lowest point of a run that is fed at both ends', () => {
    const feeds = [
      { at: '0 m', distance: '2 m', gauge: '18 AWG' },
      { at: '5 m', distance: '8 m', gauge: '18 AWG' },
    ]
    const sheet = sheetOf(jobOf({ voltage: '24 V', tapePower: '14.4 W/m', tapeLength: '5 m', feeds }))
    expect(sheet.readings.map(({ reading }) => reading).join('\n')).toMatch(
      /At the lowest point, .* from the start/,
    )
  })

  it('falls back on the end of the cable where the tape is not known', () => {
    const sheet = sheetOf(jobOf({ voltage: '24 V', load: '60 W', feedDistance: '40 ft' }))
    expect(sheet.readings.map(({ reading }) => reading)).toContain('At the far end of the cable, full load')
  })
})
