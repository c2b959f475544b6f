/** A small invented project for the store's tests, and a pool whose answers the test gives by hand. */
import { loadLibrary } from '../../footprints/load.ts'
import { check, mm, type Placement, type Problem, type Progress, type SolveResult, solve } from '../../solver/index.ts'
import { filesWith } from '../../src/store/files.ts'
import type { PoolLike } from '../../src/store/solves.ts'
import { createDeckwright } from '../../src/store/store.ts'

export const project = {
  format: 'deckwright-project',
  version: 1,
  units: 'mm',
  name: 'Moss minder',
  decks: [{ id: 'main', z: 50, thickness: 3, outline: { rect: [0, 0, 100, 60] } }],
  footprints: [
    {
      format: 'deckwright-footprint',
      version: 1,
      id: 'brick',
      name: 'brick',
      source: 'invented',
      kind: 'part',
      body: { width: 20, depth: 10, height: 5 },
      mount: { kind: 'adhesive' },
      terminals: [{ id: 't', at: [1, 1] }],
    },
    {
      format: 'deckwright-footprint',
      version: 1,
      id: 'pegboard',
      name: 'pegboard',
      source: 'invented',
      kind: 'breadboard',
      body: { width: 30, depth: 20, height: 8 },
      mount: { kind: 'adhesive' },
      above: 0,
      breadboard: { pitch: 2.54, blocks: [{ at: [2, 4], columns: 10, rows: 5, strip: 'column' }] },
    },
    {
      format: 'deckwright-footprint',
      version: 1,
      id: 'peg',
      name: 'peg',
      source: 'invented',
      kind: 'part',
      body: { width: 8, depth: 3, height: 4 },
      mount: { kind: 'plug-in' },
      plug: {
        pins: [
          { id: '1', at: [1, 1] },
          { id: '2', at: [3.54, 1] },
        ],
      },
    },
  ],
  items: [
    { id: 'one', footprint: 'brick' },
    { id: 'two', footprint: 'brick' },
    { id: 'board', footprint: 'pegboard' },
    { id: 'peg', footprint: 'peg' },
  ],
  wires: [{ id: 'link', from: { item: 'one', terminal: 't' }, to: { item: 'two', terminal: 't' } }],
  variants: [{ id: 'whole' }, { id: 'bare', omit: ['board', 'peg'] }],
}

export const files = filesWith(loadLibrary())
export const text = (value: unknown = project): string => JSON.stringify(value)

export interface Asked {
  readonly problem: Problem
  readonly options: Parameters<PoolLike['solve']>[0]['options']
  readonly urgent: boolean
  cancelled: boolean
  readonly say: (placements: readonly Placement[]) => void
  readonly tell: (progress: Omit<Progress, 'steps'>) => void
  readonly give: (result: SolveResult) => Promise<void>
}

/** Keeps every request; nothing is answered until the test does it. */
export function handPool(): { pool: PoolLike; asked: Asked[] } {
  const asked: Asked[] = []
  const pool: PoolLike = {
    solve: ({ problem, options, urgent, onProgress }) => {
      let settle: (ending: { kind: 'done'; result: SolveResult } | { kind: 'cancelled' }) => void = () => {}
      const done = new Promise<{ kind: 'done'; result: SolveResult } | { kind: 'cancelled' }>((resolve) => {
        settle = resolve
      })
      const one: Asked = {
        problem,
        options,
        urgent: urgent === true,
        cancelled: false,
        say: (placements) => onProgress?.({ phase: 'legal', steps: 1, placements }),
        tell: (progress) => onProgress?.({ steps: 1, ...progress }),
        give: async (result) => {
          settle({ kind: 'done', result })
          await done
          await Promise.resolve()
        },
      }
      asked.push(one)
      return {
        done,
        cancel: () => {
          one.cancelled = true
          settle({ kind: 'cancelled' })
        },
      }
    },
  }
  return { pool, asked }
}

/** The page's store on the sample, both variants already solved by the real solver. */
export async function solvedSample() {
  const opened = files.open(text(), 'moss.json')
  if (opened.kind !== 'opened') throw new Error(JSON.stringify(opened.problems))
  const { pool, asked } = handPool()
  const { store, actions } = createDeckwright(files, pool, opened.doc)
  for (const one of asked.slice()) await one.give(solve(one.problem))
  return { store, actions, asked }
}

/** The real answer to what was asked. */
export const reply = (one: Asked): Promise<void> => one.give(solve(one.problem, one.options))

export const legal = (problem: Problem, placements: readonly Placement[]): boolean =>
  check(problem, placements).length === 0

/** Another place for an item at which all else may stay, wherever the search has stood it. */
export function elsewhere(problem: Problem, placements: readonly Placement[], id: string): Placement {
  const from = placements.find((p) => problem.items[p.item]?.id === id)!
  for (let y = 0; y < 60; y++)
    for (let x = 0; x < 100; x++) {
      const to = { ...from, at: { x: mm(x), y: mm(y) } }
      if (to.at.x === from.at.x && to.at.y === from.at.y) continue
      if (
        legal(
          problem,
          placements.map((p) => (p === from ? to : p)),
        )
      )
        return to
    }
  throw new Error(`there is no other place for ${id}`)
}
