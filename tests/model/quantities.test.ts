/** That quantities do not mix is the compiler's to say: each line below that must not compile is checked by `npm run check`. */
import { describe, expect, it } from 'vitest'
import { ohmsPerMetre } from '../../src/electric/gauge.ts'
import { areaOf } from '../../src/model/awg.ts'
import type { Degree, Gram, Millimetre, Ohm, Volt } from '../../src/model/quantities.ts'

describe('quantities', () => {
  it('are refused by the compiler where another one is asked for, and are plain numbers at run time', () => {
    const volts = 6 as Volt
    // @ts-expect-error volts are no degrees
    ohmsPerMetre(22, { temperature: volts })
    // @ts-expect-error square millimetres are no millimetres
    const wide: Millimetre = areaOf(22)
    // @ts-expect-error ohms a metre are no ohms
    const ohms: Ohm = ohmsPerMetre(22)
    // @ts-expect-error grams are no degrees
    const angle: Degree = 5 as Gram
    expect(wide + ohms).toBe(areaOf(22) + ohmsPerMetre(22))
    expect(angle).toBe(5)
  })
})
