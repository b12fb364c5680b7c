import * as z from 'zod/mini'
import prompts from '../../../prompts/en/job-check.yaml'
import { checkedSayer, readPrompts } from '../../questions/common/words'

export const crossingIds = [
  'wet-place',
  'cable-in-box',
  'load-of-tape',
  'tape-on-driver',
  'driver-heat',
  'driver-on-dimmer',
  'drivers-on-circuit',
  'cable-through-hole',
  'readings',
] as const

const figureIds = [
  'driverPower',
  'holeDiameter',
  'breakerAtMost',
  'expectedDriver',
  'load',
  'tapeWatts',
] as const

export type CrossingId = (typeof crossingIds)[number]

const sentenceNeeds = {
  wholeJob: [],
  rest: [],
  ofParts: ['parts', 'sentence'],
  missing: ['labels'],
  'missing.at': ['label', 'place'],
  unusable: ['message'],
  contested: ['label', 'value', 'others'],
  'contested.at': ['label', 'place', 'value', 'others'],
  'gathered.runs': ['runs'],
  'gathered.whole.more': ['amount'],
  'gathered.whole.less': ['amount'],
  'gathered.larger': ['place', 'load', 'tape'],
  'gathered.drivers': ['drivers'],
  'gathered.inputs': ['inputs'],
  'gathered.efficiency': ['efficiency'],
  'gathered.feed.one-end': ['distance', 'gauge'],
  'gathered.feed.both-ends': ['distance', 'far', 'gauge'],
  'gathered.feed.middle': ['distance', 'gauge'],
  'gathered.feed.usual': [],
  'gathered.openings': ['openings'],
  'gathered.load': ['load'],
  'shared.rest': ['rating', 'others', 'rest'],
  'shared.nothing': ['rating', 'others'],
  'shared.left': ['places'],
  'voltages.differ': ['voltages'],
  'drivers.several': ['ratings'],
  run: ['place', 'amount'],
  'load-of-tape.holds': ['load', 'tape'],
  'load-of-tape.tight': ['load', 'tape'],
  'load-of-tape.fails': ['load', 'tape'],
  'tape-on-driver.fits': ['runs', 'load', 'needed', 'rating'],
  'tape-on-driver.over': ['runs', 'load', 'needed', 'rating'],
  'tape-on-driver.noTape': ['rating'],
  'driver-heat.gives': ['ambient', 'full', 'load', 'needed', 'rating'],
  'driver-heat.over': ['ambient', 'full', 'load', 'needed', 'rating'],
  'driver-heat.noLine': ['ambient'],
  'driver-heat.noAmbient': [],
  'wet-place.holds': ['what', 'listing', 'surroundings'],
  'wet-place.fails': ['what', 'listing', 'surroundings'],
  'wet-place.noListing': ['what', 'surroundings'],
  'wet-place.any': ['what'],
  'wet-place.noPlace': ['what'],
  'wet-place.tape': [],
  'wet-place.driver': [],
  'driver-on-dimmer.fits': ['drivers', 'load', 'allowed'],
  'driver-on-dimmer.noKind': [],
  'driver-on-dimmer.minimum': ['load', 'minimum'],
  'drivers-on-circuit.fits': ['added', 'used', 'allowed'],
  'drivers-on-circuit.over': ['added', 'used', 'allowed'],
  'drivers-on-circuit.ifEmpty': [],
  'cable-through-hole.passes': ['bit', 'hole'],
  'cable-through-hole.snug': ['bundle', 'bit', 'hole'],
  'cable-through-hole.small': ['bundle', 'hole'],
  'cable-through-hole.allowed': ['bit', 'largest'],
  'cable-through-hole.notAllowed': ['bit', 'largest'],
  'cable-through-hole.noBit': ['bundle'],
  'cable-through-hole.noFigure': [],
  'cable-in-box.fill': ['required', 'volume'],
  'cable-in-box.protected': ['size', 'breaker', 'limit'],
  'cable-in-box.unprotected': ['size', 'breaker', 'limit'],
  'readings.feed': ['driver', 'start', 'end', 'current'],
  'readings.feeds': ['driver', 'lowest', 'current'],
} as const

const checkWords = z.strictObject({
  titles: z.record(z.enum(crossingIds), z.string()),
  figures: z.record(z.enum(figureIds), z.string()),
  sentences: z.record(z.string(), z.string()),
})

// The section `facts` is read by src/jobs/memory/own-facts.ts, which checks it.
const { check } = readPrompts(prompts, z.strictObject({ facts: z.unknown(), check: checkWords }))
const lines = Object.entries(prompts.lines).map(([key, line]) => [key.replace(/^check\./, ''), line])

/** A sentence of the check with its placeholders filled. */
export const say = checkedSayer(
  { ...prompts, lines: Object.fromEntries(lines) },
  check.sentences,
  CHECKING && sentenceNeeds,
)

export const titles = check.titles

/** What a number is called that a crossing compares and no question does. */
export const figureLabels = check.figures
