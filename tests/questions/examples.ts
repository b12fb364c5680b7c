import type { Question } from '../../src/questions/common/question'
import { fieldWordsOf } from '../../src/questions/common/shared-words'

/** Examples that answer where those of the words alone do not make a whole case. */
const whole: Record<string, object> = {
  'shared-neutral': {
    hots: [
      { current: '3 A', circuit: '4' },
      { current: '2 A', circuit: '4' },
    ],
  },
  'hole-fit': { cables: [{ count: '3', diameter: '8 mm' }] },
  'framing-hole': { use: 'joist', member: '2x10', holeDiameter: '1 in' },
  'meter-check': { voltage: '24 V', tapePower: '15 W/m', tapeLength: '4 m', tapeEnd: '17.9 V' },
  'box-fill': { box: 'octagon 4 x 1-1/2', cables: ['14/3'] },
  'pull-plan': { legs: [{ length: '60 ft' }] },
  'cut-plan': { openings: ['1.2 m'], cutLength: '100 mm' },
  'dimmer-fit': { dimmerRating: '150 W', drivers: ['75 W'] },
  'task-light': { height: '0.6 m', tapeLumens: '1000 lm/m', tapeLength: '2 m' },
}

/** Inputs with which a question answers: what is required and the first way of each alternative, as its words say. */
export function exampleOf(question: Question): object {
  const needed = Object.entries(question.inputs)
    .filter(([, { need }]) => need === 'required')
    .map(([id]) => id)
  const ways = question.alternatives.flatMap(([first]) => first ?? [])
  const told = [...needed, ...ways].map((id) => [id, fieldWordsOf(question.words, id).example])
  return whole[question.id] ?? Object.fromEntries(told)
}
