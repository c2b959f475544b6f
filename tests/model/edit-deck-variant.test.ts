import { describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import { addPart, addPillar, copyDeck, partsOf, removeDeck, removePart, setDeck } from '../../src/model/edit-deck.ts'
import * as edit from '../../src/model/edit-deck-variant.ts'
import { applyVariant, type Project, readProject, writeProject } from '../../src/model/index.ts'

const library = loadLibrary()

/** Invented: two decks, three variants. */
const project = {
  format: 'deckwright-project',
  version: 1,
  units: 'mm',
  name: 'Leaf lifter',
  decks: [
    {
      id: 'low',
      z: 50,
      thickness: 3,
      outline: { rect: [0, 0, 100, 60] },
      holes: [{ id: 'hole-1', at: [5, 5], diameter: 3.4 }],
    },
    { id: 'high', z: 110, thickness: 3, outline: { rect: [0, 0, 80, 60] } },
  ],
  exits: [{ id: 'left', deck: 'low', at: [20, 30], free: 120 }],
  items: [],
  variants: [
    { id: 'plain' },
    { id: 'wide', decks: { low: { outline: { rect: [0, 0, 140, 60] } } } },
    { id: 'flat', drop: ['high'] },
  ],
} as unknown as Project

const sound = (now: Project): Project => {
  const read = readProject(writeProject(now), 'leaf.json', library)
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return read.value
}
/** An edit of what is seen in a variant, as the workshop makes it. */
const made = (variant: string, only: boolean, change: (seen: Project) => Project, from = project): Project =>
  sound(edit.written(from, variant, only, change(edit.seenIn(from, variant))))
const deckIn = (now: Project, variant: string, deck = 'low') => {
  return applyVariant(now, variant).decks.find((d) => d.id === deck)!
}

describe('decks of one variant', () => {
  it('are seen as it has them', () => {
    expect(edit.seenIn(project, 'plain')).toBe(project)
    expect(edit.seenIn(project, 'wide').decks[0]?.outline).toEqual({ rect: [0, 0, 140, 60] })
    expect(edit.seenIn(project, 'wide').decks[0]?.holes).toEqual(project.decks[0]?.holes)
    // A deck that is left out is still there to be worked on.
    expect(edit.seenIn(project, 'flat').decks).toHaveLength(2)
  })

  it('are edited where the field is written', () => {
    const narrow = (p: Project) => setDeck(p, 'low', { outline: { rect: [0, 0, 90, 60] } })
    const base = made('plain', false, narrow)
    expect(['plain', 'wide', 'flat'].map((v) => deckIn(base, v).outline)).toEqual([
      { rect: [0, 0, 90, 60] },
      { rect: [0, 0, 140, 60] },
      { rect: [0, 0, 90, 60] },
    ])
    const wide = made('wide', false, narrow)
    expect(wide.decks).toEqual(project.decks)
    expect(deckIn(wide, 'wide').outline).toEqual({ rect: [0, 0, 90, 60] })
    // The holes of that variant are everybody's.
    const holed = made('wide', false, (p) => addPart(p, 'low', 'holes', { at: [130, 5], diameter: 3 }).project)
    expect(holed.decks[0]?.holes).toHaveLength(2)
    expect(holed.decks[0]?.outline).toEqual(project.decks[0]?.outline)
    expect(holed.variants).toEqual(project.variants)
  })

  it('are edited in the variant alone where the user says so', () => {
    const one = made('plain', true, (p) => addPart(p, 'low', 'holes', { at: [50, 5], diameter: 3 }).project)
    expect(one.decks).toEqual(project.decks)
    expect(deckIn(one, 'plain').holes).toHaveLength(2)
    expect(deckIn(one, 'flat').holes).toHaveLength(1)
    expect(one.variants?.[0]).toEqual({
      id: 'plain',
      decks: { low: { holes: [project.decks[0]!.holes![0], { id: 'hole-2', at: [50, 5], diameter: 3 }] } },
    })
    // From then on without saying it.
    const two = made('plain', false, (p) => removePart(p, 'holes', 'hole-1', 'low'), one)
    expect(deckIn(two, 'plain').holes).toHaveLength(1)
    expect(deckIn(two, 'wide').holes).toHaveLength(1)
    // None at all is said, or the base's would be there.
    const none = made('plain', false, (p) => removePart(p, 'holes', partsOf(p, 'holes', 'low')[0]!.id, 'low'), two)
    expect(deckIn(none, 'plain').holes).toEqual([])
    expect(edit.asInAll(none, 'plain', 'low').variants?.[0]).toEqual({ id: 'plain' })
    const pillar = made('plain', true, (p) => addPillar(p, ['low', 'high'], [40, 40], 3.4, 8).project)
    expect(Object.keys(pillar.variants![0]!.decks!)).toEqual(['low', 'high'])
    expect(pillar.decks).toEqual(project.decks)
  })

  it('say of a text that was taken away that there is none', () => {
    const named = setDeck(project, 'low', { name: 'belly', material: 'plywood' })
    const now = made('plain', true, (p) => setDeck(p, 'low', { name: undefined, material: undefined }), named)
    expect(deckIn(now, 'plain')).toMatchObject({ name: 'low', material: '' })
    expect(deckIn(now, 'wide')).toMatchObject({ name: 'belly', material: 'plywood' })
    const both = made('plain', false, (p) => setDeck(p, 'low', { material: undefined }), named)
    expect(both.decks[0]).not.toHaveProperty('material')
  })

  it('leave what is no deck alone, and new and removed decks to all', () => {
    const copy = made('wide', true, (p) => copyDeck(p, 'low').project)
    expect(copy.decks[2]).toMatchObject({ id: 'low-2', outline: { rect: [0, 0, 140, 60] } })
    expect(copy.variants).toEqual(project.variants)
    const gone = made('wide', true, (p) => removeDeck(p, 'low'))
    expect(gone.decks.map((d) => d.id)).toEqual(['high'])
    expect(gone.variants?.map((v) => [v.decks, v.drop])).toEqual([
      [undefined, undefined],
      [{}, undefined],
      [undefined, []],
    ])
    const { variants: _, ...single } = project
    const base = made('base', true, (p) => setDeck(p, 'low', { z: 60 }), single as Project)
    expect(base.decks[0]?.z).toBe(60)
    expect(base).not.toHaveProperty('variants')
    expect(edit.written(project, 'wide', true, edit.seenIn(project, 'wide'))).toEqual(project)
  })

  it('tell where a change holds', () => {
    const shape = ['outline', 'openings', 'holes']
    expect(edit.holdsOf(project, 'plain', false, 'low')).toEqual([
      { fields: ['outline'], here: false, but: ['wide'] },
      { fields: ['openings', 'holes'], here: false, but: [] },
    ])
    expect(edit.holdsOf(project, 'wide', false, 'low')).toEqual([
      { fields: ['outline'], here: true, but: [] },
      { fields: ['openings', 'holes'], here: false, but: [] },
    ])
    expect(edit.holdsOf(project, 'plain', true, 'low')).toEqual([{ fields: shape, here: true, but: [] }])
    const taller = { ...project, variants: [{ id: 'plain', decks: { low: { z: 60 } } }] } as Project
    expect(edit.holdsOf(taller, 'plain', false, 'low')).toEqual([
      { fields: shape, here: false, but: [] },
      { fields: ['z'], here: true, but: [] },
    ])
    expect(edit.ownDeckFields(taller, 'plain', 'low')).toEqual(['z'])
    const { variants: _, ...single } = project
    expect(edit.holdsOf(single as Project, 'base', true, 'low')).toEqual([{ fields: shape, here: false, but: [] }])
  })

  it('are left out and brought back', () => {
    const out = sound(edit.leaveOut(project, 'plain', 'high', true))
    expect(applyVariant(out, 'plain').decks.map((d) => d.id)).toEqual(['low'])
    expect(edit.leftOutBy(out, 'high')).toEqual(['plain', 'flat'])
    expect(edit.leaveOut(out, 'plain', 'high', false)).toEqual(project)
  })
})
