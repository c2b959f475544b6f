/** Logs that were made up to prove what is not so: each is refused, or told what of it does not follow. */
import { describe, expect, it } from 'vitest'
import { replay } from '../../solver/proof/replay.ts'

const wrong = (...lines: string[]): number => replay(lines).failures.length
const refused = (...lines: string[]) => expect(() => replay(lines), lines.at(-1)!)

// coordinates 1 and 2 with values 0, 10 … 90 µm, 3 with 0 alone, and 4 of a body that has no place
const axes = ['g axis 1 0 10 10', 'g axis 2 0 10 10', 'g axis 3 0 0 1', 'g axis 4']

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

  it('adds or takes away, and nothing else', () => {
    for (const sign of [0, 2, -2]) {
      refused(...axes, `g constraint 1 sum 0 1 2 3 ${sign} 0`).toThrow('not a sign')
      refused(...axes, `g constraint 1 wires wire-length 0 0 1 0 1 2 3 ${sign} 0 0 0`).toThrow('not a sign')
    }
  })
})

describe('balance', () => {
  it('knows no mass under 0', () => {
    refused(...axes, 'g constraint 1 balance 10 0 0 1 T -5 1 0 0 2 0 0 0 0').toThrow('not a mass')
    refused(...axes, 'g constraint 1 balance -10 0 0 0').toThrow('not a mass')
  })
})

describe('strips', () => {
  it('are measured in cells that have a length', () => {
    for (const grid of [0, -1])
      refused(...axes, `g constraint 1 strip ${grid} 0 1 1 1 1 T 1 T 2 2`).toThrow('not a grid')
  })
})

describe('wires', () => {
  const [from, to] = ['T T 1 0 0 3 0 0 1 0 0', 'T T 2 0 0 3 0 0 1 1 0']
  const wires = (rest: string, goal = 'wire-length') => `g constraint 1 wires ${goal} 1 1 1 ${from} 1 ${to} 0 0 ${rest}`

  it('are what less is better of', () => {
    refused(...axes, wires('1 0 1 5 1 0 0 90 0 7 0', 'free-tie-points')).toThrow('no goal of wires')
  })

  it('are no shorter for a chain of passes', () => {
    const by = (...told: string[]) => told.map((rest) => wires(rest))
    for (const line of [
      ...by('1 0 1 -5 1 0 0 90 0 7 0', '1 0 1 5 1 0 0 90 0 -7 0'),
      'g constraint 1 chain 0 25 1 0 0 3 0 0 2 0 0 3 0 0 1 0 0 0 0 -7',
    ])
      refused(...axes, line).toThrow('not a count')
  })

  it('have one list of chains between two decks, and a pick for each', () => {
    const way = '0 1 5 1 0 0 90 0 7'
    refused(...axes, wires(`2 ${way} ${way} 0`)).toThrow('given twice')
    refused(...axes, wires(`1 ${way} 2 0 0 1 1 7 0 0 1 1 8`)).toThrow('given twice')
    for (const picks of ['0', '2 7 8']) refused(...axes, wires(`1 ${way} 1 0 0 1 ${picks}`)).toThrow('a pick for each')
    refused(...axes, wires(`0 1 0 0 1 1 7`)).toThrow('a pick for each')
    expect(wrong(...axes, wires(`1 ${way} 1 0 0 1 1 7`))).toBe(0)
  })
})
