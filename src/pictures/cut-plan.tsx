import { scaleLinear } from 'd3-scale'
import type { CutPlanBar, CutPlanPicture } from '../questions/cut-plan'

const width = 360
const frame = { left: 4, right: 356 }
const headHeight = 30
const barHeight = 24
const rowHeight = 54

type Section = CutPlanPicture['sections'][number]

/** Openings with their tape, then reels and channels with their pieces; each a drawing of its own, to break in print. */
export const CutPlan = ({ data }: { data: CutPlanPicture }) => (
  <>
    {data.sections.map((section) => (
      <Bars section={section} />
    ))}
  </>
)

const Bars = ({ section }: { section: Section }) => {
  const { id, title, description, more, bars } = section
  const longest = Math.max(...bars.map(({ lengthM }) => lengthM))
  const x = scaleLinear([0, longest], [frame.left, frame.right])
  const height = headHeight + bars.length * rowHeight + (more ? 24 : 0)
  return (
    <svg class="drawing" viewBox={`0 0 ${width} ${height}`} role="img">
      <title>{title}</title>
      <desc>{description}</desc>
      <text x={frame.left} y={18}>
        {title}
      </text>
      {bars.map((bar, at) => (
        <g transform={`translate(0 ${headHeight + at * rowHeight})`}>
          <Bar bar={bar} x={x} tape={id === 'openings'} />
        </g>
      ))}
      {more ? (
        <text x={frame.left} y={height - 8}>
          {more}
        </text>
      ) : null}
    </svg>
  )
}

/** The whole length as a dashed outline: what no piece covers is left over, or stays dark. */
const Bar = ({ bar, x, tape }: { bar: CutPlanBar; x: (lengthM: number) => number; tape: boolean }) => {
  const top = 20
  const starts = startsOf(bar)
  return (
    <>
      <text x={frame.left} y={14}>
        {bar.text}
      </text>
      <rect
        class="ink"
        fill="none"
        stroke-dasharray="3 3"
        x={x(0)}
        y={top}
        width={x(bar.lengthM) - x(0)}
        height={barHeight}
      />
      {bar.pieces.map(({ lengthM, label }, at) => {
        const from = x(starts[at] ?? 0)
        const pieceWidth = x(lengthM) - x(0)
        return (
          <>
            <rect
              class={tape ? 'ink fill-accent' : 'ink fill-paper'}
              stroke-width={2}
              x={from}
              y={tape ? top + 7 : top}
              width={pieceWidth}
              height={tape ? barHeight - 14 : barHeight}
            />
            {pieceWidth > 9 * label.length + 4 ? (
              <text x={from + pieceWidth / 2} y={top + 17} text-anchor="middle">
                {label}
              </text>
            ) : null}
          </>
        )
      })}
    </>
  )
}

/** Where each piece begins, one after the other from the left end, m. */
function startsOf({ startM, pieces }: CutPlanBar): number[] {
  let at = startM
  return pieces.map(({ lengthM }) => {
    const start = at
    at += lengthM
    return start
  })
}
