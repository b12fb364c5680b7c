import { encode } from 'uqr'

/** Light modules around a code, without which a camera does not find it: ISO/IEC 18004:2015, 9.1. */
const quietModules = 4

/**
 * A text as a QR code, black on white by day and by night: many cameras read no code of light modules on dark.
 *
 * Correction level M: a scratch or a glare spot over a seventh of it is still read.
 */
export const QrCode = ({ text, label }: { text: string; label: string }) => {
  const { data, size } = encode(text, { ecc: 'M', border: 0 })
  const width = size + 2 * quietModules
  return (
    <svg class="qr" viewBox={`0 0 ${width} ${width}`} role="img" aria-label={label}>
      <rect width={width} height={width} />
      <path d={data.flatMap(runsOf).join('')} />
    </svg>
  )
}

/** The dark modules of one row, each run of them as one rectangle. */
const runsOf = (row: readonly boolean[], y: number): string[] =>
  row.flatMap((dark, x) => {
    if (!dark || row[x - 1]) return []
    const after = row.indexOf(false, x)
    const length = (after < 0 ? row.length : after) - x
    return `M${x + quietModules} ${y + quietModules}h${length}v1h-${length}z`
  })
