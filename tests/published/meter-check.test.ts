import { beforeAll, describe, expect, it } from 'vitest'
import {
  type Estimate,
  type ExplanationId,
  type Finding,
  type MeterAccuracy,
  type MeterCheck,
  meterCheck,
  type Readings,
  readingDeviation,
  readingIds,
} from '../../src/calculators/meter-check'
import type { TapeDesign } from '../../src/calculators/tape-network'
import { operatingPoint, tapeNetlist } from './circuit-simulator'

/**
 * Invented installations with one known fault each, worked out by the ngspice circuit simulator (with a 10 Mohm
 * meter across the tape's end), then blurred: the driver by 3 %, the tape's power by 10 %, each reading by its
 * meter's accuracy, all Gaussian with the figure as one standard deviation, though in the trade it is a limit.
 *
 * Which sites can be told apart is decided without the blur of the meter: the exact readings must set the true
 * fault ahead of the best rival by 9, that is by three standard deviations. One rival is left out: a poor joint,
 * its place and ohms free, can mimic any rails, and must yield to them by its charge.
 *
 * How large a fault is, in what readings can know of it: of too much load the whole load, since no meter parts it from
 * the tape's own 10 %; of a poor joint the volts lost across it, since ohms near the end do as few do near the start.
 * Which sites tell the size is decided without the blur too: one standard deviation of the exact readings' fit lies
 * within 20 %. The share over all sites, told or not, is printed beside it.
 */
const CAN_TELL = 9
const SITES_OF_EACH = 45

const accuracy: MeterAccuracy = { meterPercent: 0.5, meterVolts: 0.02, clampPercent: 2, clampAmps: 0.1 }

type Fault = { id: ExplanationId; size?: number; place?: number; sags?: boolean }
type Site = { tape: TapeDesign; feedOhm: number; driver: number; power: number; fault: Fault }

/** Uniform numbers of 0 to 1 (Park and Miller, Communications of the ACM 31, 1988). */
let state = 271_828
function uniform(low = 0, high = 1): number {
  state = (state * 48_271) % 2_147_483_647
  return low + (high - low) * (state / 2_147_483_647)
}

function pick<T>(list: readonly T[]): T {
  return list[Math.floor(uniform() * list.length)] as T
}

/** Box and Muller, Annals of Mathematical Statistics 29 (1958). */
function gauss(): number {
  return Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform())
}

const inventFault: Record<ExplanationId, (tape: TapeDesign) => Omit<Fault, 'id'>> = {
  'as-designed': () => ({}),
  'feed-resistance': (tape) => ({ size: ownOhm(tape) * Math.exp(uniform(Math.log(0.03), Math.log(0.6))) }),
  rails: () => ({ size: uniform(1.5, 6) }),
  'source-low': (tape) => ({ size: tape.ratedV * uniform(0.6, 0.93), sags: uniform() < 0.5 }),
  'more-load': () => ({ size: uniform(1.3, 3) }),
  'poor-joint': (tape) => ({ size: ownOhm(tape) * uniform(0.05, 3), place: inside(tape) }),
  'other-voltage': (tape) => ({ size: pick([12, 24, 48].filter((volts) => volts !== tape.ratedV)) }),
  reversed: () => ({}),
  'no-output': () => ({}),
  'open-circuit': (tape) => {
    const place = uniform() < 0.5 ? 0 : inside(tape)
    return { size: place * tape.cutLengthM, place }
  },
}

function ownOhm({ ratedV, ratedWPerM, lengthM }: TapeDesign): number {
  return ratedV ** 2 / (ratedWPerM * lengthM)
}

function unitsOf({ lengthM, cutLengthM }: TapeDesign): number {
  return Math.round(lengthM / cutLengthM)
}

function inside(tape: TapeDesign): number {
  return 1 + Math.floor(uniform() * (unitsOf(tape) - 1))
}

function inventSite(id: ExplanationId): Site {
  const cutLengthM = pick([0.05, 0.1])
  const tape: TapeDesign = {
    lengthM: cutLengthM * Math.round(uniform(1.5, 7) / cutLengthM),
    cutLengthM,
    ratedV: pick([12, 24, 24, 48]),
    ratedWPerM: uniform(5, 18),
    railOhmPerM: 0.1328,
    knee: 0.7,
    style: 'resistor',
  }
  // 2.08 mm² (14 AWG) to 0.82 mm² (18 AWG): 0.0167 to 0.042 ohm per metre of loop (NEC chapter 9 table 8, 75 °C)
  const feedOhm = pick([0.0167, 0.0267, 0.042]) * uniform(0, 12)
  const fault = { id, ...inventFault[id](tape) }
  return { tape, feedOhm, driver: 1 + 0.03 * gauss(), power: 1 + 0.1 * gauss(), fault }
}

const BROKEN_OHM = 1e13

type Simulated = { exact: Readings; trueSize: number }

/** What exact meters show, and how large the fault is. */
async function simulate({ tape, feedOhm, driver, power, fault }: Site): Promise<Simulated> {
  const { id, size = 0, place = 0 } = fault
  const soundV = id === 'no-output' ? 0 : tape.ratedV * driver
  const loadedV = id === 'source-low' ? size : soundV
  const real: TapeDesign = {
    ...tape,
    ratedV: id === 'other-voltage' ? size : tape.ratedV,
    ratedWPerM: tape.ratedWPerM * power * (id === 'more-load' ? size : 1),
    railOhmPerM: tape.railOhmPerM * (id === 'rails' ? size : 1),
  }
  const brokenFeed = id === 'open-circuit' && place === 0
  const ohm = brokenFeed ? BROKEN_OHM : feedOhm + (id === 'feed-resistance' ? size : 0)
  const joints = id === 'poor-joint' ? [{ atM: place * tape.cutLengthM, ohm: size }] : []
  const sourceV = id === 'reversed' ? -loadedV : loadedV
  const netlist = tapeNetlist(real, [{ atM: 0, ohm }], { sourceV, trunkOhm: 0, joints })
  const lastUnit = unitsOf(tape) - 1
  const measured = netlist.replace('.op', `Rmeter u${lastUnit} 0 1e7\n.op`)
  const isBroken = id === 'open-circuit' && place > 0
  const nodes = await operatingPoint(isBroken ? breakRail(measured, place - 1) : measured)
  const read = (name: string) => nodes.get(name) ?? Number.NaN
  const exact = {
    driverOpen: id === 'source-low' && fault.sags ? soundV : loadedV,
    driverLoaded: loadedV,
    tapeStart: read('v(u0)'),
    tapeEnd: read(`v(u${lastUnit})`),
    current: -read('i(vsource)'),
  }
  if (id === 'more-load') return { exact, trueSize: size * power }
  if (id !== 'poor-joint') return { exact, trueSize: size }
  const acrossV = read(`v(u${place - 1})`) - read(`v(u${place})`)
  return { exact, trueSize: (acrossV * size) / (size + tape.railOhmPerM * tape.cutLengthM) }
}

function breakRail(netlist: string, rail: number): string {
  return netlist.replace(new RegExp(`^(Rrail${rail} \\S+ \\S+) .*$`, 'm'), `$1 ${BROKEN_OHM}`)
}

function blur(exact: Readings): Readings {
  const blurred = readingIds.map((id) => [
    id,
    exact[id] + gauss() * readingDeviation(id, exact[id], accuracy),
  ])
  return Object.fromEntries(blurred) as Readings
}

/** All five readings at every other site, two to four of them at the rest. */
function choose(readings: Readings): Partial<Readings> {
  if (uniform() < 0.5) return readings
  const order = [...readingIds].map((id) => ({ id, key: uniform() })).sort((a, b) => a.key - b.key)
  const kept = order.slice(0, 2 + Math.floor(uniform() * 3))
  return Object.fromEntries(kept.map(({ id }) => [id, readings[id]]))
}

type Outcome = { site: Site; canTell: boolean; tellsSize: boolean; trueSize: number; check: MeterCheck }

async function examine(id: ExplanationId): Promise<Outcome> {
  const site = inventSite(id)
  const { exact, trueSize } = await simulate(site)
  const blurred = choose(blur(exact))
  const exactTaken = Object.fromEntries(
    Object.keys(blurred).map((key) => [key, exact[key as keyof Readings]]),
  )
  const { tape, feedOhm } = site
  const scores = meterCheck({ tape, feedOhm, readings: exactTaken, accuracy }).findings
  const own = scores.find((finding) => finding.id === id)
  const rivals = scores.filter(
    (finding) => finding.id !== id && !(id === 'rails' && finding.id === 'poor-joint'),
  )
  const rival = Math.min(...rivals.map(({ score }) => score))
  const check = meterCheck({ tape, feedOhm, readings: blurred, accuracy })
  const canTell = own !== undefined && rival - own.score > CAN_TELL
  return { site, canTell, tellsSize: tells(own), trueSize, check }
}

function sizeOf(finding: Finding | undefined): Estimate | undefined {
  return finding?.id === 'poor-joint' ? finding.lostV : finding?.size
}

/** One standard deviation within 20 %. */
function tells(finding: Finding | undefined): boolean {
  const size = sizeOf(finding)
  return size !== undefined && size.low >= 0.8 * size.value && size.high <= 1.2 * size.value
}

const ids = Object.keys(inventFault) as ExplanationId[]
const outcomes: Outcome[] = []

function firstOf({ check }: Outcome): Finding {
  return check.findings[0]
}

function share(list: Outcome[], holds: (outcome: Outcome) => boolean): number {
  return list.filter(holds).length / list.length
}

function isClose(one: Outcome): boolean {
  return Math.abs((sizeOf(firstOf(one))?.value ?? 0) / one.trueSize - 1) <= 0.2
}

function percent(part: number): string {
  return `${(100 * part).toFixed(1)} %`
}

function confusionTable(list: Outcome[]): string {
  const cell = (text: string | number) => String(text).padStart(6)
  const short = (id: string) => id.slice(0, 6)
  const rows = ids.map((id) => {
    const own = list.filter(({ site }) => site.fault.id === id)
    return `${id.padEnd(16)}${ids.map((as) => cell(own.filter((one) => firstOf(one).id === as).length || '.')).join(' ')} ${cell(own.length)}`
  })
  return [`${'true \\ first'.padEnd(16)}${[...ids.map(short), 'sites'].map(cell).join(' ')}`, ...rows].join(
    '\n',
  )
}

describe('faults found from meter readings', () => {
  beforeAll(async () => {
    for (const id of ids)
      for (let round = 0; round < SITES_OF_EACH * (id === 'as-designed' ? 5 : 1); round++)
        outcomes.push(await examine(id))
    const canTell = outcomes.filter((outcome) => outcome.canTell)
    console.info(`sites that the readings can tell apart\n${confusionTable(canTell)}`)
    console.info(`the others\n${confusionTable(outcomes.filter((outcome) => !outcome.canTell))}`)
  }, 90_000)

  const faulty = () => outcomes.filter(({ site }) => site.fault.id !== 'as-designed')

  it('ranks the true fault first in 95 % of the sites that the readings can tell apart', () => {
    const canTell = faulty().filter((outcome) => outcome.canTell)
    const right = share(canTell, (outcome) => firstOf(outcome).id === outcome.site.fault.id)
    console.info(`true fault first: ${percent(right)} of ${canTell.length} (of ${faulty().length})`)
    expect(canTell.length).toBeGreaterThanOrEqual(200)
    expect(right).toBeGreaterThanOrEqual(0.95)
  })

  const sized = () =>
    faulty().filter((one) => one.canTell && firstOf(one).id === one.site.fault.id && one.trueSize > 0)

  it('finds its size within 20 % in 90 % of those whose size the readings tell', () => {
    const told = sized().filter((one) => one.tellsSize)
    const right = share(told, isClose)
    console.info(
      `size within 20 %: ${percent(right)} of ${told.length}; told or not ${percent(share(sized(), isClose))} of ${sized().length}`,
    )
    for (const id of ids) {
      const own = sized().filter(({ site }) => site.fault.id === id)
      const ownTold = own.filter((one) => one.tellsSize)
      const counts = [ownTold, own].map((list) => `${list.filter(isClose).length} of ${list.length}`)
      if (own.length) console.info(`  ${id}: ${counts.join(', told or not ')}`)
    }
    expect(told.length).toBeGreaterThanOrEqual(100)
    expect(right).toBeGreaterThanOrEqual(0.9)
  })

  it('has the true size within the standard deviation it states as often as a Gauss curve has, 68 %', () => {
    const inRange = share(sized(), (one) => {
      const { low = 0, high = 0 } = sizeOf(firstOf(one)) ?? {}
      return one.trueSize >= low * (1 - 1e-9) && one.trueSize <= high * (1 + 1e-9)
    })
    console.info(`size within its own range: ${percent(inRange)} of ${sized().length}`)
    expect(inRange).toBeGreaterThanOrEqual(0.68)
  })

  it('calls 95 % of sound installations as designed', () => {
    const sound = outcomes.filter(({ site }) => site.fault.id === 'as-designed')
    const right = share(sound, (outcome) => firstOf(outcome).id === 'as-designed')
    console.info(`sound called sound: ${percent(right)} of ${sound.length}`)
    expect(right).toBeGreaterThanOrEqual(0.95)
  })
})
