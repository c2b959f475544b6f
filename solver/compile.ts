/** Problem → model: variables for every body, then every rule posts what it has to say. Pure. */
import { energyOn } from './bounds/energy.ts'
import { normalPositions } from './bounds/normal.ts'
import type { Item, Problem } from './problem.ts'
import type { ProofLog } from './proof/steps.ts'
import { rules } from './rules/index.ts'
import { onBoard } from './rules/on-board.ts'
import { withinReach } from './rules/reach.ts'
import { alike, inOrder } from './search/alike.ts'
import { type Asks, type Body, type Mode, Model } from './search/model.ts'
import { onTurnedHost, sameAfterTurn, undersideOf } from './search/parts.ts'
import type { Axis } from './search/relation.ts'
import { firstAtLeast } from './search/relation.ts'
import { area } from './search/search.ts'
import { seatsOn } from './search/seats.ts'
import { bounds, prepare } from './shapes.ts'
import { type Turn, turnedSize } from './units.ts'
import { asked } from './words-asked.ts'

export interface CompileOptions {
  /** Every rule behind a literal of its own, so that a conflict can be told. */
  readonly explaining?: boolean
  /** Where conflicts are explained, a rule that is dropped may send a body off the deck: so far, µm, beyond its own size. */
  readonly room?: number | undefined
  /** Asked now and then; once it says so, `compile` throws `OutOfTime`. */
  readonly over?: () => boolean
  /** True: nothing is required; the caller assumes what must be placed. */
  readonly optional?: boolean
  /** Items (indices) that must be placed although they are optional, and keep their name among copies. */
  readonly held?: readonly number[]
  /** Turns to prefer among those that look alike, by item. */
  readonly turns?: ReadonlyMap<number, Turn>
  /** True: turns that look alike are all kept. */
  readonly allTurns?: boolean
  /** Listens from the first clause on. */
  readonly log?: ProofLog | undefined
  /** True: rules of whole layouts will be asked, which may tell items apart by their names, but not copies of one. */
  readonly lazy?: boolean
  /** Not where conflicts are explained: which rules are asked; all where it does not say. What is placed stays on its deck, off the grid no more than in the file, and on a board if it plugs in. */
  readonly asks?: Asks
  /** False: copies keep their names (a layout is to be changed as little as possible). */
  readonly interchange?: boolean
}

/** Enough to keep most rules off the deck. */
const ROOM = 15_000

/** Of a wide room a body has about so many lines of the grid an axis: maps of all would take seconds. */
const MOST_LINES = 400

/**
 * The model of a problem, lengths in Um: every body's variables, every rule's clauses and propagators, nothing searched yet. Throws
 * `OutOfTime` once `options.over` says so.
 */
export function compile(problem: Problem, options: CompileOptions = {}): Model {
  const model = new Model(problem, options.explaining ?? false, options.over, options.asks)
  options.log?.listen(model.e)
  const boards = problem.items.map((_, i) => i).filter((i) => isBoard(problem.items[i]!))
  const kept = options.turns ?? new Map()
  const made = new Map<number, Body>()
  // a rule of whole layouts may speak of positions and of turns
  if (!model.explaining && options.interchange !== false && !options.held?.length && !options.lazy)
    model.normal = normalPositions(problem)
  // hosts first: a plug-in part's positions follow from theirs
  const order = [...problem.items.keys()].sort(
    (a, b) => plugged(problem.items[a]!) - plugged(problem.items[b]!) || a - b,
  )
  for (const i of order) {
    const turns = options.allTurns || options.lazy ? problem.items[i]!.turns : distinctTurns(model, i, kept.get(i))
    made.set(i, makeBody(model, i, turns, boards, made, options.room ?? ROOM))
  }
  model.bodies = problem.items.map((_, i) => made.get(i)!)
  for (const body of model.bodies) oneMode(model, body, options)
  for (const rule of rules) rule.post(model)
  if (!model.explaining && model.asksAll) withinReach(model)
  model.statics.post()
  onBoard(model)
  if (!model.explaining) energyOn(model)
  if (!model.explaining && options.interchange !== false) {
    model.alike = alike(problem, options.held, options.lazy)
    inOrder(model, model.alike)
  }
  if (model.normal && model.bodies.length > 0) breakMirrors(model)
  return model
}

const isBoard = (item: Item): boolean =>
  item.footprint.breadboard !== undefined && item.footprint.mount.kind !== 'plug-in'
const plugged = (item: Item): number => (item.footprint.mount.kind === 'plug-in' ? 1 : 0)

function makeBody(
  model: Model,
  index: number,
  turns: readonly Turn[],
  boards: readonly number[],
  made: ReadonlyMap<number, Body>,
  room: number,
): Body {
  const { e, problem } = model
  const item = problem.items[index]!
  const f = item.footprint
  const modes: Mode[] = []
  const add = (deck: number, turn: Turn, host: number, under: number) => {
    const size = turnedSize(f.width, f.depth, turn)
    const z0 = problem.decks[deck]!.z + under
    const z1 = z0 + f.height
    modes.push({ lit: e.newBool(), deck, turn, host, w: size.w, h: size.h, z0, z1, z2: z1 + item.stack })
  }
  if (f.mount.kind !== 'plug-in') {
    for (const deck of item.decks) for (const turn of turns) add(deck, turn, -1, undersideOf(f.mount))
  } else {
    for (const host of boards) {
      const hf = problem.items[host]!.footprint
      for (const deck of item.decks)
        if (problem.items[host]!.decks.includes(deck))
          for (const turn of turns) add(deck, turn, host, undersideOf(hf.mount) + hf.height)
    }
    if (model.explaining) for (const deck of item.decks) for (const turn of turns) add(deck, turn, -1, 0)
  }
  const present = e.newBool()
  const axis = (values: Int32Array): Axis => ({ v: e.newVar(Math.max(1, values.length)), values })
  const twin = model.explaining ? undefined : [...made.values()].find((b) => sameStand(b, item, modes))
  const values = (along: 'x' | 'y') =>
    model.normal?.(index, along) ?? twin?.[along].values ?? positions(model, item, modes, made, along, room)
  return { index, item, footprint: f, present, x: axis(values('x')), y: axis(values('y')), modes }
}

/** True for a copy of the same item that stands in the same places: not where one of them is held. */
const sameStand = (body: Body, item: Item, modes: readonly Mode[]): boolean =>
  body.item.base === item.base &&
  body.modes.length === modes.length &&
  body.modes.every((m, i) => m.deck === modes[i]!.deck && m.turn === modes[i]!.turn && m.host === modes[i]!.host) &&
  JSON.stringify(body.item.place) === JSON.stringify(item.place)

/** Turns that differ in something: a plain breadboard turned by 180° is the same board. */
function distinctTurns(model: Model, index: number, keep: Turn | undefined): Turn[] {
  const { problem } = model
  const item = problem.items[index]!
  const wired = problem.wires.some((w) => [w.from, w.to].some((n) => n.kind === 'item' && n.ref.items.includes(index)))
  const fixed = item.place.some((p) => p.kind === 'at' && p.turn !== undefined)
  const turns = [...item.turns]
  if (keep !== undefined && turns.includes(keep)) turns.sort((a, b) => Number(b === keep) - Number(a === keep))
  if (wired || fixed) return turns
  const out: Turn[] = []
  for (const t of turns) if (!out.some((o) => sameAfterTurn(item.footprint, o, t))) out.push(t)
  return out
}

/** Every coordinate that a body may have along one axis, ascending: grid lines, what `at` and `centred` fix, a host's contacts. */
function positions(
  model: Model,
  item: Item,
  modes: readonly Mode[],
  made: ReadonlyMap<number, Body>,
  axis: 'x' | 'y',
  room: number,
): Int32Array {
  const { problem } = model
  const out: number[] = []
  const fixing = item.place.some((p) => p.kind === 'at' || (p.kind === 'centred' && p.axis === axis))
  // decks and sizes are few, modes are many
  const seen = new Set<string>()
  const unseen = (key: string): boolean => {
    if (seen.has(key)) return false
    seen.add(key)
    return true
  }
  for (const mode of modes) {
    const mine = axis === 'x' ? mode.w : mode.h
    if (mode.host >= 0 || !unseen(`${mode.deck}/${mode.w}/${mode.h}`)) continue
    const box = bounds(prepare(problem.decks[mode.deck]!.outline))
    const low = axis === 'x' ? box.x : box.y
    const size = axis === 'x' ? box.w : box.h
    for (const p of item.place) {
      if (p.kind === 'at' && p.deck === mode.deck) out.push(axis === 'x' ? p.at.x : p.at.y)
      if (p.kind === 'centred' && p.axis === axis)
        out.push(Math.floor((2 * low + size - mine) / 2), Math.ceil((2 * low + size - mine) / 2))
    }
    if (fixing && !model.explaining) continue
    const over = item.overhang
    let from = low - (axis === 'x' ? over.left : over.back)
    let to = low + size + (axis === 'x' ? over.right : over.front) - mine
    if (model.explaining) {
      // room around the deck, few lines where it is much, and a place of its own far away
      const own = Math.max(mode.w, mode.h)
      const far = own + room
      const step = problem.grid * Math.ceil((to - from + 2 * far) / problem.grid / MOST_LINES)
      for (let v = Math.ceil((from - far) / step) * step; v <= to + far; v += step) out.push(v)
      from -= own + ROOM
      to += own + ROOM
      out.push(
        Math.ceil((to + 1e6 + 5e5 * item.footprint.id.length + 1e6 * problem.items.indexOf(item)) / problem.grid) *
          problem.grid,
      )
    }
    for (let k = Math.ceil(from / problem.grid); k * problem.grid <= to; k++) out.push(k * problem.grid)
  }
  const sums: Sums[] = [{ values: out, offsets: [0] }]
  for (const h of new Set(modes.map((m) => m.host))) {
    const host = made.get(h)
    // copies stand in the same places, unless one of them is held
    if (!host || !unseen(`${host.item.base}/${JSON.stringify(host.item.place)}`)) continue
    sums.push({ values: host[axis].values, offsets: [...seatOffsets(item, host, axis)] })
  }
  return allOf(sums)
}

/** Each value with each offset. */
interface Sums {
  readonly values: ArrayLike<number>
  readonly offsets: readonly number[]
}

/** Coordinates spread wider than this, µm, are not marked in a table: where conflicts are explained, bodies may stand far away. */
const WIDE = 4e6

/** Each sum once, ascending. All are whole numbers. */
function allOf(parts: readonly Sums[]): Int32Array {
  let low = Number.POSITIVE_INFINITY
  let high = Number.NEGATIVE_INFINITY
  let sums = 0
  for (const { values, offsets } of parts) {
    sums += values.length * offsets.length
    for (const o of offsets)
      for (let i = 0; i < values.length; i++) {
        low = Math.min(low, values[i]! + o)
        high = Math.max(high, values[i]! + o)
      }
  }
  if (sums === 0) return new Int32Array(0)
  if (high - low > WIDE) {
    const all = new Int32Array(sums)
    let n = 0
    for (const { values, offsets } of parts)
      for (const o of offsets) for (let i = 0; i < values.length; i++) all[n++] = values[i]! + o
    return all.sort().filter((v, k) => k === 0 || v !== all[k - 1])
  }
  // a bit a coordinate
  const there = new Int32Array(((high - low) >> 5) + 1)
  let n = 0
  for (const { values, offsets } of parts)
    for (const o of offsets)
      for (let i = 0; i < values.length; i++) {
        const v = values[i]! + o - low
        const bit = 1 << (v & 31)
        if (there[v >> 5]! & bit) continue
        there[v >> 5]! |= bit
        n++
      }
  const out = new Int32Array(n)
  let k = 0
  for (let w = 0; w < there.length; w++)
    for (let left = there[w]!; left !== 0; left &= left - 1) out[k++] = low + 32 * w + 31 - Math.clz32(left & -left)
  return out
}

function seatOffsets(item: Item, host: Body, axis: 'x' | 'y'): Set<number> {
  const out = new Set<number>()
  const seats = seatsOn(item.footprint, host.footprint)
  for (const own of [0, 1, 2, 3] as const) {
    const size = turnedSize(item.footprint.width, item.footprint.depth, own)
    const mine = seats.filter((s) => s.turn === own)
    const [us, vs] = [[...new Set(mine.map((s) => s.u))], [...new Set(mine.map((s) => s.v))]]
    // an offset follows from u alone, or from v alone
    for (const turn of new Set(host.modes.map((m) => m.turn)))
      for (let i = 0; i < Math.max(us.length, vs.length); i++) {
        const d = onTurnedHost(host.footprint, us[i] ?? us[0]!, vs[i] ?? vs[0]!, size.w, size.h, turn)
        out.add(axis === 'x' ? d.x : d.y)
      }
  }
  return out
}

/** In exactly one mode when placed, in none when not; a required item is placed. */
function oneMode(model: Model, body: Body, { optional, held }: CompileOptions): void {
  const { e } = model
  const lits = body.modes.map((m) => m.lit)
  e.addClause([e.not(body.present), ...lits])
  for (const l of lits) e.addClause([e.not(l), body.present])
  const decks = [...new Set(body.modes.map((m) => m.deck))]
  if (decks.length > 1 && !model.explaining) {
    const on = decks.map((d) => model.onDeck(body, d))
    e.addClause([e.not(body.present), ...on])
    e.atMostOne(on)
  }
  e.atMostOne(lits)
  if ((body.item.required || held?.includes(body.index)) && !optional) {
    const guard = model.instance('R10', [body.item.id], () => asked.placed(body.item.id))
    e.addClause([e.not(guard), body.present])
  }
  if (body.x.values.length === 0 || body.y.values.length === 0) e.addClause([e.not(body.present)])
}

/**
 * Where every layout can be pushed left and back, its mirror images are layouts too: of the largest kind of body, the
 * first (leftmost) copy has its centre in the left and in the back half. Pushing only moves it further there.
 */
function breakMirrors(model: Model): void {
  const { e, problem, bodies } = model
  const largest = bodies.reduce((best, b) => (area(b) > area(best) ? b : best), bodies[0]!)
  const first = bodies.find((b) => b.item.base === largest.item.base)!
  const box = bounds(prepare(problem.decks[0]!.outline))
  // a mirror image of what is on the grid is on the grid only where every length is
  const lengths = [
    box.x + problem.edgeClearance,
    box.y + problem.edgeClearance,
    box.w - 2 * problem.edgeClearance,
    box.h - 2 * problem.edgeClearance,
  ]
  for (const b of bodies) lengths.push(b.footprint.width, b.footprint.depth)
  if ([...lengths, problem.itemClearance].some((l) => l % problem.grid !== 0)) return
  for (const m of first.modes) {
    e.addClause([e.not(m.lit), e.lt(first.x.v, firstAtLeast(first.x.values, box.x + (box.w - m.w) / 2 + 0.1))])
    e.addClause([e.not(m.lit), e.lt(first.y.v, firstAtLeast(first.y.values, box.y + (box.h - m.h) / 2 + 0.1))])
  }
}
