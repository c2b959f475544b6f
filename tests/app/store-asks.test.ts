/** What the page asks beside the layout: answers of the real solver through a pool without threads, and when they are dropped. */
import { describe, expect, it, vi } from 'vitest'
import { check, mm, solve, um } from '../../solver/index.ts'
import { costOf } from '../../src/store/ask-cost.ts'
import { costText } from '../../src/store/ask-words.ts'
import { placementOf, samePlace } from '../../src/store/moves.ts'
import { viewOf } from '../../src/store/view.ts'
import { answered, page, project } from './store-page.ts'
import { files, text } from './store-sample.ts'

/** Two bricks of 20 × 10 on a deck of 25 × 15. */
const tight = {
  ...project,
  decks: [{ id: 'main', z: 50, thickness: 3, outline: { rect: [0, 0, 25, 15] } }],
  items: project.items.slice(0, 2),
  variants: [],
}

/** A deck on which both have room. */
const roomy = [{ id: 'main', z: 50, thickness: 3, outline: { rect: [0, 0, 60, 20] } }]

describe('what would make it fit', () => {
  it('comes as changes of the project that work, each one step that undo takes back', async () => {
    const p = await page(tight)
    const before = p.store.getState().history.doc.project
    expect(p.asked().remedies).toBeUndefined()
    p.actions.askRemedies()
    expect(p.asked().remedies).toEqual({ kind: 'asking' })
    const { value } = await answered(() => p.asked().remedies)
    expect(value.list.length).toBeGreaterThan(0)
    for (const [k, one] of value.list.entries()) {
      expect(one.text).toMatch(/^[A-Z].*\.$/)
      const opened = files.open(text(one.apply(before)), 'x.json')
      if (opened.kind !== 'opened') throw new Error(`${k}`)
      expect(solve(opened.doc.sheets[0]!.problem).status).toBe('optimal')
    }
    expect(p.actions.remedy(0)).toEqual([])
    expect(p.steps()).toBe(1)
    expect(p.store.getState().asked.size).toBe(0)
    await p.settled()
    expect(viewOf(p.store.getState(), 0)?.conflict).toEqual([])
    expect(p.layout().length).toBeGreaterThan(0)
    p.actions.undo()
    expect(p.store.getState().history.doc.project).toBe(before)
    p.end()
  })

  it('lets go of what is held in the way, but not of what is built', async () => {
    for (const built of [false, true]) {
      const p = await page({ ...tight, decks: roomy })
      const view = viewOf(p.store.getState(), 0)!
      const one = view.problem.items.findIndex((i) => i.id === 'one')
      const two = view.problem.items.findIndex((i) => i.id === 'two')
      p.actions.hold('one')
      await p.settled()
      if (built) p.actions.markBuilt(['one'])
      const there = placementOf(p.layout(), one)!
      p.actions.lift('two', 'pointer')
      p.actions.carryTo({ ...placementOf(p.layout(), two)!, at: { x: um(there.at.x + mm(5)), y: there.at.y } })
      p.actions.drop()
      await p.settled()
      // and no figures of what cannot be: other cards would be compared with them
      const now = viewOf(p.store.getState(), 0)!
      expect(view.figures).toBeDefined()
      expect([now.verdict, now.figures]).toEqual([expect.stringMatching(/^Cannot fit/), undefined])
      p.actions.askRemedies()
      const { value } = await answered(() => p.asked().remedies)
      const letGo = value.list.findIndex((r) => r.frees.includes('one'))
      expect(letGo >= 0).toBe(!built)
      if (letGo >= 0) {
        const steps = p.steps()
        const document = p.store.getState().history.doc.project
        p.actions.remedy(letGo)
        expect(p.steps()).toBe(steps + 1)
        expect(p.store.getState().history.doc.project).toBe(document)
        expect(p.sheet().holds).toEqual(['two'])
        await p.settled()
        expect(check(p.sheet().problem, p.layout())).toEqual([])
      }
      p.end()
    }
  })
})

describe('the cost of a hold', () => {
  it('is the best without it less the best with it', async () => {
    const p = await page()
    const { problem } = p.sheet()
    const two = problem.items.findIndex((i) => i.id === 'two')
    p.actions.lift('two', 'pointer')
    p.actions.carryTo({ ...placementOf(p.layout(), two)!, at: { x: mm(80), y: mm(40) } })
    p.actions.drop()
    await p.settled()
    p.actions.hold('one')
    await p.settled()
    p.actions.askCosts()
    expect(p.asked().costs?.get('two')).toEqual({ kind: 'asking' })
    const hold = (id: string) => {
      const { item, deck, at, turn } = p.layout().find((q) => problem.items[q.item]?.id === id)!
      return { item, deck, at, turn }
    }
    const [one, other] = [hold('one'), hold('two')]
    const both = solve(problem, { pins: [one, other] })
    const { value } = await answered(() => p.asked().costs?.get('two'))
    expect(value).toEqual(costOf(solve(problem, { pins: [one] }), both))
    expect(value.kind).toBe('cost')
    const cheap = await answered(() => p.asked().costs?.get('one'))
    expect(cheap.value).toEqual(costOf(solve(problem, { pins: [other] }), both))
    p.end()
  })

  it('is told as what is known of it', () => {
    const of = (value: number, bound: number, wire = [0, 0]) => ({
      status: 'feasible' as const,
      placements: [],
      figures: { freeTiePoints: 0, optionalValue: 0, newHoles: 0, wireLength: 0, wires: [] },
      objectives: [
        { name: 'free-tie-points' as const, value, bound, proven: value === bound },
        { name: 'wire-length' as const, value: wire[0]!, bound: wire[1]!, proven: wire[0] === wire[1] },
      ],
    })
    const say = (a: ReturnType<typeof of>, b: Parameters<typeof costOf>[1]) =>
      costText({ kind: 'answered', value: costOf(a, b) })
    expect(say(of(100, 100), of(60, 60))).toBe('Held here: 40 contacts fewer.')
    expect(say(of(100, 120), of(60, 70))).toBe('Held here: at least 30, at most 60 contacts fewer.')
    expect(say(of(100, 120), of(100, 110))).toBe('Held here: at most 20 contacts fewer.')
    expect(say(of(100, 100, [5000, 5000]), of(100, 100, [17500, 17500]))).toBe('Held here: 12.5 mm more conductor.')
    expect(say(of(100, 100), of(100, 100))).toBe('Held here: costs nothing.')
    expect(say(of(100, 100), { status: 'unknown' })).toBe('Held here: what it costs was not found in time.')
    const none = { status: 'infeasible' as const, conflict: [], conflictIrreducible: true }
    expect(say(of(100, 100), none)).toBe('Held here: nothing fits.')
    expect(costOf(none, none)).toEqual({ kind: 'neither' })
    expect(costOf({ status: 'unknown' }, none)).toEqual({ kind: 'unknown' })
  })

  it('is not put down to a hold that is in nobody’s way', async () => {
    const p = await page()
    const put = async (id: string, x: number, y: number) => {
      const item = p.sheet().problem.items.findIndex((i) => i.id === id)
      p.actions.lift(id, 'pointer')
      p.actions.carryTo({ ...placementOf(p.layout(), item)!, at: { x: mm(x), y: mm(y) } })
      p.actions.drop()
      await p.settled()
    }
    await put('board', 65, 25)
    await put('one', 5, 5)
    await put('two', 15, 5)
    const view = viewOf(p.store.getState(), 0)!
    expect(view.notes.at(-1)).toBe('Nothing fits with one and two held there. These cannot hold together:')
    expect(view.verdict).toMatch(/^Cannot fit with one and two held there: /)
    p.actions.askCosts()
    const cost = (id: string) => answered(() => p.asked().costs?.get(id))
    expect((await cost('board')).value).toEqual({ kind: 'neither' })
    expect((await cost('one')).value).toEqual({ kind: 'everything' })
    p.end()
  })

  it('is the only thing between the layout and the best, once the best was found with it', async () => {
    const p = await page()
    for (const [id, x, y] of [
      ['one', 0, 0],
      ['two', 70, 40],
    ] as const) {
      const item = p.sheet().problem.items.findIndex((i) => i.id === id)
      p.actions.lift(id, 'pointer')
      p.actions.carryTo({ ...placementOf(p.layout(), item)!, at: { x: mm(x), y: mm(y) } })
      p.actions.drop()
      p.actions.hold(id)
      await p.settled()
    }
    const view = () => viewOf(p.store.getState(), 0)!
    const goals = () =>
      view()
        .goals.map((g) => g.text)
        .join(' ')
    expect(view().better).toBe(true)
    expect(view().verdict).not.toMatch(/^Best possible/)
    // what the best of the whole has is to be had by nobody who keeps these where they are
    expect(goals()).toMatch(/mm of conductor, at most [\d.]+ mm less is possible with nothing held\.$/)
    p.actions.rearrange()
    await p.settled()
    expect(view()).toMatchObject({ better: false, verdict: 'Best possible with what is held.' })
    expect(goals()).toMatch(/mm of conductor, and no less is possible with what is held\.$/)
    // More holds change nothing in that; fewer do.
    p.actions.hold('board')
    expect(view().verdict).toBe('Best possible with what is held.')
    p.actions.freeAll()
    expect(view().verdict).not.toMatch(/^Best possible/)
    expect(goals()).not.toMatch(/held/)
    expect(view().better).toBe(true)
    p.end()
  })

  it('is nobody’s where nothing fits anyway', async () => {
    const p = await page(tight)
    const item = 0
    const at = { x: mm(0), y: mm(0) }
    p.actions.lay('base', [{ item, deck: 0, at, turn: 0 }])
    p.actions.hold('one')
    await p.settled()
    const view = viewOf(p.store.getState(), 0)!
    expect(view.notes.at(-1)).toBe('Nothing fits. These cannot hold together:')
    expect(view.verdict).toMatch(/^Cannot fit(, because|: )/)
    p.end()
  })
})

describe('a drag', () => {
  it('shows where the others would go, and nothing where they can stay', async () => {
    const p = await page()
    const { problem } = p.sheet()
    const before = p.layout()
    const one = placementOf(
      before,
      problem.items.findIndex((i) => i.id === 'one'),
    )!
    const two = problem.items.findIndex((i) => i.id === 'two')
    const carry = () => p.store.getState().carry
    p.actions.lift('two', 'pointer')
    p.actions.carryTo({ ...placementOf(before, two)!, at: one.at })
    await vi.waitFor(() => expect(carry()?.preview).toBeDefined(), { timeout: 10_000 })
    const { preview, placements } = carry()!
    expect(check(problem, preview!)).toEqual([])
    expect(placementOf(preview!, two)).toMatchObject({ at: one.at })
    expect(samePlace(placementOf(preview!, one.item), one)).toBe(false)
    expect(viewOf(p.store.getState(), 0)?.verdict).toMatch(/^Does not fit like this\. .* would make room\.$/)
    expect(p.layout()).toBe(before)
    expect(placements).not.toBe(preview)
    p.actions.takeBack()
    expect(carry()).toBeUndefined()
    p.actions.lift('two', 'pointer')
    p.actions.carryTo({ ...placementOf(before, two)!, at: { x: mm(80), y: mm(50) } })
    await new Promise((go) => setTimeout(go, 100))
    expect(carry()?.preview).toBeUndefined()
    p.end()
  })
})
