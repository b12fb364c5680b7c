import { describe, expect, it } from 'vitest'
import { understand } from '../../src/understanding/understand'

// Each expectation is worked by hand: what a person would write down after hearing the line.

const goOn = (question: string, inputs: Record<string, unknown>, text: string): Record<string, unknown> => {
  const understood = understand({ text, following: { question, inputs } })
  const values = Object.fromEntries(Object.entries(understood.inputs).map(([id, { value }]) => [id, value]))
  return { kind: understood.kind, question: understood.question, ...values }
}

const round = (value: unknown): unknown =>
  typeof value === 'number' ? Math.round(value * 1e6) / 1e6 : Array.isArray(value) ? value.map(round) : value

const numbers = (value: unknown): unknown =>
  Array.isArray(value)
    ? value.map((each) =>
        round(typeof each === 'object' && each !== null && 'value' in each ? each.value : each),
      )
    : round(value)

describe('a list of the question before', () => {
  const drivers = (text: string) =>
    numbers(goOn('dimmer-fit', { dimmerRating: '300 W', drivers: ['60 W', '60 W', '40 W'] }, text).drivers)

  it.each([
    ['add a 30', [60, 60, 40, 30]],
    ['another 60 W driver', [60, 60, 40, 60]],
    ['drop the 40', [60, 60]],
    ['lose one of the 60s', [60, 40]],
    ['swap one of the 60s for a 75', [75, 60, 40]],
    ['the last one is 50 W', [60, 60, 50]],
    ['make the first 20 watts', [20, 60, 40]],
    ['45 W each', [45, 45, 45]],
    ['two 96 W drivers', [96, 96]],
  ])('after "%s" holds %j', (text, wanted) => {
    expect(drivers(text)).toEqual(wanted)
  })

  it('stays as it was where the line changes another input', () => {
    expect(drivers('use the 400 W dimmer')).toEqual([60, 60, 40])
  })

  it('counts its cables', () => {
    const cables = (text: string) =>
      goOn('box-fill', { box: 'square 4 x 1-1/2', cables: ['2 x 14/2', '1 x 14/3'] }, text).cables
    expect(cables('take out one 14/2')).toEqual(['1 x 14/2', '1 x 14/3'])
    expect(cables('make one of the 14/2s a 14/3')).toEqual(['2 x 14/3', '1 x 14/2'])
  })

  it('changes one thing and, in the same line, another input', () => {
    const after = goOn(
      'pull-plan',
      { legs: ['30 ft', '45 ft', '20 ft'] },
      'lose the longest leg and use 500 ft spools',
    )
    expect((after.legs as { length: number }[]).map(({ length }) => round(length / 0.3048))).toEqual([30, 20])
    expect(round((after.spool as number) / 0.3048)).toBe(500)
  })

  it('asks where it says what should go and there is no such thing', () => {
    expect(
      goOn(
        'along-the-tape',
        { voltage: '24 V', tapePower: '10 W/m', tapeLength: '8 m', feeds: [{ at: 0 }, { at: 8 }] },
        'drop the middle feed',
      ).kind,
    ).toBe('ask-back')
  })
})

describe('the feeds of a tape', () => {
  const tape = { voltage: '24 V', tapePower: '10 W/m', tapeLength: '8 m' }
  const feeds = (text: string, before: unknown[]) =>
    goOn('along-the-tape', { ...tape, feeds: before }, text).feeds

  it('keep their cables, gain one, lose one and move with the end of the tape', () => {
    const both = [
      { at: '0 m', distance: '3 m' },
      { at: '8 m', distance: '9 m' },
    ]
    expect(feeds('add a feed in the middle', both)).toMatchObject([{ at: 0 }, { at: 8 }, { at: 4 }])
    expect(feeds('lose the feed at the far end', both)).toMatchObject([{ at: 0, distance: 3 }])
    expect(feeds('the far lead is only 5 m', both)).toMatchObject([{ distance: 3 }, { at: 8, distance: 5 }])
    expect(feeds('make the tape 6 m', both)).toMatchObject([{ at: 0 }, { at: 6, distance: 9 }])
  })
})

describe('what a line takes back', () => {
  const before = { tapeLumens: '1000 lm/m', height: '0.9 m', tapeLength: '2 m', cover: 'opal' }

  it('is not read as what holds now', () => {
    expect(goOn('task-light', before, 'frosted instead of opal').cover).toBe('frosted')
    expect(goOn('task-light', before, 'swap the opal for frosted and hang it 20 cm lower')).toMatchObject({
      cover: 'frosted',
      height: 0.7,
    })
    expect(
      goOn('feed-gauge', { distance: '10 m', voltage: '24 V', load: '60 W' }, 'go from 24 to 12 volts')
        .voltage,
    ).toBe(12)
    expect(goOn('box-fill', { box: 'FS', cables: ['3 x 12/2'] }, "they're 14/2 not 12/2").cables).toEqual([
      '3 x 14/2',
    ])
  })

  it('leaves with what it brings another kind of input', () => {
    const hole = { member: '2x8', use: 'joist', holeDiameter: '2 in' }
    const after = goOn('framing-hole', hole, 'instead of the hole, a notch 1 inch deep in the outer third')
    expect(after).toMatchObject({ kind: 'answer', place: 'outer-third' })
    expect(after).not.toHaveProperty('holeDiameter')
  })
})

describe('the subject', () => {
  const box = { box: 'square 4 x 1-1/2', cables: ['2 x 14/2'] }

  it('stays where a line asks nothing new', () => {
    expect(goOn('box-fill', box, 'two dimmers')).toMatchObject({ question: 'box-fill', devices: [{}, {}] })
  })

  it('changes where a line plainly asks something else', () => {
    expect(goOn('box-fill', box, 'what gauge for 40 ft at 24 V and 60 W?').question).toBe('feed-gauge')
  })
})
