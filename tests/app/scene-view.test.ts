/** What the 3D view is made of: true heights, levels apart, parts left away, wires, heads and balance, on a demo and by hand. */
import { readFileSync } from 'node:fs'
import { beforeAll, describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import { bodiesOf, layoutOf, type Placement, type Problem } from '../../solver/index.ts'
import { placementsOf, readLayout, readProject, toProblem, wireRoutes } from '../../src/model/index.ts'
import { liftsOf } from '../../src/scene/lifts.ts'
import { deckAt, meetAt } from '../../src/scene/ray.ts'
import { runsOf } from '../../src/scene/runs.ts'
import { edgesOf, solidsOf } from '../../src/scene/solids.ts'
import { balanceOf } from '../../src/statics/balance.ts'
import { stoodOf } from '../../src/store/balance-view.ts'
import { FIRST as CAMERA, FARTHEST, NEAREST, nearer, STANDS, turnedBy } from '../../src/store/camera.ts'
import { freeTiltsAt, headsOf, meets, poseOf, sliderRange } from '../../src/store/head-view.ts'
import { createSceneView, FIRST, partKey, wayOf } from '../../src/store/scene-view.ts'

let problem: Problem
let placements: readonly Placement[]

beforeAll(() => {
  const library = loadLibrary()
  const project = readProject(readFileSync('demo-data/hedge-patrol.json'), 'hedge-patrol.json', library)
  const file = 'demo-data/layouts/hedge-patrol.first-evening.layout.json'
  const laid = readLayout(readFileSync(file), file)
  if (!project.ok || !laid.ok) throw new Error('the demo cannot be read')
  problem = toProblem(project.value, 'first-evening', library)
  placements = placementsOf(problem, laid.value).placements
})

const NONE = [0, 0]

describe('solids', () => {
  it('are as high, and stand as high, as the rules have them', () => {
    const { solid, ghosts, stacks } = solidsOf(problem, placements, FIRST, NONE)
    const bodies = bodiesOf(problem, placements)
    expect(solid.length + ghosts.length).toBe(bodies.length)
    for (const body of bodies) {
      const box = [...solid, ...ghosts].find((b) => b.item === body.index)!
      expect(box.z - box.h / 2).toBeCloseTo(body.bottom / 1000, 9)
      expect(box.z + box.h / 2).toBeCloseTo(body.top / 1000, 9)
      const stack = stacks.find((b) => b.item === body.index)
      expect(stack ? stack.z + stack.h / 2 : box.z + box.h / 2).toBeCloseTo(body.reach / 1000, 9)
    }
    expect(stacks.length).toBe(2)
    // what comes later is only hinted at
    expect(ghosts.map((b) => b.id)).toEqual(['arm'])
  })

  it('stand on stand-offs at their holes, from the deck to their underside', () => {
    const { posts } = solidsOf(problem, placements, FIRST, NONE)
    const spare = problem.items.findIndex((i) => i.id === 'spare')
    const at = placements.find((p) => p.item === spare)!
    const mine = posts.filter((p) => p.item === spare)
    expect(mine.length).toBe(4)
    const deck = problem.decks[at.deck]!.z / 1000
    for (const p of mine) expect([p.low, p.high]).toEqual([deck, deck + 55])
    expect(problem.items[spare]!.footprint.mount).toMatchObject({ kind: 'screw', standoff: 55_000 })
  })

  it('are hinted at or left away as was chosen, and stacks filled as far as asked', () => {
    const view = createSceneView()
    view.show('item', 'cells', 'ghost')
    view.show('item', 'spare', 'hidden')
    view.set({ stacked: 0.5 })
    const before = solidsOf(problem, placements, FIRST, NONE)
    const { solid, ghosts, stacks, posts } = solidsOf(problem, placements, view.store.getState(), NONE)
    expect(ghosts.map((b) => b.id).sort()).toEqual(['arm', 'cells'])
    expect([...solid, ...ghosts].some((b) => b.id === 'spare')).toBe(false)
    expect(posts.some((p) => problem.items[p.item]!.id === 'spare')).toBe(false)
    for (const s of stacks) expect(s.h).toBeCloseTo(before.stacks.find((b) => b.item === s.item)!.h / 2, 9)
    view.set({ stacked: 0 })
    expect(solidsOf(problem, placements, view.store.getState(), NONE).stacks).toEqual([])
    view.showAll()
    expect(solidsOf(problem, placements, view.store.getState(), NONE).solid).toEqual(before.solid)
  })

  it('have twelve edges', () => {
    const { solid } = solidsOf(problem, placements, FIRST, NONE)
    const box = solid[0]!
    const edges = edgesOf(box, 1)
    expect(edges.length).toBe(12 * 6)
    const xs = edges.filter((_, i) => i % 3 === 0)
    expect([Math.min(...xs), Math.max(...xs)]).toEqual([box.x - box.w / 2 - 1, box.x + box.w / 2 + 1])
    const pairs = new Set<string>()
    for (let i = 0; i < edges.length; i += 6) pairs.add(edges.slice(i, i + 6).join())
    expect(pairs.size).toBe(12)
  })
})

describe('levels', () => {
  it('lift apart by their height, and take what stands on them along', () => {
    expect(liftsOf(problem, 0)).toEqual([0, 0])
    const lifts = liftsOf(problem, 0.5)
    const [low, high] = problem.decks[0]!.z < problem.decks[1]!.z ? [0, 1] : [1, 0]
    expect(lifts[low]).toBe(0)
    expect(lifts[high]).toBeGreaterThan(30)
    const flat = solidsOf(problem, placements, FIRST, NONE)
    for (const box of solidsOf(problem, placements, FIRST, lifts).solid) {
      const old = flat.solid.find((b) => b.item === box.item)!
      const deck = bodiesOf(problem, placements).find((b) => b.index === box.item)!.deck
      expect(box.z - old.z).toBeCloseTo(lifts[deck]!, 9)
    }
  })
})

describe('wires', () => {
  it('run in straight pieces, along their decks and upright, from part to part', () => {
    const lifts = liftsOf(problem, 1)
    const runs = runsOf(problem, bodiesOf(problem, placements), wireRoutes(layoutOf(problem, placements)), lifts)
    expect(runs.length).toBeGreaterThan(5)
    for (const run of runs) {
      for (const [i, b] of run.line.slice(1).entries()) {
        const a = run.line[i]!
        expect([0, 1, 2].filter((k) => Math.abs(a[k]! - b[k]!) > 1e-6).length).toBe(1)
      }
    }
    // Its ends are as high as the parts that it joins.
    const bodies = bodiesOf(problem, placements)
    const tops = bodies.map((b) => b.top / 1000 + lifts[b.deck]!)
    const wire = runs.find((r) => problem.wires[r.wire]!.to.kind === 'item')!
    const end = wire.line[wire.line.length - 1]!
    expect(tops.some((t) => Math.abs(t - end[2]) < 1e-6)).toBe(true)
  })

  it('are drawn whole, and in dashes where they have no way', () => {
    const routes = wireRoutes(layoutOf(problem, placements))
    const lifts = liftsOf(problem, 0)
    const drawn = (all: typeof routes) =>
      runsOf(problem, bodiesOf(problem, placements), all, lifts).map(({ pieces }) =>
        pieces.flatMap((piece) => piece.slice(1).map((b, i) => Math.hypot(...b.map((v, k) => v - piece[i]![k]!)))),
      )
    const sum = (lengths: readonly number[]) => lengths.reduce((a, b) => a + b, 0)
    const [whole, barred] = [drawn(routes), drawn(routes.map((r) => ({ ...r, barred: true })))]
    for (const [i, lengths] of whole.entries()) {
      const length = sum(lengths)
      // A third is drawn; what is over at the end is one dash at most.
      expect(Math.abs(sum(barred[i]!) - length / 3)).toBeLessThan(2)
      expect(barred[i]!.length).toBeGreaterThan(length / 6 - 1)
    }
  })
})

describe('a head', () => {
  it('is free and barred at the angles of the report, with stacks as high as asked', () => {
    const [head] = headsOf(problem, placements, 1)
    expect(head!.id).toBe('neck')
    expect(sliderRange([head!], 'pan')).toEqual([-80, 80])
    expect(poseOf(head!, { pan: 200, tilt: -90 })).toEqual({ pan: 80, tilt: -45 })
    const [lo, hi] = head!.report.freePan[0]!
    const middle = (lo + hi) / 2
    // free at every tilt, so free at this one and at all others
    expect(freeTiltsAt(head!, middle)).toEqual([[-45, 60]])
    expect(meets(head!, { pan: middle, tilt: 0 })).toBe(false)
    const barred = hi < 80 ? (hi + 80) / 2 : (lo - 80) / 2
    expect([-45, -20, 0, 20, 40, 60].some((tilt) => meets(head!, { pan: barred, tilt }))).toBe(true)
    expect(headsOf({ ...problem, items: [] }, [], 1)).toEqual([])
  })
})

describe('balance', () => {
  const level = { slope: 0, slopeToward: 'front' } as const

  it('with stacks full or empty is that of the report, and between them between', () => {
    const of = (stacks: 'lightest' | 'heaviest') =>
      balanceOf(problem, placements)!.loadings.find((l) => l.stacks === stacks && !l.later)!
    const [none, half, full] = [0, 0.5, 1].map((s) => stoodOf(problem, placements, level, s)!)
    expect(none!.now.centre.z).toBeCloseTo(of('lightest').gravity.centre.z, 9)
    expect(full!.now.centre.z).toBeCloseTo(of('heaviest').gravity.centre.z, 9)
    expect(full!.now.margin).toBeCloseTo(of('heaviest').margin, 9)
    expect(half!.now.centre.z).toBeGreaterThan(none!.now.centre.z)
    expect(half!.now.centre.z).toBeLessThan(full!.now.centre.z)
    expect(full!.worst.margin).toBe(Math.min(...balanceOf(problem, placements)!.loadings.map((l) => l.margin)))
  })

  it('hangs towards the foot of a slope by height × tangent', () => {
    const { now } = stoodOf(problem, placements, { slope: 30, slopeToward: 'left' }, 1)!
    expect(now.foot.x - now.centre.x).toBeCloseTo(-now.centre.z * Math.tan(Math.PI / 6), 9)
    expect(now.foot.y).toBeCloseTo(now.centre.y, 9)
  })

  it('is unknown without a chassis', () => {
    const { chassis: _, ...bare } = problem
    expect(stoodOf(bare as Problem, placements, level, 1)).toBeUndefined()
  })
})

describe('what is shown', () => {
  it('is switched and set without a document, and keeps to its ranges', () => {
    const { store, flip, set, show } = createSceneView()
    flip('zones')
    expect(store.getState().on).toEqual({ ...FIRST.on, zones: true })
    set({ lift: 7 })
    set({ stacked: Number.NaN })
    expect([store.getState().lift, store.getState().stacked]).toEqual([1, 0])
    show('deck', 'main', 'hidden')
    // An item of the same name is another part.
    expect(wayOf(store.getState(), 'item', 'main')).toBe('shown')
    expect(wayOf(store.getState(), 'deck', 'main')).toBe('hidden')
    show('deck', 'main', 'shown')
    expect(store.getState().parts).toEqual({})
    expect(partKey('item', 'a')).not.toBe(partKey('deck', 'a'))
  })
})

describe('dragging in the round', () => {
  const down = (x: number, y: number) => ({ from: [x, y, 500], along: [0, 0, -1] }) as const

  it('meets a height where the ray comes through it, and only ahead', () => {
    expect(meetAt({ from: [0, 0, 100], along: [0.6, 0, -0.8] }, 20)).toEqual({ x: 60, y: 0 })
    expect(meetAt({ from: [0, 0, 100], along: [0, 0, 1] }, 20)).toBeUndefined()
    expect(meetAt({ from: [0, 0, 100], along: [1, 0, 0] }, 20)).toBeUndefined()
  })

  it('stays on its deck as long as the ray meets that, else goes to another that it may stand on', () => {
    const item = problem.items.findIndex((i) => i.id === 'spare')
    const both = { ...problem, items: problem.items.map((i) => ({ ...i, decks: [0, 1] })) }
    const one = { ...problem, items: problem.items.map((i) => ({ ...i, decks: [0] })) }
    const on = (p: Problem, x: number, y: number, now: number) => deckAt(p, item, down(x, y), NONE, 3, now)
    // The upper deck covers x 0 to 110, y 90 to 160; the lower one x 0 to 260, y 0 to 160.
    expect(problem.decks.map((d) => d.id)).toEqual(['lower', 'upper'])
    expect(on(both, 50, 120, 0)).toMatchObject({ deck: 0, x: 50, y: 120 })
    expect(on(both, 50, 120, 1)).toMatchObject({ deck: 1 })
    expect(on(both, 200, 20, 1)).toMatchObject({ deck: 0 })
    expect(on(one, 300, 20, 0)).toMatchObject({ deck: 0, x: 300 })
  })
})

describe('turning by keys and buttons', () => {
  const angle = (a: readonly number[], b: readonly number[]) =>
    (Math.acos(
      Math.min(
        1,
        a.reduce((s, v, i) => s + v * b[i]!, 0),
      ),
    ) *
      180) /
    Math.PI

  it('goes round and up by degrees, and comes back', () => {
    const round = turnedBy(CAMERA, 360, 0)
    expect(angle(round.direction, CAMERA.direction)).toBeLessThan(1e-5)
    const there = turnedBy(CAMERA, 0, 15)
    expect(angle(there.direction, CAMERA.direction)).toBeCloseTo(15, 6)
    expect(there.direction[2]).toBeGreaterThan(CAMERA.direction[2])
    expect(angle(turnedBy(there, 0, -15).direction, CAMERA.direction)).toBeLessThan(1e-5)
  })

  it('never tips over the top, under the ground, or beyond near and far', () => {
    expect(turnedBy(CAMERA, 0, 500).direction[2]).toBeCloseTo(1, 6)
    expect(turnedBy(CAMERA, 0, -500).direction[2]).toBeCloseTo(Math.cos(0.52 * Math.PI), 6)
    expect(nearer(CAMERA, 1e-9).far).toBe(NEAREST)
    expect(nearer(CAMERA, 1e9).far).toBe(FARTHEST)
  })

  it('has stands with the front at the top, ahead and at the right', () => {
    expect(STANDS.above.direction[2]).toBeCloseTo(1, 6)
    expect(STANDS.above.direction[1]).toBeLessThan(0)
    expect(STANDS.front.direction[1]).toBeGreaterThan(0.9)
    expect(STANDS.side.direction[0]).toBeGreaterThan(0.9)
  })
})
