/** Conflicts of parts on breadboards, whose places are far finer than the grid: what a part alone cannot do is told at once, and rightly. */
import { expect, it } from 'vitest'
import { solve } from '../../solver/index.ts'
import { part, problemOf, project } from '../electric/kit.ts'

const outline = { rect: [0, 0, 100, 80] }
const block = (y: number) => ({ at: [3, y], columns: 8, rows: 5, strip: 'column' })
const board = part('board', 24.32, 40, {
  kind: 'breadboard',
  above: 0,
  body: { width: 24.32, depth: 40, height: 9 },
  breadboard: { pitch: 2.54, blocks: [block(3), block(23)] },
})
const chip = (height: number) =>
  part('chip', 10.16, 30, {
    mount: { kind: 'plug-in' },
    body: { width: 10.16, depth: 30, height },
    plug: { pins: [1.27, 3.81, 6.35, 8.89].map((x, k) => ({ id: `p${k}`, at: [x, 2.5] })) },
  })

/** 57 mm from ground to the lid's underside; the deck's top is at 10 mm, a board's at 19. */
const under = (height: number) => {
  const result = solve(
    problemOf(
      project({
        decks: [
          { id: 'main', name: 'base', z: 10, thickness: 3, outline },
          { id: 'lid', z: 60, thickness: 3, outline },
        ],
        footprints: [board, chip(height)],
        items: ['board', 'chip'].map((id) => ({ id, footprint: id, decks: ['main'] })),
      }),
    ),
    { steps: 2000 },
  )
  if (result.status !== 'infeasible') return result.status
  expect(result.conflictIrreducible).toBe(true)
  // from a board's top, 19 mm: nowhere else it can stand
  expect(result.conflict.map((m) => m.text)).toContain(
    `chip lacks at least ${19 + height - 57} mm of height to stand under deck lid`,
  )
  return result.conflict.map((m) => `${m.rule} ${m.items}`).sort()
}

it('a part too high for the lid wherever it stands', () => {
  expect(under(50)).toEqual(['R1 chip', 'R10 chip', 'R8 chip,lid'])
})

it('a part too high for it only when plugged in', () => {
  expect(under(38)).toMatch(/optimal|feasible/)
  expect(under(39)).toEqual(expect.arrayContaining(['R10 chip', 'R6 chip', 'R8 chip,lid']))
})
