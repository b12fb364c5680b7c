import { expect, it } from 'vitest'
import { allSources, mergeSources, source, sourceId } from '../../src/tables/sources'

const entry = { id: 'some-standard', text: 'Some standard, 2020', kind: 'published' }

it('merges lists and finds entries by id', () => {
  expect(mergeSources([[entry], [{ ...entry, id: 'another' }]]).size).toBe(2)
  expect(source('astm-b258').kind).toBe('published')
  expect(allSources.map(({ id }) => source(id))).toEqual(allSources)
})

it('refuses an id that comes twice, in one list or in two', () => {
  expect(() => mergeSources([[entry, entry]])).toThrow('listed twice')
  expect(() => mergeSources([[entry], [entry]])).toThrow('listed twice')
})

it('refuses an entry that is not one', () => {
  expect(() => mergeSources([[{ ...entry, kind: 'hearsay' }]])).toThrow()
  expect(() => mergeSources([[{ ...entry, id: 'Not An Id' }]])).toThrow()
})

it('an unknown id is a fault', () => {
  expect(() => source('nowhere')).toThrow('nowhere')
  expect(sourceId.safeParse('nowhere').success).toBe(false)
})
