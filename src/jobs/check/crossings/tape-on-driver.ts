import { inWords } from '../../../questions/common/shared-words'
import { figureOf } from '../ask'
import type { CheckedJob } from '../checked-job'
import { askDriverSize } from '../gathered/driver-size'
import { loadSaid, runsText } from '../gathered/tape'
import { type Driver, driversOf } from '../runs'
import { say } from '../words'
import { type Crossing, type Finding, missingFacts, unanswered, waiting } from './crossing'
import { ratingFigure } from './rating'

/** The tape of all parts that share a driver against its rating, as `driver-size` judges that claim. */
function finding(driver: Driver, job: CheckedJob): Finding {
  const { place, ratings, runs } = driver
  const asked = askDriverSize(job, place)
  const rating = ratingFigure(driver, job)
  const given = { ...asked, uses: [...asked.uses, ...driver.facts] }
  if (ratings.length > 1) {
    return waiting(given, place, [], [say('drivers.several', { ratings: inWords(ratings.map(String)) })])
  }
  if (asked.gathered.instead) return unanswered(given, job)
  if (!rating) return waiting(given, place, missingFacts(['driverPower']))
  if (runs.length === 0) {
    return waiting(given, place, missingFacts(['tapeLength']), [
      say('tape-on-driver.noTape', { rating: rating.text }),
    ])
  }
  if (!asked.answered.ok) return unanswered(given, job)
  const { answer } = asked.answered
  const [load, needed] = [figureOf(answer, 'load'), figureOf(answer, 'needed')]
  const verdict = answer.claim?.verdict ?? answer.verdict
  const text = {
    runs: runsText(runs, job),
    load: load?.text ?? '',
    needed: needed?.text ?? '',
    rating: rating.text,
  }
  const compared = verdict === 'fails' ? 'tape-on-driver.over' : 'tape-on-driver.fits'
  return {
    place,
    state: verdict,
    sentences: [needed ? say(compared, text) : answer.headline, ...loadSaid(runs, job)],
    question: asked.question.id,
    inputs: asked.raw,
    uses: given.uses,
    figures: [load, needed, rating],
  }
}

export const tapeOnDriver: Crossing = {
  id: 'tape-on-driver',
  stage: 'size',
  findings: (job) => driversOf(job).map((driver) => finding(driver, job)),
}
