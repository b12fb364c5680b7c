import svgToPdf from 'svg-to-pdfkit'
import type { SheetDrawing } from '../jobs/sheet/sheet'
import { Drawing } from '../pictures/picture'
import type { CutPlanPicture } from '../questions/cut-plan'
import type { Block } from './flow'
import { type Ink, type Line, linesOf, type Run } from './ink'

/** The drawings' classes in black and white, told apart by weight and pattern as they are drawn. */
const style = `<style>
text { fill: #000; font-family: text; font-size: 13px }
.ink { stroke: #000 } .faint { stroke: #777 } .accent { stroke: #000 } .good { stroke: #000 }
.bad { stroke: #000 } .limit { stroke: #000 }
.fill-ink { fill: #000 } .fill-accent { fill: #555 } .fill-paper { fill: #fff }
</style>`

const padding = 6

/** An SVG with its own measures, in the unit of its view box. */
type Svg = { svg: string; width: number; height: number }

/** The SVGs of an answer's picture. */
export function svgsOf(picture: SheetDrawing['picture']): Svg[] {
  const markup = String(<Drawing picture={inPieces(picture)} />)
  return [...markup.matchAll(/<svg[^>]*viewBox="0 0 ([\d.]+) ([\d.]+)"[^>]*>([\s\S]*?)<\/svg>/g)].map(
    ([, width, height, content]) => ({
      svg: `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}">${style}${content}</svg>`,
      width: Number(width),
      height: Number(height),
    }),
  )
}

/** More bars than this under each other would have to shrink to fit a page. */
const mostBars = 14

/** A cutting plan of many bars as several drawings. */
function inPieces(picture: SheetDrawing['picture']): SheetDrawing['picture'] {
  if (picture.kind !== 'cut-plan') return picture
  const { sections } = picture.data as CutPlanPicture
  const pieces = sections.flatMap((section) => {
    const starts = section.bars.flatMap((_, at) => (at % mostBars === 0 ? [at] : []))
    return starts.map((start) => ({
      ...section,
      bars: section.bars.slice(start, start + mostBars),
      more: start + mostBars < section.bars.length ? '' : section.more,
    }))
  })
  return { ...picture, data: { sections: pieces } satisfies CutPlanPicture }
}

/**
 * A picture with its caption in a frame. One of several drawings fills as many frames as it takes; the caption
 * stands under the last.
 *
 * @param width of the frame, points
 * @param mostHeight what a page holds, points
 */
export function drawingBlocks(
  ink: Ink,
  { picture }: SheetDrawing,
  caption: readonly Run[],
  width: number,
  mostHeight: number,
): Block[] {
  const lines = linesOf(ink, caption, width - 2 * padding)
  const captionHeight = lines.reduce((sum, { leading }) => sum + leading, 0)
  const room = { width: width - 2 * padding, height: mostHeight - captionHeight - 3 * padding }
  const frames = inFrames(
    svgsOf(picture).map((svg) => scaled(svg, room)),
    room.height,
  )
  return frames.map((drawn, at) => framed(ink, drawn, at === frames.length - 1 ? lines : [], width))
}

/** As wide as there is room for, unless it would be too high then. */
function scaled(svg: Svg, room: { width: number; height: number }): Svg {
  const scale = Math.min(room.width / svg.width, room.height / svg.height)
  return { svg: svg.svg, width: svg.width * scale, height: svg.height * scale }
}

/** As many drawings in each frame as fit its height. */
function inFrames(drawn: readonly Svg[], height: number): Svg[][] {
  const frames: Svg[][] = []
  for (const each of drawn) {
    const last = frames.at(-1)
    const used = last?.reduce((sum, other) => sum + other.height, 0) ?? 0
    if (last && used + each.height <= height) last.push(each)
    else frames.push([each])
  }
  return frames
}

function framed(ink: Ink, drawn: readonly Svg[], caption: readonly Line[], width: number): Block {
  const drawnHeight = drawn.reduce((sum, { height }) => sum + height, 0)
  const captionHeight = caption.reduce((sum, { leading }) => sum + leading, padding)
  const height = drawnHeight + (caption.length > 0 ? captionHeight : 0) + 2 * padding
  return {
    before: 8,
    height,
    draw: (x, y) => {
      ink.box(x, y, width, height, 0.4, '#777')
      let at = y + padding
      for (const svg of drawn) {
        drawSvg(ink, svg, x + (width - svg.width) / 2, at)
        at += svg.height
      }
      at += padding
      for (const line of caption) {
        ink.line(line, x + padding, at)
        at += line.leading
      }
    },
  }
}

const drawSvg = (ink: Ink, { svg, width, height }: Svg, x: number, y: number): void =>
  svgToPdf(ink.document, svg, x, y, {
    width,
    height,
    preserveAspectRatio: 'xMinYMin meet',
    assumePt: true,
    fontCallback: (_, bold) => (bold ? 'bold' : 'text'),
    warningCallback: (message) => {
      throw new Error(message)
    },
  })
