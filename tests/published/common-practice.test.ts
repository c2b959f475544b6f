/**
 * What builders of small robots know (common practice, no source for any of these), each on an invented deck, through the project file
 * and the public solve.
 */
import { describe, expect, it } from 'vitest'
import { type Problem, type SolveResult, solve } from '../../solver/index.ts'
import { boxOverlaps, circleRegion, sectorRegion } from '../solver/oracle/geometry.ts'
import { pointOf, stand, tiesOf } from '../solver/oracle/stand.ts'
import { problemOf } from './project.ts'

const file = (rest: object): string =>
  JSON.stringify({
    format: 'deckwright-project',
    version: 1,
    units: 'mm',
    name: 'invented',
    settings: { grid: 1 },
    ...rest,
  })
const deck = (w: number, h: number, more: object = {}): object => ({
  id: 'main',
  z: 50,
  thickness: 3,
  outline: { rect: [0, 0, w, h] },
  ...more,
})
const centred = [{ kind: 'centred', axis: 'x' }]

type Best = SolveResult & { status: 'optimal' }
function best(problem: Problem): Best {
  const result = solve(problem, { time: 25_000 })
  expect(result.status, problem.name).toBe('optimal')
  return result as Best
}
const points = (r: Best): number => r.objectives.find((o) => o.name === 'free-tie-points')!.value
const placedOf = (p: Problem, r: Best, base: string): number =>
  r.placements.filter((q) => p.items[q.item]!.base === base).length

/** A controller with four holes, and as many boards of 170 points as fit. */
const scout = (w: number, depth: number, place: object[]): string =>
  file({
    decks: [deck(w, depth)],
    items: [
      { id: 'brain', footprint: 'controller-four-hole', turns: [0, 2], place },
      { id: 'board', footprint: 'breadboard-170', count: 4, required: false, turns: [0, 1] },
    ],
    objective: ['free-tie-points'],
  })

describe('common practice, no source', () => {
  it('a controller mounted off to the side leaves room for three breadboards where a centred one leaves two', () => {
    const beside = problemOf(scout(115, 90, []))
    const middle = problemOf(scout(115, 90, centred))
    const [a, b] = [best(beside), best(middle)]
    expect([placedOf(beside, a, 'board'), points(a)]).toEqual([3, 510])
    expect([placedOf(middle, b, 'board'), points(b)]).toEqual([2, 340])
  })

  it('over deck widths from 100 to 220 mm a free controller never gives fewer contacts than one in the middle', () => {
    const more: number[] = []
    const rows: string[] = []
    for (let w = 100; w <= 220; w += 5) {
      const free = points(best(problemOf(scout(w, 90, []))))
      const held = points(best(problemOf(scout(w, 90, centred))))
      expect(free, `${w} mm`).toBeGreaterThanOrEqual(held)
      if (free > held) more.push(w)
      rows.push(`${w} mm: ${free} free, ${held} in the middle`)
    }
    console.log(
      `${rows.join('\n')}\nA free controller gives more contacts from ${more[0]} to ${more.at(-1)} mm (${more.length} of ${rows.length} widths).`,
    )
    expect(more.length).toBeGreaterThan(0)
    expect(more.length).toBeLessThan(rows.length)
  })

  it('shields may be stacked without limit, in the middle and beside', () => {
    // A bridge runs over the left edge; what stands under it has 20 mm.
    const bridge = { id: 'bridge', z: 73, thickness: 3, outline: { rect: [0, 0, 25, 90] } }
    const stacked = (stack: number, place: object[]): Problem =>
      problemOf(
        file({
          decks: [deck(130, 90), bridge],
          items: [
            { id: 'brain', footprint: 'controller-four-hole', turns: [0, 2], decks: ['main'], place, stack },
            { id: 'board', footprint: 'breadboard-170', count: 3, required: false, decks: ['main'] },
          ],
          objective: ['free-tie-points'],
        }),
      )
    for (const place of [centred, []]) {
      const bare = points(best(stacked(0, place)))
      for (const stack of [12, 60, 400, 5000]) {
        const p = stacked(stack, place)
        const r = best(p)
        expect(points(r), `${stack} mm of shields`).toBe(bare)
        const brain = r.placements.find((q) => p.items[q.item]!.id === 'brain')!
        const f = p.items[brain.item]!.footprint
        expect(f.above).toBe('open')
        // Nothing ever hangs over it: it stands clear of the bridge.
        expect(brain.at.x).toBeGreaterThanOrEqual(25_000)
      }
    }
  })

  it('a header’s pins lie on as many strips as there are pins', () => {
    for (const [board, parts] of [
      ['breadboard-170', ['header-1x4', 'header-1x8', 'header-2x2', 'header-2x4']],
      ['breadboard-400', ['header-1x6', 'header-1x12', 'header-2x7', 'driver-7-in-line', 'driver-2x6']],
    ] as const) {
      const items = parts.map((footprint, k) => ({ id: `h${k}`, footprint }))
      const p = problemOf(
        file({ decks: [deck(100, 70)], items: [{ id: 'board', footprint: board }, ...items], objective: [] }),
      )
      const r = best(p)
      expect(r.placements.length).toBe(items.length + 1)
      const stands = r.placements.map((q) => stand(p, { ...q, x: q.at.x, y: q.at.y }))
      for (const s of stands) {
        const plug = p.items[s.item]!.footprint.plug
        if (!plug) continue
        const host = stands.find((t) => t.item === s.host)!
        const strips = plug.pins.map((pin) => {
          const [x, y] = pointOf(p, s, pin.at.x, pin.at.y)
          return tiesOf(p.items[host.item]!).find((t) => {
            const [tx, ty] = pointOf(p, host, t.x, t.y)
            return Math.hypot(tx - x, ty - y) <= 10
          })?.strip
        })
        expect(strips).not.toContain(undefined)
        expect(new Set(strips).size, p.items[s.item]!.footprint.id).toBe(plug.pins.length)
      }
    }
  })

  it('a driver in front stays clear of the head', () => {
    const robot = (w: number): Problem =>
      problemOf(
        file({
          decks: [deck(w, 120)],
          items: [
            {
              id: 'head',
              footprint: 'head-micro-screwed',
              turns: [0],
              place: [{ kind: 'edge', edge: 'front', within: 4 }],
            },
            {
              id: 'board',
              footprint: 'breadboard-170',
              turns: [0, 1],
              place: [{ kind: 'edge', edge: 'front', within: 10 }],
            },
            {
              id: 'driver',
              footprint: 'driver-7-in-line',
              stack: 20,
              place: [
                { kind: 'host', item: 'board' },
                { kind: 'edge', edge: 'front', within: 8 },
              ],
            },
          ],
          objective: ['free-tie-points'],
        }),
      )
    const p = robot(130)
    const r = best(p)
    const stands = r.placements.map((q) => stand(p, { ...q, x: q.at.x, y: q.at.y }))
    const [head, driver] = ['head', 'driver'].map((id) => stands.find((s) => p.items[s.item]!.id === id)!)
    const { head: h } = p.items[head!.item]!.footprint
    const [x, y] = pointOf(p, head!, h!.pivot.x, h!.pivot.y)
    // Driver and stack are as tall as the moving parts, so that only the plan can keep them apart.
    expect(driver!.high).toBeGreaterThan(50_000 + h!.z[0])
    expect(boxOverlaps(sectorRegion(x, y, h!.reach, h!.pan[0] + 90, h!.pan[1] + 90), driver!.box)).toBe(false)
    expect(boxOverlaps(circleRegion(x, y, h!.tail), driver!.box)).toBe(false)
    // On a deck too narrow for both there is no such place, and that is proven.
    const narrow = solve(robot(74), { time: 5_000 })
    if (narrow.status !== 'infeasible') throw new Error(narrow.status)
    expect(narrow.conflict.some((m) => m.rule === 'R9')).toBe(true)
    // where a part on a board may be is ruled out by whole boxes: place by place shrinking this took over a minute
    expect(narrow.conflictIrreducible).toBe(true)
  })
})
