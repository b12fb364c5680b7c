import { newId } from '../../../src/jobs/log/identifier'
import type { Fact, FactValue, JobRecords, Withdrawal } from '../../../src/jobs/log/job'
import { type OpenJob, viewOf } from '../../../src/jobs/log/job-view'

type Told = { where?: string; facts: Record<string, FactValue> }

/** A job of which somebody told all this, one fact after the other. */
export function openJob(
  said: { name: string; place?: string; notes?: string; state?: 'open' | 'done' },
  told: readonly Told[],
): OpenJob {
  const id = newId()
  let minute = 0
  const at = () => new Date(Date.UTC(2026, 2, 2, 9, minute++)).toISOString()
  const createdAt = at()
  const facts: Fact[] = told.flatMap(({ where = null, facts }) =>
    Object.entries(facts).map(([field, value]) => ({
      id: newId(),
      jobId: id,
      field,
      where,
      value,
      provenance: { from: 'person' as const, entryId: null, who: null },
      at: at(),
    })),
  )
  const withdrawals: Withdrawal[] = []
  const { name, place = '', notes = '', state = 'open' } = said
  const created: JobRecords['created'] = { id, name, place, notes, state, createdAt }
  return viewOf({ created, changes: [], entries: [], facts, withdrawals })
}

/** Two runs of tape on one driver, sound from end to end. */
export const longHall = (more: readonly Told[] = []): OpenJob =>
  openJob({ name: 'Long hall and stairs', place: 'North house, first floor', state: 'done' }, [
    {
      facts: {
        voltage: '24 V',
        tapePower: '3 W/ft',
        tapeName: 'Warm tape from the van',
        tapeColour: '3000 K',
        cutLength: '2 in',
        circuit: 'panel B, breaker 14',
        breaker: '15 A',
        existing: '240 W',
        driverPower: '96 W',
        driverName: 'grey driver, wet listed',
        dimmerKind: 'forward-phase',
        driverDimming: 'either-phase',
        dimmerRating: '150 W',
        box: 'octagon 4 x 2-1/8',
        boxCables: ['2 x 14/2'],
        ambient: '30 degC',
        madeBy: 'the two of us',
        price: '$0.18',
      },
    },
    {
      where: 'Long hall',
      facts: {
        tapeLength: '13 ft 4 in',
        feedDistance: '20 ft',
        gauge: '14 AWG',
        openings: ['13 ft 5 in'],
        legs: [{ length: '20 ft', from: 'box', to: 'tape' }],
        surroundings: 'dry',
        height: '6 ft',
        tapeLumens: '300 lm/ft',
        memberUse: 'joist',
        member: '2x10',
        holeDiameter: '3/4 in',
        edgeDistance: '4 in',
        bundle: [{ count: '1', diameter: '8 mm' }],
        driverLoaded: '24.02 V',
        tapeStart: '23.8 V',
      },
    },
    {
      where: 'Stairs',
      facts: {
        tapeLength: '5 ft',
        feedDistance: '8 ft',
        openings: ['2 ft 6 in', '2 ft 6 in'],
        surroundings: 'damp',
        tapeListing: 'damp',
      },
    },
    ...more,
  ])

/** The same work in metres, with a run that its driver cannot carry and a length told in two ways. */
export const passage = (): OpenJob =>
  openJob(
    { name: 'Gang über die Küche — Ω test', place: 'Haus 3, Erdgeschoß', notes: 'Key at no. 5.\nDog.' },
    [
      {
        facts: { units: 'metric', rules: 'iec', voltage: '12 V', tapePower: '14.4 W/m', driverPower: '60 W' },
      },
      {
        where: 'Passage',
        facts: {
          tapeLength: '8 m',
          feedDistance: '6 m',
          gauge: '1.5 mm2',
          openings: ['8.02 m', '1.4 m'],
          cutLength: '50 mm',
        },
      },
      { where: 'Passage', facts: { tapeLength: '7.5 m' } },
    ],
  )
