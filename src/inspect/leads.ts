/** Leads as plain data: ids for indices, mm for micrometres. */
import { type Problem, toMm, um } from '../../solver/index.ts'
import { extraOf, type LeadLengths, limitOf, type RoutesSeen, type Wiring } from '../electric/index.ts'
import type { LeadsSeen } from './report.ts'

export function leadsSeen(problem: Problem, wiring: Wiring, seen: RoutesSeen, lengths: LeadLengths): LeadsSeen {
  const endId = (end: RoutesSeen['routes'][number]['from']): string =>
    end.item === undefined ? problem.exits[end.exit!]!.id : problem.items[end.item]!.id
  return {
    routes: seen.routes.map((r) => {
      const wire = problem.wires[r.wire]!
      const limit = limitOf(problem.exits, wire)
      return {
        wire: wire.id,
        from: endId(r.from),
        to: endId(r.to),
        length: toMm(r.length),
        straight: toMm(r.straight),
        cut: toMm(um(r.length + extraOf(wiring, wire))),
        ...(Number.isFinite(limit) ? { there: limit / 1000 } : {}),
        spots: r.spots.map((s) => ({ deck: problem.decks[s.deck]!.id, at: [s.x / 1000, s.y / 1000] as const })),
        round: [...new Set(r.round.filter((o) => beside(r.spots, o)).map((o) => o.name))],
      }
    }),
    blocked: seen.blocked.map((b) => ({
      wire: problem.wires[b.wire]!.id,
      by: [...new Set(b.walls.map((o) => o.name))],
    })),
    bundles: seen.bundles.map((b) => ({
      wires: b.wires,
      deck: problem.decks[b.deck]!.id,
      together: toMm(b.together),
    })),
    keep: lengths.leads.map((l) => ({
      wire: l.wire,
      variants: l.variants.map((v) => ({
        variant: v.variant,
        ...(v.cut === undefined ? {} : { cut: toMm(v.cut) }),
      })),
      later: l.later.map((m) => ({ ...m, least: toMm(m.least), most: toMm(m.most) })),
      keep: toMm(l.keep),
    })),
  }
}

type Routed = RoutesSeen['routes'][number]

/** Whether a way runs along what it was led round; much of what the search looked at lies off it in the end. */
function beside(spots: Routed['spots'], o: Routed['round'][number]): boolean {
  return spots.some((b, i) => {
    const a = spots[i - 1]
    if (!a || a.deck !== b.deck || b.deck !== o.deck) return false
    return o.wide.some(
      (w) =>
        Math.min(a.x, b.x) <= w.x1 &&
        Math.max(a.x, b.x) >= w.x0 &&
        Math.min(a.y, b.y) <= w.y1 &&
        Math.max(a.y, b.y) >= w.y0,
    )
  })
}
