/** What the page draws, against what the checker measures by itself. */
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { figures, layoutOf, mm, type Placement, type Problem, solve, um } from '../../solver/index.ts'
import { wireRoutes } from '../../src/model/index.ts'
import { pathOf, placedAt } from '../../src/plan/paths.ts'
import { sizeOf, snap } from '../../src/store/moves.ts'
import { boxOf } from '../../src/store/outline.ts'
import { asSpelt, because, inMm, plainly, verdict, whereabouts, within } from '../../src/store/sentences.ts'
import { splitTiePoints } from '../../src/store/tie-points.ts'
import { files } from './store-sample.ts'

const demos = join(import.meta.dirname, '../../demo-data')
const opened = readdirSync(demos)
  .filter((name) => name.endsWith('.json'))
  .flatMap((name) => {
    const read = files.open(readFileSync(join(demos, name), 'utf8'), name)
    return read.kind === 'opened' ? read.doc.sheets.map((sheet) => ({ name, problem: sheet.problem })) : []
  })

/** A layout of each demo's variant, as good as a moment allows. */
const layouts = opened.flatMap(
  ({ name, problem }): { name: string; problem: Problem; placements: readonly Placement[] }[] => {
    const result = solve(problem, { time: 700 })
    return 'placements' in result ? [{ name, problem, placements: result.placements }] : []
  },
)

describe('the picture of a layout', () => {
  it('is tried on several demos', () => {
    expect(layouts.length).toBeGreaterThanOrEqual(3)
  })

  it('has as many free contacts as the checker counts', () => {
    for (const { problem, placements } of layouts) {
      const free = placements.reduce((sum, p) => sum + splitTiePoints(problem, placements, p).free.length, 0)
      expect(free).toBe(figures(problem, placements).freeTiePoints)
    }
  })

  it('draws each wire as long as the checker measures it, in rectilinear strokes', () => {
    let wires = 0
    for (const { problem, placements } of layouts) {
      const measured = new Map(figures(problem, placements).wires.map((w) => [w.wire, w.length]))
      const routes = wireRoutes(layoutOf(problem, placements))
      expect(routes.map((r) => r.wire)).toEqual([...measured.keys()])
      for (const route of routes) {
        let length = 0
        let rise = 0
        route.strokes.forEach((stroke, i) => {
          const before = route.strokes[i - 1]
          if (before) rise += Math.abs(problem.decks[stroke.deck]!.z - problem.decks[before.deck]!.z)
          for (let k = 0; k + 1 < stroke.points.length; k++) {
            const { x: ax, y: ay } = stroke.points[k]!
            const { x: bx, y: by } = stroke.points[k + 1]!
            expect(ax === bx || ay === by).toBe(true)
            length += Math.abs(ax - bx) + Math.abs(ay - by)
          }
        })
        expect(length + rise).toBe(measured.get(route.wire))
        wires++
      }
    }
    expect(wires).toBeGreaterThan(10)
  })
})

describe('shapes', () => {
  it('have the bounding boxes that follow from the circle', () => {
    const half = { kind: 'sector', cx: mm(0), cy: mm(0), r: mm(10), from: 0, to: 180 } as const
    expect(boxOf(half)).toMatchObject({ x: -10_000, w: 20_000 })
    expect(boxOf(half).y).toBeCloseTo(0, 6)
    expect(boxOf(half).h).toBeCloseTo(10_000, 6)
    // A bulge of 1 is a half circle (tan(180°/4) = 1), to the right of the way from bottom to top.
    const lens = {
      kind: 'polygon',
      points: [
        { x: mm(0), y: mm(0), bulge: 1 },
        { x: mm(0), y: mm(20), bulge: 0 },
      ],
    } as const
    expect(boxOf(lens).x + boxOf(lens).w).toBeCloseTo(10_000, 6)
    expect(boxOf(lens).x).toBeCloseTo(0, 6)
  })

  it('become closed SVG paths in millimetres', () => {
    expect(pathOf({ kind: 'rect', x: mm(1), y: mm(2), w: mm(30), h: mm(4), radius: mm(0) })).toBe('M1 2h30v4h-30z')
    expect(pathOf({ kind: 'circle', cx: mm(5), cy: mm(5), r: mm(2) })).toBe('M3 5a2 2 0 0 1 4 0a2 2 0 0 1 -4 0z')
    expect(pathOf({ kind: 'sector', cx: mm(0), cy: mm(0), r: mm(1), from: 0, to: 270 })).toBe(
      'M0 0L1 0A1 1 0 1 1 0 -1z',
    )
  })

  it('are turned as contract §1 says: (u,v), (d−v,u), (w−u,d−v), (v,w−u)', () => {
    const matrices = ['1 0 0 1 0 0', '0 1 -1 0 10 0', '-1 0 0 -1 20 10', '0 -1 1 0 0 20']
    matrices.forEach((m, turn) => {
      expect(placedAt({ x: 3000, y: 4000 }, turn as 0 | 1 | 2 | 3, 20_000, 10_000)).toBe(`translate(3 4) matrix(${m})`)
    })
  })
})

describe('places that a hand finds', () => {
  const problem = layouts.find((l) => l.problem.items.some((i) => i.place.some((p) => p.kind === 'centred')))!.problem
  const item = problem.items.findIndex((i) => i.place.some((p) => p.kind === 'centred' && p.axis === 'x'))

  it('are whole multiples of the grid, but for an axis that the project fixes', () => {
    const free = problem.items.findIndex((i) => i.place.length === 0 && i.footprint.mount.kind !== 'plug-in')
    const there = snap(problem, [], { item: free, deck: 0, at: { x: um(20_400), y: um(31_600) }, turn: 0 })
    expect(there.at).toEqual({ x: 20_000, y: 32_000 })
    const box = boxOf(problem.decks[0]!.outline)
    const middle = box.x + (box.w - problem.items[item]!.footprint.width) / 2
    const near = snap(problem, [], { item, deck: 0, at: { x: um(Math.round(middle) + 300), y: um(0) }, turn: 0 })
    expect(Math.abs(near.at.x - middle)).toBeLessThanOrEqual(0.5)
  })

  it('no farther off the deck than that they touch it, so that they can be taken in hand again', () => {
    const item = problem.items.findIndex((i) => i.place.length === 0 && !i.footprint.plug)
    const size = sizeOf(problem.items[item]!, 0)
    const { w, h } = boxOf(problem.decks[0]!.outline)
    const far = (x: number, y: number) => snap(problem, [], { item, deck: 0, at: { x: mm(x), y: mm(y) }, turn: 0 }).at
    expect(far(500, -330)).toEqual({ x: w, y: -size.h })
    expect(far(-500, 330)).toEqual({ x: -size.w, y: h })
  })
})

describe('sentences', () => {
  const { problem } = layouts[0]!

  it('say millimetres with two decimals at most, and whereabouts from left and back', () => {
    expect([inMm(12_345), inMm(12_000), inMm(-500)]).toEqual(['12.35', '12', '-0.5'])
    expect(whereabouts(problem, undefined)).toBe('not placed')
    const one = { item: 0, deck: 0, at: { x: mm(5), y: mm(7.5) }, turn: 1 } as const
    expect(whereabouts(problem, one)).toMatch(/5 mm from the left, 7.5 mm from the back, turned a quarter to the left$/)
  })

  it('hold neither rule numbers nor status words', () => {
    expect(plainly(problem, 'R5: a is 2 mm short')).toBe('A is 2 mm short.')
    expect(plainly(problem, 'damp and lamp overlap by 1 mm on main deck')).toBe(
      'Damp and lamp overlap by 1 mm on main deck.',
    )
    // nor the sign between name and number, which is for files
    const [item] = problem.items
    const named = { ...problem, items: ['breadboard-170', 'größe'].map((base) => ({ ...item!, base })) }
    expect(plainly(named, 'breadboard-170#1 and größe#12 must stand apart.')).toBe(
      'Breadboard-170 1 and größe 12 must stand apart.',
    )
    const conflict = ['damp must be placed', 'damp must lie wholly on deck base'].map((t) => ({
      rule: 'R1',
      items: ['damp'],
      text: t,
    }))
    expect(verdict(problem, { status: 'infeasible', conflict, conflictIrreducible: true })).toContain(
      'damp must lie wholly on deck base; and damp must be placed.',
    )
    // parts may be called as rules are, and as others but for a capital letter
    const alike = { ...problem, items: ['R2', 'board', 'Board'].map((id) => ({ ...item!, id, base: id })) }
    expect(plainly(alike, 'R2 must be placed')).toBe('R2 must be placed.')
    expect(['R2', 'board', 'Board'].map((id) => asSpelt(alike, `${id} must be placed`))).toEqual([
      'R2 must be placed.',
      'board must be placed.',
      'Board must be placed.',
    ])
    expect(within(problem, 'The deck is full.')).toBe('the deck is full.')
    expect(because(['a is wide.', 'b is long.'])).toBe('a is wide; and b is long.')
    const objective = { name: 'free-tie-points', value: 858, bound: 870, proven: false } as const
    const base = {
      placements: [],
      figures: { freeTiePoints: 858, optionalValue: 0, newHoles: 0, wireLength: 0, wires: [] },
    }
    const texts = [
      verdict(problem, { status: 'optimal', objectives: [], ...base }),
      verdict(problem, { status: 'feasible', objectives: [objective], ...base }),
      verdict(problem, {
        status: 'feasible',
        objectives: [
          { ...objective, bound: 858, proven: true },
          { name: 'wire-length', value: 412_500, bound: 398_250, proven: false },
        ],
        ...base,
      }),
      verdict(problem, {
        status: 'infeasible',
        conflict: [{ rule: 'R2', items: [], text: 'They overlap.' }],
        conflictIrreducible: true,
      }),
      verdict(problem, {
        status: 'feasible',
        objectives: [
          { ...objective, bound: 858, proven: true },
          { name: 'wire-length', value: 412_500, bound: 398_246, proven: false },
        ],
        ...base,
      }),
      verdict(problem, { status: 'unknown' }),
    ]
    expect(texts).toEqual([
      'Best possible.',
      'At most 12 contacts short of the best.',
      'Most contacts possible; wires at most 14.3 mm over the shortest.',
      'Cannot fit, because they overlap.',
      'Most contacts possible; wires at most 14.3 mm over the shortest.',
      'No layout yet: the time ran out before one was found.',
    ])
    expect(texts.join(' ')).not.toMatch(/\bR\d|optimal|feasible|unknown/)
  })
})
