import { scaleLinear } from 'd3-scale'
import type { FramingHolePicture } from '../questions/framing-hole'

const width = 360
const member = { left: 8, right: 352, top: 52, height: 170 }
const bottom = member.top + member.height
const middleX = (member.left + member.right) / 2
const plateHeight = 9

/** The member from its wide side, to scale, with where holes may be, the hole or notch, and the plates. */
export const FramingHole = ({ data }: { data: FramingHolePicture }) => {
  const { depthM, hole, notch, along, labels } = data
  const scale = scaleLinear([0, depthM], [0, member.height])
  const notchWidth = notch ? Math.min(scale(notch.lengthM), 260) : 0
  const notchDepth = notch ? Math.min(scale(notch.depthM), member.height) : 0
  const spread = Math.max(26, notchWidth / 2, hole ? scale(hole.diameterM) / 2 : 0) + 14
  const below = bottom + 34
  const height = along ? below + 126 : below
  return (
    <svg class="drawing" viewBox={`0 0 ${width} ${height}`} role="img">
      <title>{data.title}</title>
      <desc>{data.description}</desc>
      <path class="ink fill-paper" stroke-width={3} d={outline(notchWidth, notchDepth)} />
      <Zone data={data} scale={scale} />
      {hole ? <Hole data={data} scale={scale} /> : null}
      {notch && !data.allowed ? <Cross x={middleX} y={member.top + notchDepth / 2} size={13} /> : null}
      {data.plates.top ? <Plate y={member.top - plateHeight - 2} spread={spread} /> : null}
      {data.plates.bottom ? <Plate y={bottom + 2} spread={spread} /> : null}
      {labels.plate && (data.plates.top || data.plates.bottom) ? (
        <text x={member.right} y={data.plates.top ? member.top - 17 : bottom + 27} text-anchor="end">
          {labels.plate}
        </text>
      ) : null}
      <text x={member.left} y={18}>
        {labels.cut}
      </text>
      {labels.left ? (
        <text x={member.right} y={18} text-anchor="end">
          {labels.left}
        </text>
      ) : null}
      <Depth text={labels.depth} />
      {along ? <Along along={along} labels={labels} top={below + 14} /> : null}
    </svg>
  )
}

type Scale = (lengthM: number) => number

/** The upper edge may have a notch. */
const outline = (notchWidth: number, notchDepth: number): string => {
  const { left, right, top } = member
  const cut = notchWidth > 0 ? `H${middleX - notchWidth / 2}v${notchDepth}h${notchWidth}v${-notchDepth}` : ''
  return `M${left},${top}${cut}H${right}V${bottom}H${left}Z`
}

/** Where a hole may lie: between two dashed lines, or on one. */
const Zone = ({ data, scale }: { data: FramingHolePicture; scale: Scale }) => {
  const { edgeNeededM, holesAllowed, labels, notch } = data
  if (!holesAllowed || notch) return null
  const line = (y: number) => `M${member.left},${y}H${member.right}`
  if (edgeNeededM === null) {
    const y = (member.top + bottom) / 2
    return (
      <>
        <path class="good" fill="none" stroke-width={2} stroke-dasharray="12 4 3 4" d={line(y)} />
        <text x={member.left + 8} y={y - 6}>
          {labels.zone}
        </text>
      </>
    )
  }
  if (edgeNeededM === 0) return null
  const [upper, lower] = [member.top + scale(edgeNeededM), bottom - scale(edgeNeededM)]
  return (
    <>
      <path class="good" fill="none" stroke-width={2} stroke-dasharray="8 5" d={line(upper) + line(lower)} />
      <text x={member.left + 8} y={Math.min(lower - 6, upper + 18)}>
        {labels.zone}
      </text>
    </>
  )
}

/** Solid when it is asked for, dashed when it only shows the largest; crossed out when it is not allowed. */
const Hole = ({ data, scale }: { data: FramingHolePicture; scale: Scale }) => {
  const { hole, allowed } = data
  if (!hole) return null
  const radius = scale(hole.diameterM) / 2
  const y = member.top + scale(hole.fromTopM) + radius
  return (
    <>
      <circle
        class={allowed ? 'accent' : 'bad'}
        fill="none"
        stroke-width={3}
        stroke-dasharray={hole.asked ? undefined : '6 4'}
        cx={middleX}
        cy={y}
        r={radius}
      />
      {allowed ? null : <Cross x={middleX} y={y} size={Math.max(8, radius * 0.7)} />}
    </>
  )
}

const Cross = ({ x, y, size }: { x: number; y: number; size: number }) => (
  <path
    class="bad"
    fill="none"
    stroke-width={3}
    d={`M${x - size},${y - size}l${2 * size},${2 * size}m0,${-2 * size}l${-2 * size},${2 * size}`}
  />
)

const Plate = ({ y, spread }: { y: number; spread: number }) => (
  <rect class="ink fill-ink" x={middleX - spread} y={y} width={2 * spread} height={plateHeight} />
)

/** The depth, by a line with two ends. */
const Depth = ({ text }: { text: string }) => {
  const x = member.right - 14
  return (
    <>
      <path
        class="ink"
        fill="none"
        stroke-width={2}
        d={`M${x - 6},${member.top + 4}h12M${x},${member.top + 4}V${bottom - 4}M${x - 6},${bottom - 4}h12`}
      />
      <text x={x - 10} y={bottom - 10} text-anchor="end">
        {text}
      </text>
    </>
  )
}

type AlongProps = {
  along: NonNullable<FramingHolePicture['along']>
  labels: FramingHolePicture['labels']
  top: number
}

/** Along the span: where holes and where notches may be, from both supports. */
const Along = ({ along, labels, top }: AlongProps) => {
  const x = scaleLinear([0, 1], [member.left + 6, member.right - 6])
  const both = ([from, to]: readonly [number, number]) => [
    [from, to],
    [1 - to, 1 - from],
  ]
  const bars = (share: readonly [number, number], y: number, height: number) =>
    both(share).map(([from = 0, to = 0]) => (
      <rect
        class="good fill-paper"
        stroke-width={2}
        x={x(from)}
        y={y}
        width={x(to) - x(from)}
        height={height}
      />
    ))
  return (
    <>
      <text x={middleX} y={top} text-anchor="middle">
        {labels.span}
      </text>
      <path class="ink" fill="none" stroke-width={3} d={`M${x(0)},${top + 10}H${x(1)}`} />
      <path class="ink fill-ink" d={`${support(x(0), top + 12)}${support(x(1), top + 12)}`} />
      {bars(along.notches, top + 32, 22)}
      {bars(along.holes, top + 60, 22)}
      <text x={middleX} y={top + 48} text-anchor="middle">
        {labels.notchesHere}
      </text>
      <text x={middleX} y={top + 76} text-anchor="middle">
        {labels.holesHere}
      </text>
      {along.here === undefined ? null : (
        <>
          <path class="accent" fill="none" stroke-width={3} d={`M${x(along.here)},${top + 4}V${top + 88}`} />
          <text x={x(along.here)} y={top + 104} text-anchor="middle">
            {labels.here}
          </text>
        </>
      )}
    </>
  )
}

/** What the joist rests on. */
const support = (x: number, y: number): string => `M${x},${y}l7,12h-14Z`
