import { fractionSigns } from '../quantities/fractions'

/** The greatest length of a line that is read; what lies beyond is cut off. */
export const LONGEST_LINE = 8000

const LIKENESSES: readonly (readonly [RegExp, string])[] = [
  [/\u00ad|[\u200b-\u200f\u2060\ufeff]/g, ''],
  [/[’‘′`´ʼ]/g, "'"],
  [/[”“″„]|''/g, '"'],
  [/[−‐‑‒–—]/g, '-'],
  [/[×✕⋅]/g, 'x'],
  [/[⁄∕]/g, '/'],
  [/[º˚]/g, '°'],
  [/℃/g, '°C'],
  [/℉/g, '°F'],
  [/²/g, '2'],
  [/³/g, '3'],
  [/[Ωω]/g, ' ohm'],
  [/ @ ?(?=\d)/g, ' at '],
  [/\b([ad])\.c\.?(?![a-z])/gi, '$1c'],
  [/(?<=[a-z])'ll\b/gi, ' will'],
  [
    /(?<=[a-z]{3})'s (?=(?:claiming|saying|telling|insisting|swearing|adamant|sure|certain|convinced|positive|a|an|the|only|now|really|\d))/gi,
    ' is ',
  ],
  [/(?<=[a-z),] )w\/o(?= )/gi, 'without'],
  [/(?<=[a-z\d),] )w\/(?= (?!ft|foot|m ))/gi, 'with'],
  [/[\t\r\f\v\u00a0\u2000-\u200a\u202f\u3000]/g, ' '],
]

/**
 * A line with look-alike characters brought to one form: typographic quotes and dashes, ready-made fractions,
 * full-width letters, odd spaces. Letters keep their case.
 *
 * @param text any text; what lies beyond 8,000 characters is not read
 */
export function plainCharacters(text: string): string {
  const spelled = text
    .slice(0, LONGEST_LINE)
    .replace(/(\d?)[ ]?([½¼¾⅛⅜⅝⅞⅓⅔])/g, (_, digit: string, fraction: string) =>
      digit === '' ? ` ${fractionSigns[fraction]}` : `${digit} ${fractionSigns[fraction]}`,
    )
  const plain = LIKENESSES.reduce((line, [likeness, form]) => line.replace(likeness, form), spelled)
  return plain.replace(/[\uff01-\uff5e]/g, (wide) => String.fromCharCode(wide.charCodeAt(0) - 0xfee0))
}
