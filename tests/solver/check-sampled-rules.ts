/** R1–R5, R8 and R9 once more, as the contract and the readings in solver/README.md put them, over sampled points and another library's booleans. */
import type { Item, Opening, Placement, Problem, Shape } from '../../solver/problem.ts'
import { type Answer, around, disc, type Form, form, overlap, placed, sticksOut } from './check-sampled-plan.ts'

export const SAMPLED = ['R1', 'R2', 'R3', 'R4', 'R5', 'R8', 'R9'] as const
export type Sampled = (typeof SAMPLED)[number]

export interface Stand {
  readonly item: Item
  readonly deck: number
  readonly host: number | undefined
  readonly index: number
  readonly box: { readonly x: number; readonly y: number; readonly w: number; readonly h: number }
  readonly low: number
  readonly high: number
  readonly stacked: number
  /** A shape or rectangle of the footprint where it stands. */
  readonly put: (f: Form) => Form
  readonly point: (u: number, v: number) => readonly [number, number]
}

export function standOf(p: Problem, q: Placement, all: readonly Placement[]): Stand {
  const item = p.items[q.item]!
  const f = item.footprint
  const host = q.host === undefined ? undefined : all.find((o) => o.item === q.host)
  const deck = host ? host.deck : q.deck
  const under = (m: typeof f.mount): number => (m.kind === 'screw' ? m.standoff : m.kind === 'drop-in' ? -m.below : 0)
  const on = host ? under(p.items[host.item]!.footprint.mount) + p.items[host.item]!.footprint.height : 0
  const low = p.decks[deck]!.z + on + under(f.mount)
  const put = (s: Form) => placed(s, f.width, f.depth, q.turn, q.at.x, q.at.y)
  const box = put(around({ x: 0, y: 0, w: f.width, h: f.depth })).box
  const high = low + f.height
  const point = (u: number, v: number) => {
    const [x, y] = put(around({ x: u, y: v, w: 0, h: 0 })).box
    return [x, y] as const
  }
  const rect = { x: box[0], y: box[1], w: box[2] - box[0], h: box[3] - box[1] }
  return {
    item,
    deck,
    host: host?.item,
    index: q.item,
    box: rect,
    low,
    high,
    stacked: high + item.stack,
    put,
    point,
  }
}

/** All of `a`; the worst that any says: true before undefined before false. */
const worst = (answers: Iterable<Answer>): Answer => {
  let out: Answer = false
  for (const a of answers) {
    if (a) return true
    if (a === undefined) out = undefined
  }
  return out
}
const and = (a: boolean, b: () => Answer): Answer => (a ? b() : false)
const heights = (a0: number, a1: number, b0: number, b1: number): boolean => Math.min(a1, b1) > Math.max(a0, b0)

interface Gap {
  readonly form: Form
  readonly shape: Shape | undefined
  readonly mayCover: boolean
  /** Cut for a strap. */
  readonly strap: boolean
}

function gapsOf(p: Problem, deck: number): Gap[] {
  const round = (at: { x: number; y: number }, d: number): Gap => ({
    form: disc(at.x, at.y, d / 2),
    shape: undefined,
    mayCover: false,
    strap: false,
  })
  const own = (o: Opening): Gap => ({
    form: form(o.shape),
    shape: o.shape,
    mayCover: o.mayCover,
    strap: o.strap === true,
  })
  return [
    ...p.decks[deck]!.openings.map(own),
    ...p.exits.flatMap((e) => (e.deck === deck && e.diameter !== undefined ? [round(e.at, e.diameter)] : [])),
    ...p.passes.flatMap((e) => (e.decks.includes(deck) && e.diameter !== undefined ? [round(e.at, e.diameter)] : [])),
  ]
}

/** Is the opening the part's own cut-out, to a tenth of a millimetre? */
function ownCutout(s: Stand, g: Gap): boolean {
  const { mount } = s.item.footprint
  return mount.kind === 'drop-in' && isThere(s, mount.cutout, g)
}

function isThere(s: Stand, cut: Parameters<typeof around>[0], { shape: o }: Gap): boolean {
  if (o?.kind !== 'rect' || o.radius * 0.4142136 > 100) return false
  const b = s.put(around(cut)).box
  return [b[0] - o.x, b[1] - o.y, b[2] - o.x - o.w, b[3] - o.y - o.h].every((d) => Math.abs(d) <= 100)
}

function r1(p: Problem, s: Stand): Answer {
  const outline = form(p.decks[s.deck]!.outline)
  const { overhang, footprint } = s.item
  const c = p.edgeClearance
  let [x0, y0, x1, y1] = [s.box.x, s.box.y, s.box.x + s.box.w, s.box.y + s.box.h]
  if (Object.values(overhang).some((o) => o > 0)) {
    const { outline: o } = p.decks[s.deck]!
    // the extremes of other shapes are not worked out here
    if (o.kind === 'sector' || (o.kind === 'polygon' && o.points.some((q) => q.bulge !== 0))) return undefined
    const [bx0, by0, bx1, by1] = outline.box
    if (bx0 - x0 > overhang.left || x1 - bx1 > overhang.right) return true
    if (by0 - y0 > overhang.back || y1 - by1 > overhang.front) return true
    if (overhang.left > 0) x0 = Math.max(x0, bx0 + c)
    if (overhang.right > 0) x1 = Math.min(x1, bx1 - c)
    if (overhang.back > 0) y0 = Math.max(y0, by0 + c)
    if (overhang.front > 0) y1 = Math.min(y1, by1 - c)
    if (x1 <= x0 || y1 <= y0) return false
  }
  const rest = { x: x0, y: y0, w: x1 - x0, h: y1 - y0 }
  const { kind } = footprint.mount
  return worst([
    sticksOut(around(rest, c), outline),
    ...gapsOf(p, s.deck).map((g): Answer => {
      if (kind === 'plug-in') return and(g.shape === undefined, () => overlap(around(rest), g.form))
      if (g.mayCover) return and(kind === 'adhesive', () => overlap(around(rest), g.form))
      return and(!ownCutout(s, g), () => overlap(around(rest, c), g.form))
    }),
  ])
}

function r2(p: Problem, a: Stand, b: Stand): Answer {
  if (a.host === b.index || b.host === a.index) return false
  if (a.deck !== b.deck) return and(heights(a.low, a.high, b.low, b.high), () => overlap(around(a.box), around(b.box)))
  const c = p.itemClearance
  const grown = { x: a.box.x - c, y: a.box.y - c, w: a.box.w + 2 * c, h: a.box.h + 2 * c }
  return overlap(around(grown), around(b.box))
}

const r3 = (a: Stand, b: Stand): Answer =>
  worst(
    a.item.footprint.corridors.map((c) =>
      and(heights(a.low + c.z[0], a.low + c.z[1], b.low, b.stacked), () =>
        overlap(a.put(form(c.shape)), around(b.box)),
      ),
    ),
  )

const r4 = (p: Problem, s: Stand): Answer =>
  worst(
    p.zones.map((z): Answer => {
      if (z.deck !== s.deck || z.kind === 'underside') return false
      const top = p.decks[z.deck]!.z
      const bad =
        z.kind === 'view'
          ? s.stacked > top + (z.z?.[0] ?? 0)
          : z.z === undefined || heights(top + z.z[0], top + z.z[1], s.low, s.stacked)
      return and(bad, () => overlap(form(z.shape), around(s.box)))
    }),
  )

/** What a body cuts: `grown` = the cut and everything nearer to it than so much. */
interface Cut {
  readonly deck: number
  readonly grown: (by: number) => Form
  readonly made: boolean
  readonly land: Form | undefined
}

export function cutsOf(p: Problem, s: Stand): Cut[] {
  const { mount } = s.item.footprint
  const { holes } = p.decks[s.deck]!
  const rects = mount.kind === 'strap' ? mount.slots : mount.kind === 'drop-in' ? [mount.cutout] : []
  // a strap's slot is only ever one that was cut for a strap
  const gaps = gapsOf(p, s.deck).filter((g) => mount.kind === 'drop-in' || g.strap)
  const made = (cut: (typeof rects)[number]): boolean => !gaps.some((g) => isThere(s, cut, g))
  const rounds = mount.kind === 'screw' || mount.kind === 'drop-in' ? mount.holes : []
  return [
    ...rects.map((r): Cut => ({ deck: s.deck, grown: (by) => s.put(around(r, by)), made: made(r), land: undefined })),
    ...rounds.map((h): Cut => {
      const [x, y] = s.point(h.at.x, h.at.y)
      const there = holes.some(
        (o) => Math.hypot(o.at.x - x, o.at.y - y) <= 100 && o.diameter >= h.diameter && o.diameter <= h.diameter + 500,
      )
      return {
        deck: s.deck,
        grown: (by) => disc(x, y, h.diameter / 2 + by),
        made: !there,
        land: h.land > 0 ? disc(x, y, h.land / 2) : undefined,
      }
    }),
  ]
}

function r5(p: Problem, stands: readonly Stand[]): Answer {
  const web = p.minWeb
  const cuts = stands.flatMap((s) => cutsOf(p, s))
  return worst(
    cuts.flatMap((cut, i): Answer[] => {
      const deck = p.decks[cut.deck]!
      const gaps = gapsOf(p, cut.deck)
      const others = cuts.slice(i + 1).filter((o) => o.deck === cut.deck)
      const { land } = cut
      return [
        ...p.zones
          .filter((z) => z.kind === 'underside' && z.deck === cut.deck)
          .map((z) => overlap(form(z.shape), cut.grown(0))),
        ...(cut.made
          ? [
              sticksOut(cut.grown(web), form(deck.outline)),
              ...gaps.map((g) => overlap(g.form, cut.grown(web))),
              ...deck.holes.map((h) => overlap(disc(h.at.x, h.at.y, h.diameter / 2), cut.grown(web))),
              ...others.filter((o) => o.made).map((o) => overlap(o.grown(0), cut.grown(web))),
            ]
          : []),
        ...(land
          ? [
              sticksOut(land, form(deck.outline)),
              ...gaps.map((g) => overlap(g.form, land)),
              ...others.flatMap((o) => (o.land ? [overlap(o.land, land)] : [])),
            ]
          : []),
      ]
    }),
  )
}

const r8 = (p: Problem, s: Stand): Answer =>
  worst(
    p.decks.map((d, k): Answer => {
      if (d.z <= p.decks[s.deck]!.z) return false
      const { above } = s.item.footprint
      if (above !== 'open' && s.stacked + above <= d.z - d.thickness) return false
      const over = overlap(form(d.outline), around(s.box))
      if (over === false) return false
      // wholly under one opening, edge included
      const covered = gapsOf(p, k).map((g) => sticksOut(around(s.box), g.form))
      if (covered.includes(false)) return false
      return covered.includes(undefined) ? undefined : over
    }),
  )

function r9(p: Problem, s: Stand, others: readonly Stand[]): Answer {
  const { head } = s.item.footprint
  if (!head) return false
  const { x, y } = head.pivot
  const from = head.pan[0] + 90
  const fan: Shape = {
    kind: 'sector',
    cx: x,
    cy: y,
    r: head.reach,
    from,
    to: from + (head.pan[1] - head.pan[0]),
  }
  const sweep = [s.put(form(fan)), s.put(disc(x, y, head.tail))]
  const z = p.decks[s.deck]!.z
  const [lo, hi] = [z + head.z[0], z + head.z[1]]
  return worst([
    ...others
      .filter((o) => o !== s)
      .map((o) => {
        const { above } = o.item.footprint
        const bad = above === 'open' ? hi > o.low : heights(lo, hi, o.low, o.stacked + above)
        return and(bad, () => worst(sweep.map((f) => overlap(f, around(o.box)))))
      }),
    ...p.decks.map((d, k) =>
      and(k !== s.deck && heights(lo, hi, d.z - d.thickness, d.z), () =>
        worst(sweep.map((f) => overlap(f, form(d.outline)))),
      ),
    ),
  ])
}

/** For each rule: is it broken? */
export function sampledRules(p: Problem, placements: readonly Placement[]): Record<Sampled, Answer> {
  const stands = placements.map((q) => standOf(p, q, placements))
  const pairs = stands.flatMap((a, i) => stands.slice(i + 1).map((b) => [a, b] as const))
  return {
    R1: worst(stands.map((s) => r1(p, s))),
    R2: worst(pairs.map(([a, b]) => r2(p, a, b))),
    R3: worst(pairs.flatMap(([a, b]) => [r3(a, b), r3(b, a)])),
    R4: worst(stands.map((s) => r4(p, s))),
    R5: r5(p, stands),
    R8: worst(stands.map((s) => r8(p, s))),
    R9: worst(stands.map((s) => r9(p, s, stands))),
  }
}
