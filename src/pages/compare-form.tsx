import { compareParts, compareSay } from '../questions/common/compare-words'
import type { Side } from '../questions/common/comparison'
import type { FieldError, Question } from '../questions/common/question'
import { fieldWordsOf, sharedWords } from '../questions/common/shared-words'
import { asSide, type CompareAddress, compareAddressOf, fieldOf, type Typed, without } from './address'
import { Carried } from './composer'
import { FieldInput, type FieldState } from './field'
import { assumedInputs, ClaimInput } from './question-form'

/** Every input of the question as a link to the form that changes it in B: what was given first. */
export const VaryList = ({ question, a, b, both }: { question: Question } & CompareAddress) => {
  const ids = [...Object.keys(question.inputs).filter((id) => id !== 'units'), 'claim']
  const given = ids.filter((id) => saidOf(b, id) !== undefined)
  const assumed = assumedInputs(question, b)
  const entry = (id: string) => {
    const words = fieldWordsOf(question.words, id)
    const value = saidOf(b, id) ?? assumed[id]
    return (
      <li>
        <a href={compareAddressOf(question.id, a, both ? b : undefined, { vary: id })}>
          <span>
            {words.label}:{' '}
            <b>{value === undefined ? compareParts.notSaid : (words.choices?.[value] ?? value)}</b>
          </span>
        </a>
      </li>
    )
  }
  return (
    <>
      {both ? null : <p>{compareParts.varyHint}</p>}
      <ul class="ask">{given.map(entry)}</ul>
      <details>
        <summary>{compareParts.rest}</summary>
        <ul class="ask">{ids.filter((id) => !given.includes(id)).map(entry)}</ul>
      </details>
    </>
  )
}

/** What was typed into one input, all its rows together. */
const saidOf = (typed: Typed, id: string): string | undefined => {
  const said = Object.entries(typed).filter(([name]) => fieldOf(name) === id && name !== 'claim.figure')
  return said.length === 0 ? undefined : said.map(([, value]) => value).join(', ')
}

type SideFormProps = {
  question: Question
  address: CompareAddress
  side: Side
  fields: readonly string[]
  errors: readonly FieldError[]
}

/** A short form for some fields of one side; everything else of both goes with it unseen. */
export const SideForm = ({ question, address, side, fields, errors }: SideFormProps) => {
  const typed = address[side]
  const other = side === 'a' ? 'b' : 'a'
  const kept = keptBeside(question, typed, [...fields, ...errors.map(({ field }) => fieldOf(field))])
  const carried = {
    ...(other === 'a' || address.both ? asSide(other, address[other]) : {}),
    ...asSide(side, kept),
    side,
    varied: fields.join(','),
  }
  const assumed = assumedInputs(question, kept)
  const state = (id: string): FieldState => ({
    typed,
    errors: Object.fromEntries(errors.map(({ field, message }) => [field, message])),
    assumed: assumed[id],
    extraRows: address.varying?.add === id ? 1 : 0,
    system: typed.units === 'metric' ? 'metric' : 'us',
  })
  return (
    <form method="get" action={`/compare/${question.id}`}>
      <Carried carried={carried} />
      {fields.map((id) => {
        const input = question.inputs[id]
        if (id === 'claim') return <ClaimInput question={question} state={state(id)} />
        return input ? (
          <FieldInput id={id} input={input} words={fieldWordsOf(question.words, id)} state={state(id)} />
        ) : null
      })}
      <button type="submit">{compareParts.compare}</button>
    </form>
  )
}

/** What a form keeps of its side: all but the fields that it changes, and what would stand in their place. */
const keptBeside = (question: Question, typed: Typed, fields: readonly string[]): Typed => {
  const groups = question.alternatives.map((ways) => ways.flat())
  const instead = groups.filter((group) => group.some((field) => fields.includes(field))).flat()
  return without(typed, [...fields, ...instead])
}

/** The fields that a faulty side asks for: the faulty ones, and what was given in place of one of them. */
export const faultyFields = (question: Question, typed: Typed, errors: readonly FieldError[]): string[] => {
  const faulty = errors.map(({ field }) => fieldOf(field))
  const groups = question.alternatives.map((ways) => ways.flat())
  const instead = groups
    .filter((group) => group.some((field) => faulty.includes(field)))
    .flatMap((group) => group.filter((field) => saidOf(typed, field) !== undefined))
  const known = (id: string) => id === 'claim' || Object.hasOwn(question.inputs, id)
  return [...new Set([...faulty, ...instead])].filter(known)
}

/** Says what the form changes: "B: Distance". */
export const varyingTitle = (question: Question, side: Side, fields: readonly string[]): string =>
  compareSay('varying', {
    side: compareParts[side],
    field: fields.map((id) => fieldWordsOf(question.words, id).label).join(', '),
  })

/** What is wrong with one side, each fault a link to its field where the form below has it. */
export const SideFaults = ({
  errors,
  linked,
}: {
  errors: readonly FieldError[]
  linked: readonly string[]
}) => (
  <div class="summary" role="alert">
    <h3>{sharedWords.parts.errors}</h3>
    <ul>
      {errors.map(({ field, message }) => (
        <li>{linked.includes(fieldOf(field)) ? <a href={`#${field}`}>{message}</a> : message}</li>
      ))}
    </ul>
  </div>
)
