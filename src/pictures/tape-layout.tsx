import { scaleLinear } from 'd3-scale'
import { METRES_PER_FOOT } from '../quantities/convert'
import type { TapePicture } from '../questions/common/tape-picture'
import { textWidth } from './text-width'

/**
 * The tape and its cables along one line, to scale: where the feeds part is put where the cables' lengths fit best to
 * the places they go to. Cables of other lengths end short of their place or beyond it.
 */
type Laid = {
  driverM: number
  splitM: number
  /** In the order of the feeds; a feed without a cable ends where it starts. */
  ends: number[]
  leastM: number
  mostM: number
}

const left = 12
const right = 348
const labelRows = 2
const rowHeight = 38

/** Puts the layout along one line. */
export function layAlongLine({ feeds, trunk, lengthM }: TapePicture): Laid {
  const candidates = feeds.flatMap(({ atM, distanceM }) => [atM - distanceM, atM + distanceM])
  const misfit = (splitM: number): number =>
    feeds.reduce((sum, { atM, distanceM }) => sum + Math.abs(Math.abs(atM - splitM) - distanceM), 0)
  const splitM = candidates.reduce((best, each) => (misfit(each) < misfit(best) - 1e-9 ? each : best))
  const driverM = splitM - (trunk?.distanceM ?? 0)
  const ends = feeds.map(({ atM, distanceM }) => splitM + (atM < splitM ? -distanceM : distanceM))
  const all = [0, lengthM, splitM, driverM, ...ends]
  return { driverM, splitM, ends, leastM: Math.min(...all), mostM: Math.max(...all) }
}

/** Rows of cable: one for each feed, one more for a cable that they share. */
const rowsOf = ({ feeds, trunk }: TapePicture): number => feeds.length + (trunk ? 1 : 0)

const tapeYOf = (top: number): number => top + 16 + 18 * labelRows

/** Height of the layout, as drawn. */
export const layoutHeight = (data: TapePicture): number => tapeYOf(0) + 30 + rowHeight * rowsOf(data) + 44

export const TapeLayout = ({ data, top }: { data: TapePicture; top: number }) => {
  const laid = layAlongLine(data)
  const x = scaleLinear([laid.leastM, laid.mostM], [left, right])
  const tapeY = tapeYOf(top)
  const rowY = (row: number): number => tapeY + 30 + rowHeight * row
  const driverY = rowY(rowsOf(data)) - 8
  return (
    <g>
      <text x="2" y={top}>
        <tspan font-weight="bold">{data.words.layout}</tspan>
      </text>
      <Cables data={data} laid={laid} x={x} tapeY={tapeY} rowY={rowY} driverY={driverY} />
      <Tape data={data} x={x} y={tapeY} />
      <Driver text={data.source.text} x={x(laid.driverM)} y={driverY} />
      <ScaleBar data={data} perM={x(1) - x(0)} y={driverY + 36} />
    </g>
  )
}

type Scale = (metres: number) => number

/** The tape with the voltages at its feeds, its ends and its lowest point, as far as there is room for them. */
const Tape = ({ data, x, y }: { data: TapePicture; x: Scale; y: number }) => {
  const labels = placed(nodesOf(data), x)
  return (
    <g>
      {labels.map(({ atM, row }) => (
        <path class="faint" d={`M${x(atM)} ${y}V${y - 4 - 18 * row}`} stroke-width="1" />
      ))}
      <rect
        class="ink fill-paper"
        x={x(0)}
        y={y}
        width={Math.max(3, x(data.lengthM) - x(0))}
        height="12"
        stroke-width="2"
      />
      {data.feeds.map(({ atM }) => (
        <path class="ink" d={`M${x(atM)} ${y - 4}V${y + 16}`} stroke-width="3" />
      ))}
      {labels.map(({ text, textX, row }) => (
        <>
          <rect
            class="fill-paper"
            x={textX - textWidth(text) / 2}
            y={y - 19 - 18 * row}
            width={textWidth(text)}
            height="16"
          />
          <text x={textX} y={y - 6 - 18 * row} text-anchor="middle">
            {text}
          </text>
        </>
      ))}
      <circle class="fill-ink" cx={x(data.lowest.atM)} cy={y + 6} r="4" />
    </g>
  )
}

type Node = { atM: number; text: string }

/** What is worth a label, most needed first. */
const nodesOf = ({ lowest, feeds, ends }: TapePicture): Node[] => {
  const named = [
    { atM: lowest.atM, text: `● ${lowest.text}` },
    ...feeds.map(({ atM, voltageText }, i) => ({ atM, text: `${i + 1}: ${voltageText}` })),
  ]
  const apart = ends.filter(({ atM, voltageText }) => !named.some((node) => near(node, { atM, voltageText })))
  return [...named, ...apart.map(({ atM, voltageText }) => ({ atM, text: voltageText }))]
}

/** Whether an end is as good as a node that has its label already. */
const near = (node: Node, end: { atM: number; voltageText: string }): boolean =>
  node.text.endsWith(` ${end.voltageText}`)

/** Labels in up to two rows, none upon another; those without room are left out, and stand with their cable anyway. */
function placed(nodes: readonly Node[], x: Scale): (Node & { textX: number; row: number })[] {
  const done: (Node & { textX: number; row: number })[] = []
  for (const node of nodes) {
    const half = textWidth(node.text) / 2
    const textX = Math.min(right + 8 - half, Math.max(left - 8 + half, x(node.atM)))
    const row = [0, 1].find((each) =>
      done.every(
        (other) => other.row !== each || Math.abs(other.textX - textX) > half + textWidth(other.text) / 2 + 4,
      ),
    )
    if (row !== undefined) done.push({ ...node, textX, row })
  }
  return done
}

/** Nearest end first, so that no cable crosses another on its way up to the tape. */
const Cables = ({
  data,
  laid,
  x,
  tapeY,
  rowY,
  driverY,
}: {
  data: TapePicture
  laid: Laid
  x: Scale
  tapeY: number
  rowY: (row: number) => number
  driverY: number
}) => {
  const reach = (feed: number): number => Math.abs((laid.ends[feed] ?? 0) - laid.splitM)
  const order = [...data.feeds.keys()].sort((a, b) => reach(a) - reach(b))
  const trunkRow = data.feeds.length
  const splitX = x(laid.splitM)
  const busTop = rowY(
    Math.max(
      0,
      order.findIndex((feed) => reach(feed) > 0),
    ),
  )
  const lanes = order.map((feed, row) => ({
    text: data.feeds[feed]?.text ?? '',
    y: rowY(row),
    endX: x(laid.ends[feed] ?? 0),
    atX: x(data.feeds[feed]?.atM ?? 0),
  }))
  return (
    <g>
      <path
        class="ink"
        d={`M${splitX} ${data.trunk ? rowY(trunkRow) : driverY}V${busTop}`}
        stroke-width="2.5"
      />
      {data.trunk ? (
        <path
          class="ink"
          d={`M${x(laid.driverM)} ${driverY}V${rowY(trunkRow)}H${splitX}`}
          fill="none"
          stroke-width="4"
        />
      ) : null}
      {lanes.map(({ y, endX, atX }) => (
        <>
          <path class="ink" d={`M${splitX} ${y}H${endX}`} stroke-width="2.5" />
          {Math.abs(endX - atX) < 1 ? (
            <path class="ink" d={`M${endX} ${y}V${tapeY + 12}`} stroke-width="2.5" />
          ) : (
            <path
              class="faint"
              d={`M${endX} ${y}L${atX} ${tapeY + 12}`}
              stroke-width="2"
              stroke-dasharray="2 4"
            />
          )}
        </>
      ))}
      {lanes.map(({ text, y }) => (
        <CableText text={text} x={splitX} y={y} />
      ))}
      {data.trunk ? <CableText text={data.trunk.text} x={x(laid.driverM)} y={rowY(trunkRow)} /> : null}
    </g>
  )
}

/** A text beneath its cable, beside where it starts if there is room, over the lines that pass behind it. */
const CableText = ({ text, x, y }: { text: string; x: number; y: number }) => {
  const textX = Math.max(2, Math.min(x + 8, right + 8 - textWidth(text)))
  return (
    <g>
      <rect class="fill-paper" x={textX - 3} y={y + 4} width={textWidth(text) + 6} height="17" />
      <text x={textX} y={y + 17}>
        {text}
      </text>
    </g>
  )
}

const Driver = ({ text, x, y }: { text: string; x: number; y: number }) => {
  const isRight = x > 180
  return (
    <g>
      <rect class="fill-ink" x={x - 8} y={y} width="16" height="16" />
      <text x={isRight ? x - 14 : x + 14} y={y + 13} text-anchor={isRight ? 'end' : 'start'}>
        {text}
      </text>
    </g>
  )
}

/** A length that is good to count in, about a quarter of the width. */
const ScaleBar = ({ data: { units }, perM, y }: { data: TapePicture; perM: number; y: number }) => {
  const [perUnit, symbol] = units === 'us' ? [METRES_PER_FOOT * perM, 'ft'] : [perM, 'm']
  const count =
    scaleLinear([0, 90 / perUnit], [0, 90])
      .ticks(2)
      .at(-1) ?? 1
  const end = right - count * perUnit
  return (
    <g>
      <path class="ink" d={`M${end} ${y - 4}v8m0 -4H${right}m0 -4v8`} fill="none" stroke-width="2" />
      <text x={end - 6} y={y + 4} text-anchor="end">
        {`${count} ${symbol}`}
      </text>
    </g>
  )
}
