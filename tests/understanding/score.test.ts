import { describe, expect, it } from 'vitest'
import { type Reply, scoreReply, type Utterance } from './score'
import { hardSets, linesOf, workingSets } from './sets'

// Expectations are worked by hand from the examples' README, "How a reply is scored" and "Conventions".

const lines = [...workingSets, ...hardSets].flatMap(linesOf)

const perfect = (line: Utterance): Reply => {
  const claim = [line.claim ?? []].flat()[0]
  return {
    kind: line.kind,
    ...(line.question === null
      ? {}
      : {
          reading: {
            question: line.question,
            inputs: line.inputs,
            leftOver: line.leftOver ?? [],
            ...(claim === undefined ? {} : { claim }),
          },
        }),
    missing: (line.missing ?? []).map((field) => ({ field })),
    choices: (line.choices ?? []).slice(0, 3).map((question) => ({ question })),
  }
}

const gauge: Utterance = {
  text: '40 ft, 24 V, 60 W, room 7, what gauge',
  kind: 'answer',
  question: 'feed-gauge',
  inputs: {
    distance: { value: 12.192, unit: 'm' },
    voltage: { value: 24, unit: 'V' },
    load: { value: 60, unit: 'W' },
  },
  leftOver: ['7'],
}

const answer = (line: Utterance, inputs: Record<string, unknown>, more: object = {}): Reply => ({
  kind: 'answer',
  reading: { question: line.question, inputs, leftOver: [], ...more },
})

const oneInput = (question: string, field: string, value: unknown, unit?: string): Utterance => ({
  text: 'x',
  kind: 'answer',
  question,
  inputs: { [field]: unit === undefined ? { value } : { value, unit } },
})

const accepts = (line: Utterance, inputs: Record<string, unknown>) =>
  scoreReply(line, answer(line, inputs)).exact

describe('scoreReply', () => {
  it.each(lines.map((line) => [line.text, line] as const))('finds its own reply exact: %s', (_, line) => {
    const score = scoreReply(line, perfect(line))
    expect(score.why).toEqual([])
    expect(score.silentWrong).toBe(false)
    if (line.question !== null) expect(score.leftOver.named).toBe(score.leftOver.listed)
  })

  it('takes a quantity as number, object or text in any unit of its kind, within 0.5 %', () => {
    expect(accepts(gauge, { distance: '40 ft', voltage: { value: '24', unit: 'V' }, load: 60 })).toBe(true)
    expect(accepts(gauge, { distance: `39' 12"`, voltage: '24 V', load: '0.06 kW' })).toBe(true)
    expect(accepts(gauge, { distance: { value: 12.25, unit: 'm' }, voltage: 24, load: 60 })).toBe(true)
    expect(accepts(gauge, { distance: { value: 12.26, unit: 'm' }, voltage: 24, load: 60 })).toBe(false)
    expect(accepts(gauge, { distance: '40 V', voltage: 24, load: 60 })).toBe(false)
    expect(accepts(oneInput('task-light', 'target', 538.1955, 'lx'), { target: '50 foot-candles' })).toBe(
      true,
    )
    expect(accepts(oneInput('driver-size', 'ambient', 40, 'degC'), { ambient: '104 °F' })).toBe(true)
    expect(accepts(oneInput('tape-reach', 'gauge', 1.5, 'mm2'), { gauge: '1.5 mm²' })).toBe(true)
    expect(accepts(oneInput('circuit-room', 'existing', 5, 'A'), { existing: '5 W' })).toBe(false)
    expect(accepts(oneInput('dimmer-fit', 'dimmerRating', 300, 'VA'), { dimmerRating: '300 W' })).toBe(false)
    expect(accepts(oneInput('box-fill', 'box', 360.515408, 'cm3'), { box: '22 cubic inches' })).toBe(true)
  })

  it('calls an answer from a wrong, invented or silently dropped input silent wrong', () => {
    const { distance, voltage, load } = gauge.inputs
    const silent = (inputs: Record<string, unknown>, more?: object) =>
      scoreReply(gauge, answer(gauge, inputs, more)).silentWrong
    expect(silent({ distance, voltage, load })).toBe(false)
    expect(silent({ distance, voltage, load: 61 })).toBe(true)
    expect(silent({ distance, voltage, load, allowedDrop: '3 %' })).toBe(true)
    expect(silent({ distance, voltage })).toBe(true)
    expect(silent({ distance, voltage }, { leftOver: ['60 W', 'room 7'] })).toBe(false)
    expect(silent({ distance, voltage }, { leftOver: ['room 7'] })).toBe(true)
    expect(silent({ distance, voltage, load }, { claim: { figure: 'gauge', value: 14, unit: 'AWG' } })).toBe(
      true,
    )
  })

  it('does not call an honest question back silent wrong, unless it holds an invented input', () => {
    const back = (inputs: Record<string, unknown>): Reply => ({
      ...answer(gauge, inputs),
      kind: 'ask-back',
      missing: [{ field: 'load' }],
    })
    const { distance, voltage } = gauge.inputs
    expect(scoreReply(gauge, back({ distance, voltage }))).toMatchObject({ exact: false, silentWrong: false })
    expect(scoreReply(gauge, back({ distance, voltage, powerFactor: 0.9 })).silentWrong).toBe(true)
  })

  it('calls an answer silent wrong where another kind or question was right', () => {
    const live: Utterance = { text: 'splice live', kind: 'out-of-reach', question: null, inputs: {} }
    expect(scoreReply(live, answer(gauge, {})).silentWrong).toBe(true)
    const other = { ...gauge, question: 'tape-reach' }
    expect(scoreReply(gauge, answer(other, {})).silentWrong).toBe(true)
  })

  it('counts named left-over pieces apart from exactness', () => {
    const score = (leftOver: string[]) => scoreReply(gauge, answer(gauge, gauge.inputs, { leftOver }))
    expect(score(['room 7'])).toMatchObject({ exact: true, leftOver: { named: 1, listed: 1 } })
    expect(score(['17'])).toMatchObject({ exact: true, leftOver: { named: 0, listed: 1 } })
  })

  it('lets enumerations and booleans that state their default stand or not', () => {
    const inputs = { ...gauge.inputs, feedKind: 'dc', continuous: true, units: 'us' }
    expect(accepts(gauge, inputs)).toBe(true)
    expect(accepts(gauge, { ...inputs, feedKind: 'ac' })).toBe(false)
    expect(accepts(gauge, { ...inputs, units: 'metric' })).toBe(false)
    expect(accepts({ ...gauge, text: '12 metres, 24 V, 60 W' }, { ...inputs, units: 'metric' })).toBe(true)
    expect(accepts(oneInput('box-fill', 'clamps', true), {})).toBe(true)
    expect(accepts(oneInput('along-the-tape', 'feeds', [{ at: 0 }]), {})).toBe(true)
    expect(accepts(oneInput('tape-reach', 'gauge', 1.5, 'mm2'), { gauge: '1.5 mm2', rules: 'iec' })).toBe(
      true,
    )
  })

  it('takes a list for its sum and a list of one for that one', () => {
    const rolls = oneInput('driver-size', 'tapeLength', [4.99872, 4.99872], 'm')
    expect(accepts(rolls, { tapeLength: '32.8 ft' })).toBe(true)
    expect(accepts(rolls, { tapeLength: ['16.4 ft', '16.4 ft'] })).toBe(true)
    expect(accepts(rolls, { tapeLength: '16.4 ft' })).toBe(false)
    expect(accepts(oneInput('dimmer-fit', 'drivers', [30], 'W'), { drivers: '30 W' })).toBe(true)
    expect(accepts(oneInput('dimmer-fit', 'drivers', [30, 30], 'W'), { drivers: '60 W' })).toBe(false)
  })

  it('compares cables by what they are, not by how they are written', () => {
    const cables = oneInput('box-fill', 'cables', ['2 x 14/2', '1 x 14/3'])
    expect(accepts(cables, { cables: ['14/2', '14/3', '14-2'] })).toBe(true)
    const structured = { count: 2, gauge: { value: 14, unit: 'AWG' }, conductors: 2 }
    expect(accepts(cables, { cables: [structured, '14/3'] })).toBe(true)
    expect(accepts(cables, { cables: ['2 x 14/2 no ground', '14/3'] })).toBe(false)
    expect(accepts(cables, { cables: ['2 x 12/2', '14/3'] })).toBe(false)
  })

  it('compares hots by which share a breaker, legs by their ends, feeds by their place', () => {
    const hots = (first: string, second: string) => [
      { current: 6, circuit: first, leg: 'A' },
      { current: 4.5, circuit: second, leg: 'B' },
    ]
    const two = oneInput('shared-neutral', 'hots', hots('1', '3'))
    expect(accepts(two, { hots: hots('x', 'y') })).toBe(true)
    expect(accepts(two, { hots: hots('x', 'y').reverse() })).toBe(true)
    expect(accepts(two, { hots: hots('x', 'x') })).toBe(false)
    const legs = oneInput('pull-plan', 'legs', [6.096], 'm')
    expect(accepts(legs, { legs: [{ length: '20 ft', from: 'box', to: 'tape' }] })).toBe(true)
    expect(accepts(legs, { legs: [{ length: '20 ft', to: 'box' }] })).toBe(false)
    const feeds = oneInput('along-the-tape', 'feeds', [{ at: 0 }, { at: 6 }])
    expect(accepts(feeds, { feeds: [{ at: '6 m' }, { at: 0 }] })).toBe(true)
  })

  it('takes any right claim of a list, none where figures may be claimed, and no other', () => {
    const line: Utterance = { ...gauge, mayClaim: ['drop'] }
    const score = (expected: Utterance, claim?: object) =>
      scoreReply(expected, answer(gauge, gauge.inputs, claim ? { claim } : {}))
    expect(score(line).exact).toBe(true)
    expect(score(line, { figure: 'drop', value: 1, unit: 'V' }).exact).toBe(true)
    expect(score(line, { figure: 'loss', value: 1, unit: 'W' }).silentWrong).toBe(true)
    const either = [
      { figure: 'gauge', value: 14, unit: 'AWG' },
      { figure: 'gauge', value: 16, unit: 'AWG' },
    ]
    expect(score({ ...gauge, claim: either }, either[1]).exact).toBe(true)
    expect(score({ ...gauge, claim: either })).toMatchObject({ exact: false, silentWrong: true })
  })

  it('accepts the alternatives for a missing field, first asked only', () => {
    const line: Utterance = { ...gauge, kind: 'ask-back', missing: ['load'], inputs: {} }
    const asks = (...fields: string[]) =>
      scoreReply(line, { ...answer(line, {}), kind: 'ask-back', missing: fields.map((field) => ({ field })) })
        .exact
    expect(asks('load')).toBe(true)
    expect(asks('current')).toBe(true)
    expect(asks('tapeLength', 'load')).toBe(true)
    expect(asks('voltage', 'load')).toBe(false)
    expect(asks()).toBe(false)
  })
})
