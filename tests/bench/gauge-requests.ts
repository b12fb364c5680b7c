/** Different bodies for `feed-gauge`, so that nothing could be gained by remembering the last answer. */
export const gaugeRequests = Array.from({ length: 200 }, (_, i) => ({
  method: 'POST' as const,
  path: '/api/questions/feed-gauge',
  headers: { 'content-type': 'application/json' },
  body: JSON.stringify({ distance: `${10 + (i % 50)} ft`, voltage: '24 V', load: `${20 + (i % 7) * 10} W` }),
}))
