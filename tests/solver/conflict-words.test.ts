/** Members of conflicts read as sentences with names and the millimetres that are asked; figures worked out by hand from each project. */
import { describe, expect, it } from 'vitest'
import { solve } from '../../solver/index.ts'
import { part, problemOf, project } from '../electric/kit.ts'

function conflictOf(more: object): string[] {
  const result = solve(problemOf(project({ decks: [base], ...more })))
  if (result.status !== 'infeasible') throw new Error(result.status)
  expect(result.conflictIrreducible).toBe(true)
  return result.conflict.map((m) => m.text).filter((t) => !t.endsWith(' must be placed'))
}
const base = { id: 'main', name: 'base', z: 10, thickness: 3, outline: { rect: [0, 0, 100, 80] } }
const lid = { id: 'lid', z: 60, thickness: 3, outline: { rect: [0, 0, 100, 80] } }
const item = (id: string, more: object = {}) => ({ id, footprint: id, ...more })
const at = (x: number, y: number) => ({ place: [{ kind: 'at', deck: 'main', at: [x, y], turn: 0 }] })
const screwed = (hole: object) => ({
  mount: { kind: 'screw', standoff: 5, holes: [{ id: 'h', diameter: 3, ...hole }] },
})

describe('a conflict says by name and in millimetres what is asked', () => {
  it('of one body and the edge', () => {
    const settings = { edgeClearance: 2 }
    const tray = part('tray', 97, 60)
    expect(conflictOf({ settings, footprints: [tray], items: [item('tray')] })).toEqual([
      'tray must lie on deck base, at least 2 mm from the edge',
    ])
    const openings = [{ id: 'slot', shape: { rect: [40, 30, 20, 4] } }]
    const decks = (mayCover: boolean) => [{ ...base, openings: openings.map((o) => ({ ...o, mayCover })) }]
    const with2 = (mayCover: boolean) =>
      conflictOf({ settings, decks: decks(mayCover), footprints: [tray], items: [item('tray')] })
    expect(with2(false)).toEqual(['tray must lie on deck base, at least 2 mm from the edge and from the opening slot'])
    // a part stuck down covers no opening, whoever else may
    expect(with2(true)).toEqual([
      'tray must lie on deck base, at least 2 mm from the edge, and clear of the opening slot',
    ])
    expect(
      conflictOf({
        settings,
        decks: [{ ...base, openings }, lid],
        footprints: [part('tray', 120, 97, { mount: { kind: 'screw', standoff: 5, holes: [] } })],
        items: [item('tray', { overhang: { front: 4, left: 0.5 } })],
      }),
    ).toEqual([
      'tray must lie on deck base or deck lid, at least 2 mm from the edge and from the opening slot, though it may pass the edge by 4 mm at the front and 0.5 mm at the left',
    ])
    // of two openings it may cover one, which is not spoken of
    const round = { id: 'port', shape: { circle: [20, 20, 5] }, mayCover: true }
    const covering = part('tray', 97, 60, { mount: { kind: 'screw', standoff: 5, holes: [] } })
    expect(
      conflictOf({
        settings,
        decks: [{ ...base, openings: [...openings, round] }],
        footprints: [covering],
        items: [item('tray')],
      }),
    ).toEqual(['tray must lie on deck base, at least 2 mm from the edge and from the opening slot'])
    // a pass is an opening of two decks, and still one thing to name
    expect(
      conflictOf({
        decks: [base, lid],
        passes: [{ id: 'way', decks: ['main', 'lid'], at: [50, 40], diameter: 6 }],
        footprints: [part('tray', 90, 70)],
        items: [item('tray')],
      }),
    ).toEqual(['tray must lie wholly on deck base or deck lid and clear of the opening way'])
    expect(conflictOf({ footprints: [part('tray', 101, 60)], items: [item('tray')] })).toEqual([
      'tray must lie wholly on deck base',
    ])
  })

  it('of two bodies', () => {
    const two = { footprints: [part('cam', 50, 80), part('cell', 48, 80)], items: [item('cam'), item('cell')] }
    const apart = conflictOf({ ...two, settings: { itemClearance: 2.5 } })
    expect(apart).toContain('cam and cell must stand at least 2.5 mm apart')
    const over = { footprints: [part('cam', 60, 80), part('cell', 48, 80)], items: two.items }
    expect(conflictOf(over)).toContain('cam and cell must not overlap')
  })

  it('of corridors', () => {
    const corridors = [
      { id: 'usb', shape: { rect: [-40, 0, 40, 80] }, z: [0, 10], why: 'plug and cable' },
      { id: 'high', shape: { rect: [-40, 0, 40, 80] }, z: [30, 40], why: 'screwdriver' },
      { id: 'fuse', shape: { rect: [50, 0, 50, 80] }, z: [0, 10], why: 'fingers' },
    ]
    expect(
      conflictOf({
        footprints: [part('brain', 50, 80, { corridors }), part('cell', 48, 80)],
        items: [item('brain', at(50, 0)), item('cell', at(0, 0))],
      }),
    ).toContain('cell must stay out of the corridors usb (plug and cable) and fuse (fingers) of brain')
  })

  it('of zones, by their kind', () => {
    const shape = { rect: [0, 0, 100, 80] }
    const of = (zone: object) =>
      conflictOf({
        zones: [{ id: 'spot', deck: 'main', shape, ...zone }],
        footprints: [part('cell', 48, 80)],
        items: [item('cell')],
      })
    const said = (zone: object) => of(zone).filter((t) => t.includes('spot'))
    expect(said({ kind: 'reserved', why: 'an arm' })).toEqual(['cell must stay out of the reserved zone spot (an arm)'])
    expect(said({ kind: 'keep-out', z: [4, 30] })).toEqual([
      'cell must stay out of the keep-out zone spot from 4 mm to 30 mm over the deck',
    ])
    expect(said({ kind: 'view', z: [8, 50], why: 'camera' })).toEqual([
      'cell must stay out of the view spot (camera), or reach no higher than 8 mm over the deck',
    ])
    expect(said({ kind: 'view' })).toEqual(['cell must stay out of the view spot'])
  })

  it('of holes, cut-outs and slots', () => {
    const zones = [
      { id: 'motors', kind: 'underside', deck: 'main', shape: { rect: [0, 0, 100, 80] }, why: 'gearboxes' },
    ]
    const board = part('board', 40, 40, screwed({ at: [20, 20], land: 6 }))
    expect(conflictOf({ zones, footprints: [board], items: [item('board')] })).toEqual([
      'the holes of board must keep 2 mm of deck all around, have lands of 6 mm on solid deck and stay out of the underside zone motors (gearboxes)',
    ])
    const two = part('two', 40, 40, {
      mount: {
        kind: 'screw',
        standoff: 5,
        holes: [4, 8].map((land, k) => ({ id: `h${k}`, at: [10 + 5 * k, 20], diameter: 3, land })),
      },
    })
    expect(conflictOf({ footprints: [two], items: [item('two')] })).toEqual([
      'the holes of two must keep 2 mm of deck all around, have lands of 4 mm and 8 mm on solid deck and have these clear of one another',
    ])
    const strap = part('pack', 100, 40, { mount: { kind: 'strap', slots: [[0.5, 10, 3, 20]] } })
    expect(conflictOf({ footprints: [strap], items: [item('pack')] })).toContain(
      'the strap slots of pack must keep 2 mm of deck all around',
    )
    const edge = (id: string, hole: readonly number[]) => part(id, 50, 80, screwed({ at: hole }))
    expect(
      conflictOf({
        footprints: [edge('left', [48, 40]), edge('right', [2, 40])],
        items: [item('left', at(0, 0)), item('right', at(50, 0))],
        settings: { minWeb: 1.5 },
      }),
    ).toContain('the holes of left and right must keep 1.5 mm of deck between them')
    const tray = part('tray', 80, 60, { mount: { kind: 'drop-in', below: 5, cutout: [1, 1, 78, 58], holes: [] } })
    expect(
      conflictOf({
        footprints: [tray, part('post', 10, 80, screwed({ at: [9, 40] }))],
        items: [item('tray', at(10, 10)), item('post', at(0, 0))],
      }),
    ).toContain('the cut-out of tray and the holes of post must keep 2 mm of deck between them')
  })

  it('of wires', () => {
    const far = {
      footprints: [part('brain', 20, 20), part('driver', 20, 20)],
      items: [item('brain', at(0, 0)), item('driver', at(80, 0))],
    }
    const wire = { id: 'feed', from: { item: 'brain', terminal: 't' }, to: { item: 'driver', terminal: 't' } }
    expect(conflictOf({ ...far, wires: [{ ...wire, maxLength: 70, loop: 5.5 }] })).toContain(
      'wire feed must reach from brain to driver with at most 64.5 mm between its ends',
    )
    expect(conflictOf({ ...far, wires: [{ ...wire, maxLength: 70, loop: 80 }] })).toEqual([
      'wire feed must reach from brain to driver, though its loop alone takes 10 mm more than it may be long',
    ])
    const items = [item('brain', at(0, 0)), item('driver', { decks: ['lid'] })]
    expect(conflictOf({ ...far, items, decks: [base, lid], wires: [{ ...wire, maxLength: 300 }] })).toContain(
      'wire feed must reach from brain to driver with at most 300 mm between its ends, from deck to deck through a pass',
    )
    expect(conflictOf({ ...far, items, decks: [base, lid], wires: [wire] })).toContain(
      'wire feed must find a way from the deck of brain to that of driver',
    )
  })

  it('of height and a head that swings', () => {
    // 60 − 3 − 10 mm under the lid
    const tower = part('tower', 10, 10, { body: { width: 10, depth: 10, height: 49 }, above: 3 })
    const decks = [base, lid]
    const under = (footprint: object) =>
      conflictOf({ decks, footprints: [footprint], items: [item('tower', { decks: ['main'] })] })
    expect(under(tower)).toContain('tower lacks at least 5 mm of height to stand under deck lid')
    expect(under(part('tower', 10, 10, { above: 'open' }))).toContain(
      'nothing may hang over tower, so it cannot stand under deck lid',
    )
    const head = { pivot: [10, 10], pan: [-90, 90], reach: 45, tail: 12, z: [0, 60] }
    const pan = part('pan', 20, 20, { kind: 'head', head })
    const two = conflictOf({ footprints: [pan, part('cell', 100, 50)], items: [item('pan', at(40, 0)), item('cell')] })
    expect(two).toContain('pan must swing free of cell within 45 mm of its pivot')
    const lidded = conflictOf({ decks, footprints: [pan], items: [item('pan', { decks: ['main'], ...at(40, 30) })] })
    expect(lidded).toContain('pan must swing free of deck lid within 45 mm of its pivot')
    const wagging = { ...pan, head: { ...head, reach: 5, tail: 45 } }
    const near = conflictOf({
      footprints: [wagging, part('cell', 100, 50)],
      items: [item('pan', at(40, 0)), item('cell')],
    })
    expect(near).toContain('pan must swing free of cell within 45 mm of its pivot')
    const both = conflictOf({
      footprints: [pan, { ...pan, id: 'tilt' }],
      items: [item('pan', at(0, 30)), item('tilt', at(40, 30))],
    })
    expect(both).toContain('pan and tilt must swing free of each other, each within 45 mm of its pivot')
  })

  it('of where it is to stand', () => {
    const cell = part('cell', 48, 30)
    const of = (place: readonly object[]) =>
      conflictOf({
        footprints: [cell, part('brain', 40, 30)],
        items: [item('cell', { place }), item('brain', at(0, 0))],
      })
    expect(of([{ kind: 'inside', shape: { circle: [60, 40, 20] } }])).toContain(
      'cell must lie inside the area given for it, which is not all of the box from 40 mm, 20 mm to 80 mm, 60 mm',
    )
    expect(of([{ kind: 'near', item: 'brain', within: 12.5 }])).toContain(
      'cell must be within 12.5 mm of brain between centres',
    )
    expect(
      of([
        { kind: 'edge', edge: 'left', within: 10 },
        { kind: 'beyond', item: 'brain', side: 'right' },
      ]),
    ).toEqual(expect.arrayContaining(['cell must be within 10 mm of the left edge', 'cell must be right of brain']))
  })
})
