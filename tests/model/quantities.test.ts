/** That quantities do not mix is the compiler's to say: each line below that must not compile is checked by `npm run check`. */
import { describe, expect, it } from 'vitest'
import { dropAlong, dropOutAndBack, ohmsPerMetre } from '../../src/electric/gauge.ts'
import type { Amp, Degree, Gram, Metre, Millimetre, Volt } from '../../src/model/quantities.ts'

describe('quantities', () => {
  it('are refused by the compiler where another one is asked for, and are plain numbers at run time', () => {
    const amps = 2 as Amp
    const volts = 6 as Volt
    const metres = 0.5 as Metre
    // @ts-expect-error volts are no amperes
    dropOutAndBack(22, metres, volts)
    // @ts-expect-error millimetres are no metres
    dropOutAndBack(22, 500 as Millimetre, amps)
    // @ts-expect-error what is lost is volts
    const lost: Amp = dropOutAndBack(22, metres, amps)
    // @ts-expect-error grams are no degrees
    const angle: Degree = 5 as Gram
    expect(lost).toBe(dropAlong(ohmsPerMetre(22), 1, 2))
    expect(angle).toBe(5)
  })
})
