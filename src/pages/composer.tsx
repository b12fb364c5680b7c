import type { Child } from 'hono/jsx'
import { sharedWords } from '../questions/common/shared-words'

/** Where a line goes, and what goes with it. */
export type Posting = { action: string; carried: Readonly<Record<string, string>> }

export const Carried = ({ carried }: Pick<Posting, 'carried'>) => (
  <>
    {Object.entries(carried).map(([name, value]) => (
      <input type="hidden" name={name} value={value} />
    ))}
  </>
)

type ComposerProps = Posting & {
  /** What was typed and could not be taken, and why. */
  typed?: string | undefined
  fault?: string | undefined
  /** What else may be chosen beside the line. */
  children?: Child
}

/** The line to type into, in reach of the thumb. */
export const Composer = ({ action, carried, typed = '', fault, children }: ComposerProps) => (
  <form method="post" action={action} class="composer">
    {fault ? (
      <p class="fault" id="text-fault" role="alert">
        {fault}
      </p>
    ) : null}
    <Carried carried={carried} />
    {children}
    <label for="text">{sharedWords.parts.composer}</label>
    <div>
      <input
        id="text"
        name="text"
        type="text"
        value={typed}
        placeholder={sharedWords.parts.composerExample}
        autocomplete="off"
        enterkeyhint="send"
        aria-describedby={fault ? 'text-fault' : undefined}
      />
      <button type="submit">{sharedWords.parts.send}</button>
    </div>
  </form>
)
