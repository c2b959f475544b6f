/** The fit instances are what they are said to be, and our answers agree with what others have decided. */
import { describe, expect, it } from 'vitest'
import { check, solve } from '../../solver/index.ts'
import { canLie } from './by-subsets.ts'
import { fits, fitsKnown, fitText } from './fits.ts'
import { problemOf } from './project.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'

describe('does everything fit?', () => {
  it('asks 10 to 23 pieces with 0 to 20 % to spare, the same each time', () => {
    const all = fits()
    expect(all.length).toBeGreaterThanOrEqual(24)
    expect(new Set(all.map((f) => f.name)).size).toBe(all.length)
    for (const { name, side, pieces } of all) {
      expect(side).toBe(20)
      expect(pieces.length, name).toBe(Number(name.split('-')[1]))
      expect(pieces.length >= 10 && pieces.length <= 23, name).toBe(true)
      const spare = 1 - pieces.reduce((s, p) => s + p.w * p.h, 0) / 400
      expect(Math.abs(spare - Number(name.split('-')[2]) / 100), name).toBeLessThanOrEqual(0.005)
      for (const p of pieces) expect(p.w >= 1 && p.h >= 1 && p.w <= 20 && p.h <= 20, name).toBe(true)
    }
    expect(JSON.stringify(fits())).toBe(JSON.stringify(all))
  })

  it('has what is known of each, of both kinds', () => {
    const known = fitsKnown()
    expect([...known.keys()].sort()).toEqual(
      fits()
        .map((f) => f.name)
        .sort(),
    )
    const count = (answer: string) => [...known.values()].filter((k) => k.fits === answer).length
    expect(count('yes')).toBeGreaterThanOrEqual(8)
    expect(count('no')).toBeGreaterThanOrEqual(5)
    for (const [name, { fits: answer, how }] of known) {
      if (name.startsWith('cut')) expect([answer, how], name).toEqual(['yes', 'by construction'])
      else expect(['yes', 'no', 'not known']).toContain(answer)
    }
  })

  it('agrees with what is known wherever it decides', () => {
    let decided = 0
    for (const f of fits().filter((_, k) => LONG || k % 4 === 1)) {
      const known = fitsKnown().get(f.name)!.fits
      const p = problemOf(fitText(f))
      const r = solve(p, { steps: LONG ? 200_000 : 3000 })
      if (r.status === 'unknown') continue
      decided++
      if (r.status !== 'infeasible') expect(check(p, r.placements), f.name).toEqual([])
      if (known !== 'not known') expect(r.status === 'infeasible' ? 'no' : 'yes', f.name).toBe(known)
    }
    expect(decided).toBeGreaterThan(2)
  })

  it('a conflict of the smallest impossible one is impossible by itself', () => {
    const f = fits().find((x) => x.name === 'drawn-12-03')!
    const r = solve(problemOf(fitText(f)), { steps: 100_000 })
    expect(r.status).toBe('infeasible')
    if (r.status !== 'infeasible') return
    const named = new Set(r.conflict.flatMap((c) => c.items))
    const pieces = f.pieces.filter((_, k) => named.has(`p${k + 1}`))
    expect(pieces.length).toBeGreaterThan(1)
    expect(canLie(pieces, 20, 20)).toBe(false)
  })
})
