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

  it('is not off by what rounding makes of it', () => {
    // 0.1 g at 3 µm and 0.3 g at -1 µm are in balance
    const told = (x: string) => [
      'g axis 5 -1 0 1',
      'g threshold 9 balance 0',
      `g constraint 1 balance 0.1 ${x} 0 1 T 0.3 5 0 0 3 0 0 0 0`,
      'd 1 -9',
      'b balance 0 9',
    ]
    expect(wrong(...axes, ...told('3'))).toBe(2)
    expect(wrong(...axes, ...told('3.000001'))).toBe(0)
  })

  it('does not count what is present and in no mode', () => {
    // 10 g at (40, 0), and as much of a body that would have to be somewhere
    const balance = 'g constraint 1 balance 10 40 0 1 6 10 1 1 5 0 3 0 0 0 0'
    const told = ['g threshold 9 balance 19', balance]
    expect(wrong(...axes, ...told, 'd 1 F 9 6 -5')).toBe(1)
    expect(wrong(...axes, ...told, 'd 1 F 9 6 5')).toBe(0)
  })
})

describe('a body that is left out', () => {
  const out = ['g clause -10', 'g clause -11']
  const modes = '2 10 900 11 900'

  it('is asked nothing', () => {
    for (const constraint of [
      `relation T 1 ${modes} 2 0 0`,
      `relation T 2 0 0 1 ${modes.replaceAll('900', '-900')}`,
      `within 0 1 25 1 ${modes} 2 0 0 3 0 0 3 0 0`,
      `within 0 2 25 2 0 0 2 0 0 3 0 0 1 ${modes}`,
      `chain 0 25 1 ${modes} 3 0 0 2 0 0 3 0 0 1 0 0 0 0 0`,
      'strip 10 9 1 0 1 1 T 2 10 99 9 11 99 9',
    ]) {
      expect(none(constraint, 'F -10 -11', ...out), constraint).toBe(2)
      // while it stands in the one or the other it is asked: the mode that holds is too far off
      expect(none(constraint, 'F 10', 'g clause 10'), constraint).toBe(0)
    }
  })

  it('is none that a constraint in force names the modes of', () => {
    const relation = `relation 5 1 ${modes} 2 0 0`
    expect(none(relation, 'F 5', 'g clause 5')).toBe(0)
    expect(none(relation, 'F', 'g clause 5')).toBe(2)
  })

  it('is asked nothing where it has no place at all', () => {
    for (const constraint of [
      'relation T 4 0 0 1 0 0',
      'relation T 1 0 0 4 0 0',
      'linear T 1 0 1 4',
      'sum 0 4 1 2 1 0',
      'sum 0 1 2 4 -1 0',
      'within 0 1 25 4 0 0 3 0 0 1 0 0 3 0 0',
      'chain 0 25 1 0 0 3 0 0 1 0 0 4 0 0 1 0 0 0 0 0',
    ])
      expect(none(constraint, 'F'), constraint).toBe(2)
  })

  it('keeps no wire long', () => {
    // one wire of up to 90 µm, 50 of them by a relation; and what is said of the body that has no place, or is tied to it
    const told = (more: string, links: string, least: number) => [
      `g threshold 9 wire-length ${least}`,
      `g constraint 1 wires wire-length 1 1 1 T T 1 0 0 3 0 0 1 0 0 1 T T 2 0 0 3 0 0 1 0 0 ${more} ${links} 0 0`,
      'd 1 -9',
    ]
    const relation = 'T 1 0 50 2 0 0'
    for (const more of [`1 ${relation}`, `2 ${relation} T 4 0 0 1 0 0`, `2 ${relation} T 2 0 0 4 0 0`]) {
      expect(wrong(...axes, ...told(more, '0', 49)), more).toBe(0)
      expect(wrong(...axes, ...told(more, '0', 50)), more).toBe(1)
    }
    for (const tied of ['1 0 4 1 3 1 0', '1 0 1 2 4 1 0']) expect(wrong(...axes, ...told('0', tied, 0)), tied).toBe(1)
  })

  it('is there where it is called present, or is in a mode', () => {
    const map = 'map T 5 1 2 2 10 1 11 1'
    const empty = 'g bitmap 1 0 0 10 10 100'
    expect(none(map, 'F', empty)).toBe(2)
    expect(none(map, 'F 5', empty, 'g clause 5')).toBe(0)
    expect(none(map, 'F 10', empty, 'g clause 10')).toBe(0)
    expect(none(map, 'F -10 -11', empty, ...out)).toBe(2)
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

  it('are not longer by what rounding makes of a circulation', () => {
    // a relation keeps the ends 1 µm apart, once for each of so many conductors; either product has more digits than a number holds
    const told = (value: number) => [
      'g axis 5 -1099511627776 1 4',
      'g axis 6 1099511627773 1 4',
      `g threshold 9 wire-length ${value}`,
      [
        'g constraint 1 wires wire-length 1 1099511627452 1 T T 5 0 1099511627773 3 0 0 1 0 0',
        '1 T T 6 0 -1099511627772 3 0 0 1 0 0 1 T 5 0 1099511627774 6 0 -1099511627772 0 0 0',
      ].join(' '),
      'd 1 -9',
      `b wire-length ${value} 9`,
    ]
    expect(wrong(...axes, ...told(1_099_511_627_452))).toBe(2)
    expect(wrong(...axes, ...told(1_099_511_627_451))).toBe(0)
  })
})
