import { verdictMarks } from '../../questions/common/marks'
import type { RowState } from './row'

/** What the check says of a thing, by a shape, so that colour only repeats it. */
export const stateMarks: Readonly<Record<RowState, string>> = { ...verdictMarks, 'not-asked': '?' }
