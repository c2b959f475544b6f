/** Undo without limit: whatever was done, taking all of it back gives the first document, byte for byte. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { solve, um } from '../../solver/index.ts'
import { share } from '../../src/store/share.ts'
import { createDeckwright, type Deckwright, shown } from '../../src/store/store.ts'
import { elsewhere, files, handPool, project, reply, solvedSample, text } from './store-sample.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'
const runs = LONG ? 200 : 6

/** What stands in the document itself, as its file would have it. */
const written = ({ store }: Deckwright): string => files.text(store.getState().history.doc, (s) => s.placements ?? [])

const IDS = ['one', 'two', 'board', 'peg']

/** One thing a user can do, by a number for the choice and two for its details. Further kinds of change belong here. */
const DEEDS: readonly ((d: Deckwright, a: number, b: number) => void)[] = [
  ({ actions }, a, b) => {
    actions.lift(IDS[a % 4]!, 'keys')
    actions.nudge((a % 7) - 3, (b % 7) - 3)
    if (b % 5 === 0) actions.takeBack()
    else actions.drop()
  },
  ({ actions, store }, a, b) => {
    const { history, active } = store.getState()
    const at = shown(store.getState(), history.doc.sheets[active]!)[a % 4]
    if (!at) return
    actions.lift(IDS[at.item]!, 'pointer')
    actions.carryTo({ ...at, at: { x: um((a % 80) * 1000), y: um((b % 50) * 1000) } })
    actions.drop()
  },
  ({ actions }, a, b) => actions.turn(IDS[a % 4]!, b % 2 ? 1 : -1),
  ({ actions }, a) => actions.hold(IDS[a % 4]!),
  ({ actions }, a) => actions.free(IDS[a % 4]!),
  ({ actions }) => actions.freeAll(),
  ({ actions }) => actions.rearrange(),
  ({ actions }, a) => actions.choose(a % 2),
  ({ actions }) => actions.undo(),
  ({ actions }) => actions.redo(),
  ({ actions }) => void actions.build(),
  ({ actions, store }, a) => {
    const { project: now } = store.getState().history.doc
    expect(actions.change({ ...now, name: `Moss minder ${a}` })).toEqual([])
  },
  ({ actions, store }, a, b) => {
    const { project: now } = store.getState().history.doc
    const settings = { ...now.settings, itemClearance: (a % 4) / 2 }
    expect(actions.change({ ...now, settings }, b % 2 ? 'anew' : undefined)).toEqual([])
  },
  ({ actions, store }) => {
    const { project: now } = store.getState().history.doc
    const wrong = { ...now, decks: [] } as unknown as typeof now
    expect(actions.change(wrong).length).toBeGreaterThan(0)
  },
]

describe('undo of everything', () => {
  it('gives the first document, and redo of everything the last, after any session', async () => {
    const deed = fc.tuple(fc.nat(DEEDS.length - 1), fc.nat(99), fc.nat(99), fc.boolean())
    await fc.assert(
      fc.asyncProperty(fc.array(deed, { minLength: 1, maxLength: 30 }), async (deeds) => {
        const opened = files.open(text(), 'moss.json')
        if (opened.kind !== 'opened') throw new Error('the sample is broken')
        const { pool, asked } = handPool()
        const here = createDeckwright(files, pool, opened.doc)
        const first = written(here)
        let answered = 0
        const answer = async (): Promise<void> => {
          for (const one of asked.slice(answered))
            if (!one.cancelled) await one.give(solve(one.problem, { ...one.options, steps: 60 }))
          answered = asked.length
        }
        for (const [which, a, b, wait] of deeds) {
          DEEDS[which]!(here, a, b)
          if (wait) await answer()
        }
        here.actions.takeBack()
        // Nothing that the page writes is anything that it complains of.
        for (const saved of [written(here), here.actions.save().text])
          expect(files.open(saved, 'moss.json')).toMatchObject({ kind: 'opened', notices: [] })
        const { history } = here.store.getState()
        for (let left = history.future.length; left > 0; left--) here.actions.redo()
        const last = written(here)
        const steps = here.store.getState().history.past.length
        for (let left = steps; left > 0; left--) here.actions.undo()
        expect(here.store.getState().history.past).toEqual([])
        expect(written(here)).toBe(first)
        for (let left = steps; left > 0; left--) here.actions.redo()
        expect(written(here)).toBe(last)
      }),
      { numRuns: runs, seed: 20_271 },
    )
  })

  it('goes back over more steps than anybody counts', () => {
    const opened = files.open(text(), 'moss.json')
    if (opened.kind !== 'opened') throw new Error('the sample is broken')
    const here = createDeckwright(files, handPool().pool, opened.doc)
    const first = written(here)
    const many = LONG ? 300 : 120
    for (let k = 0; k < many; k++) here.actions.change({ ...here.store.getState().history.doc.project, name: `${k}` })
    expect(here.store.getState().history.past.length).toBe(many)
    for (let k = 0; k < many; k++) here.actions.undo()
    expect(written(here)).toBe(first)
  })
})

describe('undo shows what it undoes', () => {
  /** `one` somewhere else in that variant, by hand; what is asked for it. */
  const move = ({ store, actions, asked }: Awaited<ReturnType<typeof solvedSample>>, k: number) => {
    actions.choose(k)
    const sheet = store.getState().history.doc.sheets[k]!
    actions.lift('one', 'pointer')
    actions.carryTo(elsewhere(sheet.problem, shown(store.getState(), sheet), 'one'))
    actions.drop()
    return asked.at(-1)!
  }

  it('though the variant on the stage was answered since', async () => {
    const here = await solvedSample()
    const [first, second] = [move(here, 1), move(here, 0)]
    for (const one of [second, first]) await reply(one)
    here.actions.choose(1)
    here.actions.undo()
    expect(here.store.getState()).toMatchObject({ active: 0, history: { future: [{}] } })
    here.actions.choose(1)
    here.actions.redo()
    expect(here.store.getState().active).toBe(0)
    for (const k of [0, 1]) {
      here.actions.choose(k)
      here.actions.undo()
      // What is on the stage itself changes there.
      expect(here.store.getState().active).toBe(k)
    }
  })
})

describe('what two documents have in common', () => {
  it('stands there once after an edit', () => {
    const opened = files.open(text(), 'moss.json')
    if (opened.kind !== 'opened') throw new Error('the sample is broken')
    const here = createDeckwright(files, handPool().pool, opened.doc)
    const before = here.store.getState().history.doc
    here.actions.change({ ...before.project, settings: { itemClearance: 3 } })
    const after = here.store.getState().history.doc
    expect(after.project.footprints).toBe(before.project.footprints)
    expect(after.sheets[0]!.problem).not.toBe(before.sheets[0]!.problem)
    expect(after.sheets[0]!.problem.decks).toBe(before.sheets[0]!.problem.decks)
  })

  it('changes no value and no order of fields', () => {
    const value = fc.jsonValue({ maxDepth: 4 })
    fc.assert(
      fc.property(value, value, (a, b) => {
        expect(JSON.stringify(share(a, b))).toBe(JSON.stringify(b))
        expect(share(a, structuredClone(a))).toBe(a)
      }),
      { numRuns: 200 },
    )
    const turned = { b: 1, a: 2 }
    expect(JSON.stringify(share({ a: 2, b: 1 }, turned))).toBe('{"b":1,"a":2}')
    expect(share(project, structuredClone(project))).toBe(project)
  })
})
