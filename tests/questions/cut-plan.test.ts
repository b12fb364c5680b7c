import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Answer } from '../../src/questions/common/answer'
import { type CutPlanPicture, cutPlan } from '../../src/questions/cut-plan'

function answered(raw: object): Answer {
  const result = cutPlan.answer(raw)
  if (!result.ok) throw new Error(JSON.stringify(result.errors))
  return result.answer
}

const refused = (raw: unknown): string[] => {
  const result = cutPlan.answer(raw)
  return result.ok ? [] : result.errors.map(({ field }) => field)
}

const figure = (answer: Answer, id: string): number =>
  answer.figures.find((each) => each.id === id)?.value as number

const counts = (answer: Answer) => [figure(answer, 'reels'), figure(answer, 'channels')]

const windows = { openings: Array(5).fill('1.42 m'), channelLength: '2.5 m', cutLength: '50 mm' }

/** The fewest bins by trying every way to put each piece into one: for a handful of pieces only. */
function byTryingAll(sizes: readonly number[], room: number, gap: number): number {
  const place = (at: number, bins: readonly number[], best: number): number => {
    const size = sizes[at]
    if (size === undefined) return Math.min(best, bins.length)
    if (bins.length >= best) return best
    const into = bins.flatMap((used, bin) =>
      used + gap + size <= room + 1e-9
        ? [bins.map((each, other) => (other === bin ? used + gap + size : each))]
        : [],
    )
    return [...into, [...bins, size]].reduce((least, next) => place(at + 1, next, least), best)
  }
  return place(0, [], sizes.length + 1)
}

describe('cut-plan', () => {
  it('cuts five windows of 1.42 m on marks every 50 mm: 28 units each, 20 mm dark (by hand)', () => {
    const answer = answered(windows)
    // Three of 1.40 m from a 5 m reel, then two; one of 1.42 m from each 2.5 m of channel.
    expect(counts(answer)).toEqual([2, 5])
    expect(figure(answer, 'tape')).toBeCloseTo(7, 9)
    expect(figure(answer, 'tapeWaste')).toBeCloseTo(3, 9)
    expect(figure(answer, 'channelWaste')).toBeCloseTo(5.4, 9)
    expect(answer.verdict).toBe('info')
    expect(answer.headline).toMatch(/^Buy 2 reels and 5 lengths of channel: .*No plan needs fewer\./)
  })

  it('lists every opening, every reel and every channel', () => {
    const { table } = answered({ ...windows, units: 'metric' })
    expect(table?.rows).toHaveLength(5 + 2 + 5)
    expect(table?.rows[0]).toEqual(['Opening 1, 1.420 m', '20 mm', 'tape 1.400 m (28 units)'])
    expect(table?.rows[5]?.[2]).toBe(
      '1.400 m (28 units) for opening 1; 1.400 m (28 units) for opening 2; 1.400 m (28 units) for opening 3',
    )
    // 2.5 m less 1.42 m less a saw cut of 3 mm
    expect(table?.rows[7]?.[1]).toBe('1.077 m')
  })

  it('fails on a run longer than a reel, until a joint is allowed', () => {
    const raw = { openings: ['6 m', '3.2 m'], cutLength: '100 mm', reelLength: '5 m', units: 'metric' }
    const failing = answered(raw)
    expect(failing.verdict).toBe('fails')
    expect(failing.headline).toMatch(/separate runs of 5\.000 m \(.*\) and 1\.000 m/)
    const joined = answered({ ...raw, joinTape: true })
    expect(joined.verdict).toBe('info')
    expect(joined.headline).toContain('joined from')
    expect(joined.cautions.map(({ text }) => text).join()).toContain('A joint lies on a cut mark')
    const claimed = answered({ ...raw, claim: { figure: 'verdict', value: 'holds' } })
    expect(claimed.claim?.wouldHoldIf).toContain('Tape may be joined: yes')
    expect(claimed.claim?.margin).toContain('20 % over')
  })

  it('names an opening shorter than a cut, and gives it neither tape nor channel', () => {
    const answer = answered({ openings: ['1 m', '30 mm'], cutLength: '50 mm' })
    expect(counts(answer)).toEqual([1, 1])
    expect(answer.headline).toContain('left out: opening 2')
    expect(answered({ openings: '30 mm', cutLength: '50 mm' }).headline).toContain('Nothing to cut')
  })

  it('keeps the ends clear: 0.8 m less 2 × 10 mm holds seven units of 100 mm', () => {
    const answer = answered({ openings: Array(4).fill('0.8 m'), cutLength: '100 mm', endClearance: '10 mm' })
    expect(figure(answer, 'tape')).toBeCloseTo(2.8, 9)
  })

  it('judges a claim on the reels', () => {
    const raw = { openings: Array(3).fill('4.1 m'), reelLength: '5 m', cutLength: '50 mm' }
    expect(answered({ ...raw, claim: '3' }).claim?.verdict).not.toBe('fails')
    const failing = answered({ ...raw, claim: { figure: 'reels', value: 2 } })
    expect(failing).toMatchObject({ verdict: 'fails', claim: { verdict: 'fails' } })
    // Two runs of 4.1 m on one reel need 8.2 m of it.
    expect(failing.claim?.wouldHoldIf.join()).toContain('8.200 m')
    expect(answered({ ...raw, claim: '5' }).claim?.verdict).toBe('holds')
  })

  it('says the lower bound where the fewest is not proven', () => {
    // Beyond 30 pieces first-fit decreasing: sizes at which it wastes bins (Johnson 1974: 1/2 + e, 1/4 + 2e, 1/4 + e, 1/4 − 2e)
    const sizes = [
      ...Array(12).fill(2.6),
      ...Array(12).fill(1.35),
      ...Array(12).fill(1.3),
      ...Array(24).fill(1.1),
    ]
    const answer = answered({ openings: sizes.map((size) => `${size} m`), cutLength: '50 mm' })
    const limit = answer.limits.find(({ id }) => id === 'fewestReels')
    expect(limit?.binds).toBe(false)
    expect(limit?.value).toBeLessThan(figure(answer, 'reels'))
    expect(answer.headline).toContain(`never fewer than ${limit?.value} reels`)
  })

  it('buys as few as trying everything does', () => {
    const cases = fc.record({
      openings: fc.array(fc.integer({ min: 5, max: 190 }), { minLength: 1, maxLength: 6 }),
      reelCm: fc.integer({ min: 190, max: 400 }),
    })
    fc.assert(
      fc.property(cases, ({ openings, reelCm }) => {
        const answer = answered({
          openings: openings.map((cm) => `${cm} cm`),
          cutLength: '5 cm',
          reelLength: `${reelCm} cm`,
          channelLength: '2 m',
          kerf: '3 mm',
        })
        const tape = openings.map((cm) => Math.floor(cm / 5))
        // A reel within 5 mm of a mark ends on it; in whole centimetres that is the mark itself.
        expect(figure(answer, 'reels')).toBe(byTryingAll(tape, Math.floor(reelCm / 5), 0))
        expect(figure(answer, 'channels')).toBe(byTryingAll(openings, 200, 0.3))
      }),
      { numRuns: 500 },
    )
  })

  it.each([
    [{}, ['openings', 'cutLength']],
    [{ openings: [] }, ['openings', 'cutLength']],
    [
      { openings: ['-3 m', 'x', 4], cutLength: '1 m' },
      ['openings.0', 'openings.1', 'openings.2', 'cutLength'],
    ],
    [
      { ...windows, reelLength: '0.2 m', channelLength: '9 m', kerf: '2 cm' },
      ['reelLength', 'channelLength', 'kerf'],
    ],
    [
      { ...windows, joinTape: 'maybe', endClearance: '2 m', glue: 'yes' },
      ['joinTape', 'endClearance', 'glue'],
    ],
    [{ openings: Array(201).fill('1 m'), cutLength: '50 mm' }, ['openings']],
    [7, ['']],
  ])('names every fault of %j', (raw, fields) => {
    expect(refused(raw).sort()).toEqual([...fields].sort())
  })

  it('does not mind the units: 46 in is 1.1684 m; one opening may stand alone', () => {
    const us = answered({ openings: '46 in', cutLength: '2 in', reelLength: '16.4 ft' })
    const metric = answered({
      openings: ['1.1684 m'],
      cutLength: '50.8 mm',
      reelLength: '4.99872 m',
      units: 'metric',
      rules: 'iec',
    })
    expect(metric.figures.map(({ value }) => Number(value).toFixed(9))).toEqual(
      us.figures.map(({ value }) => Number(value).toFixed(9)),
    )
  })

  it('has true room: the same counts just inside, others just outside', () => {
    const openings = fc.array(fc.double({ min: 0.3, max: 4, noNaN: true }), { minLength: 1, maxLength: 5 })
    const at = (openings: number[]) => {
      const answer = answered({ openings: openings.map((m) => `${m} m`), cutLength: '50 mm' })
      return { answer, now: `${counts(answer)} ${answer.verdict}` }
    }
    fc.assert(
      fc.property(openings, (given) => {
        const { answer, now } = at(given)
        for (const { field, until } of answer.room) {
          const index = Number(/^openings\.(\d+)$/.exec(field)?.[1] ?? (field === 'openings' ? 0 : -1))
          if (!until || index < 0) continue
          expect(at(given.with(index, until.value)).now).toBe(now)
          expect(at(given.with(index, until.value * 1.005)).now).not.toBe(now)
        }
      }),
      { numRuns: 60 },
    )
  })

  it('draws no more bars than help, and says how many it left out', () => {
    const answer = answered({
      openings: Array.from({ length: 60 }, (_, at) => `${1 + at / 100} m`),
      cutLength: '50 mm',
    })
    const picture = answer.picture?.data as CutPlanPicture
    const [openings] = picture.sections
    expect(openings?.bars).toHaveLength(40)
    expect(openings?.more).toContain('20 more')
    expect(answer.table?.rows.length).toBeGreaterThan(60)
  })

  it('never throws, whatever it is sent', () => {
    const body = fc.dictionary(
      fc.constantFrom(
        'openings',
        'cutLength',
        'reelLength',
        'channelLength',
        'kerf',
        'joinTape',
        'claim',
        'units',
      ),
      fc.oneof(
        fc.constantFrom('1 m', '50 m', '5 mm', '0.5 m', ['1 m', '30 mm'], true, 'metric', '3'),
        fc.jsonValue(),
      ),
    )
    fc.assert(
      fc.property(fc.oneof(body, fc.jsonValue()), (raw) => {
        const result = cutPlan.answer(raw)
        if (!result.ok) for (const error of result.errors) expect(error.message).not.toBe('')
      }),
      { numRuns: 1000 },
    )
  })
})
