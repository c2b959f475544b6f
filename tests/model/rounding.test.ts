/** Figures that must not say more than is so: examples by hand. */
import { describe, expect, it } from 'vitest'
import { figureText } from '../../src/cli/answers.ts'
import { leads } from '../../src/electric/words.ts'
import { placesApart, roundUp, tenthsUp } from '../../src/model/rounding.ts'

describe('rounding', () => {
  it('goes up, but not for an error of arithmetic', () => {
    expect([25.95, 25.9, 25.900_1, 0.1 + 0.2, 0].map(tenthsUp)).toEqual(['26.0', '25.9', '26.0', '0.3', '0.0'])
    expect([roundUp(0.34, 1), roundUp(14.246, 2), roundUp(3, 0)]).toEqual([0.4, 14.25, 3])
  })

  it('shows what tells two figures apart, and no more', () => {
    expect(placesApart(25.97, 25.96, 1)).toBe(2)
    expect(placesApart(25.9, 26, 1)).toBe(1)
    expect(placesApart(26, 26, 1)).toBe(1)
  })

  it('of a lead that is a hair too short does not contradict itself', () => {
    expect(leads.tooShort('job', 25_970, [], 25_960)).toBe(
      'The lead job needs 26.0 mm or more; there are 25.96 mm of it.',
    )
    expect(leads.tooShort('job', 190_000, ['cells', 'lid', 'fan'], 120_000)).toBe(
      'The lead job needs 190.0 mm or more round cells, lid and fan; there are 120.0 mm of it.',
    )
    expect(leads.cutTooShort('job', 25_950, 'one', [], [], 30_010)).toBe(
      'Cut to 26 mm for the variant one, the lead job no longer reaches for nothing. Keep 30.1 mm of it.',
    )
  })

  it('of what is still open never says less than it is', () => {
    const of = (value: number, bound: number) => figureText({ name: 'wire-length', value, bound, proven: false })
    expect(of(1000, 660)).toBe('1.0 mm, at most 0.4 mm less')
    expect(of(412_500, 398_250)).toBe('412.5 mm, at most 14.3 mm less')
    expect(figureText({ name: 'optional-value', value: 2, bound: 3.0004, proven: false })).toBe('2, at most 1.001 more')
  })
})
