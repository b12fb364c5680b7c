import { describe, expect, it } from 'vitest'
import { ownFactById, ownFacts } from '../../../src/jobs/memory/own-facts'
import { questions } from '../../../src/questions/registry'

describe('the facts that no question has', () => {
  it('have names that no question uses', () => {
    const used = new Set(
      questions.flatMap(({ inputs }) => Object.entries(inputs).map(([id, { fact }]) => fact ?? id)),
    )
    expect(ownFacts.filter(({ id }) => used.has(id))).toEqual([])
  })

  it.each(ownFacts.map((fact) => [fact.id, fact] as const))(
    '%s has words, and reads its example',
    (id, fact) => {
      expect(fact.words.label.length).toBeGreaterThan(2)
      expect(fact.words.hint).toBeDefined()
      expect(fact.field.schema('us').safeParse(fact.words.example).success).toBe(true)
      expect(Object.keys(fact.words.choices ?? {})).toEqual(fact.field.choices ?? [])
      expect(ownFactById(id)).toBe(fact)
    },
  )

  it('knows no other', () => {
    expect(ownFactById('voltage')).toBeUndefined()
    expect(ownFactById('toString')).toBeUndefined()
  })
})
