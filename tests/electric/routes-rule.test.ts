/** The rule `routed` in a solve: what R7 allows and a real lead cannot do is tried on from. */
import { describe, expect, it } from 'vitest'
import { check, layoutOf, mm, type Placement, solve, type Turn } from '../../solver/index.ts'
import { routesOf } from '../../src/electric/routes.ts'
import { obstaclesOf } from '../../src/electric/routes-obstacles.ts'
import { routedRule, tooShort } from '../../src/electric/routes-rule.ts'
import { extraOf, WIRING, wiringOf } from '../../src/electric/routes-settings.ts'
import fc from '../seeded.ts'
import { part, placed, problemOf, project } from './kit.ts'

const rule = routedRule(WIRING)

/** A wall that may stand in one of the ways that a lead could take; the objective wants it where the lead runs. */
const corridor = (more: object = {}) =>
  project({
    decks: [{ id: 'main', z: 10, thickness: 3, outline: { rect: [0, 0, 100, 60] } }],
    settings: { grid: 5 },
    exits: [
      { id: 'left', deck: 'main', at: [10, 30] },
      { id: 'right', deck: 'main', at: [90, 30] },
      { id: 'pull', deck: 'main', at: [50, 30] },
    ],
    footprints: [part('wall', 10, 40), part('post', 5, 5)],
    items: [
      { id: 'wall', footprint: 'wall', turns: [0] },
      { id: 'post', footprint: 'post', place: [{ kind: 'at', deck: 'main', at: [0, 0] }] },
    ],
    wires: [
      { id: 'lead', from: { exit: 'left' }, to: { exit: 'right' }, maxLength: 90 },
      { id: 'pull', from: { exit: 'pull' }, to: { item: 'wall', terminal: 't' }, conductors: 3 },
    ],
    objective: ['wire-length'],
    ...more,
  })

describe('the rule of routed leads', () => {
  const p = problemOf(corridor())
  const wall = p.items.findIndex((i) => i.id === 'wall')

  it('makes a solve try on where the straight length fits and the routed one does not', () => {
    const free = solve(p, {})
    const kept = solve(p, { lazy: [rule] })
    if (free.status !== 'optimal' || kept.status !== 'optimal') throw new Error(`${free.status} ${kept.status}`)
    // without the rule the best layout bars the lead, or this shows nothing
    expect(rule.find(p, free.placements)).toHaveLength(1)
    expect(rule.find(p, kept.placements)).toEqual([])
    const lead = routesOf(p, kept.placements, WIRING).routes.find((r) => p.wires[r.wire]!.id === 'lead')!
    expect(lead.length).toBeLessThanOrEqual(mm(90))
    expect(kept.placements).not.toEqual(free.placements)
    expect(kept.objectives[0]!.value).toBeGreaterThan(free.objectives[0]!.value)
  })

  it('is as good as trying every place by hand', () => {
    const kept = solve(p, { lazy: [rule] })
    if (kept.status !== 'optimal') throw new Error(kept.status)
    let best = Number.POSITIVE_INFINITY
    for (let x = 0; x <= 90; x += 5) {
      for (let y = 0; y <= 20; y += 5) {
        // apart from the post in the corner
        if (x < 5 && y < 5) continue
        const at = placed(p, { wall: [x, y], post: [0, 0] })
        const { routes } = routesOf(p, at, WIRING)
        const lead = routes.find((r) => r.wire === 0)
        const pull = routes.find((r) => r.wire === 1)
        if (lead && lead.length <= mm(90) && pull) best = Math.min(best, lead.straight + pull.straight * 3)
      }
    }
    expect(kept.objectives[0]!.value).toBe(best)
  })

  it('names what stands in the way and no other, so that it alone is enough', () => {
    const at = placed(p, { wall: [45, 10], post: [0, 0] })
    const [f] = rule.find(p, at)
    expect(f!.placements).toEqual([wall])
    // round the wall's back end at 9 mm: 80 + 2 · 21
    expect(f!.text).toBe('The lead lead needs 122.0 mm or more round wall; there are 90.0 mm of it.')
  })

  it('says so where nothing can be long enough', () => {
    const none = problemOf(
      corridor({
        items: [{ id: 'wall', footprint: 'wall', place: [{ kind: 'at', deck: 'main', at: [45, 10], turn: 0 }] }],
      }),
    )
    const r = solve(none, { lazy: [rule] })
    expect(r.status).toBe('infeasible')
    if (r.status === 'infeasible') expect(r.conflict.some((c) => c.rule === 'routed')).toBe(true)
  })

  it('counts loop, service loop and ends', () => {
    const q = corridor({
      settings: { grid: 5, wiring: { service: 6, solder: 3, plug: 20 } },
      wires: [
        {
          id: 'lead',
          from: { exit: 'left' },
          to: { item: 'wall', terminal: 't' },
          ends: ['plug', 'solder'],
          loop: 2,
          maxLength: 52,
        },
      ],
    })
    const wired = problemOf(q)
    const wiring = wiringOf(q, 'base')
    // at the exit nothing is fixed: 6 + 3 + 2
    expect(extraOf(wiring, wired.wires[0]!)).toBe(mm(11))
    const at = (x: number) => placed(wired, { wall: [x, 10], post: [0, 0] })
    // the terminal is at (x + 5, 10): 20 mm down, 21 mm along and 11 are 52
    expect(routedRule(wiring).find(wired, at(26))).toEqual([])
    expect(routedRule(wiring).find(wired, at(27))).toHaveLength(1)
  })

  it('says nothing of leads without a limit', () => {
    const q = problemOf(corridor({ wires: [{ id: 'lead', from: { exit: 'left' }, to: { exit: 'right' } }] }))
    const at = placed(q, { wall: [45, 10], post: [0, 0] })
    const layout = layoutOf(q, at)
    expect(tooShort(layout, obstaclesOf(layout, WIRING), q.wires[0]!, WIRING)).toBeUndefined()
    expect(rule.find(q, at)).toEqual([])
  })

  it('names enough, whatever stands where: with these alone the lead is too short still', () => {
    const sizes = [
      [12, 8],
      [20, 30],
      [9, 9],
      [33, 6],
    ] as const
    const q = problemOf(
      project({
        exits: [{ id: 'a', deck: 'main', at: [3, 3], free: 90 }],
        footprints: [
          ...sizes.map(([w, d], i) => part(`p${i}`, w, d)),
          part('board', 30, 20, {
            kind: 'breadboard',
            breadboard: { blocks: [{ at: [0, 0], columns: 11, rows: 7, strip: 'column' }] },
          }),
          part('chip', 4, 4, { mount: { kind: 'plug-in' }, plug: { pins: [{ id: '1', at: [0, 0] }] } }),
        ],
        items: [
          ...sizes.map((_, i) => ({ id: `p${i}`, footprint: `p${i}`, count: 2, required: false })),
          { id: 'board', footprint: 'board', required: false },
          { id: 'chip', footprint: 'chip', required: false },
        ],
        wires: [
          { id: 'w0', from: { exit: 'a' }, to: { item: 'p0', terminal: 't' } },
          { id: 'w1', from: { item: 'p1#1', terminal: 't' }, to: { item: 'p2#2', terminal: 't' }, maxLength: 60 },
          { id: 'w2', from: { item: 'chip', terminal: 't' }, to: { item: 'p3#1', terminal: 't' }, maxLength: 50 },
        ],
      }),
    )
    const spot = fc.tuple(
      fc.integer({ min: 0, max: 80 }),
      fc.integer({ min: 0, max: 60 }),
      fc.integer({ min: 0, max: 3 }),
    )
    const told = { all: 0, fewer: 0 }
    fc.assert(
      fc.property(fc.array(spot, { minLength: 9, maxLength: 9 }), (spots) => {
        const placements: Placement[] = []
        spots.forEach(([x, y, turn], item) => {
          const next = { item, deck: 0, at: { x: mm(x), y: mm(y) }, turn: turn as Turn }
          if (check(q, [...placements, next]).every((f) => f.rule !== 'R1' && f.rule !== 'R2')) placements.push(next)
        })
        const board = placements.find((b) => b.item === 8)
        if (board) placements.push({ item: 9, deck: 0, at: board.at, turn: 0, host: 8 })
        const layout = layoutOf(q, placements)
        for (const wire of q.wires) {
          const f = tooShort(layout, obstaclesOf(layout, WIRING), wire, WIRING)
          if (!f) continue
          told.all++
          const alone = placements.filter((b) => f.placements.includes(b.item))
          if (alone.length < placements.length) told.fewer++
          const again = layoutOf(q, alone)
          expect(tooShort(again, obstaclesOf(again, WIRING), wire, WIRING)?.text).toBe(f.text)
        }
      }),
      { numRuns: process.env.DECKWRIGHT_LONG === '1' ? 3000 : 60 },
    )
    expect(told.all).toBeGreaterThan(15)
    expect(told.fewer).toBeGreaterThan(10)
  })
})
