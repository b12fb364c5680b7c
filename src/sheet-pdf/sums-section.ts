import type { Entry, Sum } from '../jobs/sheet/sheet'
import { say } from '../jobs/sheet/sheet-words'
import { verdictMarks } from '../questions/common/marks'
import { sharedWords } from '../questions/common/shared-words'
import { ledger, paragraph, plain } from './blocks'
import type { Block } from './flow'
import { type Ink, type Run, styles } from './ink'
import { begin, beginColumns, gap, halfOf, type Page, type Section, space } from './section'

export const sums: Section = (page, sheet) => {
  for (const [at, sum] of sheet.sums.entries()) {
    oneSum(page, sum, at === 0 ? [begin(page, 'sums')] : [])
  }
}

function oneSum(page: Page, sum: Sum, lead: readonly Block[]): void {
  const { ink, flow } = page
  const head = [...lead, ...headOf(ink, sum, lead.length > 0)]
  const figures = figuresOf(ink, sum)
  const steps = stepsOf(ink, sum)
  if (figures.length === 0) beginColumns(page, head, steps)
  else {
    flow.add([...head, flow.sideBySide(figures, gap)])
    flow.space(5)
    flow.addInColumns(steps, gap)
  }
}

/** Which question it is, what it comes to, and what it was given. */
function headOf(ink: Ink, sum: Sum, isFirst: boolean): Block[] {
  const verdict = `${verdictMarks[sum.verdict]} ${sharedWords.verdicts[sum.verdict]}`
  const title: Run[] = [
    { text: `${sum.number}. ${sum.title} `, style: styles.part },
    { text: `${sum.where} · ${verdict}`, style: styles.small },
  ]
  const keeping = { before: 2, keepsWithNext: true }
  const given = plain(entriesText(sum.given), styles.small)
  return [
    ruleAbove(ink, paragraph(ink, title, ink.width), isFirst),
    paragraph(ink, plain(sum.headline), ink.width, keeping),
    ...(sum.given.length > 0 ? [paragraph(ink, given, ink.width, keeping)] : []),
    space(4),
  ]
}

function figuresOf(ink: Ink, { figures, limits }: Sum): Block[] {
  const line = (label: string, text: string): Block => ledger(ink, label, text, halfOf(ink), styles.smallBold)
  return [
    ...figures.map(({ label, text }) => line(label, text)),
    ...limits.map(({ label, text, binds }) =>
      line(say('limit', { label }), binds ? `${text} ◀ ${sharedWords.parts.binds}` : text),
    ),
  ]
}

/** Each step with its formula, its numbers and its source. */
const stepsOf = (ink: Ink, { steps }: Sum): Block[] =>
  steps.map(({ label, formula, substituted, result, source }, at) => {
    const cited = source === null ? '' : ` ${say('source', { number: String(source) })}`
    const runs: Run[] = [
      { text: `${at + 1}. ${label}`, style: styles.smallBold },
      { text: cited, style: styles.small },
      { text: `\n${formula}\n= ${substituted}\n= ${result}`, style: styles.mono },
    ]
    return paragraph(ink, runs, halfOf(ink), { before: 4 })
  })

const entriesText = (entries: readonly Entry[]): string =>
  entries.map(({ label, text }) => `${label}: ${text}`).join(' · ')

/** A block under a rule, unless it comes right after a heading. */
const ruleAbove = (ink: Ink, block: Block, isFirst: boolean): Block => ({
  ...block,
  before: isFirst ? 4 : 14,
  keepsWithNext: true,
  draw: (x, y) => {
    if (!isFirst) ink.rule([x, y - 3], [x + ink.width, y - 3], 0.6)
    block.draw(x, y)
  },
})
