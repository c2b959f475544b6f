/** Whoever has put nothing anywhere gets the best layout of what is asked now; whoever has keeps the own one. */
import { expect, it } from 'vitest'
import { check, solve } from '../../solver/index.ts'
import { setItem } from '../../src/model/edit-items.ts'
import { createDeckwright, shown } from '../../src/store/store.ts'
import { viewOf } from '../../src/store/view.ts'
import { elsewhere, files, handPool, reply, solvedSample, text } from './store-sample.ts'

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

it('a layout of one’s own that keeps all rules stays, however far the search for the nearest came', async () => {
  const { store, actions, asked } = await solvedSample()
  const sheet = () => store.getState().history.doc.sheets[0]!
  actions.hold('two')
  actions.free('two')
  const { problem, placements } = sheet()
  const other = solve(problem, { pins: [], time: 5000 })
  if (!('placements' in other) || !placements) throw new Error('the sample has a layout')
  const from = placements.find((p) => problem.items[p.item]?.id === 'one')!
  actions.lift('one', 'pointer')
  actions.carryTo(elsewhere(problem, placements, 'one'))
  actions.drop()
  const own = sheet().placements!
  expect(check(problem, own)).toEqual([])
  expect(own.find((p) => p.item === from.item)!.at).not.toEqual(from.at)
  const trial = asked.at(-1)!
  expect(trial.options.keep).toBe(true)
  trial.say(other.placements)
  expect(shown(store.getState(), sheet())).toEqual(own)
  await trial.give(other)
  expect(sheet().placements).toEqual(own)
  expect(sheet().answer).toMatchObject({ kind: 'result', result: { placements: own } })
})

it('asking for the best never leaves less than one’s own layout, whether the search ended without one or is on its way', async () => {
  for (const ended of [true, false]) {
    const opened = files.open(text(), 'moss.json')
    if (opened.kind !== 'opened') throw new Error('the sample opens')
    const { pool, asked } = handPool()
    const { store, actions } = createDeckwright(files, pool, opened.doc)
    const sheet = () => store.getState().history.doc.sheets[0]!
    const search = asked.find((a) => a.problem === sheet().problem)!
    const own = solve(search.problem, { steps: 100_000 })
    if (!('placements' in own)) throw new Error('the sample has a layout')
    actions.lay('whole', own.placements)
    await reply(asked.at(-1)!)
    if (ended) await search.give({ status: 'unknown' })
    expect(viewOf(store.getState(), 0)!.better).toBe(true)

    actions.rearrange()
    expect(sheet().placements).toBeUndefined()
    expect(shown(store.getState(), sheet())).toEqual(own.placements)
    expect(asked.at(-1)).toMatchObject({ problem: search.problem, options: { hint: own.placements } })
    await asked.at(-1)!.give({ status: 'unknown' })
    expect(shown(store.getState(), sheet())).toEqual(own.placements)
    expect(viewOf(store.getState(), 0)).toMatchObject({ looking: false, open: true })
  }
})
