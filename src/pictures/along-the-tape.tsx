import { scaleLinear } from 'd3-scale'
import { line } from 'd3-shape'
import { METRES_PER_FOOT } from '../quantities/convert'
import type { TapePicture } from '../questions/common/tape-picture'
import { layoutHeight, TapeLayout } from './tape-layout'
import { textWidth } from './text-width'

const width = 360
const left = 42
const right = 346
const panelHeight = 112
const voltageTop = 46
const lightTop = voltageTop + panelHeight + 34
const axisY = lightTop + panelHeight
const layoutTop = axisY + 62

type Panel = { top: number; values: number[]; leastSpan: number }
type Scale = (value: number) => number

/**
 * Voltage and light against position, feeds and limits marked, and the layout of the cables to scale beneath.
 *
 * Classes: `drawing`, `ink`, `faint`, `accent`, `limit`, `bad`, `fill-ink`, `fill-accent`, `fill-paper`.
 */
export const AlongTheTape = ({ data }: { data: TapePicture }) => {
  const height = layoutTop + layoutHeight(data)
  const x = scaleLinear([0, data.lengthM], [left, right])
  return (
    <svg class="drawing" viewBox={`0 0 ${width} ${height}`} role="img">
      <title>{data.words.title}</title>
      <desc>{data.words.description}</desc>
      <rect class="fill-paper" width={width} height={height} />
      <FeedMarks data={data} x={x} />
      <VoltagePanel data={data} x={x} />
      <LightPanel data={data} x={x} />
      <PositionAxis data={data} />
      <TapeLayout data={data} top={layoutTop} />
    </svg>
  )
}

/** A scale with air for texts above and below all values, which never makes a mountain of a molehill. */
function scaleOf({ top, values, leastSpan }: Panel) {
  const [low, high] = [Math.min(...values), Math.max(...values)]
  const span = Math.max(high - low, leastSpan)
  return scaleLinear([high - 1.28 * span, high + 0.22 * span], [top + panelHeight, top])
}

const curveOf = (points: readonly (readonly [number, number])[]): string =>
  line<readonly [number, number]>()(points as [number, number][]) ?? ''

/** Where the feeds join; numbers that would touch stand in two rows. */
const FeedMarks = ({ data, x }: { data: TapePicture; x: Scale }) => {
  const marks = data.feeds.map(({ atM }, i) => ({ at: x(atM), number: i + 1 })).sort((a, b) => a.at - b.at)
  const isCrowded = marks.some(({ at }, i) => i > 0 && at - (marks[i - 1]?.at ?? 0) < textWidth('000'))
  return (
    <g>
      {marks.map(({ at, number }, i) => {
        const textY = voltageTop - (isCrowded && i % 2 === 1 ? 19 : 6)
        return (
          <>
            <path
              class="faint"
              d={`M${at} ${textY + 1}V${voltageTop + panelHeight}M${at} ${lightTop}V${axisY}`}
              stroke-width="1"
              stroke-dasharray="2 4"
            />
            <path class="fill-ink" d={`M${at} ${voltageTop + 2}l-4 -7h8z`} />
            <text x={at} y={textY} text-anchor="middle">
              {number}
            </text>
          </>
        )
      })}
    </g>
  )
}

const Frame = ({
  top,
  titleY,
  y,
  title,
  found,
}: {
  top: number
  titleY: number
  y: ReturnType<typeof scaleOf>
  title: string
  found: string
}) => (
  <g>
    <text x="2" y={titleY}>
      <tspan font-weight="bold">{title}</tspan>
    </text>
    <text x={width - 2} y={titleY} text-anchor="end">
      {`● ${found}`}
    </text>
    {y.ticks(4).map((tick) => (
      <>
        <path class="faint" d={`M${left} ${y(tick)}H${right}`} stroke-width="0.5" />
        <text x={left - 5} y={y(tick) + 4.5} text-anchor="end">
          {y.tickFormat(4)(tick)}
        </text>
      </>
    ))}
    <path class="ink" d={`M${left} ${top}V${top + panelHeight}H${right}`} fill="none" stroke-width="1.5" />
  </g>
)

const VoltagePanel = ({ data, x }: { data: TapePicture; x: Scale }) => {
  const { points, source, lowest } = data
  const values = [...points.map(({ voltageV }) => voltageV), source.voltageV]
  const y = scaleOf({ top: voltageTop, values, leastSpan: 0.02 * source.voltageV })
  const curve = points.map(({ atM, voltageV }) => [x(atM), y(voltageV)] as const)
  return (
    <g>
      <Frame top={voltageTop} titleY={14} y={y} title={data.words.voltage} found={lowest.text} />
      <Level y={y(source.voltageV)} text={source.text} curve={curve} above={true} kind="faint" />
      <path class="ink" d={curveOf(curve)} fill="none" stroke-width="3" />
      <circle class="fill-ink" cx={x(lowest.atM)} cy={y(lowest.voltageV)} r="5" />
    </g>
  )
}

const LightPanel = ({ data, x }: { data: TapePicture; x: Scale }) => {
  const { points, limits, dimmest } = data
  const values = [
    ...points.map(({ lightPercent }) => lightPercent),
    ...limits.map((limit) => limit.lightPercent),
  ]
  const y = scaleOf({ top: lightTop, values, leastSpan: 10 })
  const curve = points.map(({ atM, lightPercent }) => [x(atM), y(lightPercent)] as const)
  const strictest = Math.max(...limits.map((limit) => limit.lightPercent))
  const tooDim = spaced(
    points.filter(({ lightPercent }) => lightPercent < strictest),
    ({ atM }) => x(atM),
  )
  return (
    <g>
      <Frame top={lightTop} titleY={lightTop - 8} y={y} title={data.words.light} found={dimmest.text} />
      {tooDim.map(({ atM, lightPercent }) => (
        <path class="bad" d={`M${x(atM)} ${y(lightPercent)}V${y(strictest)}`} stroke-width="1" />
      ))}
      {limits.map((limit) => (
        <Level
          y={y(limit.lightPercent)}
          text={limit.text}
          curve={curve}
          above={limit.lightPercent === strictest}
          kind="limit"
        />
      ))}
      <path class="accent" d={curveOf(curve)} fill="none" stroke-width="3" />
      <circle class="fill-accent" cx={x(dimmest.atM)} cy={y(dimmest.lightPercent)} r="5" />
    </g>
  )
}

/** One of each few, so that hatching stays hatching. */
function spaced<T>(all: readonly T[], at: (one: T) => number): T[] {
  const kept: T[] = []
  for (const one of all) {
    const last = kept.at(-1)
    if (last === undefined || at(one) - at(last) >= 7) kept.push(one)
  }
  return kept
}

/** A level across a panel, with its text on the side where the curve is farther away. */
const Level = ({
  y,
  text,
  curve,
  above,
  kind,
}: {
  y: number
  text: string
  curve: readonly (readonly [number, number])[]
  above: boolean
  kind: 'faint' | 'limit'
}) => {
  const textY = above ? y - 5 : y + 14
  const reach = textWidth(text) + 10
  const distance = (inside: (x: number) => boolean): number =>
    Math.min(...curve.filter(([x]) => inside(x)).map(([, at]) => Math.abs(at - textY + 4)), 200)
  const isRight = distance((x) => x > right - reach) > distance((x) => x < left + reach)
  return (
    <g>
      <path
        class={kind}
        d={`M${left} ${y}H${right}`}
        stroke-width={kind === 'limit' ? 2 : 1.5}
        stroke-dasharray={kind === 'limit' ? '8 4' : '2 3'}
      />
      {kind === 'limit' ? (
        <rect
          class="fill-paper"
          x={isRight ? right - reach + 4 : left + 4}
          y={textY - 11.5}
          width={reach - 6}
          height="13.5"
        />
      ) : null}
      <text x={isRight ? right - 4 : left + 6} y={textY} text-anchor={isRight ? 'end' : 'start'}>
        {text}
      </text>
    </g>
  )
}

const PositionAxis = ({ data: { lengthM, units, words } }: { data: TapePicture }) => {
  const perUnit = units === 'us' ? METRES_PER_FOOT : 1
  const own = scaleLinear([0, lengthM / perUnit], [left, right])
  return (
    <g>
      {own.ticks(6).map((tick) => (
        <>
          <path class="ink" d={`M${own(tick)} ${axisY}v5`} stroke-width="1.5" />
          <text x={own(tick)} y={axisY + 19} text-anchor="middle">
            {own.tickFormat(6)(tick)}
          </text>
        </>
      ))}
      <text x={width - 2} y={axisY + 36} text-anchor="end">
        {words.position}
      </text>
    </g>
  )
}
