import { describe, expect, it } from 'vitest'
import type { Field } from '../../src/questions/common/fields'
import { questions } from '../../src/questions/registry'
import { readLine } from '../../src/understanding/line'
import { greatnessOf, listOfUnits, unitsOf } from '../../src/understanding/list-units'
import { setAside } from '../../src/understanding/set-aside'
import type { View } from '../../src/understanding/view'

const viewOf = (text: string): View => readLine(text).views[0] as View

/** Every quantity of the first list of a line, as often as it is there. */
const listed = (text: string): string[] =>
  (
    viewOf(text).pieces.find(({ members, times }) => members || times > 1) ?? { members: [], times: 1 }
  ).members?.flatMap((member) =>
    Array.from({ length: member.times }, () => member.readings[0]?.typed ?? String(member.bare)),
  ) ?? []

describe('a counted list', () => {
  it.each([
    ['three openings of 750 mm and one of 1.1 m', ['750 mm', '750 mm', '750 mm', '1.1 m']],
    ['four of thirty and one of sixty watts', ['30 W', '30 W', '30 W', '30 W', '60 W']],
    ['three 25 ft pulls and a 40', ['25 ft', '25 ft', '25 ft', '40 ft']],
    ['two cables 0.35 in and one 0.45 in', ['0.35 in', '0.35 in', '0.45 in']],
    ['two 75s and a 40', ['75', '75', '40']],
  ])('%s', (text, wanted) => {
    expect(listed(text)).toEqual(wanted)
  })

  it('does not join what is something else', () => {
    expect(listed('two 60 W drivers and a 150 W dimmer')).toEqual([])
    expect(listed('minimum load 25 W, five 60 W drivers')).toEqual([])
  })

  it('multiplies no voltage', () => {
    expect(
      viewOf('three lengths of 24 V tape').pieces.find(({ readings }) => readings.length > 0)?.times,
    ).toBe(1)
  })
})

describe('the things of a list', () => {
  const cables = questions.find(({ id }) => id === 'box-fill')?.inputs.cables?.field as Field<unknown>
  const bundle = questions.find(({ id }) => id === 'hole-fit')?.inputs.cables?.field as Field<unknown>

  it('are taken apart and put together again', () => {
    expect(listOfUnits(cables, unitsOf(['2 x 14/2', '14/3']))).toEqual(['2 x 14/2', '1 x 14/3'])
    expect(listOfUnits(bundle, unitsOf([{ count: 2, diameter: '9 mm' }, { diameter: '6 mm' }]))).toEqual([
      { count: '2', diameter: '9 mm' },
      { count: '1', diameter: '6 mm' },
    ])
  })

  it('are compared in one unit', () => {
    expect(greatnessOf('900 mm')).toBeCloseTo(0.9, 12)
    expect(greatnessOf({ length: '3 ft' })).toBeCloseTo(0.9144, 12)
    expect(greatnessOf('switch')).toBeUndefined()
  })
})

describe('setAside', () => {
  const gone = (text: string, goesOn = true): string => {
    const { items } = readLine(text).whole
    return setAside({ items }, goesOn)
      .map(({ from, to }) =>
        items
          .slice(from, to)
          .map((item) => ('text' in item && item.text) || item.kind)
          .join(' '),
      )
      .join(' | ')
  }

  it.each([
    ['75 watts instead of 60', 'instead of 60'],
    ['frosted instead of opal', 'instead of opal'],
    ['14/2 not 12/2', 'not piece'],
    ["not a lump of 60 watts, it's 18 ft", 'not a lump of piece'],
  ])('of "%s" takes "%s"', (text, wanted) => {
    expect(gone(text)).toBe(wanted)
  })

  it('leaves a limit alone', () => {
    expect(gone('not more than 5 percent')).toBe('')
  })

  it('keeps mere words in a line that follows no other', () => {
    expect(gone('a switch instead of a dimmer', false)).toBe('')
  })
})
