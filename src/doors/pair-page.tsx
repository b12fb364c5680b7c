import { Layout } from '../pages/layout'
import { longestName } from './device-book'
import { codeMinutes } from './pairing-code'
import { say } from './words'

/** Where a device that nobody knows yet gives the code that was shown at the server. */
export const PairPage = ({ code, name, fault }: { code: string; name: string; fault?: string }) => (
  <Layout title={say('pair.title')}>
    <h1>{say('pair.title')}</h1>
    <p>{say('pair.how', { minutes: String(codeMinutes) })}</p>
    <form method="post" action="/pair">
      <p class="field">
        <label for="code">{say('pair.code')}</label>
        <span class="hint" id="code-hint">
          {say('pair.codeHint')}
        </span>
        <input
          id="code"
          name="code"
          type="text"
          value={code}
          required
          maxlength={64}
          autocapitalize="characters"
          autocomplete="one-time-code"
          spellcheck={false}
          aria-describedby={fault ? 'code-hint code-fault' : 'code-hint'}
          aria-invalid={fault ? 'true' : undefined}
        />
        {fault ? (
          <span class="fault" id="code-fault">
            <span aria-hidden="true">✕ </span>
            {fault}
          </span>
        ) : null}
      </p>
      <p class="field">
        <label for="name">{say('pair.name')}</label>
        <span class="hint" id="name-hint">
          {say('pair.nameHint')}
        </span>
        <input
          id="name"
          name="name"
          type="text"
          value={name}
          maxlength={longestName}
          autocomplete="off"
          aria-describedby="name-hint"
        />
      </p>
      <button type="submit">{say('pair.go')}</button>
    </form>
  </Layout>
)
