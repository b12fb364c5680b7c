import { stateMarks } from '../jobs/check/state-marks'
import { sumsText } from '../jobs/sheet/job-sheet'
import { say, sheetWords } from '../jobs/sheet/sheet-words'
import { levelMarks } from '../questions/common/marks'
import { sharedWords } from '../questions/common/shared-words'
import { paragraph, plain } from './blocks'
import type { Block } from './flow'
import { type Ink, type Run, styles } from './ink'
import { addTable, begin, beginColumns, gap, halfOf, type Section, space } from './section'

export const verdicts: Section = (page, sheet) => {
  const { state, about, says } = sheetWords.columns.verdicts
  const columns = [
    { name: state, share: 0.15 },
    { name: about, share: 0.31 },
    { name: says, share: 0.54 },
  ]
  const rows = sheet.verdicts.map((each) => [
    plain(
      `${stateMarks[each.state]} ${each.stateText}`,
      each.state === 'not-asked' ? styles.text : styles.bold,
    ),
    [
      { text: each.title, style: styles.text },
      { text: `\n${each.where}`, style: styles.small },
    ],
    plain(each.says, styles.small),
  ])
  addTable(page, [begin(page, 'verdicts')], columns, rows)
}

export const assumed: Section = (page, sheet) => {
  const { ink } = page
  const blocks = sheet.assumed.map(({ text, why, source, sums: numbers }) => {
    const cited = source === null ? '' : ` ${say('source', { number: String(source) })}`
    const runs: Run[] = [
      { text: `${text} `, style: styles.smallBold },
      { text: `${why}${cited} ${sumsText(numbers)}.`, style: styles.small },
    ]
    return paragraph(ink, runs, halfOf(ink), { before: 3 })
  })
  beginColumns(page, [begin(page, 'assumed')], blocks)
}

export const cautions: Section = (page, sheet) => {
  const { ink } = page
  const blocks = sheet.cautions.map(({ level, text, source }) => {
    const cited = source === null ? '' : ` ${say('source', { number: String(source) })}`
    const isStop = level === 'stop'
    const runs: Run[] = [
      {
        text: `${levelMarks[level]} ${sharedWords.levels[level]}. `,
        style: isStop ? styles.bold : styles.smallBold,
      },
      { text: `${text}${cited}`, style: isStop ? styles.text : styles.small },
    ]
    return paragraph(ink, runs, halfOf(ink), { before: 4 })
  })
  beginColumns(page, [begin(page, 'cautions')], blocks)
}

export const localCode: Section = (page, sheet) => {
  const { ink, flow } = page
  const boxed = sheet.localCode.map((text) => framedText(ink, text))
  flow.add([begin(page, 'localCode'), space(2), ...boxed])
}

function framedText(ink: Ink, text: string): Block {
  const inner = paragraph(ink, plain(text, styles.bold), ink.width - 16)
  const height = inner.height + 12
  return {
    before: 4,
    height,
    draw: (x, y) => {
      ink.box(x, y, ink.width, height, 1.2)
      inner.draw(x + 8, y + 6)
    },
  }
}

/** Lines to sign on; nobody's name stands on them. */
export const signatures: Section = ({ ink, flow }) => {
  const { proved, accepted, line } = sheetWords.signatures
  const width = halfOf(ink)
  const names = [proved, accepted].map((who) => paragraph(ink, plain(who, styles.bold), width))
  const under = paragraph(ink, plain(line, styles.tiny), width)
  const block: Block = {
    height: 66,
    draw: (x, y) => {
      for (const [at, name] of names.entries()) {
        const left = x + at * (width + gap)
        name.draw(left, y + 2)
        ink.rule([left, y + 52], [left + width, y + 52], 0.7)
        under.draw(left, y + 54)
      }
    },
  }
  flow.add([begin({ ink, flow }, 'signatures'), block])
}

export const sources: Section = (page, sheet) => {
  const { ink } = page
  const blocks = sheet.sources.map(({ text, kind }, at) => {
    const number = say('source', { number: String(at + 1) })
    return paragraph(ink, plain(`${number} ${text} (${kind})`, styles.tiny), halfOf(ink), { before: 2 })
  })
  beginColumns(page, [begin(page, 'sources')], blocks)
}
