import { describe, expect, it } from 'vitest'
import { checkJob } from '../../../src/jobs/check/board'
import { questions } from '../../../src/questions/registry'
import { check, jobOf, known, rowOf, told } from './telling'

const stagesInOrder = ['look', 'light', 'size', 'switch', 'way', 'buy', 'prove', 'hand-over']

describe('the board', () => {
  it('of a job of which nothing is known has one row for each question, and says what each takes', () => {
    const board = checkJob([])
    expect(board.rows.map(({ id }) => id).sort()).toEqual(questions.map(({ id }) => id).sort())
    expect(board.counts).toEqual({ holds: 0, tight: 0, fails: 0, info: 0, 'not-asked': questions.length })
    for (const { missing, where, sentence, title } of board.rows) {
      expect(where).toBeNull()
      expect(missing?.length).toBeGreaterThan(0)
      expect(sentence).toMatch(/^Still to be told: \S/)
      expect(title.length).toBeGreaterThan(5)
    }
  })

  it('stands in the order of the work, light before size', () => {
    const { rows } = check(
      { voltage: '24 V', tapePower: '4.4 W/ft', driverPower: '96 W', breaker: '15 A', box: '20 in3' },
      { 'Long hall': { tapeLength: '12 ft', feedDistance: '10 ft', gauge: '16 AWG' } },
    )
    const order = rows.map(({ stage }) => stagesInOrder.indexOf(stage))
    expect(order).toEqual([...order].sort((one, other) => one - other))
    expect(order.every((at) => at >= 0)).toBe(true)
  })

  it('is plain data, and its ids are unlike', () => {
    const board = check(
      { voltage: '24 V', tapePower: '4.4 W/ft', driverPower: '96 W', breaker: '15 A', existing: '1 A' },
      { 'Long hall': { tapeLength: '12 ft', feedDistance: '10 ft', gauge: '16 AWG', tapeEnd: '23 V' } },
    )
    expect(JSON.parse(JSON.stringify(board))).toEqual(board)
    const ids = board.rows.map(({ id }) => id)
    expect(new Set(ids).size).toBe(ids.length)
    expect(Object.values(board.counts).reduce((sum, count) => sum + count)).toBe(ids.length)
    for (const { sentence, inputs } of board.rows) {
      expect(sentence).not.toMatch(/[{}]|NaN|undefined|null/)
      for (const value of Object.values(inputs)) expect(typeof value).toBe('string')
    }
  })

  it('says the same again, whatever was checked in between', () => {
    const job = jobOf({ voltage: '24 V', load: '60 W', feedDistance: '40 ft' })
    const before = checkJob(job)
    check({ voltage: '12 V', load: '60 W', feedDistance: '40 ft' })
    expect(checkJob(job)).toEqual(before)
  })
})

describe('where a question is asked', () => {
  const tape = { voltage: '24 V', tapePower: '4.4 W/ft' }

  // CALCULATIONS.md, feed-gauge: 40 ft, 24 V, 60 W takes 14 AWG (2.617 %).
  it('with the whole job where its facts suffice, its inputs as typed', () => {
    const row = rowOf(check({ voltage: '24 V', load: '60 W', feedDistance: '40 ft' }), 'feed-gauge')
    expect(row).toMatchObject({ where: null, state: 'holds', question: 'feed-gauge' })
    expect(row.inputs).toEqual({ voltage: '24 V', load: '60 W', distance: '40 ft' })
    expect(row.answer?.inputs.distance?.from).toBe('job')
    expect(row.answer?.figures.find(({ id }) => id === 'gauge')?.value).toBe(14)
  })

  it('at each part that tells something of it, with the rest from the whole job', () => {
    const { rows, parts } = check(tape, {
      'Long hall': { tapeLength: '12 ft' },
      Stairs: { tapeLength: '6 ft' },
      Attic: { box: 'octagon 4 x 1-1/2', boxCables: ['14/2'] },
    })
    expect(parts).toEqual(['Long hall', 'Stairs', 'Attic'])
    const of = (question: string) => rows.filter((row) => row.id.split('@')[0] === question)
    expect(of('along-the-tape').map(({ where }) => where)).toEqual(['Long hall', 'Stairs'])
    expect(of('box-fill').map(({ where }) => where)).toEqual(['Attic'])
    expect(of('along-the-tape')[1]?.inputs).toEqual({ ...tape, tapeLength: '6 ft' })
  })

  it('once for the job where nothing of its own is known, and then names what is nearest', () => {
    const { rows } = check(tape, { 'Long hall': { tapeLength: '12 ft' }, Stairs: { tapeLength: '6 ft' } })
    const of = (question: string) => rows.filter((row) => row.id.split('@')[0] === question)
    expect(of('feed-gauge')).toHaveLength(1)
    expect(of('feed-gauge')[0]).toMatchObject({
      where: null,
      state: 'not-asked',
      missing: [{ field: 'feedDistance', label: 'Distance' }],
    })
    expect(of('meter-check')[0]?.missing?.map(({ field }) => field)).toEqual(['tapeEnd'])
    expect(of('task-light')[0]?.missing?.map(({ field }) => field)).toEqual(['height'])
  })

  it('once for all other parts that could ask it, when it was begun at one', () => {
    const { rows } = check(tape, {
      'Long hall': { tapeLength: '12 ft', feedDistance: '20 ft' },
      Stairs: { tapeLength: '6 ft' },
      Porch: { tapeLength: '5 ft' },
      Attic: { tapeLength: '5 ft', feedDistance: 'a long way' },
    })
    const gauge = rows.filter(({ question, kind }) => question === 'feed-gauge' && kind === 'question')
    expect(gauge.map(({ id, state }) => [id, state])).toEqual([
      ['feed-gauge', 'not-asked'],
      ['feed-gauge@Long hall', 'holds'],
      ['feed-gauge@Attic', 'not-asked'],
    ])
    expect(gauge[0]?.sentence).toBe('Stairs and Porch: Still to be told: Distance.')
  })

  it('says why something that the job knows does not do', () => {
    const row = rowOf(check({ ...tape, tapeLength: '12 ft', feedDistance: 'twelve paces' }), 'feed-gauge')
    expect(row.state).toBe('not-asked')
    expect(row.missing).toEqual([{ field: 'feedDistance', label: 'Distance' }])
    expect(row.sentence).toContain('What the job knows does not do here: Distance')
  })

  it('does not take the watts of the whole job for those of a part that has tape of its own', () => {
    const board = check({ ...tape, load: '60 W', feedDistance: '10 ft' }, { Stairs: { tapeLength: '6 ft' } })
    expect(rowOf(board, 'feed-gauge@Stairs').inputs).toMatchObject({ tapeLength: '6 ft' })
    expect(rowOf(board, 'feed-gauge@Stairs').inputs.load).toBeUndefined()
    expect(board.rows.some(({ id }) => id === 'feed-gauge')).toBe(false)
  })
})

describe('what is told in two ways', () => {
  // 60 W over 40 ft holds with 14 AWG; with nobody knowing whether it is 40 ft or 60 ft, it holds only just.
  it('names it, and holds no better than tight', () => {
    const facts = told({ voltage: '24 V', load: '60 W' })
    const sure = checkJob([...facts, known('feedDistance', '40 ft')])
    const unsure = checkJob([...facts, known('feedDistance', '40 ft', null, '60 ft')])
    expect(rowOf(sure, 'feed-gauge').state).toBe('holds')
    expect(rowOf(unsure, 'feed-gauge').state).toBe('tight')
    expect(rowOf(unsure, 'feed-gauge').sentence).toContain('Feed cable is 40 ft, and 60 ft was said too')
  })

  it('is not so where both mean the same', () => {
    const board = checkJob([
      ...told({ voltage: '24 V', load: '60 W' }),
      known('feedDistance', '40 ft', null, '480 in'),
    ])
    expect(rowOf(board, 'feed-gauge').state).toBe('holds')
    expect(rowOf(board, 'feed-gauge').sentence).not.toContain('two ways')
  })

  it('leaves what fails failing, and what does not rest on it alone', () => {
    const facts = told({ voltage: '24 V', load: '60 W', feedDistance: '40 ft', gauge: '18 AWG' })
    const board = checkJob([
      ...facts,
      known('frequency', '120 Hz', null, '240 Hz'),
      ...told({ modulation: '5 %' }),
    ])
    expect(rowOf(board, 'feed-gauge').state).toBe('fails')
    expect(rowOf(board, 'feed-gauge').sentence).not.toContain('two ways')
    expect(rowOf(board, 'steady-light').sentence).toContain('Frequency of the light is 120 Hz')
  })

  it('is found behind what is gathered from a part, which is named', () => {
    const facts = jobOf(
      { voltage: '24 V', tapePower: '4.4 W/ft', driverPower: '200 W' },
      { Hall: { tapeLength: '5 ft' } },
    )
    const board = checkJob([...facts, known('tapeLength', '6 ft', 'Stairs', '9 ft')])
    expect(rowOf(board, 'driver-size').state).toBe('tight')
    expect(rowOf(board, 'driver-size').sentence).toContain('Told in two ways at Stairs: Tape length is 6 ft')
  })
})
