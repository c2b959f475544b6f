/** R2–R4 at, just inside and just outside their limits. Expected values: the contract's wording, worked by hand. */
import { describe, expect, it } from 'vitest'
import { mm, type Turn } from '../../solver/units.ts'
import {
  box,
  broken,
  circle,
  corridor,
  deck,
  item,
  of,
  part,
  poly,
  problem,
  put,
  rect,
  screwed,
  sector,
  UM,
  zone,
} from './check-kit.ts'

const twoDecks = [deck(), deck(rect(0, 0, 100, 80), { id: 'upper', name: 'upper', z: mm(90) })]

describe('R2: bodies keep apart', () => {
  const two = [item('a', part(30, 20)), item('b', part(20, 20))]
  it('touching is fine, a shared micrometre is not', () => {
    const p = problem(two)
    expect(broken(p, [put(0, 0, 0), put(1, 30, 0)])).toEqual([])
    expect(of('R2', p, [put(0, 0, 0), put(1, 30 - UM, 0)])).toMatchObject([{ items: ['a', 'b'], by: 1 }])
    expect(broken(p, [put(0, 0, 0), put(1, 30 - UM, 20)])).toEqual([])
    expect(broken(p, [put(0, 0, 0, 1), put(1, 20, 0)])).toEqual([])
    expect(broken(p, [put(0, 0, 0, 1), put(1, 20 - UM, 0)])).toEqual(['R2'])
  })
  it('itemClearance along x or along y is enough; corner distances do not count', () => {
    const p = problem(two, { itemClearance: mm(3) })
    expect(broken(p, [put(0, 0, 0), put(1, 33, 0)])).toEqual([])
    expect(of('R2', p, [put(0, 0, 0), put(1, 33 - UM, 0)])).toMatchObject([{ by: 1 }])
    expect(broken(p, [put(0, 0, 0), put(1, 10, 23)])).toEqual([])
    expect(broken(p, [put(0, 0, 0), put(1, 10, 23 - UM)])).toEqual(['R2'])
    // 2.9 and 2.9 apart: 4.1 mm from corner to corner, yet neither gap reaches 3 mm.
    expect(broken(p, [put(0, 0, 0), put(1, 32.9, 22.9)])).toEqual(['R2'])
    expect(broken(p, [put(0, 0, 0), put(1, 33, 22.9)])).toEqual([])
  })
  it('heights do not matter on one deck', () => {
    const p = problem([item('a', part(30, 20, 5)), item('b', part(20, 20, 5, { mount: screwed([], 40) }))])
    expect(broken(p, [put(0, 0, 0), put(1, 5, 5)])).toEqual(['R2'])
  })
  it('on different decks plan and height count together', () => {
    // Deck main at 50, plate of upper 87–90: a body of 37 mm reaches the plate, one of 40 its top face.
    const tall = (h: number) => [item('a', part(30, 20, h)), item('b', part(20, 20))]
    const open = twoDecks.map((d, i) =>
      i === 1 ? { ...d, openings: [{ id: 'well', shape: rect(0, 0, 60, 60), mayCover: true }] } : d,
    )
    const over = [put(0, 0, 0), put(1, 10, 5, 0, 1)]
    expect(broken(problem(tall(40), { decks: open }), over)).toEqual([])
    expect(of('R2', problem(tall(40 + UM), { decks: open }), over)).toMatchObject([{ items: ['a', 'b'], by: 1 }])
    expect(broken(problem(tall(60), { decks: open }), [put(0, 0, 0), put(1, 30, 5, 0, 1)])).toEqual([])
    // No clearance and no stack between decks.
    expect(broken(problem(tall(40), { decks: open, itemClearance: mm(5) }), over)).toEqual([])
  })
  it('a drop-in part starts below its deck', () => {
    const drop = (below: number) =>
      part(20, 20, 30, { mount: { kind: 'drop-in', cutout: box(1, 1, 18, 18), holes: [], below: mm(below) } })
    const p = (below: number) => problem([item('a', part(30, 20, 20)), item('b', drop(below))], { decks: twoDecks })
    const over = [put(0, 0, 0), put(1, 10, 5, 0, 1)]
    expect(broken(p(20), over)).toEqual([])
    expect(of('R2', p(20 + UM), over)).toMatchObject([{ by: 1 }])
  })
  it('a plug-in part may overlap its host and nothing else', () => {
    const board = part(60, 20, 8, {
      breadboard: { pitch: mm(2.54), blocks: [{ at: { x: mm(2), y: mm(5) }, columns: 20, rows: 5, strip: 'column' }] },
    })
    const shield = part(10, 30, 10, { mount: { kind: 'plug-in' }, pins: [[2, 5]] })
    const p = problem([item('board', board), item('shield', shield), item('a', part(10, 10))])
    const at = (y: number) => [put(0, 0, 0), put(1, 0, 0, 0, 0, 0), put(2, 0, y)]
    expect(broken(p, at(30))).toEqual([])
    expect(of('R2', p, at(30 - UM))).toMatchObject([{ items: ['shield', 'a'], by: 1 }])
    expect(broken({ ...p, itemClearance: mm(4) }, at(34))).toEqual([])
    expect(broken({ ...p, itemClearance: mm(4) }, at(34 - UM))).toEqual(['R2'])
  })
  it('finds every pair', () => {
    const p = problem(['a', 'b', 'c'].map((id) => item(id, part(30, 20))))
    expect(of('R2', p, [put(0, 0, 0), put(1, 5, 5), put(2, 10, 10)]).map((f) => f.items)).toEqual([
      ['a', 'b'],
      ['a', 'c'],
      ['b', 'c'],
    ])
  })
})

describe('R3: corridors', () => {
  // A 15 mm corridor to the right of the body, at heights 2–8 over its underside.
  const plugged = part(30, 20, 10, { corridors: [corridor(rect(30, 5, 15, 10), 2, 8)] })
  it('in all four turns, at the corridor and 1 µm into it', () => {
    const p = problem([item('brain', plugged), item('a', part(10, 10, 5))])
    // Where the far end of the corridor is for a body at (35,30), from turning (45,5)–(45,15) by hand.
    const cases: [Turn, number, number, number, number][] = [
      [0, 80, 35, -1, 0],
      [1, 40, 75, 0, -1], // width 20, depth 30: corridor up from y = 60 to 75
      [2, 10, 35, 1, 0], // corridor from x = 35 − 15
      [3, 40, 5, 0, 1], // corridor down from y = 30 to 15
    ]
    for (const [turn, x, y, dx, dy] of cases) {
      const on = deck(rect(-20, -20, 140, 140))
      const q = { ...p, decks: [on] }
      expect(broken(q, [put(0, 35, 30, turn), put(1, x, y)]), `turn ${turn}`).toEqual([])
      expect(of('R3', q, [put(0, 35, 30, turn), put(1, x + dx * UM, y + dy * UM)]), `turn ${turn}`).toMatchObject([
        { items: ['brain', 'a'], by: 1 },
      ])
    }
  })
  it('heights count over the owner’s underside, with the other’s stack', () => {
    const at = [put(0, 0, 0), put(1, 35, 5)]
    const p = (h: number, stack: number, standoff = 0) =>
      problem([
        item('brain', part(30, 20, 10, { corridors: plugged.corridors, mount: screwed([], standoff) })),
        item('a', part(10, 10, h), { stack: mm(stack) }),
      ])
    expect(broken(p(2, 0), at)).toEqual([])
    expect(of('R3', p(2 + UM, 0), at)).toMatchObject([{ by: 1 }])
    expect(broken(p(1, 1), at)).toEqual([])
    expect(broken(p(1, 1 + UM), at)).toEqual(['R3'])
    expect(broken(p(7, 0, 5), at)).toEqual([])
    expect(broken(p(7 + UM, 0, 5), at)).toEqual(['R3'])
  })
  it('a body over the corridor is free of it, also on another deck', () => {
    const decks = [deck(), { ...twoDecks[1]!, z: mm(58), thickness: mm(1) }]
    const p = (z: number) =>
      problem([item('brain', part(30, 20, 2, { corridors: plugged.corridors })), item('a', part(10, 10))], {
        decks: [decks[0]!, { ...decks[1]!, z: mm(z) }],
      })
    expect(of('R3', p(58), [put(0, 0, 0), put(1, 35, 5, 0, 1)])).toEqual([])
    expect(of('R3', p(58 - UM), [put(0, 0, 0), put(1, 35, 5, 0, 1)])).toMatchObject([{ by: 1 }])
  })
  it('round corridors are round; two corridors and the deck’s edge do not mind one another', () => {
    const fan = part(30, 20, 10, { corridors: [corridor(sector(30, 10, 25, -90, 90), 0, 5)] })
    const p = problem([item('brain', fan), item('a', part(10, 10))])
    expect(broken(p, [put(0, 0, 20), put(1, 45, 50)])).toEqual([]) // (45,50) is 15-20-25 from (30,30)
    expect(broken(p, [put(0, 0, 20), put(1, 45 - UM, 50)])).toEqual(['R3'])
    const both = problem([item('x', plugged), item('y', plugged)])
    expect(broken(both, [put(0, 0, 0), put(1, 60, 0, 2)])).toEqual([]) // 15 mm each into the 30 mm between them
    expect(broken(both, [put(0, 0, 0), put(1, 50, 0, 2)])).toEqual([]) // corridors overlap
    expect(broken(both, [put(0, 0, 0), put(1, 45 - UM, 0, 2)])).toEqual(['R3', 'R3'])
    expect(broken(both, [put(0, 70, 0), put(1, 0, 60)])).toEqual([]) // over the right edge
  })
  it('host and plug-in part count as other', () => {
    const board = part(60, 20, 8, {
      breadboard: { pitch: mm(2.54), blocks: [{ at: { x: mm(2), y: mm(5) }, columns: 20, rows: 5, strip: 'column' }] },
      corridors: [corridor(rect(0, 0, 60, 20), 10, 20)],
    })
    const shield = (h: number) => part(10, 15, h, { mount: { kind: 'plug-in' }, pins: [[2, 5]] })
    const p = (h: number) => problem([item('board', board), item('shield', shield(h))])
    const at = [put(0, 0, 0), put(1, 0, 0, 0, 0, 0)]
    expect(broken(p(2), at)).toEqual([])
    expect(of('R3', p(2 + UM), at)).toMatchObject([{ items: ['board', 'shield'], by: 1 }])
  })
})

describe('R4: zones', () => {
  const one = [item('a', part(30, 20, 10, { mount: screwed([], 5) }), { stack: mm(4) })]
  it('keep-out and reserved: touching is fine; heights from the stand-off to top plus stack', () => {
    for (const kind of ['keep-out', 'reserved'] as const) {
      const p = (z?: [number, number]) => problem(one, { zones: [zone(kind, rect(50, 0, 20, 80), z)] })
      expect(broken(p(), [put(0, 20, 0)])).toEqual([])
      expect(of('R4', p(), [put(0, 20 + UM, 0)])).toMatchObject([{ items: ['a', `${kind}-1`], by: 1 }])
      expect(broken(p([0, 5]), [put(0, 40, 0)])).toEqual([])
      expect(of('R4', p([0, 5 + UM]), [put(0, 40, 0)])).toMatchObject([{ by: 1 }])
      expect(broken(p([19, 100]), [put(0, 40, 0)])).toEqual([])
      expect(broken(p([19 - UM, 100]), [put(0, 40, 0)])).toEqual(['R4'])
    }
  })
  it('view: no body higher than lo inside', () => {
    const p = (lo?: number) =>
      problem(one, { zones: [zone('view', sector(50, 40, 25, 180, 270), lo === undefined ? undefined : [lo, 200])] })
    expect(broken(p(), [put(0, 5, 0)])).toEqual([]) // corner (35,20): 15-20-25
    expect(of('R4', p(), [put(0, 5 + UM, 0)])).toMatchObject([{ items: ['a', 'view-1'], by: 19000 }])
    expect(broken(p(19), [put(0, 15, 10)])).toEqual([])
    expect(of('R4', p(19 - UM), [put(0, 15, 10)])).toMatchObject([{ by: 1 }])
  })
  it('bind bodies of their own deck only; polygons as they are', () => {
    const tri = zone('keep-out', poly([100, 80], [70, 80], [100, 40]))
    const p = problem(one, { zones: [tri], decks: twoDecks })
    expect(broken(p, [put(0, 55, 40)])).toEqual([]) // corner (85,60) on the slanted edge
    expect(broken(p, [put(0, 55 + UM, 40)])).toEqual(['R4'])
    expect(of('R4', p, [put(0, 60, 50, 0, 1)])).toEqual([])
    expect(of('R4', problem(one, { zones: [zone('keep-out', circle(50, 40, 5))] }), [put(0, 40, 30)])).toHaveLength(1)
  })
  it('underside zones bind no bodies', () => {
    expect(broken(problem(one, { zones: [zone('underside', rect(0, 0, 100, 80))] }), [put(0, 20, 0)])).toEqual([])
  })
})
