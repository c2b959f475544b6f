/**
 * A compiled problem: variables for every body, and the few ways in which rules may speak about them. Rules post;
 * nothing here knows a rule.
 */
import type { Footprint, Item, Placement, Problem } from '../problem.ts'
import type { Rect, Turn } from '../units.ts'
import { Apart, type Forbidden, type Spot } from './apart.ts'
import type { Chain } from './chains.ts'
import { Engine, FALSE, TRUE } from './engine.ts'
import { choiceOf, ModePairs, type Pair } from './mode-pairs.ts'
import { tieCount } from './parts.ts'
import { type Axis, type End, fixedEnd, oneBeside, Relation, type Sides } from './relation.ts'
import { seated } from './seat-pairs.ts'
import type { Bitmap } from './static-map.ts'
import { type Asked, StaticTests } from './static-tests.ts'
import { WhenAllFixed, WhenFixed } from './when-fixed.ts'
import type { WireEnds } from './wire-ends.ts'

/** One way to stand: deck, turn and, for a plug-in part, host; with the figures that follow from it. */
export interface Mode {
  readonly lit: number
  readonly deck: number
  readonly turn: Turn
  /** Item index of the host; −1 for a part that stands on the deck. */
  readonly host: number
  readonly w: number
  readonly h: number
  /** Heights over the ground: underside, top, top with stack. */
  readonly z0: number
  readonly z1: number
  readonly z2: number
}

/** Where a plug-in part sits on its host: the corner of its body in the host's own frame at turn 0. */
export interface Seating {
  readonly u: Axis
  readonly v: Axis
  /** One literal a (host footprint, turn of the part against the host). */
  readonly ways: readonly { readonly lit: number; readonly footprint: Footprint; readonly turn: Turn }[]
  /** Tie points covered; 0 when left out. */
  readonly cover: Axis
}

export interface Body {
  readonly index: number
  readonly item: Item
  readonly footprint: Footprint
  readonly present: number
  readonly x: Axis
  readonly y: Axis
  readonly modes: readonly Mode[]
  seating?: Seating
  /** Legal positions, one map a mode; none for plug-in parts and where conflicts are explained. */
  maps?: readonly Bitmap[]
}

/** Is this rule of these asked? */
export type Asks = (rule: string, items: readonly string[], text: () => string) => boolean

/** One rule of one body, pair, wire …: what a conflict is made of. */
export interface Instance {
  /** R1 … R10, or a lazy rule's name. */
  readonly rule: string
  readonly items: readonly string[]
  readonly text: () => string
  /** Must be true for the rule to bind. */
  readonly guard: number
}

/** A plug-in part's coordinate against its host's: body = host + sign·on + offset, when all of `when` hold. */
export interface Link {
  readonly body: Body
  readonly host: Body
  readonly axis: 'x' | 'y'
  readonly on: Axis
  readonly sign: 1 | -1
  readonly offset: number
  readonly when: readonly number[]
}

/** Four relations of which one must hold. */
export interface Relations {
  readonly a: Body
  readonly b: Body
  readonly active: (ma: Mode, mb: Mode) => boolean
  readonly four: readonly Relation[]
  /** Does one of them hold in a layout, given by item? Both bodies are in it. */
  holds(r: Relation, where: ReadonlyMap<number, Placement>): boolean
}

/** Literals made for some of a body's modes. */
interface Groups {
  readonly any: Map<number | string, number>
  readonly exactly: Map<number | string, number>
  /** By deck: on it. */
  readonly decks: (number | undefined)[]
}

/** Thrown by a compile that ran out of time. */
export class OutOfTime extends Error {}

export class Model {
  readonly problem: Problem
  readonly e = new Engine()
  bodies: Body[] = []
  readonly explaining: boolean
  readonly instances: Instance[] = []
  /** On decks. */
  readonly relations: Relations[] = []
  /** Of two plug-in parts on a deck: which of these keep their bodies apart. */
  readonly gaps = new Map<Body, Map<Body, Relations>>()
  /** On breadboards, in their own frames. */
  readonly onBoards: Relations[] = []
  readonly links: Link[] = []
  /** From a relation's variable to those that it is one of. */
  readonly relationOf: (Relations | undefined)[] = []
  readonly statics: StaticTests
  /** Where bodies need only be tried, on decks on which every layout can be pushed left and back. */
  normal: ((item: number, axis: 'x' | 'y') => Int32Array) | undefined
  /** Made by `wireEnds` and `chainsOf` when first asked for. */
  wires?: readonly WireEnds[]
  readonly chains = new Map<number, readonly Chain[]>()
  /** Items that need not keep apart from all others: what takes no room for sure. */
  readonly loose = new Set<number>()
  /** Items of which the first ones are placed, by index, ascending. */
  alike: readonly (readonly number[])[] = []
  /** Of every pair of plug-in parts that may both cover a tie point: how many of the most that could be they do not; none of ordinary parts. */
  readonly coveredTwice: Axis[] = []
  private readonly groups: (Groups | undefined)[] = []
  private readonly paired: ModePairs
  private readonly ends = new WeakMap<(m: Mode) => Rect, Map<string, Sides>>()
  readonly classes: { readonly lit: number; readonly body: Body; readonly modes: readonly Mode[] }[] = []

  /** Asked now and then while compiling. */
  private readonly over: () => boolean
  private readonly asks: Asks | undefined
  private ticks = 0

  constructor(problem: Problem, explaining: boolean, over: () => boolean = () => false, asks?: Asks) {
    this.over = over
    this.asks = asks
    this.problem = problem
    this.explaining = explaining
    this.statics = new StaticTests(this)
    this.paired = new ModePairs(problem.items.length)
  }

  /** Called often while compiling; throws `OutOfTime` once the caller's time is over. */
  tick(): void {
    if ((++this.ticks & 255) === 0 && this.over()) throw new OutOfTime()
  }

  /** Of each item as much as of its copies. */
  get asksAll(): boolean {
    return this.asks === undefined
  }

  /** The literal behind which a rule's instance binds; FALSE where it is not asked. */
  instance(rule: string, items: readonly string[], text: () => string): number {
    if (!this.explaining) return (this.asks?.(rule, items, text) ?? true) ? TRUE : FALSE
    const guard = this.e.newBool()
    this.instances.push({ rule, items, text, guard })
    return guard
  }

  /**
   * Legal corner positions of a body: all tests of all rules must pass. The more there are of them, the simpler each, the sooner each is
   * settled. `turned`: it asks something else of turns that are the same to the deck, and of copies; of such turns it binds as much as any does.
   */
  addStatic(body: Body, guard: number, test: (mode: Mode) => Asked, turned = false): void {
    this.statics.add(body, guard, test, turned)
  }

  /** True when the body is in one of these modes; implied by each of them, and no more: only ever a condition, never a conclusion. */
  group(body: Body, modes: readonly Mode[]): number {
    if (modes.length === body.modes.length) return body.present
    if (modes.length === 1) return modes[0]!.lit
    if (!this.explaining && this.wholeDeck(body, modes)) return this.class(body, modes)
    const groups = this.groupsOf(body).any
    const key = choiceOf(body, modes)
    let g = groups.get(key)
    if (g === undefined) {
      g = this.e.newBool()
      for (const m of modes) this.e.addClause([this.e.not(m.lit), g])
      groups.set(key, g)
    }
    return g
  }

  /** All of a body's modes on one deck? */
  private wholeDeck(body: Body, modes: readonly Mode[]): boolean {
    const deck = modes[0]!.deck
    return modes.every((m) => m.deck === deck) && body.modes.every((m) => m.deck !== deck || modes.includes(m))
  }

  /** True exactly when the body stands on a deck that it has modes for. Reasons that name the deck instead of each mode elsewhere hold for all turns. */
  onDeck(body: Body, deck: number): number {
    const { decks } = this.groupsOf(body)
    let on = decks[deck]
    if (on === undefined) {
      const modes = body.modes.filter((m) => m.deck === deck)
      on = modes.length === body.modes.length ? body.present : this.class(body, modes)
      decks[deck] = on
    }
    return on
  }

  /** What a plug-in part is plugged into in every mode that is left to it, if that is one. */
  hostOf(body: Body): Body | undefined {
    const open = body.modes.filter((m) => !this.e.isFalse(m.lit))
    const host = this.bodies[open[0]?.host ?? -1]
    return open.every((m) => m.host === host?.index) ? host : undefined
  }

  /** A body's coordinate with an offset for each of its modes; modes of equal offset are one class, so that what is learned of one holds for all. */
  end(body: Body, axis: 'x' | 'y', offsets: readonly number[]): End {
    const values = [...new Set(offsets)]
    if (values.length < 2) return fixedEnd(body[axis], values[0] ?? 0)
    const modes = values.map((v) =>
      this.class(
        body,
        body.modes.filter((_, i) => offsets[i] === v),
      ),
    )
    return { axis: body[axis], modes, offsets: values, classOf: offsets.map((o) => values.indexOf(o)), last: 0 }
  }

  private groupsOf(body: Body): Groups {
    let known = this.groups[body.index]
    if (!known) {
      known = { any: new Map(), exactly: new Map(), decks: [] }
      this.groups[body.index] = known
    }
    return known
  }

  /** True exactly when the body is in one of these modes. */
  class(body: Body, modes: readonly Mode[]): number {
    if (modes.length === 1) return modes[0]!.lit
    const groups = this.groupsOf(body).exactly
    const key = choiceOf(body, modes)
    let c = groups.get(key)
    if (c === undefined) {
      c = this.e.newBool()
      for (const m of modes) this.e.addClause([this.e.not(m.lit), c])
      this.e.addClause([this.e.not(c), ...modes.map((m) => m.lit)])
      groups.set(key, c)
      this.classes.push({ lit: c, body, modes })
    }
    return c
  }

  /** The pairs of modes that `active` picks, gathered. It may look at decks, hosts and heights alone. */
  pairs(as: readonly Mode[], bs: readonly Mode[], active: (ma: Mode, mb: Mode) => boolean): readonly Pair[] {
    return this.paired.of(as, bs, active)
  }

  /**
   * Two rectangles, each attached to a body and given per mode relative to its corner, keep `gap` along x or along y. `decided`: in which
   * modes the search decides how.
   */
  rectsApart(
    a: Body,
    rectA: (m: Mode) => Rect,
    b: Body,
    rectB: (m: Mode) => Rect,
    gap: number,
    active: (ma: Mode, mb: Mode) => boolean,
    guard: number,
    decided: (ma: Mode, mb: Mode) => boolean = active,
  ): Relations | undefined {
    this.tick()
    const rows = this.pairs(a.modes, b.modes, active)
    if (rows.length === 0) return undefined
    const [ea, eb] = [this.sides(a, rectA, gap), this.sides(b, rectB, gap)]
    const need = this.together(a, b, rows)
    const four = oneBeside(this.e, ea, eb, need)
    const lits = four.map((r) => r.lit)
    for (const row of rows)
      this.e.addClause([this.e.not(guard), this.e.not(this.group(a, row.a)), this.e.not(this.group(b, row.b)), ...lits])
    const holds = (r: Relation, where: ReadonlyMap<number, Placement>) =>
      r.holdsAt(a, where.get(a.index)!, b, where.get(b.index)!)
    const out = { a, b, active: decided, four, holds }
    this.oneOf(out, this.relations)
    return out
  }

  /** The search decides which of them is to hold. */
  oneOf(four: Relations, of: Relations[]): void {
    for (const r of four.four) this.relationOf[this.e.varOf(r.lit)] = four
    of.push(four)
  }

  /** The four sides of a rectangle that moves with a body, the high ones pushed out by `gap`. */
  private sides(body: Body, rect: (m: Mode) => Rect, gap: number): Sides {
    let known = this.ends.get(rect)
    if (!known) {
      known = new Map()
      this.ends.set(rect, known)
    }
    const key = `${body.index}/${gap}`
    let out = known.get(key)
    if (!out) {
      const rects = body.modes.map(rect)
      const end = (axis: 'x' | 'y', offset: (r: Rect) => number) => this.end(body, axis, rects.map(offset))
      out = {
        lowX: end('x', (r) => r.x),
        highX: end('x', (r) => r.x + r.w + gap),
        lowY: end('y', (r) => r.y),
        highY: end('y', (r) => r.y + r.h + gap),
      }
      known.set(key, out)
    }
    return out
  }

  /** A literal that is false once two bodies cannot be in any of these rows of modes; never made true. */
  private together(a: Body, b: Body, rows: readonly Pair[]): number {
    const { e } = this
    const both = e.newBool()
    const no = e.not(both)
    e.addClause([no, a.present])
    e.addClause([no, b.present])
    for (const [body, side] of [
      [a, 'a'],
      [b, 'b'],
    ] as const) {
      const count = rows.reduce((n, row) => n + row[side].length, 0)
      if (count < body.modes.length && rows.every((row) => this.wholeDeck(body, row[side])))
        e.addClause([no, ...rows.map((row) => this.onDeck(body, row[side][0]!.deck))])
    }
    for (const row of rows)
      if (row.b.length < b.modes.length && this.wholeDeck(a, row.a) && this.wholeDeck(b, row.b))
        e.addClause([no, e.not(this.onDeck(a, row.a[0]!.deck)), this.onDeck(b, row.b[0]!.deck)])
    return both
  }

  /** `need`: as in `Eager`. */
  relation(a: End, b: End, need?: number): Relation {
    return new Relation(this.e, this.e.newBool(), a, b, need)
  }

  /** A forbidden set of displacements b − a, in force when all of `when` are true. */
  apart(a: Spot | undefined, b: Spot, when: readonly number[], set: Forbidden): void {
    const open = when.filter((l) => l !== TRUE)
    new Apart(this.e, a, b, open, set)
  }

  /** An exact test of a few bodies, made when all of them stand still: the last word where pruning is only sound. */
  whenFixed(bodies: readonly Body[], when: readonly number[], test: (modes: readonly Mode[]) => boolean): void {
    new WhenFixed(this.e, bodies, when, test)
  }

  /** An exact test of the whole layout, made when everything that is placed stands still. */
  whenAllFixed(guard: number, test: () => boolean): void {
    new WhenAllFixed(this, guard, test)
  }

  /** Free tie points of the standing layout, each covered point counted once. */
  freeTiePoints(): number {
    let free = 0
    const covered = new Map<number, Set<number>>()
    for (const b of this.bodies) {
      if (!this.e.isTrue(b.present)) continue
      if (!b.seating) free += tieCount(b.footprint)
      else {
        const host = this.modeOf(b)!.host
        const seen = covered.get(host) ?? new Set()
        covered.set(host, seen)
        for (const t of seated(this.e, b, this.bodies[host]!.footprint)?.seat.covered ?? []) seen.add(t)
      }
    }
    for (const seen of covered.values()) free -= seen.size
    return free
  }

  modeOf(body: Body): Mode | undefined {
    return body.modes.find((m) => this.e.isTrue(m.lit))
  }
}

/** Where a body's corner stands (µm), once it does. */
export function cornerOf(e: Engine, body: Body): { readonly x: number; readonly y: number } {
  return { x: body.x.values[e.lb[body.x.v]!]!, y: body.y.values[e.lb[body.y.v]!]! }
}
