import { describe, expect, it } from 'vitest'
import { cheapestFeedLayout, feedPlacesM, type LayoutQuestion } from '../../src/calculators/feed-layout'

const size = { value: 18, unit: 'AWG' as const }

const question = (lengthM: number, change: Partial<LayoutQuestion> = {}): LayoutQuestion => ({
  design: {
    lengthM,
    cutLengthM: 0.1,
    ratedV: 24,
    ratedWPerM: 14.4,
    railOhmPerM: 0.12315,
    knee: 0.7,
    style: 'resistor',
  },
  sourceV: 24,
  rules: 'nec',
  strands: 'stranded',
  conductorTempC: 75,
  evennessPercent: 85,
  leastLightPercent: 80,
  given: { atM: 0, distanceM: 0, size },
  ...change,
})

const placesOf = (asked: LayoutQuestion) => cheapestFeedLayout(asked)?.feeds.map(({ atM }) => atM)

describe('the cheapest layout', () => {
  // Evenness alone lets this tape run 5.8 m from one end and 11.5 m from the middle (design document).
  it('is one end while one end will do', () => {
    expect(placesOf(question(5.7))).toEqual([0])
  })

  it('then the middle, by a cable that follows the tape', () => {
    const layout = cheapestFeedLayout(question(7))
    expect(layout?.feeds).toEqual([{ atM: 3.5, distanceM: 3.5, size }])
  })

  it('then more feeds, or heavier cable', () => {
    const layout = cheapestFeedLayout(question(20))
    expect(layout?.feeds.length).toBeGreaterThan(1)
    expect(layout?.light.evennessPercent).toBeGreaterThanOrEqual(85)
    expect(layout?.light.dimmestPercent).toBeGreaterThanOrEqual(80)
  })

  it('a feed in the middle keeps its own cable, and the way to the others is counted from it', () => {
    const given = { atM: 2, distanceM: 3, size }
    expect(cheapestFeedLayout(question(5, { given }))?.feeds).toEqual([{ atM: 0, distanceM: 5, size }])
  })

  it('takes heavier cable, trunk and all, where no layout does with the cable given', () => {
    // 30 m of 18 AWG alone loses 1.56 V for each ampere, and this tape takes more than two.
    const trunk = { distanceM: 30, size }
    const layout = cheapestFeedLayout(question(4, { given: { atM: 0, distanceM: 1, size }, trunk }))
    expect(layout?.feeds[0]?.size.value).toBeLessThan(18)
    expect(layout?.trunk?.size).toEqual(layout?.feeds[0]?.size)
  })

  it('takes the thin mm² sizes only as flexible cable', () => {
    const thin = { value: 0.75, unit: 'mm2' as const }
    const given = { atM: 0, distanceM: 1, size: thin }
    const sizeFor = (strands: 'flexible' | 'solid') =>
      cheapestFeedLayout(question(3, { rules: 'iec', strands, given }))?.feeds[0]?.size.value
    expect(sizeFor('flexible')).toBe(0.75)
    expect(sizeFor('solid')).toBe(1.5)
  })

  it('there may be none', () => {
    expect(cheapestFeedLayout(question(5, { sourceV: 18 }))).toBeUndefined()
    expect(cheapestFeedLayout(question(100))).toBeUndefined()
  })
})

it('goes from one end to six feeds, each in the middle of its share', () => {
  const places = feedPlacesM(12)
  expect(places.slice(0, 4)).toEqual([[0], [6], [0, 12], [3, 9]])
  expect(places.at(-1)).toEqual([1, 3, 5, 7, 9, 11])
})
