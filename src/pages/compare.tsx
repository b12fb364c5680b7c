import type { Child } from 'hono/jsx'
import { Drawing } from '../pictures/picture'
import type { Answer, Caution } from '../questions/common/answer'
import { compareParts, compareSay } from '../questions/common/compare-words'
import {
  type Compared,
  type ComparedFigure,
  type ComparedLimit,
  type ComparedRows,
  type Comparison,
  type Side,
  sizeUnits,
} from '../questions/common/comparison'
import type { Answered, FieldError, Question } from '../questions/common/question'
import { addressOf, type CompareAddress, compareAddressOf } from './address'
import { CautionList, VerdictMark } from './answer'
import { faultyFields, SideFaults, SideForm, VaryList, varyingTitle } from './compare-form'
import { Layout } from './layout'
import { givenInWords } from './question-page'

type Props = {
  question: Question
  address: CompareAddress
  answered: Record<Side, Answered>
  /** Where both could be answered. */
  comparison?: Comparison | undefined
}

const sides: readonly Side[] = ['a', 'b']

/** Two variants of one question: each in brief, and under them thing by thing what differs. */
export const ComparePage = ({ question, address, answered, comparison }: Props) => (
  <Layout title={compareSay('page.title', { question: question.words.title })}>
    <h1>{question.words.title}</h1>
    <InBoth question={question} address={address} answered={answered} comparison={comparison} />
    <div class="sides">
      {sides.map((side) => (
        <SideView
          side={side}
          question={question}
          address={address}
          answered={answered}
          comparison={comparison}
        />
      ))}
    </div>
    {comparison && address.both && !address.varying ? (
      <Differences question={question} address={address} answered={answered} comparison={comparison} />
    ) : null}
  </Layout>
)

/** What was given and is the same in both. */
const InBoth = ({ question, answered, comparison }: Props) => {
  const [one] = sides.flatMap((side) => (answered[side].ok ? answered[side].answer : []))
  const differing = comparison?.inputs.map(({ field }) => field) ?? []
  const said = one && comparison ? givenInWords(question, withoutFields(one.inputs, differing)) : ''
  return said ? <p class="about">{said}</p> : null
}

const withoutFields = (inputs: Answer['inputs'], fields: readonly string[]): Answer['inputs'] =>
  Object.fromEntries(Object.entries(inputs).filter(([field]) => !fields.includes(field)))

const errorsOf = (answered: Answered): FieldError[] => (answered.ok ? [] : answered.errors)

/** The one side that has a form: the one being changed, else the first that cannot be answered. */
const formSide = ({ address, answered }: Props): Side | undefined =>
  address.varying?.side ?? sides.find((side) => !answered[side].ok)

const SideView = (props: Props & { side: Side }) => {
  const { side, question, address, answered, comparison } = props
  const own = answered[side]
  const waits = side === 'b' && !address.both
  return (
    <section class="side" aria-labelledby={`side-${side}`}>
      <h2 id={`side-${side}`}>{sideTitle(props)}</h2>
      {own.ok && !waits ? <Brief answer={own.answer} /> : null}
      {formSide(props) === side ? (
        <SideForms {...props} />
      ) : own.ok ? null : waits ? null : (
        <SideFaults errors={errorsOf(own)} linked={[]} />
      )}
      {waits && formSide(props) === undefined ? <VaryList question={question} {...address} /> : null}
      {waits || !comparison ? null : (
        <a class="plain" href={addressOf(question.id, address[side])}>
          {compareParts.whole}: {compareParts[side]}
        </a>
      )}
    </section>
  )
}

/** A side's letter, and what is its own: "B · Distance: 60 ft". */
const sideTitle = (props: Props & { side: Side }): string => {
  const { side, question, address, answered, comparison } = props
  if (address.varying?.side === side) return varyingTitle(question, side, address.varying.fields)
  const own = (comparison?.inputs ?? []).map(({ label, ...said }) => {
    return `${label}: ${said[side]?.text ?? compareParts.notSaid}`
  })
  if (side === 'b' && !address.both) return `${compareParts.b} · ${compareParts.vary}`
  const claim = answered[side].ok ? answered[side].answer.claim : undefined
  return [compareParts[side], ...own, ...(claim ? [claim.text] : [])].join(' · ')
}

const SideForms = (props: Props & { side: Side }) => {
  const { side, question, address, answered } = props
  const errors = address.varying ? [] : errorsOf(answered[side])
  const fields = address.varying?.fields ?? faultyFields(question, address[side], errors)
  return (
    <>
      {errors.length > 0 ? <SideFaults errors={errors} linked={fields} /> : null}
      {fields.length > 0 ? (
        <SideForm question={question} address={address} side={side} fields={fields} errors={errors} />
      ) : null}
    </>
  )
}

const Brief = ({ answer }: { answer: Answer }) => (
  <>
    <p class={`headline ${answer.verdict}`}>{answer.headline}</p>
    <VerdictMark verdict={answer.verdict} />
    {answer.claim ? <p>{answer.claim.margin}</p> : null}
  </>
)

const Differences = (props: Props & { comparison: Comparison }) => {
  const { question, address, comparison } = props
  return (
    <>
      {comparison.differs ? null : <p class="reply">{compareParts.nothingDiffers}</p>}
      <ComparedPart id="inputs" rows={comparison.inputs.length}>
        <Table>
          {comparison.inputs.map(({ label, a, b }) => (
            <Row label={label} a={a?.text} b={b?.text} differs />
          ))}
        </Table>
      </ComparedPart>
      {comparison.rows ? <Rows rows={comparison.rows} /> : null}
      <ComparedPart id="figures" rows={comparison.figures.length}>
        <Table difference>
          {comparison.figures.map((figure) => (
            <FigureRow figure={figure} />
          ))}
        </Table>
        <p class="why">{compareParts.rounding}</p>
      </ComparedPart>
      <ComparedPart id="limits" rows={comparison.limits.length}>
        <Table difference>
          {comparison.limits.map((limit) => (
            <LimitRow limit={limit} />
          ))}
        </Table>
      </ComparedPart>
      <Pictures {...props} />
      <ComparedCautions cautions={comparison.cautions} />
      <LocalCodes {...props} />
      <ComparedPart id="varyAgain" rows={1}>
        <p>
          <a class="plain" href={compareAddressOf(question.id, address.b, address.a)}>
            {compareParts.swap}
          </a>
        </p>
        <VaryList question={question} {...address} />
        <p class="why">{compareParts.keep}</p>
      </ComparedPart>
    </>
  )
}

const ComparedPart = ({
  id,
  rows,
  children,
}: {
  id: keyof typeof compareParts
  rows: number
  children: Child
}) =>
  rows === 0 ? null : (
    <section aria-labelledby={`part-${id}`}>
      <h2 id={`part-${id}`}>{compareParts[id]}</h2>
      {children}
    </section>
  )

const Table = ({ difference = false, children }: { difference?: boolean; children: Child }) => (
  <table class="compared">
    <thead>
      <tr>
        <th scope="col">{compareParts.figure}</th>
        <th scope="col">{compareParts.a}</th>
        <th scope="col">{compareParts.b}</th>
        {difference ? <th scope="col">{compareParts.difference}</th> : null}
      </tr>
    </thead>
    <tbody>{children}</tbody>
  </table>
)

type RowProps = {
  label: string
  a: Child | undefined
  b: Child | undefined
  differs: boolean
  difference?: Child
}

const Row = ({ label, a, b, differs, difference }: RowProps) => (
  <tr class={differs ? 'differs' : undefined}>
    <th scope="row">{label}</th>
    <Cell name={compareParts.a}>{a ?? compareParts.none}</Cell>
    <Cell name={compareParts.b}>{b ?? compareParts.none}</Cell>
    {difference === undefined ? null : (
      <Cell name={differs ? compareParts.difference : ''}>{difference}</Cell>
    )}
  </tr>
)

/** One cell, with the name of its column beside it where the columns stand one above the other. */
const Cell = ({ name, children }: { name: string; children: Child }) => (
  <td>
    {name ? <span class="of">{name}</span> : null}
    <span>{children}</span>
  </td>
)

const differenceText = ({ same, difference }: Compared): string =>
  same ? compareParts.same : (difference?.text ?? compareParts.none)

const FigureRow = ({ figure }: { figure: ComparedFigure }) => {
  // Of two sizes neither is the better cable: one question is content with less of it.
  const better = figure.a?.unit !== undefined && sizeUnits.has(figure.a.unit) ? 'thinnerDoes' : 'better'
  const value = (side: Side) =>
    figure[side] && (
      <>
        {figure[side].text}
        {figure.better === side ? <strong class="which"> ◀ {compareParts[better]}</strong> : null}
      </>
    )
  return (
    <Row
      label={figure.label}
      a={value('a')}
      b={value('b')}
      differs={!figure.same}
      difference={differenceText(figure)}
    />
  )
}

const LimitRow = ({ limit }: { limit: ComparedLimit }) => {
  const value = (side: Side) =>
    limit[side] && (
      <>
        {limit[side].text}
        {limit.binds.includes(side) ? <strong class="which"> ◀ {compareParts.binds}</strong> : null}
      </>
    )
  return (
    <Row
      label={limit.label}
      a={value('a')}
      b={value('b')}
      differs={!limit.same}
      difference={differenceText(limit)}
    />
  )
}

const Rows = ({ rows }: { rows: ComparedRows }) => (
  <ComparedPart id="claimed" rows={1}>
    <Table>
      {rows.columns.map((column, at) => (
        <Row label={column} a={rows.a[at]} b={rows.b[at]} differs={rows.a[at] !== rows.b[at]} />
      ))}
    </Table>
  </ComparedPart>
)

const Pictures = ({ answered }: Props) => {
  const drawn = sides.flatMap((side) => {
    const own = answered[side]
    return own.ok && own.answer.picture ? [{ side, picture: own.answer.picture }] : []
  })
  return (
    <ComparedPart id="picture" rows={drawn.length}>
      <div class="sides">
        {drawn.map(({ side, picture }) => (
          <figure>
            <figcaption>{compareParts[side]}</figcaption>
            <Drawing picture={picture} />
          </figure>
        ))}
      </div>
    </ComparedPart>
  )
}

const ComparedCautions = ({ cautions }: Pick<Comparison, 'cautions'>) => {
  const groups: (readonly [keyof typeof compareParts, readonly Caution[]])[] = [
    ['onlyA', cautions.a],
    ['onlyB', cautions.b],
    ['both', cautions.both],
  ]
  return (
    <ComparedPart id="cautions" rows={groups.flatMap(([, group]) => group).length}>
      {groups
        .filter(([, group]) => group.length > 0)
        .map(([name, group]) => (
          <>
            <h3>{compareParts[name]}</h3>
            <CautionList cautions={group} />
          </>
        ))}
    </ComparedPart>
  )
}

const LocalCodes = ({ answered }: Props) => {
  const said = sides.flatMap((side) => (answered[side].ok ? answered[side].answer.localCode : []))
  return (
    <>
      {[...new Set(said)].map((localCode) => (
        <p class="code">{localCode}</p>
      ))}
    </>
  )
}
