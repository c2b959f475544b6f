/** Wires bounded one by one and by hubs: the same least length as without, nothing ruled out that stands, and no hub said to take more than it does. */
import { describe, expect, it } from 'vitest'
import { nearest, type Spots } from '../../solver/bounds/nearest.ts'
import { bitOf, type Star, starsOf } from '../../solver/bounds/star.ts'
import { type CompileOptions, compile } from '../../solver/compile.ts'
import { deckByDeck } from '../../solver/decks.ts'
import { check, figures, type Problem, solve } from '../../solver/index.ts'
import type { Placement } from '../../solver/problem.ts'
import type { Model } from '../../solver/search/model.ts'
import { Search } from '../../solver/search/search.ts'
import { wireEnds } from '../../solver/search/wire-ends.ts'
import { WireGoal } from '../../solver/search/wire-goal.ts'
import { benchDecks } from '../bench/decks.ts'
import { aiming } from '../bench/problems.ts'
import { dice } from '../bench/random.ts'
import { problemOf } from '../published/project.ts'
import { audited, isOf } from './audit-kit.ts'
import { type DeckMix, everything } from './oracle/deck-mix.ts'
import { randomDeck } from './oracle/decks.ts'
import { LONG } from './oracle/mixes.ts'
import { seeds } from './oracle/random.ts'
import { legalLayouts } from './replay-kit.ts'

const never = () => false
const MANY = LONG ? 1500 : 8

/** To its end, without a pause. */
function run<T>(g: Generator<undefined, T>): T {
  for (;;) {
    const step = g.next()
    if (step.done) return step.value
  }
}

/** Two decks, every rule, and wires. */
const wired: DeckMix = {
  ...everything,
  second: 1,
  wires: 1,
  items: [3, 6],
  body: [0.15, 0.45],
  grids: [1, 2, 3, 5, 7.3],
  cells: 12,
}

/** Three decks joined by one to three passes each, and what is wired to one or two hubs; every number drawn. */
function hubs(seed: number): Problem {
  const d = dice(seed)
  const [w, h] = [d.whole(24, 36), d.whole(20, 32)]
  const ids = ['low', 'middle', 'high'].slice(0, d.whole(2, 3))
  const part = (id: string, width: number, depth: number) => ({
    id,
    body: { width, depth, height: 5 },
    mount: { kind: 'adhesive' },
    terminals: ['a', 'b'].map((t) => ({ id: t, at: [d.whole(0, width), d.whole(0, depth)] })),
  })
  const names = ['hub', 'one', 'two', 'three', 'four', 'five'].slice(0, d.whole(3, 5))
  // a part on a board, wired to more than one thing; its pin may be far outside it
  const chip = d.whole(0, 1) === 0 ? { pin: [d.pick([1, 1, -9]), 1], board: d.pick(names) } : undefined
  const passes = ids.slice(1).flatMap((id, k) =>
    Array.from({ length: d.whole(1, 3) }, (_, n) => ({
      id: `pass-${k}-${n}`,
      decks: [ids[k], id],
      at: [d.whole(2, w - 2), d.whole(2, h - 2)],
      diameter: 2,
    })),
  )
  const wire = (id: string, from: object, to: object) => ({ id, from, to, conductors: d.whole(1, 4) })
  const end = (item: string) => ({ item, terminal: d.pick(['a', 'b']) })
  const wires = names.slice(1).map((n) =>
    wire(
      `to-${n}`,
      ...(d.pick([
        [end('hub'), end(n)],
        [end(n), end('hub')],
      ]) as [object, object]),
    ),
  )
  if (names.length > 3) wires.push(wire('side', end('one'), end('two')))
  wires.push(wire('lead', { exit: 'lead' }, end(d.pick(names))))
  if (chip)
    for (const n of names.filter((n) => n !== chip.board).slice(0, 2))
      wires.push({ ...wire(`on-${n}`, end('chip'), end(n)), conductors: 7 })
  const boards = names.map((n) => ({
    ...part(n, d.whole(8, 18), d.whole(8, 14)),
    ...(n === chip?.board
      ? { breadboard: { pitch: 2.54, blocks: [{ at: [1, 1], columns: 2, rows: 3, strip: 'column' }] } }
      : {}),
  }))
  const plug = chip && {
    ...part('chip', 3, 2),
    mount: { kind: 'plug-in' },
    plug: { pins: [{ id: '1', at: chip.pin }] },
  }
  return problemOf(
    JSON.stringify({
      format: 'deckwright-project',
      version: 1,
      units: 'mm',
      name: 'hubs',
      settings: { grid: d.pick([3, 4, 5]), itemClearance: d.whole(0, 2), edgeClearance: 0 },
      decks: ids.map((id, k) => ({ id, z: 20 + 20 * k, thickness: 2, outline: { rect: [0, 0, w, h] } })),
      exits: [{ id: 'lead', deck: d.pick(ids), at: [d.whole(1, w - 1), d.whole(1, h - 1)] }],
      passes,
      footprints: [...boards, ...(plug ? [plug] : [])],
      items: [
        ...names.map((n) => ({
          id: n,
          footprint: n,
          ...(d.whole(0, 2) === 0 ? { decks: [d.pick(ids)] } : {}),
          ...(n !== chip?.board && d.whole(0, 3) === 0 ? { required: false, value: 1 } : {}),
        })),
        ...(chip ? [{ id: 'chip', footprint: 'chip', place: [{ kind: 'host', item: chip.board }] }] : []),
      ],
      wires,
      objective: ['wire-length'],
    }),
  )
}

/** Seeded problems, and a layout with little wire, mostly proven the least, all without hubs. */
function solved(list: readonly (readonly [number, Problem])[]) {
  return list.flatMap(([seed, all]) => {
    const p = aiming(all, ['wire-length'])
    if (p.decks.length < 2 || p.wires.length === 0) return []
    const result = solve(p, { steps: LONG ? 8000 : 1500 })
    if (result.status !== 'optimal' && result.status !== 'feasible') return []
    const least = result.objectives[0]!.value
    return least > 0 ? [{ seed, p, least, proven: result.status === 'optimal', placements: result.placements }] : []
  })
}

let made: ReturnType<typeof solved> | undefined
function all() {
  made ??= solved([
    ...seeds(MANY, 70_000).map((s) => [s, hubs(s)] as const),
    ...seeds(MANY, 80_000).map((s) => [s, randomDeck(s, wired)] as const),
  ])
  return made
}

/** A search for so little wire, hubs and all, as a long solve has it. */
function asking(p: Problem, most: number, brief: boolean, options: CompileOptions = {}) {
  const model = compile(p, options)
  const goal = new WireGoal(model)
  model.e.backTo(0)
  goal.begin()
  run(goal.share(most))
  const search = new Search(model)
  search.choices = goal.choices
  search.wanted = (b, axis) => goal.wanted(b, axis)
  const stage = deckByDeck(model, never, goal.wires, brief)
  const ask = (aim: number, told = (_guard: number) => {}, conflicts = 20_000) => {
    model.e.backTo(0)
    const guard = model.e.newBool()
    told(guard)
    goal.require(aim, guard)
    search.stage = stage
    return search.run([guard], never, model.e.conflicts + conflicts)
  }
  return { ask, search, goal, model }
}

/** Bits as `Star.least` takes them, for bodies that stand so; and what its wires take there. */
function standing(model: Model, placements: readonly Placement[], star: Star) {
  const at = new Map(placements.map((q) => [q.item, q]))
  const { problem } = model
  const hub = at.get(star.hub.index)
  const decks = star.rays.map(({ to }) => {
    const deck = to.body ? at.get(to.body.index)?.deck : to.decks[0]!.deck
    return deck === undefined ? 0 : 1 << deck
  })
  const lengths = new Map(figures(problem, placements).wires.map((w) => [w.wire, w.length]))
  const sum = star.rays.reduce((s, r) => s + (lengths.get(r.wire) ?? 0) * problem.wires[r.wire]!.conductors, 0)
  const mode = hub && star.hub.modes.find((m) => m.deck === hub.deck && m.turn === hub.turn)
  return { decks, bit: mode ? bitOf(mode) : 0, sum }
}

describe('the nearest of many spots', () => {
  it('is that of all pairs, clear of each other where that is asked', () => {
    for (const seed of seeds(LONG ? 300 : 25, 1)) {
      const d = dice(seed)
      const line = () => Int32Array.from(new Set(Array.from({ length: d.whole(1, 7) }, () => d.whole(-20, 20)))).sort()
      const spots = (): Spots => {
        const [xs, ys] = [line(), line()]
        return { xs, ys, has: Uint8Array.from({ length: xs.length * ys.length }, () => d.whole(0, 1)), slack: 0 }
      }
      const [from, to] = [spots(), spots()]
      // tips within bodies, so that beside each other they are apart as the bodies are
      const size = () => ({ w: d.whole(1, 9), h: d.whole(1, 9) })
      const [a, b, gap] = [size(), size(), d.whole(0, 3)]
      const tipOf = (s: { w: number; h: number }) => ({ x: d.whole(0, s.w), y: d.whole(0, s.h) }) as never
      const [ta, tb] = [tipOf(a), tipOf(b)] as { x: number; y: number }[]
      for (const apart of [undefined, { from: a, to: b, gap }]) {
        const out = nearest(from, ta as never, to, tb as never, apart)
        to.xs.forEach((x, k) => {
          to.ys.forEach((y, l) => {
            let best = Number.POSITIVE_INFINITY
            from.xs.forEach((u, i) => {
              from.ys.forEach((v, j) => {
                if (from.has[i * from.ys.length + j] === 0) return
                const clear = u + a.w + gap <= x || x + b.w + gap <= u || v + a.h + gap <= y || y + b.h + gap <= v
                if (apart && !clear) return
                best = Math.min(best, Math.abs(x + tb!.x - u - ta!.x) + Math.abs(y + tb!.y - v - ta!.y))
              })
            })
            expect(out[k * to.ys.length + l], `${seed} ${!!apart} ${k} ${l}`).toBe(best)
          })
        })
      }
    }
  })
})

describe('what the wires of a hub take', () => {
  it('is never more than they do take in a layout that stands', () => {
    const seen = { stars: 0, plugged: 0, tight: 0 }
    for (const { seed, p, placements: best } of all()) {
      const model = compile(p)
      model.e.propagate()
      const layouts = legalLayouts(p, [best], seed, 5)
      for (const star of run(starsOf(model, wireEnds(model))))
        for (const placements of layouts) {
          const { decks, bit, sum } = standing(model, placements, star)
          if (star.hub.seating) seen.plugged++
          if (bit === 0) continue
          seen.stars++
          const known = star.least(decks, bit)
          expect(known, `${seed}: ${star.hub.item.id}`).toBeLessThanOrEqual(sum + 1e-6)
          if (known > 0.6 * sum) seen.tight++
          // with more left open it takes no more
          const open = decks.map((d) => (d === 0 ? 0 : 7))
          expect(star.least(open, 0xfff)).toBeLessThanOrEqual(known)
        }
    }
    expect(seen.stars).toBeGreaterThan(MANY / 2)
    expect(seen.tight).toBeGreaterThan(MANY / 4)
    expect(seen.plugged).toBeGreaterThan(MANY / 4)
  })

  it('holds for a part on a board, wherever its pin is: a little less than the least of all its seats', () => {
    for (const seed of seeds(LONG ? 2000 : 9, 5000)) {
      const d = dice(seed)
      const grid = d.pick([1, 2, 3])
      const conductors = 2
      const exits = [0, 1].map((k) => ({ id: `lead-${k}`, deck: 'low', at: [d.whole(1, 39), d.whole(1, 29)] }))
      const p = problemOf(
        JSON.stringify({
          format: 'deckwright-project',
          version: 1,
          units: 'mm',
          name: 'on a board',
          settings: { grid, itemClearance: 0, edgeClearance: 0 },
          decks: ['low', 'high'].map((id, k) => ({
            id,
            z: 20 + 40 * k,
            thickness: 2,
            outline: { rect: [0, 0, 40, 30] },
          })),
          exits,
          footprints: [
            {
              id: 'board',
              kind: 'breadboard',
              body: { width: 11, depth: 9, height: 5 },
              mount: { kind: 'adhesive' },
              terminals: [],
              breadboard: { pitch: 2.54, blocks: [{ at: [1.3, 1.1], columns: 3, rows: 2, strip: 'column' }] },
            },
            {
              id: 'chip',
              body: { width: 4, depth: 3, height: 5 },
              mount: { kind: 'plug-in' },
              plug: { pins: [{ id: '1', at: [d.whole(-15, 12), d.whole(-3, 4)] }] },
              terminals: [{ id: 'a', at: [d.whole(0, 4), d.whole(0, 3)] }],
            },
          ],
          items: [
            {
              id: 'board',
              footprint: 'board',
              place: [{ kind: 'at', deck: 'low', at: [d.whole(8, 20), d.whole(6, 14)] }],
            },
            { id: 'chip', footprint: 'chip' },
          ],
          wires: exits.map(({ id }) => ({ id, from: { exit: id }, to: { item: 'chip', terminal: 'a' }, conductors })),
          objective: ['wire-length'],
        }),
      )
      const result = solve(p, { steps: 20_000 })
      if (result.status === 'infeasible') continue
      expect(result.status).toBe('optimal')
      if (result.status !== 'optimal') continue
      const model = compile(p)
      model.e.propagate()
      const [star] = run(starsOf(model, wireEnds(model)))
      const least = star!.least([1, 1], 0xfff)
      expect(least, `${seed}`).toBeLessThanOrEqual(result.objectives[0]!.value)
      // cells of the grid, three by three
      expect(result.objectives[0]!.value - least, `${seed}`).toBeLessThanOrEqual(2 * conductors * 8000 * grid)
    }
  })

  it('is more than each by itself: no driver is near the leads of both motors (by hand)', () => {
    // leads 140 mm apart on one deck; by the triangle inequality 2 × 140 mm less what the driver's own terminals are apart, by 2 conductors
    const robot = problemOf(benchDecks().find((d) => d.name === '30 on 3, 2')!.text)
    const model = compile(robot)
    model.e.propagate()
    const star = run(starsOf(model, wireEnds(model))).find((s) => s.hub.item.id === 'driver')!
    const leads = star.rays.map((r) => (r.to.body ? 0 : 1))
    const apart = 2 * (140_000 - 18_000 - 19_000 - 2 * 4_000)
    expect(leads.filter((l) => l === 1)).toHaveLength(2)
    const least = star.least(leads, 0xfff)
    expect(least).toBeGreaterThan(apart)
    expect(least).toBeLessThanOrEqual(2 * (140_000 + 2 * 4_000))
    for (const k of [0, 1, 2])
      if (leads[k] === 1)
        expect(
          star.least(
            leads.map((l, i) => (i === k ? l : 0)),
            0xfff,
          ),
        ).toBeLessThan(60_000)
  })
})

describe('wires bounded one by one', () => {
  // with so many conductors lengths are more than 32 bits hold
  it.each([
    [false, 1],
    [true, 1],
    [true, 1e5],
  ])(
    'come to the same least length, and what was learned on the way lets it stand (brief: %s, conductors × %s)',
    (brief, times) => {
      const cases = all().filter((c) => c.proven)
      expect(cases.length).toBeGreaterThan(MANY / 3)
      for (const { seed, p: once, least: shortest } of cases) {
        const least = shortest * times
        const p = { ...once, wires: once.wires.map((w) => ({ ...w, conductors: w.conductors * times })) }
        const { ask, search } = asking(p, 2 * least, brief)
        const roll = dice(seed)
        // in any order: what is learned for less wire must not rule out more
        const short = [least - 1, least * 0.9, least * 0.6, least * 0.3].map(Math.floor)
        for (const aim of short.filter(() => roll.whole(0, 2) > 0))
          expect(ask(aim), `${seed}: ${aim} of ${least}`).toBe('none')
        expect(ask(least), `${seed}: ${least}`).toBe('found')
        expect(check(p, search.placements()), `${seed}`).toEqual([])
        expect(figures(p, search.placements()).wireLength, `${seed}`).toBeLessThanOrEqual(least)
        expect(ask(least - 1), `${seed}: less than ${least}`).toBe('none')
        expect(ask(2 * least), `${seed}: ${2 * least}`).toBe('found')
      }
    },
  )

  it.each([false, true])('give no reason that is false in a layout that stands (brief: %s)', (brief) => {
    let said = 0
    // good layouts and others
    for (const { seed, p, placements: best } of all())
      for (const placements of legalLayouts(p, [best], seed, 3)) {
        const { wireLength } = figures(p, placements)
        if (wireLength === 0) continue
        // copies keep their names, as they do in the layout
        const { ask, model, goal } = asking(p, 2 * wireLength, brief, { interchange: false })
        if (!isOf(model, placements)) continue
        const audit = audited(model, goal, placements)
        for (const part of [0.5, 0.8, 1, 1.3])
          ask(Math.floor(part * wireLength), (guard) => audit.asked(guard, part >= 1), 600)
        expect(audit.wrong.slice(0, 3), `${seed}`).toEqual([])
        said += audit.said
      }
    expect(said).toBeGreaterThan(1000 * MANY)
  })

  it('take the same steps wherever they are interrupted', () => {
    const twenty = aiming(problemOf(benchDecks()[1]!.text), ['wire-length'])
    const most = LONG ? 4000 : 2000
    const stops = [1e9, 3].map((every) => {
      const { search, goal, model } = asking(twenty, 9_000_000, true)
      const guard = model.e.newBool()
      goal.require(3_500_000, guard)
      let looks = 0
      let verdict = 'stopped'
      while (verdict === 'stopped' && search.steps < most)
        verdict = search.run([guard], () => ++looks % every === 0, 2000, most)
      return { verdict, steps: search.steps, conflicts: model.e.conflicts }
    })
    expect(stops[1]).toEqual(stops[0])
  })
})
