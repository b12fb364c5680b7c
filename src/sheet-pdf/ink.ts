import PDFDocument from 'pdfkit'
import type { Paper } from '../jobs/sheet/sheet'
import { type Face, faceFile, faces } from './typeface'

/** Points of 1/72 in. */
const mm = 72 / 25.4

/** ISO 216 A4 and ANSI letter, points. */
const papers: Readonly<Record<Paper, readonly [number, number]>> = {
  a4: [210 * mm, 297 * mm],
  letter: [8.5 * 72, 11 * 72],
}

/** Wider on the left, where a sheet is filed. */
const margins = { left: 20 * mm, right: 13 * mm, top: 20 * mm, bottom: 17 * mm }

/** How a text is set; sizes and leading in points. */
export type Style = { face: Face; size: number; leading: number; colour?: string }

export const styles = {
  text: { face: 'text', size: 8.5, leading: 11.5 },
  bold: { face: 'bold', size: 8.5, leading: 11.5 },
  label: { face: 'text', size: 7.5, leading: 11.5, colour: '#333' },
  small: { face: 'text', size: 7.5, leading: 10, colour: '#333' },
  smallBold: { face: 'bold', size: 7.5, leading: 10 },
  tiny: { face: 'text', size: 6.75, leading: 9, colour: '#333' },
  mono: { face: 'mono', size: 6.9, leading: 9.5 },
  title: { face: 'title', size: 19, leading: 24 },
  heading: { face: 'title', size: 12.5, leading: 16 },
  part: { face: 'bold', size: 9.5, leading: 13 },
  banner: { face: 'bold', size: 9.5, leading: 13 },
} as const satisfies Record<string, Style>

/** A stretch of text in one style. */
export type Run = { text: string; style: Style }

/** A stretch of a line, with where it starts and how wide it is, in points from the start of the line. */
type Piece = Run & { x: number; width: number }

/** A line of text, as wide as its column at the most. */
export type Line = { pieces: Piece[]; leading: number; width: number }

/** The document under the pen: what can be measured and drawn. Nothing else knows the PDF library. */
export class Ink {
  readonly document: PDFKit.PDFDocument
  readonly left = margins.left
  readonly right: number
  readonly top = margins.top
  readonly bottom: number
  private readonly widths = new Map<string, number>()

  /** @param info what a reader shows of the document; `at` is when it is made */
  constructor(paper: Paper, info: { title: string; at: string }) {
    const [width, height] = papers[paper]
    this.right = width - margins.right
    this.bottom = height - margins.bottom
    this.document = new PDFDocument({
      size: [width, height],
      margin: 0,
      bufferPages: true,
      lang: 'en',
      displayTitle: true,
      pdfVersion: '1.7',
      font: '',
      info: { Title: info.title, Creator: 'Ladderside', CreationDate: new Date(info.at) },
    })
    for (const face of faces) this.document.registerFont(face, faceFile(face))
  }

  get width(): number {
    return this.right - this.left
  }

  private use({ face, size }: Style): PDFKit.PDFDocument {
    return this.document.font(face).fontSize(size)
  }

  /** Width of a text on one line, points. */
  widthOf(text: string, style: Style): number {
    const key = `${style.face} ${style.size} ${text}`
    const width = this.widths.get(key) ?? this.use(style).widthOfString(text)
    this.widths.set(key, width)
    return width
  }

  /** A text with a box in the place of every sign that the face does not have, and of what no paper shows. */
  printable(text: string, style: Style): string {
    const { _font: face } = this.use(style) as unknown as { _font: { font: Glyphs } }
    return [...text.replaceAll(/\r\n?/g, '\n').replaceAll('\t', ' ')]
      .map((sign) => (sign === '\n' || face.font.hasGlyphForCodePoint(sign.codePointAt(0) ?? 0) ? sign : '□'))
      .join('')
  }

  /** Draws a line with its upper edge at `y`. */
  line({ pieces, leading }: Line, x: number, y: number): void {
    for (const { text, style, x: from } of pieces) {
      this.use(style)
        .fillColor(style.colour ?? '#000')
        .text(text, x + from, y + 0.76 * leading, { lineBreak: false, baseline: 'alphabetic' })
    }
  }

  /** Draws a straight line, `weight` points thick. */
  rule(from: readonly [number, number], to: readonly [number, number], weight = 0.5, colour = '#000'): void {
    this.document
      .moveTo(...from)
      .lineTo(...to)
      .lineWidth(weight)
      .strokeColor(colour)
      .stroke()
  }

  box(x: number, y: number, width: number, height: number, weight = 0.5, colour = '#000'): void {
    this.document.rect(x, y, width, height).lineWidth(weight).strokeColor(colour).stroke()
  }
}

type Glyphs = { hasGlyphForCodePoint(codePoint: number): boolean }

/** A number and its unit stay on one line: 1.57 A. */
const unbroken = (text: string): string => text.replace(/(?<=\d) (?=[^\s\d]{1,3}(?:[\s.,;:)]|$))/g, '\u00a0')

/** Breaks runs of text into lines of at most `width` points: between words, or within one that is too wide. */
export function linesOf(ink: Ink, runs: readonly Run[], width: number): Line[] {
  const lines: Line[] = []
  let open: Piece[] = []
  let x = 0
  const leading = Math.max(...runs.map(({ style }) => style.leading))
  const close = () => {
    lines.push({ pieces: trimmed(open, ink), leading, width: x })
    open = []
    x = 0
  }
  const add = (text: string, style: Style) => {
    const last = open.at(-1)
    const wide = ink.widthOf(text, style)
    if (last && last.style === style) {
      last.text += text
      last.width += wide
    } else open.push({ text, style, x, width: wide })
    x += wide
  }
  for (const { text, style } of runs) {
    for (const word of unbroken(ink.printable(text, style)).match(/\n|[^\S\n\u00a0]+|[\S\u00a0]+/g) ?? []) {
      if (word === '\n') close()
      else if (/^[^\S\u00a0]/.test(word)) {
        if (open.length > 0) add(word, style)
      } else {
        for (const part of fitting(ink, word, style, width)) {
          if (x > 0 && x + ink.widthOf(part, style) > width + 0.01) close()
          add(part, style)
        }
      }
    }
  }
  if (open.length > 0 || lines.length === 0) close()
  return lines
}

/** A word in parts that fit the width. */
function fitting(ink: Ink, word: string, style: Style, width: number): string[] {
  if (ink.widthOf(word, style) <= width) return [word]
  const parts: string[] = []
  let part = ''
  for (const sign of word) {
    if (part && ink.widthOf(part + sign, style) > width) {
      parts.push(part)
      part = ''
    }
    part += sign
  }
  return [...parts, part]
}

function trimmed(pieces: readonly Piece[], ink: Ink): Piece[] {
  const last = pieces.at(-1)
  if (!last) return []
  const text = last.text.trimEnd()
  return [...pieces.slice(0, -1), { ...last, text, width: ink.widthOf(text, last.style) }]
}
