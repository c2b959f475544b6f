/** What was found is kept with the work and shown again after a reload, with what was proven of it; nothing that a storage says is believed. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { type Hold, mm, type Problem, type SolveResult, solve } from '../../solver/index.ts'
import { setItem } from '../../src/model/edit-items.ts'
import type { Found } from '../../src/store/found.ts'
import { Refused } from '../../src/store/keep-shelf.ts'
import { viewOf } from '../../src/store/view.ts'
import { memoryShelf, moment, tab } from './keep-sample.ts'
import { project, reply } from './store-sample.ts'

beforeEach(() => void vi.useFakeTimers())
afterEach(() => void vi.useRealTimers())

type Tab = ReturnType<typeof tab>
const said = ({ store }: Tab, k: number) => {
  const { placements, verdict, goals, figures, looking, notes, conflict, bestHeld } = viewOf(store.getState(), k)!
  return { placements, verdict, goals, figures, looking, notes, conflict, bestHeld }
}

/** Problems of the sample are the same each time, and are solved once. */
const answers = new Map<string, SolveResult>()
function once(problem: Problem, pins: readonly Hold[] = []) {
  const key = JSON.stringify([problem, pins])
  const result = answers.get(key) ?? solve(problem, { pins })
  answers.set(key, result)
  if (!('placements' in result)) throw new Error(result.status)
  return result
}

/** A layout with a longer wire than need be. */
function farApart(problem: Problem) {
  const pin = (item: number, x: number, y: number): Hold => ({ item, deck: 0, at: { x: mm(x), y: mm(y) }, turn: 0 })
  return once(problem, [pin(0, 0, 0), pin(1, 70, 40)])
}

/** That layout as the best that was found, of which contacts and value are proven and the wire is not. */
function unproven(problem: Problem): SolveResult {
  const far = farApart(problem)
  const objectives = far.objectives.map((o) =>
    o.name === 'wire-length' ? { ...o, bound: o.value - 7000, proven: false } : { ...o, bound: o.value, proven: true },
  )
  return { ...far, status: 'feasible', objectives }
}

/** A tab on the sample; the first variant unproven, the second proven. */
async function kept() {
  const { shelf, kept: rows, state } = memoryShelf()
  const a = tab(shelf)
  a.open()
  const [whole, bare] = a.asked.slice(-2)
  await whole!.give(unproven(whole!.problem))
  await bare!.give(once(bare!.problem))
  await moment()
  return { a, shelf, rows, state, row: () => [...rows.values()][0]! }
}

const again = async (shelf: Parameters<typeof tab>[0], program?: string): Promise<Tab> => {
  const b = tab(shelf, undefined, undefined, program)
  expect(await b.keep.begin()).toBe(true)
  return b
}
/** What is asked for what is open; the deck before anything was open asks too. */
const searches = (t: Tab) =>
  t.asked.filter((one) => t.store.getState().history.doc.sheets.some((s) => s.problem === one.problem))

describe('a reload', () => {
  it('shows every layout that was found, with all that was said of it, and looks for none', async () => {
    const { a, shelf, row } = await kept()
    const { at, writing } = row()
    const b = await again(shelf)
    for (const k of [0, 1]) expect(said(b, k)).toEqual(said(a, k))
    expect(said(b, 1).verdict).toBe('Best possible.')
    expect(said(b, 0).goals.map((g) => g.gap)).toEqual([0, 0, 7000])
    expect(searches(b)).toEqual([])
    await moment()
    expect(row()).toMatchObject({ at, writing })
    expect(b.actions.save().text).not.toContain('bound')
    // It may be improved on as before.
    expect(viewOf(b.store.getState(), 0)!.open).toBe(true)
    b.actions.lookOn()
    expect(b.asked.at(-1)!.options.hint).toEqual(said(a, 0).placements)
    await reply(b.asked.at(-1)!)
    await moment()
    const c = await again(shelf)
    expect(said(c, 0)).toEqual(said(b, 0))
    expect(said(c, 0).verdict).toBe('Best possible.')
  })

  it('goes on with what was on its way, and shows only what is better', async () => {
    const { shelf } = memoryShelf()
    const a = tab(shelf)
    a.open()
    await moment()
    const far = farApart(a.asked.at(-2)!.problem)
    a.asked.at(-2)!.tell({ phase: 'free-tie-points', bound: far.figures.freeTiePoints, placements: far.placements })
    await a.keep.flush('last')
    const b = await again(shelf)
    expect(said(b, 0)).toEqual(said(a, 0))
    expect(said(b, 0)).toMatchObject({ looking: true, placements: far.placements })
    const [search] = searches(b)
    expect(search!.options).toMatchObject({ hint: far.placements, time: 10_000 })
    search!.say([...far.placements].reverse())
    expect(said(b, 0).placements).toEqual(far.placements)
    const best = once(search!.problem)
    search!.say(best.placements)
    expect(said(b, 0).placements).toEqual(best.placements)
  })

  it('has what a search had come by a second before, where the page broke down in the middle of it', async () => {
    const { shelf } = memoryShelf()
    const written = vi.spyOn(shelf, 'writeFound')
    const a = tab(shelf)
    a.open()
    await moment()
    const search = a.asked.at(-2)!
    const best = once(search.problem)
    const bound = best.figures.wireLength - 500
    for (const phase of ['free-tie-points', 'optional-value'] as const)
      search.tell({ phase, bound: phase === 'optional-value' ? 0 : 48 })
    for (let k = 9; k >= 0; k--) {
      search.tell({
        phase: 'wire-length',
        bound: bound - 100 * k,
        placements: k > 5 ? farApart(search.problem).placements : best.placements,
      })
      await moment(300)
    }
    // Not at each of ten; the last of them is not lost.
    expect(written.mock.calls.length).toBeLessThanOrEqual(3)
    await moment(1000)
    const now = written.mock.calls.length
    const b = await again(shelf)
    expect(said(b, 0)).toEqual(said(a, 0))
    expect(said(b, 0)).toMatchObject({ looking: true, placements: best.placements })
    expect(said(b, 0).goals.map((g) => g.gap)).toEqual([0, 0, 500])
    // What is told again, and where a search is, is nothing new.
    search.tell({ phase: 'wire-length', bound })
    search.tell({ phase: 'moves', bound: 7 })
    await moment(2000)
    expect(written.mock.calls.length).toBe(now)
  })

  it('says again what was stopped, what cannot fit, and what is best with what is held', async () => {
    const { a, shelf } = await kept()
    a.actions.lookOn()
    const best = once(a.asked.at(-1)!.problem)
    a.asked.at(-1)!.tell({ phase: 'free-tie-points', bound: 99, placements: best.placements })
    a.actions.stop()
    await moment()
    const b = await again(shelf)
    expect(said(b, 0)).toEqual(said(a, 0))
    expect(said(b, 0)).toMatchObject({ verdict: 'Stopped: the best so far.', placements: best.placements })
    expect(said(b, 0).goals[0]!.gap).toBe(0)

    b.actions.lay('bare', farApart(b.store.getState().history.doc.sheets[1]!.problem).placements)
    b.actions.hold('one')
    b.actions.hold('two')
    b.actions.rearrange()
    await reply(b.asked.at(-1)!)
    await moment()
    const c = await again(shelf)
    const sheets = (t: Tab) => t.store.getState().history.doc.sheets.map(({ before: _, ...sheet }) => sheet)
    expect(sheets(c)).toEqual(sheets(b))
    expect(said(c, 1).bestHeld).toBe(true)
    for (const k of [0, 1]) expect(said(c, k)).toEqual(said(b, k))
    expect(searches(c)).toEqual([])

    const { project } = c.store.getState().history.doc
    c.actions.choose(0)
    c.actions.change(setItem(project, 'whole', 'two', { count: 40 }), 'found-again')
    const conflict = [{ rule: 'R10', items: ['one'], text: 'one must be placed' }]
    for (const one of searches(c)) await one.give({ status: 'infeasible', conflict, conflictIrreducible: true })
    await moment()
    const d = await again(shelf)
    expect(said(d, 0)).toEqual(said(c, 0))
    expect(said(d, 0).verdict).toMatch(/^Cannot fit/)
    expect(searches(d)).toEqual([])
  })

  it('goes on looking for the best with what is held', async () => {
    const { a, shelf } = await kept()
    a.actions.lay('bare', farApart(a.store.getState().history.doc.sheets[1]!.problem).placements)
    a.actions.hold('one')
    await reply(a.asked.at(-1)!)
    a.actions.rearrange()
    await moment()
    const { options } = a.asked.at(-1)!
    expect(options).toMatchObject({ pins: [{ item: 0 }], time: 10_000 })
    for (const program of ['another', 'this'])
      expect((await again(shelf, program)).asked.at(-1)!.options).toEqual(options)
    await reply(a.asked.at(-1)!)
    expect(said(a, 1).bestHeld).toBe(true)
    await moment()
    // Once it is heard it is not asked again, and of another program only what is held and where stays.
    expect((await again(shelf)).asked.filter((one) => one.options.pins)).toEqual([])
    expect((await again(shelf, 'another')).asked.at(-1)!.options).toMatchObject({ keep: true })
  })

  it('does not look again for what it had not found in its time', async () => {
    const { a, shelf } = await kept()
    const { problem } = a.store.getState().history.doc.sheets[1]!
    a.actions.lay('bare', farApart(problem).placements.slice(1))
    await a.asked.at(-1)!.give({ status: 'unknown' })
    await moment()
    const b = await again(shelf)
    expect(said(b, 1)).toEqual(said(a, 1))
    expect(searches(b)).toEqual([])
  })

  it('begins with what another version of the program had found, and no more', async () => {
    const { a, shelf } = await kept()
    const b = await again(shelf, 'another')
    expect(said(b, 0)).toMatchObject({ placements: [], looking: true })
    expect(searches(b).map((one) => one.options.hint)).toEqual([said(a, 0).placements, said(a, 1).placements])
  })

  it('begins there as often as it takes, until it has a layout of its own', async () => {
    const { a, shelf } = await kept()
    const hints = (t: Tab) => searches(t).map((one) => one.options.hint)
    const b = await again(shelf, 'another')
    searches(b)[0]!.tell({ phase: 'free-tie-points', bound: 99 })
    await searches(b)[1]!.give(once(searches(b)[1]!.problem))
    await moment()
    const c = await again(shelf, 'another')
    expect(said(c, 1)).toEqual(said(b, 1))
    expect(hints(c)).toEqual([said(a, 0).placements])
    c.actions.choose(1)
    await moment()
    const d = await again(shelf, 'another')
    expect(hints(d)).toEqual([said(a, 0).placements])
    d.actions.choose(0)
    d.actions.stop()
    await moment()
    d.actions.lookOn()
    expect(d.asked.at(-1)!.options.hint).toEqual(said(a, 0).placements)
    await reply(d.asked.at(-1)!)
    await moment()
    const e = await again(shelf, 'a third')
    expect(hints(e)).toEqual([said(d, 0).placements, said(d, 1).placements])
  })

  it('finds a work again that was only looked on at, after others were opened', async () => {
    const { a, rows } = await kept()
    a.actions.lookOn()
    a.actions.stop()
    await moment()
    a.open({ ...JSON.parse(a.actions.save().text), name: 'Second' })
    await moment()
    expect([...rows.values()].map((k) => k.name).sort()).toEqual(['Moss minder', 'Second'])
  })
})

describe('a file of a kept work', () => {
  it('is the one that Save on the page makes, with every layout that was found', async () => {
    const { a, shelf, row } = await kept()
    a.actions.hold('one')
    await reply(a.asked.at(-1)!)
    await moment()
    const { text } = a.actions.save()
    expect(Object.keys(JSON.parse(text).page.placements)).toEqual(['whole', 'bare'])
    expect((await a.keep.textOf(row().id))?.text).toBe(text)
    // Kept as it is: what was found is no part of the document.
    expect(Object.keys(JSON.parse(row().text).page.placements)).toEqual(['whole'])
    const b = await again(shelf, 'another')
    expect((await b.keep.textOf(row().id))?.text).toBe(b.actions.save().text)
  })

  it('is also what is left in hand of one whose last change was refused', async () => {
    const { a, state, row } = await kept()
    a.rename('Fern finder')
    const { text } = a.actions.save()
    state.refusing = new Refused('full', 'full')
    a.open({ ...project, name: 'Second' })
    await moment()
    expect(a.keep.store.getState().lost?.text).toBe(text)
    expect(row().name).toBe('Moss minder')
  })
})

describe('what is broken on the shelf', () => {
  type Loose = Record<string, unknown>
  interface Spoilt {
    readonly sheet: Loose
    readonly known: Loose
    readonly places: Loose[]
    readonly answer: Loose
    readonly goals: Loose[]
  }
  const conflict = [{ rule: 'R10', items: ['one'], text: 'one must be placed' }]
  const none = { kind: 'none', conflict, irreducible: true }
  const put = (target: Loose | undefined, field: string, value: unknown) => Object.assign(target!, { [field]: value })
  const faults: readonly (readonly [string, (of: Spoilt) => unknown])[] = [
    ['it was found for another question', ({ sheet }) => put(sheet, 'asked', 'x')],
    ['it has no layout', ({ known }) => put(known, 'placements', 'none')],
    ['an item is not there', ({ places }) => put(places[0], 'item', 77)],
    ['an item stands twice', ({ places }) => put(places[1], 'item', places[0]!.item)],
    ['an item lacks', ({ places }) => places.pop()],
    ['a place is no number', ({ places }) => put(places[0], 'at', { x: '0', y: null })],
    ['a rule is broken', ({ places }) => put(places[0], 'at', { x: -5000, y: 0 })],
    [
      'a host is no board',
      ({ places }) =>
        put(
          places.find((p) => 'host' in p),
          'host',
          0,
        ),
    ],
    ['a value is another', ({ goals }) => put(goals[2], 'value', 5)],
    ['a bound is worse than the value', ({ goals }) => put(goals[0], 'bound', 1)],
    ['a bound is no number', ({ goals }) => put(goals[0], 'bound', Number.NaN)],
    ['a goal lacks', ({ goals }) => goals.pop()],
    ['it cannot fit, and does', ({ known }) => put(known, 'answer', none)],
    ['an answer is not understood', ({ answer }) => put(answer, 'kind', 'perfect')],
  ]
  const spoilt = async (found: (old: Found) => unknown) => {
    const { a, shelf, rows, row } = await kept()
    rows.set(row().id, { ...row(), found: found(structuredClone(row().found) as Found) })
    const b = await again(shelf)
    expect(b.store.getState()).toMatchObject({ broken: undefined, notices: [] })
    expect(said(b, 0)).toMatchObject({ placements: [], looking: true })
    expect(searches(b)[0]!.options.hint).toBeUndefined()
    return { a, b }
  }

  it.each(faults)('is dropped without a word, and looked for anew, the rest stays: %s', async (_, spoil) => {
    const { a, b } = await spoilt((found) => {
      const sheet = found.sheets[0] as unknown as Loose
      const known = sheet.known as Loose & { placements: Loose[]; answer: Loose & { objectives: Loose[] } }
      spoil({ sheet, known, places: known.placements, answer: known.answer, goals: known.answer.objectives })
      return found
    })
    expect(said(b, 1)).toEqual(said(a, 1))
  })

  it('says of a layout of one’s own that it cannot fit, and it does', async () => {
    const { a, shelf, rows, row } = await kept()
    a.actions.hold('one')
    await reply(a.asked.at(-1)!)
    await moment()
    const found = structuredClone(row().found) as { sheets: { own: Loose }[] }
    put(found.sheets[0]!.own, 'answer', none)
    rows.set(row().id, { ...row(), found })
    const b = await again(shelf)
    expect(said(b, 0)).toMatchObject({ placements: said(a, 0).placements, looking: true, conflict: [] })
  })

  it.each([7, { program: 'this' }, { program: 'this', sheets: [null, 7, { variant: 'whole', known: null }] }])(
    'may be all of it: %j',
    async (found) => void (await spoilt(() => found)),
  )

  it('is what was found for an earlier text', async () => {
    const { shelf, rows, row } = await kept()
    rows.set(row().id, {
      ...row(),
      text: row().text.replace(/"grid": ?1\b|"name": ?"Moss minder"/, '$&, "settings": {"grid": 5}'),
    })
    const b = await again(shelf)
    expect(b.store.getState().history.doc.project.settings?.grid).toBe(5)
    expect(said(b, 0)).toMatchObject({ placements: [], looking: true })
  })
})
