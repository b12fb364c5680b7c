import { verdictMarks } from '../../questions/common/marks'
import type { RowState } from '../check/board'

/** What the job check says of a thing, by a shape. */
export const stateMarks: Readonly<Record<RowState, string>> = { ...verdictMarks, 'not-asked': '?' }
