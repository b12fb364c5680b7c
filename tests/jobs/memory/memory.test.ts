import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { factsAt, partsOf } from '../../../src/jobs/memory/facts'
import { fillFromFacts } from '../../../src/jobs/memory/fill'
import { learnFrom } from '../../../src/jobs/memory/learn'
import type { Question } from '../../../src/questions/common/question'
import { questionById, questions } from '../../../src/questions/registry'
import { known } from '../check/telling'

const questionNamed = (id: string): Question => {
  const question = questionById(id)
  if (!question) throw new Error(`no ${id}`)
  return question
}

describe('what is known at a part', () => {
  it('puts the part before the whole job, and names the parts', () => {
    const all = [known('voltage', '24 V'), known('voltage', '12 V', 'Long hall'), known('gauge', '16 AWG')]
    expect(factsAt(all, 'Long hall').get('voltage')?.value).toBe('12 V')
    expect(factsAt(all, 'Long hall').get('gauge')?.value).toBe('16 AWG')
    expect(factsAt(all, null).get('voltage')?.value).toBe('24 V')
    expect(factsAt(all, 'Stairs').get('voltage')?.value).toBe('24 V')
    expect(partsOf(all)).toEqual(['Long hall'])
  })

  it('does not count what was withdrawn', () => {
    const withdrawn = { ...known('voltage', '24 V', 'Stairs'), current: null }
    expect(factsAt([withdrawn], 'Stairs').size).toBe(0)
    expect(partsOf([withdrawn])).toEqual([])
  })
})

describe('filling a question from the job', () => {
  it('fills what is missing and says so in the answer', () => {
    const facts = factsAt([known('voltage', '24 V'), known('feedDistance', '40 ft')], null)
    const { raw, remembered } = fillFromFacts(questionNamed('feed-gauge'), { load: '60 W' }, facts)
    expect(raw).toEqual({ voltage: '24 V', distance: '40 ft', load: '60 W' })
    const answered = questionNamed('feed-gauge').answer(raw, remembered)
    if (!answered.ok) throw new Error('not answered')
    expect(answered.answer.inputs.voltage?.from).toBe('job')
    expect(answered.answer.inputs.distance?.from).toBe('job')
    expect(answered.answer.inputs.load?.from).toBe('given')
    expect(answered.answer.inputs.allowedDrop?.from).toBe('assumed')
  })

  it('never puts anything in the place of what is given', () => {
    const facts = factsAt([known('voltage', '24 V')], null)
    expect(fillFromFacts(questionNamed('feed-gauge'), { voltage: '12 V' }, facts)).toEqual({
      raw: { voltage: '12 V' },
      remembered: new Set(),
    })
  })

  it('fills one alternative only: the one begun, else the first that is whole', () => {
    const facts = factsAt(
      [known('tapePower', '4.4 W/ft'), known('tapeLength', '10 ft'), known('load', '40 W')],
      null,
    )
    const question = questionNamed('feed-gauge')
    expect([...fillFromFacts(question, {}, facts).remembered]).toEqual(['load'])
    expect([...fillFromFacts(question, { tapeLength: '12 ft' }, facts).remembered]).toEqual(['tapePower'])
    expect([...fillFromFacts(question, { current: '3 A' }, facts).remembered]).toEqual([])
  })

  it('takes the tape of the part before the load of the whole job', () => {
    const all = [
      known('load', '119 W'),
      known('tapePower', '4.4 W/ft'),
      known('tapeLength', '6 ft', 'Stairs'),
    ]
    const question = questionNamed('feed-gauge')
    expect([...fillFromFacts(question, {}, factsAt(all, 'Stairs')).remembered]).toEqual([
      'tapePower',
      'tapeLength',
    ])
    expect([...fillFromFacts(question, {}, factsAt(all, null)).remembered]).toEqual(['load'])
  })

  it('makes a single value fit a list, and a list of one a single value', () => {
    const facts = factsAt([known('tapeLength', '10 ft'), known('driverPower', ['96 W'])], null)
    expect(
      fillFromFacts(questionNamed('driver-size'), { tapePower: '4 W/ft' }, facts).raw.tapeLength,
    ).toEqual(['10 ft'])
    expect(fillFromFacts(questionNamed('tape-reach'), {}, facts).raw.driverPower).toBe('96 W')
  })

  it('leaves out a fact that the question cannot read or that what is given forbids', () => {
    const question = questionNamed('along-the-tape')
    const unreadable = factsAt([known('tapeLength', ['10 ft', '12 ft']), known('voltage', 'two dozen')], null)
    expect(fillFromFacts(question, {}, unreadable).remembered.size).toBe(0)
    const rails = factsAt([known('railResistance', '0.1 ohm/m')], null)
    const asked = { voltage: '24 V', tapePower: '10 W/m', tapeLength: '5 m', copperWeight: '2 oz/ft2' }
    expect(fillFromFacts(question, asked, rails).remembered.size).toBe(0)
  })

  it('keeps what a question needs when something beside it is at odds or half told', () => {
    const told = { voltage: '24 V', load: '60 W', fullOutputTo: '50 °C' }
    const facts = factsAt(
      Object.entries(told).map(([field, value]) => known(field, value)),
      null,
    )
    const { raw } = fillFromFacts(questionNamed('driver-size'), {}, facts)
    expect(raw).toMatchObject({ voltage: '24 V', load: '60 W' })
    expect(questionNamed('driver-size').answer(raw).ok).toBe(true)
  })

  it('keeps an input that only shares its id with another question apart', () => {
    const facts = factsAt([known('measuredCurrent', '2 A'), known('boxCables', ['14/2'])], null)
    expect(fillFromFacts(questionNamed('feed-gauge'), {}, facts).remembered.size).toBe(0)
    expect([...fillFromFacts(questionNamed('box-fill'), {}, facts).remembered]).toEqual(['cables'])
  })

  it('gives every question back what it was asked with', () => {
    for (const question of questions) {
      const raw = Object.fromEntries(
        Object.entries(question.words.fields).flatMap(([id, { example }]) =>
          example ? [[id, example]] : [],
        ),
      )
      const facts = factsAt(
        Object.entries(raw).map(([id, value]) => known(question.inputs[id]?.fact ?? id, value)),
        null,
      )
      const before = question.answer(fillFromFacts(question, {}, facts).raw)
      if (before.ok) expect(before.answer.question).toBe(question.id)
    }
  })
})

describe('learning from what was asked', () => {
  const question = questionNamed('feed-gauge')

  it('learns what is new and leaves what is known alone', () => {
    const facts = factsAt([known('voltage', '24 V')], null)
    const raw = { voltage: '24 V', distance: '40 ft', load: '60 W' }
    const learned = learnFrom(question, raw, new Set(['voltage']), facts)
    expect(learned.fresh.map(({ field, value }) => [field, value])).toEqual([
      ['feedDistance', '40 ft'],
      ['load', '60 W'],
    ])
    expect(learned.contradicting).toEqual([])
  })

  it('knows the same value in another unit again', () => {
    const facts = factsAt([known('feedDistance', '40 ft')], null)
    for (const distance of ['480 in', '12.192 m', `40' 0"`, '40 feet'])
      expect(learnFrom(question, { distance }, new Set(), facts)).toEqual({ fresh: [], contradicting: [] })
  })

  it('tells a contradiction with what it contradicts', () => {
    const facts = factsAt([known('feedDistance', '40 ft')], null)
    const { fresh, contradicting } = learnFrom(question, { distance: '60 ft' }, new Set(), facts)
    expect(fresh).toEqual([])
    expect(contradicting).toMatchObject([
      { field: 'feedDistance', value: '60 ft', known: { value: '40 ft' } },
    ])
  })

  it('keeps rows, and learns nothing from the claim', () => {
    const along = questionNamed('along-the-tape')
    const raw = { 'feeds.0.at': '0 ft', 'feeds.0.distance': '5 ft', claim: '80 %' }
    expect(learnFrom(along, raw, new Set(), new Map()).fresh).toEqual([
      { field: 'feeds', input: 'feeds', value: [{ at: '0 ft', distance: '5 ft' }] },
    ])
  })

  it('finds no contradiction in what it has just learned (property)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 200, noNaN: true }),
        fc.constantFrom('m', 'ft', 'in'),
        (value, unit) => {
          const distance = `${value} ${unit}`
          const { fresh } = learnFrom(question, { distance }, new Set(), new Map())
          const facts = factsAt(
            fresh.map(({ field, value: said }) => known(field, said)),
            null,
          )
          expect(learnFrom(question, { distance }, new Set(), facts)).toEqual({
            fresh: [],
            contradicting: [],
          })
        },
      ),
      { numRuns: 1000 },
    )
  })
})
