import { fractionSigns } from '../quantities/fractions'
import { readQuantity } from '../quantities/read'
import { boxes } from './boxes'

/** Why a description of a box cannot be used. */
export type BoxFault =
  /** Nothing in it says what box is meant. */
  | 'not-a-box'
  /** A part of it says nothing that this reader knows; `piece` is that part. */
  | 'not-understood'
  /** More than one box of the table answers to it; `near` lists them. */
  | 'ambiguous'
  /** The table has no such box; `near` lists those of the same shape. */
  | 'not-in-table'
  /** The marked volume is not one that a box of this kind has. */
  | 'volume-out-of-range'

export type BoxReading =
  /** A box of NEC table 314.16(A), by its canonical code; `code` is null for a volume as marked in the box. */
  | { ok: true; code: string | null; volumeIn3: number }
  | { ok: false; fault: BoxFault; piece: string; near: string[] }

/** A box of the table: what it is called, and the sizes in inches that a person may name it by, depth last. */
type KnownBox = { code: string; shape: Shape; gangs: number; sizesIn: readonly number[]; volumeIn3: number }
type Shape = 'octagon' | 'square' | 'device' | 'masonry' | 'FS' | 'FD'
type Said = { shape?: Shape; gangs?: number; sizesIn: number[] }

/** The volumes that may be marked in a box, in³. */
export const markedVolumeRangeIn3 = { min: 3, max: 200 } as const

const cm3PerIn3 = 16.387064
const mostGangs = 10

const shapes: Record<string, Shape> = {
  octagon: 'octagon',
  octagonal: 'octagon',
  oct: 'octagon',
  round: 'octagon',
  square: 'square',
  sq: 'square',
  device: 'device',
  switch: 'device',
  handy: 'device',
  utility: 'device',
  masonry: 'masonry',
  fs: 'FS',
  fd: 'FD',
}

const gangWords: Record<string, number> = {
  single: 1,
  one: 1,
  two: 2,
  double: 2,
  three: 3,
  triple: 3,
  four: 4,
}

const wordsThatSayNothing =
  /^(?:a|an|the|box|boxes|metal|steel|deep|depth|wide|by|x|in|inch|inches|marked|of)$/

const volumeUnit =
  /\b(?:cu\.?\s*in\b\.?|cubic\s+(?:inch(?:es)?|in\b|cm\b|centimet(?:re|er)s?)|in3|in\^3|cm3|cm\^3|cc)|(?:in|cm)³/i

/**
 * Reads a box as an electrician writes it: a size of NEC table 314.16(A) (NFPA 70-2023) in any order of its parts,
 * or the volume that is marked in the box.
 *
 * @param text such as `octagon 4 x 1-1/2`, `4 square 1-1/2 deep`, `3 x 2 x 2-3/4`, `3 gang masonry 2-1/2`, `2 gang FD`,
 *   `22 cu in`
 * @returns the canonical code and its volume in in³, or the fault, the piece of the text at fault, and the codes near it
 *
 * @example readBox('4" octagon 2-1/8') // { ok: true, code: 'octagon 4 x 2-1/8', volumeIn3: 21.5 }
 */
export function readBox(text: string): BoxReading {
  if (volumeUnit.test(text)) return readMarkedVolume(text)
  const said = readWords(text)
  if ('fault' in said) return said
  if (!said.shape && said.sizesIn.length === 0) return refuse('not-a-box', text)
  const fitting = knownBoxes(said).filter((box) => answersTo(box, said))
  const exact = fitting.filter((box) => box.sizesIn.length === said.sizesIn.length)
  const [box, ...others] = exact.length > 0 ? exact : fitting
  if (!box) return refuse('not-in-table', text, sameShape(said))
  if (others.length > 0)
    return refuse(
      'ambiguous',
      text,
      [box, ...others].map((each) => each.code),
    )
  return { ok: true, code: box.code, volumeIn3: box.volumeIn3 }
}

const refuse = (fault: BoxFault, piece: string, near: string[] = []): BoxReading & { ok: false } => ({
  ok: false,
  fault,
  piece: piece.trim(),
  near,
})

function readMarkedVolume(text: string): BoxReading {
  const reading = readQuantity(
    text.replace(/\b(?:a|an|the|box|marked|volume|of|metal|steel)\b/gi, ' ').trim(),
    'volume',
  )
  if (!reading.ok) return refuse('not-understood', text)
  const volumeIn3 = reading.value / cm3PerIn3
  const { min, max } = markedVolumeRangeIn3
  const inside = volumeIn3 >= min * (1 - 1e-9) && volumeIn3 <= max * (1 + 1e-9)
  return inside ? { ok: true, code: null, volumeIn3 } : refuse('volume-out-of-range', text)
}

/** Whether a box may be called what was said: same shape and gangs, and its sizes named in order, some left out. */
function answersTo(box: KnownBox, said: Said): boolean {
  if (said.shape && said.shape !== box.shape) return false
  if ((said.gangs ?? 1) !== box.gangs) return false
  let next = 0
  for (const size of box.sizesIn) if (said.sizesIn[next] === size) next++
  return next === said.sizesIn.length
}

/** The boxes to look among: the table's, and those counted by the gang for the number of gangs that was said. */
function knownBoxes({ gangs = 1 }: Said): KnownBox[] {
  const fixed = boxes.boxes.map((box) => ({ ...box, gangs: 1 }))
  const masonry = boxes.masonry.map(({ depth, depthIn, volumePerGangIn3 }) => ({
    code: `masonry ${gangs} gang x ${depth}`,
    shape: 'masonry' as const,
    gangs,
    sizesIn: [3.75, 2, depthIn],
    volumeIn3: volumePerGangIn3 * gangs,
  }))
  const cast = boxes.cast.map(({ shape, singleVolumeIn3, multipleVolumePerGangIn3 }) => ({
    code: gangs === 1 ? shape : `${shape} ${gangs} gang`,
    shape,
    gangs,
    sizesIn: [],
    volumeIn3: gangs === 1 ? singleVolumeIn3 : multipleVolumePerGangIn3 * gangs,
  }))
  return [...fixed, ...masonry, ...cast]
}

const sameShape = (said: Said): string[] =>
  knownBoxes(said)
    .filter((box) => !said.shape || box.shape === said.shape)
    .map((box) => box.code)

function readWords(text: string): Said | (BoxReading & { ok: false }) {
  const said: Said = { sizesIn: [] }
  for (const piece of pieces(text)) {
    const shape = shapes[piece]
    const gangs = gangCount(piece)
    const sizeIn = inches(piece)
    if (shape && !said.shape) said.shape = shape
    else if (gangs !== undefined && said.gangs === undefined) said.gangs = gangs
    else if (sizeIn !== undefined && said.sizesIn.length < 3) said.sizesIn.push(sizeIn)
    else if (!wordsThatSayNothing.test(piece)) return refuse('not-understood', piece)
  }
  return said
}

/** Splits a description into words, sizes such as `4-11/16` and counts such as `2 gang`. */
function pieces(text: string): string[] {
  const plain = text
    .toLowerCase()
    .replace(/[½¼¾⅛⅜⅝⅞]/g, (sign) => ` ${fractionSigns[sign]}`)
    .replace(/["”″×*,]/g, (sign) => (sign === '×' || sign === '*' ? ' x ' : ' '))
    .replace(/(\d)\s*(?:inches|inch|in)\b/g, '$1 ')
    .replace(/([\d ])x(?=[\d ])/g, '$1 x ')
  const piece =
    /(?:\d+|single|one|two|double|three|triple|four)[\s-]*gangs?\b|\d+[\s-]+\d+\/\d+|\d+\/\d+|\d+(?:\.\d+)?|[a-z]+|\S/g
  return plain.match(piece) ?? []
}

function gangCount(piece: string): number | undefined {
  const count = /^(\w+?)[\s-]*gangs?$/.exec(piece)?.[1]
  if (count === undefined) return undefined
  const gangs = gangWords[count] ?? Number(count)
  return gangs >= 1 && gangs <= mostGangs ? gangs : undefined
}

/** A size in inches: `4`, `1.5`, `1/2`, `4-11/16` or `4 11/16`. */
function inches(piece: string): number | undefined {
  const parts = /^(?:(\d+(?:\.\d+)?)(?:[\s-]+|$))?(?:(\d+)\/(\d+))?$/.exec(piece)
  if (!parts) return undefined
  const [, whole = '0', above = '0', below = '1'] = parts
  const size = Number(whole) + Number(above) / Number(below)
  return Number.isFinite(size) ? size : undefined
}
