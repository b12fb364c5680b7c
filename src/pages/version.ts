import manifest from '../../package.json'

/** The version that answers, pages and sheets show. */
export const version: string = manifest.version
