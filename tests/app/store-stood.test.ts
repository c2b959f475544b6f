/** Where nothing fits: where things stood before, how loosenings are said; and what is said once and rounded as it was typed. */
import { expect, it } from 'vitest'
import { mm } from '../../solver/units.ts'
import { changed } from '../../solver/words.ts'
import { addPart, setItem } from '../../src/model/edit-items.ts'
import { formOf, shapeOf, slotShape } from '../../src/model/edit-shapes.ts'
import { saysSize } from '../../src/store/part-size.ts'
import { carriedTo, stoodBefore } from '../../src/store/stood.ts'
import { viewOf } from '../../src/store/view.ts'
import { words } from '../../src/words/index.ts'
import { solvedSample } from './store-sample.ts'

it('a plan on which nothing fits keeps where things stood, and undo brings the layout back', async () => {
  const { store, actions, asked } = await solvedSample()
  const before = viewOf(store.getState(), 0)!
  expect(before.placements).toHaveLength(4)
  expect(before.stood).toBeUndefined()
  // Bricks 20 × 10 mm in a place that holds one of them.
  const from = asked.length
  const { project } = store.getState().history.doc
  expect(actions.change(setItem(project, 'whole', 'one', { count: 40 }), 'found-again')).toEqual([])
  const waiting = viewOf(store.getState(), 0)!
  expect(waiting.placements).toEqual([])
  expect(waiting.stuck).toBe(false)
  const problem = waiting.problem
  for (const one of asked.slice(from))
    await one.give({
      status: 'infeasible',
      conflictIrreducible: true,
      conflict: [{ rule: 'R2', items: ['two'], text: 'two must be placed' }],
    })
  const view = viewOf(store.getState(), 0)!
  expect(view.stuck).toBe(true)
  expect(view.better).toBe(false)
  expect(view.placements).toEqual([])
  // By its name: the items have other numbers now, and the one brick is the first of many.
  const named = (p: { item: number }, of = problem): string => of.items[p.item]!.id.replace('#1', '')
  expect(view.stood!.map((p) => problem.items[p.item]!.id).sort()).toEqual(['board', 'one#1', 'peg', 'two'])
  for (const p of view.stood!) {
    const was = before.placements.find((b) => named(b, before.problem) === named(p))!
    expect([p.at, p.deck, p.turn]).toEqual([was.at, was.deck, was.turn])
    expect(p.host === undefined ? undefined : problem.items[p.host]!.id).toBe(
      was.host === undefined ? undefined : before.problem.items[was.host]!.id,
    )
  }
  expect(view.stood!.find((p) => named(p) === 'peg')!.host).toBe(problem.items.findIndex((i) => i.id === 'board'))
  actions.undo()
  expect(viewOf(store.getState(), 0)!.placements).toEqual(before.placements)
  expect(viewOf(store.getState(), 0)!.stood).toBeUndefined()
})

it('nothing is made up where nothing stood before, and what lost its board or deck is left away', async () => {
  const { store, actions } = await solvedSample()
  const state = store.getState()
  const sheet = state.history.doc.sheets[0]!
  expect(stoodBefore({ ...state, history: { ...state.history, past: [] } }, sheet)).toBeUndefined()
  const { placements, problem } = viewOf(state, 0)!
  const without = { ...problem, items: problem.items.filter((i) => i.id !== 'board') }
  expect(
    carriedTo(problem, placements, without)
      .map((p) => without.items[p.item]!.id)
      .sort(),
  ).toEqual(['one', 'two'])
  expect(carriedTo(problem, placements, { ...problem, decks: [] })).toEqual([])
  // One board becomes the first of two, and what is plugged into it stays on it; and back again.
  const items = problem.items.flatMap((i) => (i.id === 'board' ? [1, 2].map((k) => ({ ...i, id: `board#${k}` })) : [i]))
  const several = carriedTo(problem, placements, { ...problem, items })
  expect(several.map((p) => items[p.item]!.id).sort()).toEqual(['board#1', 'one', 'peg', 'two'])
  expect(items[several.find((p) => items[p.item]!.id === 'peg')!.host!]!.id).toBe('board#1')
  expect(carriedTo({ ...problem, items }, several, problem)).toEqual(placements)
  // A step that keeps what is known shows the layout itself, not where it was.
  actions.change(addPart(state.history.doc.project, 'brick').project)
  expect(viewOf(store.getState(), 0)!.stood).toBeUndefined()
})

it('loosenings are said as the page’s fields say it', () => {
  const { loosening } = words.sentences
  // decks by length and width, as the commands do
  const text = changed.deck('Main deck', { longer: mm(7), wider: mm(-2) }, { length: mm(117), width: mm(50) })
  expect(text).toContain('longer')
  expect(loosening(text)).toBe(text)
  for (const fields of [words.deck, words.start]) expect(fields).toMatchObject({ length: 'Length', width: 'Width' })
  expect(loosening('Let brick stand not in the middle from left to right.')).toBe(
    'Let brick stand off the middle from left to right.',
  )
})

it('what stands over an edge is said so, with no sign', () => {
  const { place } = words.sentences
  expect(place('-2', '5', 0)).toBe('2 mm over the left edge, 5 mm from the back')
  expect(place('2', '-0.5', 2)).toBe('2 mm from the left, 0.5 mm over the back edge, turned half round')
})

it('a size that stands in a name is not said again', () => {
  expect(saysSize('controller, common four-hole outline 68.58 × 53.34', 68.58, 53.34)).toBe(true)
  expect(saysSize('single-board computer 65 × 30', 30, 65)).toBe(true)
  expect(saysSize('motor driver, 2 × 6 pins across the gap', 15.2, 12.6)).toBe(false)
  expect(saysSize(undefined, 2, 6)).toBe(false)
})

it('a slot that runs aslant reads as it was made, and is written as it was read', () => {
  for (const [from, to, width] of [
    [[20, 30], [61, 57], 4],
    [[12.5, 80], [47.25, 33.1], 3.2],
    [[1, 2], [3, 5], 0.5],
  ] as const) {
    const shape = slotShape([...from], [...to], width)
    const form = formOf(shape)
    expect(form).toEqual({ kind: 'slot', from, to, width })
    expect(shapeOf(form)).toEqual(shape)
  }
  // One that no plain numbers make stays what it is.
  const odd = slotShape([20.0003, 30], [61, 57], 3.997)
  expect(shapeOf(formOf(odd))).toEqual(odd)
})
