import { describe, expect, it } from 'vitest'
import { jobOfAddress, wayOf } from '../../src/phone/ways'

const id = '0195561a-3c00-7a10-8b6e-3f2d1c0b9a81'

const way = (asked: string, navigates = false): string => {
  const [method = '', path = ''] = asked.split(' ')
  const url = new URL(path, 'http://127.0.0.1:3150')
  return wayOf({ method, url, navigates }, (file) => file === '/page.js')
}

describe('how the phone meets a request', () => {
  it.each([
    ['GET /', 'here'],
    ['GET /q/feed-gauge?distance=40+ft', 'here'],
    ['GET /compare/feed-gauge?a.distance=40+ft', 'here'],
    ['POST /api/questions/feed-gauge', 'here-first'],
    ['GET /api/questions', 'elsewhere'],
    ['GET /openapi.json', 'elsewhere'],
    ['GET /style.css', 'here'],
    ['POST /ask', 'here-first'],
    ['POST /api/ask', 'here-first'],
    ['GET /page.js', 'file'],
    ['GET /phone', 'phone'],
    ['POST /phone/send', 'phone'],
    ['GET /jobs', 'server-first'],
    [`GET /jobs/${id}/sheet.pdf`, 'server-first'],
    [`GET /q/feed-gauge?job=${id}`, 'server-first'],
    [`POST /jobs/${id}/ask`, 'here-first'],
    [`POST /api/jobs/${id}/facts`, 'here-first'],
    [`POST /jobs/${id}/shares`, 'server-first'],
    ['POST /api/jobs/writes', 'elsewhere'],
    ['GET /healthz', 'elsewhere'],
    ['GET /phone.js', 'elsewhere'],
    ['GET /pair', 'elsewhere'],
    ['GET /jobsite', 'elsewhere'],
  ])('%s: %s', (asked, expected) => {
    expect(way(asked)).toBe(expected)
  })

  it('leaves to the server what a form of another site could be', () => {
    expect(way(`POST /jobs/${id}/ask`, true)).toBe('elsewhere')
    expect(way('POST /phone/send-again', true)).toBe('elsewhere')
    expect(way('POST /ask', true)).toBe('here-first')
  })

  it('knows the job that an address is about', () => {
    const of = (path: string) => jobOfAddress(new URL(path, 'http://127.0.0.1'))
    expect([of(`/jobs/${id}`), of(`/api/jobs/${id}/ask`), of(`/q/feed-gauge?job=${id}`)]).toEqual([
      id,
      id,
      id,
    ])
    expect([of('/jobs'), of('/jobs/import'), of('/')]).toEqual([null, null, null])
  })
})
