import fc from 'fast-check'

/** What people never mean and programs trip over. */
const hostileTexts = [
  '',
  ' ',
  '0',
  '-1',
  '1e309 ft',
  '1e-320 V',
  '-0 ft',
  'NaN',
  'Infinity',
  '∞ V',
  '1/0 in',
  '12 ft 6 in',
  '3.8 m',
  '16.4 ft * 2 + 3 ft',
  '((((((((((1))))))))))',
  '٣ ft',
  '4,4 W/ft',
  '24 V 12 V',
  'true',
  'null',
  '[]',
  '{}',
  "' or 1=1 --",
  '"><script>alert(1)</script>',
  '../../etc/passwd',
  '__proto__',
  'constructor',
  'toString',
  '\u0000',
  '\ud800',
  '\u202e',
  '💡'.repeat(60),
  '9'.repeat(400),
  '(('.repeat(100),
  'a'.repeat(2000),
  '{x}',
  '%s%n',
  '2026-02-30T25:61:00.000Z',
  '0190f3a0-0000-7000-8000-000000000000',
]

const hostileText = fc.oneof(
  { weight: 6, arbitrary: fc.constantFrom(...hostileTexts) },
  { weight: 2, arbitrary: fc.string({ unit: 'binary', maxLength: 30 }) },
  { weight: 2, arbitrary: fc.double().map(String) },
  {
    weight: 2,
    arbitrary: fc
      .tuple(
        fc.double({ noNaN: true }),
        fc.constantFrom('ft', 'V', 'W', 'mm2', 'AWG', '%', 'in', 'degF', 'Hz'),
      )
      .map(([number, unit]) => `${number} ${unit}`),
  },
)

/** A value that has no business where it is put. */
export const hostileValue: fc.Arbitrary<unknown> = fc.oneof(
  { weight: 6, arbitrary: hostileText },
  { weight: 1, arbitrary: fc.jsonValue({ maxDepth: 2 }) },
  { weight: 1, arbitrary: fc.constantFrom(null, true, -1, 0, 1e308, 2 ** 53, [], {}, [[[[]]]]) },
)

/** One change to a value: where (counted through all its parts), what is done, what is put there. */
type Change = {
  at: number
  deed: 'put' | 'leave-out' | 'twice' | 'nest' | 'rename'
  value: unknown
  name: string
}

const change: fc.Arbitrary<Change> = fc.record({
  at: fc.nat({ max: 400 }),
  deed: fc.constantFrom('put', 'put', 'put', 'leave-out', 'twice', 'nest', 'rename'),
  value: hostileValue,
  name: hostileText,
})

type Parent = Record<string, unknown> | unknown[]

/** Every place in a value that something stands at. */
function placesOf(value: unknown, places: [Parent, string][] = []): [Parent, string][] {
  if (typeof value !== 'object' || value === null) return places
  for (const key of Object.keys(value)) {
    places.push([value as Parent, key])
    placesOf((value as Record<string, unknown>)[key], places)
  }
  return places
}

function changed(value: unknown, changes: readonly Change[]): unknown {
  const whole = { value: structuredClone(value) }
  for (const { at, deed, value: put, name } of changes) {
    const places = placesOf(whole)
    const [parent, key] = places[at % places.length] ?? [whole, 'value']
    const object = parent as Record<string, unknown>
    if (deed === 'put') object[key] = structuredClone(put)
    else if (deed === 'leave-out') delete object[key]
    else if (deed === 'nest') object[key] = [object[key]]
    else if (deed === 'rename' && !Array.isArray(parent))
      Object.defineProperty(object, name, {
        value: object[key],
        enumerable: true,
        configurable: true,
        writable: true,
      })
    else if (Array.isArray(parent)) parent.push(structuredClone(object[key]))
    else object[`${key}2`] = structuredClone(object[key])
  }
  return whole.value
}

/** A real value with a few things about it changed, or none. */
export const mutated = <T>(real: fc.Arbitrary<T>): fc.Arbitrary<unknown> =>
  fc.tuple(real, fc.array(change, { maxLength: 3 })).map(([value, changes]) => changed(value, changes))

/** A real text with a few of its characters changed, or cut short. */
export const mutatedText = (real: fc.Arbitrary<string>): fc.Arbitrary<string> =>
  fc
    .tuple(real, fc.array(fc.tuple(fc.nat(), fc.nat({ max: 3 }), hostileText), { maxLength: 3 }))
    .map(([text, changes]) =>
      changes.reduce((sofar, [at, remove, put]) => {
        const start = sofar.length === 0 ? 0 : at % (sofar.length + 1)
        return sofar.slice(0, start) + put.slice(0, 40) + sofar.slice(start + remove)
      }, text),
    )

/** Bytes with a few of them changed, left out or doubled. */
export const mutatedBytes = (real: Uint8Array): fc.Arbitrary<Buffer> =>
  fc
    .array(fc.tuple(fc.nat({ max: real.length - 1 }), fc.uint8Array({ minLength: 0, maxLength: 16 })), {
      minLength: 1,
      maxLength: 6,
    })
    .map((changes) => {
      const bytes = Buffer.from(real)
      for (const [at, put] of changes) {
        if (put.length === 0) bytes.copyWithin(at, Math.max(0, at - 512), at)
        else bytes.set(put.subarray(0, bytes.length - at), at)
      }
      return bytes
    })
