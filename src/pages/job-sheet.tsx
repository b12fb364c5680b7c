import type { Child } from 'hono/jsx'
import { notReadyText, sumsText } from '../jobs/sheet/job-sheet'
import type {
  CuttingList,
  Entry,
  ExpectedReading,
  JobSheet,
  Material,
  Paper,
  Sum,
  SumStep,
} from '../jobs/sheet/sheet'
import { say, sheetWords } from '../jobs/sheet/sheet-words'
import { Drawing } from '../pictures/picture'
import { levelMarks, verdictMarks } from '../questions/common/marks'
import { sharedWords } from '../questions/common/shared-words'
import { FigureRows, VerdictMark } from './answer'
import { JobFrame } from './job-frame'
import { Layout } from './layout'
import { StateMark } from './state-mark'

/**
 * Where the same sheet is found in other shapes, as far as whoever reads it may have them. `job` leads to the job: the
 * sheet then stands among the job's other pages, without it alone.
 */
export type SheetLinks = { job?: string; json?: string; csv?: string; pdf?: string } & Record<Paper, string>

type JobSheetProps = { sheet: JobSheet; paper?: Paper; links: SheetLinks }

/**
 * The job sheet as a page, made to be printed: everything in it stands open, nothing needs a script.
 *
 * @param paper what it is laid out for when it is printed
 */
export const JobSheetPage = ({ sheet, paper = sheet.paper, links }: JobSheetProps) => {
  const { jobId: id, name, place } = sheet
  const shown = <Shown sheet={sheet} paper={paper} links={links} />
  if (links.job) {
    return (
      <JobFrame job={{ id, name, place }} tab="sheet">
        {shown}
      </JobFrame>
    )
  }
  return (
    <Layout title={say('runningHead', { title: sheetWords.title, job: name })} alone>
      <h1>{name}</h1>
      {shown}
    </Layout>
  )
}

const Shown = ({ sheet, paper, links }: Required<JobSheetProps>) => (
  <>
    <nav class="sheet-links" aria-label={sheetWords.page.otherShapes}>
      <Links links={links} paper={paper} />
    </nav>
    <article class={`sheet ${paper}`}>
      <Head sheet={sheet} />
      <Fitted sheet={sheet} />
      <Drawings sheet={sheet} />
      <Materials sheet={sheet} />
      <Cutting sheet={sheet} />
      <Readings sheet={sheet} />
      <Verdicts sheet={sheet} />
      <Sums sheet={sheet} />
      <Assumed sheet={sheet} />
      <Cautions sheet={sheet} />
      <LocalCode sheet={sheet} />
      <Signatures />
      <Sources sheet={sheet} />
    </article>
  </>
)

const Links = ({ links, paper }: { links: SheetLinks; paper: Paper }) => {
  const { page } = sheetWords
  const other = paper === 'a4' ? 'letter' : 'a4'
  const all: [string | undefined, string][] = [
    [links.pdf, page.pdf],
    [links.csv, page.csv],
    [links.json, page.json],
    [links[other], page[other]],
  ]
  return (
    <ul>
      {all.map(([address, text]) =>
        address ? (
          <li>
            <a href={address}>{text}</a>
          </li>
        ) : null,
      )}
    </ul>
  )
}

/** The title block, as on a drawing; a blank is a line to write on. */
const Head = ({ sheet }: { sheet: JobSheet }) => (
  <header class="block">
    <p class="kind">{sheetWords.title}</p>
    <p class="name">{sheet.name}</p>
    <dl class="boxes">
      {sheet.block.slice(1).map(({ label, text }) => (
        <div>
          <dt>{label}</dt>
          <dd>{text || <span class="blank" />}</dd>
        </div>
      ))}
    </dl>
    {sheet.notes ? <p class="notes">{sheet.notes}</p> : null}
    {sheet.notReady.length > 0 ? (
      <p class="banner">
        <span aria-hidden="true">{verdictMarks.fails} </span>
        {notReadyText(sheet)}
      </p>
    ) : null}
  </header>
)

type SectionId = keyof typeof sheetWords.headings

const Section = ({ id, children }: { id: SectionId; children: Child }) => (
  <section aria-labelledby={id} class={id}>
    <h2 id={id}>{sheetWords.headings[id]}</h2>
    {children}
  </section>
)

const None = ({ text }: { text: string }) => <p class="why lead">{text}</p>

const Fitted = ({ sheet: { fitted } }: { sheet: JobSheet }) => (
  <Section id="fitted">
    {fitted.length === 0 ? <None text={say('none.fitted', {})} /> : null}
    {fitted.map(({ where, facts }) => (
      <div class="part">
        <h3>{where}</h3>
        <dl class="facts">
          {facts.map(({ label, text, contested }) => (
            <div>
              <dt>{label}</dt>
              <dd>
                {text}
                {contested ? (
                  <strong class="contested">
                    <span aria-hidden="true">{verdictMarks.fails} </span>
                    {contested}
                  </strong>
                ) : null}
              </dd>
            </div>
          ))}
        </dl>
      </div>
    ))}
  </Section>
)

const Drawings = ({ sheet: { drawings } }: { sheet: JobSheet }) => (
  <Section id="drawings">
    {drawings.length === 0 ? <None text={say('none.drawn', {})} /> : <None text={say('scale', {})} />}
    <div class="figures-drawn">
      {drawings.map(({ caption, sum, says, picture }) => (
        <figure>
          <Drawing picture={picture} />
          <figcaption>
            <strong>{caption}</strong> ({sumsText([sum])}). {says}
          </figcaption>
        </figure>
      ))}
    </div>
  </Section>
)

const Columns = ({ names, tick }: { names: readonly string[]; tick?: string }) => (
  <thead>
    <tr>
      {names.map((name) => (
        <th scope="col">{name}</th>
      ))}
      {tick ? (
        <th scope="col" class="tick-name">
          {tick}
        </th>
      ) : null}
    </tr>
  </thead>
)

const Materials = ({ sheet: { materials } }: { sheet: JobSheet }) => {
  const { what, quantity, where, from } = sheetWords.columns.materials
  return (
    <Section id="materials">
      <table>
        <Columns names={[what, quantity, where, from]} />
        <tbody>
          {materials.map((material) => (
            <MaterialRow material={material} />
          ))}
        </tbody>
      </table>
    </Section>
  )
}

const MaterialRow = ({ material: { what, quantity, text, where, sums, note } }: { material: Material }) => {
  const names = sheetWords.columns.materials
  const told = quantity === null ? '' : say('fromTold', {})
  return (
    <tr class={quantity === null ? 'unknown' : undefined}>
      <th scope="row">
        {what}
        {note ? <span class="why">{note}</span> : null}
      </th>
      <td data-name={names.quantity}>{text}</td>
      <td data-name={names.where}>{where}</td>
      <td data-name={names.from}>{sums.length > 0 ? sumsText(sums) : told}</td>
    </tr>
  )
}

const Cutting = ({ sheet: { cutting } }: { sheet: JobSheet }) => (
  <Section id="cutting">
    {cutting.length === 0 ? <None text={say('none.cut', {})} /> : null}
    {cutting.map((list) => (
      <CuttingTable list={list} />
    ))}
  </Section>
)

const CuttingTable = ({ list: { title, sum, columns, rows } }: { list: CuttingList }) => (
  <>
    <h3>
      {title} ({sumsText([sum])})
    </h3>
    <table>
      <Columns names={columns} tick={sheetWords.columns.cut} />
      <tbody>
        {rows.map(([first, ...others]) => (
          <tr>
            <th scope="row">{first}</th>
            {others.map((cell, at) => (
              <td data-name={columns[at + 1]}>{cell}</td>
            ))}
            <td class="tick" data-name={sheetWords.columns.cut} />
          </tr>
        ))}
      </tbody>
    </table>
  </>
)

const Readings = ({ sheet: { readings, howToRead } }: { sheet: JobSheet }) => {
  const { reading, expected, measured, signed } = sheetWords.columns.proof
  return (
    <Section id="proof">
      {readings.length === 0 ? (
        <None text={say('none.proof', {})} />
      ) : (
        <>
          <p class="why lead">{howToRead}</p>
          <table>
            <Columns names={[reading, expected, measured, signed]} />
            <tbody>
              {readings.map((each) => (
                <ReadingRow reading={each} />
              ))}
            </tbody>
          </table>
        </>
      )}
    </Section>
  )
}

const ReadingRow = ({ reading }: { reading: ExpectedReading }) => {
  const { where, expected, measured, within } = reading
  const names = sheetWords.columns.proof
  return (
    <tr>
      <th scope="row">
        {reading.reading}
        <span class="why">{where}</span>
      </th>
      <td data-name={names.expected}>{expected}</td>
      <td class={within === false ? 'write outside' : 'write'} data-name={names.measured}>
        {within === null ? null : <span>{`${verdictMarks[within ? 'holds' : 'fails']} ${measured}`}</span>}
      </td>
      <td class="write" data-name={names.signed} />
    </tr>
  )
}

const Verdicts = ({ sheet: { verdicts } }: { sheet: JobSheet }) => (
  <Section id="verdicts">
    {verdicts.length === 0 ? <None text={say('none.checked', {})} /> : null}
    <ul class="verdict-list">
      {verdicts.map(({ state, stateText, title, where, says }) => (
        <li class={state}>
          <StateMark state={state} text={stateText} />
          <span>
            <strong>{title}</strong> <span class="where">{where}</span>
            <span class="says">{says}</span>
          </span>
        </li>
      ))}
    </ul>
  </Section>
)

const Sums = ({ sheet: { sums } }: { sheet: JobSheet }) => (
  <Section id="sums">
    {sums.length === 0 ? <None text={say('none.worked', {})} /> : null}
    {sums.map((sum) => (
      <SumView sum={sum} />
    ))}
  </Section>
)

const SumView = ({ sum }: { sum: Sum }) => (
  <div class="sum">
    <div class="sum-head">
      <h3>
        {sum.number}. {sum.title} <span class="where">{sum.where}</span>
      </h3>
      <p>
        <strong>{sum.headline}</strong>
      </p>
      <VerdictMark verdict={sum.verdict} />
    </div>
    {sum.given.length > 0 ? <p class="given">{entriesText(sum.given)}</p> : null}
    <dl class="figures of-sum">
      <FigureRows figures={sum.figures} />
      {sum.limits.map(({ label, text, binds }) => (
        <div class={binds ? 'binds' : undefined}>
          <dt>{say('limit', { label })}</dt>
          <dd>
            {text}
            {binds ? ` ◀ ${sharedWords.parts.binds}` : null}
          </dd>
        </div>
      ))}
    </dl>
    {sum.steps.length > 0 ? (
      <ol class="working">
        {sum.steps.map((step) => (
          <Step step={step} />
        ))}
      </ol>
    ) : null}
  </div>
)

const entriesText = (entries: readonly Entry[]): string =>
  entries.map(({ label, text }) => `${label}: ${text}`).join(' · ')

const Step = ({ step: { label, formula, substituted, result, source } }: { step: SumStep }) => (
  <li>
    <strong>{label}</strong> <SourceMark number={source} />
    <span class="formula">{formula}</span>
    <span class="formula">
      = {substituted} = <b>{result}</b>
    </span>
  </li>
)

const SourceMark = ({ number }: { number: number | null }) =>
  number === null ? null : <span class="source">{say('source', { number: String(number) })}</span>

const Assumed = ({ sheet: { assumed } }: { sheet: JobSheet }) => (
  <Section id="assumed">
    {assumed.length === 0 ? <None text={say('none.assumed', {})} /> : null}
    <ul class="assumed-list">
      {assumed.map(({ text, why, source, sums }) => (
        <li>
          <strong>{text}</strong>{' '}
          <span class="why">
            {why} <SourceMark number={source} /> {sumsText(sums)}
          </span>
        </li>
      ))}
    </ul>
  </Section>
)

const Cautions = ({ sheet: { cautions } }: { sheet: JobSheet }) => (
  <Section id="cautions">
    {cautions.length === 0 ? <None text={say('none.cautions', {})} /> : null}
    <ul class="cautions">
      {cautions.map(({ level, text, source }) => (
        <li class={level}>
          <strong>
            <span aria-hidden="true">{levelMarks[level]} </span>
            {sharedWords.levels[level]}.
          </strong>{' '}
          {text} <SourceMark number={source} />
        </li>
      ))}
    </ul>
  </Section>
)

const LocalCode = ({ sheet: { localCode } }: { sheet: JobSheet }) =>
  localCode.length === 0 ? null : (
    <Section id="localCode">
      {localCode.map((text) => (
        <p class="code">{text}</p>
      ))}
    </Section>
  )

const Signatures = () => (
  <Section id="signatures">
    <dl class="signed">
      {[sheetWords.signatures.proved, sheetWords.signatures.accepted].map((who) => (
        <div>
          <dt>{who}</dt>
          <dd>{sheetWords.signatures.line}</dd>
        </div>
      ))}
    </dl>
  </Section>
)

const Sources = ({ sheet: { sources } }: { sheet: JobSheet }) =>
  sources.length === 0 ? null : (
    <Section id="sources">
      <ol class="sources">
        {sources.map(({ text, kind }, at) => (
          <li>
            {say('source', { number: String(at + 1) })} {text} ({kind})
          </li>
        ))}
      </ol>
    </Section>
  )
