import jsQR from 'jsqr'
import { encode } from 'uqr'
import { describe, expect, it } from 'vitest'
import { devicesCommand, pairCommand } from '../../src/doors/commands'
import { openDeviceBook } from '../../src/doors/device-book'
import { shownCode } from '../../src/doors/terminal'
import { temporaryFolder } from '../jobs/log/built'

const folder = temporaryFolder()
const environment = { LADDERSIDE_DATA: folder }

const codeIn = (text: string): string => /[0-9A-Z]{4}-[0-9A-Z]{4}/.exec(text)?.[0] ?? ''

/** The picture on the terminal, as a camera sees it: half a line is one row of squares. */
function seen(text: string): { pixels: Uint8ClampedArray; size: number } {
  const rows = text
    .split('\n')
    .filter((line) => /^[█▀▄ ]+$/.test(line))
    .flatMap((line) => [
      [...line].map((square) => square === '█' || square === '▀'),
      [...line].map((square) => square === '█' || square === '▄'),
    ])
  const scale = 4
  const size = (rows[0]?.length ?? 0) * scale
  const pixels = new Uint8ClampedArray(size * size * 4)
  for (let at = 0; at < size * size; at += 1) {
    const isLight = rows[Math.floor(at / size / scale)]?.[Math.floor((at % size) / scale)] ?? true
    pixels.set(
      [0, 0, 0, 255].map((dark, channel) => (isLight && channel < 3 ? 255 : dark)),
      at * 4,
    )
  }
  return { pixels, size }
}

describe('npm run pair', () => {
  it('shows a code that the server then takes', () => {
    const { ok, text } = pairCommand(environment)
    expect(ok).toBe(true)
    expect(text).toContain('good for 10 minutes')
    const book = openDeviceBook(folder)
    expect(book.pair(codeIn(text), 'Phone', new Date())?.device.name).toBe('Phone')
    book.close()
  })

  it('shows where to go once the server has said where it is', () => {
    expect(pairCommand(environment).text).toContain('Start the server')
    const book = openDeviceBook(folder)
    book.setAddress('https://lights.example')
    book.close()
    expect(pairCommand(environment).text).toContain('Open https://lights.example/pair')
  })

  it('shows a picture that a camera reads as the address with the code', () => {
    const text = shownCode('4F7K-09QX', 'http://192.168.7.20:3150')
    const { pixels, size } = seen(text)
    expect(jsQR(pixels, size, size)?.data).toBe('http://192.168.7.20:3150/pair?code=4F7K-09QX')
    expect(encode('http://192.168.7.20:3150/pair?code=4F7K-09QX').size).toBeLessThan(40)
  })
})

describe('npm run devices', () => {
  it('lists and revokes, and says what it cannot do', () => {
    const place = { LADDERSIDE_DATA: `${folder}/devices` }
    expect(devicesCommand(place, ['list'])).toEqual({ ok: true, text: 'No device is paired.' })
    const book = openDeviceBook(place.LADDERSIDE_DATA)
    const device = book.pair(book.newCode(new Date()), 'Phone', new Date())?.device
    const id = device?.id ?? ''
    expect(devicesCommand(place, ['list']).text).toMatch(new RegExp(`^${id}  paired .*  used .*  Phone$`))
    expect(devicesCommand(place, ['revoke', id])).toMatchObject({ ok: true })
    expect(book.list(new Date())).toEqual([])
    expect(devicesCommand(place, ['revoke', id])).toMatchObject({ ok: false })
    for (const asked of [[], ['revoke'], ['remove', id]]) {
      expect(devicesCommand(place, asked).text).toContain('npm run devices -- list')
    }
    book.close()
  })
})
