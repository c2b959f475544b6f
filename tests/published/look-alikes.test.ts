/** The look-alikes are what they are said to be: their best layouts lie, their bounds hold, and they look like the published ones. */
import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { check, type Placement, um } from '../../solver/index.ts'
import { bestBySubsets, canLie } from './by-subsets.ts'
import { builtLookAlikes, drawnLookAlikes, lookAlikeOptima, lookAlikes } from './look-alikes.ts'
import { instances, projectText, publishedOptima } from './packing.ts'
import { problemOf } from './project.ts'

/** Placements of a known layout: each rectangle takes a copy of its size that is still free, the dearest first. */
function placed(built: ReturnType<typeof builtLookAlikes>[number]) {
  const problem = problemOf(projectText(built.instance))
  const free = problem.items.map((_, k) => k).sort((a, b) => problem.items[b]!.value - problem.items[a]!.value)
  const placements = built.layout.map((r): Placement => {
    const at = free.findIndex((k) => {
      const f = problem.items[k]!.footprint
      return f.width === r.w * 1000 && f.depth === r.h * 1000
    })
    const [item] = free.splice(at, 1)
    return { item: at < 0 ? -1 : item!, deck: 0, at: { x: um(r.x * 1000), y: um(r.y * 1000) }, turn: 0 }
  })
  return { problem, placements }
}

describe('look-alikes', () => {
  it('are many: 20 to 100 kinds on sheets of 40 to 1,000, the same each time', () => {
    const all = lookAlikes()
    expect(all.length).toBeGreaterThanOrEqual(24)
    expect(new Set(all.map((i) => i.name)).size).toBe(all.length)
    for (const { name, sheet, items } of all) {
      expect(items.length, name).toBeGreaterThanOrEqual(20)
      expect(items.length, name).toBeLessThanOrEqual(100)
      expect(Math.min(sheet.w, sheet.h), name).toBeGreaterThanOrEqual(40)
      expect(Math.max(sheet.w, sheet.h), name).toBeLessThanOrEqual(1000)
      for (const p of items) expect(p.w >= 1 && p.w <= sheet.w && p.h >= 1 && p.h <= sheet.h, name).toBe(true)
    }
    expect(JSON.stringify(lookAlikes())).toBe(JSON.stringify(all))
  })

  it.each(builtLookAlikes())('$instance.name: its layout is legal and worth the optimum', (built) => {
    const { problem, placements } = placed(built)
    expect(check(problem, placements)).toEqual([])
    expect(placements.reduce((s, p) => s + problem.items[p.item]!.value, 0)).toBe(built.optimum)
  })

  it('no piece is worth more than its share of a bound that holds for every packing', () => {
    for (const { instance, optimum } of builtLookAlikes()) {
      const { w, h } = instance.sheet
      const wide = instance.name.startsWith('weighted')
      expect(optimum).toBe(w * h * (wide ? 2 : 1))
      for (const p of instance.items) {
        const half = 2 * p.w > w ? 1 : 2 * p.w === w ? 0.5 : 0
        expect(p.value).toBeLessThanOrEqual(p.w * p.h + (wide ? half * w * p.h : 0))
      }
    }
  })

  it('quarters have the sides and values of gcut1–2 as published', () => {
    const published = instances.filter((i) => i.name.startsWith('gcut'))
    const ours = drawnLookAlikes().filter((i) => i.name.startsWith('quarters'))
    expect(published.length).toBe(2)
    for (const { sheet, items } of [...published, ...ours])
      for (const p of items) {
        expect(Math.min(p.w / sheet.w, p.h / sheet.h)).toBeGreaterThanOrEqual(0.24)
        expect(Math.max(p.w / sheet.w, p.h / sheet.h)).toBeLessThanOrEqual(0.75)
        expect([p.copies, p.value]).toEqual([1, p.w * p.h])
      }
  })

  it('going through all choices finds the published optima of gcut1–2, and the recorded ones of the quick quarters', () => {
    for (const { name, optimum } of [...publishedOptima()].map(([name, o]) => ({ name, ...o })))
      if (name.startsWith('gcut')) expect(bestBySubsets(instances.find((i) => i.name === name)!), name).toBe(optimum)
    for (const name of ['quarters-250-20', 'quarters-250-30', 'quarters-500-20', 'quarters-1000-20'])
      expect(bestBySubsets(drawnLookAlikes().find((i) => i.name === name)!), name).toBe(
        lookAlikeOptima().get(name)!.optimum,
      )
  })

  it('pieces that lie together are found to, and others not', () => {
    const pinwheel = [
      { w: 3, h: 2 },
      { w: 2, h: 3 },
      { w: 3, h: 2 },
      { w: 2, h: 3 },
      { w: 1, h: 1 },
    ]
    expect(canLie(pinwheel, 5, 5)).toBe(true)
    expect(canLie([...pinwheel.slice(0, 4), { w: 2, h: 1 }], 5, 5)).toBe(false)
    expect(canLie([{ w: 6, h: 1 }], 5, 5)).toBe(false)
  })

  it('each drawn instance has its line, with a kind of proof wherever there is an optimum', () => {
    const rows = readFileSync(new URL('./look-alikes.csv', import.meta.url), 'utf8')
      .trim()
      .split('\n')
      .slice(1)
    expect(rows.map((r) => r.split(',')[0]).sort()).toEqual(
      drawnLookAlikes()
        .map((i) => i.name)
        .sort(),
    )
    for (const r of rows) expect(r).toMatch(/^[^,]+,(\d+,(all choices tried|CP-SAT)|,not known)$/)
  })
})
