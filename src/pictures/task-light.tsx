import { scaleLinear } from 'd3-scale'
import { area, line } from 'd3-shape'
import { LUX_PER_FOOT_CANDLE, METRES_PER_FOOT } from '../quantities/convert'
import type { TaskLightPicture } from '../questions/task-light'

type Sample = { at: number; light: number }

/** One half of the drawing, in the person's own units. */
type Panel = {
  caption: string
  samples: Sample[]
  pointAt: number
  /** Where the tape lies over the line of this panel. */
  tape: readonly [number, number]
}

const width = 360
const legendHeight = 76
const panelHeight = 220
const frame = { left: 44, right: 350, top: 50, bottom: 172 }

/** The light along the bench and across it, with the target, the tape above and the spot asked about. */
export const TaskLight = ({ data }: { data: TaskLightPicture }) => {
  const [metres, lux] = data.units === 'us' ? [METRES_PER_FOOT, LUX_PER_FOOT_CANDLE] : [1, 1]
  const samples = (from: TaskLightPicture['along']): Sample[] =>
    from.map((sample) => ({ at: sample.atM / metres, light: sample.lux / lux }))
  const half = data.tapeLengthM / 2 / metres
  const panels: Panel[] = [
    {
      caption: data.labels.along,
      samples: samples(data.along),
      pointAt: data.point.alongM / metres,
      tape: [-half, half],
    },
    {
      caption: data.labels.across,
      samples: samples(data.across),
      pointAt: data.point.acrossM / metres,
      tape: [0, 0],
    },
  ]
  const target = data.targetLux / lux
  const point = data.point.lux / lux
  const most = 1.1 * Math.max(target, ...panels.flatMap((panel) => panel.samples.map(({ light }) => light)))
  return (
    <svg class="drawing" viewBox={`0 0 ${width} ${legendHeight + 2 * panelHeight}`} role="img">
      <title>{data.title}</title>
      <desc>{data.description}</desc>
      <Legend labels={data.labels} />
      {panels.map((panel, at) => (
        <g transform={`translate(0 ${legendHeight + at * panelHeight})`}>
          <Bench panel={panel} most={most} target={target} point={point} labels={data.labels} />
        </g>
      ))}
    </svg>
  )
}

const Bench = ({
  panel,
  most,
  target,
  point,
  labels,
}: {
  panel: Panel
  most: number
  target: number
  point: number
  labels: TaskLightPicture['labels']
}) => {
  const ends = [panel.samples[0]?.at ?? 0, panel.samples.at(-1)?.at ?? 1]
  const x = scaleLinear(ends, [frame.left, frame.right])
  const y = scaleLinear([0, most], [frame.bottom, frame.top])
  const curve = line<Sample>(
    ({ at }) => x(at),
    ({ light }) => y(light),
  )
  const under = area<Sample>(
    ({ at }) => x(at),
    frame.bottom,
    ({ light }) => y(light),
  )
  const [pointX, pointY] = [x(panel.pointAt), y(point)]
  const [from, to] = [x(panel.tape[0]), x(panel.tape[1])]
  return (
    <>
      <text x={frame.left} y={16}>
        {panel.caption}
      </text>
      <path class="ink" stroke-width={7} d={`M${from - 3},30H${to + 3}`} />
      <path class="fill-paper" d={under(panel.samples) ?? ''} />
      {y.ticks(4).map((light) => (
        <>
          <path class="faint" fill="none" d={`M${frame.left},${y(light)}H${frame.right}`} />
          <text x={frame.left - 6} y={y(light) + 5} text-anchor="end">
            {light}
          </text>
        </>
      ))}
      <text x={frame.left - 6} y={frame.top - 14} text-anchor="end">
        {labels.light}
      </text>
      {x.ticks(5).map((at) => (
        <>
          <path class="faint" fill="none" d={`M${x(at)},${frame.bottom}v6`} />
          <text x={x(at)} y={frame.bottom + 20} text-anchor="middle">
            {String(at).replace('-', '−')}
          </text>
        </>
      ))}
      <text x={frame.right} y={frame.bottom + 38} text-anchor="end">
        {labels.distance}
      </text>
      <path
        class="limit"
        fill="none"
        stroke-width={2}
        stroke-dasharray="8 5"
        d={`M${frame.left},${y(target)}H${frame.right}`}
      />
      <path class="accent" fill="none" stroke-width={3} d={curve(panel.samples) ?? ''} />
      <path class="faint" fill="none" stroke-dasharray="2 3" d={`M${pointX},${pointY}V${frame.bottom}`} />
      <path class="ink fill-accent" stroke-width={2} d={diamond(pointX, pointY)} />
    </>
  )
}

const diamond = (x: number, y: number): string => `M${x},${y - 8}L${x + 8},${y}L${x},${y + 8}L${x - 8},${y}Z`

const Legend = ({ labels }: { labels: TaskLightPicture['labels'] }) => (
  <>
    <path class="ink" stroke-width={7} d="M6,12h28" />
    <text x={frame.left} y={17}>
      {labels.tape}
    </text>
    <path class="limit" fill="none" stroke-width={2} stroke-dasharray="8 5" d="M4,36h32" />
    <text x={frame.left} y={41}>
      {labels.target}
    </text>
    <path class="ink fill-accent" stroke-width={2} d={diamond(20, 60)} />
    <text x={frame.left} y={65}>
      {labels.here}
    </text>
  </>
)
