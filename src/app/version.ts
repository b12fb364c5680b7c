import { version } from '../pages/version'

export { version }

/** What makes an answer: the calculators with their words, and the tables (digests by versions.config.ts). */
export const madeBy = {
  calculators: `${version}+${CALCULATORS}`,
  tables: `${version}+${TABLES}`,
}
