import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Answer } from '../../src/questions/common/answer'
import { driverSize } from '../../src/questions/driver-size'
import '../../src/questions/registry'

type Body = Record<string, unknown>

const answer = (body: Body): Answer => {
  const answered = driverSize.answer(body)
  if (!answered.ok) throw new Error(JSON.stringify(answered.errors))
  return answered.answer
}

const refused = (body: Body): string[] => {
  const answered = driverSize.answer(body)
  return answered.ok ? [] : answered.errors.map(({ field }) => field)
}

const figure = (from: Answer, id: string) => from.figures.find((each) => each.id === id)?.value

const text = (from: Answer, id: string) => from.figures.find((each) => each.id === id)?.text

const cautions = (from: Answer) => from.cautions.map(({ text: said }) => said).join('\n')

const usual = { voltage: '24 V', tapePower: '4.4 W/ft', tapeLength: '32 ft' }

const hot = { fullOutputTo: '45 °C', derateAt: '60 °C', derateTo: '70 %' }

describe('driver-size', () => {
  // By hand: 32 · 4.4 = 140.8 W; /0.8 = 176, next size 180; 140.8/180 = 78.22 %; /0.88 = 160 W, 19.2 W of heat;
  // 160/(0.9 · 120) = 1.4815 A. Class 2: 96 · 0.8 = 76.8 W, /14.436 W/m = 53 cuts; 97 cuts take two outputs.
  it('32 ft of 4.4 W/ft at 24 V', () => {
    const said = answer(usual)
    expect(figure(said, 'load')).toBeCloseTo(140.8, 6)
    expect(figure(said, 'needed')).toBeCloseTo(176, 6)
    expect(figure(said, 'rating')).toBe(180)
    expect(figure(said, 'driverLoad')).toBeCloseTo(78.222, 3)
    expect(figure(said, 'outputCurrent')).toBeCloseTo(140.8 / 24, 6)
    expect(figure(said, 'inputPower')).toBeCloseTo(160, 6)
    expect(figure(said, 'inputCurrent')).toBeCloseTo(1.4815, 4)
    expect(figure(said, 'heat')).toBeCloseTo(19.2, 6)
    expect(figure(said, 'classTwoOutputs')).toBe(2)
    expect(figure(said, 'lengthPerOutput')).toBeCloseTo(5.3, 9)
    expect(said.verdict).toBe('info')
    expect(text(said, 'rating')).toBe('180 W, not Class 2')
    expect(said.headline).toBe(
      `Use 2 Class 2 outputs of 96 W, at most 17' 4-5/8" (5.300 m) of tape on each: the tape takes 140.8 W in all. One driver would have to be 180 W, which is not Class 2.`,
    )
    expect(said.limits.filter(({ binds }) => binds).map(({ id }) => id)).toEqual(['classTwo'])
  })

  it('a driver that is itself Class 2', () => {
    const said = answer({ voltage: '12 V', load: '30 W' })
    expect(figure(said, 'rating')).toBe(40)
    expect(figure(said, 'classTwoOutputs')).toBe(1)
    expect(said.headline).toBe('Use a 40 W driver, marked Class 2: 30 W of tape loads it to 75 %.')
    expect(said.table).toBeUndefined()
  })

  // 80 W / 0.8 is a 100 W driver, which table 11(B) still allows at 24 V (100 VA); one of 96 W may carry 76.8 W.
  it('says where one driver may be Class 2 though the usual nameplate is not enough', () => {
    const said = answer({ voltage: '24 V', load: '80 W' })
    expect(figure(said, 'classTwoOutputs')).toBe(2)
    expect(said.headline).toMatch(/One driver of 100 W would do as well, if it is marked Class 2/)
    expect(text(said, 'rating')).toBe('100 W')
  })

  // 5.39 m are 53 whole cuts, which 96 W carry, though 77.6 W would be more than 76.8 W.
  it('counts whole cuts, not watts, on one output', () => {
    const said = answer({ voltage: '24 V', tapePower: '14.4 W/m', tapeLength: '5.39 m' })
    expect(said.headline).toMatch(/^Use one Class 2 output of 96 W: it carries 17' 4-5\/8"/)
    const small = answer({ voltage: '24 V', load: '60 W', classTwoNameplate: '80 W' })
    expect(small.headline).toMatch(/^Use a 75 W driver, marked Class 2/)
    const odd = answer({ voltage: '24 V', load: '62 W', classTwoNameplate: '80 W' })
    expect(odd.headline).toMatch(/^Use one Class 2 output of 80 W: it may carry 64 W/)
  })

  it('where no matter, one driver is advised', () => {
    const said = answer({ ...usual, classTwo: 'no-matter' })
    expect(said.headline).toBe('Use a 180 W driver: 140.8 W of tape loads it to 78.3 %.')
    expect(said.table).toBeUndefined()
  })

  // 30, 20, 70 and 24 cuts on outputs of 53: the 70 fill one and leave 17; 30 + 20 and 24 + 17 share two more.
  it('packs whole runs', () => {
    const runs = { voltage: '24 V', tapePower: '14.4 W/m', tapeLength: ['3 m', '2 m', '7 m', '2.4 m'] }
    const said = answer(runs)
    expect(figure(said, 'classTwoOutputs')).toBe(3)
    expect(said.table?.rows).toHaveLength(3)
    expect(said.table?.rows.map(([, feeds]) => feeds)).toContain(
      `9' 10-1/16" (3.000 m), all of run 1; 6' 6-11/16" (2.000 m), all of run 2`,
    )
    // Four runs of 3 m fit one by one only, though their 12 m would fill less than three outputs of 5.3 m.
    expect(figure(answer({ ...runs, tapeLength: ['3 m', '3 m', '3 m', '3 m'] }), 'classTwoOutputs')).toBe(4)
  })

  it('no output carries even one cut', () => {
    const said = answer({ voltage: '12 V', tapePower: '40 W/m', tapeLength: '2 m', classTwoNameplate: '1 W' })
    expect(said.headline).toMatch(/no Class 2 output of 1 W carries even one cut/)
    expect(figure(said, 'classTwoOutputs')).toBeUndefined()
    expect(figure(said, 'lengthPerOutput')).toBeUndefined()
  })
})

describe('heat', () => {
  // From 100 % at 45 °C straight to 70 % at 60 °C: 90 % at 50 °C; 140.8/0.8/0.9 = 195.6 W, next size 200.
  it('derates along the line of the label', () => {
    const said = answer({ ...usual, ...hot, ambient: '50 °C' })
    expect(figure(said, 'needed')).toBeCloseTo(140.8 / 0.8 / 0.9, 6)
    expect(figure(said, 'rating')).toBe(200)
    expect(text(said, 'driverLoad')).toBe(
      '70.4 % of the full 200 W; 78.3 % of the 180 W it gives in this heat',
    )
    expect(said.working.map(({ result }) => result)).toContain('90 %')
  })

  it('never goes past the end of the line', () => {
    const said = answer({ ...usual, ...hot, ambient: '61 °C' })
    expect(said.verdict).toBe('fails')
    expect(said.headline).toMatch(/its line ends at 140 °F \(60 °C\)/)
    expect(said.figures).toEqual([])
    expect(answer({ ...usual, ...hot, ambient: '60 °C' }).verdict).toBe('info')
  })

  it('without a line it warns above 40 °C, and says so in the room', () => {
    expect(cautions(answer({ ...usual, ambient: '41 °C' }))).toMatch(/temperature line on the label/)
    expect(cautions(answer({ ...usual, ambient: '40 °C' }))).not.toMatch(/temperature line on the label/)
    expect(cautions(answer({ ...usual, ...hot, ambient: '41 °C' }))).not.toMatch(
      /temperature line on the label/,
    )
    const until = answer(usual).room.find(({ field }) => field === 'ambient')?.until?.value
    expect(until).toBeGreaterThan(39.9)
    expect(until).toBeLessThanOrEqual(40)
  })
})

describe('beyond the largest size', () => {
  // 1200/0.8 = 1500 W: three of 600 W; 1200/76.8 = 15.6: sixteen outputs.
  it('fails, with how many drivers', () => {
    const said = answer({ voltage: '24 V', load: '1200 W' })
    expect(said.verdict).toBe('fails')
    expect(figure(said, 'rating')).toBeUndefined()
    expect(said.headline).toMatch(/3 drivers of 600 W, or 16 Class 2 outputs of 96 W/)
    expect(answer({ voltage: '24 V', load: '480 W' }).verdict).toBe('info')
  })
})

describe('claims', () => {
  // 34 ft take 149.6 W, which needs 187 W; 180 W would do for 144 W.
  it('"a one eighty is loads for 34 ft" fails, and says when it would hold', () => {
    const said = answer({ ...usual, tapeLength: '34 ft', claim: '180 W' })
    expect(said.verdict).toBe('fails')
    expect(said.headline).toMatch(/^No, 180 W does not hold/)
    expect(said.claim?.margin).toMatch(/187 W.*180 W/)
    expect(said.claim?.wouldHoldIf.join('\n')).toMatch(/Tape length at most 32' 8/)
  })

  it.each([
    ['240 W', 'holds'],
    ['180 W', 'tight'],
    ['150 W', 'fails'],
  ])('%s for 140.8 W %s', (claim, verdict) => {
    expect(answer({ ...usual, claim }).claim?.verdict).toBe(verdict)
  })

  it('one Class 2 output does not do; too hot is no rating at all', () => {
    const one = answer({ ...usual, claim: { figure: 'classTwoOutputs', value: '1' } })
    expect(one.claim?.verdict).toBe('fails')
    const said = answer({ ...usual, ...hot, ambient: '70 °C', claim: '600 W' })
    expect(said.claim?.verdict).toBe('fails')
    expect(said.claim?.wouldHoldIf.join('\n')).toMatch(/Air around the driver at most/)
  })
})

describe('room', () => {
  it.each([
    ['tapePower', 'W/m', 1.01],
    ['tapeLength', 'm', 1.01],
    ['driverLoadLimit', '%', 0.99],
    ['classTwoNameplate', 'W', 0.99],
  ])('%s: just inside the same, a hundredth further not', (field, unit, factor) => {
    const until = answer(usual).room.find((room) => room.field.startsWith(field))?.until?.value ?? 0
    const at = (value: number) => {
      const said = answer({ ...usual, [field]: `${value} ${unit}` })
      return [figure(said, 'rating'), figure(said, 'classTwoOutputs')]
    }
    expect(at(until)).toEqual([180, 2])
    expect(at(until * factor)).not.toEqual([180, 2])
  })

  it('each run of several has its own', () => {
    const said = answer({ ...usual, tapeLength: ['10 ft', '12 ft'] })
    expect(said.room.map(({ field }) => field)).toEqual(
      expect.arrayContaining(['tapeLength.0', 'tapeLength.1']),
    )
  })
})

describe('cautions', () => {
  it('the line, the tape, the place', () => {
    const said = cautions(answer(usual))
    for (const matter of [
      /prove dead/,
      /stay accessible/,
      /fixed barrier/,
      /constant-voltage/,
      /damp or wet/,
      /surge/,
    ]) {
      expect(said).toMatch(matter)
    }
  })

  it('Class 2 where it matters', () => {
    expect(cautions(answer(usual))).toMatch(/Never join two Class 2 outputs/)
    expect(cautions(answer(usual))).toMatch(/A 180 W driver is past Class 2/)
    expect(cautions(answer({ voltage: '24 V', load: '60 W' }))).not.toMatch(/past Class 2|Never join/)
    expect(cautions(answer({ ...usual, voltage: '48 V' }))).toMatch(/30 V dc/)
  })

  it('iec: no Class 2, other clauses', () => {
    const said = answer({ voltage: '24 V', load: '100 W', rules: 'iec', units: 'metric' })
    expect(figure(said, 'rating')).toBe(150)
    // 100/0.88/(0.9 · 230) A.
    expect(figure(said, 'inputCurrent')).toBeCloseTo(100 / 0.88 / (0.9 * 230), 9)
    expect(figure(said, 'classTwoOutputs')).toBeUndefined()
    expect(cautions(said)).not.toMatch(/Class 2/)
    expect(cautions(said)).toMatch(/6\.25 A into a fault/)
    expect(said.assumptions.map(({ field }) => field)).not.toContain('classTwo')
    expect(
      figure(answer({ voltage: '24 V', load: '100 W', rules: 'iec', classTwo: 'prefer' }), 'classTwoOutputs'),
    ).toBe(2)
  })
})

describe('faults', () => {
  const load = { voltage: '24 V', load: '60 W' }
  it.each([
    ['nothing', {}, ['voltage', 'load']],
    ['load and tape', { ...usual, load: '60 W' }, ['tapePower', 'tapeLength']],
    ['tape without its length', { voltage: '24 V', tapePower: '9 W/m' }, ['tapeLength']],
    ['a derating line in part', { ...load, derateAt: '60 °C' }, ['fullOutputTo', 'derateTo']],
    ['a derating line backwards', { ...load, ...hot, derateAt: '45 °C' }, ['derateAt']],
    ['a supply of other rules', { ...load, rules: 'iec', supply: '120 V' }, ['supply']],
    ['a supply beyond all', { ...load, supply: '400 V' }, ['supply']],
    [
      'a nameplate past Class 2',
      { ...load, voltage: '12 V', classTwoNameplate: '96 W' },
      ['classTwoNameplate'],
    ],
    ['less than a cut', { ...usual, tapeLength: ['5 ft', '0.02 m'] }, ['tapeLength.1']],
    [
      'too many cuts',
      { ...usual, tapePower: '1 W/m', tapeLength: '30 m', cutLength: '5 mm' },
      ['tapeLength'],
    ],
    ['too much tape', { ...usual, tapePower: '40 W/m', tapeLength: ['100 m', '90 m'] }, ['tapeLength']],
    ['a claim in metres', { ...load, claim: '5 m' }, ['claim']],
    ['a load out of range', { ...load, load: '6000 W' }, ['load']],
  ])('%s', (_, body, fields) => {
    expect(refused(body).sort()).toEqual([...fields].sort())
  })

  it('no odd input throws', () => {
    const odd = fc.oneof(
      fc.constantFrom(
        '24 V',
        '5 m',
        '-1 m',
        '40 W/m',
        '1 W',
        '120 V',
        '50 °C',
        '99 %',
        '0.85',
        'prefer',
        'iec',
        '',
      ),
      fc.array(fc.constantFrom('5 m', '0.1 m', '100 m', '9'), { maxLength: 4 }),
      fc.jsonValue(),
    )
    const fields = [...Object.keys(driverSize.inputs), 'claim', 'tapeLength.0', 'x']
    const body = fc.dictionary(fc.constantFrom(...fields), odd, { maxKeys: 6 })
    fc.assert(
      fc.property(body, fc.constantFrom({}, usual, { voltage: '24 V', load: '60 W' }), (change, base) => {
        const answered = driverSize.answer({ ...base, ...change })
        if (answered.ok) return
        expect(answered.errors.length).toBeGreaterThan(0)
        for (const error of answered.errors) expect(error.message).toBeTruthy()
      }),
      { numRuns: 1000 },
    )
  })
})

it('units do not matter', () => {
  const feet = answer({ ...usual, ambient: '122 °F', ...hot })
  const metres = answer({
    voltage: '24000 mV',
    tapePower: `${4.4 / 0.3048} W/m`,
    tapeLength: '9.7536 m',
    ambient: '50 °C',
    units: 'metric',
    ...hot,
  })
  for (const { id, value } of feet.figures) {
    if (typeof value === 'number') expect(figure(metres, id)).toBeCloseTo(value, 6)
  }
})

it('more load never needs less, and heat never helps', () => {
  const watts = fc.double({ min: 1, max: 470, noNaN: true })
  const celsius = fc.double({ min: 20, max: 59, noNaN: true })
  fc.assert(
    fc.property(watts, celsius, (loadW, ambientC) => {
      const at = (load: number, ambient: number) => {
        const said = answer({ voltage: '24 V', load: `${load} W`, ambient: `${ambient} °C`, ...hot })
        return Number(figure(said, 'needed'))
      }
      expect(at(loadW * 1.02, ambientC)).toBeGreaterThan(at(loadW, ambientC))
      expect(at(loadW, ambientC + 1)).toBeGreaterThanOrEqual(at(loadW, ambientC))
    }),
    { numRuns: 200 },
  )
})

it('leads on to questions already filled in', () => {
  const known = ['tape-reach', 'feed-gauge', 'circuit-room', 'dimmer-fit']
  const { next } = answer(usual)
  expect(next.map(({ question }) => question)).toEqual(known)
  expect(next[0]?.inputs).toMatchObject({ voltage: '24 V', driverPower: '96 W' })
  expect(next[1]?.inputs).toMatchObject({ load: '70.4 W' })
  expect(next[2]?.inputs).toMatchObject({ 'added.0': '80 W', 'added.1': '80 W' })
  expect(answer({ ...usual, classTwo: 'no-matter' }).next[0]?.inputs.driverPower).toBe('180 W')
})

describe('what a claim or a drift may be about', () => {
  it('asks for the tape before it judges how much of it an output carries', () => {
    const claim = { figure: 'lengthPerOutput', value: '5 m' }
    expect(refused({ voltage: '24 V', load: '60 W', claim })).toEqual(['tapePower', 'tapeLength'])
    // 96 W × 80 % / 14.436 W/m = 5.32 m, 53 cuts of 100 mm.
    expect(answer({ ...usual, claim }).claim?.verdict).toBe('tight')
  })

  it('does not judge outputs that nobody counts, under iec', () => {
    const claim = { figure: 'classTwoOutputs', value: 2 }
    expect(refused({ ...usual, rules: 'iec', claim })).toEqual(['classTwo'])
    expect(answer({ ...usual, rules: 'iec', classTwo: 'prefer', claim }).claim?.verdict).toBe('tight')
  })

  it('moves no input to where it would be refused', () => {
    const said = answer({
      voltage: '12 V',
      load: '125.905 W',
      fullOutputTo: '45 °C',
      ...{ derateAt: '65 °C', derateTo: '60 %' },
    })
    const { until } = said.room.find(({ field }) => field === 'derateAt') ?? {}
    expect(until?.value ?? 65).toBeGreaterThan(45)
  })
})
