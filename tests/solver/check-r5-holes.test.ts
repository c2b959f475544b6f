/** R5 at, just inside and just outside its limits. Expected values: the contract's wording and right triangles, worked by hand. */
import { describe, expect, it } from 'vitest'
import type { Mount } from '../../solver/problem.ts'
import { mm, type Turn } from '../../solver/units.ts'
import { box, broken, circle, deck, item, of, part, problem, pt, put, rect, screwed, UM, zone } from './check-kit.ts'

const one = (x: number, y: number, diameter = 4, land = 0) =>
  part(30, 20, 10, { mount: screwed([{ at: [x, y], diameter, land }]) })
const big = deck(rect(0, 0, 200, 160))
const web = { minWeb: mm(2) }

describe('R5: web round a hole', () => {
  it('to the outline, at all turns', () => {
    // Hole of 4 mm, 4 mm from the body's edge: 2 mm of web when the body is on the deck's edge.
    const p = problem([item('a', one(4, 4))], { ...web })
    const corner: Record<Turn, [number, number]> = { 0: [0, 0], 1: [80, 0], 2: [70, 60], 3: [0, 50] }
    for (const turn of [0, 1, 2, 3] as Turn[]) expect(broken(p, [put(0, ...corner[turn], turn)])).toEqual([])
    const q = problem([item('a', one(4, 4 - UM))], { ...web })
    for (const turn of [0, 1, 2, 3] as Turn[])
      expect(of('R5', q, [put(0, ...corner[turn], turn)]), `${turn}`).toMatchObject([{ items: ['a', 'main'], by: 1 }])
  })
  it('to a rounded corner', () => {
    // Corner radius 10, hole centre at (7,6), 5 mm from (10,10): rim 2 + web 3 leaves exactly 10.
    const p = (minWeb: number) =>
      problem([item('a', one(3, 3))], { minWeb: mm(minWeb), decks: [deck(rect(0, 0, 100, 80, 10))] })
    expect(of('R5', p(3), [put(0, 4, 3)])).toEqual([])
    expect(of('R5', p(3 + UM), [put(0, 4, 3)])).toMatchObject([{ by: 1 }])
  })
  it('to openings, exits and passes, even those that may be covered', () => {
    const openings = [{ id: 'slot', shape: rect(50, 0, 20, 80), mayCover: true }]
    const p = problem([item('a', one(26, 10))], { ...web, decks: [deck(rect(0, 0, 100, 80), { openings })] })
    expect(broken(p, [put(0, 20, 10)])).toEqual([])
    expect(of('R5', p, [put(0, 20 + UM, 10)])).toMatchObject([{ items: ['a', 'slot', 'main'], by: 1 }])
    const inSlot = of('R5', p, [put(0, 34, 10)])
    expect(inSlot).toMatchObject([{ items: ['a', 'slot', 'main'], by: 14000 }]) // centre 10 inside, rim 2, web 2
    const exits = [{ id: 'motor', deck: 0, at: pt(50, 40), diameter: mm(4) }]
    const q = problem([item('a', one(26, 16))], { ...web, exits })
    expect(broken(q, [put(0, 18, 20)])).toEqual([]) // centre (44,36) to (50,40) is more than 6
    expect(of('R5', q, [put(0, 18, 24)])).toEqual([]) // centre (44,40): 6 = 2 + 2 + 2
    expect(of('R5', q, [put(0, 18 + UM, 24)])).toMatchObject([{ items: ['a', 'motor', 'main'], by: 1 }])
  })
  it('to holes that are there, to others’ and to its own', () => {
    const holes = [{ id: 'p1', at: pt(60, 60), diameter: mm(6) }]
    const p = problem([item('a', one(10, 10))], { ...web, decks: [deck(rect(0, 0, 200, 160), { holes })] })
    expect(broken(p, [put(0, 43, 50)])).toEqual([]) // 7 = 2 + 3 + 2
    expect(of('R5', p, [put(0, 43 + UM, 50)])).toMatchObject([{ items: ['a', 'main'], by: 1 }])
    const q = problem([item('a', one(30, 20)), item('b', one(0, 0))], { ...web, decks: [big] })
    expect(broken(q, [put(0, 20, 20), put(1, 53.6, 44.8)])).toEqual([]) // (50,40)–(53.6,44.8): 3.6-4.8-6
    expect(of('R5', q, [put(0, 20, 20), put(1, 53.6 - UM, 44.8)])).toMatchObject([{ items: ['a', 'b'], by: 1 }])
    const own = (x: number) =>
      problem([
        item(
          'a',
          part(30, 20, 10, {
            mount: screwed([
              { at: [10, 10], diameter: 4 },
              { at: [x, 10], diameter: 4 },
            ]),
          }),
        ),
      ])
    expect(broken({ ...own(16), ...web }, [put(0, 20, 20)])).toEqual([])
    expect(of('R5', { ...own(16 - UM), ...web }, [put(0, 20, 20)])).toMatchObject([{ items: ['a'], by: 1 }])
  })
  it('holes on different decks do not meet; those of later items count', () => {
    const decks = [big, { ...big, id: 'upper', name: 'upper', z: mm(120) }]
    const q = problem([item('a', one(30, 20)), item('b', one(0, 0), { later: true })], { ...web, decks })
    expect(broken(q, [put(0, 20, 20), put(1, 50, 40, 0, 1)])).toEqual([])
    expect(broken(q, [put(0, 20, 20), put(1, 50, 40)])).toEqual(['R5'])
  })
})

describe('R5: reuse of existing holes', () => {
  const at = (dx: number, dy: number, existing: number, more = {}) =>
    problem([item('a', one(10, 10, 3))], {
      ...web,
      decks: [
        deck(rect(0, 0, 200, 160), {
          holes: [
            { id: 'p1', at: pt(60 + dx, 60 + dy), diameter: mm(existing) },
            { id: 'p2', at: pt(64, 60), diameter: mm(4) },
          ],
        }),
      ],
      ...more,
    })
  const here = [put(0, 50, 50)]
  it('same centre to 0.1 mm', () => {
    // p2 is 4 mm away: 0.5 mm of web to a hole that would be made, none asked of one that is reused.
    expect(broken(at(0, 0, 3), here)).toEqual([])
    expect(broken(at(0.06, 0.08, 3), here)).toEqual([])
    expect(broken(at(0.06, 0.08 + UM, 3), here)).toEqual(['R5', 'R5'])
    expect(broken(at(-0.1, 0, 3), here)).toEqual([])
    expect(broken(at(-0.1 - UM, 0, 3), here)).toEqual(['R5', 'R5'])
  })
  it('at least its own diameter and at most 0.5 mm more', () => {
    expect(broken(at(0, 0, 3.5), here)).toEqual([])
    expect(broken(at(0, 0, 3.5 + UM), here)).toEqual(['R5', 'R5'])
    expect(broken(at(0, 0, 3 - UM), here)).toEqual(['R5', 'R5'])
  })
  it('zones and lands still hold; others keep their web to the hole that is there', () => {
    const zones = [zone('underside', rect(0, 0, 58.5, 160))]
    expect(broken(at(0, 0, 3, { zones }), here)).toEqual([])
    expect(broken(at(0, 0, 3, { zones: [zone('underside', rect(0, 0, 58.5 + UM, 160))] }), here)).toEqual(['R5'])
    const neighbour = problem([item('a', one(10, 10, 3)), item('b', one(0, 10, 3))], {
      ...web,
      decks: [deck(rect(0, 0, 200, 160), { holes: [{ id: 'p1', at: pt(60, 60), diameter: mm(3.4) }] })],
    })
    const b = (x: number) => [put(0, 35, 50), put(1, x, 50)]
    expect(of('R5', neighbour, [put(0, 50, 50), put(1, 80, 50)])).toEqual([])
    expect(of('R5', neighbour, b(65.2))).toEqual([]) // 5.2 = 1.7 + 1.5 + 2
    expect(of('R5', neighbour, b(65.2 - UM))).toMatchObject([{ items: ['b', 'main'], by: 1 }])
  })
})

describe('R5: lands', () => {
  it('inside the outline, clear of openings and other lands; touching is fine', () => {
    const p = (land: number) => problem([item('a', one(5, 5, 3, land))], {})
    expect(broken(p(10), [put(0, 0, 0)])).toEqual([])
    expect(of('R5', p(10 + 2 * UM), [put(0, 0, 0)])).toMatchObject([{ items: ['a', 'main'], by: 1 }])
    const openings = [{ id: 'slot', shape: circle(50, 40, 5), mayCover: true }]
    const q = problem([item('a', one(10, 10, 3, 10))], { decks: [deck(rect(0, 0, 100, 80), { openings })] })
    expect(broken(q, [put(0, 34, 22)])).toEqual([]) // centre (44,32): 6-8-10
    expect(of('R5', q, [put(0, 34, 22 + UM)])).toMatchObject([{ items: ['a', 'slot', 'main'], by: 1 }])
    const two = problem([item('a', one(30, 20, 3, 6)), item('b', one(0, 0, 3, 4))], {})
    expect(broken(two, [put(0, 0, 0), put(1, 33, 24)])).toEqual([]) // 3-4-5
    expect(of('R5', two, [put(0, 0, 0), put(1, 33 - UM, 24)])).toMatchObject([{ items: ['a', 'b'], by: 1 }])
  })
  it('a reused hole’s land is still asked', () => {
    const p = (land: number) =>
      problem([item('a', one(4, 4, 3, land))], {
        ...web,
        decks: [deck(rect(0, 0, 100, 80), { holes: [{ id: 'p1', at: pt(4, 4), diameter: mm(3) }] })],
      })
    expect(broken(p(8), [put(0, 0, 0)])).toEqual([])
    expect(broken(p(8 + 2 * UM), [put(0, 0, 0)])).toEqual(['R5'])
  })
})

describe('R5: slots and cut-outs', () => {
  const strap = part(30, 20, 10, { mount: { kind: 'strap', slots: [box(4, 4, 3, 12), box(23, 4, 3, 12)] } })
  it('keep the web to outline, openings, holes and each other', () => {
    const p = (minWeb: number) => problem([item('pack', strap)], { minWeb: mm(minWeb) })
    expect(broken(p(4), [put(0, 0, 0)])).toEqual([])
    expect(broken(p(4 + UM), [put(0, 0, 0)])).toEqual(['R5', 'R5'])
    expect(broken(p(16), [put(0, 30, 30)])).toEqual([])
    expect(of('R5', p(16 + UM), [put(0, 30, 30)])).toMatchObject([{ items: ['pack'], by: 1 }])
    const holes = [{ id: 'p1', at: pt(60, 60), diameter: mm(6) }]
    const q = problem([item('pack', strap)], { ...web, decks: [deck(rect(0, 0, 200, 160), { holes })] })
    expect(broken(q, [put(0, 31, 40)])).toEqual([]) // slot corner (57,56): 3-4-5 = 3 + 2
    expect(of('R5', q, [put(0, 31 + UM, 40)])).toMatchObject([{ items: ['pack', 'main'], by: 1 }])
    const two = problem([item('pack', strap), item('a', one(0, 0, 6))], { ...web, decks: [big] })
    expect(broken(two, [put(0, 31, 40), put(1, 61, 60)])).toEqual([]) // (61,60) is 4-4 from (57,56)
    expect(broken(two, [put(0, 31, 40), put(1, 62, 56)])).toEqual([]) // 5 from the slot
    expect(of('R5', two, [put(0, 31 + UM, 40), put(1, 62, 56)])).toMatchObject([{ items: ['pack', 'a'], by: 1 }])
  })
  it('stay out of underside zones', () => {
    const p = (x: number) => problem([item('pack', strap)], { zones: [zone('underside', circle(x, 10, 5))] })
    expect(broken(p(62), [put(0, 31, 0)])).toEqual([]) // right side of the slot at 57
    expect(of('R5', p(62 - UM), [put(0, 31, 0)])).toMatchObject([{ items: ['pack', 'underside-1'], by: 1 }])
    const hole = (x: number) => problem([item('a', one(10, 10))], { zones: [zone('underside', rect(x, 0, 10, 80))] })
    expect(broken(hole(22), [put(0, 10, 10)])).toEqual([])
    expect(of('R5', hole(22 - UM), [put(0, 10, 10)])).toMatchObject([{ items: ['a', 'underside-1'], by: 1 }])
  })
  const dropIn = (holes: Parameters<typeof screwed>[0] = []): Mount => ({
    kind: 'drop-in',
    cutout: box(5, 5, 20, 10),
    holes: (screwed(holes) as Extract<Mount, { kind: 'screw' }>).holes,
    below: mm(8),
  })
  it('a cut-out is cut like a slot; its own holes keep the web to it', () => {
    const p = (minWeb: number) => problem([item('head', part(30, 20, 10, { mount: dropIn() }))], { minWeb: mm(minWeb) })
    expect(broken(p(5), [put(0, 0, 0)])).toEqual([])
    expect(broken(p(5 + UM), [put(0, 0, 0)])).toEqual(['R5'])
    const q = (x: number) =>
      problem([item('head', part(30, 20, 10, { mount: dropIn([{ at: [x, 10], diameter: 2 }]) }))], { minWeb: mm(1) })
    expect(broken(q(3), [put(0, 20, 20)])).toEqual([])
    expect(of('R5', q(3 + UM), [put(0, 20, 20)])).toMatchObject([{ items: ['head'], by: 1 }])
  })
  it('a cut-out that coincides with an opening reuses it: no web, but zones hold', () => {
    const openings = [{ id: 'well', shape: rect(1, 1, 20, 10, 0.2), mayCover: false }]
    const p = problem(
      [
        item('head', part(30, 20, 10, { mount: dropIn() }), {
          overhang: { front: mm(0), back: mm(9), left: mm(9), right: mm(0) },
        }),
      ],
      {
        ...web,
        decks: [deck(rect(0, 0, 100, 80), { openings })],
      },
    )
    expect(broken(p, [put(0, -4, -4)])).toEqual([])
    expect(broken(p, [put(0, -3.9, -4.1)])).toEqual([])
    // 1 µm more, and it is a new cut-out across the opening and 1 mm from the edge; the body covers a foreign opening.
    expect(new Set(broken(p, [put(0, -3.9 + UM, -4)]))).toEqual(new Set(['R1', 'R5']))
    const z = { ...p, zones: [zone('underside', rect(0, 0, 1 + UM, 80))] }
    expect(broken(z, [put(0, -4, -4)])).toEqual(['R5'])
  })
})
