/** A wire whose two ends each name several copies: R7 holds for the nearest two, and the search must make it so. */
import { describe, expect, it } from 'vitest'
import { check, solve } from '../../solver/index.ts'
import { readProject, toProblem } from '../../src/model/index.ts'

const none = new Map()
const part = (id: string) => ({
  id,
  body: { width: 20, depth: 10, height: 5 },
  mount: { kind: 'adhesive' },
  terminals: [{ id: 't', at: [0, 0] }],
})
const deck = (id: string, z: number) => ({ id, z, thickness: 3, outline: { rect: [0, 0, 70, 70] } })
const wire = { id: 'w', from: { item: 'a', terminal: 't' }, to: { item: 'b', terminal: 't' } }

function problemOf(more: object) {
  const project = {
    format: 'deckwright-project',
    version: 1,
    units: 'mm',
    name: 'copies',
    settings: { grid: 5 },
    decks: [deck('low', 50)],
    footprints: [part('a'), part('b')],
    items: [
      { id: 'a', footprint: 'a', count: 2 },
      { id: 'b', footprint: 'b', count: 2 },
    ],
    wires: [wire],
    ...more,
  }
  const read = readProject(JSON.stringify(project), 'copies.json', none)
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return toProblem(read.value, 'base', none)
}

describe('a wire between copies', () => {
  it.each([
    ['no longer than it may be', { wires: [{ ...wire, maxLength: 10 }] }],
    ['on one of two decks that no pass joins', { decks: [deck('low', 50), deck('high', 99)] }],
    ['both', { decks: [deck('low', 50), deck('high', 99)], wires: [{ ...wire, maxLength: 10 }] }],
    ['with loops and no other aim', { wires: [{ ...wire, maxLength: 20, loop: 10 }], objective: [] }],
  ])('%s', (_, more) => {
    const problem = problemOf(more)
    const result = solve(problem, { steps: 100_000 })
    expect(result.status).toBe('optimal')
    if (result.status !== 'optimal') return
    expect(check(problem, result.placements)).toEqual([])
  })

  it('cannot be shorter than two bodies allow', () => {
    // Bodies apart: their lower-left corners, where the terminals are at turn 0, are 10 mm from one another or more.
    const problem = problemOf({
      wires: [{ ...wire, maxLength: 9.999 }],
      items: ['a', 'b'].map((id) => ({ id, footprint: id, count: 2, turns: [0] })),
    })
    expect(solve(problem, { steps: 100_000 })).toMatchObject({
      status: 'infeasible',
      conflictIrreducible: true,
    })
  })
})
