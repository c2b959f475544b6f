/** What buttons of the deck workshop add, and what is said of what overlaps. */
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { partsOf } from '../../src/model/edit-deck.ts'
import type { Project } from '../../src/model/index.ts'
import { added } from '../../src/store/deck-add.ts'
import { createDeckDraft, TOOLS } from '../../src/store/deck-draft.ts'
import { cutsIn, outsidePlate, overlapsIn } from '../../src/store/deck-worries.ts'

const plate = { id: 'main', z: 50, thickness: 3, outline: { rect: [0, 0, 100, 60] } }
const of = (deck: object = {}, more: object = {}): Project =>
  ({
    format: 'deckwright-project',
    version: 1,
    units: 'mm',
    name: 'x',
    decks: [{ ...plate, ...deck }],
    items: [],
    ...more,
  }) as unknown as Project

const MAKES = TOOLS.filter((t) => t !== 'move')
type Makes = (typeof MAKES)[number]
const draft = createDeckDraft('main').getState()
const having = (start: Project, ...tools: Makes[]): Project =>
  tools.reduce((now, tool) => added(now, draft, tool)?.project ?? now, start)
const holesAt = (p: Project) => partsOf(p, 'holes', 'main').map((h) => h.at)

describe('what a button adds', () => {
  it('stands in the middle of an empty plate', () => {
    expect(holesAt(having(of(), 'hole'))).toEqual([[50, 30]])
    expect(having(of(), 'opening').decks[0]?.openings?.[0]?.shape).toEqual({ rect: [40, 25, 20, 10], radius: 1 })
    expect(having(of(), 'slot').decks[0]?.openings).toEqual([
      { id: 'slot-1', shape: { rect: [40, 28, 20, 4], radius: 2 } },
    ])
  })

  it('stands at the nearest place where nothing is, with the web that the project asks for between', () => {
    // ⌀ 3.4 with 2 mm between: 1.7 + 2 + 1.7 = 5.4, in whole millimetres 6 to the right.
    expect(holesAt(having(of(), 'hole', 'hole'))).toEqual([
      [50, 30],
      [56, 30],
    ])
    // 8 to the right and 4 to the front: √80 < 9, and from the corner of the square round it √(6.3² + 2.3²) = 6.71 ≥ 1.7 + 5.
    expect(holesAt(having(of({}, { settings: { minWeb: 5 } }), 'hole', 'hole'))[1]).toEqual([58, 34])
    // Over a slot 4 mm high an opening 10 mm high: 2 + 2 + 5 = 9 to the front, nearer than 10 + 2 + 10 to the right.
    expect(having(of(), 'slot', 'opening').decks[0]?.openings?.[1]?.shape).toEqual({
      rect: [40, 34, 20, 10],
      radius: 1,
    })
  })

  it('overlaps nothing and stays on the plate, whatever is added, until there is no room', () => {
    const two = of({}, { decks: [plate, { ...plate, id: 'roof', z: 90, outline: { rect: [20, 10, 100, 60] } }] })
    const all = having(two, ...MAKES, ...MAKES, ...MAKES)
    for (const deck of ['main', 'roof']) {
      expect([...overlapsIn(all, deck)]).toEqual([])
      for (const { part, id } of cutsIn(all, deck))
        expect([deck, id, outsidePlate(all, deck, part, id)]).toEqual([deck, id, false])
    }
    expect(
      partsOf(all, 'zones', 'main')
        .filter((z) => z.why === undefined)
        .map((z) => z.shape),
    ).toHaveLength(3)
    expect(all).toEqual(having(two, ...MAKES, ...MAKES, ...MAKES))
    const small = of({ outline: { rect: [0, 0, 8, 8] } })
    // 3.4 + 2 on each side leaves no second place on 8 mm.
    expect(holesAt(having(small, 'hole', 'hole'))).toEqual([
      [4, 4],
      [4, 4],
    ])
    expect([...overlapsIn(having(small, 'hole', 'hole'), 'main')]).toEqual([
      ['holes hole-1', ['hole-2']],
      ['holes hole-2', ['hole-1']],
    ])
  })

  it('is on the plate where its middle is not, and no hole where none may be', () => {
    const corner = [
      [0, 0],
      [100, 0],
      [100, 15],
      [15, 15],
      [15, 60],
      [0, 60],
    ]
    const made = having(of({ outline: { polygon: corner } }), 'hole')
    expect(outsidePlate(made, 'main', 'holes', 'hole-1')).toBe(false)
    const motor = { id: 'motor', kind: 'underside', deck: 'main', shape: { rect: [30, 20, 40, 20] } }
    // 20 + 2 + 1.7 to the front or to the back of the middle are farther than 10 + 2 + 1.7 = 13.7, so 14.
    expect(holesAt(having(of({}, { zones: [motor] }), 'hole'))).toEqual([[50, 44]])
    expect(having(of({}, { zones: [motor] }), 'lead').exits?.[0]?.at).toEqual([50, 30])
  })
})

describe('what overlaps', () => {
  const over = (deck: object, more: object = {}) => Object.fromEntries(overlapsIn(of(deck, more), 'main'))
  const opening = (id: string, shape: object) => ({ id, shape })
  const hole = (id: string, x: number, y: number, diameter = 4) => ({ id, at: [x, y], diameter })

  it('is told of both, where they share more than an edge', () => {
    const openings = [opening('a', { rect: [10, 10, 20, 20] }), opening('b', { rect: [29, 10, 20, 20] })]
    expect(over({ openings })).toEqual({ 'openings a': ['b'], 'openings b': ['a'] })
    expect(over({ openings: [openings[0], opening('b', { rect: [30, 10, 20, 20] })] })).toEqual({})
    // Over the edge at 30: the hole at 31 with 2 mm round it does, at 32 it touches.
    expect(over({ openings: [openings[0]], holes: [hole('h', 31, 20)] })).toEqual({
      'openings a': ['h'],
      'holes h': ['a'],
    })
    expect(over({ openings: [openings[0]], holes: [hole('h', 32, 20)] })).toEqual({})
    // One in another of its kind makes nothing.
    expect(over({ openings: [openings[0], opening('in', { circle: [20, 20, 5] })] })).toEqual({
      'openings a': ['in'],
      'openings in': ['a'],
    })
    expect(over({ holes: [hole('h', 20, 20), hole('i', 20, 20)] })).toEqual({ 'holes h': ['i'], 'holes i': ['h'] })
  })

  it('is not told of a hole to begin a cut-out at, or a lead through what is open', () => {
    const openings = [opening('a', { rect: [10, 10, 20, 20] })]
    // At 28 the hole of 4 mm touches the opening's edge from inside.
    expect(over({ openings, holes: [hole('h', 28, 20)] })).toEqual({})
    const lead = (diameter?: number) => ({
      exits: [{ id: 'e', deck: 'main', at: [20, 20], ...(diameter ? { diameter } : {}) }],
    })
    expect(over({ openings }, lead(6))).toEqual({})
    expect(over({ openings }, lead())).toEqual({})
    expect(over({ holes: [hole('h', 20, 20, 6)] }, lead(6))).toEqual({})
    expect(over({ holes: [hole('h', 22, 20, 6)] }, lead(6))).toEqual({ 'holes h': ['e'], 'exits e': ['h'] })
    expect(
      over({ openings }, { zones: [{ id: 'z', kind: 'view', deck: 'main', shape: { rect: [0, 0, 90, 50] } }] }),
    ).toEqual({})
  })

  it('is nothing in the robots that are handed out', () => {
    const folder = join(import.meta.dirname, '../../demo-data')
    const robots = readdirSync(folder)
      .filter((name) => name.endsWith('.json'))
      .map((name) => JSON.parse(readFileSync(join(folder, name), 'utf8')) as Project)
      .filter((p) => Array.isArray(p.decks))
    expect(robots.length).toBeGreaterThan(3)
    const told = robots.flatMap((p) =>
      p.decks.flatMap((d) => [...overlapsIn(p, d.id)].map((o) => [p.name, d.id, ...o])),
    )
    expect(told).toEqual([])
  })
})
