import type { JobSheet, Material } from './sheet'
import { sheetWords } from './sheet-words'

type Column = keyof typeof sheetWords.columns.csv

const columns: readonly Column[] = ['what', 'quantity', 'unit', 'text', 'where', 'from', 'question', 'note']

/** To the centimetre, so that no spreadsheet shows the noise of a sum. */
const quantityOf = ({ quantity }: Material): string =>
  quantity === null ? '' : String(Math.ceil(quantity * 100 - 1e-6) / 100)

/** One field (RFC 4180), kept from being taken for a formula by a spreadsheet. */
function fieldOf(text: string): string {
  const harmless = /^[=+\-@\t\r\uff1d\uff0b\uff0d\uff20]/.test(text) ? `'${text}` : text
  return /[",\r\n]/.test(harmless) ? `"${harmless.replaceAll('"', '""')}"` : harmless
}

const rowOf = (fields: readonly string[]): string => `${fields.map(fieldOf).join(',')}\r\n`

/**
 * The materials as a table for a spreadsheet (RFC 4180): one row of names, then one row for each material. A cell
 * that a spreadsheet would take for a formula is kept from being one.
 */
export const materialsCsv = ({ materials }: JobSheet): string =>
  [
    columns.map((key) => sheetWords.columns.csv[key]),
    ...materials.map((material) =>
      columns.map((key) => (key === 'quantity' ? quantityOf(material) : String(material[key] ?? ''))),
    ),
  ]
    .map(rowOf)
    .join('')
