/** R5: every hole, slot and cut-out leaves sound deck around it, and every land lies on deck. */
import type { MountHole } from '../problem.ts'
import type { Finding } from '../result.ts'
import {
  boundaryDistance,
  discInside,
  discOverlaps,
  pointDistance,
  prepare,
  type Region,
  rectInside,
  rectOverlaps,
  rectsOverlap,
  TOUCH,
} from '../shapes.ts'
import type { Point, Rect } from '../units.ts'
import { found, say } from '../words.ts'
import { type Body, cutoutOn, holesOn, slotsOn } from './body.ts'
import { isOwnCutout, isOwnSlot, type Layout } from './layout.ts'
import { serves } from './reuse.ts'
import { deckName, insideShort, name, overlapDepth, short } from './say.ts'

/** Something cut out of a deck; `made` is false where a hole or opening that is there already serves. */
export interface Cut {
  readonly body: Body
  /** "hole a of board 2". */
  readonly what: string
  readonly form: { readonly at: Point; readonly r: number } | Rect
  readonly made: boolean
  readonly hole?: MountHole
}

/** Index of the existing hole that a mounting hole of `diameter` at `at` reuses, or −1. */
export function reusedHole(layout: Pick<Layout, 'problem'>, deck: number, at: Point, diameter: number): number {
  return (layout.problem.decks[deck]?.holes ?? []).findIndex((h) => serves(h, at, diameter))
}

/** Everything that the placed items cut, or would cut were it not there, in the order of bodies. */
export function cutsOf(layout: Layout): Cut[] {
  return layout.bodies.flatMap((body): Cut[] => {
    const f = body.item.footprint
    const cutout = cutoutOn(f, body.placement)
    return [
      ...holesOn(f, body.placement).map(({ hole, at }) => ({
        body,
        what: found.hole(hole.id, name(body)),
        form: { at, r: hole.diameter / 2 },
        made: reusedHole(layout, body.deck, at, hole.diameter) < 0,
        hole,
      })),
      ...slotsOn(f, body.placement).map((form, i) => ({
        body,
        what: found.slot(i + 1, name(body)),
        form,
        made: !layout.decks[body.deck]!.openings.some((o) => isOwnSlot(form, o)),
      })),
      ...(cutout
        ? [
            {
              body,
              what: found.cutout(name(body)),
              form: cutout,
              made: !layout.decks[body.deck]!.openings.some((o) => isOwnCutout(body, o)),
            },
          ]
        : []),
    ]
  })
}

export function holes(layout: Layout): Finding[] {
  const cuts = cutsOf(layout)
  return [
    ...cuts.flatMap((cut) => zoneFindings(layout, cut)),
    ...cuts.filter((cut) => cut.made).flatMap((cut) => deckFindings(layout, cut)),
    ...pairs(cuts.filter((cut) => cut.made)).flatMap(([a, b]) => webFindings(layout, a, b)),
    ...landFindings(layout, cuts),
  ]
}

const pairs = <T>(list: readonly T[]): [T, T][] => list.flatMap((a, i) => list.slice(i + 1).map((b): [T, T] => [a, b]))

/** Gap between two cuts, negative where they overlap. */
function gapBetween(a: Cut['form'], b: Cut['form']): number {
  if ('at' in a && 'at' in b) return Math.hypot(a.at.x - b.at.x, a.at.y - b.at.y) - a.r - b.r
  if ('at' in a) return discGap(a, b as Rect)
  if ('at' in b) return discGap(b, a)
  const dx = Math.max(b.x - a.x - a.w, a.x - b.x - b.w)
  const dy = Math.max(b.y - a.y - a.h, a.y - b.y - b.h)
  if (rectsOverlap(a, b)) return Math.max(dx, dy)
  return Math.hypot(Math.max(0, dx), Math.max(0, dy))
}

function discGap(disc: { readonly at: Point; readonly r: number }, rect: Rect): number {
  const dx = Math.max(rect.x - disc.at.x, disc.at.x - rect.x - rect.w)
  const dy = Math.max(rect.y - disc.at.y, disc.at.y - rect.y - rect.h)
  const out = dx <= 0 && dy <= 0 ? Math.max(dx, dy) : Math.hypot(Math.max(0, dx), Math.max(0, dy))
  return out - disc.r
}

function zoneFindings(layout: Layout, cut: Cut): Finding[] {
  return layout.problem.zones
    .filter((zone) => zone.kind === 'underside' && zone.deck === cut.body.deck)
    .flatMap((zone) => {
      const depth = intrusionOf(prepare(zone.shape), cut.form, 0)
      if (depth === undefined) return []
      return [
        {
          rule: 'R5' as const,
          items: [cut.body.item.id, zone.id],
          text: found.underZone(cut.what, short(depth), say(zone.id), zone.why),
          by: short(depth),
        },
      ]
    })
}

/** How far a cut with `web` around it reaches into a region; undefined where it does not. */
function intrusionOf(region: Region, form: Cut['form'], web: number): number | undefined {
  if (!('at' in form)) return rectOverlaps(region, form, web) ? overlapDepth(region, form, web) : undefined
  const { x, y } = form.at
  if (!discOverlaps(region, x, y, form.r + web)) return undefined
  const out = pointDistance(region, x, y)
  return form.r + web + (out > 0 ? -out : boundaryDistance(region, x, y))
}

/** How much a cut with `web` around it lacks to lie inside a region; undefined where it does. */
function lackOf(region: Region, form: Cut['form'], web: number): number | undefined {
  if (!('at' in form)) return rectInside(region, form, web) ? undefined : insideShort(region, form, web)
  const { x, y } = form.at
  if (discInside(region, x, y, form.r + web)) return undefined
  const out = pointDistance(region, x, y)
  return form.r + web + (out > 0 ? out : -boundaryDistance(region, x, y))
}

/** A made cut against its deck: outline, openings, holes that are there. */
function deckFindings(layout: Layout, cut: Cut): Finding[] {
  const { problem } = layout
  const deck = problem.decks[cut.body.deck]!
  const plan = layout.decks[cut.body.deck]!
  const where = deckName(problem, cut.body.deck)
  const web = problem.minWeb
  const findings: Finding[] = []
  const add = (lack: number | undefined, what: string, ids: string[]) => {
    if (lack === undefined) return
    const by = short(lack)
    const text = found.web(cut.what, web - by, web, what)
    findings.push({ rule: 'R5', items: [cut.body.item.id, ...ids], text, by })
  }
  add(lackOf(plan.outline, cut.form, web), found.outlineOf(where), [deck.id])
  for (const o of plan.openings)
    add(intrusionOf(o.region, cut.form, web), found.openingOf(say(o.id), where), [o.id, deck.id])
  for (const h of deck.holes) {
    const gap = gapBetween(cut.form, { at: h.at, r: h.diameter / 2 })
    if (gap < web - TOUCH) add(web - gap, found.holeIn(say(h.id), where), [deck.id])
  }
  return findings
}

function webFindings(layout: Layout, a: Cut, b: Cut): Finding[] {
  if (a.body.deck !== b.body.deck) return []
  const web = layout.problem.minWeb
  const gap = gapBetween(a.form, b.form)
  const round = 'at' in a.form || 'at' in b.form
  if (round ? gap >= web - TOUCH : gap >= web) return []
  const items = a.body === b.body ? [a.body.item.id] : [a.body.item.id, b.body.item.id]
  const by = short(web - gap)
  return [{ rule: 'R5', items, text: found.web(a.what, web - by, web, found.cut(b.what)), by }]
}

function landFindings(layout: Layout, cuts: readonly Cut[]): Finding[] {
  const lands = cuts.flatMap((cut) =>
    cut.hole && cut.hole.land > 0 && 'at' in cut.form ? [{ cut, at: cut.form.at, r: cut.hole.land / 2 }] : [],
  )
  const findings: Finding[] = []
  for (const land of lands) {
    const { body } = land.cut
    const deckId = layout.problem.decks[body.deck]!.id
    const where = deckName(layout.problem, body.deck)
    const plan = layout.decks[body.deck]!
    const lack = lackOf(plan.outline, land, 0)
    if (lack !== undefined) {
      const text = found.landOverOutline(land.cut.what, short(lack), where)
      findings.push({ rule: 'R5', items: [body.item.id, deckId], text, by: short(lack) })
    }
    for (const o of plan.openings) {
      const depth = intrusionOf(o.region, land, 0)
      if (depth === undefined) continue
      const text = found.landInOpening(land.cut.what, short(depth), say(o.id), where)
      findings.push({ rule: 'R5', items: [body.item.id, o.id, deckId], text, by: short(depth) })
    }
  }
  for (const [a, b] of pairs(lands)) {
    if (a.cut.body.deck !== b.cut.body.deck) continue
    const gap = gapBetween(a, b)
    if (gap >= -TOUCH) continue
    const own = a.cut.body === b.cut.body
    findings.push({
      rule: 'R5',
      items: own ? [a.cut.body.item.id] : [a.cut.body.item.id, b.cut.body.item.id],
      text: found.landsOverlap(a.cut.what, b.cut.what, short(-gap)),
      by: short(-gap),
    })
  }
  return findings
}
