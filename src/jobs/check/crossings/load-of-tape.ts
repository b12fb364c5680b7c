import type { Figure } from '../../../questions/common/answer'
import { printValue } from '../../../questions/common/printing'
import { driverSize } from '../../../questions/driver-size'
import { ask } from '../ask'
import type { CheckedJob } from '../checked-job'
import { gatheredFor } from '../gathered/all'
import { isAtOdds } from '../gathered/tape'
import type { RowState } from '../row'
import { partRuns, type Run, wholeRun } from '../runs'
import { figureLabels, say } from '../words'
import type { Crossing, Finding } from './crossing'

/** Watts that were told once against those of the tape as it is now: tape that takes more than was told breaks sums. */
function finding(run: Run, loadW: number, tapeW: number, job: CheckedJob): Finding {
  const state: RowState = !isAtOdds(run) ? 'holds' : loadW > tapeW ? 'tight' : 'fails'
  const [load, tape] = [figureOf('load', loadW, job), figureOf('tapeWatts', tapeW, job)]
  const { raw } = ask(job, driverSize, run.place, gatheredFor(job, driverSize, run.place))
  return {
    place: run.place,
    state,
    sentences: [say(`load-of-tape.${state}`, { load: load.text, tape: tape.text })],
    question: driverSize.id,
    inputs: raw,
    uses: run.facts.filter(({ field }) => field !== 'voltage'),
    figures: [load, tape],
  }
}

const figureOf = (id: 'load' | 'tapeWatts', value: number, job: CheckedJob): Figure => ({
  id,
  label: figureLabels[id],
  value,
  unit: 'W',
  text: printValue(value, 'W', job.system, 'up'),
})

/** Every place of which both are known. */
export const loadOfTape: Crossing = {
  id: 'load-of-tape',
  stage: 'size',
  findings: (job) =>
    [wholeRun(job), ...partRuns(job)].flatMap((run) =>
      run?.loadW === undefined || run.tapeW === undefined ? [] : [finding(run, run.loadW, run.tapeW, job)],
    ),
}
