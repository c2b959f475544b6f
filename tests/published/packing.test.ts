/** Published packing instances through the project file and the public solve, to their published optimum with proof. */
import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { check, solve, toMm } from '../../solver/index.ts'
import { instances, projectText, publishedOptima } from './packing.ts'
import { problemOf } from './project.ts'

const optima = publishedOptima()

describe('published packing instances', () => {
  it('has an optimum with its source for each, the same as the fixture states', () => {
    expect([...optima.keys()].sort()).toEqual(instances.map((i) => i.name).sort())
    for (const { name } of instances) {
      const fixture = JSON.parse(readFileSync(new URL(`../fixtures/packing/${name}.json`, import.meta.url), 'utf8'))
      expect(optima.get(name)!.optimum, name).toBe(fixture.optimum)
      expect(optima.get(name)!.source, name).toBe(fixture.optimumSource)
    }
  })

  it.each(instances)('$name is packed to its published optimum, proven', (instance) => {
    const problem = problemOf(projectText(instance))
    expect(problem.items.length).toBe(instance.items.reduce((s, p) => s + p.copies, 0))
    const result = solve(problem, { time: 60_000 })
    expect(result.status).toBe('optimal')
    if (result.status !== 'optimal') return
    const { optimum } = optima.get(instance.name)!
    expect(result.objectives).toEqual([{ name: 'optional-value', value: optimum, bound: optimum, proven: true }])
    // Counted again from the placements alone: every piece on the sheet, none over another, the value their sum.
    expect(check(problem, result.placements)).toEqual([])
    const placed = result.placements.map((p) => {
      const item = problem.items[p.item]!
      const [x, y, w, h] = [p.at.x, p.at.y, item.footprint.width, item.footprint.depth].map((v) => toMm(v)) as [
        number,
        number,
        number,
        number,
      ]
      expect(x >= 0 && y >= 0 && x + w <= instance.sheet.w && y + h <= instance.sheet.h).toBe(true)
      return { x, y, w, h, value: item.value }
    })
    placed.forEach((a, i) => {
      for (const b of placed.slice(i + 1))
        expect(a.x + a.w <= b.x || b.x + b.w <= a.x || a.y + a.h <= b.y || b.y + b.h <= a.y).toBe(true)
    })
    expect(placed.reduce((s, p) => s + p.value, 0)).toBe(optimum)
  })
})
