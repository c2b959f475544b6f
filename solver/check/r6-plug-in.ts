/** R6: plug-in parts sit on breadboards, pin by pin. */
import type { Finding } from '../result.ts'
import type { Point } from '../units.ts'
import { type Body, isHost, pinsOn, type TiePoint, tiePointAt, tiePointsOn } from './body.ts'
import type { Layout } from './layout.ts'
import { deckName, len, name, say } from './say.ts'

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
    if (asked === undefined)
      return [finding([part.item.id], `The pins of ${name(part)} fit on no breadboard that is placed.`)]
    const named = problem.items[asked]
    if (!named) return [finding([part.item.id], `${name(part)} is to sit on an item that does not exist.`)]
    const text = isHost(named)
      ? `${name(part)} is to sit on ${say(named.id)}, which is not placed.`
      : `${name(part)} is to sit on ${say(named.id)}, which is no breadboard.`
    return [finding([part.item.id, named.id], text)]
  }
  if (part.placement.deck === host.deck) return []
  const text = `${name(part)} is listed on ${deckName(problem, part.placement.deck)}, but its host ${name(host)} is on ${deckName(problem, host.deck)}.`
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
      const exactly = i === 0 ? 'exactly ' : ''
      findings.push(
        finding(
          items,
          `Pin ${id} of ${name(part)} is not ${exactly}on a tie point of ${name(host)}: the nearest is ${len(off)} away.`,
          off,
        ),
      )
      return
    }
    const { strip } = points[at]!
    const other = onStrip.get(strip)
    if (other !== undefined)
      findings.push(finding(items, `Pins ${other} and ${id} of ${name(part)} are on one strip of ${name(host)}.`))
    else onStrip.set(strip, id)
  })
  return findings
}

/** Larger of the two coordinate differences to the tie point where that is least. */
const nearest = (points: readonly TiePoint[], pin: Point): number =>
  Math.min(...points.map(({ at }) => Math.max(Math.abs(at.x - pin.x), Math.abs(at.y - pin.y))))

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
      const pins = shared === 1 ? 'One pin' : `${shared} pins`
      const text = `${pins} of ${name(part)} would go into tie points of ${name(host)} that ${name(other)} covers.`
      return [finding([part.item.id, other.item.id], text)]
    })
}
