import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'

/** The faces of the sheet. One open family has every sign that the answers use, from ″ and ² to Ω, Σ and ✓. */
const files = {
  text: 'DejaVuSansCondensed.ttf',
  bold: 'DejaVuSansCondensed-Bold.ttf',
  title: 'DejaVuSerifCondensed-Bold.ttf',
  mono: 'DejaVuSansMono.ttf',
} as const

export type Face = keyof typeof files

export const faces = Object.keys(files) as Face[]

const resolve = createRequire(import.meta.url).resolve

const read = new Map<Face, Buffer>()

/** A face's file, read once for all sheets. */
export function faceFile(face: Face): Buffer {
  const known = read.get(face) ?? readFileSync(resolve(`dejavu-fonts-ttf/ttf/${files[face]}`))
  read.set(face, known)
  return known
}
