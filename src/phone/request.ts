/**
 * A page's request as it would arrive at the server: with the headers that only the network adds. It comes from a page
 * of ours, since requests of other pages never come to this phone's app, save a form that the browser itself sends, and
 * that is not answered here where it could do anything (`ways.ts`).
 */
export async function asItArrives(request: Request): Promise<Request> {
  const headers = new Headers(request.headers)
  headers.set('sec-fetch-site', 'same-origin')
  if (request.method === 'GET' || request.method === 'HEAD') return withHeaders(request, headers)
  const body = await request.arrayBuffer()
  headers.set('content-length', String(body.byteLength))
  return withHeaders(new Request(request.url, { method: request.method, headers, body }), headers)
}

/** Browsers leave headers of the network out of any request that a script makes, so they are laid over it. */
const withHeaders = (request: Request, headers: Headers): Request =>
  new Proxy(request, {
    get(target, key) {
      if (key === 'headers') return headers
      const value: unknown = Reflect.get(target, key, target)
      return typeof value === 'function' ? value.bind(target) : value
    },
  })
