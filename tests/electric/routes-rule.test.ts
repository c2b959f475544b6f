/** The rule `routed` in a solve: what R7 allows and a real lead cannot do is tried on from. */
import { describe, expect, it } from 'vitest'
import { layoutOf, mm, solve } from '../../solver/index.ts'
import { routesOf } from '../../src/electric/routes.ts'
import { obstaclesOf } from '../../src/electric/routes-obstacles.ts'
import { routedRule, tooShort } from '../../src/electric/routes-rule.ts'
import { extraOf, WIRING, wiringOf } from '../../src/electric/routes-settings.ts'
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
})
