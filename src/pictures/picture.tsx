import { raw } from 'hono/html'
import type { Answer } from '../questions/common/answer'
import { AlongTheTape } from './along-the-tape'
import { BoxFill } from './box-fill'
import { CutPlan } from './cut-plan'
import { FramingHole } from './framing-hole'
import { HoleFit } from './hole-fit'
import { MeterCheck } from './meter-check'
import { SteadyLight } from './steady-light'
import { TaskLight } from './task-light'

type Picture = NonNullable<Answer['picture']>

/** The drawing of each kind of picture. */
const drawings = {
  'along-the-tape': AlongTheTape,
  'box-fill': BoxFill,
  'cut-plan': CutPlan,
  'framing-hole': FramingHole,
  'hole-fit': HoleFit,
  'meter-check': MeterCheck,
  'steady-light': SteadyLight,
  'task-light': TaskLight,
}

/** A place on the screen with more digits than any screen shows; no label has so many. */
const tooFine = /-?\d+\.\d{5,}(e-?\d+)?/g

/**
 * Draws an answer's picture; a kind that nobody draws yet is left out. Places are rounded to a hundredth of a pixel:
 * the digits behind differ from one machine to another (`quantities/settled.ts`).
 */
export const Drawing = ({ picture }: { picture: Picture }) => {
  const Draw = (drawings as Record<string, (props: { data: never }) => ReturnType<typeof AlongTheTape>>)[
    picture.kind
  ]
  if (!Draw) return null
  const drawing = String(<Draw data={picture.data as never} />)
  return raw(drawing.replace(tooFine, (place) => String(Math.round(Number(place) * 100) / 100)))
}
