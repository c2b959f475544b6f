/** Trade-offs and other layouts: by hand, on the demo, and against brute force. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import { figureOf } from '../../solver/check/figures.ts'
import { check, figures, isMost, type ObjectiveName, type Problem, solve } from '../../solver/index.ts'
import { mm } from '../../solver/units.ts'
import { different, distanceOf, tradeOffs, trading } from '../../solver/what-if/index.ts'
import { assignment } from '../../solver/what-if/same-places.ts'
import { measured } from '../../solver/what-if/staged.ts'
import { readProject, toProblem } from '../../src/model/index.ts'
import { deck, item, part, problem, pt, rect, screwed, wire } from './check-kit.ts'
import { brute } from './oracle/brute.ts'
import { BALANCE_TOLERANCE } from './oracle/compare.ts'
import { randomDeck } from './oracle/decks.ts'
import { objectivesOf } from './oracle/measure.ts'
import { LONG, ruleMixes, tiny } from './oracle/mixes.ts'
import { rng } from './oracle/random.ts'

const glued = { kind: 'adhesive' } as const
const on0 = { decks: [0], turns: [0] as const }

/** Every order of 0 … n − 1. */
const orders = (n: number): number[][] =>
  n === 0
    ? [[]]
    : orders(n - 1).flatMap((o) => Array.from({ length: n }, (_, k) => [...o.slice(0, k), n - 1, ...o.slice(k)]))

function shelfReader(variant: string): Problem {
  const file = join(import.meta.dirname, '../../demo-data/shelf-reader.json')
  const r = readProject(readFileSync(file), file, loadLibrary())
  if (!r.ok) throw new Error('the demo cannot be read')
  return toProblem(r.value, variant, loadLibrary())
}

/** A mass on a strip: near the lead the wire is short, in the middle the balance is good. */
function strip(): Problem {
  const f = part(2, 2, 2, { mount: glued, mass: 100, terminals: { t: [0, 0] } })
  const end = { kind: 'item' as const, ref: { name: 'a', items: [0] }, terminal: 't', at: pt(0, 0) }
  return problem([item('a', f, on0)], {
    grid: mm(1),
    decks: [deck(rect(0, 0, 22, 2))],
    exits: [{ id: 'x', deck: 0, at: pt(0, 0) }],
    wires: [wire({ kind: 'exit', exit: 0 }, end)],
    chassis: {
      contact: [pt(0, 0), pt(22, 0), pt(22, 2), pt(0, 2)],
      mass: 0,
      centre: { x: mm(11), y: mm(1), z: mm(0) },
    },
  })
}

describe('trade-offs by hand', () => {
  it('runs from the shortest wire to the best balance, every millimetre of them unbeaten', () => {
    // At x the wire has x mm and the mass is |x + 1 − 11| mm off: all of x = 0 … 10 are trades, more is worse in both.
    const r = tradeOffs(strip(), { between: 20 })
    if (r.status !== 'found') throw new Error(r.status)
    expect(r.figures).toEqual(['wire-length', 'balance'])
    expect(r.complete).toBe(true)
    expect(r.layouts.map((l) => l.placements[0]!.at.x / 1000)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10])
    for (const l of r.layouts) {
      expect(l.proven).toBe(true)
      expect(l.figures.wireLength / 1000 + l.figures.balance! / 1000).toBeCloseTo(10, 3)
    }
    const few = tradeOffs(strip(), { between: 1 })
    if (few.status !== 'found') throw new Error(few.status)
    expect(few.layouts.length).toBeLessThan(6)
    expect(few.layouts.length).toBeGreaterThan(2)
  })

  it('has one layout where nothing is to be traded, and none where nothing fits', () => {
    const p = problem([item('a', part(5, 5, 5, { mount: glued }), on0)], {
      grid: mm(1),
      decks: [deck(rect(0, 0, 9, 9))],
    })
    expect(tradeOffs(p)).toMatchObject({ status: 'found', figures: [], complete: true })
    expect(tradeOffs({ ...p, decks: [deck(rect(0, 0, 4, 9))] }).status).toBe('infeasible')
    expect(tradeOffs(p, { time: 0 }).status).toBe('unknown')
  })
})

describe('trade-offs against brute force', () => {
  const n = LONG ? 300 : 7
  it(`are unbeaten where they say so, on ${n} random decks`, { timeout: LONG ? 3_600_000 : 240_000 }, () => {
    const complaints: string[] = []
    let asked = 0
    let several = 0
    for (let s = 0; s < n; s++) {
      const mix = s % 2 ? { ...tiny, items: [2, 3] as const } : { ...ruleMixes.R7, limits: 0.2 }
      const p = randomDeck(110_000 + s, { ...mix, chassis: 1, mass: 0.9 })
      const r = tradeOffs(p, { time: 4_000, between: 1 })
      if (r.status !== 'found') {
        const a = brute(p, { limit: 60_000, feasibilityOnly: true })
        if (r.status === 'infeasible' && a.status === 'optimal') complaints.push(`seed ${s}: it fits`)
        continue
      }
      if (r.layouts.length > 1) several++
      const floor = measured(p, p.objective).includes('optional-value')
        ? Math.min(...r.layouts.map((l) => l.figures.optionalValue))
        : undefined
      for (const l of r.layouts) {
        for (const f of check(p, l.placements)) complaints.push(`seed ${s}: ${f.rule} ${f.text}`)
        expect(figures(p, l.placements)).toEqual(l.figures)
        for (const o of r.layouts)
          if (o !== l && beats(o.figures, l.figures, r.figures)) complaints.push(`seed ${s}: one beats another`)
        if (!l.proven) continue
        for (const last of r.figures) {
          // as good in all but one, what is the best of that one?
          const rest = r.figures.filter((f) => f !== last)
          const keep: ObjectiveName[] = [...(floor === undefined ? [] : ['optional-value' as const]), ...rest]
          const q = { ...p, objective: [...keep, last] }
          const cost = (f: ObjectiveName): number =>
            f === 'optional-value' ? -floor! : figureOf(f, l.figures) * (isMost(f) ? -1 : 1)
          const a = brute(q, { limit: 60_000, atMost: keep.map((f) => cost(f) + 1e-3) })
          if (a.status !== 'optimal') {
            if (a.status === 'infeasible') complaints.push(`seed ${s}: the oracle has no such layout`)
            continue
          }
          asked++
          const best = a.costs[objectivesOf(q).indexOf(last)]!
          const slack = last === 'balance' ? BALANCE_TOLERANCE : 0.01
          if (best < cost(last) - slack) complaints.push(`seed ${s}: ${last} ${cost(last)}, but ${best} is there`)
        }
      }
    }
    expect(complaints).toEqual([])
    expect(asked).toBeGreaterThan(n)
    expect(several).toBeGreaterThan(n / 6)
  })
})

function beats(
  a: Parameters<typeof figureOf>[1],
  b: Parameters<typeof figureOf>[1],
  names: readonly ObjectiveName[],
): boolean {
  const gains = names.map((n) => (figureOf(n, a) - figureOf(n, b)) * (isMost(n) ? 1 : -1))
  return gains.every((g) => g >= -1e-6) && gains.some((g) => g > 10)
}

describe('other layouts by hand', () => {
  const p = problem([item('a', part(2, 2, 2, { mount: glued }), on0)], {
    grid: mm(1),
    decks: [deck(rect(0, 0, 10, 2))],
  })

  it('goes to the far end, then to the middle', () => {
    const r = different(p, 2)
    if (r.status !== 'found') throw new Error(r.status)
    const xs = r.layouts.map((l) => l.placements[0]!.at.x / 1000)
    expect(Math.abs(xs[1]! - xs[0]!)).toBe(8)
    expect(xs[2]).toBe(4)
    expect(r.layouts.map((l) => l.distance / 1000)).toEqual([0, 8, 4])
    for (const l of r.layouts.slice(1)) expect(l.atMost!).toBeGreaterThanOrEqual(l.distance)
  })

  it('says when there is no other', () => {
    const tight = { ...p, decks: [deck(rect(0, 0, 2, 2))] }
    expect(different(tight, 3)).toMatchObject({ status: 'found', best: true, exhausted: true })
    const three = { ...p, decks: [deck(rect(0, 0, 4, 2))] }
    const r = different(three, 9)
    expect(r).toMatchObject({ exhausted: true })
    if (r.status === 'found') expect(r.layouts.map((l) => l.placements[0]!.at.x / 1000).sort()).toEqual([0, 1, 2])
    expect(different({ ...p, decks: [deck(rect(0, 0, 1, 2))] }, 1).status).toBe('infeasible')
    expect(different(p, 1, { time: 0 }).status).toBe('unknown')
  })

  it('offers no layout in which only copies change places', () => {
    const pair = [0, 1].map((i) => item(`a#${i + 1}`, part(2, 2, 2, { mount: glued }), { ...on0, base: 'a' }))
    const upright = problem(pair, { grid: mm(1), decks: [deck(rect(0, 0, 2, 4))] })
    const r = different(upright, 3)
    expect(r).toMatchObject({ best: true, exhausted: true })
    if (r.status === 'found') expect(r.layouts).toHaveLength(1)
    // one goes from the far corner to the near one: that the other is now first from the left is no difference
    const at = (...xy: [number, number][]) =>
      xy.map(([x, y], i) => ({ item: i, deck: 0, at: pt(x, y), turn: 0 as const }))
    expect(distanceOf(upright, at([0, 0], [1, 9]), at([0, 9], [1, 0]))).toBe(2000)
  })

  it('tells layouts of like boards apart by how far they go, whichever is which', () => {
    // two boards on three places of a strip, one above the other: 0 and 1, 0 and 2, 1 and 2, where names alone are no difference
    const pair = [0, 1].map((i) => item(`a#${i + 1}`, part(2, 2, 2, { mount: glued }), { ...on0, base: 'a' }))
    const p = problem(pair, { grid: mm(2), decks: [deck(rect(0, 0, 2, 6))] })
    const r = different(p, 9)
    if (r.status !== 'found') throw new Error(r.status)
    expect(r.exhausted).toBe(true)
    const places = r.layouts.map((l) =>
      l.placements
        .map((q) => q.at.y / 2000)
        .sort()
        .join(),
    )
    expect([...places].sort()).toEqual(['0,1', '0,2', '1,2'])
    // the one that is held is none of them
    const held = different(p, 9, { pins: [{ item: 1, deck: 0, at: pt(0, 2), turn: 0 }] })
    if (held.status !== 'found') throw new Error(held.status)
    expect(held.layouts.map((l) => l.placements.find((q) => q.item === 0)!.at.y / 2000).sort()).toEqual([0, 2])
  })

  it('offers each layout of many copies once, also where they have more namings than the search looks at', () => {
    const copies = (n: number, more = {}) =>
      Array.from({ length: n }, (_, i) =>
        item(`a#${i + 1}`, part(2, 2, 2, { mount: glued }), { ...on0, base: 'a', ...more }),
      )
    const layoutsOf = (p: Problem) => {
      const r = different(p, 9)
      if (r.status !== 'found') throw new Error(r.status)
      expect(r.exhausted).toBe(true)
      const placesOf = (l: (typeof r.layouts)[number]) => l.placements.map((q) => `${q.at.x} ${q.at.y}`).sort()
      return new Set(r.layouts.map((l) => placesOf(l).join())).size === r.layouts.length ? r.layouts.length : Number.NaN
    }
    const on = (w: number, d: number) => ({ grid: mm(2), decks: [deck(rect(0, 0, w, d))] })
    // four on four places, and on five of which one is left free
    expect(layoutsOf(problem(copies(4), on(2, 8)))).toBe(1)
    expect(layoutsOf(problem(copies(4), on(4, 4)))).toBe(1)
    expect(layoutsOf(problem(copies(4), on(2, 10)))).toBe(5)
    const optional = copies(5, { required: false, value: 1 })
    expect(layoutsOf(problem(optional, { ...on(2, 4), objective: ['optional-value'] }))).toBe(1)
  })

  it('sees a move from contact to contact that is less than a step of the grid', () => {
    const board = part(8, 2, 4, {
      mount: glued,
      breadboard: { pitch: mm(2.54), blocks: [{ at: pt(1, 1), columns: 3, rows: 1, strip: 'column' }] },
    })
    const plug = part(1, 1, 2, { mount: { kind: 'plug-in' }, pins: [[0.5, 0.5]] })
    const p = problem([item('b', board, on0), item('c', plug, on0)], { grid: mm(5), decks: [deck(rect(0, 0, 8, 2))] })
    const r = different(p, 9)
    if (r.status !== 'found') throw new Error(r.status)
    expect(r.exhausted).toBe(true)
    const xs = r.layouts.map((l) => l.placements.find((q) => q.item === 1)!.at.x / 1000)
    expect(xs.sort()).toEqual([0.5, 3.04, 5.58])
  })

  it('makes no hole more than the best layout does', () => {
    // only over the hole that is there is nothing to be made
    const f = part(4, 4, 2, { mount: screwed([{ at: [2, 2], diameter: 1 }]) })
    const p = problem([item('a', f, on0)], {
      grid: mm(1),
      decks: [deck(rect(0, 0, 20, 4), { holes: [{ id: 'k', at: pt(2, 2), diameter: mm(1) }] })],
      objective: ['new-holes'],
    })
    expect(different(p, 3, { slack: 0.5 })).toMatchObject({ status: 'found', layouts: [{}], exhausted: true })
  })

  it('matches like items as every order of them tried says', () => {
    const next = rng(7)
    for (let n = 1; n <= 6; n++)
      for (let k = 0; k < 20; k++) {
        const cost = Array.from({ length: n }, () => Array.from({ length: n }, () => next.int(0, 9)))
        const all = orders(n).map((o) => o.reduce((sum, j, i) => sum + cost[i]![j]!, 0))
        const found = assignment(cost)
        expect([...found].sort()).toEqual([...found.keys()])
        expect(found.reduce((sum, j, i) => sum + cost[i]![j]!, 0)).toBe(Math.min(...all))
      }
  })

  it('counts an optional item that is held as any other: what it is worth, also where that is less than nothing', () => {
    for (const value of [1, -3]) {
      const a = item('a', part(10, 6, 2, { mount: glued }), { ...on0, required: false, value })
      const b = item('b', part(7, 6, 2, { mount: glued }), on0)
      const c = item('c', part(5, 6, 2, { mount: glued }), { ...on0, required: false, value })
      const p = problem([a, b, c], {
        grid: mm(1),
        decks: [deck(rect(0, 0, 30, 12))],
        objective: ['optional-value'],
      })
      const pins = [{ item: 0, deck: 0, at: pt(0, 0), turn: 0 as const }]
      const held = solve(p, { pins })
      if (held.status !== 'optimal') throw new Error(held.status)
      const r = different(p, 1, { pins, steps: 20_000 })
      if (r.status !== 'found') throw new Error(r.status)
      const { optionalValue } = held.figures
      expect(r.layouts.map((l) => l.figures.optionalValue)).toEqual([optionalValue, optionalValue])
    }
  })

  it('keeps the figures: no farther from the best than the slack', () => {
    const r = different(strip(), 3, { slack: 0 })
    if (r.status !== 'found') throw new Error(r.status)
    expect(r.layouts).toHaveLength(1)
    expect(r.exhausted).toBe(true)
  })

  it('measures by corners, and a whole deck for what is left out', () => {
    const at = (x: number) => [{ item: 0, deck: 0, at: pt(x, 0), turn: 0 as const }]
    expect(distanceOf(p, at(0), at(3))).toBe(3000)
    expect(distanceOf(p, at(0), [])).toBe(12_000)
    expect(distanceOf(p, [], at(0))).toBe(12_000)
  })
})

describe('other layouts of random decks', () => {
  const n = LONG ? 300 : 8
  it('are legal, as good as the best, and no farther than they say is possible', { timeout: 240_000 }, () => {
    const complaints: string[] = []
    let others = 0
    for (let s = 0; s < n; s++) {
      const p = randomDeck(120_000 + s, s % 2 ? tiny : ruleMixes.R2)
      const r = different(p, 2, { time: 4_000, slack: 0.1 })
      const best = solve(p, { time: 4_000 })
      if (r.status === 'infeasible' && best.status !== 'infeasible') complaints.push(`seed ${s}: it fits`)
      // on a busy machine the first need not be proven the best, and the others are as good as that one only
      if (r.status !== 'found' || !r.best || best.status !== 'optimal') continue
      for (const [i, l] of r.layouts.entries()) {
        for (const f of check(p, l.placements)) complaints.push(`seed ${s}: ${f.rule} ${f.text}`)
        for (const o of best.objectives) {
          const worse = (figureOf(o.name, l.figures) - o.value) * (isMost(o.name) ? -1 : 1)
          const may = isMost(o.name) ? 0 : Math.max(o.value * 0.1, 100) + (i === 0 ? 0 : BALANCE_TOLERANCE)
          if (worse > may + 0.01) complaints.push(`seed ${s}: ${o.name} is ${worse} worse`)
        }
        if (i === 0) continue
        others++
        const real = Math.min(...r.layouts.slice(0, i).map((o) => distanceOf(p, o.placements, l.placements)))
        if (real !== l.distance) complaints.push(`seed ${s}: ${real}, not ${l.distance}`)
        if (l.atMost !== undefined && l.atMost < real) complaints.push(`seed ${s}: at most ${l.atMost}, but ${real}`)
      }
    }
    expect(complaints).toEqual([])
    expect(others).toBeGreaterThan(n / 2)
  })
})

describe('the shelf reader', () => {
  it('has other layouts with the same figures, and trades of which none beats another', { timeout: 120_000 }, () => {
    const p = shelfReader('new-leads')
    const d = different(p, 1, { time: 30_000 })
    if (d.status !== 'found') throw new Error(d.status)
    expect(d.layouts.length).toBeGreaterThan(1)
    for (const l of d.layouts) {
      expect(check(p, l.placements)).toEqual([])
      expect(l.figures.freeTiePoints).toBe(d.layouts[0]!.figures.freeTiePoints)
      expect(l.figures.wireLength).toBeLessThanOrEqual(d.layouts[0]!.figures.wireLength + 100)
    }
    const t = tradeOffs(p, { time: LONG ? 4_000 : 600 })
    if (t.status !== 'found') throw new Error(t.status)
    for (const a of t.layouts)
      for (const b of t.layouts) expect(a !== b && beats(a.figures, b.figures, t.figures)).toBe(false)
    expect(tradeOffs(shelfReader('as-found'), { time: 30_000 }).status).toBe('infeasible')
  })

  it('has the same figures in all of them also where the first is not the best, and goes on from what outdoes it', () => {
    const p = shelfReader('new-leads')
    const early = solve(p, { steps: 300 })
    if (early.status !== 'feasible') throw new Error(early.status)
    for (const steps of [500, 3000, 6000]) {
      const d = different(p, 4, { steps, hint: early.placements })
      if (d.status !== 'found') throw new Error(d.status)
      for (const { figures: f } of d.layouts) {
        const [first] = d.layouts
        expect(f.freeTiePoints).toBe(first!.figures.freeTiePoints)
        expect(f.optionalValue).toBe(first!.figures.optionalValue)
        // as they are shown: wires to 0.1 mm, the balance to 0.01 mm
        expect(Math.abs(f.wireLength - first!.figures.wireLength)).toBeLessThanOrEqual(100)
        expect(Math.abs(f.balance! - first!.figures.balance!)).toBeLessThanOrEqual(10)
        expect(beats(early.figures, f, p.objective)).toBe(false)
      }
    }
  })

  it('trades no holes away where these are to be few', () => {
    // over the hole that is there the wire has 10 mm and the balance is bad; with a hole of its own the balance is better
    const f = part(4, 4, 2, { mount: screwed([{ at: [2, 2], diameter: 1 }]), mass: 100, terminals: { t: [0, 0] } })
    const end = { kind: 'item' as const, ref: { name: 'a', items: [0] }, terminal: 't', at: pt(0, 0) }
    const p = problem([item('a', f, on0)], {
      grid: mm(1),
      decks: [deck(rect(0, 0, 21, 20), { holes: [{ id: 'k', at: pt(16, 14), diameter: mm(1) }] })],
      exits: [{ id: 'x', deck: 0, at: pt(12, 4) }],
      wires: [wire({ kind: 'exit', exit: 0 }, end)],
      chassis: {
        contact: [pt(-6, -6), pt(34, -6), pt(41, 34), pt(-6, 39)],
        mass: 100,
        centre: { x: mm(14), y: mm(14), z: mm(0) },
      },
      objective: ['new-holes', 'wire-length', 'balance'],
    })
    const r = tradeOffs(p)
    if (r.status !== 'found') throw new Error(r.status)
    expect(r.layouts.map((l) => l.figures.newHoles)).toEqual(r.layouts.map(() => 0))
  })

  it('stops trading when told to', () => {
    const signal = { aborted: false }
    const run = trading(shelfReader('new-leads'), { signal })
    for (let k = 0; k < (LONG ? 30 : 10); k++) run.next()
    signal.aborted = true
    const from = performance.now()
    for (;;) {
      const next = run.next()
      if (!next.done) continue
      if (next.value.status === 'found') expect(next.value.complete).toBe(false)
      else expect(next.value.status).toBe('unknown')
      break
    }
    expect(performance.now() - from).toBeLessThan(3000)
  })
})
