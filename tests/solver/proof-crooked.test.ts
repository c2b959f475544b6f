/** Logs that were made up to prove what is not so: each is refused, or told what of it does not follow. */
import { describe, expect, it } from 'vitest'
import { replay } from '../../solver/proof/replay.ts'

const wrong = (...lines: string[]): number => replay(lines).failures.length

// coordinates 1 and 2 with values 0, 10 … 90 µm
const axes = ['g axis 1 0 10 10', 'g axis 2 0 10 10']

/** That there is no layout, by this constraint and a contradiction of it: how much of that does not stand. */
const none = (constraint: string, step: string, ...given: string[]): number =>
  wrong(...axes, ...given, `g constraint 1 ${constraint}`, `d 1 ${step}`, 'b none 0')

describe('a sum', () => {
  it('is not less for a coefficient under 0 whose literal may be false', () => {
    const sum = 'linear T 0 2 5 -3 6 2 0'
    expect(none(sum, 'F', 'g clause 5')).toBe(2)
    expect(none(sum, 'F 5', 'g clause 5')).toBe(0)
    expect(none('linear T -1 2 5 -3 6 2 0', 'F 5', 'g clause 5')).toBe(2)
  })

  it('is not more for a value under 0 than that makes it', () => {
    expect(wrong('g axis 1 -5 1 3', 'g constraint 1 linear T 5 0 1 1', 'd 1 F')).toBe(1)
    expect(wrong('g axis 1 -5 1 3', 'g constraint 1 linear T 6 0 1 1', 'd 1 F')).toBe(0)
  })
})
