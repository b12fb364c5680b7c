import type { Stage } from '../../questions/common/question'

/** The stages in the order of the work: the light is decided before anything is sized for it. */
export const stages: readonly Stage[] = [
  'look',
  'light',
  'size',
  'switch',
  'way',
  'buy',
  'prove',
  'hand-over',
]
