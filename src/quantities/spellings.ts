const TEMPERATURES = ['degC', 'degF']

/**
 * Every accepted spelling of every unit, in lower case, by its mathjs expression. A space stands for a
 * space, a hyphen or nothing.
 */
const SPELLINGS: readonly (readonly [expression: string, ...spellings: string[]])[] = [
  ['ft', 'ft', 'foot', 'feet', "'"],
  ['in', 'in', 'inch', 'inches', '"'],
  ['yd', 'yd', 'yds', 'yard', 'yards'],
  ['m', 'm', 'metre', 'metres', 'meter', 'meters'],
  ['cm', 'cm', 'centimetre', 'centimetres', 'centimeter', 'centimeters'],
  ['mm', 'mm', 'millimetre', 'millimetres', 'millimeter', 'millimeters'],
  ['km', 'km', 'kilometre', 'kilometres', 'kilometer', 'kilometers'],
  ['um', 'um', 'µm', 'μm', 'micron', 'microns', 'micrometre', 'micrometres', 'micrometer', 'micrometers'],

  ['V', 'v', 'v dc', 'v ac', 'volt', 'volts', 'volt dc', 'volt ac', 'volts dc', 'volts ac'],
  ['mV', 'mv', 'mv dc', 'mv ac', 'millivolt', 'millivolts'],
  ['kV', 'kv', 'kilovolt', 'kilovolts'],
  ['A', 'a', 'amp', 'amps', 'ampere', 'amperes'],
  ['mA', 'ma', 'milliamp', 'milliamps', 'milliampere', 'milliamperes'],
  ['W', 'w', 'watt', 'watts'],
  ['mW', 'mw', 'milliwatt', 'milliwatts'],
  ['kW', 'kw', 'kilowatt', 'kilowatts'],
  ['voltampere', 'va', 'volt amp', 'volt amps', 'volt ampere', 'volt amperes'],
  ['kvoltampere', 'kva', 'kilovolt amp', 'kilovolt amps', 'kilovolt ampere', 'kilovolt amperes'],
  ['ohm', 'ohm', 'ohms', 'ω'],
  ['mohm', 'mohm', 'mohms', 'mω', 'milliohm', 'milliohms'],
  ['kohm', 'kohm', 'kohms', 'kω', 'kiloohm', 'kiloohms'],
  ['Hz', 'hz', 'hertz'],
  ['kHz', 'khz', 'kilohertz'],
  ['kWh', 'kwh', 'kw h', 'kw hr', 'kilowatt hour', 'kilowatt hours'],
  ['Wh', 'wh', 'w h', 'watt hour', 'watt hours'],
  ['hour', 'h', 'hr', 'hrs', 'hour', 'hours'],
  ['minute', 'min', 'mins', 'minute', 'minutes'],
  ['second', 's', 'sec', 'secs', 'second', 'seconds'],

  ['mm^2', 'mm2', 'mm²', 'sq mm', 'square mm', 'square millimetre', 'square millimetres'],
  ['mm^2', 'square millimeter', 'square millimeters'],
  ['cm^2', 'cm2', 'cm²', 'sq cm', 'square cm', 'square centimetres', 'square centimeters'],
  ['m^2', 'm2', 'm²', 'sq m', 'square m', 'square metre', 'square metres', 'square meter', 'square meters'],
  ['in^2', 'in2', 'in²', 'sq in', 'square inch', 'square inches'],
  ['ft^2', 'ft2', 'ft²', 'sq ft', 'square foot', 'square feet'],
  ['cm^3', 'cm3', 'cm³', 'cc', 'cu cm', 'cubic cm', 'cubic centimetre', 'cubic centimetres'],
  ['cm^3', 'cubic centimeter', 'cubic centimeters', 'ml', 'millilitre', 'millilitres', 'milliliters'],
  ['in^3', 'in3', 'in³', 'cu in', 'cubic in', 'cubic inch', 'cubic inches'],

  ['lumen', 'lm', 'lumen', 'lumens'],
  ['lumen/m^2', 'lx', 'lux'],
  ['lumen/ft^2', 'fc', 'ft c', 'foot candle', 'foot candles'],
  ['percentage', '%', 'percent', 'per cent', 'pct'],
  // Foil and tape makers say ounces and mean ounces of copper to the square foot.
  ['oz/ft^2', 'oz', 'ounce', 'ounces', 'oz copper', 'ounce copper', 'oz/ft2', 'oz/ft²', 'oz/sq ft'],
  ['oz/ft^2', 'oz per ft2', 'oz per ft²', 'oz per sq ft', 'oz per square foot', 'ounces per square foot'],
  ['degC', '°c', '° c', 'c', 'deg c', 'degree c', 'degrees c', 'celsius'],
  ['degC', 'deg celsius', 'degree celsius', 'degrees celsius', '° celsius'],
  ['degF', '°f', '° f', 'f', 'deg f', 'degree f', 'degrees f', 'fahrenheit'],
  ['degF', 'deg fahrenheit', 'degree fahrenheit', 'degrees fahrenheit', '° fahrenheit'],
]

/** Units whose prefix is told from its thousand-million-fold only by its case: MW is no mW. */
const CASE_MATTERS = ['mA', 'mV', 'mW', 'mohm']

const keyOf = (said: string) => said.toLowerCase().replace(/[ -]/g, '')

const EXPRESSIONS = new Map(
  SPELLINGS.flatMap(([expression, ...spellings]) =>
    spellings.map((spelling) => [keyOf(spelling), expression]),
  ),
)

// "12ft2in" is feet and inches: a digit belongs to the unit only where no numeral can go on from it.
const NOT_A_NUMERAL = String.raw`(?![\d./]|[ -]\d| ?(?:in|inch|inches|cm|mm|")(?![a-z]))`

function pattern(spelling: string): string {
  const spaced = spelling.replaceAll(' ', '[ -]?')
  if (/[a-zω]$/.test(spelling)) return `${spaced}(?![a-zω²³])`
  return /\d$/.test(spelling) ? spaced + NOT_A_NUMERAL : spaced
}

const UNIT = new RegExp(
  SPELLINGS.flatMap(([, ...spellings]) => spellings)
    .sort((one, other) => other.length - one.length)
    .map(pattern)
    .join('|'),
  'iy',
)

/** A unit found in a text: its mathjs expression, and where it ends. */
export type SpelledUnit = { expression: string; end: number }

/**
 * The unit spelled at a place in a text, or undefined. Case is ignored, except where it tells
 * milli from mega.
 *
 * @param at index into the text, 0 to its length
 */
export function unitAt(text: string, at: number): SpelledUnit | undefined {
  UNIT.lastIndex = at
  const said = UNIT.exec(text)?.[0]
  const expression = said === undefined ? undefined : EXPRESSIONS.get(keyOf(said))
  if (said === undefined || expression === undefined) return undefined
  if (CASE_MATTERS.includes(expression) && /^M(?!illi)/.test(said)) return undefined
  return { expression, end: at + said.length }
}

/** Whether a unit is a point on a temperature scale: such values are converted, but not added or scaled. */
export const isTemperature = (expression: string) => TEMPERATURES.includes(expression)
