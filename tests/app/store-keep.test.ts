/** Work is kept a moment after each change, found again, never written over by another tab, and refusals are said at once. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { isWork, Refused, refusalOf, type Shelf, soundKept, type Work } from '../../src/store/keep-shelf.ts'
import { memoryShelf, moment, tab, tabs } from './keep-sample.ts'
import { files, project, text } from './store-sample.ts'

beforeEach(() => void vi.useFakeTimers())
afterEach(() => void vi.useRealTimers())

describe('keeping', () => {
  it('writes a change within 300 ms, once for many, and all of the document can be found again', async () => {
    const { shelf, state, kept } = memoryShelf()
    const a = tab(shelf)
    expect(await a.keep.begin()).toBe(false)
    await moment()
    expect(state.writes).toBe(0)
    a.open()
    await moment()
    const before = state.writes
    a.rename('Fern finder')
    a.actions.choose(1)
    a.rename('Fern friend')
    await moment()
    expect(state.writes).toBe(before + 1)
    expect(a.keeping()).toMatchObject({ kind: 'kept' })
    const { doc } = a.store.getState().history
    const b = tab(shelf)
    expect(await b.keep.begin()).toBe(true)
    expect(b.name()).toBe('Fern friend')
    expect(b.store.getState().active).toBe(1)
    expect(files.text(b.store.getState().history.doc, (s) => s.placements ?? [])).toBe(
      files.text(doc, (s) => s.placements ?? []),
    )
    expect(b.keep.store.getState().restored).toBe([...kept.values()][0]!.at)
    await moment()
    expect(state.writes).toBe(before + 1)
  })

  it('finds the work of this tab again, though another tab or a clock that was set back made another the newest', async () => {
    const { shelf, kept } = memoryShelf()
    const memory: string[] = []
    const a = tab(shelf, undefined, memory)
    a.open()
    a.rename('Fern finder')
    await moment()
    const b = tab(shelf)
    b.open()
    b.rename('Lichen lifter')
    await moment()
    const again = tab(shelf, undefined, memory)
    expect(await again.keep.begin()).toBe(true)
    expect(again.name()).toBe('Fern finder')
    // One that is gone is not waited for.
    kept.delete(memory.at(-1)!)
    const third = tab(shelf, undefined, memory)
    await third.keep.begin()
    expect(third.name()).toBe('Lichen lifter')
  })

  it('passes over what is damaged, and says so of a work whose text is gone', async () => {
    const head: Work = { id: 'a', name: 'Moss', file: 'm.json', at: 5, writing: 1, touched: true }
    for (const bad of [undefined, 5, {}, { ...head, name: undefined }, { ...head, at: Number.NaN }, { ...head, id: 7 }])
      expect(isWork(bad)).toBe(false)
    expect(soundKept(head, { text: '{}', active: 'x' })).toEqual({ ...head, text: '{}', active: 0 })
    expect(soundKept(head, undefined)).toBeUndefined()
    expect(soundKept(head, { text: 5 })).toBeUndefined()

    const { shelf } = memoryShelf()
    const { claims } = tabs()
    const bare: Shelf = { ...shelf, works: async () => [head] }
    const a = tab(bare, claims())
    expect(await a.keep.begin()).toBe(false)
    expect(a.store.getState().broken).toMatchObject({ file: 'Moss', kind: 'unreadable' })
    await shelf.write({ ...head, text: text(), active: 99 })
    const b = tab({ ...shelf, read: async () => Promise.reject(new Refused('failed', 'torn')) }, claims())
    await b.keep.begin()
    expect(b.keeping().kind).toBe('refused')
    const c = tab(shelf, claims())
    expect(await c.keep.begin()).toBe(true)
    expect(c.keeping().kind).toBe('kept')
  })

  it('keeps at once what is due as the page goes', async () => {
    const { shelf, kept } = memoryShelf()
    const a = tab(shelf)
    a.open()
    a.rename('Fern finder')
    await a.keep.flush('last')
    expect([...kept.values()].map((k) => k.name)).toEqual(['Fern finder'])
  })

  it('keeps what was worked on when another is opened, and lets go of what was only looked at', async () => {
    const { shelf, kept } = memoryShelf()
    const a = tab(shelf)
    a.open()
    await moment()
    a.open({ ...project, name: 'Second' })
    await moment()
    expect([...kept.values()].map((k) => k.name)).toEqual(['Second'])
    a.rename('Second, changed')
    a.open({ ...project, name: 'Third' })
    await moment()
    expect([...kept.values()].map((k) => k.name).sort()).toEqual(['Second, changed', 'Third'])
    await a.keep.look()
    const second = a.keep.store.getState().works.find((w) => w.name === 'Second, changed')!
    expect(await a.keep.openWork(second.id)).toBe(true)
    expect(a.name()).toBe('Second, changed')
    a.rename('Second, again')
    await moment()
    expect(kept.get(second.id)?.name).toBe('Second, again')
  })

  it('throws away, and puts back', async () => {
    const { shelf, kept } = memoryShelf()
    const a = tab(shelf)
    a.open()
    a.rename('Fern finder')
    await moment()
    const id = a.keep.store.getState().here!
    await a.keep.throwAway(id)
    expect(kept.size).toBe(0)
    await a.keep.putBack()
    expect(kept.get(id)?.name).toBe('Fern finder')
  })

  it('leaves the document alone where a kept text cannot be read, and says why', async () => {
    const { shelf } = memoryShelf()
    const head = { id: 'old', name: 'x', file: 'x.json', at: 5, writing: 1, touched: true, active: 0 }
    await shelf.write({ ...head, text: text({ ...project, version: 2 }) })
    const a = tab(shelf)
    const before = a.store.getState().history.doc
    expect(await a.keep.begin()).toBe(false)
    expect(a.store.getState().history.doc).toBe(before)
    expect(a.store.getState().broken?.problems[0]).toMatchObject({ path: 'version', found: '2' })
    expect((await a.keep.textOf('old'))?.text).toContain('"version":2')
  })
})

describe('a storage that refuses', () => {
  it.each([
    ['full', new Refused('full', 'no room')],
    ['closed', new Refused('closed', 'private')],
  ] as const)('is said at once (%s), and tried again at the next change', async (why, error) => {
    const { shelf, state } = memoryShelf()
    const a = tab(shelf)
    a.open()
    state.refusing = error
    a.rename('Fern finder')
    await moment()
    expect(a.keeping()).toMatchObject({ kind: 'refused', why })
    state.refusing = undefined
    a.rename('Fern friend')
    await moment()
    expect(a.keeping()).toMatchObject({ kind: 'kept' })
  })

  it('from the start is said at the start', async () => {
    const { shelf, state } = memoryShelf()
    state.refusing = new Refused('closed', 'private')
    const a = tab(shelf)
    expect(await a.keep.begin()).toBe(false)
    expect(a.keeping()).toMatchObject({ kind: 'refused', why: 'closed' })
  })

  it('that never answers counts as one after five seconds', async () => {
    const { shelf, state } = memoryShelf()
    const a = tab(shelf)
    a.open()
    state.silent = true
    a.rename('Fern finder')
    await moment(6000)
    expect(a.keeping()).toMatchObject({ kind: 'refused', why: 'failed' })
  })

  it('leaves the text of a work that was left in hand', async () => {
    const { shelf, state } = memoryShelf()
    const a = tab(shelf)
    a.open()
    await moment()
    a.rename('Fern finder')
    state.refusing = new Refused('full', 'no room')
    a.open({ ...project, name: 'Second' })
    await moment()
    expect(a.keep.store.getState().lost?.text).toContain('Fern finder')
  })

  it('gives reasons by the names that browsers use', () => {
    // names: Indexed Database API 3.0 and Web IDL
    expect(refusalOf(new DOMException('no', 'QuotaExceededError')).why).toBe('full')
    expect(refusalOf(new DOMException('no', 'SecurityError')).why).toBe('closed')
    expect(refusalOf(new DOMException('no', 'UnknownError')).why).toBe('failed')
  })
})

describe('two tabs on one work', () => {
  const both = async () => {
    const { shelf, kept } = memoryShelf()
    const hub = tabs()
    const a = tab(shelf, hub.claims())
    a.open()
    a.rename('Fern finder')
    await moment()
    const b = tab(shelf, hub.claims())
    const begun = b.keep.begin()
    await moment(1500)
    expect(await begun).toBe(true)
    return { a, b, kept, hub, names: () => [...kept.values()].map((k) => k.name).sort() }
  }

  it('warn each other, and the second writes nothing', async () => {
    const { a, b, names } = await both()
    expect(a.keep.store.getState().also).toBe(true)
    expect(b.keeping()).toEqual({ kind: 'elsewhere', taken: false })
    b.rename('Not to be kept')
    await moment(1000)
    await b.keep.flush('last')
    expect(names()).toEqual(['Fern finder'])
    b.open({ ...project, name: 'Second' })
    await moment()
    expect(a.keep.store.getState().also).toBe(false)
    expect(b.keeping()).toMatchObject({ kind: 'kept' })
    expect(names()).toEqual(['Fern finder', 'Second'])
  })

  it('"work here" takes what the other has up to its last change, and the other stops', async () => {
    const { a, b, names } = await both()
    a.rename('Fern friend')
    await b.keep.workHere()
    await moment()
    expect(b.name()).toBe('Fern friend')
    expect(b.keeping()).toMatchObject({ kind: 'kept' })
    expect(a.keeping()).toEqual({ kind: 'elsewhere', taken: true })
    a.rename('Not to be kept')
    b.rename('Fern forester')
    await moment()
    expect(names()).toEqual(['Fern forester'])
    await a.keep.workHere()
    await moment()
    expect(a.name()).toBe('Fern forester')
    expect(names()).toEqual(['Fern forester', 'Not to be kept'])
    expect(a.keep.store.getState().apart).toBe(true)
  })

  it('"work here" does not wait for ever for a tab that sleeps', async () => {
    const { a, b, hub } = await both()
    hub.stuck()
    const done = b.keep.workHere()
    await moment(2500)
    await done
    expect(b.keeping()).toMatchObject({ kind: 'kept' })
    expect(a.keeping()).toEqual({ kind: 'elsewhere', taken: true })
  })

  it('a page that is loaded again waits for the one that it was', async () => {
    const { shelf, kept } = memoryShelf()
    const hub = tabs()
    const a = tab(shelf, hub.claims())
    a.open()
    a.rename('Fern finder')
    await a.keep.flush('last')
    const b = tab(shelf, hub.claims())
    const begun = b.keep.begin()
    await moment(400)
    a.keep.end()
    await moment(10)
    expect(await begun).toBe(true)
    expect(b.keeping()).toMatchObject({ kind: 'kept' })
    b.rename('Fern friend')
    await moment()
    expect([...kept.values()].map((k) => k.name)).toEqual(['Fern friend'])
  })

  it('"open a copy" makes it a work of its own', async () => {
    const { a, b, names } = await both()
    await b.keep.openCopy()
    b.rename('A copy')
    await moment()
    expect(names()).toEqual(['A copy', 'Fern finder'])
    expect(a.keep.store.getState().also).toBe(false)
  })

  it('never write over each other, even where the browser has no locks', async () => {
    const { shelf, kept } = memoryShelf()
    const a = tab(shelf)
    a.open()
    a.rename('Fern finder')
    await moment()
    const b = tab(shelf)
    await b.keep.begin()
    a.rename('Fern friend')
    await moment()
    b.rename('Late')
    await moment()
    expect([...kept.values()].map((k) => k.name)).toEqual(['Fern friend'])
    expect(b.keeping()).toEqual({ kind: 'elsewhere', taken: true })
    await b.keep.workHere()
    expect(b.name()).toBe('Fern friend')
    expect([...kept.values()].map((k) => k.name).sort()).toEqual(['Fern friend', 'Late'])
  })
})
