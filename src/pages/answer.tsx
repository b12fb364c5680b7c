import type { Child } from 'hono/jsx'
import { Drawing } from '../pictures/picture'
import type { Answer, AnswerTable, Caution, ClaimVerdict, Verdict } from '../questions/common/answer'
import { compareParts } from '../questions/common/compare-words'
import { levelMarks, verdictMarks } from '../questions/common/marks'
import type { Question } from '../questions/common/question'
import { sharedWords } from '../questions/common/shared-words'
import { addressOf, compareAddressOf, fieldOf, type Typed } from './address'

/** The parts of an answer, always in the same order. */
export const AnswerView = ({
  answer,
  question,
  typed,
  about = {},
}: {
  answer: Answer
  question: Question
  typed: Typed
  /** The job and its part, which the links to other questions and to variants carry on. */
  about?: Typed
}) => (
  <article class="answer" id="answer" aria-labelledby="headline">
    <p class={`headline ${answer.verdict}`} id="headline">
      {answer.headline}
    </p>
    <VerdictMark verdict={answer.verdict} />
    <Figures answer={answer} />
    <Findings answer={answer} />
    <Limits answer={answer} />
    {answer.table ? <Table table={answer.table} /> : null}
    {answer.picture ? (
      <Part id="picture">
        <Drawing picture={answer.picture} />
      </Part>
    ) : null}
    {answer.claim ? <Claim claim={answer.claim} /> : null}
    <Room answer={answer} question={question} />
    <Assumptions answer={answer} question={question} typed={typed} />
    <Cautions cautions={answer.cautions} />
    <Working answer={answer} />
    <Next answer={answer} about={about} />
    <CompareLink question={question} typed={typed} about={about} />
    <Sources answer={answer} />
    <p class="code">{answer.localCode}</p>
  </article>
)

/** The verdict in a shape and in words; colour only repeats it. */
export const VerdictMark = ({ verdict }: { verdict: Verdict }) => (
  <p class={`verdict ${verdict}`}>
    <span class="mark" aria-hidden="true">
      {verdictMarks[verdict]}
    </span>{' '}
    {sharedWords.verdicts[verdict]}
  </p>
)

const Part = ({ id, children }: { id: string; children: Child }) => (
  <section aria-labelledby={`part-${id}`}>
    <h2 id={`part-${id}`}>{sharedWords.parts[id]}</h2>
    {children}
  </section>
)

/** Figures with what each is called, to stand in a `dl`. */
export const FigureRows = ({ figures }: { figures: readonly { label: string; text: string }[] }) => (
  <>
    {figures.map(({ label, text }) => (
      <div>
        <dt>{label}</dt>
        <dd>{text}</dd>
      </div>
    ))}
  </>
)

const Figures = ({ answer }: { answer: Answer }) =>
  answer.figures.length === 0 ? null : (
    <Part id="figures">
      <dl class="figures">
        <FigureRows figures={answer.figures} />
      </dl>
    </Part>
  )

/** What explains the readings, likeliest first; those that the readings cannot rule out stand beside it. */
const Findings = ({ answer }: { answer: Answer }) =>
  answer.findings ? (
    <Part id="findings">
      <ol class="findings">
        {answer.findings.map(({ text, toldApart }, at) => (
          <li class={at === 0 ? 'first' : undefined}>
            {text}{' '}
            {at === 0 ? null : (
              <span class="why">{sharedWords.parts[toldApart ? 'ruledOut' : 'possibleToo']}</span>
            )}
          </li>
        ))}
      </ol>
    </Part>
  ) : null

const Limits = ({ answer }: { answer: Answer }) =>
  answer.limits.length === 0 ? null : (
    <Part id="limits">
      <dl class="figures">
        {answer.limits.map(({ label, text, binds }) => (
          <div class={binds ? 'binds' : undefined}>
            <dt>{label}</dt>
            <dd>
              {text}
              {binds ? <strong> ◀ {sharedWords.parts.binds}</strong> : null}
            </dd>
          </div>
        ))}
      </dl>
    </Part>
  )

const Table = ({ table }: { table: AnswerTable }) => (
  <Part id="table">
    <div class="scroll" tabindex={0}>
      <table>
        <thead>
          <tr>
            {table.columns.map((column) => (
              <th scope="col">{column}</th>
            ))}
          </tr>
        </thead>
        <tbody>
          {table.rows.map((row, at) => (
            <tr class={at === table.chosen ? 'chosen' : undefined}>
              {row.map((cell, column) =>
                column === 0 ? (
                  <th scope="row">
                    {at === table.chosen ? '▶ ' : ''}
                    {cell}
                  </th>
                ) : (
                  <td>{cell}</td>
                ),
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  </Part>
)

const Claim = ({ claim }: { claim: ClaimVerdict }) => (
  <Part id="claim">
    <VerdictMark verdict={claim.verdict} />
    <p>
      {claim.text} {claim.margin}
    </p>
    {claim.wouldHoldIf.length === 0 ? null : (
      <>
        <p>{sharedWords.parts.wouldHoldIf}:</p>
        <ul>
          {claim.wouldHoldIf.map((way) => (
            <li>{way}</li>
          ))}
        </ul>
      </>
    )}
  </Part>
)

const Room = ({ answer }: { answer: Answer; question: Question }) =>
  answer.room.length === 0 ? null : (
    <Part id="room">
      <ul>
        {answer.room.map(({ text }) => (
          <li>{text}</li>
        ))}
      </ul>
    </Part>
  )

/** Each assumption is a link that opens its input, filled with what was assumed. */
const Assumptions = ({ answer, question, typed }: { answer: Answer; question: Question; typed: Typed }) =>
  answer.assumptions.length === 0 ? null : (
    <Part id="assumptions">
      <ul class="assumed">
        {answer.assumptions.map(({ field, text, why }) => (
          <li>
            {question.inputs[field] ? (
              <a href={addressOf(question.id, { ...typed, open: field }, `#${field}`)}>{text}</a>
            ) : (
              <strong>{text}</strong>
            )}
            <span class="why">{why}</span>
          </li>
        ))}
      </ul>
    </Part>
  )

const Cautions = ({ cautions }: { cautions: readonly Caution[] }) =>
  cautions.length === 0 ? null : (
    <Part id="cautions">
      <CautionList cautions={cautions} />
    </Part>
  )

/** Cautions, the gravest first. */
export const CautionList = ({ cautions }: { cautions: readonly Caution[] }) => (
  <ul class="cautions">
    {inOrder(cautions).map(({ level, text }) => (
      <li class={level}>
        <strong>
          <span aria-hidden="true">{levelMarks[level]} </span>
          {sharedWords.levels[level]}.
        </strong>{' '}
        {text}
      </li>
    ))}
  </ul>
)

const levels: readonly Caution['level'][] = ['stop', 'care', 'note']

const inOrder = (cautions: readonly Caution[]): Caution[] =>
  levels.flatMap((level) => cautions.filter((caution) => caution.level === level))

const Working = ({ answer }: { answer: Answer }) =>
  answer.working.length === 0 ? null : (
    <Part id="working">
      <ol class="working">
        {answer.working.map(({ label, formula, substituted, result, source }) => (
          <li>
            <strong>{label}</strong>
            <span class="formula">{formula}</span>
            <span class="formula">
              = {substituted} = <b>{result}</b>
            </span>
            {source ? <span class="why">{answer.sources.find(({ id }) => id === source)?.text}</span> : null}
          </li>
        ))}
      </ol>
    </Part>
  )

const Next = ({ answer, about }: { answer: Answer; about: Typed }) =>
  answer.next.length === 0 ? null : (
    <Part id="next">
      <ul class="ask">
        {answer.next.map(({ question, title, inputs }) => (
          <li>
            <a href={addressOf(question, { ...about, ...inputs })}>{title}</a>
          </li>
        ))}
      </ul>
    </Part>
  )

const CompareLink = ({ question, typed, about }: { question: Question; typed: Typed; about: Typed }) => {
  const own = Object.entries(typed).filter(
    ([name]) => Object.hasOwn(question.inputs, fieldOf(name)) || fieldOf(name) === 'claim',
  )
  return (
    <p>
      <a class="plain" href={compareAddressOf(question.id, Object.fromEntries(own), undefined, about)}>
        {compareParts.link}
      </a>
    </p>
  )
}

const Sources = ({ answer }: { answer: Answer }) => (
  <Part id="sources">
    <ul class="sources">
      {answer.sources.map(({ text, kind }) => (
        <li>
          {text} ({kind})
        </li>
      ))}
    </ul>
  </Part>
)
