import { sumsText } from '../jobs/sheet/job-sheet'
import { say, sheetWords } from '../jobs/sheet/sheet-words'
import { verdictMarks } from '../questions/common/marks'
import { type Column, entry, paragraph, plain } from './blocks'
import { drawingBlocks } from './drawings'
import { type Run, styles } from './ink'
import { addTable, begin, beginColumns, halfOf, type Section, space } from './section'

/** What was fitted, part by part. */
export const fitted: Section = (page, { fitted: parts }) => {
  const { ink } = page
  for (const [at, { where, facts }] of parts.entries()) {
    const title = paragraph(ink, plain(where, styles.part), ink.width, { before: 6, keepsWithNext: true })
    const blocks = facts.map(({ label, text, contested }) => {
      const warning: Run[] = contested
        ? [{ text: ` ${verdictMarks.fails} ${contested}`, style: styles.bold }]
        : []
      return entry(ink, label, [...plain(text), ...warning], halfOf(ink))
    })
    beginColumns(page, [...(at === 0 ? [begin(page, 'fitted')] : []), title], blocks)
  }
}

export const drawings: Section = (page, sheet) => {
  const { ink } = page
  const mostHeight = ink.bottom - ink.top - 40
  const blocks = sheet.drawings.flatMap((drawing) => {
    const { caption, sum, says } = drawing
    const under: Run[] = [
      { text: `${caption} `, style: styles.smallBold },
      { text: `(${sumsText([sum])}). ${says}`, style: styles.small },
    ]
    return drawingBlocks(ink, drawing, under, halfOf(ink), mostHeight)
  })
  const scale = paragraph(ink, plain(say('scale', {}), styles.small), ink.width, { keepsWithNext: true })
  beginColumns(page, [begin(page, 'drawings'), scale, space(4)], blocks)
}

export const materials: Section = (page, sheet) => {
  const { what, quantity, where, from } = sheetWords.columns.materials
  const columns = [
    { name: what, share: 0.48 },
    { name: quantity, share: 0.2 },
    { name: where, share: 0.2 },
    { name: from, share: 0.12 },
  ]
  const rows = sheet.materials.map((material) => {
    const isKnown = material.quantity !== null
    const style = isKnown ? styles.bold : styles.text
    const note: Run[] = material.note ? [{ text: `\n${material.note}`, style: styles.small }] : []
    const told = isKnown ? say('fromTold', {}) : ''
    return [
      [{ text: material.what, style }, ...note],
      plain(material.text),
      plain(material.where),
      plain(material.sums.length > 0 ? sumsText(material.sums) : told),
    ]
  })
  addTable(page, [begin(page, 'materials')], columns, rows)
}

export const cutting: Section = (page, { cutting: lists }) => {
  for (const [at, { title, sum, columns, rows }] of lists.entries()) {
    const name = `${title} (${sumsText([sum])})`
    const lead = [
      ...(at === 0 ? [begin(page, 'cutting')] : []),
      paragraph(page.ink, plain(name, styles.part), page.ink.width, { before: 8, keepsWithNext: true }),
    ]
    addTable(
      page,
      lead,
      cuttingColumns(columns),
      rows.map((row) => row.map((cell) => plain(cell))),
    )
  }
}

/** The last column says what is cut and is the widest; after it comes a box to tick. */
function cuttingColumns(names: readonly string[]): Column[] {
  const tick = 0.08
  const last = names.length > 3 ? 0.3 : 0.48
  const others = (1 - tick - last) / (names.length - 1)
  return [
    ...names.map((name, at) => ({ name, share: at === names.length - 1 ? last : others })),
    { name: sheetWords.columns.cut, share: tick, isBlank: true },
  ]
}

export const readings: Section = (page, sheet) => {
  const { reading, expected, measured, signed } = sheetWords.columns.proof
  const columns = [
    { name: reading, share: 0.38 },
    { name: expected, share: 0.2 },
    { name: measured, share: 0.23, isBlank: true },
    { name: signed, share: 0.19, isBlank: true },
  ]
  const rows = sheet.readings.map((each) => [
    [
      { text: each.reading, style: styles.bold },
      { text: `\n${each.where}`, style: styles.small },
    ],
    plain(each.expected),
    each.within === null
      ? []
      : plain(
          `${verdictMarks[each.within ? 'holds' : 'fails']} ${each.measured}`,
          each.within ? styles.text : styles.bold,
        ),
    [],
  ])
  const how = paragraph(page.ink, plain(sheet.howToRead, styles.small), page.ink.width, {
    keepsWithNext: true,
  })
  addTable(page, [begin(page, 'proof'), how, space(4)], columns, rows)
}
