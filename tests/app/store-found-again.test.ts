/** Whoever has put nothing anywhere gets the best layout of what is asked now; whoever has keeps the own one. */
import { expect, it } from 'vitest'
import { setItem } from '../../src/model/edit-items.ts'
import { reply, solvedSample } from './store-sample.ts'

it('an edit has a layout that was only found looked for again', async () => {
  const { store, actions, asked } = await solvedSample()
  const before = asked.length
  const { project } = store.getState().history.doc
  expect(actions.change(setItem(project, 'whole', 'one', { turns: [0] }), 'found-again')).toEqual([])
  const [sheet] = store.getState().history.doc.sheets
  expect(sheet?.placements).toBeUndefined()
  expect(asked.length).toBeGreaterThan(before)
  expect(asked.slice(before).every((a) => a.options.keep !== true)).toBe(true)
})

it('and leaves one of one’s own as far as it can, wherever it is', async () => {
  const { store, actions, asked } = await solvedSample()
  actions.hold('two')
  actions.free('two')
  actions.lift('one', 'keys')
  actions.nudge(1, 0)
  actions.drop()
  for (const one of asked.filter((a) => !a.cancelled).slice(-1)) await reply(one)
  actions.choose(1)
  const { project, sheets } = store.getState().history.doc
  expect(sheets[0]?.placements).toBeDefined()
  expect(sheets[1]?.placements).toBeUndefined()
  expect(actions.change(setItem(project, 'bare', 'one', { turns: [0, 1] }), 'found-again')).toEqual([])
  const after = store.getState().history.doc.sheets
  expect(after[0]?.placements).toEqual(sheets[0]?.placements)
  expect(after[0]?.holds).toEqual(['one'])
  expect(after[1]?.placements).toBeUndefined()
})
