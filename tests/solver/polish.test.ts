/** The linear programme that slides bodies: what it makes of layouts that were found without a thought of wires. */
import { describe, expect, it } from 'vitest'
import { compile } from '../../solver/compile.ts'
import { check, figures, type Placement, solve, tradeOffs, um } from '../../solver/index.ts'
import { polish } from '../../solver/polish.ts'
import { benchDecks } from '../bench/decks.ts'
import { aiming } from '../bench/problems.ts'
import { problemOf, problemWith } from '../published/project.ts'
import { LONG } from './oracle/mixes.ts'

describe('polishing', () => {
  it.each(['20 on 2, 1', ...(LONG ? ['20 on 2, 4', '30 on 3, 2'] : [])])(
    '%s: bodies slide to less wire, and keep every rule',
    (name) => {
      const p = problemOf(benchDecks().find((d) => d.name === name)!.text)
      const found = solve(aiming(p, ['free-tie-points']), { steps: LONG ? 8000 : 5000 })
      if (!('placements' in found)) throw new Error(found.status)
      const before = figures(p, found.placements)
      const after = polish(p, compile(p), found.placements, before.wireLength, () => true)
      expect(after).toBeDefined()
      const { placements, value } = after!
      expect(check(p, placements)).toEqual([])
      expect(figures(p, placements).wireLength).toBe(value)
      expect(value).toBeLessThan(0.995 * before.wireLength)
      // It slides: nobody changes deck, turn or host, and nobody comes or goes.
      const kept = (list: typeof placements) => list.map(({ item, deck, turn, host }) => ({ item, deck, turn, host }))
      expect(kept(placements)).toEqual(kept(found.placements))
      // The last word is the caller's.
      expect(polish(p, compile(p), found.placements, before.wireLength, () => false)).toBeUndefined()
    },
  )
})

// The board is not held itself: it must not slide to less wire from under what is held on it.
describe('a plug-in part that is held', () => {
  const problem = problemWith({
    settings: { grid: 5 },
    decks: [{ id: 'deck', z: 40, thickness: 3, outline: { rect: [0, 0, 60, 30] } }],
    exits: [{ id: 'exit', deck: 'deck', at: [50, 0] }],
    footprints: [
      {
        id: 'lamp',
        body: { width: 2, depth: 2, height: 5 },
        mount: { kind: 'plug-in' },
        terminals: [{ id: 'end', at: [1, 1] }],
        plug: { pins: [{ id: '1', at: [1, 1] }] },
      },
      {
        id: 'row',
        kind: 'breadboard',
        body: { width: 10, depth: 5, height: 8 },
        mount: { kind: 'adhesive' },
        breadboard: { pitch: 2.54, blocks: [{ at: [1, 2.5], columns: 3, rows: 1, strip: 'column' }] },
      },
    ],
    items: [
      { id: 'board', footprint: 'row', turns: [0] },
      { id: 'lamp', footprint: 'lamp', turns: [0] },
    ],
    wires: [{ id: 'lead', from: { exit: 'exit' }, to: { item: 'lamp', terminal: 'end' } }],
  })
  const at = { x: um(2540), y: um(6500) }
  const pins = [{ item: 1, deck: 0, at, turn: 0 as const }]
  const of = (placements: readonly Placement[]) => placements.find((p) => p.item === 1)?.at

  it('stays where it is in a solve', () => {
    const result = solve(problem, { pins })
    if (!('placements' in result)) throw new Error(result.status)
    expect(of(result.placements)).toEqual(at)
    expect(result.figures.wireLength).toBe(50_000 - 3_540 + 7_500)
  })

  it('and in a what-if', () => {
    const result = tradeOffs(problem, { pins, steps: 2000 })
    if (result.status !== 'found') throw new Error(result.status)
    for (const { placements } of result.layouts) expect(of(placements)).toEqual(at)
  })
})
