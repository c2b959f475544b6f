/** Other layouts as good as the one on show: answers of the real solver, leafed through, asked for again, and when they are dropped. */
import { describe, expect, it } from 'vitest'
import { check, figureOf, figures, mm, solve } from '../../solver/index.ts'
import { shown } from '../../src/store/store.ts'
import { viewOf } from '../../src/store/view.ts'
import { type Ask, answered, page, project } from './store-page.ts'
import { files } from './store-sample.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'

/** Two bricks of 20 × 10 on 60 × 20: few layouts, so that the search comes to its end. */
const few = {
  ...project,
  settings: { grid: 10 },
  decks: [{ id: 'main', z: 50, thickness: 3, outline: { rect: [0, 0, 60, 20] } }],
  items: project.items.slice(0, 2),
  variants: [],
}

describe('layouts as good', () => {
  const two = [{ id: 'plain' }, { id: 'calm', settings: { itemClearance: 5 } }]
  it('can be leafed through as one step, are legal and have the same figures', async () => {
    const p = await page(few)
    const first = p.layout()
    const { problem } = p.sheet()
    p.actions.askEqual()
    const { value } = await answered(() => p.asked().equal)
    expect(value.layouts[0]).toBe(first)
    expect(value.layouts.length).toBeGreaterThan(2)
    for (const [k, layout] of value.layouts.entries()) {
      expect(check(problem, layout)).toEqual([])
      expect(figures(problem, layout).freeTiePoints).toBe(figures(problem, first).freeTiePoints)
      expect(Math.abs(figures(problem, layout).wireLength - figures(problem, first).wireLength)).toBeLessThanOrEqual(
        100,
      )
      expect(value.elsewhere[k] === 0).toBe(k === 0)
    }
    p.actions.showEqual(1)
    expect(p.layout()).toEqual(value.layouts[1])
    p.actions.showEqual(2)
    expect(p.layout()).toEqual(value.layouts[2])
    expect(p.steps()).toBe(1)
    expect(viewOf(p.store.getState(), 0)?.looking).toBe(false)
    const now = p.asked().equal
    expect(now?.kind === 'answered' && now.value.on).toBe(2)
    p.actions.undo()
    expect(p.layout()).toEqual(first)
    p.end()
  })

  it('are told to be as good as the best, and read like it, where they differ by less than is shown', async () => {
    const balanced = {
      ...few,
      settings: { grid: 1 },
      chassis: {
        contact: [
          [-10, -10],
          [70, -10],
          [70, 30],
          [-10, 30],
        ],
        mass: 1000,
        centre: [33, 13, 20],
      },
      footprints: few.footprints.map((f) => (f.id === 'brick' ? { ...f, mass: 1 } : f)),
      items: [{ id: 'one', footprint: 'brick' }],
      wires: [],
      objective: ['balance'],
    }
    const p = await page(balanced)
    const before = viewOf(p.store.getState(), 0)!
    p.actions.askEqual()
    const { value } = await answered(() => p.asked().equal)
    expect(value.layouts.length).toBeGreaterThan(3)
    const figuresAt = value.layouts.map((l) => figures(p.sheet().problem, l).balance!)
    expect(Math.max(...figuresAt) - Math.min(...figuresAt)).toBeGreaterThan(1)
    for (const k of value.layouts.keys()) {
      p.actions.showEqual(k)
      const { verdict, better, goals } = viewOf(p.store.getState(), 0)!
      expect({ verdict, better, texts: goals.map((g) => g.text) }).toEqual({
        verdict: before.verdict,
        better: false,
        texts: before.goals.map((g) => g.text),
      })
    }
    p.end()
  })

  /** The page as after “Stop looking”: the best so far is legal, and not the best. */
  const stopped = async () => {
    const p = await page()
    const { problem } = p.sheet()
    const pin = (id: string, x: number, y: number) => {
      const item = problem.items.findIndex((i) => i.id === id)
      return { item, deck: 0, at: { x: mm(x), y: mm(y) }, turn: 0 as const }
    }
    const far = solve(problem, { pins: [pin('one', 0, 0), pin('two', 70, 40)] })
    if (!('placements' in far)) throw new Error(far.status)
    const best = p.layout()
    expect(figures(problem, far.placements).wireLength).toBeGreaterThan(figures(problem, best).wireLength)
    const known = { placements: far.placements, answer: { kind: 'stopped' as const } }
    p.store.setState({ known: new Map(p.store.getState().known).set(problem, known) })
    return { p, problem, far: far.placements, best }
  }

  it('have the figures of what is shown, and what outdoes the best so far takes its place', async () => {
    const { p, problem, best } = await stopped()
    p.actions.askEqual()
    const { value } = await answered(() => p.asked().equal)
    expect(value.better).toBe('shown')
    for (const layout of value.layouts) {
      expect(figures(problem, layout).freeTiePoints).toBe(figures(problem, p.layout()).freeTiePoints)
      const more = figures(problem, layout).wireLength - figures(problem, p.layout()).wireLength
      expect(Math.abs(more)).toBeLessThanOrEqual(100)
    }
    expect(p.layout()).toEqual(value.layouts[0])
    expect(figures(problem, p.layout()).wireLength).toBe(figures(problem, best).wireLength)
    expect(p.steps()).toBe(0)
    // it is the best that is known, and not a layout of one's own
    expect(p.sheet().placements).toBeUndefined()
    expect(viewOf(p.store.getState(), 0)).toMatchObject({ verdict: 'Stopped: the best so far.', open: true })
    p.end()
  })

  it.skipIf(!LONG)('leave a layout of one’s own where it is, and stand behind it where they are better', async () => {
    const { p, problem, far } = await stopped()
    p.actions.lay(p.sheet().variant, far)
    await p.settled()
    expect(p.sheet().placements).toEqual(far)
    p.actions.askEqual()
    const { value } = await answered(() => p.asked().equal)
    expect(value).toMatchObject({ better: 'others', on: 0 })
    expect(value.layouts[0]).toEqual(far)
    expect(p.layout()).toEqual(far)
    p.actions.showEqual(1)
    // its figures are its own
    const now = viewOf(p.store.getState(), 0)!
    for (const g of now.goals) expect(g.value).toBe(figureOf(g.name, figures(problem, p.layout())))
    p.end()
  })

  it.skipIf(!LONG)('end where they began: the best so far is that again', async () => {
    const { p, problem, best } = await stopped()
    p.store.setState({
      known: new Map(p.store.getState().known).set(problem, { placements: best, answer: { kind: 'stopped' } }),
    })
    p.actions.askEqual()
    const { value } = await answered(() => p.asked().equal)
    expect(value.better).toBeUndefined()
    expect(value.layouts.length).toBeGreaterThan(1)
    const before = viewOf(p.store.getState(), 0)!
    p.actions.showEqual(1)
    // as good as the best that is known
    expect(viewOf(p.store.getState(), 0)).toMatchObject({ better: false })
    p.actions.showEqual(0)
    const after = viewOf(p.store.getState(), 0)!
    expect(after.placements).toEqual(before.placements)
    expect(after).toMatchObject({ verdict: 'Stopped: the best so far.', open: true, better: false })
    // Nothing is left to undo: a step back would show the same.
    expect(p.steps()).toBe(0)
    p.actions.showEqual(1)
    expect(p.steps()).toBe(1)
    p.actions.undo()
    expect(viewOf(p.store.getState(), 0)!.placements).toEqual(before.placements)
    p.end()
  })

  it('leave no step that shows nothing, whatever was done to another variant meanwhile', async () => {
    const p = await page({ ...few, variants: two })
    const shownNow = (): string => files.text(p.store.getState().history.doc, (s) => shown(p.store.getState(), s))
    p.actions.askEqual()
    const { value } = await answered(() => p.asked().equal)
    expect(value.layouts.length).toBeGreaterThan(1)
    p.actions.showEqual(1)
    p.actions.choose(1)
    p.actions.hold('one')
    p.actions.choose(0)
    p.actions.showEqual(0)
    expect(p.steps()).toBe(2)
    for (let steps = p.steps(); steps > 0; steps--) {
      const before = shownNow()
      p.actions.undo()
      expect(shownNow()).not.toBe(before)
    }
    p.end()
  })

  it.each([0, 2])(
    'are not leafed through by redo as well: on to the layout at %i, what was undone is forgotten',
    async (k) => {
      const p = await page({ ...few, variants: two })
      p.actions.askEqual()
      const { value } = await answered(() => p.asked().equal)
      expect(value.layouts.length).toBeGreaterThan(2)
      p.actions.showEqual(1)
      p.actions.choose(1)
      p.actions.hold('one')
      p.actions.undo()
      p.actions.choose(0)
      p.actions.showEqual(k)
      p.actions.redo()
      expect(viewOf(p.store.getState(), 0)!.placements).toEqual(value.layouts[k])
      p.end()
    },
  )

  it('are looked for longer when asked again, where time ended it; and never where it is proven that there is none', async () => {
    const times: (number | undefined)[] = []
    let exhausted = false
    const none: Ask = (asked) => {
      if (asked.kind === 'equal') times.push(asked.options.time)
      const answer = { status: 'found', layouts: [], best: true, exhausted }
      return { done: Promise.resolve({ kind: 'done', answer }), cancel: () => {} } as never
    }
    const p = await page(few, none)
    for (const n of [1, 2, 3, 3]) {
      exhausted = n === 3
      p.actions.askEqual()
      const { value } = await answered(() => p.asked().equal)
      expect(value).toMatchObject({ layouts: [p.layout()], exhausted })
      expect(times).toHaveLength(n)
    }
    expect(times[0]).toBeLessThan(times[1]!)
    expect(times[2]).toBe(times[1])
    p.end()
  })

  it('are not looked for any more once the best itself is looked for again', async () => {
    let cancelled = 0
    const never: Ask = () => ({ done: new Promise(() => {}), cancel: () => (cancelled += 1) }) as never
    const p = await page(few, never)
    p.actions.askEqual()
    p.actions.lookOn()
    expect(cancelled).toBe(1)
    expect(p.asked().equal).toBeUndefined()
    p.end()
  })

  it('are dropped, and no longer looked for, when the sheet changes', async () => {
    const p = await page()
    p.actions.askEqual()
    p.actions.hold('one')
    expect(p.store.getState().asked.size).toBe(0)
    await p.settled()
    await new Promise((go) => setTimeout(go, 100))
    expect(p.store.getState().asked.size).toBe(0)
    p.end()
  })
})
