import { allowanceIn3, cableGroundGauge } from './boxes'

/** Why a description of a cable cannot be used. */
export type CableFault =
  /** No size such as `14/2` in it. */
  | 'no-cable'
  /** A gauge that the box-fill table does not have. */
  | 'no-such-gauge'
  /** No wires, or more than a cable has. */
  | 'no-such-cable'
  /** None of it, or more than thirty. */
  | 'no-such-count'
  /** A part of it says nothing that this reader knows. */
  | 'not-understood'

/** So many cables of one kind, each with these conductors. */
export type Cable = {
  count: number
  /** AWG number of the insulated conductors. */
  gauge: number
  /** Insulated conductors in each cable. */
  insulated: number
  /** Whether each has a grounding conductor. */
  ground: boolean
  /** AWG number of that grounding conductor: 10 in a cable of 8 or 6 AWG, else as the others. */
  groundGauge: number
  /** Whether each has an isolated grounding conductor beside it. */
  isolatedGround: boolean
}

export type CableReading = { ok: true; cable: Cable } | { ok: false; fault: CableFault; piece: string }

const mostCables = 30
const mostConductors = 30

const countWords: Record<string, number> = {
  a: 1,
  an: 1,
  one: 1,
  two: 2,
  pair: 2,
  three: 3,
  four: 4,
  five: 5,
  six: 6,
  seven: 7,
  eight: 8,
  nine: 9,
  ten: 10,
}

const counted = new RegExp(
  `^(?:a\\s+)?\\(?(\\d+(?=\\)|\\s*[x×]|\\s+\\d)|${Object.keys(countWords).join('|')})(?:\\)?\\s*[x×]\\s*|\\)?\\s+(?:of\\s+)?)`,
)
const size = /^(?:#|no\.?\s*)?(\d+)((?:\s*[/-]\s*\d+)+)\s*/
const noGround = /^(?:no|without|w\/o)\s+(?:a\s+)?(?:ground|earth)s?/
const isolatedGround = /^(?:(?:with|and|plus|\+|w\/)\s*)?(?:an?\s+)?(?:isolated\s+ground|ig)\b/
const ground = /^(?:(?:with|and|plus|\+|w\/?)\s*)?(?:a\s+)?(?:ground|g)\b/
const wordsThatSayNothing = /^(?:awg|nm-?b?|mc|cables?|copper)\b/

/**
 * Reads cables of one kind as an electrician writes them: `14/2` is two insulated conductors of 14 AWG and a ground,
 * `12/2/2` four and a ground.
 *
 * @param text such as `14/3`, `2 x 14/2`, `two 14-2`, `14/2 no ground`, `12/2/2`, `12/2 with isolated ground`
 * @returns the cables, or the fault and the piece of the text at fault
 *
 * @example readCable('2 x 14/2') // 2 cables, each with 2 insulated conductors and a ground, 14 AWG
 */
export function readCable(text: string): CableReading {
  const plain = text.toLowerCase().trim()
  const [said = '', countSaid = '1'] = counted.exec(plain) ?? []
  const rest = plain.slice(said.length)
  const [code, gaugeSaid, groups] = size.exec(rest) ?? []
  if (code === undefined || gaugeSaid === undefined || groups === undefined) return refuse('no-cable', text)
  const count = countWords[countSaid] ?? Number(countSaid)
  const gauge = Number(gaugeSaid)
  const insulated = (groups.match(/\d+/g) ?? []).reduce((sum, group) => sum + Number(group), 0)
  if (count < 1 || count > mostCables) return refuse('no-such-count', said)
  if (allowanceIn3(gauge) === undefined) return refuse('no-such-gauge', gaugeSaid)
  if (insulated < 1 || insulated > mostConductors) return refuse('no-such-cable', code)
  const grounds = readGrounds(rest.slice(code.length))
  if ('fault' in grounds) return grounds
  return { ok: true, cable: { count, gauge, insulated, groundGauge: cableGroundGauge(gauge), ...grounds } }
}

const refuse = (fault: CableFault, piece: string): CableReading & { ok: false } => ({
  ok: false,
  fault,
  piece: piece.trim(),
})

function readGrounds(
  text: string,
): Pick<Cable, 'ground' | 'isolatedGround'> | (CableReading & { ok: false }) {
  const said = { ground: true, isolatedGround: false }
  let rest = text.trim()
  while (rest !== '') {
    const [isolated] = isolatedGround.exec(rest) ?? []
    const [without] = noGround.exec(rest) ?? []
    const [piece] =
      isolated || without
        ? [isolated ?? without ?? '']
        : (ground.exec(rest) ?? wordsThatSayNothing.exec(rest) ?? [])
    if (piece === undefined) return refuse('not-understood', rest)
    if (isolated) said.isolatedGround = true
    if (without) said.ground = false
    rest = rest.slice(piece.length).replace(/^[\s,.]+/, '')
  }
  return said
}
