import { setImmediate as nextTurn } from 'node:timers/promises'
import { describe, expect, it } from 'vitest'
import { type Arrival, openAdmission } from '../../src/doors/admission'

/** Notes in what turn of the event loop each arrival began. */
function noting() {
  const begun: { name: number; turn: number }[] = []
  const away: number[] = []
  const gone = new Set<number>()
  let turn = 0
  const arrival = (name: number): Arrival => ({
    begin: () => begun.push({ name, turn }),
    turnAway: () => away.push(name),
    isGone: () => gone.has(name),
  })
  const turns = async (count: number) => {
    for (let at = 0; at < count; at += 1) {
      await nextTurn()
      turn += 1
    }
  }
  return { begun, away, gone, arrival, turns }
}

describe('admission', () => {
  it('begins at once where there is little to do', () => {
    const { begun, arrival } = noting()
    const { arrive, waiting } = openAdmission()
    arrive(arrival(1))
    expect([begun.length, waiting()]).toEqual([1, 0])
  })

  it('begins a few in each turn, in the order in which they came', async () => {
    const { begun, arrival, turns } = noting()
    const { arrive, waiting } = openAdmission()
    for (let name = 0; name < 40; name += 1) arrive(arrival(name))
    const atOnce = begun.length
    expect([atOnce <= 4, waiting()]).toEqual([true, 40 - atOnce])
    await turns(60)
    expect(begun.map(({ name }) => name)).toEqual(Array.from({ length: 40 }, (_, name) => name))
    const perTurn = new Map<number, number>()
    for (const { turn } of begun.slice(atOnce)) perTurn.set(turn, (perTurn.get(turn) ?? 0) + 1)
    expect(Math.max(...perTurn.values())).toBeLessThanOrEqual(4)
    expect(waiting()).toBe(0)
  })

  it('begins one alone after a turn that worked for long, and more again after short ones', async () => {
    const { begun, arrival, turns } = noting()
    let now = 0
    const { arrive } = openAdmission(() => now)
    const long = (name: number): boolean => name >= 4 && name < 20
    const working = (name: number): Arrival => ({
      ...arrival(name),
      begin: () => {
        arrival(name).begin()
        // As an answer does, after its body was read.
        process.nextTick(() => Promise.resolve().then(() => (now += long(name) ? 9 : 0.1)))
      },
    })
    for (let name = 0; name < 100; name += 1) arrive(working(name))
    await turns(100)
    expect(begun.map(({ name }) => name)).toEqual(Array.from({ length: 100 }, (_, name) => name))
    const turnsOf = (from: number, to: number) =>
      new Set(begun.filter(({ name }) => name >= from && name < to).map(({ turn }) => turn)).size
    expect(turnsOf(4, 8)).toBe(1)
    expect(turnsOf(8, 24)).toBe(16)
    expect(turnsOf(92, 100)).toBeLessThanOrEqual(4)
  })

  it('turns away what comes when a thousand wait, and takes again what comes later', async () => {
    const { begun, away, arrival, turns } = noting()
    const { arrive, waiting } = openAdmission()
    for (let name = 0; name < 1100; name += 1) arrive(arrival(name))
    expect(waiting()).toBe(1000)
    expect(away.length + begun.length + waiting()).toBe(1100)
    expect(Math.min(...away)).toBeGreaterThan(999)
    await turns(600)
    expect(waiting()).toBe(0)
    arrive(arrival(5000))
    expect(begun.at(-1)?.name).toBe(5000)
  })

  it('does nothing for whoever has left, and says no to whoever waited too long', async () => {
    const { begun, away, gone, arrival, turns } = noting()
    let now = 0
    const { arrive } = openAdmission(() => now)
    for (let name = 0; name < 10; name += 1) arrive(arrival(name))
    gone.add(5)
    now = 4999
    await turns(1)
    now = 5001
    await turns(20)
    expect(begun.map(({ name }) => name)).not.toContain(5)
    expect(away).not.toContain(5)
    expect(away.length).toBeGreaterThan(0)
    expect([...begun.map(({ name }) => name), ...away, 5].sort((a, b) => a - b)).toEqual(
      Array.from({ length: 10 }, (_, name) => name),
    )
  })
})
