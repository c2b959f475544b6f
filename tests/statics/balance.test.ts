/** Balance of whole layouts, by hand, and the limits as rules: what they refuse is found otherwise, and their causes are causes. */
import { describe, expect, it } from 'vitest'
import { check, figures as measured, mm, type Placement, type Problem, solve } from '../../solver/index.ts'
import { balanceOf } from '../../src/statics/balance.ts'
import { figures } from '../../src/statics/figures.ts'
import { staticsRules, TIP_OVER, TRACK_LOAD } from '../../src/statics/rules.ts'
import fc from '../seeded.ts'
import { box, placed, problemOf } from './kit.ts'

const robot = (settings: Record<string, unknown> = {}, items: Record<string, unknown>[] = []): Problem =>
  problemOf({
    settings: { grid: 10, ...settings },
    decks: [
      { id: 'low', z: 50, thickness: 4, outline: { rect: [0, 0, 160, 120] } },
      { id: 'high', z: 140, thickness: 4, outline: { rect: [30, 20, 100, 80] } },
    ],
    chassis: {
      contact: [
        [-20, 0],
        [180, 0],
        [180, 120],
        [-20, 120],
      ],
      mass: 600,
      centre: [80, 60, 30],
    },
    footprints: [
      box('brick', 40, 20, 20, { mass: 300 }),
      box('slab', 60, 60, 10, { mass: 200 }),
      box('mast', 20, 20, 100, { mass: 100 }),
    ],
    items:
      items.length > 0
        ? items
        : [
            { id: 'pack', footprint: 'brick' },
            { id: 'brain', footprint: 'slab', stack: 40, stackMass: [0, 150] },
            { id: 'arm', footprint: 'mast', later: true, laterMass: 180, laterReach: 60 },
          ],
    objective: ['balance'],
  })

describe('the balance of a layout', () => {
  const p = robot()
  const at = placed(p, { pack: ['low', 0, 0], brain: ['high', 50, 30], arm: ['low', 140, 100] })
  const b = balanceOf(p, at)!

  it('adds up chassis, items, stacks and later items by hand', () => {
    const [light, heavy, later, all] = b.loadings
    // chassis 600 (80,60,30), pack 300 (20,10,60), brain 200 (80,60,145): worked by hand
    expect(light!.gravity.mass).toBe(1100)
    expect(light!.gravity.centre.x).toBeCloseTo((600 * 80 + 300 * 20 + 200 * 80) / 1100, 9)
    expect(light!.gravity.centre.y).toBeCloseTo((600 * 60 + 300 * 10 + 200 * 60) / 1100, 9)
    expect(light!.gravity.centre.z).toBeCloseTo((600 * 30 + 300 * 60 + 200 * 145) / 1100, 9)
    // the stack of 40 stands on 150: 170
    expect(heavy!.gravity.mass).toBe(1250)
    expect(heavy!.gravity.centre.z).toBeCloseTo((600 * 30 + 300 * 60 + 200 * 145 + 150 * 170) / 1250, 9)
    // the arm: 180 at (150,110,100), 60 out
    expect(later!.gravity.mass).toBe(1280)
    expect(later!.gravity.spread).toBeCloseTo((180 * 60) / 1280, 9)
    expect(b.reaching).toEqual(['arm'])
    expect(balanceOf(p, at.slice(0, 2))!.reaching).toEqual([])
    expect(all!.gravity.mass).toBe(1430)
  })

  it('stacks a later item at its lightest and at its heaviest, once it is there', () => {
    const q = robot({}, [
      { id: 'arm', footprint: 'mast', later: true, laterMass: 100, stack: 40, stackMass: [50, 700] },
    ])
    const loaded = balanceOf(q, placed(q, { arm: ['low', 140, 100] }))!
    // chassis 600, the arm 100, on it 50 to 700 g
    expect(loaded.loadings.map((l) => l.gravity.mass)).toEqual([600, 600, 750, 1400])
  })

  it('agrees with the objective that the solver measures', () => {
    const { x, y } = b.loadings[0]!.gravity.centre
    expect(Math.hypot(x - 80, y - 60)).toBeCloseTo(measured(p, at).balance! / 1000, 6)
  })

  it('has angles, tracks and no findings without limits', () => {
    const g = b.loadings[0]!.gravity.centre
    expect(b.loadings[0]!.tip.back).toBeCloseTo((Math.atan(g.y / g.z) * 180) / Math.PI, 9)
    expect(b.loadings[0]!.tracks.right).toBeCloseTo((g.x + 20) / 200, 9)
    expect(b.worstTip).toBeLessThanOrEqual(Math.min(...b.loadings.map((l) => l.worst.angle)) + 1e-9)
    expect(b.findings).toEqual([])
  })

  it('reads on the side of its limits on which it is, however near, in findings and in figures', () => {
    // The mass alone: 39.96 mm from the right edge, 69.297 mm up: atan(39.96 / 69.297) = 29.9698°, and 60.04 of 100 mm: 60.04 %.
    const near = (x: number): Problem => ({
      ...problemOf({
        settings: { leastTipAngle: 30, mostTrackShare: 0.6 },
        decks: [{ id: 'd', z: 50, thickness: 3, outline: { rect: [0, 0, 100, 100] } }],
        items: [],
        chassis: {
          contact: [
            [0, 0],
            [100, 0],
            [100, 200],
            [0, 200],
          ],
          mass: 1000,
          centre: [x, 100, 69.297],
        },
      }),
    })
    const of = (x: number, slope = 0) => balanceOf(near(x), [], { slope, towards: { x: 1, y: 0 } })!
    expect(of(60.04, 29.97).findings.map((f) => f.text)).toEqual([
      'The robot tips on a slope of 29.96° at worst, and must stand on 30°.',
      "On the slope of 29.97° the robot tips: the vertical through its centre of gravity meets the ground 0.0003 mm outside the tracks' contact.",
      'The right track carries 60.04 % of the weight at worst, and may carry 60 %.',
    ])
    for (const rule of staticsRules(near(60.04)))
      expect(rule.find(near(60.04), []).map((f) => f.text)).toEqual([
        rule.name === TIP_OVER
          ? 'The robot tips on a slope of 29.96°, and must stand on 30°.'
          : 'The right track carries 60.04 % of the weight, and may carry 60 %.',
      ])
    const { loadings, asked, worstTip } = of(60.04)
    const { tracks, tip } = loadings[0]!
    expect(figures.shares(tracks, asked.mostTrackShare)).toEqual({ left: '39.96', right: '60.04' })
    expect(figures.tip(tip.right, asked.leastTipAngle)).toBe(figures.tip(worstTip, asked.leastTipAngle))
    // 1 kg: 9.80665 N, of which 3.9187 N and 5.8879 N
    expect(figures.forces({ left: tracks.leftForce, right: tracks.rightForce })).toEqual({ left: '3.9', right: '5.9' })
    expect(figures.forces({ left: 4.9, right: 4.9 })).toEqual({ left: '4.9', right: '4.9' })
    expect(figures.forces({ left: -0.00002, right: 8.49 })).toEqual({ left: '-0.0001', right: '8.5' })
    // at its limit it keeps it, and reads as it does; it tips still, at atan(40 / 69.297) = 29.995°
    const even = of(60)
    expect(even.findings.map((f) => f.kind)).toEqual(['tips-early'])
    expect(figures.share(even.worstShare.share, asked.mostTrackShare)).toBe('60')
    expect(figures.margin(-1e-12)).toBe('0')
  })

  it('says what tips on the slope asked for', () => {
    const steep = balanceOf(p, at, { slope: 60, towards: { x: 0, y: -1 } })!
    expect(steep.loadings[0]!.margin).toBeLessThan(0)
    expect(steep.findings.map((f) => f.text).join()).toMatch(/On the slope of 60° the robot tips/)
  })

  it('says what breaks the limits, with numbers', () => {
    const limited = robot({ leastTipAngle: 60, mostTrackShare: 0.51 })
    const said = balanceOf(limited, at)!.findings
    expect(said.map((f) => [f.topic, f.weight])).toEqual([
      ['tip', 'stops'],
      ['track', 'stops'],
    ])
    expect(said[0]!.text).toMatch(/tips on a slope of [\d.]+° at worst, and must stand on 60°/)
    expect(said[0]!.items).toContain('brain')
  })

  it('tells what later fields stand at an item that is not later, once for all copies, and of no later item', () => {
    const items = [
      { id: 'pack', footprint: 'brick', count: 2, laterMass: 100 },
      { id: 'brain', footprint: 'slab', laterMass: 1, laterReach: 5 },
      { id: 'arm', footprint: 'mast', later: true, laterMass: 180, laterReach: 60 },
    ]
    const q = robot({}, items)
    const told = balanceOf(q, placed(q, { 'pack#1': ['low', 0, 0], brain: ['high', 50, 30] }))!.findings
    expect(told.map((f) => [f.kind, f.items])).toEqual([
      ['later-unused', ['pack#1']],
      ['later-unused', ['brain']],
    ])
    expect(told[1]!.text).toContain('brain says laterMass and laterReach')
  })

  it('is nothing without a chassis', () => {
    const { chassis: _, ...bare } = robot()
    expect(balanceOf(bare, at)).toBeUndefined()
    expect(staticsRules({ ...bare, leastTipAngle: 20 })).toEqual([])
  })
})

const items = [
  { id: 'a', footprint: 'brick', turns: [0] },
  { id: 'b', footprint: 'slab', turns: [0], stack: 30, stackMass: [0, 200] },
  { id: 'c', footprint: 'mast', turns: [0], required: false },
]

/** Any placements, legal or not: statics speaks of all. */
const anywhere = (p: Problem) =>
  fc
    .tuple(
      ...p.items.map((i) =>
        fc.tuple(fc.nat(p.decks.length - 1), fc.nat(12), fc.nat(8), fc.boolean()).map((v) => [i, v] as const),
      ),
    )
    .map((all): Placement[] =>
      all.flatMap(([item, [deck, x, y, there]], index): Placement[] => {
        if (!there && !item.required) return []
        const box = p.decks[deck]!.outline as { x: number; y: number; w: number; h: number }
        const f = item.footprint
        const sx = Math.min(x * 10_000, box.w - f.width)
        const sy = Math.min(y * 10_000, box.h - f.depth)
        return [{ item: index, deck, at: { x: (box.x + sx) as never, y: (box.y + sy) as never }, turn: 0 }]
      }),
    )

describe('limits as rules', () => {
  it('find what the figures find, and nothing else', () => {
    for (const [settings, name] of [
      [{ leastTipAngle: 38 }, TIP_OVER],
      [{ mostTrackShare: 0.58 }, TRACK_LOAD],
    ] as const) {
      const p = robot(settings, items)
      const [rule] = staticsRules(p)
      expect(rule!.name).toBe(name)
      const seen = { yes: 0, no: 0 }
      fc.assert(
        fc.property(anywhere(p), (at) => {
          const b = balanceOf(p, at)!
          const bad = name === TIP_OVER ? b.worstTip < 38 - 1e-9 : b.worstShare.share > 0.58 + 1e-9
          expect(rule!.find(p, at).length > 0).toBe(bad)
          seen[bad ? 'yes' : 'no']++
        }),
        { numRuns: 300 },
      )
      expect(Math.min(seen.yes, seen.no)).toBeGreaterThan(10)
    }
  })

  it('names causes that stay causes, wherever the other items go, and these themselves within their bounds', () => {
    for (const settings of [{ leastTipAngle: 42 }, { mostTrackShare: 0.53 }]) {
      const p = robot(settings, items)
      const [rule] = staticsRules(p)
      let short = 0
      let moved = 0
      fc.assert(
        fc.property(anywhere(p), anywhere(p), (at, other) => {
          const [finding] = rule!.find(p, at)
          if (!finding) return
          if (finding.placements.length < p.items.length) short++
          const named = new Set(finding.placements)
          const mixed = [...at.filter((q) => named.has(q.item)), ...other.filter((q) => !named.has(q.item))]
          expect(rule!.find(p, mixed).length).toBeGreaterThan(0)
          const shifted = mixed.map((q): Placement => {
            const bounds = finding.within?.get(q.item)
            const there = other.find((o) => o.item === q.item && o.deck === q.deck)
            if (!named.has(q.item) || !bounds || !there) return q
            const between = (v: number, [lo, hi]: readonly [number, number]) => Math.min(hi, Math.max(lo, v)) as never
            return { ...q, at: { x: between(there.at.x, bounds.x), y: between(there.at.y, bounds.y) } }
          })
          if (shifted.some((q, i) => q.at.x !== mixed[i]!.at.x)) moved++
          expect(rule!.find(p, shifted).length).toBeGreaterThan(0)
        }),
        { numRuns: 400 },
      )
      expect(short).toBeGreaterThan(0)
      expect(moved).toBeGreaterThan(20)
    }
  })

  it('make the solve look on: its answer is the shortest of all layouts that hold the limit, tried one by one', () => {
    const p: Problem = {
      ...robot({ grid: 20, leastTipAngle: 46 }, items.slice(0, 2)),
      objective: ['wire-length'],
      exits: [{ id: 'x', deck: 0, at: { x: mm(0), y: mm(0) } }],
      wires: [0, 1].map((i) => ({
        id: `w${i}`,
        from: { kind: 'exit' as const, exit: 0 },
        to: { kind: 'item' as const, ref: { name: 'a', items: [i] }, terminal: 't', at: { x: mm(0), y: mm(0) } },
        loop: mm(0),
        conductors: 1,
      })),
      passes: [{ id: 'up', decks: [0, 1], at: { x: mm(40), y: mm(40) } }],
    }
    const each = [0, 1].map((item) =>
      p.decks.flatMap((_, deck) =>
        [...Array(9).keys()].flatMap((x) =>
          [...Array(7).keys()].map((y): Placement => ({ item, deck, at: { x: mm(x * 20), y: mm(y * 20) }, turn: 0 })),
        ),
      ),
    )
    const alone = each.map((list) =>
      list.filter((q) => check(p, [q]).every((f) => f.rule === 'R10' && f.items[0] !== p.items[q.item]!.id)),
    )
    let free = Number.POSITIVE_INFINITY
    let best = Number.POSITIVE_INFINITY
    for (const a of alone[0]!) {
      for (const b of alone[1]!) {
        const at = [a, b]
        const { wireLength } = measured(p, at)
        if (wireLength >= best || check(p, at).length > 0) continue
        free = Math.min(free, wireLength)
        if (balanceOf(p, at)!.worstTip >= 46) best = wireLength
      }
    }
    expect(best).toBeGreaterThan(free)
    const r = solve(p, { lazy: staticsRules(p) })
    if (r.status !== 'optimal') throw new Error(r.status)
    expect(r.figures.wireLength).toBe(best)
    expect(balanceOf(p, r.placements)!.worstTip).toBeGreaterThanOrEqual(46)
  })

  it('say that it cannot be', () => {
    const p = robot({ leastTipAngle: 80 }, items.slice(0, 2))
    const r = solve(p, { lazy: staticsRules(p) })
    if (r.status !== 'infeasible') throw new Error(r.status)
    expect(r.conflict.find((m) => m.rule === TIP_OVER)!.text).toBe(
      'the robot must stand on a slope of 80°, whichever way it goes down',
    )
  })

  it('say that no place will do where what comes later reaches too far to either side', () => {
    // 500 g in the chassis and the arm's 250: a reach of 100 moves the weight by 33, and 200 · (0.6 − 0.5) is 20
    const arm = { id: 'arm', footprint: 'mast', later: true, laterMass: 250, laterReach: 100 }
    const p = robot({ mostTrackShare: 0.6 }, [arm])
    const light = { ...p, chassis: { ...p.chassis!, mass: 500 } }
    const r = solve(light, { lazy: staticsRules(light), steps: 200 })
    if (r.status !== 'infeasible') throw new Error(r.status)
    expect(r.conflict).toEqual([
      { rule: TRACK_LOAD, items: [], text: 'each track must carry at most 60 % of the weight' },
    ])
    // a share of 0.5 + 33.3 / 200 is just enough, with the weight in the middle
    const wide = { ...light, mostTrackShare: 0.67 }
    const found = solve(wide, { lazy: staticsRules(wide), steps: 2000 })
    expect('placements' in found, found.status).toBe(true)
  })

  it('are kept, or shown to be beyond all layouts, soon where many parts are heavy and the grid is fine', () => {
    const many = Array.from({ length: 6 }, (_, i) => ({ id: `m${i}`, footprint: `m${i}`, turns: [0] }))
    const asked = (settings: Record<string, unknown>) =>
      problemOf({
        settings: { grid: 1, ...settings },
        decks: [{ id: 'low', z: 100, thickness: 3, outline: { rect: [0, 0, 200, 60] } }],
        chassis: {
          contact: [
            [50, -70],
            [150, -70],
            [150, 130],
            [50, 130],
          ],
          mass: 10,
          centre: [100, 30, 20],
        },
        footprints: many.map((m, i) => box(m.footprint, 20 + i, 10, 5, { mass: 100 + i * 10 })),
        items: many,
        objective: ['balance'],
      })
    for (const [settings, fits] of [
      [{ leastTipAngle: 25 }, true],
      [{ mostTrackShare: 0.51 }, true],
      // 50 mm to either side: atan(50 / 102) is under 30°
      [{ leastTipAngle: 30 }, false],
    ] as const) {
      const p = asked(settings)
      // by steps, so that a slow machine sees the same; where causes were single places, seconds were not enough
      const r = solve(p, { lazy: staticsRules(p), steps: 3000 })
      expect('placements' in r, r.status).toBe(fits)
      if (!fits) expect(r.status).toBe('infeasible')
    }
  })
})
