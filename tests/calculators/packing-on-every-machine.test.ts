import { afterEach, expect, it, vi } from 'vitest'
import { packCircles } from '../../src/calculators/circle-packing'

afterEach(() => vi.restoreAllMocks())

/** What a machine may answer otherwise in the last digits (ECMA-262, 21.3.2: "implementation-approximated"). */
const approximated = ['hypot', 'sin', 'cos', 'tan', 'atan', 'atan2', 'exp', 'log', 'pow', 'cbrt'] as const

/** Makes this machine another one: every such function is off by a few of its last digits. */
function asElsewhere(): void {
  for (const name of approximated) {
    const own = Math[name] as (...given: number[]) => number
    vi.spyOn(Math, name).mockImplementation((...given: number[]) => own(...given) * (1 + 2 ** -51))
  }
}

// A browser other than the server's engine found two cables of 9 mm and one of 6 mm 18 mm across, the server 19 mm.
it.each([[[9, 9, 6]], [[5, 4, 4, 3, 2.5]], [Array.from({ length: 12 }, (_, i) => 3 + (i % 5))]])(
  'circles of %j are packed alike on every machine, to the last digit',
  (radii) => {
    const here = packCircles(radii)
    const nearHere = packCircles(radii, here.positions)
    asElsewhere()
    expect(packCircles(radii)).toEqual(here)
    expect(packCircles(radii, here.positions)).toEqual(nearHere)
  },
)
