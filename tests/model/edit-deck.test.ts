import { describe, expect, it } from 'vitest'
import type { ShapeFile } from '../../footprints/fields.ts'
import { shapeToSolver } from '../../footprints/fields.ts'
import { loadLibrary } from '../../footprints/load.ts'
import { area, bounds, prepare } from '../../solver/index.ts'
import * as edit from '../../src/model/edit-deck.ts'
import {
  formOf,
  kindOf,
  movedShape,
  movePart,
  rectBetween,
  shapeOf,
  slotShape,
  snapped,
} from '../../src/model/edit-shapes.ts'
import { type Project, readProject, writeProject } from '../../src/model/index.ts'
import { words } from '../../src/words/index.ts'
import fc from '../seeded.ts'

const library = loadLibrary()

/** An invented two-storey robot, in which everything names something. */
const project = {
  format: 'deckwright-project',
  version: 1,
  units: 'mm',
  name: 'Dew counter',
  decks: [
    {
      id: 'low',
      z: 50,
      thickness: 3,
      outline: { rect: [0, 0, 100, 60], radius: 5 },
      openings: [{ id: 'window', shape: { rect: [10, 10, 20, 8] } }],
      holes: [{ id: 'hole-1', at: [5, 5], diameter: 3.4 }],
    },
    { id: 'high', name: 'roof', z: 110, thickness: 3, outline: { rect: [0, 0, 80, 60] } },
  ],
  exits: [
    { id: 'left', deck: 'low', at: [20, 30], free: 120 },
    { id: 'top', deck: 'high', at: [20, 30] },
  ],
  passes: [{ id: 'up', decks: ['low', 'high'], at: [50, 50], diameter: 8 }],
  footprints: [
    {
      format: 'deckwright-footprint',
      version: 1,
      id: 'brick',
      name: 'brick',
      source: 'invented',
      kind: 'part',
      body: { width: 20, depth: 10, height: 5 },
      mount: { kind: 'adhesive' },
      terminals: [{ id: 't', at: [1, 1] }],
    },
  ],
  items: [
    { id: 'one', footprint: 'brick', decks: ['high'], place: [{ kind: 'at', deck: 'high', at: [4, 4] }] },
    { id: 'two', footprint: 'brick' },
  ],
  zones: [
    { id: 'gear', kind: 'underside', deck: 'low', shape: { rect: [40, 0, 20, 20] }, why: 'gearbox' },
    { id: 'view', kind: 'view', deck: 'high', shape: { circle: [40, 30, 10] } },
  ],
  wires: [
    { id: 'w1', from: { exit: 'left' }, to: { item: 'two', terminal: 't' } },
    { id: 'w2', from: { exit: 'top' }, to: { item: 'one', terminal: 't' } },
  ],
  nets: [
    { id: 'n', ends: [{ exit: 'left' }, { exit: 'top' }] },
    { id: 'm', ends: [{ exit: 'left' }, { item: 'one', terminal: 't' }, { exit: 'top' }] },
  ],
  variants: [
    { id: 'a', release: ['gear'], wires: { w2: { loop: 5 } } },
    {
      id: 'b',
      drop: ['high'],
      items: { one: { decks: ['low'], place: [] } },
      wires: { w2: null },
      decks: { high: { z: 120 } },
    },
  ],
} as unknown as Project

/** The document as a file reads it back; throws what is wrong with it. */
const sound = (now: Project): Project => {
  const read = readProject(writeProject(now), 'dew.json', library)
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return read.value
}

describe('edits of decks', () => {
  it('begin from a sound document and never change the one given', () => {
    const before = JSON.stringify(sound(project))
    edit.removeDeck(project, 'high')
    edit.removePart(project, 'exits', 'left')
    edit.renamePart(project, 'low', 'exits', 'left', 'motor')
    expect(JSON.stringify(project)).toBe(before)
  })

  it('set and take away fields', () => {
    const thick = sound(edit.setDeck(project, 'high', { thickness: 5, name: undefined, material: 'birch plywood' }))
    expect(thick.decks[1]).toMatchObject({ thickness: 5, material: 'birch plywood' })
    expect(thick.decks[1]).not.toHaveProperty('name')
    expect(thick.decks[0]).toEqual(project.decks[0])
  })

  it('resize a rectangle at its corner, with corners as round as there is room', () => {
    const rect: ShapeFile = { rect: [3, 4, 100, 60], radius: 10 }
    expect(edit.resized(rect, { width: 165.1 })).toEqual({ rect: [3, 4, 165.1, 60], radius: 10 })
    expect(edit.resized(rect, { depth: 15 })).toEqual({ rect: [3, 4, 100, 15], radius: 7.5 })
    expect(edit.resized(rect, { radius: 0 })).toEqual({ rect: [3, 4, 100, 60] })
    const round: ShapeFile = { circle: [0, 0, 5] }
    expect(edit.resized(round, { width: 3 })).toBe(round)
  })

  it('add a plain deck and copy one with its holes, over all others', () => {
    const plain = edit.addDeck(project, 'low')
    expect(plain.id).toBe('deck-3')
    // one of that name, and one of the next id, are there already
    const named = { ...plain.project, decks: [...project.decks, { ...project.decks[0]!, id: 'x', name: 'deck 4' }] }
    const more = { ...named, decks: [...named.decks.slice(1), { ...project.decks[0]!, id: 'deck-5' }] }
    expect(edit.addDeck(more, 'x')).toMatchObject({
      id: 'deck-6',
      project: { decks: [{}, {}, {}, { name: 'deck 6' }] },
    })
    expect(sound(plain.project).decks[2]).toEqual({
      id: plain.id,
      name: 'deck 3',
      z: 160,
      thickness: 3,
      outline: { rect: [0, 0, 100, 60], radius: 5 },
    })
    const copy = edit.copyDeck(project, 'low')
    expect(sound(copy.project).decks[2]).toMatchObject({
      id: 'low-2',
      holes: project.decks[0]!.holes,
      openings: project.decks[0]!.openings,
    })
  })

  it('remove a deck with all that hangs on it, and nothing else', () => {
    expect(edit.goesWith(project, 'high')).toEqual({ zones: ['view'], exits: ['top'], passes: ['up'], wires: ['w2'] })
    const now = sound(edit.removeDeck(project, 'high'))
    expect(now.decks.map((d) => d.id)).toEqual(['low'])
    expect(now.exits?.map((e) => e.id)).toEqual(['left'])
    expect(now.passes).toEqual([])
    expect(now.zones?.map((z) => z.id)).toEqual(['gear'])
    expect(now.wires?.map((w) => w.id)).toEqual(['w1'])
    expect(now.nets?.map((n) => n.id)).toEqual(['m'])
    expect(now.items[0]).toEqual({ id: 'one', footprint: 'brick', place: [] })
    expect(now.variants?.[1]).toMatchObject({ drop: [], decks: {}, wires: {} })
    expect(edit.removeDeck(now, 'low')).toBe(now)
  })

  it('remove an exit, or its deck, that only a variant has a wire end at', () => {
    const wires = { w1: { from: { exit: 'top' }, loop: 5 } }
    const moved = sound({ ...project, variants: [{ id: 'a', wires }, { id: 'b' }] })
    for (const now of [edit.removePart(moved, 'exits', 'top'), edit.removeDeck(moved, 'high')])
      expect(sound(now).variants?.[0]?.wires).toEqual({ w1: { loop: 5 } })
  })

  it('remove the one deck that a variant had left: it has the others again', () => {
    const now = sound(edit.removeDeck(project, 'low'))
    expect(now.decks.map((d) => d.id)).toEqual(['high'])
    expect(now.variants?.[1]?.drop).toEqual([])
    expect(now.items[0]?.decks).toEqual(['high'])
  })

  it('add parts under ids that are free, over holes and openings of a deck together', () => {
    const one = edit.addPart(project, 'low', 'holes', { at: [9, 9], diameter: 3 })
    expect(one.id).toBe('hole-2')
    const two = edit.addPart(one.project, 'high', 'zones', {
      kind: 'reserved',
      deck: 'high',
      shape: { rect: [0, 0, 5, 5] },
    })
    const three = edit.addPart(two.project, 'high', 'openings', { shape: { circle: [60, 30, 4] } })
    const four = edit.addPart(three.project, 'low', 'exits', { deck: 'low', at: [70, 20], free: 150 })
    const five = edit.addPart(four.project, 'low', 'passes', { decks: ['low', 'high'], at: [60, 50] })
    expect([two.id, three.id, four.id, five.id]).toEqual(['zone-1', 'opening-1', 'lead-1', 'pass-1'])
    const now = sound(five.project)
    expect(edit.partsOf(now, 'holes', 'low')).toHaveLength(2)
    expect(edit.partsOf(now, 'passes', 'high').map((p) => p.id)).toEqual(['up', 'pass-1'])
    expect(edit.partsOf(now, 'zones', 'high').map((z) => z.id)).toEqual(['view', 'zone-1'])
  })

  it('put a pillar into both decks, at one place and under one id', () => {
    const { project: now, id } = edit.addPillar(project, ['low', 'high'], [70, 50], 3.4, 0)
    const hole = { id, at: [70, 50], diameter: 3.4 }
    expect(sound(now).decks.map((d) => d.holes?.at(-1))).toEqual([hole, hole])
    expect(now.zones).toEqual(project.zones)
  })

  it('and keep parts out where it stands', () => {
    const { project: now } = edit.addPillar(project, ['low', 'high'], [70, 50], 3.4, 8)
    const zone = { kind: 'keep-out', shape: { circle: [70, 50, 4] }, why: 'a pillar stands here' }
    expect(sound(now).zones?.slice(-2)).toEqual([
      { ...zone, id: 'pillar-1-low', deck: 'low' },
      { ...zone, id: 'pillar-1-high', deck: 'high' },
    ])
    const second = edit.addPillar(now, ['low', 'high'], [20, 20], 3.4, 8)
    expect(sound(second.project).zones?.at(-1)?.id).toBe('pillar-2-high')
  })

  it('know which names are given already', () => {
    const [hole] = project.decks[0]!.holes!
    expect(edit.nameFault(project, 'low', 'holes', 'other', hole!.id)).toBe('taken')
    expect(edit.nameFault(project, 'low', 'holes', hole!.id, hole!.id)).toBeUndefined()
    expect(edit.nameFault(project, 'high', 'holes', 'other', hole!.id)).toBeUndefined()
    expect(edit.nameFault(project, 'low', 'zones', 'other', 'view')).toBe('taken')
    expect(edit.nameFault(project, 'low', 'passes', 'other', 'view')).toBeUndefined()
    // what a file may not have as an id either is told in words, and not by a file's path
    expect(edit.nameFault(project, 'low', 'holes', hole!.id, 'a#b')).toBe('sign')
    expect(edit.nameFault(project, 'low', 'holes', hole!.id, '')).toBe('empty')
    for (const fault of ['taken', 'sign', 'empty'] as const)
      expect(words.deck.nameWrong[fault]('a#b')).not.toMatch(/\[|\.id:|expected/)
    expect(words.deck.refused('a', 'b')).not.toContain('[')
  })

  it('rename an exit in all that names it', () => {
    const now = sound(edit.renamePart(project, 'low', 'exits', 'left', 'motor'))
    expect(now.wires?.[0]?.from).toEqual({ exit: 'motor' })
    expect(now.nets?.map((n) => n.ends[0])).toEqual([{ exit: 'motor' }, { exit: 'motor' }])
    expect(sound(edit.renamePart(project, 'low', 'zones', 'gear', 'motors')).variants?.[0]?.release).toEqual(['motors'])
  })

  it('remove a part with what names it', () => {
    expect(edit.wiresAt(project, 'left')).toEqual(['w1'])
    const now = sound(edit.removePart(edit.removePart(project, 'exits', 'left'), 'zones', 'gear'))
    expect(now.wires?.map((w) => w.id)).toEqual(['w2'])
    expect(now.nets).toEqual([{ id: 'm', ends: [{ item: 'one', terminal: 't' }, { exit: 'top' }] }])
    expect(now.variants?.[0]?.release).toEqual([])
    expect(sound(edit.removePart(project, 'holes', 'hole-1', 'low')).decks[0]).not.toHaveProperty('holes')
  })

  it('give a chassis to type into, and take it away', () => {
    const chassis = edit.chassisFrom([0, 0, 100, 60], 50)
    expect(chassis.centre).toEqual([50, 30, 25])
    const with_ = sound(edit.setChassis(project, { ...chassis, mass: 600 }))
    expect(with_.chassis?.contact).toHaveLength(4)
    expect(edit.setChassis(with_, undefined)).not.toHaveProperty('chassis')
    // it stands under the lowest deck, wherever that is in the file
    const [low, high] = project.decks
    expect(edit.lowestDeck({ ...project, decks: [high!, low!] })).toBe(low!.z < high!.z ? low : high)
  })
})

describe('shapes as they are typed', () => {
  const size = fc.integer({ min: 1, max: 400_000 }).map((n) => n / 1000)
  const place = fc.integer({ min: -200_000, max: 200_000 }).map((n) => n / 1000)

  it('come back as they were typed', () => {
    fc.assert(
      fc.property(place, place, size, size, (x, y, width, depth) => {
        const radius = Math.floor(Math.min(width, depth) * 300) / 1000
        const rect = { kind: 'rect', x, y, width, depth, radius } as const
        expect(formOf(shapeOf(rect)!)).toEqual(rect)
        const round = { kind: 'round', x, y, diameter: 2 * width } as const
        expect(formOf(shapeOf(round)!)).toEqual({ ...round, diameter: Math.round(2000 * width) / 1000 })
      }),
    )
  })

  it('make slots of the area that a rectangle with two half circles has, wherever they point', () => {
    fc.assert(
      fc.property(
        fc.tuple(place, place),
        fc.tuple(place, place),
        fc.integer({ min: 1000, max: 20_000 }).map((n) => n / 1000),
        (from, to, width) => {
          const length = Math.hypot(to[0] - from[0], to[1] - from[1])
          fc.pre(length > 1)
          const got = area(shapeToSolver(slotShape(from, to, width))) / 1e6
          const exact = length * width + (Math.PI * width * width) / 4
          // Corners are rounded to 1 µm: an edge may move by as much.
          expect(Math.abs(got - exact)).toBeLessThan(0.002 * (2 * length + Math.PI * width) + 0.001)
        },
      ),
    )
  })

  it('go by what they look like: slots, round ones and others', () => {
    const called = (shape: ShapeFile, more = {}) => kindOf('openings', { id: 'x', shape, ...more })
    expect(called(slotShape([10, 20], [40, 35], 4))).toBe('slots')
    expect(called(slotShape([10, 20], [40, 20], 4))).toBe('slots')
    expect(called({ rect: [0, 0, 20, 3.333], radius: 1.666 })).toBe('slots')
    expect(called({ rect: [0, 0, 16, 3] }, { strap: true })).toBe('slots')
    expect(called({ circle: [10, 20, 6] })).toBe('rounds')
    expect(called({ rect: [0, 0, 12, 12], radius: 6 })).toBe('rounds')
    expect(called({ rect: [0, 0, 20, 10], radius: 1 })).toBe('openings')
    expect(called({ sector: [0, 0, 9, 0, 90] })).toBe('openings')
    expect(kindOf('zones', { id: 'x', shape: slotShape([10, 20], [40, 20], 4) })).toBe('zones')
    expect(kindOf('holes', { id: 'slot-1' })).toBe('holes')
  })

  it('read slots back by their ends, within a micrometre', () => {
    const slot = formOf(slotShape([10, 20], [40, 35], 4))
    if (slot.kind !== 'slot') throw new Error(slot.kind)
    for (const [got, typed] of [
      [slot.from[0], 10],
      [slot.from[1], 20],
      [slot.to[0], 40],
      [slot.to[1], 35],
      [slot.width, 4],
    ] as const)
      expect(Math.abs(got - typed)).toBeLessThan(0.0021)
    expect(slotShape([10, 20], [40, 20], 4)).toEqual({ rect: [8, 18, 34, 4], radius: 2 })
    expect(slotShape([10, 20], [10, 20], 4)).toEqual({ circle: [10, 20, 2] })
  })

  it('are dragged from any corner to any other', () => {
    expect(rectBetween([30, 5], [10, 25])).toEqual({ rect: [10, 5, 20, 20] })
    expect(rectBetween([30, 5], [30, 25])).toBeUndefined()
    expect(snapped([1.26, -0.74], 0.5)).toEqual([1.5, -0.5])
    expect(snapped([1.2345, 2], 0)).toEqual([1.235, 2])
  })

  it('move without changing their form', () => {
    const shapes: ShapeFile[] = [
      { rect: [1, 2, 30, 40], radius: 3 },
      { circle: [5, 6, 7] },
      slotShape([0, 0], [10, 7], 3),
      { sector: [1, 1, 5, 30, 120] },
    ]
    for (const shape of shapes) {
      const [a, b] = [shape, movedShape(shape, 2.5, -1.25)].map((s) => bounds(prepare(shapeToSolver(s))))
      expect([b!.x - a!.x, b!.y - a!.y, b!.w - a!.w, b!.h - a!.h]).toEqual([2500, -1250, 0, 0])
      expect(movedShape(movedShape(shape, 2.5, -1.25), -2.5, 1.25)).toEqual(shape)
    }
    expect(sound(movePart(project, 'low', 'holes', 'hole-1', 1, 2)).decks[0]!.holes![0]!.at).toEqual([6, 7])
    expect(sound(movePart(project, 'low', 'zones', 'gear', 1, 2)).zones![0]!.shape).toEqual({ rect: [41, 2, 20, 20] })
    expect(movePart(project, 'low', 'holes', 'nothing', 1, 2)).toBe(project)
  })
})
