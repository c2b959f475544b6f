/** R6: plug-in parts sit on breadboards, pin by pin. */
import type { Finding } from '../result.ts'
import type { Point } from '../units.ts'
import { found, say } from '../words.ts'
import { type Body, isHost, pinReach, pinsOn, type TiePoint, tiePointAt, tiePointsOn } from './body.ts'
import type { Layout } from './layout.ts'
import { deckName, name, short } from './say.ts'

export function plugIn(layout: Layout): Finding[] {
  const parts = layout.bodies.filter((b) => b.item.footprint.mount.kind === 'plug-in')
  return parts.flatMap((part) => {
    const broken = hostFindings(layout, part)
    return broken.length > 0 ? broken : [...pinFindings(layout, part), ...sharingFindings(layout, part, parts)]
  })
}

function finding(items: readonly string[], text: string, by = 0): Finding {
  return { rule: 'R6', items, text, by }
}

function hostFindings(layout: Layout, part: Body): Finding[] {
  const { problem } = layout
  const asked = part.placement.host
  const host = part.host === undefined ? undefined : layout.bodyOf.get(part.host)
  if (!host) {
    if (asked === undefined) return [finding([part.item.id], found.noHost(name(part)))]
    const named = problem.items[asked]
    if (!named) return [finding([part.item.id], found.hostUnknown(name(part)))]
    const text = isHost(named)
      ? found.hostNotPlaced(name(part), say(named.id))
      : found.hostNoBoard(name(part), say(named.id))
    return [finding([part.item.id, named.id], text)]
  }
  if (part.placement.deck === host.deck) return []
  const [own, its] = [deckName(problem, part.placement.deck), deckName(problem, host.deck)]
  const text = found.hostOnOtherDeck(name(part), own, name(host), its)
  return [finding([part.item.id, host.item.id], text)]
}

interface Board {
  readonly host: Body
  readonly points: readonly TiePoint[]
}

const boardOf = (layout: Layout, part: Body): Board => {
  const host = layout.bodyOf.get(part.host!)!
  return { host, points: tiePointsOn(host.item.footprint, host.placement) }
}

function pinFindings(layout: Layout, part: Body): Finding[] {
  const { host, points } = boardOf(layout, part)
  const ids = part.item.footprint.plug?.pins.map((p) => p.id) ?? []
  const items = [part.item.id, host.item.id]
  const findings: Finding[] = []
  const onStrip = new Map<string, string>()
  pinsOn(part.item.footprint, part.placement).forEach((pin, i) => {
    const id = ids[i]!
    const at = tiePointAt(points, pin, i === 0)
    if (at < 0) {
      const off = nearest(points, pin)
      const reach = pinReach(i === 0)
      const text =
        i === 0
          ? found.firstPinOff(id, name(part), name(host), short(off))
          : found.pinOff(id, name(part), name(host), short(off), reach)
      findings.push(finding(items, text, short(off - reach)))
      return
    }
    const { strip } = points[at]!
    const other = onStrip.get(strip)
    if (other !== undefined) findings.push(finding(items, found.pinsOnStrip(other, id, name(part), name(host))))
    else onStrip.set(strip, id)
  })
  return findings
}

/** How far the nearest tie point is. */
const nearest = (points: readonly TiePoint[], pin: Point): number =>
  Math.min(...points.map(({ at }) => Math.hypot(at.x - pin.x, at.y - pin.y)))

const under = (body: Body, p: Point): boolean =>
  p.x >= body.rect.x && p.y >= body.rect.y && p.x <= body.rect.x + body.rect.w && p.y <= body.rect.y + body.rect.h

/** Tie points, by index, that the part's pins are on. */
function pinned(part: Body, points: readonly TiePoint[]): number[] {
  return pinsOn(part.item.footprint, part.placement)
    .map((pin, i) => tiePointAt(points, pin, i === 0))
    .filter((at) => at >= 0)
}

/** Tie points, by index, that a part covers on its host: under its body, edge included, and under its pins. */
export function coveredPoints(part: Body, points: readonly TiePoint[]): Set<number> {
  const covered = new Set(pinned(part, points))
  points.forEach((p, i) => {
    if (under(part, p.at)) covered.add(i)
  })
  return covered
}

/** Pins on points that another part covers: one finding for each such part. */
function sharingFindings(layout: Layout, part: Body, parts: readonly Body[]): Finding[] {
  const { host, points } = boardOf(layout, part)
  const mine = pinned(part, points)
  return parts
    .filter((other) => other !== part && other.host === host.index)
    .flatMap((other) => {
      const covered = coveredPoints(other, points)
      const shared = mine.filter((at) => covered.has(at)).length
      if (shared === 0) return []
      const text = found.pinsCovered(shared, name(part), name(host), name(other))
      return [finding([part.item.id, other.item.id], text)]
    })
}
