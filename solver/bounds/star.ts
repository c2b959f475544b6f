/**
 * What the wires of one body, a hub, take at least together: by where it stands, each of what they lead to stands where it is nearest, on the
 * decks that are left to it, clear of the hub but not of one another. A wire alone is short wherever it can be; a hub cannot be near everything.
 */
import type { Body, Mode, Model } from '../search/model.ts'
import { at } from '../search/parts.ts'
import { cornerOn, seatsOn } from '../search/seats.ts'
import type { Bitmap } from '../search/static-map.ts'
import { type Candidate, chainsOf, riseBetween, type WireEnds } from '../search/wire-ends.ts'
import type { Point } from '../units.ts'
import { nearest, type Spots } from './nearest.ts'

/** Neighbouring places of a hub are one, so many along each axis; more where a deck has many. */
const BLOCK = 3
const HUB_LINES = 64

/** And of what is wired to it, where there are more than so many. */
const LINES = 128

/** Places of a host times seats on it: more take too long. */
const MOST_SEATS = 1e7

/** More decks have no bits. */
const MOST_DECKS = 7

/** A wire from the hub. */
export interface Ray {
  readonly wire: number
  readonly to: Candidate
  /** By deck of what it leads to: the least length × conductors, by place of the hub. */
  readonly least: readonly Float64Array[]
}

/** Where a body's corner may be on one deck, in one turn. */
interface Stand {
  readonly deck: number
  readonly turn: Mode['turn']
  readonly bit: number
  /** Made when first asked for. */
  readonly raw: () => Spots
  readonly spots: () => Thin
  /** What it keeps clear of others, if anything. */
  readonly size: { readonly w: number; readonly h: number } | undefined
}

/** By mode; undefined: nothing is known of where it may stand, or it is more than is worth looking at. */
type StandsOf = (b: Body) => readonly Stand[] | undefined

/** What cannot be costs so much, µm: more than any wires take, and still a whole number among sums of such. */
const NEVER = 1e12

/** Least sums are kept for so many combinations of decks. */
const KNOWN = 20_000

export class Star {
  readonly hub: Body
  readonly rays: readonly Ray[]
  /** By place of the hub: the bit of its deck and turn. */
  private readonly modes: Int32Array
  private readonly open = new Map<string, Float64Array>()
  private readonly known = new Map<string, number>()

  constructor(hub: Body, rays: readonly Ray[], modes: Int32Array) {
    this.hub = hub
    this.rays = rays
    this.modes = modes
  }

  /** Σ length × conductors, at least; `NEVER` or more where that cannot be. `decks`: by ray, bits of the decks that are left to its other end, 0 = not counted; `modes`: bits of the hub's decks and turns. */
  least(decks: readonly number[], modes: number): number {
    const key = `${decks.join()}/${modes}`
    let best = this.known.get(key)
    if (best !== undefined) return best
    const lists = this.rays.flatMap((_, k) => (decks[k] === 0 ? [] : [this.ofRay(k, decks[k]!)]))
    best = NEVER
    for (let i = 0; i < this.modes.length; i++) {
      if ((this.modes[i]! & modes) === 0) continue
      let sum = 0
      for (const list of lists) sum += list[i]!
      if (sum < best) best = sum
    }
    if (this.known.size >= KNOWN) this.known.clear()
    this.known.set(key, best)
    return best
  }

  private ofRay(k: number, decks: number): Float64Array {
    const key = `${k}:${decks}`
    let out = this.open.get(key)
    if (!out) {
      out = new Float64Array(this.modes.length).fill(NEVER)
      this.rays[k]!.least.forEach((list, d) => {
        if (decks & (1 << d)) for (let i = 0; i < list.length; i++) out![i] = Math.min(out![i]!, list[i]!)
      })
      this.open.set(key, out)
    }
    return out
  }
}

/**
 * Every wire in one star at most; the bodies with most conductors first. Bodies without maps of where they may stand (where conflicts
 * are explained) have none, nor have plug-in parts with several hosts. Pauses often.
 */
export function* starsOf(model: Model, wires: readonly WireEnds[]): Generator<undefined, Star[]> {
  const stands = new Map<Body, readonly Stand[] | undefined>()
  const standsOf: StandsOf = (b) => {
    if (!stands.has(b)) stands.set(b, standsIn(model, b, standsOf))
    return stands.get(b)
  }
  const free = new Set(
    wires.filter((w) => {
      const [p, q] = [w.from[0], w.to[0]]
      return (
        w.from.length === 1 &&
        w.to.length === 1 &&
        w.wire.conductors > 0 &&
        p!.body !== q!.body &&
        [p!, q!].every((c) => !c.body || standsOf(c.body))
      )
    }),
  )
  const out: Star[] = []
  for (;;) {
    const pulls = new Map<Body, WireEnds[]>()
    for (const w of free)
      for (const { body } of [w.from[0]!, w.to[0]!]) if (body) pulls.set(body, [...(pulls.get(body) ?? []), w])
    const pull = (list: readonly WireEnds[]) => list.reduce((sum, w) => sum + w.wire.conductors, 0)
    let best: readonly WireEnds[] = []
    let hub: Body | undefined
    for (const [body, list] of pulls)
      if (list.length > 1 && pull(list) > pull(best)) {
        best = list
        hub = body
      }
    if (!hub) return out
    for (const w of best) free.delete(w)
    out.push(yield* star(model, hub, best, standsOf))
  }
}

function* star(model: Model, hub: Body, wires: readonly WireEnds[], standsOf: StandsOf): Generator<undefined, Star> {
  const stands: Stand[] = []
  const places: number[] = []
  for (const s of standsOf(hub)!) {
    yield undefined
    const spots = thin(s.raw(), BLOCK, HUB_LINES)
    stands.push({ ...s, spots: () => spots })
    for (const h of spots.has) if (h === 1) places.push(s.bit)
  }
  const rays: Ray[] = []
  for (const w of wires) {
    const out = w.from[0]!.body === hub
    const to = (out ? w.to : w.from)[0]!
    const [ownTip, toTip] = [tipsOf(hub, out ? w.wire.from : w.wire.to), tipsOf(to.body, out ? w.wire.to : w.wire.from)]
    const least: Float64Array[] = []
    for (const d of model.problem.decks.keys()) {
      const list = new Float64Array(places.length).fill(NEVER)
      const there = standsOn(d, to, standsOf)
      let n = 0
      for (const s of stands) {
        yield undefined
        const far = lengths(model, s, ownTip(s.turn), there, toTip, d)
        s.spots().has.forEach((h, k) => {
          if (h === 1) list[n++] = Math.min(NEVER, (far?.[k] ?? NEVER) * w.wire.conductors)
        })
      }
      least.push(list)
    }
    rays.push({ wire: w.index, to, least })
  }
  return new Star(hub, rays, Int32Array.from(places))
}

type End = WireEnds['wire']['from']
type TipAt = (turn: Mode['turn']) => Point

const tipsOf = (body: Body | undefined, end: End): TipAt =>
  end.kind === 'exit' || !body ? () => ORIGIN : (turn) => at(body.footprint, end.at, turn)

const ORIGIN = { x: 0, y: 0 } as Point

/** Where what a wire leads to stands on deck `d`. */
function standsOn(d: number, to: Candidate, standsOf: StandsOf): readonly Stand[] {
  if (!to.decks.some((k) => k.deck === d)) return []
  return to.body ? standsOf(to.body)!.filter((s) => s.deck === d) : [standing(d, 0, 0, undefined, () => point(to))]
}

/** The least length from each of a stand's spots to what stands `there`, on deck `d`; none = never. */
function lengths(
  model: Model,
  hub: Stand,
  tip: Point,
  there: readonly Stand[],
  toTip: TipAt,
  d: number,
): Float64Array | undefined {
  const { problem } = model
  let out: Float64Array | undefined
  const take = (far: Float64Array) => {
    if (!out) out = far
    else for (let i = 0; i < far.length; i++) out[i] = Math.min(out[i]!, far[i]!)
  }
  if (there.length === 0) return undefined
  if (hub.deck === d) {
    for (const s of there) {
      const gap = problem.itemClearance - hub.spots().far - s.spots().far
      const apart = hub.size && s.size ? { from: s.size, to: hub.size, gap } : undefined
      take(nearest(s.spots(), toTip(s.turn), hub.spots(), tip, apart))
    }
    return out
  }
  for (const c of chainsOf(model, hub.deck, d)) {
    let last = Number.POSITIVE_INFINITY
    for (const s of there) last = Math.min(last, nearest(s.spots(), toTip(s.turn), spot(c.x1, c.y1), ORIGIN)[0]!)
    const run = last + c.between + riseBetween(model, hub.deck, d)
    const far = nearest(spot(c.x0, c.y0), ORIGIN, hub.spots(), tip)
    for (let i = 0; i < far.length; i++) far[i]! += run
    take(far)
  }
  return out
}

const spot = (x: number, y: number): Spots => ({
  xs: Int32Array.of(x),
  ys: Int32Array.of(y),
  has: Uint8Array.of(1),
  slack: 0,
})

const point = (exit: Candidate): Spots => spot(exit.tip.x.axis.values[0]!, exit.tip.y.axis.values[0]!)

/** The bit of a mode's deck and turn. */
export const bitOf = (m: Mode): number => 1 << (4 * m.deck + m.turn)

function standsIn(model: Model, body: Body, standsOf: StandsOf): ReturnType<StandsOf> {
  if (model.problem.decks.length > MOST_DECKS) return undefined
  const { maps } = body
  if (!body.seating)
    return maps
      ? body.modes.map((m, i) => standing(m.deck, m.turn, bitOf(m), { w: m.w, h: m.h }, () => spotsOf(body, maps[i]!)))
      : undefined
  const open = body.modes.filter((m) => !model.e.isFalse(m.lit))
  const host = model.hostOf(body)
  if (!host?.maps) return undefined
  const seats = seatsOn(body.footprint, host.footprint).length
  if (host.maps.some((m) => m.total * seats > MOST_SEATS)) return undefined
  return open.map((m) =>
    standing(m.deck, m.turn, bitOf(m), undefined, () => seated(model, body, host, m, standsOf(host)!)),
  )
}

function standing(deck: number, turn: Mode['turn'], bit: number, size: Stand['size'], make: () => Spots): Stand {
  let made: Spots | undefined
  let few: Thin | undefined
  const raw = () => {
    made ??= make()
    return made
  }
  const spots = () => {
    few ??= thin(raw(), 1, LINES)
    return few
  }
  return { deck, turn, bit, size, raw, spots }
}

function spotsOf(body: Body, map: Bitmap): Spots {
  const { x0, y0, nx, ny } = map
  const has = new Uint8Array(nx * ny)
  for (let i = 0; i < nx; i++) for (let j = 0; j < ny; j++) if (map.at(x0 + i, y0 + j)) has[i * ny + j] = 1
  return { xs: body.x.values.subarray(x0, x0 + nx), ys: body.y.values.subarray(y0, y0 + ny), has, slack: 0 }
}

/** Where a plug-in part's corner may be: cells of the grid that some seat on its host reaches. */
function seated(model: Model, body: Body, host: Body, mode: Mode, stands: readonly Stand[]): Spots {
  const cell = model.problem.grid
  const down = (v: number) => Math.floor(v / cell)
  const hosts = host.modes.flatMap((hm, i) =>
    hm.deck === mode.deck && !model.e.isFalse(hm.lit) ? [{ turn: hm.turn, spots: stands[i]!.raw() }] : [],
  )
  // by turn of the host: from its corner to the part's, in cells, each once
  const reach = hosts.map(({ turn }) => {
    const seats = seatsOn(body.footprint, host.footprint).filter((s) => (s.turn + turn) % 4 === mode.turn)
    const all = new Map<string, { readonly x: number; readonly y: number }>()
    for (const s of seats) {
      const d = cornerOn(body.footprint, host.footprint, s, turn)
      const [x, y] = [down(d.x), down(d.y)]
      all.set(`${x},${y}`, { x, y })
    }
    return [...all.values()]
  })
  // a pin may be far outside its part
  const range = (axis: 'x' | 'y') => {
    const offs = reach.flatMap((list) => list.map((o) => o[axis]))
    const values = host[axis].values
    const low = down(values[0] ?? 0) + offs.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY)
    const high = down(values.at(-1) ?? 0) + offs.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY)
    return offs.length === 0 ? { low: 0, n: 0 } : { low, n: high - low + 1 }
  }
  const [rx, ry] = [range('x'), range('y')]
  const cells = new Uint8Array(rx.n * ry.n)
  hosts.forEach(({ spots: { xs, ys, has } }, k) => {
    for (let i = 0; i < xs.length; i++)
      for (let j = 0; j < ys.length; j++) {
        if (has[i * ys.length + j] === 0) continue
        const [x, y] = [down(xs[i]!) - rx.low, down(ys[j]!) - ry.low]
        for (const o of reach[k]!) cells[(x + o.x) * ry.n + y + o.y] = 1
      }
  })
  // a corner in a cell of the host's and one in a cell of the seat's: their sum is in the cell of the sum, or the next
  const line = ({ low, n }: { readonly low: number; readonly n: number }) =>
    Int32Array.from({ length: n }, (_, k) => (low + k + 1) * cell)
  return { xs: line(rx), ys: line(ry), has: cells, slack: 2 * cell }
}

/** Blocks of spots, each as its middle, where any of them counts, with the slack that this needs. */
function thin({ xs, ys, has, slack }: Spots, least: number, lines: number): Thin {
  const [cols, rows] = [thinLine(xs, least, lines), thinLine(ys, least, lines)]
  const any = new Uint8Array(cols.at.length * rows.at.length)
  has.forEach((h, k) => {
    const [i, j] = [Math.floor(k / ys.length), k % ys.length]
    if (h === 1) any[Math.floor(i / cols.block) * rows.at.length + Math.floor(j / rows.block)] = 1
  })
  return { xs: cols.at, ys: rows.at, has: any, slack: slack + cols.far + rows.far, far: Math.max(cols.far, rows.far) }
}

interface Thin extends Spots {
  /** How far a spot may be from the middle of its block, along either axis. */
  readonly far: number
}

interface ThinLine {
  readonly at: Int32Array
  readonly block: number
  readonly far: number
}

function thinLine(values: Int32Array, least: number, lines: number): ThinLine {
  const block = Math.max(least, Math.ceil(values.length / lines))
  const at: number[] = []
  let far = 0
  for (let i = 0; i < values.length; i += block) {
    const [low, high] = [values[i]!, values[Math.min(i + block, values.length) - 1]!]
    const middle = Math.round((low + high) / 2)
    at.push(middle)
    far = Math.max(far, middle - low, high - middle)
  }
  return { at: Int32Array.from(at), block, far }
}
