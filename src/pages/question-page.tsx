import type { Answer } from '../questions/common/answer'
import type { Answered, Question } from '../questions/common/question'
import { sharedWords } from '../questions/common/shared-words'
import type { Address } from './address'
import { AnswerView } from './answer'
import { Layout } from './layout'
import { QuestionForm } from './question-form'

/** One question: its form, and under it the answer when one was asked for. */
export const QuestionPage = ({
  question,
  address,
  answered,
}: {
  question: Question
  address: Address
  answered: Answered | undefined
}) => {
  const answer = answered?.ok ? answered.answer : undefined
  const errors = answered && !answered.ok ? answered.errors : []
  const form = <QuestionForm question={question} address={address} errors={errors} answer={answer} />
  return (
    <Layout title={answer ? answer.headline : question.words.title}>
      <h1>{question.words.title}</h1>
      {answer && address.open === undefined ? (
        <details class="asked">
          <summary>
            <span class="given">{givenInWords(question, answer.inputs)}</span>{' '}
            <span class="change">{sharedWords.parts.change}</span>
          </summary>
          {form}
        </details>
      ) : (
        form
      )}
      {answer ? <AnswerView answer={answer} question={question} typed={address.typed} /> : null}
    </Layout>
  )
}

/** Kinds whose value alone does not say what it is. */
const needsLabel = new Set(['count', 'number', 'yes-no', 'choice'])

const givenInWords = (question: Question, inputs: Answer['inputs']): string =>
  Object.entries(inputs)
    .filter(([, { from }]) => from !== 'assumed')
    .map(([id, { text }]) => {
      const words = question.words.fields[id] ?? sharedWords.fields[id]
      if (!words || !needsLabel.has(question.inputs[id]?.field.kind ?? '')) return text
      return `${words.label}: ${words.choices?.[text] ?? text}`
    })
    .join(' · ')
