import type { Question } from '../questions/common/question'
import { sharedWords } from '../questions/common/shared-words'
import { Layout } from './layout'

/** What can be asked, in the order of the work. */
export const Home = ({ questions }: { questions: readonly Question[] }) => (
  <Layout title="Ladderside">
    <h1>What do you need to know?</h1>
    <Stages questions={questions} />
  </Layout>
)

/** The questions by stage of the work, each a link to its form. */
export const Stages = ({ questions }: { questions: readonly Question[] }) => (
  <>
    {Object.entries(sharedWords.stages).map(([stage, label]) => {
      const asked = questions.filter((question) => question.stage === stage)
      return asked.length === 0 ? null : (
        <section aria-labelledby={`stage-${stage}`}>
          <h2 id={`stage-${stage}`}>{label}</h2>
          <ul class="ask">
            {asked.map((question) => (
              <li>
                <a href={`/q/${question.id}`}>{question.words.title}</a>
              </li>
            ))}
          </ul>
        </section>
      )
    })}
  </>
)
