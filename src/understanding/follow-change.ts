import type { Piece } from './pieces'
import type { Raw } from './raw'

/** What a follow-up makes of the inputs before: new values, and inputs that go. */
export type Change = {
  set: Map<string, Raw>
  dropped: Set<string>
  said: Map<string, string>
  used: Set<Piece>
  unclear: string[]
}
