import { scaleLog } from 'd3-scale'
import { line } from 'd3-shape'
import { flickerLimits } from '../calculators/steady-light'
import type { SteadyLightPicture } from '../questions/steady-light'

const width = 360
const height = 330
const frame = { left: 46, right: 340, top: 34, bottom: 270 }

/** Enough frequencies for a smooth line, closest where the limits jump. */
const frequenciesBetween = (slowest: number, fastest: number): number[] =>
  [...Array.from({ length: 121 }, (_, at) => slowest * (fastest / slowest) ** (at / 120)), 89.999, 90]
    .filter((hz) => hz >= slowest && hz <= fastest)
    .sort((a, b) => a - b)

const decades = (from: number, to: number): number[] =>
  [0.01, 0.1, 1, 10, 100, 1000, 10_000, 100_000].filter((value) => value >= from && value <= to)

/** How often and how deep a light swings, on logarithmic axes, with the limits of low risk and of no effect. */
export const SteadyLight = ({ data }: { data: SteadyLightPicture }) => {
  const { frequencyHz, modulationPercent, labels } = data
  const [slowest, fastest] = [Math.min(10, frequencyHz / 1.5), Math.max(10_000, frequencyHz * 1.2)]
  const shallowest = Math.max(0.01, Math.min(0.1, slowest / 100, modulationPercent || 1))
  const x = scaleLog([slowest, fastest], [frame.left, frame.right])
  const y = scaleLog([shallowest, 100], [frame.bottom, frame.top]).clamp(true)
  const frequencies = frequenciesBetween(slowest, fastest)
  const limit = (id: 'lowRiskPercent' | 'noEffectPercent'): string =>
    line<number>(x, (hz) => y(flickerLimits(hz)[id]))(frequencies) ?? ''
  const [pointX, pointY] = [x(frequencyHz), y(Math.max(shallowest, modulationPercent))]
  const band = { x: x(260), y: y(13.4) }
  const rise = (Math.atan2(y(80) - y(8), x(2000) - x(200)) * 180) / Math.PI
  return (
    <svg class="drawing" viewBox={`0 0 ${width} ${height}`} role="img">
      <title>{data.title}</title>
      <desc>{data.description}</desc>
      {decades(slowest, fastest).map((hz) => (
        <>
          <path class="faint" fill="none" d={`M${x(hz)},${frame.top}V${frame.bottom}`} />
          <text x={x(hz)} y={frame.bottom + 18} text-anchor="middle">
            {hz >= 1000 ? `${hz / 1000}k` : hz}
          </text>
        </>
      ))}
      {decades(shallowest, 100).map((percent) => (
        <>
          <path class="faint" fill="none" d={`M${frame.left},${y(percent)}H${frame.right}`} />
          <text x={frame.left - 6} y={y(percent) + 5} text-anchor="end">
            {percent}
          </text>
        </>
      ))}
      <path class="limit" fill="none" stroke-width={3} d={limit('lowRiskPercent')} />
      <path class="good" fill="none" stroke-width={3} stroke-dasharray="8 5" d={limit('noEffectPercent')} />
      <text x={frame.left} y={18}>
        {labels.modulation}
      </text>
      <text x={frame.right} y={frame.bottom + 38} text-anchor="end">
        {labels.frequency}
      </text>
      <text x={frame.left + 8} y={y(100) + 22}>
        {labels.above}
      </text>
      <text x={frame.right - 6} y={frame.bottom - 40} text-anchor="end">
        {labels.noEffect}
      </text>
      <text
        x={band.x}
        y={band.y}
        dy={5}
        text-anchor="middle"
        transform={`rotate(${rise} ${band.x} ${band.y})`}
      >
        {labels.lowRisk}
      </text>
      <path class="ink fill-accent" stroke-width={2} d={diamond(pointX, pointY)} />
      <text x={frame.right - 22} y={18} text-anchor="end">
        {labels.here}
      </text>
      <path class="ink fill-accent" stroke-width={2} d={diamond(frame.right - 9, 13)} />
      <Legend labels={labels} />
    </svg>
  )
}

const diamond = (x: number, y: number): string => `M${x},${y - 9}L${x + 9},${y}L${x},${y + 9}L${x - 9},${y}Z`

const Legend = ({ labels }: { labels: SteadyLightPicture['labels'] }) => (
  <>
    <path class="limit" fill="none" stroke-width={3} d={`M${frame.left},${height - 9}h26`} />
    <text x={frame.left + 32} y={height - 4}>
      {labels.lowRiskLine}
    </text>
    <path class="good" fill="none" stroke-width={3} stroke-dasharray="8 5" d={`M195,${height - 9}h26`} />
    <text x={227} y={height - 4}>
      {labels.noEffectLine}
    </text>
  </>
)
