import { describe, expect, test } from 'vitest'
import { questionById } from '../../src/questions/registry'

/** Small, usual and great cases, because what one question takes may be out of range for the next. */
const cases: readonly [id: string, raw: object][] = [
  ['task-light', { height: '24 in', tapePower: '4.4 W/ft', tapeLength: '6 ft', cover: 'frosted' }],
  ['task-light', { units: 'metric', height: '3 m', tapeLength: '100 m', target: '50 lx' }],
  ['steady-light', { units: 'metric', frequency: '100 Hz', modulation: '30 %' }],
  ['dimmer-fit', { dimmerRating: '150 W', drivers: ['60 W', '60 W'], efficiency: '88 %', powerFactor: 0.95 }],
  ['dimmer-fit', { dimmerKind: 'low-voltage-pwm', dimmerRating: '2 kW', drivers: '1000 W', voltage: '24 V' }],
  ['circuit-room', { breaker: '15 A', added: ['1400 W'] }],
  ['circuit-room', { rules: 'iec', breaker: '10 A', added: ['60 W', '3 A', '0 W'] }],
  [
    'shared-neutral',
    {
      hots: [
        { current: '3 A', circuit: '7' },
        { load: '20 kW', circuit: '7' },
      ],
      supply: '277 V',
    },
  ],
  [
    'shared-neutral',
    {
      rules: 'iec',
      hots: [
        { load: '0 W', circuit: '7' },
        { load: '60 W', circuit: '7' },
      ],
    },
  ],
  ['box-fill', { box: 'octagon 4 x 1-1/2', cables: ['14/3', '14/2'], units: 'metric' }],
  ['cut-plan', { openings: ['50 m', '30 mm', '1 m'], cutLength: '50 mm', units: 'metric' }],
  ['cut-plan', { openings: Array(200).fill('4 ft'), cutLength: '2 in' }],
  ['running-cost', { load: '100 kW', price: '$0.31 per kWh', hoursPerDay: '24 h' }],
]

describe('the questions that follow', () => {
  test.each(cases)('%s %j: can read what they are given', (id, raw) => {
    const answered = questionById(id)?.answer(raw)
    if (!answered?.ok) throw new Error(JSON.stringify(answered))
    expect(answered.answer.next.length).toBeGreaterThan(0)
    for (const { question, inputs } of answered.answer.next) {
      const following = questionById(question)?.answer(inputs)
      const given = new Set(Object.keys(inputs).map((key) => key.split('.')[0]))
      const faults = following?.ok === false ? following.errors : []
      expect(faults.filter(({ field }) => given.has(field.split('.')[0] ?? ''))).toEqual([])
    }
  })
})
