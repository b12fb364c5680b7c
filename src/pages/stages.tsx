import type { Question } from '../questions/common/question'
import { sharedWords } from '../questions/common/shared-words'

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
