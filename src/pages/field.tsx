import type { Child } from 'hono/jsx'
import { emptyRow, type Field, type Input } from '../questions/common/fields'
import { sharedWords } from '../questions/common/shared-words'
import type { FieldWords } from '../questions/common/words'

/** How a field stands on the form: what was typed, what is wrong with it, what is assumed when it is left empty. */
export type FieldState = {
  typed: Readonly<Record<string, string>>
  errors: Readonly<Record<string, string>>
  /** What is assumed, as it may be typed. */
  assumed?: string | undefined
  /** Rows that a list shows beside those typed. */
  extraRows: number
  system: 'us' | 'metric'
}

type Named = {
  name: string
  label: string
  example?: string | undefined
  hint?: string | undefined
  state: FieldState
}

type FieldProps = {
  id: string
  input: Input
  words: FieldWords
  remark?: string | undefined
  state: FieldState
}

/** One input of a question, with its label, its hint, its fault if it has one. */
export const FieldInput = ({ id, input, words, remark, state }: FieldProps) => {
  const { field } = input
  const label = remark ? `${words.label} (${remark})` : words.label
  if (field.kind === 'list' && field.item)
    return <ListInput id={id} field={field} words={words} state={state} />
  if (field.kind === 'rows') {
    return (
      <fieldset id={id}>
        <legend>{words.label}</legend>
        <Hint text={words.hint} name={id} />
        <RowCells name={id} field={field} words={words} state={state} />
        <Fault name={id} state={state} />
      </fieldset>
    )
  }
  const named = { name: id, label, example: exampleOf(words, state), hint: words.hint, state }
  return <SingleInput field={field} words={words} {...named} />
}

const exampleOf = (words: FieldWords, state: FieldState): string | undefined =>
  state.system === 'metric' ? (words.exampleMetric ?? words.example) : words.example

const SingleInput = ({ field, words, ...named }: Named & { field: Field; words: FieldWords }) => {
  if (field.kind === 'choice') {
    const choices = (field.choices ?? []).map((value) => [value, words.choices?.[value] ?? value] as const)
    return <SelectInput choices={choices} {...named} />
  }
  if (field.kind === 'yes-no') {
    return (
      <SelectInput
        choices={[
          ['true', 'yes'],
          ['false', 'no'],
        ]}
        {...named}
      />
    )
  }
  return <TextInput field={field} {...named} />
}

const described = (name: string, hint: string | undefined, state: FieldState): string | undefined =>
  [...(hint ? [`${name}-hint`] : []), ...(state.errors[name] ? [`${name}-fault`] : [])].join(' ') || undefined

const TextInput = ({ field, name, label, example, hint, state }: Named & { field: Field }) => (
  <p class="field">
    <label for={name}>{label}</label>
    <Hint text={hint} name={name} />
    <input
      id={name}
      name={name}
      type="text"
      value={state.typed[name] ?? ''}
      placeholder={placeholderOf(state.assumed, example)}
      inputmode={field.kind === 'count' ? 'numeric' : field.kind === 'number' ? 'decimal' : 'text'}
      autocapitalize="off"
      autocomplete="off"
      spellcheck={false}
      enterkeyhint="go"
      aria-describedby={described(name, hint, state)}
      aria-invalid={state.errors[name] ? 'true' : undefined}
    />
    <Fault name={name} state={state} />
  </p>
)

const placeholderOf = (assumed: string | undefined, example: string | undefined): string | undefined => {
  if (assumed !== undefined) return `${assumed} (${sharedWords.parts.fromAssumed})`
  return example === undefined ? undefined : `${sharedWords.parts.like} ${example}`
}

const SelectInput = ({
  choices,
  name,
  label,
  hint,
  state,
}: Named & { choices: readonly (readonly [string, string])[] }) => {
  const typed = state.typed[name] ?? ''
  const assumed = choices.find(([value]) => value === state.assumed)?.[1]
  return (
    <p class="field">
      <label for={name}>{label}</label>
      <Hint text={hint} name={name} />
      <select
        id={name}
        name={name}
        aria-describedby={described(name, hint, state)}
        aria-invalid={state.errors[name] ? 'true' : undefined}
      >
        <option value="">{assumed ? `${assumed} (${sharedWords.parts.fromAssumed})` : '–'}</option>
        {choices.map(([value, text]) => (
          <option value={value} selected={value === typed}>
            {text}
          </option>
        ))}
        {typed !== '' && !choices.some(([value]) => value === typed) ? (
          <option value={typed} selected>
            {typed}
          </option>
        ) : null}
      </select>
      <Fault name={name} state={state} />
    </p>
  )
}

const Hint = ({ text, name }: { text: string | undefined; name: string }) =>
  text ? (
    <span class="hint" id={`${name}-hint`}>
      {text}
    </span>
  ) : null

const Fault = ({ name, state }: { name: string; state: FieldState }): Child =>
  state.errors[name] ? (
    <span class="fault" id={`${name}-fault`}>
      <span aria-hidden="true">✕ </span>
      {state.errors[name]}
    </span>
  ) : null

/** How many rows a list shows: those typed, or one, and what was asked for beside. */
export function rowsTyped(id: string, typed: Readonly<Record<string, string>>): number {
  let rows = typed[id] === undefined ? 0 : 1
  for (const key of Object.keys(typed)) {
    const [field, at = ''] = key.split('.')
    if (field === id && /^\d{1,3}$/.test(at)) rows = Math.max(rows, Number(at) + 1)
  }
  return rows
}

const ListInput = ({
  id,
  field,
  words,
  state,
}: {
  id: string
  field: Field
  words: FieldWords
  state: FieldState
}) => {
  const item = field.item as Field
  const most = field.range?.max ?? 1
  const rows = Math.min(most, Math.max(1, rowsTyped(id, state.typed) + state.extraRows))
  // One bare value stands for a list of one; it moves into the first row.
  const typed = state.typed[id] === undefined ? state.typed : { ...state.typed, [`${id}.0`]: state.typed[id] }
  return (
    <fieldset id={id}>
      <legend>{words.label}</legend>
      <Hint text={words.hint} name={id} />
      {Array.from({ length: rows }, (_, at) => (
        <div class="row">
          <ListItem name={`${id}.${at}`} at={at} item={item} words={words} state={{ ...state, typed }} />
          {rows > 1 ? (
            <button class="quiet" type="submit" name="remove" value={`${id}.${at}`} formnovalidate>
              {sharedWords.parts.remove} {at + 1}
            </button>
          ) : null}
        </div>
      ))}
      <Fault name={id} state={state} />
      {rows < most ? (
        <button class="quiet" type="submit" name="add" value={id} formnovalidate>
          {sharedWords.parts.add}
        </button>
      ) : null}
    </fieldset>
  )
}

const ListItem = ({
  name,
  at,
  item,
  words,
  state,
}: {
  name: string
  at: number
  item: Field
  words: FieldWords
  state: FieldState
}) => {
  if (item.kind === 'rows') {
    return (
      <>
        {state.typed[name] === emptyRow ? <input type="hidden" name={name} value={emptyRow} /> : null}
        <RowCells name={name} field={item} words={words} state={state} />
      </>
    )
  }
  const label = `${words.label} ${at + 1}`
  return (
    <SingleInput
      field={item}
      words={words}
      name={name}
      label={label}
      example={exampleOf(words, state)}
      state={state}
    />
  )
}

const RowCells = ({
  name,
  field,
  words,
  state,
}: {
  name: string
  field: Field
  words: FieldWords
  state: FieldState
}) => (
  <>
    {Object.entries(field.columns ?? {}).map(([id, column]) => (
      <SingleInput
        field={column.field}
        words={words}
        name={`${name}.${id}`}
        label={words.columns?.[id] ?? id}
        example={words.columnExamples?.[id]}
        state={{ ...state, assumed: undefined }}
      />
    ))}
    <Fault name={name} state={state} />
  </>
)
