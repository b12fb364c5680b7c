import { describe, expect, it } from 'vitest'
import { compilePrompts } from '../../../prompts.config'
import { questionWordsOf } from '../../../src/questions/common/words'

const needs = {
  fields: ['distance'],
  figures: ['gauge'],
  limits: [],
  sentences: { headline: ['gauge'] },
  cautions: [],
  working: [],
  columns: [],
  faults: [],
} as const

const file = (headline: string, rest = '') => `title: What gauge?
intro: The cable.
fields:
  distance:
    label: Distance
figures:
  gauge: Gauge
sentences:
  ${headline}
${rest}`

const read = (text: string) => questionWordsOf(compilePrompts(text, 'prompts/en/x.yaml'), needs)

describe('the words of a question', () => {
  it('fill their placeholders', () => {
    expect(read(file('headline: Use {gauge}.')).say('headline', { gauge: '14 AWG' })).toBe('Use 14 AWG.')
  })

  it.each([
    ['a missing sentence', file('other: Use it.'), 'prompts/en/x.yaml:8: sentences.headline is missing'],
    [
      'an unknown placeholder',
      file('headline: Use {size}.'),
      'prompts/en/x.yaml:9: sentences.headline: unknown placeholder {size}',
    ],
    [
      'a sentence that nothing says',
      file('headline: Use {gauge}.', '  spare: Never.'),
      'prompts/en/x.yaml:10: sentences.spare is used nowhere',
    ],
    [
      'a key that is no part of it',
      file('headline: Use {gauge}.', 'colour: red'),
      'prompts/en/x.yaml:1: the file: Unrecognized key: "colour"',
    ],
    [
      'a label that is no text',
      file('headline: Use {gauge}.').replace('label: Distance', 'label: [1]'),
      'prompts/en/x.yaml:5: fields.distance.label: Invalid input: expected string, received array',
    ],
    ['YAML that cannot be read', 'title: "x', 'prompts/en/x.yaml:1: Missing closing "quote'],
  ])('stop the build at %s, naming file and line', (_, text, message) => {
    expect(() => read(text)).toThrow(message)
  })
})
