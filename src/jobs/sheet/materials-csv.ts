import { stringify } from 'csv-stringify/sync'
import type { JobSheet, Material } from './sheet'
import { sheetWords } from './sheet-words'

type Column = keyof typeof sheetWords.columns.csv

const columns: readonly Column[] = ['what', 'quantity', 'unit', 'text', 'where', 'from', 'question', 'note']

/** To the centimetre, so that no spreadsheet shows the noise of a sum. */
const quantityOf = ({ quantity }: Material): string =>
  quantity === null ? '' : String(Math.ceil(quantity * 100 - 1e-6) / 100)

/**
 * The materials as a table for a spreadsheet (RFC 4180): one row of names, then one row for each material. A cell
 * that a spreadsheet would take for a formula is kept from being one.
 */
export const materialsCsv = (sheet: JobSheet): string =>
  stringify(
    sheet.materials.map((material) => ({ ...material, quantity: quantityOf(material) })),
    {
      header: true,
      columns: columns.map((key) => ({ key, header: sheetWords.columns.csv[key] })),
      record_delimiter: 'windows',
      // A line break of any kind stands within quotes.
      quoted_match: /[\r\n]/,
      escape_formulas: true,
    },
  )
