/** A conflict is one wherever bodies may stand: what could hold far off the deck is told with the rule that keeps a body on it. */
import { describe, expect, it } from 'vitest'
import { solve } from '../../solver/index.ts'
import { problemWith } from '../published/project.ts'

const body = { width: 4, depth: 4, height: 5 }
const part = { id: 'part', body, mount: { kind: 'adhesive' }, terminals: [{ id: 't', at: [2, 2] }] }
const only = { id: 'only', footprint: 'part' }

/** On a deck of 20 × 20 mm. */
function conflict(rest: object): string[] {
  const decks = [{ id: 'deck', z: 20, thickness: 3, outline: { rect: [0, 0, 20, 20] } }]
  const r = solve(problemWith({ decks, footprints: [part], ...rest }), { time: 20_000 })
  if (r.status !== 'infeasible') throw new Error(`${r.status} instead of infeasible`)
  expect(r.conflictIrreducible).toBe(true)
  return r.conflict.map((c) => `${c.rule} ${c.items.join(' ')}`).sort()
}

const inside = (x: number) => ({ kind: 'inside', shape: { rect: [x, 0, 30, 30] } })
const exit = (x: number) => ({ exits: [{ id: 'lead', deck: 'deck', at: [x, 10], free: 10 }] })
const wired = { wires: [{ id: 'w', from: { exit: 'lead' }, to: { item: 'only', terminal: 't' } }] }

describe.each([25, 60, 700, 2000])('what is %d mm off', (x) => {
  it('names R1 beside the area that is asked for', () => {
    expect(conflict({ items: [{ ...only, place: [inside(x)] }] })).toEqual(['R1 only', 'R10 only', 'R10 only'])
  })

  it('names R1 beside a lead that does not reach', () => {
    expect(conflict({ items: [only], ...exit(x + 10), ...wired })).toEqual(['R1 only', 'R10 only', 'R7 w lead only'])
  })

  it('names R1 of one beside what ties it to another', () => {
    const away = { id: 'away', footprint: 'part', place: [{ kind: 'near', item: 'only', within: 12 }] }
    const told = conflict({ items: [{ ...only, place: [inside(x)] }, away] })
    expect(told).toEqual(['R1 only', 'R10 only', 'R10 only'])
  })
})

it('names no R1 where the rest cannot hold anywhere', () => {
  const corner = (x: number) => ({ kind: 'inside', shape: { rect: [x, x, 8, 8] } })
  const items = [{ ...only, place: [corner(0), corner(12)] }]
  expect(conflict({ items })).toEqual(['R10 only', 'R10 only', 'R10 only'])
})
