/** R1 at, just inside and just outside its limits. Expected values: the contract's wording and right triangles, worked by hand. */
import { describe, expect, it } from 'vitest'
import { mm, type Turn } from '../../solver/units.ts'
import { box, broken, circle, deck, item, of, overhang, part, poly, problem, put, rect, UM } from './check-kit.ts'

describe('R1: a body lies in the outline', () => {
  const p = problem([item('brain', part(30, 20))])
  it('touching an edge is inside, 1 µm over it is not, at all four sides and turns', () => {
    for (const turn of [0, 1, 2, 3] as Turn[]) {
      const [w, d] = turn % 2 === 0 ? [30, 20] : [20, 30]
      for (const [x, y, dx, dy] of [
        [0, 10, -1, 0],
        [100 - w, 10, 1, 0],
        [10, 0, 0, -1],
        [10, 80 - d, 0, 1],
      ] as const) {
        expect(broken(p, [put(0, x, y, turn)])).toEqual([])
        expect(broken(p, [put(0, x - dx * UM, y - dy * UM, turn)])).toEqual([])
        expect(of('R1', p, [put(0, x + dx * UM, y + dy * UM, turn)])).toMatchObject([
          { items: ['brain', 'main'], by: 1 },
        ])
      }
    }
  })
  it('says which edge, and by how much', () => {
    expect(of('R1', p, [put(0, 10, 61.3)])[0]).toEqual({
      rule: 'R1',
      items: ['brain', 'main'],
      text: 'brain reaches 1.3 mm over the front edge of deck main.',
      by: 1300,
    })
    const q = { ...p, edgeClearance: mm(2) }
    expect(of('R1', q, [put(0, 0.5, 10)])[0]).toMatchObject({
      text: 'brain is 0.5 mm from the left edge of deck main, where 2 mm is asked.',
      by: 1500,
    })
  })
  it('keeps edgeClearance', () => {
    const q = { ...p, edgeClearance: mm(2) }
    expect(broken(q, [put(0, 2, 58)])).toEqual([])
    expect(broken(q, [put(0, 2 - UM, 58)])).toEqual(['R1'])
    expect(broken(q, [put(0, 2, 58 + UM)])).toEqual(['R1'])
  })
  it('rounded corners: 3-4-5 from the centre of a 10 mm corner, with and without clearance', () => {
    const q = problem([item('brain', part(30, 20))], { decks: [deck(rect(0, 0, 100, 80, 10))] })
    expect(broken(q, [put(0, 4, 2)])).toEqual([])
    expect(broken(q, [put(0, 4 - UM, 2)])).toEqual(['R1'])
    expect(of('R1', q, [put(0, 4, 2 - UM)])).toMatchObject([{ by: 1 }])
    const c = { ...q, edgeClearance: mm(5) }
    expect(broken(c, [put(0, 7, 6)])).toEqual([])
    expect(broken(c, [put(0, 7 - UM, 6)])).toEqual(['R1'])
  })
  it('tells of a corner that lacks more than its side', () => {
    const q = problem([item('brain', part(30, 20))], { decks: [deck(rect(0, 0, 100, 80, 14))], edgeClearance: mm(1) })
    // (√2 − 1) · 14 mm over the rounding, and 1 mm more is asked
    expect(of('R1', q, [put(0, 0, 0)])).toMatchObject([
      { text: 'brain reaches 5.799 mm over the outline of deck main.', by: 6799 },
    ])
    expect(of('R1', q, [put(0, 4.5, 4.5)])[0]!.text).toMatch(/^brain is 0.56\d mm from the outline of deck main/)
    expect(of('R1', q, [put(0, 0.5, 30)])[0]!.text).toContain('0.5 mm from the left edge')
  })
  it('a round deck', () => {
    const q = problem([item('brain', part(30, 40))], { decks: [deck(circle(0, 0, 25))] })
    expect(broken(q, [put(0, -15, -20)])).toEqual([])
    expect(broken(q, [put(0, -15 + UM, -20)])).toEqual(['R1'])
  })
  it('a concave outline with a round bay in its front, polygon in either direction', () => {
    const there = poly([0, 0], [100, 0], [100, 60], [70, 60, -1], [30, 60], [0, 60])
    const back = poly([0, 60], [30, 60, 1], [70, 60], [100, 60], [100, 0], [0, 0])
    for (const outline of [there, back]) {
      const q = problem([item('brain', part(20, 40))], { decks: [deck(outline)] })
      expect(broken(q, [put(0, 40, 0)])).toEqual([])
      expect(of('R1', q, [put(0, 40, UM)])).toMatchObject([{ items: ['brain', 'main'], by: 1 }])
      expect(broken(q, [put(0, 18, 4)])).toEqual([]) // corner (38,44) is 12-16-20 from (50,60)
      expect(broken(q, [put(0, 18 + UM, 4)])).toEqual(['R1'])
      expect(broken({ ...q, edgeClearance: mm(5) }, [put(0, 10, 5)])).toEqual([]) // corner (30,45) is 15-20-25
      expect(broken({ ...q, edgeClearance: mm(5) }, [put(0, 10 + UM, 5)])).toEqual(['R1'])
    }
  })
})

describe('R1: the length in the words', () => {
  it('is the one beside them, rounded up to what must be given', () => {
    // A corner on the diagonal, 10·√2 − 10 = 4.1421… mm over a rim of radius 10.
    const q = problem([item('brain', part(10, 10))], { decks: [deck(circle(0, 0, 10))] })
    expect(of('R1', q, [put(0, 0, 0)])).toMatchObject([
      { text: 'brain reaches 4.143 mm over the outline of deck main.', by: 4143 },
    ])
  })
})

describe('R1: overhang', () => {
  const p = problem([item('mast', part(30, 20), { overhang: overhang({ front: 6 }) })])
  it('lets the body pass that edge by so much and no more, and no other edge', () => {
    expect(broken(p, [put(0, 10, 66)])).toEqual([])
    expect(of('R1', p, [put(0, 10, 66 + UM)])).toMatchObject([{ by: 1 }])
    expect(broken(p, [put(0, 10, -UM)])).toEqual(['R1'])
    expect(broken(p, [put(0, 70 + UM, 66)])).toEqual(['R1'])
  })
  it('the part on this side still keeps the clearance from other edges and from openings', () => {
    const q = {
      ...p,
      edgeClearance: mm(2),
      decks: [deck(rect(0, 0, 100, 80), { openings: [{ id: 'slot', shape: rect(50, 70, 20, 5), mayCover: false }] })],
    }
    expect(broken(q, [put(0, 2, 66)])).toEqual([])
    expect(broken(q, [put(0, 2 - UM, 66)])).toEqual(['R1'])
    expect(broken(q, [put(0, 18, 66)])).toEqual([])
    expect(of('R1', q, [put(0, 18 + UM, 66)])).toMatchObject([{ items: ['mast', 'slot', 'main'], by: 1 }])
  })
  it('a rounded corner still binds the part that counts', () => {
    const q = { ...p, decks: [deck(rect(0, 0, 100, 80, 10))] }
    expect(broken(q, [put(0, 10, 66)])).toEqual([])
    // 0.1 mm along the tangent is 0.5 µm over the arc; 1 µm along it is nothing that can be measured.
    expect(broken(q, [put(0, 10 - UM, 66)])).toEqual([])
    expect(broken(q, [put(0, 10 - 0.1, 66)])).toEqual(['R1'])
  })
  it('a body wholly beyond the edge counts nowhere, and still passes no side by more than it may', () => {
    const q = problem([item('mast', part(30, 20), { overhang: overhang({ front: 25 }) })])
    expect(broken(q, [put(0, 70, 85)])).toEqual([])
    expect(broken(q, [put(0, 70, 80)])).toEqual([])
    expect(of('R1', q, [put(0, 70, 85 + UM)])).toMatchObject([{ items: ['mast', 'main'], by: 1 }])
    expect(of('R1', q, [put(0, 70 + UM, 85)])).toMatchObject([{ items: ['mast', 'main'], by: 1 }])
    expect(of('R1', q, [put(0, -0.5, 85)])).toMatchObject([{ by: 500 }])
    expect(of('R1', q, [put(0, 70, 185)])).toMatchObject([{ by: 100_000 }])
  })
})

describe('R1: openings', () => {
  const slot = { id: 'slot', shape: rect(40, 30, 20, 10), mayCover: false }
  const withOpening = (opening: typeof slot, footprint = part(30, 20), clearance = 0) =>
    problem([item('brain', footprint)], {
      edgeClearance: mm(clearance),
      decks: [deck(rect(0, 0, 100, 80), { openings: [opening] })],
    })
  it('touching is fine, 1 µm over is not; with a clearance that is the limit', () => {
    expect(broken(withOpening(slot), [put(0, 10, 30)])).toEqual([])
    expect(of('R1', withOpening(slot), [put(0, 10 + UM, 30)])).toMatchObject([
      { items: ['brain', 'slot', 'main'], by: 1 },
    ])
    expect(broken(withOpening(slot, part(30, 20), 3), [put(0, 7, 30)])).toEqual([])
    expect(broken(withOpening(slot, part(30, 20), 3), [put(0, 7 + UM, 30)])).toEqual(['R1'])
    expect(broken(withOpening(slot, part(30, 20), 5), [put(0, 7, 6)])).toEqual([]) // corner to corner 3-4-5
    expect(broken(withOpening(slot, part(30, 20), 5), [put(0, 7, 6 + UM)])).toEqual(['R1'])
  })
  it('a round opening is met at its rim', () => {
    const hole = { id: 'slot', shape: circle(50, 40, 5), mayCover: false }
    expect(broken(withOpening(hole), [put(0, 17, 16)])).toEqual([]) // corner (47,36): 3-4-5
    expect(of('R1', withOpening(hole), [put(0, 17, 16 + UM)])).toMatchObject([{ by: 1 }])
    expect(broken(withOpening(hole, part(30, 20), 5), [put(0, 14, 12)])).toEqual([]) // corner (44,32): 6-8-10
    expect(broken(withOpening(hole, part(30, 20), 5), [put(0, 14 + UM, 12)])).toEqual(['R1'])
  })
  it('mayCover asks nothing of screwed bodies, and no overlap of stuck ones', () => {
    const free = { ...slot, mayCover: true }
    const stuck = part(30, 20, 10, { mount: { kind: 'adhesive' } })
    expect(broken(withOpening(free, part(30, 20), 3), [put(0, 35, 25)])).toEqual([])
    expect(broken(withOpening(free, stuck, 3), [put(0, 10, 30)])).toEqual([])
    expect(broken(withOpening(free, stuck, 3), [put(0, 10 + UM, 30)])).toEqual(['R1'])
    expect(broken(withOpening(slot, stuck, 3), [put(0, 7 + UM, 30)])).toEqual(['R1'])
  })
  it('a drop-in part may cover the opening that is its cut-out, to 0.1 mm', () => {
    const dropIn = part(30, 20, 10, {
      mount: { kind: 'drop-in', cutout: box(5, 5, 20, 10), holes: [], below: mm(8) },
    })
    const p = withOpening(slot, dropIn, 3)
    expect(broken(p, [put(0, 35, 25)])).toEqual([])
    expect(broken(p, [put(0, 35.1, 25)])).toEqual([])
    expect(broken(p, [put(0, 35.1 + UM, 25)])).toContain('R1')
    expect(broken(p, [put(0, 35, 25, 2)])).toEqual([])
    expect(broken(p, [put(0, 35, 25, 1)])).toContain('R1')
  })
  it('exits and passes with a diameter are openings; without one they are not', () => {
    const exits = [{ id: 'motor', deck: 0, at: { x: mm(50), y: mm(40) }, diameter: mm(10) }]
    const p = problem([item('brain', part(30, 20))], { exits, edgeClearance: mm(5) })
    expect(broken(p, [put(0, 14, 12)])).toEqual([])
    expect(of('R1', p, [put(0, 14 + UM, 12)])).toMatchObject([{ items: ['brain', 'motor', 'main'] }])
    const bare = problem([item('brain', part(30, 20))], {
      exits: [{ id: 'motor', deck: 0, at: { x: mm(50), y: mm(40) } }],
    })
    expect(broken(bare, [put(0, 40, 30)])).toEqual([])
    const passes = [{ id: 'lift', decks: [1, 0] as const, at: { x: mm(50), y: mm(40) }, diameter: mm(10) }]
    const decks = [deck(), deck(rect(0, 0, 100, 80), { id: 'upper', name: 'upper', z: mm(120) })]
    const two = problem([item('brain', part(30, 20))], { passes, decks })
    expect(broken(two, [put(0, 17, 16)])).toEqual([])
    for (const on of [0, 1]) expect(broken(two, [put(0, 17, 16 + UM, 0, on)])).toEqual(['R1'])
  })
  it('a plug-in part hangs over openings but covers no exit', () => {
    const board = part(60, 20, 8, {
      breadboard: { pitch: mm(2.54), blocks: [{ at: { x: mm(2), y: mm(5) }, columns: 10, rows: 5, strip: 'column' }] },
    })
    const shield = part(20, 40, 10, { mount: { kind: 'plug-in' }, pins: [[2, 5]] })
    const at = [put(0, 0, 0), put(1, 0, 0, 0, 0, 0)]
    const items = [item('board', board), item('shield', shield)]
    const over = { openings: [{ id: 'slot', shape: rect(0, 25, 10, 10), mayCover: false }] }
    expect(broken(problem(items, { decks: [deck(rect(0, 0, 100, 80), over)], edgeClearance: mm(0) }), at)).toEqual([])
    const lead = (y: number) =>
      problem(items, { exits: [{ id: 'motor', deck: 0, at: { x: mm(5), y: mm(y) }, diameter: mm(6) }] })
    expect(broken(lead(43), at)).toEqual([])
    expect(broken(lead(43 - UM), at)).toEqual(['R1'])
    expect(broken(problem(items, { decks: [deck(rect(0, 0, 100, 40))] }), at)).toEqual([])
    expect(broken(problem(items, { decks: [deck(rect(0, 0, 100, 40 - UM))] }), at)).toEqual(['R1'])
  })
  it('finds every one of several', () => {
    const p = problem([item('a', part(30, 20)), item('b', part(30, 20))], {
      decks: [
        deck(rect(0, 0, 100, 80), {
          openings: [slot, { id: 'window', shape: circle(30, 35, 4), mayCover: false }],
        }),
      ],
      exits: [{ id: 'motor', deck: 0, at: { x: mm(35), y: mm(28) }, diameter: mm(4) }],
    })
    const found = of('R1', p, [put(0, 25, 25), put(1, 90, 70)])
    expect(found.map((f) => f.items)).toEqual([
      ['a', 'slot', 'main'],
      ['a', 'window', 'main'],
      ['a', 'motor', 'main'],
      ['b', 'main'],
    ])
  })
})
