import { scaleLinear } from 'd3-scale'
import type { BoxFillPicture } from '../questions/box-fill'

const width = 340
const column = { left: 6, right: 98 }
const listLeft = 130
const top = 26
const rowHeight = 42
const leastTall = 190
const leastNumbered = 16

type Volumes = (cm3: number) => number

/** A layer of the column, from one volume to another; what is free has no number. */
type Layer = { label: string; text: string; number?: number; from: number; to: number }

/** The layers from the bottom up; what is free lies on top of them. */
function layersOf({ parts, spareCm3, spareLabel, spareText }: BoxFillPicture): Layer[] {
  const layers: Layer[] = []
  let from = 0
  for (const { label, text, volumeCm3 } of parts) {
    layers.push({ label, text, number: layers.length + 1, from, to: from + volumeCm3 })
    from += volumeCm3
  }
  if (spareCm3 > 1e-6) layers.push({ label: spareLabel, text: spareText, from, to: from + spareCm3 })
  return layers
}

/** What fills a box: a column drawn to volume, the box around it, and a list that names each layer. */
export const BoxFill = ({ data }: { data: BoxFillPicture }) => {
  const layers = layersOf(data)
  const reach = Math.max(layers.at(-1)?.to ?? 0, data.boxCm3)
  const tall = Math.max(leastTall, layers.length * rowHeight)
  const y = scaleLinear([0, reach], [top + tall, top])
  const rows = tall / layers.length
  return (
    <svg class="drawing" viewBox={`0 0 ${width} ${top + tall + 8}`} role="img">
      <title>{data.title}</title>
      <desc>{data.description}</desc>
      <text x={column.left} y={16}>
        {data.boxText}
      </text>
      {layers.map((layer, at) => (
        <LayerMark layer={layer} y={y} rowY={top + tall - rows * (at + 0.5)} />
      ))}
      <BoxWalls y={y} boxCm3={data.boxCm3} reachCm3={reach} />
    </svg>
  )
}

/** The box as an open vessel; what stands out of it is set off by a broken line. */
const BoxWalls = ({ y, boxCm3, reachCm3 }: { y: Volumes; boxCm3: number; reachCm3: number }) => (
  <>
    {reachCm3 > boxCm3 * (1 + 1e-9) ? (
      <path
        class="bad"
        d={`M${column.left} ${y(boxCm3)}V${y(reachCm3)}H${column.right}V${y(boxCm3)}`}
        fill="none"
        stroke-width={4}
        stroke-dasharray="7 5"
      />
    ) : null}
    <path
      class="ink"
      d={`M${column.left} ${y(boxCm3)}V${y(0)}H${column.right}V${y(boxCm3)}`}
      fill="none"
      stroke-width={4}
    />
    <path class="ink" d={`M0 ${y(boxCm3)}H${column.right + 14}`} fill="none" stroke-width={4} />
  </>
)

/** One layer, its number where there is room, and its line in the list. */
const LayerMark = ({ layer, y, rowY }: { layer: Layer; y: Volumes; rowY: number }) => {
  const tall = y(layer.from) - y(layer.to)
  const middle = (y(layer.from) + y(layer.to)) / 2
  const free = layer.number === undefined
  return (
    <>
      <rect
        class={free ? 'faint fill-paper' : 'ink fill-paper'}
        x={column.left}
        y={y(layer.to)}
        width={column.right - column.left}
        height={tall}
        stroke-width={1.5}
        stroke-dasharray={free ? '3 4' : undefined}
      />
      {tall < leastNumbered || free ? null : (
        <text x={(column.left + column.right) / 2} y={middle + 5} text-anchor="middle">
          {layer.number}
        </text>
      )}
      <path
        class="ink"
        d={`M${column.right} ${middle}L${listLeft - 6} ${rowY}`}
        fill="none"
        stroke-width={1}
      />
      <text x={listLeft} y={rowY - 3}>
        {free ? '' : `${layer.number}. `}
        {layer.label}
      </text>
      <text x={listLeft} y={rowY + 13}>
        {layer.text}
      </text>
    </>
  )
}
