import manifest from '../../package.json'

/** The version that answers, pages and sheets show. */
export const version: string = manifest.version

/** What makes an answer: the calculators with their words, and the tables (digests by versions.config.ts). */
export const madeBy = {
  calculators: `${version}+${CALCULATORS}`,
  tables: `${version}+${TABLES}`,
}
