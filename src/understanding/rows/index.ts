import type { RowBuilder } from '../interpret'
import { boxRows } from './box'
import { bundleRows } from './bundle'
import { feedRows } from './feeds'
import { hotRows } from './hots'
import { legRows } from './legs'
import { swingRows } from './swing'

/** The inputs that are made of several quantities each, by the question they belong to. */
export const rowBuilders: Readonly<Record<string, RowBuilder>> = {
  'along-the-tape': feedRows,
  'box-fill': boxRows,
  'hole-fit': bundleRows,
  'pull-plan': legRows,
  'shared-neutral': hotRows,
  'steady-light': swingRows,
}
