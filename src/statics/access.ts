/**
 * What must be in reach, or in sight, with nothing taken off: cells, program plug, reset, switches (corridors that say so by
 * `access`), and lights. A corridor is reached when no body, stack or plate above is in it, and a way leads to it: straight from
 * above, or at its own heights straight from one side. Of several corridors for one purpose, one will do. A light is seen when
 * some straight look reaches it, from above or slanted by 45° from one of eight sides. Heads are turned out of the way first.
 */
import {
  type Access,
  type Body,
  calledIn,
  corridorsOf,
  layoutOf,
  type Placement,
  type Problem,
  pointOn,
} from '../../solver/index.ts'
import { convexArea, coveredBy, type DeckPlan, deckPlans } from './above.ts'
import type { StaticsFinding } from './finding.ts'
import { type Obstacle, obstaclesOf } from './obstacles.ts'
import { type Interval, type Polygon, rectangle } from './plane.ts'
import { found } from './words.ts'

export interface Reach {
  readonly item: string
  readonly access: Access
  readonly reachable: boolean
  /** Where from; missing where it is out of reach. */
  readonly from?: Way
  /** Ids of what is in the way, where it is out of reach; `stacked` those of which only the stack is. */
  readonly by: readonly string[]
  readonly stacked: readonly string[]
}

export type Way = 'above' | 'front' | 'back' | 'left' | 'right'

export interface Sight {
  readonly item: string
  readonly light: string
  readonly seen: boolean
  /** Ids of what hides it; `stacked` those of which only the stack does. */
  readonly by: readonly string[]
  readonly stacked: readonly string[]
}

export interface AccessReport {
  readonly reach: readonly Reach[]
  readonly sight: readonly Sight[]
  readonly findings: readonly StaticsFinding[]
}

/** Of one layout, legal or not. A row for every purpose that a part has corridors for, and for every light; findings for those out of reach or hidden. */
export function accessReport(problem: Problem, placements: readonly Placement[]): AccessReport {
  const layout = layoutOf(problem, placements)
  const decks = deckPlans(problem)
  const things = obstaclesOf(layout).filter((o) => o.kind !== 'deck')
  const reach = layout.bodies.flatMap((b) => reachOf(things, decks, problem, b))
  const sight = layout.bodies.flatMap((b) => sightOf(things, decks, problem, b))
  return {
    reach,
    sight,
    findings: [...reach.flatMap((r) => reachFinding(problem, r)), ...sightFindings(problem, sight)],
  }
}

interface Room {
  readonly area: Polygon
  readonly z: Interval
}

const FAR = 1e5

/** The corridor itself, and the ways to it. */
function ways({ area, z }: Room): Record<Way, Room> {
  const xs = area.map((p) => p.x)
  const ys = area.map((p) => p.y)
  const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)]
  return {
    above: { area, z: [z[0], FAR] },
    front: { area: rectangle(x0, y1, x1, FAR), z },
    back: { area: rectangle(x0, -FAR, x1, y0), z },
    left: { area: rectangle(-FAR, y0, x0, y1), z },
    right: { area: rectangle(x1, y0, FAR, y1), z },
  }
}

interface InTheWay {
  readonly id: string
  readonly stack: boolean
}

function reachOf(things: readonly Obstacle[], decks: readonly DeckPlan[], problem: Problem, body: Body): Reach[] {
  const all = corridorsOf(body).filter((c) => c.corridor.access !== undefined)
  return [...new Set(all.map((c) => c.corridor.access!))].map((access): Reach => {
    const blocked: InTheWay[] = []
    for (const c of all.filter((k) => k.corridor.access === access)) {
      const room: Room = { area: convexArea(c.shape), z: [c.z[0] / 1000, c.z[1] / 1000] }
      const inRoom = (r: Room, own: boolean): InTheWay[] => [
        ...things
          .filter((o) => (own || o.index !== body.index || o.kind === 'stack') && meets(o, r))
          .map((o) => ({ id: o.id, stack: o.kind === 'stack' })),
        ...decks.flatMap((d, i) =>
          i !== body.deck && d.z[1] > decks[body.deck]!.z[1] && heights(d.z, r.z) && coveredBy(d, r.area)
            ? [{ id: problem.decks[i]!.id, stack: false }]
            : [],
        ),
      ]
      const inside = inRoom(room, false)
      if (inside.length > 0) {
        blocked.push(...inside)
        continue
      }
      for (const [from, way] of Object.entries(ways(room)) as [Way, Room][]) {
        const met = inRoom(way, from !== 'above')
        if (met.length === 0) return { item: body.item.id, access, reachable: true, from, by: [], stacked: [] }
        blocked.push(...met)
      }
    }
    const others = blocked.filter((b) => b.stack || b.id !== body.item.id)
    return { item: body.item.id, access, reachable: false, ...sorted(others) }
  })
}

const heights = (a: Interval, b: Interval): boolean => a[0] < b[1] - 1e-9 && b[0] < a[1] - 1e-9

const meets = (o: Obstacle, r: Room): boolean => heights(o.z, r.z) && coveredBy({ plan: o.plan, openings: [] }, r.area)

function reachFinding(problem: Problem, r: Reach): StaticsFinding[] {
  if (r.reachable) return []
  const text = found.outOfReach(r.access, r.item, namesOf(problem, r.by), r.stacked)
  const items = [...new Set([r.item, ...r.by, ...r.stacked])]
  return r.by.length > 0
    ? [{ kind: 'out-of-reach', topic: 'access', weight: 'stops', items, text }]
    : [{ kind: 'out-of-reach-by-stack', topic: 'access', weight: 'worth-knowing', items, text }]
}

const namesOf = (problem: Problem, ids: readonly string[]): string[] => ids.map((id) => calledIn(problem, id))

/** Straight up, and 45° to eight sides. */
const LOOKS = [
  { x: 0, y: 0 },
  ...Array.from({ length: 8 }, (_, i) => ({ x: Math.cos((i * Math.PI) / 4), y: Math.sin((i * Math.PI) / 4) })),
]

function sightOf(things: readonly Obstacle[], decks: readonly DeckPlan[], problem: Problem, body: Body): Sight[] {
  return (body.item.footprint.indicators ?? []).map((light): Sight => {
    const p = pointOn(body.item.footprint, body.placement, light.at)
    const at = { x: p.x / 1000, y: p.y / 1000, z: body.top / 1000 }
    const looks: InTheWay[][] = []
    for (const look of LOOKS) {
      // the look within some heights, as a thin strip from above
      const strip = (z: Interval): Polygon => {
        const [a, b] = [Math.max(z[0], at.z) - at.z, z[1] - at.z]
        const [x0, x1] = [at.x + look.x * a, at.x + look.x * b]
        const [y0, y1] = [at.y + look.y * a, at.y + look.y * b]
        return rectangle(
          Math.min(x0, x1) - THIN,
          Math.min(y0, y1) - THIN,
          Math.max(x0, x1) + THIN,
          Math.max(y0, y1) + THIN,
        )
      }
      const met = [
        ...things
          .filter((o) => (o.index !== body.index || o.kind === 'stack') && o.z[1] > at.z + 1e-9 && crossed(o, at, look))
          .map((o) => ({ id: o.id, stack: o.kind === 'stack' })),
        ...decks.flatMap((d, i) =>
          d.z[0] >= at.z && coveredBy(d, strip(d.z)) ? [{ id: problem.decks[i]!.id, stack: false }] : [],
        ),
      ]
      if (met.length === 0) return { item: body.item.id, light: light.name, seen: true, by: [], stacked: [] }
      looks.push(met)
    }
    // what hides it from everywhere says more than the list of all that is round about
    const always = looks[0]!.filter((m) => looks.every((met) => met.some((o) => o.id === m.id)))
    return { item: body.item.id, light: light.name, seen: false, ...sorted(always.length > 0 ? always : looks.flat()) }
  })
}

/** Ids of what is in the way itself, and of what only has its stack there; each once. */
function sorted(met: readonly InTheWay[]): { readonly by: string[]; readonly stacked: string[] } {
  const by = [...new Set(met.filter((m) => !m.stack).map((m) => m.id))]
  return { by, stacked: [...new Set(met.filter((m) => m.stack && !by.includes(m.id)).map((m) => m.id))] }
}

/** Half the width of a look, mm. */
const THIN = 0.5

/** Whether a look from a point meets an upright box (slabs). */
function crossed(o: Obstacle, at: { x: number; y: number; z: number }, look: { x: number; y: number }): boolean {
  const xs = o.plan.map((p) => p.x)
  const ys = o.plan.map((p) => p.y)
  let lo = Math.max(0, o.z[0] - at.z)
  let hi = o.z[1] - at.z
  for (const [from, to, p, d] of [
    [Math.min(...xs), Math.max(...xs), at.x, look.x],
    [Math.min(...ys), Math.max(...ys), at.y, look.y],
  ] as const) {
    if (Math.abs(d) < 1e-12) {
      if (p <= from || p >= to) return false
      continue
    }
    lo = Math.max(lo, Math.min((from - p) / d, (to - p) / d))
    hi = Math.min(hi, Math.max((from - p) / d, (to - p) / d))
  }
  return lo < hi - 1e-9
}

const sightFindings = (problem: Problem, sight: readonly Sight[]): StaticsFinding[] =>
  sight
    .filter((s) => !s.seen)
    .map((s) => ({
      kind: 'light-hidden',
      topic: 'access',
      weight: 'worth-knowing',
      items: [...new Set([s.item, ...s.by, ...s.stacked])],
      text: found.lightHidden(s.light, s.item, namesOf(problem, s.by), s.stacked),
    }))
