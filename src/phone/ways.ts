/** How this phone meets a request. */
export type Way =
  /** A file that is kept. */
  | 'file'
  /** Answered here, at once: the same code, so the same answer. */
  | 'here'
  /** What several may have added to, or the server alone can do: its answer, or else this phone's. */
  | 'server-first'
  /** Something is done: here first, so that it is done once, and then told to the server. */
  | 'here-first'
  /** A page about this phone itself. */
  | 'phone'
  /** Left to the browser. */
  | 'elsewhere'

/** What is known of a request without reading its body. */
export type Asked = { method: string; url: URL; navigates: boolean }

const answeredHere =
  /^\/($|ask$|q\/|compare\/|style\.css$|icon\.svg$|manifest\.webmanifest$|api\/(ask$|compare\/|questions\/))/
const jobs = /^\/(api\/)?jobs($|\/)/
/** What only the server can do: links that others can open. */
const shares = /^\/(api\/)?jobs\/[^/]+\/shares?($|\/)/
/** What phones and the server exchange. */
const exchanged = '/api/jobs/writes'

/**
 * How a request is met.
 *
 * @param isFile whether a path is that of a kept file
 */
export function wayOf({ method, url, navigates }: Asked, isFile: (path: string) => boolean): Way {
  const { pathname } = url
  const reads = method === 'GET' || method === 'HEAD'
  if (isFile(pathname)) return 'file'
  if (pathname === exchanged) return 'elsewhere'
  if (/^\/phone($|\/)/.test(pathname)) return reads || !navigates ? 'phone' : 'elsewhere'
  if (jobs.test(pathname)) return reads ? 'server-first' : doneBy(navigates, pathname)
  if (!answeredHere.test(pathname)) return 'elsewhere'
  if (reads) return url.searchParams.has('job') ? 'server-first' : 'here'
  return 'here-first'
}

/**
 * A form sent by the browser itself may come from another site, and only the server is told so: what it would do to
 * jobs is left to the server.
 */
function doneBy(navigates: boolean, pathname: string): Way {
  if (navigates) return 'elsewhere'
  return shares.test(pathname) ? 'server-first' : 'here-first'
}

/** The job that an address is about. */
export const jobOfAddress = ({ pathname, searchParams }: URL): string | null =>
  /^\/(?:api\/)?jobs\/([0-9a-f-]{36})(?:$|\/)/.exec(pathname)?.[1] ?? searchParams.get('job')
