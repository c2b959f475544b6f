/** A grid too fine to be searched whole: what is held stays where it is held, on the file's own grid. */
import { describe, expect, it } from 'vitest'
import { mm, solve, um } from '../../solver/index.ts'
import { deck, item, part, problem, rect } from './check-kit.ts'

describe('a hold on a grid of a micrometre', () => {
  const brain = part(60, 40, 5, { mount: { kind: 'adhesive' } })
  const p = problem([item('a', brain, { decks: [0] }), item('b', brain, { decks: [0] })], {
    grid: um(1),
    decks: [deck(rect(0, 0, 140, 90))],
    objective: [],
  })
  const hold = (x: number) => ({ item: 0, deck: 0, at: { x: mm(x), y: mm(20.011) }, turn: 0 as const })
  it('is kept', () => {
    const r = solve(p, { pins: [hold(10.007)] })
    expect(r.status).toBe('optimal')
    expect('placements' in r && r.placements[0]).toMatchObject(hold(10.007))
  })
  it('off the deck is unknown at worst, never a layout', () => {
    expect(['unknown', 'infeasible']).toContain(solve(p, { pins: [hold(-10.007)] }).status)
  })
})
