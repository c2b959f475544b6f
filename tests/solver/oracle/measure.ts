/** The oracle's own figures of a layout (contract §5), as costs: each is to be made least, in the problem's order. */
import type { ObjectiveName, Problem } from '../../../solver/problem.ts'
import { type Layout, seatIn, wireLength } from './rules.ts'
import { tiesOf } from './stand.ts'

/** Objectives that count: `balance` is left out without a chassis. */
export const objectivesOf = (p: Problem): ObjectiveName[] =>
  p.objective.filter((o) => o !== 'balance' || p.chassis !== undefined)

/** Area centroid of a simple polygon, µm. */
export function centroid(points: readonly { readonly x: number; readonly y: number }[]): [number, number] {
  let a = 0
  let cx = 0
  let cy = 0
  points.forEach((p, i) => {
    const q = points[(i + 1) % points.length]!
    const cross = p.x * q.y - q.x * p.y
    a += cross
    cx += (p.x + q.x) * cross
    cy += (p.y + q.y) * cross
  })
  return [cx / (3 * a), cy / (3 * a)]
}

function freeTies(p: Problem, layout: Layout): number {
  let free = 0
  layout.forEach((s, i) => {
    if (s) free += tiesOf(p.items[i]!).length
  })
  const covered = new Set<string>()
  for (const s of layout) {
    if (s?.host === undefined) continue
    for (const k of seatIn(p, layout, s)?.covered ?? []) covered.add(`${s.host}|${k}`)
  }
  return free - covered.size
}

function balance(p: Problem, layout: Layout): number {
  const c = p.chassis!
  let m = c.mass
  let x = c.mass * c.centre.x
  let y = c.mass * c.centre.y
  layout.forEach((s, i) => {
    const item = p.items[i]!
    if (!s || item.later) return
    m += item.footprint.mass
    x += item.footprint.mass * (s.box.x + s.box.w / 2)
    y += item.footprint.mass * (s.box.y + s.box.h / 2)
  })
  const [gx, gy] = centroid(c.contact)
  return m === 0 ? 0 : Math.hypot(x / m - gx, y / m - gy)
}

export function cost(p: Problem, layout: Layout, o: ObjectiveName): number {
  switch (o) {
    case 'free-tie-points':
      return -freeTies(p, layout)
    case 'optional-value':
      return -layout.reduce((s, l, i) => s + (l && !p.items[i]!.required ? p.items[i]!.value : 0), 0)
    case 'new-holes':
      return layout.reduce(
        (n, l, i) => (l && !p.items[i]!.later ? n + [...l.holes, ...l.cuts].filter((h) => !h.reused).length : n),
        0,
      )
    case 'wire-length':
      return p.wires.reduce((s, w, k) => s + (wireLength(p, layout, k) ?? 0) * w.conductors, 0)
    case 'balance':
      return balance(p, layout)
  }
}

export const costs = (p: Problem, layout: Layout): number[] => objectivesOf(p).map((o) => cost(p, layout, o))
