/** How far a solve has come, in the words of headline and list. */
import { describe, expect, it } from 'vitest'
import type { ObjectiveName } from '../../solver/index.ts'
import { carried } from '../../src/electric/words.ts'
import { prepare } from '../../src/electric/words-prepare.ts'
import { firstOpen, reachedOf } from '../../src/store/ask-words.ts'
import { verdict } from '../../src/store/sentences.ts'
import { words } from '../../src/words/index.ts'

it('one, none or several are said so that the sentence holds', () => {
  const { notTogether } = words.solves
  expect(notTogether('', ['brain', 'driver', 'big board'], 2)).toContain('brain, driver, big board and 2 more do not')
  expect(notTogether('', ['brain', 'driver'], 0)).toContain('brain and driver do not')
  const none = reachedOf({ name: 'new-holes', value: 0, bound: 0, proven: true }, false)
  expect(none.text).toBe('No new hole, slot or cut-out.')
  expect([1, 2].map((n) => prepare.relief(n).slice(0, 18))).toEqual(['tie or clamp it to', 'tie or clamp them '])
  expect(words.report.service.straight(['big board'])).toBe('Comes straight off: big board.')
  // One list for the page, one for what it prints: they say the same.
  expect(carried).toEqual(words.footprint.carried)
  expect(words.report.service.straight(['a', 'b'])).toBe('Come straight off: a and b.')
})

describe('how far a solve has come', () => {
  it('is said with value, bound and gap', () => {
    const told = (value: number, bound: number, name: 'free-tie-points' | 'wire-length' = 'free-tie-points') =>
      reachedOf({ name, value, bound, proven: value === bound }, true).text
    expect(told(642, 654)).toBe('642 contacts so far, at most 12 more are possible.')
    expect(told(642, 643)).toBe('642 contacts so far, at most 1 more is possible.')
    expect(told(642, 642)).toBe('642 contacts so far, and no more are possible.')
    expect(told(412_500, 398_250, 'wire-length')).toBe(
      '412.5 mm of conductor so far, at most 14.3 mm less is possible.',
    )
    expect(told(412_500, 0, 'wire-length')).toBe(
      '412.5 mm of conductor so far; how much better it could be is not known yet.',
    )
    // never less than is open
    expect(told(412_500, 412_160, 'wire-length')).toContain('at most 0.4 mm less')
    expect(told(412_500, 412_480, 'wire-length')).toBe('412.5 mm of conductor so far, at most 0.1 mm less is possible.')
  })

  it('is said alike in the headline and in the list, with one rounding', () => {
    const problem = {} as Parameters<typeof verdict>[0]
    const said = (name: ObjectiveName, value: number, bound: number) => {
      const o = { name, value, bound, proven: false }
      const figures = { freeTiePoints: 0, optionalValue: 0, newHoles: 0, wireLength: 0, wires: [] }
      return [
        verdict(problem, { status: 'feasible', objectives: [o], placements: [], figures }),
        reachedOf(o, false).text,
      ]
    }
    // nothing bounds it: neither of the two says by how much at most
    expect(said('balance', 4116, 0)).toEqual([
      'How much better the balance could be is not known yet.',
      '4.12 mm off balance; how much better it could be is not known yet.',
    ])
    // what the card has as 0.04 is not 0 in the list
    expect(said('balance', 43, 20)).toEqual([
      'Balance at most 0.03 mm off the best.',
      '0.04 mm off balance, at most 0.03 mm less is possible.',
    ])
    expect(said('wire-length', 412_500, 398_246)).toEqual([
      'Wires at most 14.3 mm over the shortest.',
      '412.5 mm of conductor, at most 14.3 mm less is possible.',
    ])
    expect(said('wire-length', 412_500, 0)[0]).toBe('How much shorter the wires could be is not known yet.')
    expect(said('optional-value', 1, 3)[1]).toBe('1 of optional value, at most 2 more are possible.')
  })

  it('counts slots and cut-outs by their names among what is new to make', () => {
    const told = (n: number, bound: number) =>
      reachedOf({ name: 'new-holes', value: n, bound, proven: n === bound }, false).text
    expect(told(2, 2)).toBe('2 new holes, slots and cut-outs, and no fewer are possible.')
    expect(told(1, 1)).toBe('1 new hole, slot or cut-out, and no fewer are possible.')
    expect(told(3, 1)).toBe('3 new holes, slots and cut-outs, at most 2 fewer are possible.')
  })

  it('says where less would be possible only with what is held set free', () => {
    const told = (bound: number, holds?: 'held' | 'freed') =>
      reachedOf({ name: 'wire-length', value: 308_000, bound, proven: bound === 308_000 }, false, holds).text
    expect(told(296_100, 'freed')).toBe('308 mm of conductor, at most 11.9 mm less is possible with nothing held.')
    expect(told(296_100, 'held')).toBe('308 mm of conductor, at most 11.9 mm less is possible with what is held.')
    expect(told(308_000, 'freed')).toBe('308 mm of conductor, and no less is possible.')
  })

  it('speaks of the first goal that may be better', () => {
    const goal = (value: number, bound: number) =>
      reachedOf({ name: 'free-tie-points', value, bound, proven: value === bound }, false)
    expect(firstOpen([goal(5, 5), goal(3, 9)])).toMatchObject({ value: 3, gap: 6 })
    expect(firstOpen([goal(0, 0), goal(5, 5)])).toMatchObject({ value: 5, gap: 0 })
  })
})
