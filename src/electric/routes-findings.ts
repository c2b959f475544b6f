/** What is wrong or tight in how leads run, and which run together. */
import { calledIn, type Layout, layoutOf, type Placement, type Problem, type Um, um } from '../../solver/index.ts'
import { type Route, type Routed, routesIn } from './routes.ts'
import { crosses } from './routes-graph.ts'
import { type Obstacle, obstaclesOf } from './routes-obstacles.ts'
import { tooShort } from './routes-rule.ts'
import { extraOf, limitOf, type Wiring } from './routes-settings.ts'
import { unique, type WireFinding } from './wire-finding.ts'
import { leads as words } from './words.ts'

export interface Bundle {
  /** Wire ids. */
  readonly wires: readonly string[]
  /** Index of the deck. */
  readonly deck: number
  /** The stretch that they all share, Um. */
  readonly together: Um
}

export interface RoutesSeen extends Routed {
  readonly bundles: readonly Bundle[]
  readonly findings: readonly WireFinding[]
}

/** Of one layout, legal or not: lengths of routes and bundles in Um, without the extra that `wiring` adds at ends. */
export function inspectRoutes(problem: Problem, placements: readonly Placement[], wiring: Wiring): RoutesSeen {
  const layout = layoutOf(problem, placements)
  const obstacles = obstaclesOf(layout, wiring)
  const routed = routesIn(layout, obstacles)
  return {
    ...routed,
    bundles: bundlesOf(problem, routed.routes, wiring),
    findings: findingsOf(layout, obstacles, wiring, routed),
  }
}

function findingsOf(layout: Layout, obstacles: readonly Obstacle[], wiring: Wiring, routed: Routed): WireFinding[] {
  const { problem } = layout
  const lengths = new Map(routed.routes.map((r) => [r.wire, r.length]))
  const short = problem.wires.flatMap((wire, index): WireFinding[] => {
    if ((lengths.get(index) ?? Number.POSITIVE_INFINITY) + extraOf(wiring, wire) <= limitOf(problem.exits, wire))
      return []
    const f = tooShort(layout, obstacles, wire, wiring, !lengths.has(index))
    if (!f) return []
    const items = [wire.id, ...f.placements.map((i) => problem.items[i]!.id)]
    return [{ kind: 'lead-too-short', topic: 'route', weight: 'stops', items, text: f.text }]
  })
  const told = new Set(short.map((f) => f.items[0]))
  const blocked = routed.blocked.flatMap(({ wire, walls }): WireFinding[] => {
    const { id } = problem.wires[wire]!
    if (told.has(id)) return []
    const by = unique(walls.map((o) => o.name))
    const text =
      by.length === 0
        ? words.noPass(id)
        : words.noWay(
            id,
            by.map((b) => calledIn(problem, b)),
          )
    return [{ kind: 'lead-shut-in', topic: 'route', weight: 'worth-knowing', items: [id, ...by], text }]
  })
  return [
    ...short,
    ...blocked,
    ...routed.routes.flatMap((r) => strain(problem, obstacles, r, wiring)),
    ...beside(problem, routed.routes, wiring),
  ]
}

/**
 * Ends of leads beside a moving track, which draws in what is loose (common practice, no source): exits, whose leads hang under
 * the plate as well, and any end where the track comes up to the plate. Between its ends a lead keeps clear (routes-obstacles.ts).
 */
function beside(problem: Problem, routes: readonly Route[], wiring: Wiring): WireFinding[] {
  const told = new Set<string>()
  return routes.flatMap((r) =>
    [r.from, r.to].flatMap((end) =>
      wiring.moving.flatMap(({ id, box, top }): WireFinding[] => {
        if (end.exit === undefined && top <= problem.decks[end.deck]!.z) return []
        const { x, y } = end.at
        const gap = Math.hypot(Math.max(0, box.x - x, x - box.x - box.w), Math.max(0, box.y - y, y - box.y - box.h))
        const name = end.exit === undefined ? problem.items[end.item!]!.id : problem.exits[end.exit]!.id
        if (gap >= wiring.tracks || told.has(`${name} ${id}`)) return []
        told.add(`${name} ${id}`)
        const lead = problem.wires[r.wire]!.id
        const text = words.byTrack(lead, gap, id, name, wiring.tracks)
        return [{ kind: 'exit-by-track', topic: 'strain', weight: 'worth-knowing', items: [lead, name], text }]
      }),
    ),
  )
}

/**
 * A lead that has to bend at once where it comes through the deck works loose, or is cut by the edge (common practice, no
 * source). Told where its way does so and no other side of the exit has room for a straight piece either.
 */
function strain(problem: Problem, obstacles: readonly Obstacle[], route: Route, wiring: Wiring): WireFinding[] {
  const { id } = problem.wires[route.wire]!
  const ends = [
    { end: route.from, other: route.to, spots: route.spots },
    { end: route.to, other: route.from, spots: [...route.spots].reverse() },
  ]
  return ends.flatMap(({ end, other, spots }): WireFinding[] => {
    const [a, b, c] = spots
    if (end.exit === undefined || !a || !b || !c || a.deck !== b.deck) return []
    const leg = Math.abs(a.x - b.x) + Math.abs(a.y - b.y)
    const own = obstacles.filter((o) => o.deck === a.deck && (o.item === undefined || o.item !== other.item))
    const open = [
      [1, 0],
      [-1, 0],
      [0, 1],
      [0, -1],
    ].some(([x, y]) => {
      const far = { deck: a.deck, x: a.x + x! * wiring.straight, y: a.y + y! * wiring.straight }
      return !own.some((o) => o.boxes.some((box) => crosses(a, far, box)))
    })
    if (leg >= wiring.straight || open) return []
    const exit = problem.exits[end.exit]!.id
    const text = words.bend(id, leg, exit, wiring.straight)
    return [{ kind: 'sharp-bend', topic: 'strain', weight: 'worth-knowing', items: [id, exit], text }]
  })
}

/** Two leads share a stretch from here on. */
const SHARED = 10_000

function bundlesOf(problem: Problem, routes: readonly Route[], wiring: Wiring): Bundle[] {
  const pieces = routes.flatMap((r) =>
    r.spots.slice(1).flatMap((b, i) => {
      const a = r.spots[i]!
      if (a.deck !== b.deck) return []
      const upright = a.x === b.x
      const [lo, hi] = upright ? [Math.min(a.y, b.y), Math.max(a.y, b.y)] : [Math.min(a.x, b.x), Math.max(a.x, b.x)]
      return [{ wire: r.wire, deck: a.deck, upright, at: upright ? a.x : a.y, lo, hi }]
    }),
  )
  // Who runs together at one place: pieces that go on from where one of them begins, in a band as wide as a bundle.
  const found = pieces.flatMap((from) => {
    const over = pieces.filter(
      (p) => p.deck === from.deck && p.upright === from.upright && p.lo <= from.lo && p.hi >= from.lo + SHARED,
    )
    return over.flatMap((edge) => {
      const band = over.filter((p) => p.at >= edge.at && p.at <= edge.at + wiring.bundle)
      const wires = unique(band.map((p) => p.wire)).sort((x, y) => x - y)
      if (wires.length < 2 || !wires.includes(from.wire)) return []
      return [{ wires, deck: from.deck, together: Math.min(...band.map((p) => p.hi)) - from.lo }]
    })
  })
  // The longest stretch of each set, and no set that is part of another.
  const longest = new Map<string, (typeof found)[number]>()
  for (const b of found) {
    const key = `${b.deck} ${b.wires.join()}`
    if (b.together > (longest.get(key)?.together ?? 0)) longest.set(key, b)
  }
  const all = [...longest.values()]
  return all
    .filter((b) => !all.some((c) => c !== b && c.deck === b.deck && b.wires.every((w) => c.wires.includes(w))))
    .map((b) => ({ wires: b.wires.map((w) => problem.wires[w]!.id), deck: b.deck, together: um(b.together) }))
}
