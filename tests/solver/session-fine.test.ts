/** A drag on a grid too fine to be followed whole: soon, legal, exact where it is held, and what need not move does not. */
import { describe, expect, it } from 'vitest'
import { check, mm, type Placement, Session, um } from '../../solver/index.ts'
import { part, placed, problemOf, project } from '../electric/kit.ts'
import fc from '../seeded.ts'

const p = problemOf(
  project({
    decks: [{ id: 'main', z: 10, thickness: 3, outline: { rect: [0, 0, 160, 120] } }],
    settings: { grid: 0.02 },
    footprints: [
      part('box', 30, 20),
      part('board', 50, 30, {
        kind: 'breadboard',
        breadboard: { pitch: 2.54, blocks: [{ at: [2, 4], columns: 10, rows: 5, strip: 'column' }] },
      }),
      part('chip', 8, 3, { mount: { kind: 'plug-in' }, plug: { pins: [{ id: '1', at: [1, 1] }] } }),
    ],
    items: [
      { id: 'a', footprint: 'box' },
      { id: 'b', footprint: 'box' },
      { id: 'c', footprint: 'box' },
      { id: 'board', footprint: 'board' },
      { id: 'chip', footprint: 'chip' },
    ],
  }),
)
const chip = p.items.findIndex((i) => i.id === 'chip')
const board = p.items.findIndex((i) => i.id === 'board')
/** a and b touch, off every coarse line. */
const start: Placement[] = [
  ...placed(p, { a: [0.02, 0.06], b: [30.02, 0.06], c: [70.14, 0.06], board: [40.1, 70.3] }),
  { item: chip, deck: 0, at: { x: mm(40.1 + 2 + 2.54 - 1), y: mm(70.3 + 4 + 2.54 - 1) }, turn: 0, host: board },
]
const session = new Session(p)

const at = (layout: readonly Placement[], id: string): Placement => layout.find((q) => p.items[q.item]?.id === id)!

/** `id` held there; hint as a hand leaves it. */
function dragged(id: string, x: number, y: number): Placement[] | undefined {
  const old = at(start, id)
  const to = { x: um(x), y: um(y) }
  const hint = start.map((q) => (q.item === old.item ? { ...q, at: to } : q))
  return session.next([{ item: old.item, deck: 0, at: to, turn: old.turn }], hint)
}

describe('a session on a fine grid', () => {
  it('leaves all others where they stand, to the micrometre, where the item has room', () => {
    expect(check(p, start)).toEqual([])
    const next = dragged('c', mm(100.06), mm(2.02))!
    expect(at(next, 'c').at).toEqual({ x: mm(100.06), y: mm(2.02) })
    for (const id of ['a', 'b', 'board', 'chip']) expect(at(next, id)).toEqual(at(start, id))
  })

  it('takes along what is plugged in, and nothing else', () => {
    const to = { x: mm(45.12), y: mm(71.3) }
    const next = session.next([{ item: board, deck: 0, at: to, turn: 0 }], start)!
    expect(check(p, next)).toEqual([])
    const was = at(start, 'chip').at
    expect(at(next, 'chip').at).toEqual({ x: um(was.x + mm(5.02)), y: um(was.y + mm(1)) })
    for (const id of ['a', 'b', 'c']) expect(at(next, id)).toEqual(at(start, id))
  })

  it('moves only what is in the way', () => {
    const next = dragged('c', mm(50.02), mm(2.02))!
    expect(check(p, next)).toEqual([])
    expect(at(next, 'b').at).not.toEqual(at(start, 'b').at)
    for (const id of ['a', 'board', 'chip']) expect(at(next, id)).toEqual(at(start, id))
  })

  it('is legal and exact wherever an item is dragged', () => {
    let found = 0
    const spot = fc.record({ x: fc.integer({ min: 0, max: 5500 }), y: fc.integer({ min: 0, max: 4500 }) })
    fc.assert(
      fc.property(fc.constantFrom('a', 'b', 'c', 'board'), spot, (id, { x, y }) => {
        const next = dragged(id, x * 20, y * 20)
        if (!next) return
        found++
        expect(check(p, next)).toEqual([])
        expect(at(next, id).at).toEqual({ x: x * 20, y: y * 20 })
      }),
      { numRuns: 60 },
    )
    expect(found).toBeGreaterThan(30)
  })
})
