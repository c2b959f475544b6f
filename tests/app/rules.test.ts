/** Rules of whole layouts in the solves that commands and page ask for: only where the file asks, and never in silence. */
import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import { applyChanges, check, loosenings, mm, type Progress, solve } from '../../solver/index.ts'
import { routesOf } from '../../src/electric/routes.ts'
import { WIRING } from '../../src/electric/routes-settings.ts'
import { placementsOf, readLayout, readProject, toProblem } from '../../src/model/index.ts'
import { balanceOf } from '../../src/statics/index.ts'
import { createPool } from '../../src/worker/pool.ts'
import { judged, type Ruled } from '../../src/worker/ruled.ts'
import { limitsOf, tooShort } from '../../src/worker/rules.ts'
import { rulesOf } from '../../src/worker/rules-of.ts'
import { part, problemOf, project } from '../electric/kit.ts'
import { openHere } from './here.ts'
import { ruled } from './ruled-kit.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'

const WALL = { id: 'wall', footprint: 'wall', turns: [0] }

/** A wall that is drawn to where a lead of 90 mm runs; round the wall it would need more. */
const corridor = (settings: object, more: object = {}) =>
  project({
    decks: [{ id: 'main', z: 10, thickness: 3, outline: { rect: [0, 0, 100, 60] } }],
    settings: { grid: 5, ...settings },
    exits: [
      { id: 'left', deck: 'main', at: [10, 30] },
      { id: 'right', deck: 'main', at: [90, 30] },
      { id: 'pull', deck: 'main', at: [50, 30] },
    ],
    footprints: [part('wall', 10, 40)],
    items: [WALL],
    wires: [
      { id: 'lead', from: { exit: 'left' }, to: { exit: 'right' }, maxLength: 90 },
      { id: 'pull', from: { exit: 'pull' }, to: { item: 'wall', terminal: 't' }, conductors: 3 },
    ],
    objective: ['wire-length'],
    ...more,
  })

describe('routes in a solve', () => {
  it('are asked for by the settings of wiring, of the project or a variant, or by how a lead ends', () => {
    expect(rulesOf(corridor({}), 'base')).toEqual({})
    expect(rulesOf(corridor({ wiring: {} }), 'base')).toEqual({ routes: WIRING })
    const variants = [{ id: 'plain' }, { id: 'laid', settings: { wiring: { clearance: 2 } } }]
    const both = corridor({}, { variants })
    expect(rulesOf(both, 'plain')).toEqual({})
    expect(rulesOf(both, 'laid').routes?.clearance).toBe(mm(2))
    const ends = [{ id: 'w', from: { exit: 'left' }, to: { exit: 'right' }, ends: ['plug', 'plug'] }]
    expect(rulesOf(corridor({}, { wires: ends }), 'base').routes).toBeDefined()
  })

  it('make it find another layout, proven best of those whose leads are long enough', () => {
    const file = corridor({ wiring: {} })
    const p = problemOf(file)
    const rules = rulesOf(file, 'base')
    const free = solve(p)
    const { result, short } = ruled(p, rules)
    if (free.status !== 'optimal' || result.status !== 'optimal') throw new Error(`${free.status} ${result.status}`)
    // or this shows nothing
    expect(tooShort(p, free.placements, rules)).toEqual([
      'The lead lead needs 102.0 mm or more round wall; there are 90.0 mm of it.',
    ])
    expect(short).toEqual([])
    expect(check(p, result.placements)).toEqual([])
    const lead = routesOf(p, result.placements, WIRING).routes.find((r) => r.wire === 0)
    expect(lead!.length).toBeLessThanOrEqual(mm(90))
    // every place of the wall tried: tests/electric/routes-rule.test.ts; here, that the second search lost nothing
    expect(result.objectives[0]!.value).toBeGreaterThan(free.objectives[0]!.value)
    expect(result.objectives[0]!.bound).toBe(result.objectives[0]!.value)
  })

  it('change nothing in a file that does not ask for them, to the byte', () => {
    const p = problemOf(corridor({}))
    expect(ruled(p, rulesOf(corridor({}), 'base'))).toEqual({ result: solve(p), short: [] })
  })

  it('never make a legal layout infeasible: it is handed out with the reason, and not called best', () => {
    const stuck = { items: [{ ...WALL, place: [{ kind: 'at', deck: 'main', at: [45, 10], turn: 0 }] }] }
    const file = corridor({ wiring: {} }, stuck)
    const p = problemOf(file)
    const free = solve(p)
    const { result, short } = ruled(p, rulesOf(file, 'base'))
    expect(free.status).toBe('optimal')
    if (result.status !== 'feasible') throw new Error(result.status)
    expect('placements' in free && result.placements).toEqual('placements' in free && free.placements)
    expect(short).toHaveLength(1)
  })

  it('leave time for the second search, which starts before the first has run to its end', () => {
    // many bricks without a best that could be proven in this time; the best wall is always in the lead's way
    const crowd = Array.from({ length: 7 }, (_, i) => ({ id: `b${i}`, footprint: 'brick' }))
    const file = corridor(
      { wiring: {} },
      {
        footprints: [part('wall', 10, 40), part('brick', 7, 5)],
        items: [WALL, ...crowd],
        wires: [
          { id: 'lead', from: { exit: 'left' }, to: { exit: 'right' }, maxLength: 90 },
          { id: 'pull', from: { exit: 'pull' }, to: { item: 'wall', terminal: 't' }, conductors: 30 },
          ...crowd.map((b, i) => ({
            id: `w${i}`,
            from: { item: b.id, terminal: 't' },
            to: { item: `b${(i * 5 + 3) % 7}`, terminal: 't' },
          })),
        ],
      },
    )
    const p = problemOf(file)
    const rules = rulesOf(file, 'base')
    // on a machine that does other things too the second search may need more time to begin
    const tries = [...(LONG ? [] : [800]), 1600, 6400, 20_000].values()
    let told: { readonly said: Progress[] } & Ruled
    do {
      const said: Progress[] = []
      told = { said, ...ruled(p, rules, { time: tries.next().value ?? 0, onProgress: (s) => said.push(s) }) }
    } while (told.said.filter((s) => s.phase === 'legal').length === 1)
    const { said, result, short } = told
    if (!('placements' in result)) throw new Error(result.status)
    expect(said.filter((s) => s.phase === 'legal')).toHaveLength(2)
    // under load the second search may not come to a layout; then it must say so
    expect(tooShort(p, result.placements, rules)).toEqual(short)
    expect(result.status).toBe('feasible')
  })

  it('are heard through the pool, also of what was cut off', async () => {
    const file = corridor({ wiring: {} })
    const p = problemOf(file)
    const rules = rulesOf(file, 'base')
    const pool = createPool(openHere)
    const outcome = await pool.solve({ problem: p, options: {}, rules }).done
    expect(outcome).toEqual({ kind: 'done', result: ruled(p, rules).result })
    pool.end()
    const free = solve(p)
    expect(judged(p, rules, free)).toMatchObject({ result: { status: 'feasible' }, short: [expect.any(String)] })
  })
})

describe('limits of statics in a solve', () => {
  /** A heavy block that the wire draws to the deck's edge. */
  const robot = (settings: object, more: object = {}) =>
    project({
      decks: [{ id: 'main', z: 100, thickness: 3, outline: { rect: [0, 0, 100, 60] } }],
      settings: { grid: 5, ...settings },
      chassis: {
        contact: [
          [20, 10],
          [80, 10],
          [80, 50],
          [20, 50],
        ],
        mass: 100,
        centre: [50, 30, 20],
      },
      exits: [{ id: 'corner', deck: 'main', at: [0, 0] }],
      footprints: [part('block', 20, 10, { mass: 400 })],
      items: [{ id: 'block', footprint: 'block' }],
      wires: [{ id: 'w', from: { exit: 'corner' }, to: { item: 'block', terminal: 't' } }],
      objective: ['wire-length'],
      ...more,
    })

  it('change the answer where the file states them', () => {
    const free = ruled(problemOf(robot({})), {}).result
    const p = problemOf(robot({ leastTipAngle: 8 }))
    const { result } = ruled(p, {})
    if (free.status !== 'optimal' || result.status !== 'optimal') throw new Error(`${free.status} ${result.status}`)
    const angle = (r: typeof free) => balanceOf(p, r.placements)!.worstTip
    expect(angle(free)).toBeLessThan(8)
    expect(angle(result)).toBeGreaterThanOrEqual(8)
    // by hand: every place of the block on the grid, upright and turned
    let best = Number.POSITIVE_INFINITY
    for (const turn of [0, 1, 2, 3] as const)
      for (let x = 0; x <= 100; x += 5)
        for (let y = 0; y <= 60; y += 5) {
          const at = [{ item: 0, deck: 0, at: { x: mm(x), y: mm(y) }, turn }]
          if (check(p, at).length > 0 || balanceOf(p, at)!.worstTip < 8) continue
          const end = [
            [10, 0],
            [10, 10],
            [10, 10],
            [0, 10],
          ][turn]!
          best = Math.min(best, x + end[0]! + y + end[1]!)
        }
    expect(result.objectives[0]!.value).toBe(mm(best))
  })

  it('are kept by what-ifs too: what would make it fit does, limits and all', () => {
    const edge = { id: 'block', footprint: 'block', turns: [0], place: [{ kind: 'edge', edge: 'left', within: 0 }] }
    const p = problemOf(robot({ leastTipAngle: 8 }, { items: [edge] }))
    const { result } = ruled(p, {})
    if (result.status !== 'infeasible') throw new Error(result.status)
    expect(result.conflict.map((c) => c.rule).sort()).toEqual(['R10', 'R10', 'tip-over'])
    const lazy = limitsOf(p)
    const { loosenings: found } = loosenings(p, result.conflict, { lazy })
    const within = found.find((l) => l.changes[0]?.kind === 'within')!
    for (const l of found) {
      const loose = applyChanges({ problem: p, pins: [] }, l.changes).problem
      expect(check(loose, l.placements)).toEqual([])
      expect(balanceOf(loose, l.placements)?.worstTip ?? 90).toBeGreaterThanOrEqual(8)
    }
    // one millimetre less is too little: that is the far edge at which the block tips the robot
    expect(within.least).toBe(true)
    const [change] = within.changes
    const to = change?.kind === 'within' ? change.to : mm(0)
    expect(to).toBeGreaterThan(mm(1))
    const less = { ...edge, place: [{ kind: 'edge', edge: 'left', within: to / 1000 - 1 }] }
    expect(ruled(problemOf(robot({ leastTipAngle: 8 }, { items: [less] })), {}).result.status).toBe('infeasible')
    // without the limit the solver would call the first millimetre enough
    const blind = loosenings(p, result.conflict).loosenings.find((l) => l.changes[0]?.kind === 'within')
    expect(blind?.changes[0]).toMatchObject({ to: mm(1) })
  })

  it('that nothing can keep are a conflict', () => {
    const { result } = ruled(problemOf(robot({ leastTipAngle: 80 })), {})
    if (result.status !== 'infeasible') throw new Error(result.status)
    expect(result.conflict.map((c) => c.rule)).toContain('tip-over')
  })
})

describe('a hint that a limit of statics forbids', () => {
  // a demo's layout as it lies beside it: the robot does not stand, and near it nearly nothing does
  const read = readProject(readFileSync('demo-data/hedge-patrol.json'), 'hedge-patrol.json', loadLibrary())
  const laid = readLayout(readFileSync('demo-data/layouts/hedge-patrol.no-bench.layout.json'), 'no-bench.layout.json')
  if (!read.ok || !laid.ok) throw new Error('the demo cannot be read')
  const p = toProblem(read.value, 'no-bench', loadLibrary())
  const hint = placementsOf(p, laid.value).placements

  it.each([{}, { keep: true }])('is left where nothing near it will do (%o)', (how) => {
    expect(limitsOf(p).flatMap((rule) => rule.find(p, hint))).toHaveLength(1)
    const signal = { aborted: false }
    const onProgress = (said: Progress) => {
      if (said.placements) signal.aborted = true
    }
    const { result } = ruled(p, {}, { hint, ...how, steps: 15_000, signal, onProgress })
    if (!('placements' in result)) throw new Error(result.status)
    expect(limitsOf(p).flatMap((rule) => rule.find(p, result.placements))).toEqual([])
  })
})
