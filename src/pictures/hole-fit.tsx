import { scaleLinear } from 'd3-scale'
import type { HoleFitPicture } from '../questions/hole-fit'

const width = 360
/** Middle of the hole or raceway, and how far it may reach. */
const middle = { x: 180, y: 170 }
const reach = 128
const textHeight = 20
/** A cable smaller than this has no room for its number. */
const leastForNumber = 10

/** The cables in their bundle, inside the hole or the raceway, all to one scale. */
export const HoleFit = ({ data }: { data: HoleFitPicture }) => {
  const { outer, bundleM, cables, labels } = data
  const widestM = Math.max(outer?.diameterM ?? 0, bundleM) / 2
  const scale = scaleLinear([0, widestM], [0, reach])
  const legend = middle.y + reach + 34
  const height = legend + textHeight * (labels.rows.length + 1)
  return (
    <svg class="drawing" viewBox={`0 0 ${width} ${height}`} role="img">
      <title>{data.title}</title>
      <desc>{data.description}</desc>
      <text x={width / 2} y={18} text-anchor="middle">
        {labels.outer}
      </text>
      {outer ? <Around kind={outer.kind} radius={scale(outer.diameterM / 2)} /> : null}
      {cables.map((cable) => (
        <Cable
          x={middle.x + scale(cable.xM)}
          y={middle.y + scale(cable.yM)}
          radius={scale(cable.diameterM / 2)}
          row={cable.row}
        />
      ))}
      <Ring radius={scale(bundleM / 2)} />
      <path class="accent" fill="none" stroke-width={2} stroke-dasharray="6 4" d={`M20,${legend - 5}h28`} />
      <text x={56} y={legend}>
        {labels.bundle}
      </text>
      {labels.rows.map((row, at) => (
        <text x={20} y={legend + textHeight * (at + 1)}>
          {row}
        </text>
      ))}
    </svg>
  )
}

/** A hole is one edge in the wood; a raceway has a wall, drawn as two. */
const Around = ({ kind, radius }: { kind: 'hole' | 'raceway'; radius: number }) => (
  <>
    <circle class="ink fill-paper" stroke-width={3} cx={middle.x} cy={middle.y} r={radius} />
    {kind === 'raceway' ? (
      <circle class="ink" fill="none" stroke-width={2} cx={middle.x} cy={middle.y} r={radius + 6} />
    ) : (
      <path class="faint" fill="none" stroke-width={2} d={grain(radius)} />
    )}
  </>
)

/** Strokes of the wood around a hole. */
const grain = (radius: number): string =>
  Array.from({ length: 24 }, (_, at) => {
    const angle = (at / 24) * 2 * Math.PI
    const point = (distance: number) =>
      `${middle.x + distance * Math.cos(angle)},${middle.y + distance * Math.sin(angle)}`
    return `M${point(radius + 4)}L${point(radius + 12)}`
  }).join('')

const Ring = ({ radius }: { radius: number }) => (
  <circle
    class="accent"
    fill="none"
    stroke-width={2}
    stroke-dasharray="6 4"
    cx={middle.x}
    cy={middle.y}
    r={radius}
  />
)

const Cable = ({ x, y, radius, row }: { x: number; y: number; radius: number; row: number }) => (
  <>
    <circle class="ink fill-paper" stroke-width={2} cx={x} cy={y} r={radius} />
    {radius < leastForNumber ? null : (
      <text x={x} y={y} dy={5} text-anchor="middle">
        {row}
      </text>
    )}
  </>
)
