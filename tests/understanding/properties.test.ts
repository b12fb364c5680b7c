import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { understand } from '../../src/understanding/understand'

const runs = { numRuns: 1000 }

/** What a line was understood to say, without its words. */
const reading = (text: string) => {
  const { kind, question, inputs, claim } = understand({ text })
  const values = Object.entries(inputs).map(([id, { value, unit }]) => [id, value, unit])
  return { kind, question, inputs: values.sort(), claim }
}

const distances = ['40 ft', '12 m', '30 feet', 'fifteen feet']
const voltages = ['24 V', '12 volts', 'twenty four volts']
const loads = ['60 W', '75 watts', 'ninety watts']

describe('the order of clauses', () => {
  it('does not matter', () => {
    const clauses = fc
      .tuple(fc.constantFrom(...distances), fc.constantFrom(...voltages), fc.constantFrom(...loads))
      .chain((parts) =>
        fc.shuffledSubarray([...parts, 'what gauge'], { minLength: 4 }).map((order) => ({ parts, order })),
      )
    fc.assert(
      fc.property(clauses, ({ parts, order }) => {
        expect(reading(order.join(', '))).toEqual(reading([...parts, 'what gauge'].join(', ')))
      }),
      runs,
    )
  })
})

describe('the unit', () => {
  it.each(['forty feet', '480 inches', '12.192 m', "40'", '40 ft 0 in', '13 yards and 1 foot'])(
    '%s is 40 feet',
    (said) => {
      const { inputs } = understand({ text: `what gauge for ${said} at 24 V and 60 W` })
      expect(inputs.distance?.value).toBeCloseTo(12.192, 9)
    },
  )
})

describe('irrelevant words', () => {
  const idle = ['please', 'cheers', 'mate', 'well', 'so', 'you know', 'if you would', 'many thanks']
  it('change nothing', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...idle),
        fc.constantFrom(...distances),
        fc.constantFrom(...loads),
        (words, distance, load) => {
          const plain = `what gauge for ${distance} at 24 V with ${load}`
          const before = reading(plain)
          expect(reading(`${words}, ${plain}`)).toEqual(before)
          expect(reading(`${plain}, ${words}`)).toEqual(before)
        },
      ),
      runs,
    )
  })
})

/** Pieces of lines, well formed and not. */
const scrap = fc.constantFrom(
  ...[
    'what gauge',
    'driver',
    'tape',
    '24 V',
    '60 W',
    '40 ft',
    '14/2',
    '2x10',
    '#14',
    '5%',
    'both ends',
    'says',
    'box',
  ],
  ...[
    '4.4 w/ft',
    '30 to 40 ft',
    'minus',
    'add another',
    'double',
    'one fifty',
    'and a half',
    ',',
    '.',
    '/',
    '(',
    '"',
  ],
  ...[
    'circuit',
    'breaker',
    '15 A',
    'neutral',
    'leg A',
    'joist',
    'notch',
    'reads',
    'far end',
    'kWh',
    '120 Hz',
    'lux',
  ],
)
const scraps = fc.array(scrap, { maxLength: 14 }).map((parts) => parts.join(' '))
const following = fc.constantFrom(
  undefined,
  {
    question: 'feed-gauge',
    inputs: { distance: { value: 10, unit: 'm' }, voltage: { value: 24, unit: 'V' } },
  },
  { question: 'along-the-tape', inputs: { voltage: '24 V', tapeLength: '5 m', feeds: [{ at: 0 }] } },
  { question: 'nowhere', inputs: { voltage: null } },
)

const numbersIn = (value: unknown): number[] => {
  if (typeof value === 'number') return [value]
  if (typeof value === 'object' && value !== null) return Object.values(value).flatMap(numbersIn)
  return []
}

describe('any string', () => {
  it('is answered without a throw', () => {
    fc.assert(
      fc.property(
        fc.oneof(fc.string({ maxLength: 300, unit: 'binary' }), scraps),
        following,
        (text, before) => {
          const { kind, inputs, question } = understand({ text, following: before })
          expect(['answer', 'ask-back', 'choose', 'out-of-reach']).toContain(kind)
          if (kind === 'choose' || kind === 'out-of-reach') expect([question, inputs]).toEqual([null, {}])
        },
      ),
      runs,
    )
  })

  it('gives no quantity to two inputs', () => {
    fc.assert(
      fc.property(scraps, (text) => {
        const distinct = '17 V, 83 W, 29 ft'
        const { inputs, claim } = understand({ text: `${distinct}, ${text}` })
        for (const unique of [17, 83, 29 * 0.3048]) {
          const holders = Object.values(inputs).filter(({ value }) =>
            numbersIn(value).some((number) => Math.abs(number - unique) < 1e-9),
          )
          const claims = claim && Math.abs(Number(claim.value) - unique) < 1e-9 ? 1 : 0
          const feeds = Object.keys(inputs).includes('feeds') ? 1 : 0
          expect(holders.length + claims - feeds).toBeLessThanOrEqual(1)
        }
      }),
      runs,
    )
  })

  it('takes no number from anywhere else', () => {
    fc.assert(
      fc.property(fc.integer({ min: 6, max: 58 }), fc.integer({ min: 61, max: 199 }), (volts, feet) => {
        const { inputs, claim } = understand({ text: `${feet} ft at ${volts} V, what gauge` })
        expect(claim).toBeUndefined()
        expect(
          numbersIn(inputs)
            .map((number) => Math.round(number * 1e6) / 1e6)
            .sort(),
        ).toEqual([volts, Math.round(feet * 0.3048 * 1e6) / 1e6].sort())
      }),
      runs,
    )
  })

  it('of 8,000 characters is read, and what lies beyond is not', () => {
    const text = `${'word '.repeat(1598)}40 ft, 24 V`
    expect(understand({ text }).leftOver.join(' ')).not.toContain('24 V')
  })
})
