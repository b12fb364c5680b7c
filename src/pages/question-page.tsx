import type { Answer } from '../questions/common/answer'
import type { Answered, Question } from '../questions/common/question'
import { sharedWords } from '../questions/common/shared-words'
import type { Address } from './address'
import { AnswerView } from './answer'
import { InJob, KeepInJob } from './job-thread'
import { Layout } from './layout'
import { QuestionForm } from './question-form'

/** The job that a question is asked in, the part of it, and what it fills in. */
export type AskedInJob = {
  job: { id: string; name: string }
  where: string | null
  filled: readonly string[]
}

const aboutOf = ({ job, where }: AskedInJob): Record<string, string> => ({
  job: job.id,
  ...(where === null ? {} : { where }),
})

/** One question: its form, and under it the answer when one was asked for. */
export const QuestionPage = ({
  question,
  address,
  answered,
  inJob,
}: {
  question: Question
  address: Address
  answered: Answered | undefined
  inJob?: AskedInJob | undefined
}) => {
  const about = inJob ? aboutOf(inJob) : {}
  const answer = answered?.ok ? answered.answer : undefined
  const errors = answered && !answered.ok ? answered.errors : []
  const form = (
    <QuestionForm question={question} address={address} errors={errors} answer={answer} carried={about} />
  )
  return (
    <Layout title={answer ? answer.headline : question.words.title}>
      <h1>{question.words.title}</h1>
      {inJob ? <InJob {...inJob} /> : null}
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
      {answer ? (
        <AnswerView
          answer={answer}
          question={question}
          typed={{ ...about, ...address.typed }}
          about={about}
        />
      ) : null}
      {answer && inJob ? (
        <KeepInJob job={inJob.job.id} where={inJob.where} question={question.id} typed={address.typed} />
      ) : null}
    </Layout>
  )
}

/** Kinds whose value alone does not say what it is. */
const needsLabel = new Set(['count', 'number', 'yes-no', 'choice'])

/** What was given, in one line. */
export const givenInWords = (question: Question, inputs: Answer['inputs']): string =>
  Object.entries(inputs)
    .filter(([, { from }]) => from !== 'assumed')
    .map(([id, { text }]) => {
      const words = question.words.fields[id] ?? sharedWords.fields[id]
      if (!words || !needsLabel.has(question.inputs[id]?.field.kind ?? '')) return text
      return `${words.label}: ${words.choices?.[text] ?? text}`
    })
    .join(' · ')
