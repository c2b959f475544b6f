/** Drags on every demo as the page asks for them: whatever the hand does, the answer is sound. */
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { check, solve, um } from '../../solver/index.ts'
import { placementOf, samePlace, snap, withMoved } from '../../src/store/moves.ts'
import { files } from './store-sample.ts'

const demos = join(import.meta.dirname, '../../demo-data')
const LONG = process.env.DECKWRIGHT_LONG === '1'
const DRAGS = LONG ? 60 : 2
/** Steps for a first layout, whatever else the machine does; milliseconds for an answer to a drag. */
const START = LONG ? 20_000 : 2000
const TIME = LONG ? 5000 : 800

/** A small generator of ours, so that every run drags alike. */
function randoms(seed: number): () => number {
  let state = seed
  return () => {
    state = (state * 1_103_515_245 + 12_345) % 2_147_483_648
    return state / 2_147_483_648
  }
}

describe('drags on the demos', () => {
  for (const name of readdirSync(demos).filter((n) => n.endsWith('.json')))
    it(name, { timeout: 600_000 }, () => {
      const opened = files.open(readFileSync(join(demos, name), 'utf8'), name)
      if (opened.kind !== 'opened') throw new Error(JSON.stringify(opened.problems))
      const random = randoms(7)
      let tried = 0
      // the last variant is one that can be laid out
      for (const { problem } of LONG ? opened.doc.sheets : opened.doc.sheets.slice(-1)) {
        const start = solve(problem, { steps: START })
        if (!('placements' in start)) continue
        for (let k = 0; k < DRAGS; k++) {
          const from = start.placements[Math.floor(random() * start.placements.length)]!
          // Every other drag is a short one, where the others should hardly stir.
          const far = k % 2 === 0 ? 8000 : 120_000
          const to = {
            x: um(Math.round(from.at.x + (random() - 0.5) * far)),
            y: um(Math.round(from.at.y + (random() - 0.5) * far)),
          }
          const moved = snap(problem, start.placements, { ...from, at: to })
          const hint = withMoved(problem, start.placements, moved)
          const { item, deck, at, turn } = moved
          const answer = solve(problem, { pins: [{ item, deck, at, turn }], hint, keep: true, time: TIME })
          tried++
          if (answer.status === 'infeasible') {
            expect(check(problem, hint).length).toBeGreaterThan(0)
            expect(answer.conflict.length).toBeGreaterThan(0)
            for (const member of answer.conflict) expect(member.text.length).toBeGreaterThan(10)
          } else if (answer.status !== 'unknown') {
            expect(check(problem, answer.placements)).toEqual([])
            expect(placementOf(answer.placements, item)).toMatchObject({ deck, at, turn })
            if (check(problem, hint).length === 0)
              for (const p of hint) expect(samePlace(p, placementOf(answer.placements, p.item))).toBe(true)
          }
        }
      }
      expect(tried).toBeGreaterThan(0)
    })
})
