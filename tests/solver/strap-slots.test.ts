/** Strap slots that are there already (README, reading 6): search and checker against each other, position by position. */
import { describe, expect, it } from 'vitest'
import { check, mm, type Placement, type Problem, type Rect, solve, type Turn, turnRect } from '../../solver/index.ts'
import { deck, item, part, problem, rect } from '../export/decks.ts'
import { LONG } from './oracle/mixes.ts'

const slot = (x: number, y: number, w: number, h: number): Rect => ({ x: mm(x), y: mm(y), w: mm(w), h: mm(h) })
const SLOTS = [slot(3, 1, 4, 1), slot(3, 7, 4, 1)]
const pack = part('pack', 10, 9, { kind: 'strap', slots: SLOTS })

/** A plate with the slots of a pack at (x, y), cut for a strap or for something else. */
const plate = (w: number, h: number, x: number, y: number, strap: boolean, turn: Turn = 0) =>
  deck('d', rect(0, 0, w, h), {
    openings: SLOTS.map((s, k) => {
      const t = turnRect(s, mm(10), mm(9), turn)
      const shape = {
        kind: 'rect',
        x: mm(x + t.x / 1000),
        y: mm(y + t.y / 1000),
        w: t.w,
        h: t.h,
        radius: mm(0),
      } as const
      return { id: `s${k}`, shape, mayCover: true, ...(strap ? { strap } : {}) }
    }),
  })
const held = (p: Problem, at: Placement) => solve(p, { pins: [at], steps: 500 }).status

describe('strap slots that are there', () => {
  it('are the only place for a pack on a plate that has no web to spare', () => {
    for (const turn of [0, 1, 2, 3] as const) {
      const [w, h] = turn % 2 === 0 ? [10, 9] : [9, 10]
      const make = (strap: boolean) =>
        problem([plate(w, h, 0, 0, strap, turn)], [item('p', pack)], { minWeb: mm(2), objective: ['wire-length'] })
      const found = solve(make(true))
      expect(found.status).toBe('optimal')
      if (found.status === 'optimal') expect(found.placements[0]).toMatchObject({ at: { x: 0, y: 0 } })
      expect(solve(make(false)).status).toBe('infeasible')
    }
  })

  it('let a pack stand exactly where checker and search both say', () => {
    const p = problem([plate(26, 22, 8, 6, true)], [item('p', pack)], { minWeb: mm(1), grid: mm(1) })
    let legal = 0
    let reused = 0
    for (let x = 4; x <= 11; x++)
      for (let y = 3; y <= 8; y++)
        for (const turn of [0, 1, 2] as const) {
          if (!LONG && (x + y) % 2 === 1) continue
          const at: Placement = { item: 0, deck: 0, at: { x: mm(x), y: mm(y) }, turn }
          const ok = check(p, [at]).length === 0
          expect(held(p, at) === 'optimal', `${x}, ${y}, turn ${turn}`).toBe(ok)
          if (ok) legal++
          if (ok && x === 8 && y === 6) reused++
        }
    expect(legal).toBeGreaterThan(LONG ? 20 : 10)
    // As built, and half a turn round: the slots lie point-symmetric.
    expect(reused).toBe(2)
  })

  it('ask no web of a second pack beyond what stands', () => {
    const two = problem([plate(26, 12, 1, 1, true)], [item('p', pack), item('q', pack)], { minWeb: mm(1), grid: mm(1) })
    const first: Placement = { item: 0, deck: 0, at: { x: mm(1), y: mm(1) }, turn: 0 }
    let legal = 0
    for (let x = 11; x <= 16; x++)
      for (let y = 0; y <= 3; y++) {
        const second: Placement = { item: 1, deck: 0, at: { x: mm(x), y: mm(y) }, turn: 0 }
        const ok = check(two, [first, second]).length === 0
        expect(solve(two, { pins: [first, second], steps: 500 }).status === 'optimal', `${x}, ${y}`).toBe(ok)
        if (ok) legal++
      }
    expect(legal).toBeGreaterThan(5)
  })
})
