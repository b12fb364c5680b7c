import type { Answer } from '../questions/common/answer'
import type { FieldError, Question } from '../questions/common/question'
import { fieldWordsOf, sharedWords } from '../questions/common/shared-words'
import type { Address } from './address'
import { Carried } from './composer'
import { FieldInput, type FieldState } from './field'

type FormProps = {
  question: Question
  address: Address
  errors: readonly FieldError[]
  answer: Answer | undefined
  /** What the address carries beside the inputs: the job and its part. */
  carried: Readonly<Record<string, string>>
}

/** A question's form: what is needed first, the rest behind one tap. What was typed is always kept. */
export const QuestionForm = ({ question, address, errors, answer, carried }: FormProps) => {
  const firstNeeded = Object.keys(question.inputs).filter((id) => isNeeded(question, id))
  const rest = Object.keys(question.inputs).filter((id) => !firstNeeded.includes(id))
  const assumed = assumedInputs(question, address.typed)
  const typed = withOpened(address, assumed)
  const faulty = new Set(errors.map(({ field }) => field.split('.')[0] ?? ''))
  const openRest =
    rest.some((id) => id === address.open || id === address.add || faulty.has(id)) || faulty.has('claim')
  const state = (id: string): FieldState => ({
    typed,
    errors: Object.fromEntries(errors.map(({ field, message }) => [field, message])),
    assumed: assumed[id],
    extraRows: address.add === id ? 1 : 0,
    system: address.typed.units === 'metric' ? 'metric' : 'us',
  })
  const input = (id: string) => {
    const spec = question.inputs[id]
    return spec ? (
      <FieldInput
        id={id}
        input={spec}
        words={fieldWordsOf(question.words, id)}
        remark={remarkOf(question, id)}
        state={state(id)}
      />
    ) : null
  }
  return (
    <form method="get" action={`/q/${question.id}`} class="question">
      <Carried carried={carried} />
      {answer ? null : <p class="intro">{question.words.intro}</p>}
      <ErrorSummary errors={errors} question={question} />
      {firstNeeded.map(input)}
      <details open={openRest}>
        <summary>{sharedWords.parts.more}</summary>
        {rest.map(input)}
        <ClaimInput question={question} state={state('claim')} />
      </details>
      <button type="submit">{sharedWords.parts.ask}</button>
    </form>
  )
}

const remarkOf = (question: Question, id: string): string | undefined => {
  if (question.alternatives.some((ways) => ways.flat().includes(id))) return sharedWords.parts.alternative
  return question.inputs[id]?.need === 'optional' ? sharedWords.parts.optional : undefined
}

/** What a person is likely to give: what is required, and what stands among alternatives. */
const isNeeded = (question: Question, id: string): boolean =>
  question.inputs[id]?.need === 'required' || question.alternatives.some((ways) => ways.flat().includes(id))

/** What would be assumed of each input, written as it may be typed; unreadable inputs count as not given. */
export function assumedInputs(
  question: Question,
  typed: Readonly<Record<string, string>>,
): Record<string, string | undefined> {
  const known: Record<string, unknown> = {}
  const written: Record<string, string | undefined> = {}
  for (const [id, input] of Object.entries(question.inputs)) {
    const said = typed[id]
    const system = typed.units === 'metric' ? 'metric' : 'us'
    const reading = said === undefined ? undefined : input.field.schema(system).safeParse(said)
    if (reading?.success) known[id] = reading.data
    else if (input.assume) {
      try {
        known[id] = input.assume(known)
      } catch {
        continue
      }
      const value = known[id] === undefined ? undefined : input.field.input(known[id])
      if (typeof value === 'string') written[id] = value
    }
  }
  return written
}

const withOpened = (
  { typed, open }: Address,
  assumed: Record<string, string | undefined>,
): Record<string, string> => {
  const value = open === undefined ? undefined : assumed[open]
  return open === undefined || value === undefined || typed[open] !== undefined
    ? typed
    : { ...typed, [open]: value }
}

const ErrorSummary = ({ errors, question }: { errors: readonly FieldError[]; question: Question }) =>
  errors.length === 0 ? null : (
    <div class="summary" role="alert" id="errors">
      <h2>{sharedWords.parts.errors}</h2>
      <ul>
        {errors.map(({ field, message }) => (
          <li>
            {question.inputs[field.split('.')[0] ?? ''] || field === 'claim' ? (
              <a href={`#${field}`}>{message}</a>
            ) : (
              message
            )}
          </li>
        ))}
      </ul>
    </div>
  )

export const ClaimInput = ({ question, state }: { question: Question; state: FieldState }) => {
  const words = sharedWords.fields.claim
  const figures = Object.keys(question.figures)
  const claimed = state.typed.claim ?? state.typed['claim.value'] ?? ''
  return (
    <fieldset id="claim">
      <legend>{words?.label}</legend>
      <span class="hint" id="claim-hint">
        {words?.hint}
      </span>
      <p class="field">
        <label for="claim.figure">{sharedWords.parts.claimAbout}</label>
        <select id="claim.figure" name="claim.figure">
          {figures.map((id) => (
            <option value={id} selected={state.typed['claim.figure'] === id}>
              {question.words.figures[id]}
            </option>
          ))}
          <option value="verdict" selected={state.typed['claim.figure'] === 'verdict'}>
            {sharedWords.parts.claimFine}
          </option>
        </select>
      </p>
      <p class="field">
        <label for="claim.value">{sharedWords.parts.claimValue}</label>
        <input
          id="claim.value"
          name="claim.value"
          type="text"
          value={claimed}
          autocapitalize="off"
          autocomplete="off"
          spellcheck={false}
          enterkeyhint="go"
          aria-describedby={state.errors.claim ? 'claim-hint claim-fault' : 'claim-hint'}
          aria-invalid={state.errors.claim ? 'true' : undefined}
        />
        {state.errors.claim ? (
          <span class="fault" id="claim-fault">
            <span aria-hidden="true">✕ </span>
            {state.errors.claim}
          </span>
        ) : null}
      </p>
    </fieldset>
  )
}
