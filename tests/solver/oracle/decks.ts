/** Random decks as problems: seeded, configurable rule by rule, small enough for exact oracles. Every number is ours. */
import type {
  Chassis,
  Deck,
  Exit,
  Footprint,
  Item,
  ItemRef,
  ObjectiveName,
  Opening,
  Pass,
  Place,
  Problem,
  Shape,
  Side,
  Wire,
  WireEnd,
  Zone,
} from '../../../solver/problem.ts'
import { mm, type Turn } from '../../../solver/units.ts'
import type { DeckMix } from './deck-mix.ts'
import { blob, board, breadboard, head, length, plugIn } from './parts.ts'
import { type Rng, rng } from './random.ts'

interface Field {
  readonly x: number
  readonly y: number
  readonly w: number
  readonly h: number
}

function outlineOf(r: Rng, f: Field, shaped: boolean): Shape {
  const { x, y, w, h } = f
  const corner = (px: number, py: number, bulge = 0) => ({ x: mm(px), y: mm(py), bulge })
  if (!shaped) return { kind: 'rect', x: mm(x), y: mm(y), w: mm(w), h: mm(h), radius: mm(0) }
  const cut = length(r, Math.min(w, h) * 0.2, Math.min(w, h) * 0.45)
  switch (r.int(0, 5)) {
    case 0:
      return { kind: 'circle', cx: mm(x + w / 2), cy: mm(y + h / 2), r: mm(Math.min(w, h) / 2) }
    case 1:
      // An L: the front right corner is missing.
      return {
        kind: 'polygon',
        points: [
          corner(x, y),
          corner(x + w, y),
          corner(x + w, y + h - cut),
          corner(x + w - cut, y + h - cut),
          corner(x + w - cut, y + h),
          corner(x, y + h),
        ],
      }
    case 2:
      // A bow at the front, in or out.
      return {
        kind: 'polygon',
        points: [corner(x, y), corner(x + w, y), corner(x + w, y + h, r.pick([-0.3, 0.2, 0.5])), corner(x, y + h)],
      }
    case 3:
      return {
        kind: 'polygon',
        points: [
          corner(x + cut, y),
          corner(x + w, y),
          corner(x + w - cut / 2, y + h),
          corner(x, y + h),
          corner(x, y + cut),
        ].reverse(),
      }
    case 4:
      return { kind: 'sector', cx: mm(x), cy: mm(y), r: mm(Math.max(w, h)), from: 0, to: r.pick([90, 90, 180]) }
    default:
      return { kind: 'rect', x: mm(x), y: mm(y), w: mm(w), h: mm(h), radius: mm(cut) }
  }
}

const inField = (r: Rng, f: Field): { x: number; y: number } => ({
  x: Math.round((f.x + f.w * (0.1 + 0.8 * r.next())) * 10) / 10,
  y: Math.round((f.y + f.h * (0.1 + 0.8 * r.next())) * 10) / 10,
})

function decksOf(r: Rng, m: DeckMix, f: Field, grid: number, drops: readonly Footprint[]): Deck[] {
  const z0 = r.pick([0, 20, 31])
  const count = r.chance(m.second) ? 2 : 1
  return Array.from({ length: count }, (_, k) => {
    const own: Field =
      k === 0 || r.chance(0.4) ? f : { x: f.x + length(r, 0, f.w / 3), y: f.y, w: length(r, f.w / 2, f.w), h: f.h }
    const openings: Opening[] = []
    if (r.chance(m.openings)) {
      const c = inField(r, own)
      openings.push({ id: `o${k}`, shape: blob(r, c.x, c.y, length(r, 0.6, 3)), mayCover: r.chance(0.4) })
    }
    const drop = drops[0]
    if (drop?.mount.kind === 'drop-in' && k === 0 && r.chance(0.4)) openings.push(ready(r, drop, own, grid))
    const holes = Array.from({ length: r.chance(m.holes) ? r.int(1, 3) : 0 }, (_, i) => {
      const c = inField(r, own)
      return { id: `d${k}h${i}`, at: { x: mm(c.x), y: mm(c.y) }, diameter: mm(r.pick([0.8, 1, 1.4])) }
    })
    const thickness = mm(r.pick([2, 3]))
    const z = mm(k === 0 ? z0 : z0 + r.pick([6, 12, 20, 35, 0]))
    return {
      id: `deck${k}`,
      name: `deck ${k}`,
      z,
      thickness,
      outline: outlineOf(r, own, r.chance(m.shaped)),
      openings,
      holes,
    }
  })
}

/** An opening that is the part's cut-out at some grid position, to within a tenth, or just not. */
function ready(r: Rng, part: Footprint, f: Field, grid: number): Opening {
  const c = part.mount.kind === 'drop-in' ? part.mount.cutout : undefined
  const x = Math.ceil(f.x / grid) * grid + grid * r.int(0, Math.max(0, Math.floor((f.w - part.width / 1000) / grid)))
  const y = Math.ceil(f.y / grid) * grid + grid * r.int(0, Math.max(0, Math.floor((f.h - part.depth / 1000) / grid)))
  const off = r.pick([0, 0, 100, 101, -60])
  const shape = {
    kind: 'rect',
    x: c!.x + mm(x) + off,
    y: c!.y + mm(y),
    w: c!.w,
    h: c!.h + (off > 0 ? 100 : 0),
    // hardly rounded, or a little too much
    radius: off === 100 ? 241 : off === -60 ? 242 : 0,
  } as Shape
  return { id: 'ready', shape, mayCover: r.chance(0.3) }
}

/** The first deck with the slots of a strapped part cut at some grid position, to within a tenth, or just not, or for something else. */
function withSlots(r: Rng, decks: Deck[], part: Footprint | undefined, f: Field, grid: number): Deck[] {
  if (part?.mount.kind !== 'strap' || !r.chance(0.4)) return decks
  const x = Math.ceil(f.x / grid) * grid + grid * r.int(0, Math.max(0, Math.floor((f.w - part.width / 1000) / grid)))
  const y = Math.ceil(f.y / grid) * grid + grid * r.int(0, Math.max(0, Math.floor((f.h - part.depth / 1000) / grid)))
  const off = r.pick([0, 0, 0, 100, -100, 101])
  const mayCover = r.chance(0.8)
  const strap = r.chance(0.8)
  const slots = part.mount.slots.map((s, k): Opening => {
    const shape = { kind: 'rect', x: s.x + mm(x) + off, y: s.y + mm(y), w: s.w, h: s.h, radius: 0 } as Shape
    return { id: `slot${k}`, shape, mayCover, ...(strap ? { strap } : {}) }
  })
  return decks.map((d, k) => (k === 0 ? { ...d, openings: [...d.openings, ...slots] } : d))
}

function footprintsOf(r: Rng, m: DeckMix, f: Field, n: number): Footprint[] {
  const out: Footprint[] = []
  for (let k = 0; k < n; k++) {
    const w = Math.max(length(r, f.w * m.body[0], f.w * m.body[1]), 2)
    const d = Math.max(length(r, f.h * m.body[0], f.h * m.body[1]), 2)
    if (r.chance(m.boards)) out.push(breadboard(r, m, `bb${k}`, m.tiePoints))
    else if (r.chance(m.heads)) out.push(head(r, m, `head${k}`, w, d))
    else out.push(board(r, m, `part${k}`, w, d))
  }
  const hasBoard = out.some((p) => p.breadboard)
  if (hasBoard && r.chance(m.plugs)) out.push(plugIn(r, m, 'plug'))
  if (hasBoard && r.chance(m.plugs / 3)) out.push(plugIn(r, m, 'plug2'))
  return out
}

const SIDES: readonly Side[] = ['front', 'back', 'left', 'right']

function itemsOf(r: Rng, m: DeckMix, parts: readonly Footprint[], decks: readonly Deck[], most: number): Item[] {
  const items: Item[] = []
  for (const [k, footprint] of parts.entries()) {
    if (items.length >= most) break
    const plug = footprint.mount.kind === 'plug-in'
    const room = most - items.length
    const count = r.chance(m.counted) && room > 1 ? 2 : 1
    const required = !r.chance(count > 1 ? (1 + m.optional) / 2 : m.optional)
    const small = Math.min(footprint.width, footprint.depth) / 1000
    const over = (): number => (r.chance(m.overhang) ? Math.floor(small * 5 * r.next()) / 10 : 0)
    const overhang = { front: mm(over()), back: mm(over()), left: mm(over()), right: mm(over()) }
    const turns: Turn[] = r.chance(m.turns) ? r.pick([[0, 1], [0, 1, 2, 3], [3], [2, 0]] as Turn[][]) : [0]
    const allowed = decks.length > 1 && r.chance(0.4) ? [r.int(0, decks.length - 1)] : decks.map((_, i) => i)
    const common = {
      base: `i${k}`,
      footprint,
      required,
      value: required ? 1 : r.int(0, 5),
      turns,
      decks: allowed,
      place: [] as Place[],
      stack: mm(r.chance(m.stack) ? r.pick([1, 5]) : 0),
      later: !plug && r.chance(m.later),
      overhang: plug ? { front: mm(0), back: mm(0), left: mm(0), right: mm(0) } : overhang,
    }
    for (let c = 1; c <= count; c++) items.push({ ...common, id: count === 1 ? `i${k}` : `i${k}#${c}` })
  }
  return items
}

/** Adds place entries, the same for all copies. */
function placed(r: Rng, m: DeckMix, items: readonly Item[], f: Field, decks: readonly Deck[], grid: number): Item[] {
  const bases = [...new Set(items.map((i) => i.base))]
  const entries = new Map<string, Place[]>()
  for (const b of bases) {
    const first = items.find((i) => i.base === b)!
    const list: Place[] = []
    const plug = first.footprint.mount.kind === 'plug-in'
    if (r.chance(m.place)) {
      const e = place1(r, first, f, decks, grid, plug)
      // Copies cannot all stand at one point.
      if (e.kind !== 'at' || !first.id.includes('#')) list.push(e)
    }
    if (r.chance(m.pairPlace) && bases.length > 1) {
      const other = r.pick(bases.filter((o) => o !== b))
      const ref = refTo(r, items, other)
      const hosts = items.filter((i) => i.footprint.breadboard && i.base === other)
      if (plug && hosts.length > 0) list.push({ kind: 'host', item: ref })
      else if (r.chance(0.5)) list.push({ kind: 'near', item: ref, within: mm(length(r, 2, (f.w + f.h) * 0.7)) })
      else list.push({ kind: 'beyond', item: ref, side: r.pick(SIDES) })
    }
    entries.set(b, list)
  }
  return items.map((i) => ({ ...i, place: entries.get(i.base)! }))
}

/** A reference by the file's name (any copy), or by one copy's own. */
function refTo(r: Rng, items: readonly Item[], base: string): ItemRef {
  const of = items.flatMap((i, k) => (i.base === base ? [k] : []))
  if (of.length > 1 && r.chance(0.3)) return { name: items[of[1]!]!.id, items: [of[1]!] }
  return { name: base, items: of }
}

function place1(r: Rng, item: Item, f: Field, decks: readonly Deck[], grid: number, plug: boolean): Place {
  const snap = (v: number): number => Math.round(v / grid) * grid
  switch (plug ? r.int(2, 3) : r.int(0, 4)) {
    case 0: {
      const c = inField(r, f)
      const at = r.chance(0.5)
        ? { x: mm(snap(c.x * 0.6)), y: mm(snap(c.y * 0.6)) }
        : { x: mm(c.x * 0.6), y: mm(c.y * 0.6) }
      const base: Place = { kind: 'at', deck: r.pick(item.decks), at }
      return r.chance(0.4) ? { ...base, turn: r.pick(item.turns) } : base
    }
    case 1:
      return { kind: 'centred', axis: r.pick(['x', 'y']) }
    case 2:
      return { kind: 'edge', edge: r.pick(SIDES), within: mm(length(r, 0, f.w * 0.4)) }
    case 3: {
      const c = inField(r, f)
      return { kind: 'inside', shape: blob(r, c.x, c.y, Math.max(f.w, f.h) * 0.6) }
    }
    default:
      return { kind: 'edge', edge: r.pick(SIDES), within: mm(decks.length) }
  }
}

function zonesOf(r: Rng, m: DeckMix, f: Field, decks: readonly Deck[]): Zone[] {
  if (!r.chance(m.zones)) return []
  return Array.from({ length: r.int(1, 2) }, (_, k) => {
    const c = inField(r, f)
    const kind = r.pick(['keep-out', 'reserved', 'view', 'underside'] as const)
    const zone: Zone = {
      id: `z${k}`,
      kind,
      deck: r.int(0, decks.length - 1),
      shape: blob(r, c.x, c.y, length(r, 0.8, f.w * 0.25)),
    }
    const lo = r.pick([0, 2, 5])
    return r.chance(0.5) ? { ...zone, z: [mm(lo), mm(lo + r.pick([3, 10]))] as const } : zone
  })
}

function endsOf(r: Rng, items: readonly Item[], exits: readonly Exit[]): WireEnd | undefined {
  const wired = items.filter((i) => i.footprint.terminals.length > 0 && !i.later)
  if (exits.length > 0 && (wired.length === 0 || r.chance(0.35)))
    return { kind: 'exit', exit: r.int(0, exits.length - 1) }
  if (wired.length === 0) return undefined
  const item = r.pick(wired)
  const t = r.pick(item.footprint.terminals)
  return { kind: 'item', ref: refTo(r, items, item.base), terminal: t.id, at: t.at }
}

function wiresOf(r: Rng, m: DeckMix, items: readonly Item[], exits: readonly Exit[], f: Field): Wire[] {
  if (!r.chance(m.wires)) return []
  const out: Wire[] = []
  for (let tries = r.int(2, 6); tries > 0 && out.length < 3; tries--) {
    const from = endsOf(r, items, exits)
    const to = endsOf(r, items, exits)
    if (!from || !to || (from.kind === 'exit' && to.kind === 'exit')) continue
    // A wire from a thing to itself says nothing.
    if (from.kind === 'item' && to.kind === 'item' && from.ref.items.some((i) => to.ref.items.includes(i))) continue
    const wire: Wire = { id: `w${out.length}`, from, to, loop: mm(r.pick([0, 0, 2])), conductors: r.pick([1, 1, 2, 4]) }
    const limited = { ...wire, maxLength: mm(length(r, (f.w + f.h) * 0.2, (f.w + f.h) * 0.9)) }
    out.push(r.chance(m.limits) ? limited : wire)
  }
  return out
}

/** A rectangle whose centroid is whole, so that other methods can count in integers. */
function chassisOf(r: Rng, f: Field): Chassis {
  const x = mm(Math.round(f.x - 2))
  const y = mm(Math.round(f.y - 1))
  const X = mm(Math.round(f.x + f.w + 3))
  const Y = mm(Math.round(f.y + f.h + 1))
  const contact = [
    { x, y },
    { x: X, y },
    { x: X, y: Y },
    { x, y: Y },
  ]
  const c = inField(r, f)
  return { contact, mass: r.pick([0, 20, 150]), centre: { x: mm(c.x), y: mm(c.y), z: mm(0) } }
}

const OBJECTIVES: readonly ObjectiveName[] = ['free-tie-points', 'optional-value', 'wire-length', 'balance']

function thinned(r: Rng, m: DeckMix): DeckMix {
  const k = m.vary ? r.pick([0.3, 0.6, 1, 1.4]) : 1
  return {
    ...m,
    mounts: m.vary && r.chance(0.3) ? ['adhesive'] : m.mounts,
    shaped: m.shaped * k,
    openings: m.openings * k,
    holes: m.holes * k,
    rounds: m.rounds * k,
    zones: m.zones * k,
    clearance: m.clearance * k,
    place: m.place * k,
    pairPlace: m.pairPlace * k,
    corridor: m.corridor * k,
    open: m.open * k,
  }
}

/** One random problem. The same seed and mix give the same problem. */
export function randomDeck(seed: number, mix: DeckMix): Problem {
  const r = rng(seed)
  const m = thinned(r, mix)
  const grid = r.pick(m.grids)
  const side = (): number =>
    Math.max(Math.min(length(r, m.deck[0], m.deck[1]), length(r, grid * (m.cells - 2), grid * m.cells)), 6)
  const origin = r.chance(0.75) ? { x: 0, y: 0 } : { x: r.pick([-7.3, 4, -20]), y: r.pick([5.5, -3, 0]) }
  const f: Field = { ...origin, w: side(), h: side() }
  const n = r.int(m.items[0], m.items[1])
  const parts = footprintsOf(r, m, f, n)
  const bareDecks = decksOf(
    r,
    m,
    f,
    grid,
    parts.filter((p) => p.mount.kind === 'drop-in'),
  )
  // From numbers of its own, so that problems without straps stay what they were.
  const decks = withSlots(
    rng(seed + 7_000_003),
    bareDecks,
    parts.find((p) => p.mount.kind === 'strap'),
    f,
    grid,
  )
  const bare = itemsOf(r, m, parts, decks, m.items[1] + 1)
  const items = placed(r, m, bare, f, decks, grid)
  const exits: Exit[] = Array.from(
    { length: r.chance(Math.max(m.rounds, m.wires * 0.7)) ? r.int(1, 2) : 0 },
    (_, k) => {
      const c = inField(r, f)
      const exit: Exit = { id: `x${k}`, deck: r.int(0, decks.length - 1), at: { x: mm(c.x), y: mm(c.y) } }
      const sized = r.chance(m.rounds) ? { ...exit, diameter: mm(r.pick([0.5, 1, 2])) } : exit
      return r.chance(m.limits) ? { ...sized, free: mm(length(r, f.w * 0.4, f.w + f.h)) } : sized
    },
  )
  const joined = decks.length > 1 ? r.int(0, 2) : 0
  const passes: Pass[] = Array.from({ length: joined }, (_, k) => {
    const c = inField(r, f)
    const pass: Pass = { id: `p${k}`, decks: [0, 1], at: { x: mm(c.x), y: mm(c.y) } }
    return r.chance(m.rounds) ? { ...pass, diameter: mm(r.pick([0.5, 1.5])) } : pass
  })
  const order = r.shuffle(OBJECTIVES).slice(0, r.int(0, 4))
  const objective = r.chance(0.6) ? OBJECTIVES : order
  const problem: Problem = {
    name: `random ${seed}`,
    variant: 'base',
    grid: mm(grid),
    edgeClearance: mm(r.chance(m.clearance) ? r.pick([0.3, 0.5, 1]) : 0),
    itemClearance: mm(r.chance(m.clearance) ? r.pick([0.2, 0.5, 1]) : 0),
    minWeb: mm(r.pick([0, 0.2, 0.5])),
    decks,
    exits,
    passes,
    items,
    zones: zonesOf(r, m, f, decks),
    wires: wiresOf(r, m, items, exits, f),
    objective,
  }
  return r.chance(m.chassis) ? { ...problem, chassis: chassisOf(r, f) } : problem
}
