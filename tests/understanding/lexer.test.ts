import { describe, expect, it } from 'vitest'
import { readLine } from '../../src/understanding/line'

/** Each piece as "value unit", "label", a code, or a bare number; lists in brackets, with how often each is there. */
const piecesOf = (text: string): string[] => {
  const line = readLine(text)
  return (line.views[0]?.pieces ?? []).map(function show(piece): string {
    if (piece.members && piece.kind !== 'range') return `[${piece.members.map(show).join(', ')}]`
    const times = piece.times > 1 ? `${piece.times} x ` : ''
    if (piece.code !== undefined) return `${times}${piece.code}`
    if (piece.kind !== 'quantity') return `${piece.kind} ${line.said(piece)}`
    const reading = piece.readings[0]
    return times + (reading ? `${Number(reading.value.toPrecision(6))} ${reading.unit}` : String(piece.bare))
  })
}

// Values worked out by hand from the definitions of the units (1 ft = 0.3048 m, 1 in = 0.0254 m).
describe('numbers and quantities in a line', () => {
  it.each<[string, string[]]>([
    ['40 feet', ['12.192 m']],
    ['forty feet', ['12.192 m']],
    ['480 inches', ['12.192 m']],
    [`12' 6"`, ['3.81 m']],
    [`12'-6"`, ['3.81 m']],
    ['12 foot 6', ['3.81 m']],
    ['12 ft 6 in', ['3.81 m']],
    ['twelve feet and six inches', ['3.81 m']],
    ['twenty two and a half feet', ['6.858 m']],
    ['a foot and a half', ['0.4572 m']],
    ['an inch and a quarter', ['0.03175 m']],
    ['three eighths of an inch', ['0.009525 m']],
    ['7/16 inch', ['0.0111125 m']],
    ['1 1/4 inch', ['0.03175 m']],
    ['1-3/8 inch', ['0.034925 m']],
    ['12½ in', ['0.3175 m']],
    ['2 m 40', ['2.4 m']],
    ['2,5 mm²', ['2.5 mm2']],
    ['1,200 W', ['1200 W']],
    ['one fifty watt', ['150 W']],
    ['a hundred and five watts', ['105 W']],
    ['fourteen hundred watts', ['1400 W']],
    ['two thirty volts', ['230 V']],
    ['four point four watts a foot', ['14.4357 W/m']],
    ['4.4 a foot', ['14.4357 W/m']],
    ['4.4 w/ft', ['14.4357 W/m']],
    ['450 lm/ft', ['1476.38 lm/m']],
    ['minus 24 volts', ['-24 V']],
    ['-24 V', ['-24 V']],
    ['10 kHz', ['10000 Hz']],
    ['130 °F', ['54.4444 degC']],
    ['50 foot candles', ['538.196 lx']],
    ['22 cubic inches', ['360.515 cm3']],
    ['31 cents a kWh', ['0.31 per kWh']],
    ['40ish feet', ['12.192 m']],
    ['#14', ['14 AWG']],
    ['fourteen gauge', ['14 AWG']],
    ['2.5 square', ['2.5 mm2']],
    ['14/2', ['14/2']],
    ['14-3', ['14/3']],
    ['2 x 12/3', ['2 x 12/3']],
    ['a pair of fourteen twos', ['2 x 14/2']],
    ['three fourteen twos', ['3 x 14/2']],
    ['14/2 without ground', ['14/2 no ground']],
    ['a two by ten joist', ['2x10']],
    ['square 4 by 1 1/2', ['square 4 x 1-1/2']],
    ['4x2-1/8x1-7/8 box', ['device 4 x 2-1/8 x 1-7/8']],
    ['two 16.4 ft rolls', ['2 x 4.99872 m']],
    ['five windows at 1.42 m apiece', ['5 x 1.42 m']],
    ['four 0-10V drivers of 60 W each', ['4 x 60 W']],
    ['two fifty watt drivers', ['2 x 50 W']],
    ['16 plus 8 feet', ['[4.8768 m, 2.4384 m]']],
    ['45 and 70 watts', ['[45 W, 70 W]']],
    ['5 A, 4 A and 3 A', ['[5 A, 4 A, 3 A]']],
    ['from breaker 2 and 360 W', ['2', '360 W']],
    ['between 30 and 40 feet', ['range between 30 and 40 feet']],
    ['30-40 ft', ['range 30-40 ft']],
    ['thirty feet no sorry make that forty two feet', ['12.8016 m']],
  ])('%s', (text, expected) => {
    expect(piecesOf(text)).toEqual(expected)
  })

  it.each([
    'room 104',
    'rm 214',
    'flat 31',
    'the 22nd',
    'the 3rd of June',
    'June 3',
    'tel 555-0142',
    '087 555 0199',
    '41 Mill Lane',
    '2 pm',
    'gate code 3390',
    'installed on 6/14',
  ])('%s is no quantity', (text) => {
    expect(piecesOf(text).map((piece) => piece.split(' ')[0])).toEqual(['label'])
  })

  it('leaves "one" and "half" that only point alone', () => {
    expect(piecesOf('the second one, half that length')).toEqual([])
  })
})
