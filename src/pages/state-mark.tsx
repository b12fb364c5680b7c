import type { RowState } from '../jobs/check/row'
import { stateMarks } from '../jobs/check/state-marks'

/** A state in a shape and in words; colour only repeats it. */
export const StateMark = ({ state, text }: { state: RowState; text: string }) => (
  <span class={`verdict ${state}`}>
    <span class="mark" aria-hidden="true">
      {stateMarks[state]}
    </span>{' '}
    {text}
  </span>
)
