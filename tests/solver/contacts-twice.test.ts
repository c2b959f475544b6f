/** Boards whose blocks share contacts by a slip: search and checker put a pin on the same one. */
import { expect, it } from 'vitest'
import { type SolveResult, solve } from '../../solver/index.ts'
import { problemWith } from '../published/project.ts'

const pins = (...at: (readonly [number, number])[]) => at.map((p, i) => ({ id: String(i + 1), at: p }))
const block = (x: number, y: number, rows: number, strip: string) => ({ at: [x, y], columns: 3, rows, strip })

/** A board with these blocks, and a part with these pins that is placed on it. */
function solved(blocks: readonly object[], at: readonly (readonly [number, number])[]): SolveResult {
  const board = {
    id: 'board',
    kind: 'breadboard',
    body: { width: 6, depth: 20, height: 8 },
    mount: { kind: 'adhesive' },
  }
  const part = { id: 'part', body: { width: 4, depth: 8, height: 3 }, mount: { kind: 'plug-in' } }
  const problem = problemWith({
    decks: [{ id: 'deck', z: 20, thickness: 3, outline: { rect: [0, 0, 30, 30] } }],
    footprints: [
      { ...board, breadboard: { pitch: 2, blocks } },
      { ...part, plug: { pins: pins(...at) } },
    ],
    items: [
      { id: 'b', footprint: 'board', turns: [0] },
      { id: 'p', footprint: 'part', turns: [0] },
    ],
  })
  return solve(problem, { time: 20_000 })
}

const standing = [
  [1, 1],
  [1, 5],
] as const

it('a row that two blocks count', () => {
  const shared = [block(1, 1, 5, 'column'), block(1, 9, 5, 'column')]
  const apart = [block(1, 1, 5, 'column'), block(1, 11, 5, 'column')]
  expect([shared, apart].map((blocks) => solved(blocks, standing).status)).toEqual(['optimal', 'optimal'])
})

it('a block that is listed twice, its contacts joined otherwise', () => {
  const twice = [block(1, 1, 9, 'column'), block(1, 1, 9, 'row')]
  // the first block counts, whose columns are one conductor
  expect(solved(twice, standing).status).toBe('infeasible')
  expect(solved([...twice].reverse(), standing).status).toBe('optimal')
})

it('blocks a hair apart: the first pin is on one of the second block, the other on one of the first', () => {
  const status = (by: number) => solved([block(1, 1, 9, 'column'), block(1 + by, 1, 9, 'column')], standing).status
  expect([0.005, 0.01].map(status)).toEqual(['optimal', 'optimal'])
  expect([0, 0.015].map(status)).toEqual(['infeasible', 'infeasible'])
})

it('two parts whose pins are each a hair off the one contact between them, with a gap that this bridges', () => {
  // contacts 2.54 apart, parts of 2.53: their last pins, on their bodies' edges, are 0.02 apart where both reach for the middle one
  const board = {
    id: 'board',
    kind: 'breadboard',
    body: { width: 8, depth: 2, height: 5 },
    mount: { kind: 'adhesive' },
  }
  const part = { id: 'part', body: { width: 2.53, depth: 1, height: 3 }, mount: { kind: 'plug-in' } }
  const status = (itemClearance: number) =>
    solve(
      problemWith({
        settings: { grid: 1, itemClearance, minWeb: 0 },
        decks: [{ id: 'deck', z: 0, thickness: 2, outline: { rect: [0, 0, 8, 2] } }],
        footprints: [
          { ...board, breadboard: { pitch: 2.54, blocks: [{ at: [1, 1], columns: 3, rows: 1, strip: 'column' }] } },
          { ...part, plug: { pins: pins([0, 0.5], [2.53, 0.5]) } },
        ],
        items: [
          { id: 'b', footprint: 'board', turns: [0] },
          { id: 'left', footprint: 'part', turns: [0] },
          { id: 'right', footprint: 'part', turns: [2] },
        ],
      }),
      { time: 20_000 },
    ).status
  for (const gap of [0, 0.01, 0.011, 0.02, 0.021]) expect(status(gap), `${gap}`).toBe('infeasible')
})
