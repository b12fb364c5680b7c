import { product, quotient, Refusal, sum, type Value } from './arithmetic'
import { numeralValue } from './numerals'
import { isTemperature } from './spellings'
import type { System } from './systems'
import type { Sign, Token } from './tokens'
import { measured } from './units'

/** Units said one after the other in one measurement, the larger first: `12 ft 6 in`, `3 m 40 cm`. */
const COMPOUNDS = [
  ['yd', 'ft', 'in'],
  ['m', 'cm', 'mm'],
  ['hour', 'minute', 'second'],
]

const goesOnTo = (larger: string, smaller: string) =>
  COMPOUNDS.some((units) => units.includes(larger) && units.indexOf(smaller) > units.indexOf(larger))

const isWhole = (said: string) => /^\d+$/.test(said)

/** A numeral as it was put together from `12`, `1/2` or `12-1/2`. */
type Coefficient = { value: number; whole: boolean }

/**
 * Reads the arithmetic of one quantity by recursive descent:
 *
 *     sum      = [sign] product { ("+" | "-") product }
 *     product  = factor { ("*" | "/") factor }
 *     factor   = "(" sum ")" [unit] | coefficient [unit {coefficient smaller-unit} {("/" | "per") unit}]
 */
class Parser {
  private at = 0

  constructor(
    private readonly tokens: readonly Token[],
    private readonly system: System,
  ) {}

  readAll(): Value {
    const value = this.readSum()
    if (this.at < this.tokens.length) throw new Refusal('not-understood')
    return value
  }

  private readSum(): Value {
    const negative = this.takes('-')
    if (!negative) this.takes('+')
    let total = this.readProduct()
    if (negative) total = product(total, -1)
    for (;;) {
      if (this.takes('+')) total = sum(total, this.readProduct())
      else if (this.takes('-')) total = sum(total, product(this.readProduct(), -1))
      else return total
    }
  }

  private readProduct(): Value {
    let total = this.readFactor(false)
    for (;;) {
      if (this.takes('*')) total = product(total, this.readFactor(false))
      else if (this.takes('/')) total = quotient(total, this.readFactor(true))
      else return total
    }
  }

  private readFactor(divides: boolean): Value {
    if (!this.takes('(')) return this.readQuantity(divides)
    const value = this.readSum()
    if (!this.takes(')')) throw new Refusal('not-understood')
    const unit = typeof value === 'number' ? this.unit() : undefined
    return unit === undefined ? value : this.perUnit(product(value, measured(1, unit)))
  }

  private readQuantity(divides: boolean): Value {
    const coefficient = this.coefficient(divides)
    const unit = this.unit()
    if (unit === undefined) return coefficient.value
    return this.perUnit(this.withSmaller(coefficient, unit))
  }

  /** A quantity and what is said after it in smaller units: `12 ft 6 in`, `12'-6"`, `12 feet and 6 inches`. */
  private withSmaller({ value, whole }: Coefficient, unit: string): Value {
    const start = this.at
    const smaller = this.smaller(unit)
    if (smaller === undefined) {
      this.at = start
      return measured(value, unit)
    }
    if (!whole) throw new Refusal('not-understood')
    return sum(measured(value, unit), smaller)
  }

  private smaller(larger: string): Value | undefined {
    const before = this.tokens[this.at]
    const dash = larger === 'ft' && this.takes('-')
    if (!dash) this.takes('and')
    const next = this.tokens[this.at]
    const spaces = Number(before?.spaced) + Number(next?.spaced)
    if (next?.kind !== 'numeral' || (dash && spaces === 2)) return undefined
    const coefficient = this.coefficient(false)
    const unit = this.unit()
    if (unit === undefined || !goesOnTo(larger, unit)) return undefined
    // A dash with a space on one side alone could join feet to inches or subtract them.
    if (dash && spaces === 1) throw new Refusal('not-understood')
    return this.withSmaller(coefficient, unit)
  }

  /** The `/ft` and `per 1000 ft` after a unit: they bind closer than a division, as in `60 W / 4.4 W/ft`. */
  private perUnit(numerator: Value): Value {
    let value = numerator
    for (;;) {
      const start = this.at
      const per = this.takes('per')
      if (!per && !this.takes('/')) return value
      const count = per && this.tokens[this.at]?.kind === 'numeral' ? this.numeral() : 1
      const unit = this.unit()
      if (unit === undefined) {
        this.at = start
        return value
      }
      value = quotient(value, measured(count, unit))
    }
  }

  /** `12`, `12.5`, `1/2`, `12 1/2` or `12-1/2`. */
  private coefficient(divides: boolean): Coefficient {
    const fraction = this.fraction()
    if (fraction !== undefined) {
      if (divides) throw new Refusal('not-understood')
      return { value: fraction, whole: false }
    }
    const said = this.tokens[this.at]
    const value = this.numeral()
    if (said?.kind !== 'numeral' || !isWhole(said.said)) return { value, whole: false }
    const start = this.at
    const dash = this.peek('-') && !this.tokens[this.at]?.spaced && !this.tokens[this.at + 1]?.spaced
    if (dash) this.at += 1
    const part = this.fraction()
    if (part !== undefined && part < 1) return { value: value + part, whole: false }
    this.at = start
    return { value, whole: true }
  }

  /** A fraction of whole numbers. One with spaces about its bar must be less than one, else it is a division. */
  private fraction(): number | undefined {
    const [above, bar, below] = this.tokens.slice(this.at, this.at + 3)
    if (above?.kind !== 'numeral' || bar?.kind !== 'sign' || bar.sign !== '/' || below?.kind !== 'numeral')
      return undefined
    if (!isWhole(above.said) || !isWhole(below.said)) return undefined
    const value = Number(above.said) / Number(below.said)
    if ((bar.spaced || below.spaced) && value >= 1) return undefined
    this.at += 3
    return value
  }

  private numeral(): number {
    const token = this.tokens[this.at]
    if (token?.kind === 'unit') throw new Refusal('no-number')
    if (token?.kind !== 'numeral') throw new Refusal('not-understood')
    const value = numeralValue(token.said, this.system)
    if (typeof value !== 'number') throw new Refusal(value)
    this.at += 1
    return value
  }

  private unit(): string | undefined {
    const token = this.tokens[this.at]
    if (token?.kind !== 'unit') return undefined
    if (isTemperature(token.expression)) throw new Refusal('not-understood')
    this.at += 1
    return token.expression
  }

  private peek(sign: Sign): boolean {
    const token = this.tokens[this.at]
    return token?.kind === 'sign' && token.sign === sign
  }

  private takes(sign: Sign): boolean {
    const found = this.peek(sign)
    if (found) this.at += 1
    return found
  }
}

/**
 * The value of the arithmetic in a text that was cut into tokens.
 *
 * @throws Refusal with the reason, for `readQuantity` to catch
 */
export function evaluate(tokens: readonly Token[], system: System): Value {
  return new Parser(tokens, system).readAll()
}
