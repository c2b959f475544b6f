import { describe, expect, it } from 'vitest'
import { chassisFrom, copyDeck, removeDeck, renamePart, setChassis } from '../../src/model/edit-deck.ts'
import type { Project } from '../../src/model/index.ts'
import { firstLaid, withUnderlay } from '../../src/model/underlay.ts'
import {
  createDeckDraft,
  dragFrom,
  dragTo,
  dropped,
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

  it('lead to the nearest other deck where none is named', () => {
    expect(otherDeck(project, { deck: 'main', other: undefined })).toBe('roof')
    expect(otherDeck(project, { deck: 'main', other: 'main' })).toBe('roof')
    expect(
      otherDeck({ ...project, decks: project.decks.slice(0, 1) }, { deck: 'main', other: undefined }),
    ).toBeUndefined()
    expect(TOOLS.filter((t) => partOf(t) === undefined)).toEqual(['move'])
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
