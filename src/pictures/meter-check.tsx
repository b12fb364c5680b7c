import { type ScaleLinear, scaleLinear } from 'd3-scale'
import { line } from 'd3-shape'
import { METRES_PER_FOOT } from '../quantities/convert'
import type { MeterCheckPicture } from '../questions/meter-check'

type Data = MeterCheckPicture
type Scale = ScaleLinear<number, number>
type Measured = Data['measured'][number]

const width = 360
const height = 400
const frame = { left: 44, right: 348, top: 120, bottom: 346 }
/** The driver stands apart from the tape; the cable bridges the gap, not to scale. */
const driverX = 66
const tapeX = 130

/** Voltage at the driver and along the tape: as designed, as the best explanation has it, and as measured. */
export const MeterCheck = ({ data }: { data: Data }) => {
  const { labels, measured, expected, best } = data
  const metres = data.units === 'us' ? METRES_PER_FOOT : 1
  const tape = scaleLinear([0, data.lengthM / metres], [tapeX, frame.right - 14])
  const y = scaleLinear(spanOf(data), [frame.bottom, frame.top]).nice(5)
  const along = (circuit: Data['expected']): string =>
    line()([
      [driverX, y(circuit.driverV)],
      ...circuit.along.map(({ atM, voltageV }): [number, number] => [tape(atM / metres), y(voltageV)]),
    ]) ?? ''
  return (
    <svg class="drawing" viewBox={`0 0 ${width} ${height}`} role="img">
      <title>{data.title}</title>
      <desc>{data.description}</desc>
      <Legend data={data} />
      <text x={4} y={frame.top - 14}>
        {labels.voltage}
      </text>
      <Axes y={y} tape={tape} labels={labels} />
      <path class="good" fill="none" stroke-width={3} stroke-dasharray="8 5" d={along(expected)} />
      {best ? <path class="accent" fill="none" stroke-width={3} d={along(best)} /> : null}
      {measured.map((each) => (
        <Reading
          x={each.atM === undefined ? driverX : tape(each.atM / metres)}
          y={y(each.voltageV)}
          labelY={labelAt(each, data, y)}
          reading={each}
        />
      ))}
    </svg>
  )
}

/** From the lowest to the highest voltage of all, with room for the labels. */
function spanOf({ expected, best, measured }: Data): [number, number] {
  const volts = [expected, ...(best ? [best] : [])].flatMap(({ driverV, along }) => [
    driverV,
    ...along.map(({ voltageV }) => voltageV),
  ])
  const all = [...volts, ...measured.map(({ voltageV }) => voltageV)]
  const [low, high] = [Math.min(...all), Math.max(...all)]
  const margin = Math.max(0.2, 0.15 * (high - low))
  return [low - margin, high + margin]
}

const Axes = ({ y, tape, labels }: { y: Scale; tape: Scale; labels: Data['labels'] }) => (
  <>
    {y.ticks(6).map((voltage) => (
      <>
        <path class="faint" fill="none" d={`M${frame.left},${y(voltage)}H${frame.right}`} />
        <text x={frame.left - 6} y={y(voltage) + 5} text-anchor="end">
          {minus(voltage)}
        </text>
      </>
    ))}
    <path class="ink" stroke-width={5} d={`M${driverX - 8},${frame.bottom}h16`} />
    <text x={driverX} y={frame.bottom + 20} text-anchor="middle">
      {labels.driver}
    </text>
    <path class="ink" stroke-width={5} d={`M${tapeX},${frame.bottom}H${frame.right - 14}`} />
    {tape.ticks(5).map((at) => (
      <>
        <path class="ink" fill="none" d={`M${tape(at)},${frame.bottom}v7`} />
        <text x={tape(at)} y={frame.bottom + 20} text-anchor="middle">
          {at}
        </text>
      </>
    ))}
    <text x={frame.right} y={frame.bottom + 40} text-anchor="end">
      {labels.position}
    </text>
  </>
)

const minus = (value: number): string => String(value).replace('-', '−')

/** Above the mark or below it, on the side away from the other reading at the driver, or from what was expected. */
function labelAt(reading: Measured, { measured, expected }: Data, y: Scale): number {
  const other = measured.find(({ id, atM }) => atM === undefined && id !== reading.id)
  const start = expected.along[0]?.voltageV ?? 0
  const end = expected.along.at(-1)?.voltageV ?? 0
  const away =
    reading.atM === undefined ? (other?.voltageV ?? expected.driverV) : reading.atM === 0 ? start : end
  const isTied = reading.voltageV === away
  const isAbove = isTied ? reading.id === 'driverOpen' : reading.voltageV > away
  return y(reading.voltageV) + (isAbove ? -14 : 24)
}

const Reading = ({ x, y, labelY, reading }: { x: number; y: number; labelY: number; reading: Measured }) => (
  <>
    <Mark x={x} y={y} isOpen={reading.id === 'driverOpen'} />
    <text x={Math.min(x, frame.right - 24)} y={labelY} text-anchor="middle">
      {minusIn(reading.text)}
    </text>
  </>
)

const minusIn = (text: string): string => text.replace('-', '−')

/** A diamond, and a ring where the tape was unplugged. */
const Mark = ({ x, y, isOpen }: { x: number; y: number; isOpen: boolean }) =>
  isOpen ? (
    <circle class="ink fill-paper" stroke-width={3} cx={x} cy={y} r={7} />
  ) : (
    <path
      class="ink fill-accent"
      stroke-width={2}
      d={`M${x},${y - 8}L${x + 8},${y}L${x},${y + 8}L${x - 8},${y}Z`}
    />
  )

const Legend = ({ data: { labels, best, measured } }: { data: Data }) => {
  const markY = best ? 60 : 36
  const hasOpen = measured.some(({ id }) => id === 'driverOpen')
  return (
    <>
      <path class="good" fill="none" stroke-width={3} stroke-dasharray="8 5" d="M4,12h32" />
      <text x={frame.left} y={17}>
        {labels.expected}
      </text>
      {best ? (
        <>
          <path class="accent" fill="none" stroke-width={3} d="M4,36h32" />
          <text x={frame.left} y={41}>
            {best.label}
          </text>
        </>
      ) : null}
      <Mark x={20} y={markY} isOpen={false} />
      <text x={frame.left} y={markY + 5}>
        {labels.measured}
      </text>
      {hasOpen ? (
        <>
          <Mark x={150} y={markY} isOpen={true} />
          <text x={168} y={markY + 5}>
            {labels.unplugged}
          </text>
        </>
      ) : null}
    </>
  )
}
