/** R8 and R9 at, just inside and just outside their limits. Expected values: the contract's wording and right triangles, by hand. */
import { describe, expect, it } from 'vitest'
import type { Head } from '../../solver/problem.ts'
import { solve } from '../../solver/solve.ts'
import { mm, type Turn } from '../../solver/units.ts'
import { broken, circle, deck, item, of, part, poly, problem, pt, put, rect, screwed, UM } from './check-kit.ts'

/** Deck main at 50; the upper plate's underside at 87, its top face at 90. */
const upper = (outline = rect(0, 0, 100, 80), more = {}) =>
  deck(outline, { id: 'upper', name: 'upper', z: mm(90), ...more })

describe('R8: height under another deck', () => {
  it('body top + stack + above, to the plate’s underside', () => {
    const p = (h: number, above: number, stack: number, standoff = 0) =>
      problem([item('a', part(30, 20, h, { above, mount: screwed([], standoff) }), { stack: mm(stack) })], {
        decks: [deck(), upper()],
      })
    expect(broken(p(37, 0, 0), [put(0, 0, 0)])).toEqual([])
    expect(of('R8', p(37 + UM, 0, 0), [put(0, 0, 0)])).toMatchObject([{ items: ['a', 'upper'], by: 1 }])
    expect(broken(p(10, 20, 3, 4), [put(0, 0, 0)])).toEqual([])
    for (const q of [p(10 + UM, 20, 3, 4), p(10, 20 + UM, 3, 4), p(10, 20, 3 + UM, 4), p(10, 20, 3, 4 + UM)])
      expect(of('R8', q, [put(0, 0, 0)])).toMatchObject([{ by: 1 }])
    expect(broken(p(90, 0, 0), [put(0, 0, 0, 0, 1)])).toEqual([]) // on the upper deck itself
  })
  it('only where the plate overlaps it in plan', () => {
    const p = (x: number) => problem([item('a', part(30, 20, 60))], { decks: [deck(), upper(rect(x, 0, 50, 80))] })
    expect(broken(p(30), [put(0, 0, 0)])).toEqual([])
    expect(broken(p(30 - UM), [put(0, 0, 0)])).toEqual(['R8'])
    const round = problem([item('a', part(30, 20, 60))], { decks: [deck(), upper(circle(60, 60, 25))] })
    expect(broken(round, [put(0, 15, 20)])).toEqual([]) // corner (45,40): 15-20-25
    expect(broken(round, [put(0, 15 + UM, 20)])).toEqual(['R8'])
  })
  it('`open` allows no overlap at all, however high the deck', () => {
    const p = (x: number) =>
      problem([item('a', part(30, 20, 5, { above: 'open' }))], {
        decks: [deck(), upper(rect(x, 0, 50, 80), { z: mm(900) })],
      })
    expect(broken(p(30), [put(0, 0, 0)])).toEqual([])
    expect(of('R8', p(30 - UM), [put(0, 0, 0)])).toMatchObject([{ items: ['a', 'upper'], by: 0 }])
  })
  it('a body wholly under one opening is not under the deck, edge included', () => {
    const at = (shape: ReturnType<typeof rect>) => {
      const openings = [{ id: 'well', shape, mayCover: false }]
      return problem([item('a', part(30, 40, 60, { above: 'open' }))], {
        decks: [deck(), upper(rect(0, 0, 100, 80), { openings })],
      })
    }
    expect(broken(at(rect(20, 10, 30, 40)), [put(0, 20, 10)])).toEqual([])
    expect(broken(at(rect(20, 10, 30, 40)), [put(0, 20 + UM, 10)])).toEqual(['R8'])
    expect(broken(at(circle(50, 40, 25)), [put(0, 35, 20)])).toEqual([]) // 15-20-25
    expect(broken(at(circle(50, 40, 25)), [put(0, 35, 20 + UM)])).toEqual(['R8'])
    const two = [
      { id: 'w1', shape: rect(0, 0, 35, 80), mayCover: true },
      { id: 'w2', shape: rect(35, 0, 35, 80), mayCover: true },
    ]
    const halves = problem([item('a', part(30, 40, 60))], {
      decks: [deck(), upper(rect(0, 0, 100, 80), { openings: two })],
    })
    expect(broken(halves, [put(0, 5, 10)])).toEqual([])
    expect(broken(halves, [put(0, 20, 10)])).toEqual(['R8'])
  })
  it('every deck above counts, a deck at the same height does not', () => {
    const decks = [deck(), upper(), upper(undefined, { id: 'top', name: 'top', z: mm(120) })]
    const p = problem([item('a', part(30, 20, 80))], { decks })
    expect(of('R8', p, [put(0, 0, 0)]).map((f) => [f.items[1], f.by])).toEqual([
      ['upper', 43000],
      ['top', 13000],
    ])
    const level = problem([item('a', part(30, 20, 80))], { decks: [deck(), upper(undefined, { z: mm(50) })] })
    expect(broken(level, [put(0, 0, 0)])).toEqual([])
  })
})

/** Pivot in the middle of a 20 × 20 body, sweeping ±45° to the front, 25 mm far, 10 mm tail, 20–40 mm over the deck. */
const head = (more: Partial<Head> = {}): Head => ({
  pivot: pt(10, 10),
  pan: [-45, 45],
  reach: mm(25),
  tail: mm(10),
  z: [mm(20), mm(40)],
  ...more,
})
const wide = deck(rect(-100, -100, 300, 300))
const pair = (h: Partial<Head>, footprint = part(10, 10, 30), more = {}) =>
  problem([item('eye', part(20, 20, 40, { head: head(h) })), item('a', footprint, more)], { decks: [wide] })

describe('R9: the swept volume', () => {
  it('0° looks along +v, and turns with the body', () => {
    // Pivot at (50,50). In front of it the sweep ends at 75; a square centred ahead touches it there.
    const ahead: Record<Turn, [number, number, number, number]> = {
      0: [45, 75, 0, -1],
      1: [15, 45, 1, 0],
      2: [45, 15, 0, 1],
      3: [75, 45, -1, 0],
    }
    for (const turn of [0, 1, 2, 3] as Turn[]) {
      const [x, y, dx, dy] = ahead[turn]
      expect(broken(pair({}), [put(0, 40, 40, turn), put(1, x, y)]), `${turn}`).toEqual([])
      expect(of('R9', pair({}), [put(0, 40, 40, turn), put(1, x + dx * UM, y + dy * UM)]), `${turn}`).toMatchObject([
        { items: ['eye', 'a'], by: 1 },
      ])
      // Behind it is the tail only: the next body may stand against the head's own.
      for (const other of [0, 1, 2, 3] as Turn[]) {
        if (other === turn) continue
        const [u, v] = { 0: [45, 60], 1: [30, 45], 2: [45, 30], 3: [60, 45] }[other] as [number, number]
        expect(broken(pair({}), [put(0, 40, 40, turn), put(1, u, v)]), `${turn} ${other}`).toEqual([])
      }
    }
  })
  it('ends at its pan angles and at its radius', () => {
    // Pan 0…90 turns from +v to −u: a quarter disc at the upper left of the pivot (50,50).
    const q = pair({ pan: [0, 90], reach: mm(50) })
    expect(broken(q, [put(0, 40, 40), put(1, 10, 90)])).toEqual([]) // corner (20,90): 30-40-50
    expect(of('R9', q, [put(0, 40, 40), put(1, 10 + UM, 90)])).toMatchObject([{ by: 1 }])
    expect(broken(q, [put(0, 40, 40), put(1, 50, 70)])).toEqual([]) // on the 0° line
    expect(broken(q, [put(0, 40, 40), put(1, 50 - UM, 70)])).toEqual(['R9'])
    expect(broken(pair({ pan: [-180, 180], reach: mm(50) }), [put(0, 40, 40), put(1, 80, 90)])).toEqual([])
    expect(broken(pair({ pan: [-180, 180], reach: mm(50) }), [put(0, 40, 40), put(1, 80 - UM, 90)])).toEqual(['R9'])
  })
  it('the tail is a full disc', () => {
    const q = pair({ tail: mm(25) })
    expect(broken(q, [put(0, 40, 40), put(1, 25, 20)])).toEqual([]) // corner (35,30): 15-20-25
    expect(broken(q, [put(0, 40, 40), put(1, 25 + UM, 20)])).toEqual(['R9'])
  })
  it('counts stack and numeric above, from the underside up', () => {
    const at = [put(0, 40, 40), put(1, 45, 62)]
    expect(broken(pair({}, part(10, 10, 8, { above: 7 }), { stack: mm(5) }), at)).toEqual([])
    for (const q of [
      pair({}, part(10, 10, 8 + UM, { above: 7 }), { stack: mm(5) }),
      pair({}, part(10, 10, 8, { above: 7 + UM }), { stack: mm(5) }),
      pair({}, part(10, 10, 8, { above: 7 }), { stack: mm(5 + UM) }),
    ])
      expect(of('R9', q, at)).toMatchObject([{ by: 1 }])
    expect(broken(pair({}, part(10, 10, 8, { mount: screwed([], 40) })), at)).toEqual([])
    expect(broken(pair({}, part(10, 10, 8, { mount: screwed([], 40 - UM) })), at)).toEqual(['R9'])
  })
  it('never passes over an open body, at whatever height', () => {
    const open = part(10, 10, 5, { above: 'open' })
    expect(broken(pair({}, open), [put(0, 40, 40), put(1, 45, 75)])).toEqual([])
    expect(of('R9', pair({}, open), [put(0, 40, 40), put(1, 45, 75 - UM)])).toMatchObject([
      { items: ['eye', 'a'], by: 0 },
    ])
    const over = (standoff: number) => pair({}, part(10, 10, 5, { above: 'open', mount: screwed([], standoff) }))
    expect(broken(over(40), [put(0, 40, 40), put(1, 45, 62)])).toEqual([]) // the sweep passes wholly below it
    expect(broken(over(40 - UM), [put(0, 40, 40), put(1, 45, 62)])).toEqual(['R9'])
  })
  it('bodies of other decks count, the own body and the own deck never do', () => {
    const decks = [wide, deck(rect(0, 200, 50, 50), { id: 'upper', name: 'upper', z: mm(71) })]
    const p = (h: number) => ({ ...pair({ z: [mm(-2), mm(40)] }, part(10, 10, h)), decks })
    const on = (y: number) => [put(0, 40, y, 0, 0), put(1, 45, 203, 0, 1)]
    expect(broken(p(5), [put(0, 40, 40)]).filter((r) => r !== 'R10')).toEqual([])
    expect(of('R9', p(5), on(170)).map((f) => f.items)).toEqual([
      ['eye', 'a'],
      ['eye', 'upper'],
    ])
    expect(of('R9', p(5), on(150))).toEqual([])
  })
  it('the sweep may pass its own deck’s edge', () => {
    const p = { ...pair({}), decks: [deck(rect(0, 0, 60, 60))] }
    expect(of('R9', p, [put(0, 40, 40)])).toEqual([])
    expect(of('R1', p, [put(0, 40, 40)])).toEqual([])
  })
})

describe('R9: plates', () => {
  const over = (outline: ReturnType<typeof rect>, z: number, more = {}) =>
    problem([item('eye', part(20, 20, 18, { head: head() }))], {
      decks: [wide, deck(outline, { id: 'upper', name: 'upper', z: mm(z), ...more })],
    })
  const at = [put(0, 40, 40)]
  it('from underside to top face', () => {
    // Sweep at 70–90 over the ground; plate 3 mm.
    const near = rect(40, 60, 20, 30)
    expect(broken(over(near, 93), at)).toEqual([])
    expect(of('R9', over(near, 93 - UM), at)).toMatchObject([{ items: ['eye', 'upper'], by: 1 }])
    expect(of('R9', over(near, 70), at)).toEqual([])
    expect(of('R9', over(near, 70 + UM), at)).toMatchObject([{ by: 1 }])
  })
  it('one below the head’s deck too, where the sweep reaches down to it', () => {
    // Sweep at 37–90 over the ground.
    const deep = part(20, 20, 18, { head: head({ z: [mm(-13), mm(40)] }) })
    const place = [{ kind: 'at' as const, deck: 0, at: pt(40, 40), turn: 0 as const }]
    const under = (z: number) =>
      problem([item('eye', deep, { place, decks: [0] })], {
        grid: mm(1),
        decks: [deck(), deck(rect(0, 60, 100, 40), { id: 'lower', name: 'lower', z: mm(z) })],
      })
    expect(broken(under(37), at)).toEqual([])
    expect(solve(under(37), { explain: false }).status).toBe('optimal')
    expect(of('R9', under(37 + UM), at)).toMatchObject([{ items: ['eye', 'lower'], by: 1 }])
    expect(solve(under(37 + UM), { explain: false }).status).toBe('infeasible')
  })
  it('only where the outline meets the sweep, and openings count as plate', () => {
    expect(broken(over(rect(0, 75, 100, 20), 85), at)).toEqual([])
    expect(broken(over(rect(0, 75 - UM, 100, 20), 85), at)).toEqual(['R9'])
    const slope = (dx: number) => poly([65 + dx, 70], [105 + dx, 40], [105 + dx, 70]) // its corner is 15-20-25 from (50,50), outside the 45° line
    expect(broken(over(slope(0), 85), at)).toEqual([])
    expect(of('R9', over(circle(50, 105, 30), 85), at)).toEqual([])
    expect(of('R9', over(circle(50, 105 - UM, 30), 85), at)).toMatchObject([{ items: ['eye', 'upper'] }])
    const openings = [{ id: 'well', shape: rect(1, 61, 98, 38), mayCover: true }]
    expect(of('R9', over(rect(0, 60, 100, 40), 85, { openings }), at)).toHaveLength(1)
    // Round against round: a plate with rounded corners, its corner's arc about (80,90) with radius 15, 30-40-50 from the pivot.
    const round = (reach: number) =>
      problem([item('eye', part(20, 20, 18, { head: head({ reach: mm(reach), pan: [-45, 45] }) }))], {
        decks: [wide, deck(rect(65, 75, 60, 60, 15), { id: 'upper', name: 'upper', z: mm(85) })],
      })
    expect(broken(round(35), at)).toEqual([])
    expect(broken(round(35 + UM), at)).toEqual(['R9'])
  })
})
