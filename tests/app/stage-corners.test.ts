/** What the stage does at its corners: a search that ended too soon, undo beside another variant, decks far apart, names as they are spelt. */
import { describe, expect, it } from 'vitest'
import { mm, type Problem, type SolveResult, solve, um } from '../../solver/index.ts'
import { asked } from '../../solver/words-asked.ts'
import { copyVariant, removeVariant } from '../../src/model/edit-variants.ts'
import { frameOf, gapFor } from '../../src/plan/frame.ts'
import { eyeOf, FIRST, FOV, STANDS, type Vector, wholeDistance } from '../../src/store/camera.ts'
import { asSpelt, plainly } from '../../src/store/sentences.ts'
import { createDeckwright, shown } from '../../src/store/store.ts'
import { viewOf } from '../../src/store/view.ts'
import { files, handPool, project, solvedSample, text } from './store-sample.ts'

function fresh() {
  const opened = files.open(text(), 'moss.json')
  if (opened.kind !== 'opened') throw new Error(JSON.stringify(opened.problems))
  const { pool, asked } = handPool()
  return { ...createDeckwright(files, pool, opened.doc), asked }
}

describe('a search that ended before it was through', () => {
  const view = ({ store }: ReturnType<typeof fresh>) => viewOf(store.getState(), store.getState().active)!

  it('goes on when it is told to, longer, and what it found is shown', async () => {
    const page = fresh()
    await page.asked[0]!.give({ status: 'unknown' })
    expect(view(page)).toMatchObject({ open: true, placements: [], looking: false })
    page.actions.lookOn()
    const again = page.asked.at(-1)!
    expect(view(page)).toMatchObject({ open: false, looking: true })
    expect(again.options.time).toBeGreaterThan(page.asked[0]!.options.time!)
    // Asked twice is asked once.
    page.actions.lookOn()
    expect(page.asked.at(-1)).toBe(again)
    await again.give(solve(again.problem))
    expect(view(page)).toMatchObject({ open: false, looking: false, verdict: 'Best possible.' })
    expect(page.store.getState().history.past).toEqual([])
  })

  it('keeps layout and verdict where nothing better is found, or it is stopped', async () => {
    const page = fresh()
    const best = solve(page.asked[0]!.problem)
    if (best.status !== 'optimal') throw new Error(best.status)
    const open = best.objectives.map((o) => ({ ...o, bound: o.value + 1, proven: false }))
    await page.asked[0]!.give({ ...best, status: 'feasible', objectives: open } as SolveResult)
    const before = view(page)
    expect(before.open).toBe(true)
    page.actions.lookOn()
    expect(page.asked.at(-1)!.options.hint).toEqual(best.placements)
    expect(shown(page.store.getState(), before.sheet)).toEqual(best.placements)
    await page.asked.at(-1)!.give({ status: 'unknown' })
    expect(view(page)).toMatchObject({ verdict: before.verdict, placements: best.placements, open: true })
    // One that is worse is not shown, neither on the way nor at the end.
    page.actions.lookOn()
    const poor = best.placements.filter(
      (p) => p.item !== page.asked[0]!.problem.items.findIndex((i) => i.id === 'board'),
    )
    page.asked.at(-1)!.say(poor)
    expect(view(page).placements).toEqual(best.placements)
    await page.asked.at(-1)!.give({ ...best, placements: poor, status: 'feasible', objectives: open } as SolveResult)
    expect(view(page)).toMatchObject({ verdict: before.verdict, placements: best.placements, open: true })
    page.actions.lookOn()
    page.actions.stop()
    await Promise.resolve()
    await Promise.resolve()
    expect(view(page)).toMatchObject({ verdict: before.verdict, placements: best.placements, open: true })
  })

  it('takes back nothing that was proven when it is stopped, at first or again, with another layout or the same', async () => {
    const page = fresh()
    const best = solve(page.asked[0]!.problem)
    if (best.status !== 'optimal') throw new Error(best.status)
    const [contacts, , wire] = best.objectives
    const goals = () => view(page).goals.map((g) => `${g.name} ${g.gap}`)
    const stop = async () => {
      page.actions.stop()
      for (let k = 0; k < 4; k++) await Promise.resolve()
      expect(view(page)).toMatchObject({ verdict: 'Stopped: the best so far.', looking: false, open: true })
    }
    // Another layout as good in contacts, with a longer wire.
    const pin = (item: number, x: number, y: number) => ({
      item,
      deck: 0,
      at: { x: mm(x), y: mm(y) },
      turn: 0 as const,
    })
    const far = solve(page.asked[0]!.problem, { pins: [pin(0, 0, 0), pin(1, 70, 40)] })
    if (!('placements' in far)) throw new Error(far.status)
    expect(far.figures.freeTiePoints).toBe(contacts!.value)
    expect(far.figures.wireLength).toBeGreaterThan(wire!.value)
    page.asked[0]!.tell({
      phase: 'free-tie-points',
      value: contacts!.value,
      bound: contacts!.value,
      placements: far.placements,
    })
    page.asked[0]!.tell({ phase: 'wire-length', bound: far.figures.wireLength - 5 })
    const first = goals()
    expect(first).toContain('free-tie-points 0')
    expect(first).toContain('wire-length 5')
    await stop()
    expect(goals()).toEqual(first)
    page.actions.lookOn()
    expect(goals()).toEqual(first)
    // A new search begins with bounds of its own, which say less.
    page.asked.at(-1)!.tell({ phase: 'free-tie-points', bound: contacts!.value + 14 })
    expect(goals()).toEqual(first)
    await stop()
    expect(goals()).toEqual(first)
    page.actions.lookOn()
    page.asked.at(-1)!.tell({ phase: 'free-tie-points', bound: contacts!.value + 14, placements: best.placements })
    await stop()
    expect(view(page).placements).toBe(best.placements)
    expect(goals()).toContain('free-tie-points 0')
    expect(goals()).toContain(`wire-length ${Math.max(0, wire!.value - (far.figures.wireLength - 5))}`)
    // Nor where it ends by itself and has proven less this time.
    page.actions.lookOn()
    const open = best.objectives.map((o) => ({
      ...o,
      bound: o.name === 'wire-length' ? o.bound : o.bound + 9,
      proven: false,
    }))
    await page.asked
      .at(-1)!
      .give({ ...best, status: 'feasible', objectives: open, placements: [...best.placements] } as SolveResult)
    expect(goals()).toContain('free-tie-points 0')
    expect(view(page).placements).toBe(best.placements)
    expect(view(page).verdict).not.toMatch(/^Stopped/)
    // The same by another name proves what is shown.
    page.actions.lookOn()
    await page.asked.at(-1)!.give({ ...best, placements: [...best.placements] })
    expect(view(page)).toMatchObject({ verdict: 'Best possible.', open: false })
    expect(view(page).placements).toBe(best.placements)
  })

  it('is not offered where the last word was said', async () => {
    const { store } = await solvedSample()
    expect(viewOf(store.getState(), 0)!.open).toBe(false)
  })
})

describe('undo', () => {
  it('leaves the variant on the stage that is there, whichever comes back before it', async () => {
    const { store, actions } = await solvedSample()
    const on = () => store.getState().history.doc.sheets[store.getState().active]!.variant
    actions.choose(1)
    actions.change(removeVariant(store.getState().history.doc.project, 'whole'))
    expect(on()).toBe('bare')
    actions.undo()
    expect(on()).toBe('bare')
    actions.redo()
    expect(on()).toBe('bare')
  })
})

describe('what is undone or redone', () => {
  it('is on the stage, in whichever variant it was done', async () => {
    const { store, actions } = await solvedSample()
    const on = () => store.getState().history.doc.sheets[store.getState().active]!.variant
    const copy = copyVariant(store.getState().history.doc.project, 'whole')
    actions.change(copy.project)
    actions.choose(store.getState().history.doc.sheets.findIndex((s) => s.variant === copy.id))
    expect(on()).toBe(copy.id)
    actions.hold('one')
    const held = () => store.getState().history.doc.sheets.find((s) => s.variant === copy.id)?.holds
    actions.undo()
    actions.undo()
    expect(held()).toBeUndefined()
    actions.choose(0)
    actions.redo()
    expect([on(), held()]).toEqual(['whole', []])
    actions.redo()
    expect([on(), held()]).toEqual([copy.id, ['one']])
    actions.choose(0)
    actions.undo()
    expect([on(), held()]).toEqual([copy.id, []])
    // What changes the one on the stage as well leaves it there.
    actions.choose(0)
    actions.change({ ...store.getState().history.doc.project, settings: { itemClearance: 1 } })
    actions.undo()
    actions.redo()
    expect(on()).toBe('whole')
  })
})

describe('a sentence of the checker', () => {
  it('loses no word that it needs', () => {
    const { problem } = fresh().asked[0]!
    expect(
      plainly(problem, 'R5: the hole h1 of brain leaves no deck to the outline of main deck, where 2 mm is asked'),
    ).toBe('The hole h1 of brain leaves no deck to the outline of main deck, where 2 mm is asked.')
    expect(plainly(problem, 'brain leaves 1.2 mm of deck to the slot of deck upper')).toBe(
      'Brain leaves 1.2 mm of deck to the slot of deck upper.',
    )
    expect(plainly(problem, asked.at('brain', { deck: 0, at: { x: mm(108), y: mm(-7.5) } }, problem.decks))).toBe(
      'Brain must stay at 108 mm, −7.5 mm from the datum on deck main.',
    )
  })
})

describe('a conflict', () => {
  it('has items called as the file calls them', () => {
    const opened = files.open(
      text({ ...project, items: [{ id: 'one', footprint: 'brick' }], wires: [], variants: [] }),
      'm.json',
    )
    if (opened.kind !== 'opened') throw new Error(JSON.stringify(opened.problems))
    const { problem } = opened.doc.sheets[0]!
    expect(asSpelt(problem, 'one must be placed')).toBe('one must be placed.')
    expect(asSpelt(problem, 'no layout tips over')).toBe('No layout tips over.')
    expect(asSpelt(problem, 'onely must be placed')).toBe('Onely must be placed.')
  })

  it('and a deck by its name, which may have the sign of copies', () => {
    const more = { items: [{ id: 'one', footprint: 'brick', count: 2 }], wires: [], variants: [] }
    const opened = files.open(text({ ...project, ...more }), 'm.json')
    if (opened.kind !== 'opened') throw new Error(JSON.stringify(opened.problems))
    const { problem } = opened.doc.sheets[0]!
    expect(asSpelt(problem, 'one#2 is too high to stand under Deck#1')).toBe('one 2 is too high to stand under Deck#1.')
  })
})

/** Whether a point (mm) is in a square picture taken by an eye that looks at a target: by angles, as an eye would. */
function inPicture(point: Vector, eye: Vector, target: Vector): boolean {
  const minus = (a: Vector, b: Vector): Vector => [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
  const cross = (a: Vector, b: Vector): Vector => [
    a[1] * b[2] - a[2] * b[1],
    a[2] * b[0] - a[0] * b[2],
    a[0] * b[1] - a[1] * b[0],
  ]
  const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
  const ahead = minus(target, eye)
  const right = cross(ahead, [0, 0, 1])
  const up = cross(right, ahead)
  const to = minus(point, eye)
  const depth = dot(to, ahead) / Math.hypot(...ahead)
  const angle = (v: Vector): number => (Math.atan2(Math.abs(dot(to, v) / Math.hypot(...v)), depth) * 180) / Math.PI
  return angle(right) <= FOV / 2 + 1e-9 && angle(up) <= FOV / 2 + 1e-9
}

describe('a view in the round', () => {
  it.each([
    ['an ordinary deck', [96, 67, 40]],
    ['two decks far apart', [50, 40, 600]],
    ['a deck of a metre', [500, 500, 20]],
    ['a tiny deck', [10, 10, 16]],
  ] as const)('begins so far off that all of %s is in sight, from every stand', (_, [w, d, h]) => {
    const low: Vector = [-w, -d, -0.38 * h]
    const high: Vector = [w, d, 0.62 * h]
    const whole = wholeDistance(low, high)
    const seen = (far: number): boolean =>
      [FIRST, ...Object.values(STANDS)].every((stand) => {
        const { eye, target } = eyeOf(stand, [0, 0, 0], far)
        return [low[0], high[0]].every((x) =>
          [low[1], high[1]].every((y) => [low[2], high[2]].every((z) => inPicture([x, y, z], eye, target))),
        )
      })
    expect(seen(whole)).toBe(true)
    expect(seen(whole * 0.98)).toBe(false)
  })
})

describe('decks on one sheet', () => {
  it('leave room between them for rulers and names, however many there are', () => {
    for (const n of [2, 3, 5]) {
      const decks = Array.from({ length: n }, (_, i) => ({ ...project.decks[0]!, id: `d${i}`, z: 50 + 60 * i }))
      const opened = files.open(text({ ...project, decks }), 'm.json')
      if (opened.kind !== 'opened') throw new Error(JSON.stringify(opened.problems))
      const problem: Problem = opened.doc.sheets[0]!.problem
      const frame = frameOf(problem, 12, gapFor(problem, 12), 1.1)
      const [a, b] = [...frame.decks].sort((p, q) => p.y - q.y || p.x - q.x)
      const column = a!.y !== b!.y
      const gap = column ? b!.y - a!.y - 60 : b!.x - a!.x - 100
      // Rulers are 36 pixels, a name 14, in a picture of about 500: a tenth of it.
      expect(gap / (column ? frame.height : frame.width)).toBeGreaterThan(0.09)
      // In a picture of 300 pixels a tenth is too little.
      const narrow = frameOf(problem, 12, gapFor(problem, 12, 300), 1.1)
      const [c, d] = [...narrow.decks].sort((p, q) => p.y - q.y)
      if (n < 5) expect(((d!.y - c!.y - 60) * 300) / narrow.width).toBeGreaterThanOrEqual(50)
    }
  })
})

describe('a layout of one’s own that the solver had no time for', () => {
  it('fits where it keeps all rules, and was not found where it breaks one', async () => {
    const page = await solvedSample()
    const view = () => viewOf(page.store.getState(), 0)!
    const two = view().placements.find((p) => view().problem.items[p.item]!.id === 'two')!
    page.actions.lift('two', 'pointer')
    page.actions.carryTo({ ...two, at: { x: um(79_000), y: um(49_000) }, turn: 0 })
    page.actions.drop()
    expect(view().findings).toEqual([])
    await page.asked.at(-1)!.give({ status: 'unknown' })
    expect(view().stuck).toBe(false)
    expect(view().verdict).not.toMatch(/^No layout/)
    // On top of the other brick nothing is well.
    const one = view().placements.find((p) => view().problem.items[p.item]!.id === 'one')!
    page.actions.lift('two', 'pointer')
    page.actions.carryTo({ ...one, item: view().problem.items.findIndex((i) => i.id === 'two') })
    page.actions.drop()
    await page.asked.at(-1)!.give({ status: 'unknown' })
    expect(view().findings.length).toBeGreaterThan(0)
    expect(view()).toMatchObject({
      stuck: true,
      verdict: 'No layout with two held there was found in the time there was.',
    })
  })

  it('says that none was found near it, and not that there is none, where the best is at hand', async () => {
    const page = await solvedSample()
    const view = () => viewOf(page.store.getState(), 0)!
    const { placements } = view()
    const [one, two] = ['one', 'two'].map((id) => placements.find((p) => view().problem.items[p.item]!.id === id)!)
    // as a file may keep it: nothing is held, and one brick stands on the other
    page.actions.lay('whole', [...placements.filter((p) => p !== two), { ...one!, item: two!.item }])
    await page.asked.at(-1)!.give({ status: 'unknown' })
    expect(view().findings.length).toBeGreaterThan(0)
    expect(view()).toMatchObject({
      better: true,
      verdict: 'This layout breaks rules, and none was found near it in the time there was. The best is known.',
    })
    page.actions.rearrange()
    expect(view().findings).toEqual([])
  })
})
