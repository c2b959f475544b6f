/** The bench's own robots and instruments: sizes as said, references that agree with each other and object to a wrong answer. */
import { SaxesParser } from 'saxes'
import { describe, expect, it } from 'vitest'
import { area, type Problem, prepare, type SolveResult } from '../../solver/index.ts'
import { byDeckModel } from '../bench/deck-model.ts'
import { benchDecks } from '../bench/decks.ts'
import { growing } from '../bench/growing.ts'
import { impossibleDecks } from '../bench/impossible.ts'
import { plot } from '../bench/plot.ts'
import { entries } from '../bench/reference.ts'
import { geometric, median, quantile } from '../bench/timing.ts'
import { LONG } from '../solver/oracle/mixes.ts'
import { instances } from './packing.ts'
import { problemOf } from './project.ts'

/** Required bodies that stand, with their clearance, over the decks less their edges, openings and keep-outs. */
function filled(p: Problem): number {
  const c = p.itemClearance
  const bodies = p.items
    .filter((i) => i.required && i.footprint.mount.kind !== 'plug-in')
    .reduce((s, i) => s + (i.footprint.width + c) * (i.footprint.depth + c), 0)
  const usable = p.decks.reduce((s, d, k) => {
    const box = prepare(d.outline).box
    const lost = [
      ...d.openings.map((o) => o.shape),
      ...p.zones.filter((z) => z.deck === k && z.kind === 'keep-out').map((z) => z.shape),
    ]
    const edge = 2 * (box.w + box.h) * p.edgeClearance
    return s + area(d.outline) - edge - lost.reduce((t, o) => t + area(o), 0)
  }, 0)
  return bodies / usable
}

describe('robots of the bench', () => {
  const all = benchDecks().map(({ name, text }) => ({ name, p: problemOf(text) }))

  it('are four of 20 items on 2 decks and four of 30 on 3, all different', () => {
    expect(all.map(({ name }) => name)).toEqual([
      ...[1, 2, 3, 4].map((k) => `20 on 2, ${k}`),
      ...[1, 2, 3, 4].map((k) => `30 on 3, ${k}`),
    ])
    for (const { name, p } of all) {
      const [items, decks] = name.split(',')[0]!.split(' on ').map(Number)
      expect([p.items.length, p.decks.length], name).toEqual([items, decks])
      expect(p.wires.length, name).toBeGreaterThan(10)
      expect(p.passes.length, name).toBe(2 * (p.decks.length - 1))
      expect(
        p.items.some((i) => !i.required && i.footprint.breadboard),
        name,
      ).toBe(true)
    }
    expect(new Set(benchDecks().map((d) => d.text)).size).toBe(all.length)
    expect(benchDecks()).toEqual(benchDecks())
  })

  it('of 30 are tight: what must stand fills 60 to 75 % of what can be used', () => {
    for (const { name, p } of all.filter((d) => d.name.startsWith('30'))) {
      expect(filled(p), name).toBeGreaterThanOrEqual(0.6)
      expect(filled(p), name).toBeLessThanOrEqual(0.75)
    }
  })

  it('grow as asked, and impossible ones have 12 items', () => {
    for (const [items, decks, grid] of [
      [4, 1, 1],
      [10, 1, 0.5],
      [40, 3, 2],
    ] as const) {
      const p = problemOf(growing(items, decks, grid, 1))
      expect([p.items.length, p.decks.length, p.grid]).toEqual([items, decks, grid * 1000])
    }
    for (const { name, text } of impossibleDecks()) expect(problemOf(text).items.length, name).toBe(12)
  })
})

describe('instruments of the bench', () => {
  // two solvers of others start here, which takes longer than all else in this file
  it.runIf(LONG)(
    'CP-SAT and the MILP agree on a deck, and object to a value beyond their best',
    { timeout: 60_000 },
    async () => {
      const name = 'four items'
      const whole = problemOf(growing(4, 1, 2, 1))
      const problem: Problem = { ...whole, items: whole.items.map((i) => ({ ...i, turns: [0] })) }
      const [cp, milp] = await byDeckModel(name, problem, { status: 'unknown' }, 30, true)
      const best = /\((\d+)\)/.exec(cp)?.[1]
      expect(best).toBeDefined()
      expect(/\((\d+)\)/.exec(milp)?.[1]).toBe(best)
      const wrong: SolveResult = {
        status: 'optimal',
        objectives: [{ name: 'free-tie-points', value: Number(best) + 1, bound: Number(best) + 1, proven: true }],
        placements: [],
        figures: { freeTiePoints: Number(best) + 1, optionalValue: 0, newHoles: 0, wireLength: 0, wires: [] },
      }
      await expect(byDeckModel(name, problem, wrong, 30, false)).rejects.toThrow('asks for less')
    },
  )

  it('counts the entries of a MILP by hand', () => {
    // On 2 × 1 a piece of 1 × 1, two of them: places 0 and 1, each covering one point.
    const items = [{ w: 1, h: 1, copies: 2, value: 1 }]
    expect(entries({ name: 'two', sheet: { w: 2, h: 1 }, items })).toBe(2)
    expect(entries(instances.find((i) => i.name === 'ngcut4')!)).toBeGreaterThan(100)
  })

  it('means and quantiles', () => {
    expect(median([5, 1, 3])).toBe(3)
    expect(quantile([1, 2, 3, 4], 0.99)).toBe(4)
    expect(geometric([1, 100])).toBeCloseTo(10, 12)
  })

  it('plots every point on a logarithmic scale as sound XML', () => {
    const points = [
      { x: 1, y: 1 },
      { x: 2, y: 100 },
      { x: 3, y: 10_000 },
    ]
    const svg = plot([{ title: 'a < b', curves: [{ name: 'one & two', points }] }], 10_000)
    const elements: string[] = []
    const parser = new SaxesParser()
    parser.on('error', (e) => {
      throw e
    })
    parser.on('opentag', (t) => elements.push(t.name))
    parser.write(svg).close()
    expect(elements.filter((e) => e === 'circle').length).toBe(4)
    const line = /<polyline points="([^"]+)"/.exec(svg)![1]!
    const ys = line.split(' ').map((q) => Number(q.split(',')[1]))
    // Equal factors, equal steps.
    expect(ys[0]! - ys[1]!).toBeCloseTo(ys[1]! - ys[2]!, 1)
    expect(ys[0]! - ys[1]!).toBeGreaterThan(50)
  })
})
