/** R10 at, just inside and just outside its limits, and layouts that make no sense. Expected values: the contract's wording. */
import { describe, expect, it } from 'vitest'
import { check } from '../../solver/check/check.ts'
import { figures } from '../../solver/check/figures.ts'
import type { Item, Place, Placement, Side } from '../../solver/problem.ts'
import { mm, type Turn } from '../../solver/units.ts'
import { broken, circle, deck, item, of, part, poly, problem, pt, put, rect, UM } from './check-kit.ts'

const decks = [deck(), deck(rect(0, 0, 100, 80), { id: 'upper', name: 'upper', z: mm(150) })]
const placed = (place: Place[], more: Partial<Item> = {}) =>
  problem(
    [
      item('a', part(30, 20), { place, ...more }),
      item('b#1', part(10, 10)),
      item('b#2', part(10, 10), { required: false }),
    ],
    {
      decks,
    },
  )
const b = { name: 'b', items: [1, 2] }

describe('R10: once, on an allowed deck, at an allowed turn', () => {
  it('required items are placed, optional ones may be', () => {
    const p = placed([])
    expect(check(p, [put(1, 50, 50)])).toEqual([
      { rule: 'R10', items: ['a'], text: 'a is required, and is not placed.', by: 0 },
    ])
    expect(broken(p, [put(0, 0, 0), put(1, 50, 50)])).toEqual([])
    expect(broken(p, [put(0, 0, 0), put(1, 50, 50), put(2, 70, 50)])).toEqual([])
    expect(of('R10', p, [put(0, 0, 0), put(1, 50, 50), put(0, 0, 50)])).toMatchObject([{ items: ['a'] }])
  })
  it('decks and turns', () => {
    const p = placed([], { decks: [1], turns: [0, 3] })
    expect(broken(p, [put(0, 0, 0, 3, 1), put(1, 50, 50)])).toEqual([])
    expect(of('R10', p, [put(0, 0, 0, 1, 0), put(1, 50, 50)]).map((f) => f.items)).toEqual([['a', 'main'], ['a']])
  })
  it('the grid, from 0,0 in the common frame, but for axes that `at` or `centred` fixes', () => {
    const grid = (place: Place[]) => ({ ...placed(place), grid: mm(0.5) })
    const other = put(1, 50, 50)
    expect(broken(grid([]), [put(0, 1.5, 2), other])).toEqual([])
    expect(of('R10', grid([]), [put(0, 1.5 + UM, 2), other])).toMatchObject([{ items: ['a'], by: 1 }])
    expect(of('R10', grid([]), [put(0, 1.5 - UM, 2.25), other]).map((f) => f.by)).toEqual([1, 250])
    expect(broken(grid([{ kind: 'at', deck: 0, at: pt(1.3, 2.7) }]), [put(0, 1.3, 2.7), other])).toEqual([])
    const centred = grid([{ kind: 'centred', axis: 'x' }])
    const odd = { ...centred, decks: [deck(rect(0.3, 0, 99.4, 80))] }
    expect(broken(odd, [put(0, 35, 2), other])).toEqual([])
    expect(of('R10', odd, [put(0, 35, 2.1), other])).toMatchObject([{ by: 100 }])
  })
})

describe('R10: place entries', () => {
  const other = put(1, 85, 65)
  const limit = (place: Place, good: [number, number], bad: [number, number], by: number) => {
    expect(broken(placed([place]), [put(0, ...good), other])).toEqual([])
    expect(of('R10', placed([place]), [put(0, ...bad), other])).toMatchObject([{ by }])
  }
  it('at', () => {
    const at: Place = { kind: 'at', deck: 0, at: pt(10, 20), turn: 1 }
    const on = (p: Placement) => of('R10', placed([at]), [p, other])
    expect(on(put(0, 10, 20, 1))).toEqual([])
    expect(on(put(0, 10 + UM, 20, 1))).toMatchObject([{ items: ['a'], by: 1 }])
    expect(on(put(0, 10, 20, 0))).toHaveLength(1)
    expect(on(put(0, 10, 20, 1, 1))).toHaveLength(1)
    expect(broken(placed([{ kind: 'at', deck: 0, at: pt(10, 20) }]), [put(0, 10, 20, 3), other])).toEqual([])
  })
  it('centred on the bounding box, half a micrometre either way', () => {
    limit({ kind: 'centred', axis: 'x' }, [35, 3], [35 + UM, 3], 1)
    limit({ kind: 'centred', axis: 'y' }, [3, 30], [3, 30 - UM], 1)
    const odd = { ...placed([{ kind: 'centred', axis: 'x' }]), decks: [deck(rect(0, 0, 100 + UM, 80))] }
    for (const x of [35, 35 + UM]) expect(broken(odd, [put(0, x, 3), other])).toEqual([])
    for (const x of [35 - UM, 35 + 2 * UM]) expect(broken(odd, [put(0, x, 3), other])).toEqual(['R10'])
    // An outline with a round front that reaches to y = 90: its box's middle is at 45.
    const round = {
      ...placed([{ kind: 'centred', axis: 'y' }]),
      decks: [deck(poly([0, 0], [100, 0], [100, 40, 1], [0, 40]))],
    }
    expect(broken(round, [put(0, 35, 35), put(1, 5, 5)])).toEqual([])
    expect(broken(round, [put(0, 35, 35 + UM), put(1, 5, 5)])).toEqual(['R10'])
  })
  it('edge', () => {
    const edge = (side: Side): Place => ({ kind: 'edge', edge: side, within: mm(5) })
    limit(edge('front'), [10, 55], [10, 55 - UM], 1)
    limit(edge('back'), [10, 5], [10, 5 + UM], 1)
    limit(edge('left'), [5, 10], [5 + UM, 10], 1)
    limit(edge('right'), [65, 10], [65 - UM, 10], 1)
    const far = placed([edge('front')], { overhang: { front: mm(9), back: mm(0), left: mm(0), right: mm(0) } })
    expect(broken(far, [put(0, 10, 65), other])).toEqual([])
    expect(broken(far, [put(0, 10, 65 + UM), other])).toEqual(['R10'])
  })
  it('inside', () => {
    limit({ kind: 'inside', shape: rect(10, 10, 40, 40) }, [20, 30], [20 + UM, 30], 1)
    limit({ kind: 'inside', shape: circle(50, 40, 25) }, [30, 25], [30 - UM, 25], 1) // corner (30,25): 20-15-25
  })
  it('near: |dx| + |dy| of centres, of any copy, in plan', () => {
    // Centre of b#1 at (90,70); a's at (25,20) + … with a at (45,40) its centre is (60,50): 30 + 20.
    limit({ kind: 'near', item: b, within: mm(50) }, [45, 40], [45 - UM, 40], 1)
    const p = placed([{ kind: 'near', item: b, within: mm(50) }])
    expect(broken(p, [put(0, 0, 0), other, put(2, 30, 30)])).toEqual([])
    expect(broken(p, [put(0, 45, 40, 0, 1), other])).toEqual([])
  })
  it('beyond: wholly on that side', () => {
    const beyond = (side: Side): Place => ({ kind: 'beyond', item: b, side })
    const middle = put(1, 45, 35)
    const cases: [Side, [number, number], [number, number]][] = [
      ['front', [35, 45], [35, 45 - UM]],
      ['back', [35, 15], [35, 15 + UM]],
      ['left', [15, 30], [15 + UM, 30]],
      ['right', [55, 30], [55 - UM, 30]],
    ]
    for (const [side, good, bad] of cases) {
      expect(broken(placed([beyond(side)]), [put(0, ...good), middle]), side).toEqual([])
      expect(of('R10', placed([beyond(side)]), [put(0, ...bad, 0, 1), middle]), side).toMatchObject([
        { items: ['a', 'b'], by: 1 },
      ])
      expect(broken(placed([beyond(side)]), [put(0, ...good, 0, 1), middle]), side).toEqual([])
    }
  })
  it('an entry that names an item left out, or only the item itself, is not true', () => {
    const none = { name: 'c', items: [] }
    const own = { name: 'a', items: [0] }
    for (const ref of [none, own, { name: 'b#2', items: [2] }])
      for (const place of [
        { kind: 'near', item: ref, within: mm(500) },
        { kind: 'beyond', item: ref, side: 'front' },
        { kind: 'host', item: ref },
      ] as Place[])
        expect(of('R10', placed([place]), [put(0, 10, 10), other]), `${ref.name} ${place.kind}`).toHaveLength(1)
  })
  it('host', () => {
    const board = part(47, 20, 8, {
      breadboard: { pitch: mm(2.54), blocks: [{ at: pt(2, 5), columns: 10, rows: 5, strip: 'column' }] },
    })
    const pin = part(3, 3, 5, { mount: { kind: 'plug-in' }, pins: [[1, 1]] })
    const p = problem([
      item('b#1', board),
      item('b#2', board),
      item('lamp', pin, { place: [{ kind: 'host', item: { name: 'b#2', items: [1] } }] }),
    ])
    const boards = [put(0, 0, 0), put(1, 0, 30)]
    expect(broken(p, [...boards, put(2, 1, 34, 0, 0, 1)])).toEqual([])
    expect(broken(p, [...boards, put(2, 1, 34)])).toEqual([])
    expect(of('R10', p, [...boards, put(2, 1, 4, 0, 0, 0)])).toMatchObject([{ items: ['lamp', 'b#2'] }])
  })
  it('all entries must hold, and each that does not is found', () => {
    const p = placed([
      { kind: 'edge', edge: 'left', within: mm(0) },
      { kind: 'edge', edge: 'front', within: mm(0) },
      { kind: 'centred', axis: 'x' },
    ])
    expect(of('R10', p, [put(0, 10, 10), other])).toHaveLength(3)
  })
})

describe('any placements at all', () => {
  it('are answered with findings, never with an exception', () => {
    const p = placed([{ kind: 'near', item: b, within: mm(5) }])
    const odd: Placement[] = [
      put(99, 0, 0),
      put(-1, 0, 0),
      put(0, 0, 0, 0, 7),
      { ...put(0, 0, 0), turn: 4 as Turn },
      { ...put(0, 0, 0), at: { x: mm(Number.NaN), y: mm(0) } },
      { ...put(1, 0, 0), host: 0 },
      put(1, 5000, 5000),
      put(2, -3, -3, 1, 1, 42),
    ]
    for (let mask = 0; mask < 2 ** odd.length; mask++) {
      const some = odd.filter((_, i) => mask & (1 << i))
      const found = check(p, some)
      expect(found.length).toBeGreaterThan(0)
      for (const f of found) {
        expect(f.by).toBeGreaterThanOrEqual(0)
        expect(f.text).toMatch(/^\S.*\.$/)
        expect(f.text).not.toMatch(/NaN|undefined|Infinity/)
      }
      figures(p, some)
    }
  })
  it('one finding for each that has no place', () => {
    const p = placed([])
    expect(of('R10', p, [put(99, 0, 0), put(0, 0, 0, 0, 7), put(1, 50, 50)]).map((f) => f.items)).toEqual([[], ['a']])
  })
})
