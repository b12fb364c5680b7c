import { boxFill } from '../../questions/box-fill'
import type { Question } from '../../questions/common/question'
import { cutPlan } from '../../questions/cut-plan'
import { dimmerFit } from '../../questions/dimmer-fit'
import { driverSize } from '../../questions/driver-size'
import { framingHole } from '../../questions/framing-hole'
import { holeFit } from '../../questions/hole-fit'
import { pullPlan } from '../../questions/pull-plan'
import { cableByDistance, cableByFeeds, cableByPlan } from './cable-materials'
import {
  bits,
  boxes,
  dimmers,
  driversOnDimmer,
  driversTold,
  driversWorkedOut,
  plates,
} from './other-materials'
import type { Material } from './sheet'
import { placeName, say } from './sheet-words'
import { firstKnown, merged, type Take, type Worked } from './take'
import { channelByPlan, tapeByLength, tapeByPlan } from './tape-materials'

type Kind = {
  id: Material['id']
  name: `material.${'tape' | 'channel' | 'cable' | 'driver' | 'dimmer' | 'box' | 'plate' | 'bit'}`
  /** Ways to work it out, the best known first. */
  ways: readonly ((worked: Worked) => Take[])[]
  /** The question to ask where it is not known. */
  asks: Question
}

const kinds: readonly Kind[] = [
  { id: 'tape', name: 'material.tape', ways: [tapeByPlan, tapeByLength], asks: cutPlan },
  { id: 'channel', name: 'material.channel', ways: [channelByPlan], asks: cutPlan },
  { id: 'cable', name: 'material.cable', ways: [cableByPlan, cableByFeeds, cableByDistance], asks: pullPlan },
  {
    id: 'driver',
    name: 'material.driver',
    ways: [driversTold, driversOnDimmer, driversWorkedOut],
    asks: driverSize,
  },
  { id: 'dimmer', name: 'material.dimmer', ways: [dimmers], asks: dimmerFit },
  { id: 'box', name: 'material.box', ways: [boxes], asks: boxFill },
  { id: 'plate', name: 'material.plate', ways: [plates], asks: framingHole },
  { id: 'bit', name: 'material.bit', ways: [bits], asks: holeFit },
]

/**
 * All material that the job takes: each kind once, in the order in which it is bought. A kind of which nothing is
 * known stands there too, with the question to ask.
 */
export const materialsOf = (worked: Worked): Material[] =>
  kinds.flatMap(({ id, name, ways, asks }) => {
    const { parts, system } = worked.job
    const takes = firstKnown(
      ways.map((way) => way(worked)),
      parts,
    )
    if (takes.length === 0) return [unknown(id, say(name, {}), asks)]
    return merged(takes, system).map(({ answers, notes, ...material }) => ({
      id,
      ...material,
      sums: answers.map(({ number }) => number),
      from: [...new Set(answers.map(({ title }) => title))].join(' '),
      question: answers[0]?.question ?? '',
      note: notes.join(' '),
    }))
  })

const unknown = (id: Material['id'], what: string, asks: Question): Material => ({
  id,
  what,
  quantity: null,
  unit: '',
  text: say('unknown', {}),
  where: placeName(null),
  sums: [],
  from: '',
  question: asks.id,
  note: say('note.ask', { question: asks.words.title }),
})
