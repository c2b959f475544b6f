import { describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import type { FootprintFile } from '../../footprints/schema.ts'
import { um } from '../../solver/index.ts'
import { emptyFootprint } from '../../src/model/edit-footprint.ts'
import { addPart, bodiesOf, removeItem, renameItem, setItem } from '../../src/model/edit-items.ts'
import { createItemKeys } from '../../src/plan/keys.ts'
import { createPartDrafts, PARTS_KEY } from '../../src/store/part-drafts.ts'
import { partStand } from '../../src/store/part-stand.ts'
import { createPartBench } from '../../src/store/part-steps.ts'
import { createPartsDesk, insideWindow, stillSo } from '../../src/store/parts-desk.ts'
import { roomNear } from '../../src/store/room-near.ts'
import { shown } from '../../src/store/store.ts'
import { legal, reply, solvedSample } from './store-sample.ts'

type Sample = Awaited<ReturnType<typeof solvedSample>>
const now = ({ store }: Sample) => store.getState()
const sheetOf = (s: Sample) => now(s).history.doc.sheets[now(s).active]!
const where = (s: Sample): Record<string, string> =>
  Object.fromEntries(
    shown(now(s), sheetOf(s)).map((p) => [sheetOf(s).problem.items[p.item]!.id, `${p.at.x} ${p.at.y} ${p.turn}`]),
  )

describe('adding a part where the pointer is', () => {
  it('puts it into the nearest room, moves nothing else, holds nothing, and is one step', async () => {
    const s = await solvedSample()
    const before = where(s)
    const { project, id } = addPart(now(s).history.doc.project, 'brick')
    const wish = { x: um(50_000), y: um(30_000) }
    const problems = s.actions.change(project, undefined, {
      put: (problem, placements) =>
        roomNear(
          problem,
          placements,
          problem.items.findIndex((i) => i.id === id),
          0,
          wish,
        ),
    })
    expect(problems).toEqual([])
    const there = where(s)
    expect(there[id]).toBeDefined()
    expect(legal(sheetOf(s).problem, shown(now(s), sheetOf(s)))).toBe(true)
    await reply(s.asked.findLast((a) => a.urgent)!)
    expect(where(s)).toEqual({ ...before, [id]: there[id]! })
    expect(sheetOf(s).holds).toEqual([])
    expect(now(s).history.past).toHaveLength(1)
    s.actions.undo()
    expect(where(s)).toEqual(before)
  })

  it('finds the nearest of all rooms on a plain deck', async () => {
    const s = await solvedSample()
    const { problem } = sheetOf(s)
    const lone = roomNear(problem, [], 0, 0, { x: um(40_000), y: um(30_000) })!
    expect(lone.at).toEqual({ x: 30_000, y: 25_000 })
    // over the edge: the nearest room inside
    const edge = roomNear(problem, [], 0, 0, { x: um(-5_000), y: um(30_000) })!
    expect(edge.at.x).toBeGreaterThanOrEqual(0)
    expect(edge.at.x).toBeLessThan(5_000)
    expect(roomNear(problem, [], 0, 0, { x: um(400_000), y: um(0) })).toBeUndefined()
    expect(roomNear(problem, [], 0, 7, { x: um(0), y: um(0) })).toBeUndefined()
  })
})

describe('another name and another count', () => {
  it('leaves everything where it stands and held', async () => {
    const s = await solvedSample()
    s.actions.hold('one')
    const before = where(s)
    const { project } = now(s).history.doc
    s.actions.change(renameItem(project, 'one', 'first'), undefined, { renamed: new Map([['one', 'first']]) })
    expect(where(s)).toEqual({
      ...Object.fromEntries(Object.entries(before).filter(([k]) => k !== 'one')),
      first: before.one,
    })
    expect(sheetOf(s).holds).toEqual(['first'])
    const more = setItem(now(s).history.doc.project, 'whole', 'first', { count: 2 })
    const [first] = bodiesOf('first', 2)
    s.actions.change(more, undefined, { renamed: new Map([['first', first!]]) })
    expect(where(s)['first#1']).toBe(before.one)
    expect(sheetOf(s).holds).toEqual(['first#1'])
    s.actions.undo()
    s.actions.undo()
    expect(where(s)).toEqual(before)
    expect(sheetOf(s).holds).toEqual(['one'])
  })

  it('removes an item with its wires in one step', async () => {
    const s = await solvedSample()
    const { project } = now(s).history.doc
    expect(s.actions.change(removeItem(project, 'one').project)).toEqual([])
    expect(sheetOf(s).problem.wires).toEqual([])
    expect(Object.keys(where(s))).not.toContain('one')
    s.actions.undo()
    expect(now(s).history.doc.project).toBe(project)
  })
})

describe('a part that was begun', () => {
  const storage = () => {
    const texts = new Map<string, string>()
    return {
      getItem: (key: string) => texts.get(key) ?? null,
      setItem: (key: string, value: string) => void texts.set(key, value),
    }
  }
  const start = emptyFootprint('my-part')
  const named = (name: string) => (f: FootprintFile) => ({ ...f, name })

  it('is there again when the bench is opened again, also by another page', () => {
    const shelf = storage()
    const bench = createPartBench(
      start,
      createPartDrafts(shelf, () => 5),
    )
    bench.step(named('relay'))
    bench.step((f) => ({ ...f, terminals: [{ id: 't1', at: [2, 2] }] }))
    // Another project has a part of that id: a new part is a new part.
    const again = createPartBench(emptyFootprint('my-part-2'), createPartDrafts(shelf)).store.getState()
    expect(again).toMatchObject({
      now: { id: 'my-part', name: 'relay', terminals: [{ id: 't1' }] },
      back: 5,
      kept: true,
    })
    bench.undo()
    expect(createPartBench(start, createPartDrafts(shelf)).store.getState().now).toEqual({ ...start, name: 'relay' })
    bench.redo()
    expect(createPartBench(start, createPartDrafts(shelf)).store.getState().now).toEqual(again.now)
  })

  it('is forgotten where it was taken or begun anew, which is a step', () => {
    const drafts = createPartDrafts(storage())
    const bench = createPartBench(start, drafts)
    bench.step(named('relay'))
    bench.anew()
    expect(drafts.recall(start)).toBeUndefined()
    expect(bench.store.getState()).toMatchObject({ now: start, back: undefined })
    bench.undo()
    expect(drafts.recall(start)?.footprint.name).toBe('relay')
    bench.done()
    expect(drafts.recall(start)).toBeUndefined()
  })

  it('is one of several, each by what it began with', () => {
    const drafts = createPartDrafts(storage())
    const own = { ...start, id: 'own', source: 'measured by hand' }
    const other = { ...own, id: 'other' }
    for (const [of, name] of [
      [start, 'a'],
      [own, 'b'],
      [other, 'c'],
    ] as const)
      createPartBench(of, drafts).step(named(name))
    expect([start, own, other].map((of) => drafts.recall(of)?.footprint.name)).toEqual(['a', 'b', 'c'])
    for (let k = 0; k < 30; k++) drafts.keep({ ...own, mass: k }, { ...own, mass: k, name: 'more' })
    expect(drafts.recall(start)).toBeUndefined()
    expect(drafts.recall({ ...own, mass: 29 })?.footprint.name).toBe('more')
  })

  it('outlives the bench where the browser refuses to keep it, and that is told', () => {
    const full = {
      getItem: () => null,
      setItem: () => {
        throw new Error('full')
      },
    }
    for (const shelf of [undefined, full]) {
      const drafts = createPartDrafts(shelf)
      const bench = createPartBench(start, drafts)
      bench.step(named('relay'))
      expect(bench.store.getState().kept).toBe(false)
      expect(createPartBench(start, drafts).store.getState().now.name).toBe('relay')
      bench.undo()
      expect(bench.store.getState().kept).toBe(true)
    }
  })

  it('is passed over where the storage is damaged', () => {
    const shelf = storage()
    const key = JSON.stringify((({ id: _, ...rest }) => rest)(start))
    for (const text of ['{', '{}', '[null,3]', JSON.stringify([{ key, at: 1, footprint: { body: {} } }])]) {
      shelf.setItem(PARTS_KEY, text)
      expect(createPartBench(start, createPartDrafts(shelf)).store.getState().now).toEqual(start)
    }
  })
})

describe('the desk for parts', () => {
  it('opens one line or one bench, and the fields of one item', () => {
    const desk = createPartsDesk(() => undefined)
    const now = () => desk.store.getState()
    desk.search({ x: 3, y: 4 })
    desk.close('search')
    desk.openItem('one')
    desk.openItem('two')
    expect(now()).toMatchObject({ search: undefined, open: 'two', going: false })
    desk.openItem('two')
    expect(now().open).toBeUndefined()
    desk.goTo('board#3')
    desk.goTo('board#3')
    expect(now()).toMatchObject({ open: 'board', going: true })
    desk.arrived()
    expect(now()).toMatchObject({ open: 'board', going: false })
  })

  it('says what was done until the next step, which may make it untrue', async () => {
    const s = await solvedSample()
    const step = () => s.store.getState().history.past
    const desk = createPartsDesk(step)
    const told = () => stillSo(desk.store.getState(), step())
    desk.say('one is added, not held')
    expect(told()).toBe('one is added, not held')
    s.actions.hold('one')
    expect(told()).toBe('')
  })

  it('is gone to by the key that opens an item', async () => {
    const s = await solvedSample()
    const gone: string[] = []
    const keys = createItemKeys(s.store.getState, s.actions, undefined, (id) => gone.push(id))
    keys.press('two', {
      key: 'Enter',
      shiftKey: false,
      ctrlKey: false,
      metaKey: false,
      altKey: false,
      preventDefault: () => {},
    })
    expect(gone).toEqual(['two'])
    expect(now(s).selected).toBe('two')
  })

  it('keeps a box inside the window', () => {
    expect(insideWindow(100, 200, 1000)).toBe(100)
    expect(insideWindow(900, 200, 1000)).toBe(792)
    expect(insideWindow(-50, 200, 1000)).toBe(8)
    expect(insideWindow(100, 2000, 1000)).toBe(8)
  })

  it('stands every part of the library on a piece of deck that its holes and slots are in', () => {
    for (const footprint of loadLibrary().values()) {
      const { problem, placement } = partStand(footprint)
      const { mount } = footprint
      const cuts = mount.kind === 'strap' ? (mount.slots ?? []).length : mount.kind === 'drop-in' ? 1 : 0
      const holes = 'holes' in mount ? (mount.holes ?? []).length : 0
      expect(problem.decks[0]?.openings).toHaveLength(cuts)
      expect(problem.decks[0]?.holes).toHaveLength(holes)
      // Plugged in or not, on bare deck: all else is as the checker wants it.
      if (mount.kind !== 'plug-in') expect(legal(problem, [placement]), footprint.id).toBe(true)
    }
  })
})
