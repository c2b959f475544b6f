import { describe, expect, it } from 'vitest'
import { asPolygon, withShapeAt } from '../../src/model/edit-corners.ts'
import {
  addDeck,
  chassisFrom,
  copyDeck,
  removeDeck,
  renamePart,
  resized,
  setChassis,
  setDeck,
} from '../../src/model/edit-deck.ts'
import { leaveOut, seenIn, written } from '../../src/model/edit-deck-variant.ts'
import { formOf } from '../../src/model/edit-shapes.ts'
import { copyVariant } from '../../src/model/edit-variants.ts'
import { applyVariant, type Project } from '../../src/model/index.ts'
import { firstLaid, withUnderlay } from '../../src/model/underlay.ts'
import {
  cornerFrom,
  createDeckDraft,
  type DraftCorner,
  dragBy,
  dragFrom,
  draggedCorners,
  dragTo,
  dropped,
  onDeck,
  otherDeck,
  partOf,
  TOOLS,
  type Tool,
} from '../../src/store/deck-draft.ts'
import { project as sample, solvedSample } from './store-sample.ts'

const project = {
  ...sample,
  decks: [...sample.decks, { id: 'roof', z: 90, thickness: 3, outline: { rect: [0, 0, 100, 60] } }],
} as unknown as Project

/** What a drag over so much makes. */
const dragged = (tool: Tool, from: readonly [number, number], to: readonly [number, number], p = project) => {
  const store = createDeckDraft('main')
  store.setState({ tool })
  store.setState(dragFrom(store.getState(), from))
  store.setState(dragTo(store.getState(), to))
  return dropped(p, store.getState())
}

describe('drags in the deck workshop', () => {
  it('make what the tool says, snapped to whole millimetres', () => {
    const opening = dragged('opening', [30.4, 40.2], [10.1, 19.6])
    expect(opening?.project.decks[0]?.openings).toEqual([
      { id: 'opening-1', shape: { rect: [10, 20, 20, 20], radius: 1 } },
    ])
    expect(dragged('slot', [10, 10], [30, 10])?.project.decks[0]?.openings).toEqual([
      { id: 'slot-1', shape: { rect: [8, 8, 24, 4], radius: 2 } },
    ])
    expect(dragged('round', [10, 10], [13, 14])?.project.decks[0]?.openings?.[0]?.shape).toEqual({
      circle: [10, 10, 5],
    })
    expect(dragged('hole', [10.3, 10], [12.2, 9.9])?.project.decks[0]?.holes).toEqual([
      { id: 'hole-1', at: [12, 10], diameter: 3.4 },
    ])
    expect(dragged('lead', [10, 10], [10, 10])?.project.exits).toEqual([
      { id: 'lead-1', deck: 'main', at: [10, 10], free: 150 },
    ])
    expect(dragged('zone', [0, 0], [10, 10])?.project.zones).toEqual([
      { id: 'zone-1', kind: 'keep-out', deck: 'main', shape: { rect: [0, 0, 10, 10] } },
    ])
    expect(dragged('pass', [50, 30], [50, 30])?.project.passes?.[0]?.decks).toEqual(['main', 'roof'])
    const pillar = dragged('pillar', [50, 30], [50, 30])
    expect(pillar?.project.decks.map((d) => d.holes?.[0]?.at)).toEqual([
      [50, 30],
      [50, 30],
    ])
    expect(pillar?.project.zones?.map((z) => [z.deck, z.kind, z.shape])).toEqual([
      ['main', 'keep-out', { circle: [50, 30, 4] }],
      ['roof', 'keep-out', { circle: [50, 30, 4] }],
    ])
  })

  it('make nothing where there is nothing to make', () => {
    for (const tool of ['opening', 'slot', 'round', 'zone', 'move'] as const)
      expect(dragged(tool, [10, 10], [10.2, 10.2])).toBeUndefined()
    const one = { ...project, decks: project.decks.slice(0, 1) }
    expect(dragged('pillar', [50, 30], [50, 30], one)).toBeUndefined()
    expect(dragged('pass', [50, 30], [50, 30], one)).toBeUndefined()
    expect(dropped(project, createDeckDraft('main').getState())).toBeUndefined()
  })

  it('move what is there by whole steps, and not at all where they end where they began', () => {
    const made = dragged('hole', [10.3, 10], [10.3, 10])!
    const store = createDeckDraft('main')
    const moves = { part: 'holes', id: made.id } as const
    store.setState(dragFrom(store.getState(), [10, 10], moves))
    expect(store.getState().chosen).toEqual(moves)
    expect(dropped(made.project, store.getState())).toBeUndefined()
    store.setState(dragTo(store.getState(), [14.4, 7]))
    expect(dropped(made.project, store.getState())?.project.decks[0]?.holes?.[0]?.at).toEqual([14, 7])
  })

  it('take one corner to a step of the grid, and make one in the middle of an edge', async () => {
    const outline = { part: 'outline' } as const
    const polygon = asPolygon(project.decks[0]!.outline)
    const cornered = withShapeAt(project, 'main', outline, polygon)
    const store = createDeckDraft('main')
    const take = (corner: DraftCorner, place: readonly [number, number], grip?: readonly [number, number]) =>
      store.setState(cornerFrom(store.getState(), corner, place, grip))
    const there = (k: number) => draggedCorners(cornered, store.getState())?.[k]
    take({ of: outline, at: 2 }, [100, 60], [100.3, 60.2])
    store.setState(dragTo(store.getState(), [100.6, 60.3]))
    expect(there(2)).toBeUndefined()
    expect(dropped(cornered, store.getState())).toBeUndefined()
    store.setState(dragTo(store.getState(), [110.9, 65.1]))
    expect(there(2)).toEqual([111, 65, 0])
    expect(dropped(cornered, store.getState())?.project.decks[0]?.outline).toEqual({
      polygon: [
        [0, 0],
        [100, 0],
        [111, 65],
        [0, 60],
      ],
    })
    // Keys go by steps from where it stands, be that on the grid or not.
    take({ of: outline, at: 1 }, [99.5, 0])
    store.setState(dragBy(store.getState(), -1, 2))
    expect(there(1)).toEqual([98.5, 2, 0])
    take({ of: outline, at: 3, added: true }, [0, 30])
    expect(store.getState().corners).toEqual({ of: outline, at: 4 })
    expect(there(4)).toEqual([0, 30, 0])
    store.setState(dragTo(store.getState(), [-12.2, 30]))
    expect(there(4)).toEqual([-12, 30, 0])
    expect(draggedCorners(project, store.getState())).toBeUndefined()
    expect(onDeck('roof')).toEqual({ deck: 'roof', chosen: undefined, drag: undefined, corners: undefined })
  })

  it('lead to the nearest other deck where none is named', () => {
    expect(otherDeck(project, { deck: 'main', other: undefined })).toBe('roof')
    expect(otherDeck(project, { deck: 'main', other: 'main' })).toBe('roof')
    expect(
      otherDeck({ ...project, decks: project.decks.slice(0, 1) }, { deck: 'main', other: undefined }),
    ).toBeUndefined()
    expect(TOOLS.filter((t) => partOf(t) === undefined)).toEqual(['move'])
  })

  it('change one variant, and leave a deck out of it, in one step each', async () => {
    const { store, actions } = await solvedSample()
    const before = actions.save().text
    const now = () => store.getState().history.doc.project
    const variant = store.getState().history.doc.sheets[0]!.variant
    const roof = addDeck(now(), 'main')
    expect(actions.change(roof.project)).toEqual([])
    const two = copyVariant(now(), variant)
    expect(actions.change(two.project)).toEqual([])
    const wide = resized(now().decks[0]!.outline, { width: 140 })
    expect(
      actions.change(written(now(), two.id, true, setDeck(seenIn(now(), two.id), 'main', { outline: wide }))),
    ).toEqual([])
    const widths = () =>
      store.getState().history.doc.sheets.map((s) => formOf(applyVariant(now(), s.variant).decks[0]!.outline))
    expect(widths()).toMatchObject([{ width: 100 }, { width: 140 }, { width: 100 }])
    expect(actions.change(leaveOut(now(), two.id, roof.id, true))).toEqual([])
    expect(store.getState().history.doc.sheets.map((s) => s.problem.decks.length)).toEqual([2, 1, 2])
    // A variant without any deck is none.
    const text = actions.save().text
    expect(actions.change(leaveOut(now(), two.id, 'main', true))).not.toEqual([])
    expect(actions.save().text).toBe(text)
    for (let k = 0; k < 4; k++) actions.undo()
    expect(actions.save().text).toBe(before)
  })

  it('go into the document as one step each, and undo gives it back byte for byte', async () => {
    const { store, actions } = await solvedSample()
    const before = actions.save().text
    const now = () => store.getState().history.doc.project
    for (const tool of ['opening', 'hole', 'lead', 'zone'] as const) {
      const made = dragged(tool, [70, 5], [80, 15], now())
      expect(actions.change(made!.project)).toEqual([])
    }
    expect(now().decks[0]?.holes).toHaveLength(1)
    const photo = firstLaid('kept-elsewhere', 'plate.jpg', [800, 600], 100, [50, 30])
    expect(actions.change(withUnderlay(now(), 'main', photo))).toEqual([])
    expect(actions.change(setChassis(now(), chassisFrom([0, 0, 100, 60], 50)))).toEqual([])
    expect(actions.change(copyDeck(now(), 'main').project)).toEqual([])
    expect(actions.change(removeDeck(now(), 'main'))).toEqual([])
    actions.undo()
    // A file keeps where the photo lies, beside what else the page keeps there.
    const saved = JSON.parse(actions.save().text)
    expect(saved.page.underlays.main).toEqual(photo)
    expect(saved.page.placements).toHaveProperty('whole')
    // What cannot be is refused and changes nothing.
    const text = actions.save().text
    expect(actions.change(renamePart(now(), 'main', 'holes', 'hole-1', ''))[0]?.expected).toMatch(/an id/)
    expect(actions.save().text).toBe(text)
    for (let k = 0; k < 7; k++) actions.undo()
    expect(store.getState().history.past).toHaveLength(0)
    expect(actions.save().text).toBe(before)
  })
})
