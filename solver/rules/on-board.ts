/**
 * What R2 and R6 ask of two parts on one breadboard, said once more in the board's own frame: in the deck's, who stands left of whom would
 * have to be found out anew for every place and turn of the board. Behind the same literals as the rules, where conflicts are explained.
 */
import type { Footprint, Placement } from '../problem.ts'
import { FALSE, TRUE } from '../search/engine.ts'
import type { Body, Mode, Model, Relations } from '../search/model.ts'
import { at } from '../search/parts.ts'
import {
  type Axis,
  type End,
  firstAtLeast,
  fixedEnd,
  oneBeside,
  type Relation,
  type Sides,
} from '../search/relation.ts'
import { boardsOf, hostsOf, pinsWithin } from '../search/seat-pairs.ts'
import { seatsOn } from '../search/seats.ts'
import { type Rect, type Turn, turnedSize, turnRect, um } from '../units.ts'
import { asked } from '../words-asked.ts'
import { apartText } from './r2-apart.ts'

/** Of a part that is turned so against its board, from the corner of its body. */
type Outline = (f: Footprint, turn: Turn) => Rect

const body: Outline = (f, turn) => ({ x: um(0), y: um(0), ...turnedSize(f.width, f.depth, turn) })

/** The box of the pins' middles. */
const pins: Outline = (f, turn) => {
  const points = f.plug!.pins.map((p) => at(f, p.at, turn))
  const [xs, ys] = [points.map((p) => p.x), points.map((p) => p.y)]
  const [x, y] = [Math.min(...xs), Math.min(...ys)]
  return { x: um(x), y: um(y), w: um(Math.max(...xs) - x), h: um(Math.max(...ys) - y) }
}

/** A point on an edge is covered: pins keep one Um off it. */
const OFF_EDGE = 1

/** Once all rules are posted. */
export function onBoard(model: Model): void {
  // a name may have blanks in it
  const key = (rule: string, ids: readonly string[]) => JSON.stringify([rule, ids])
  const guards = new Map(model.instances.map((n) => [key(n.rule, n.items), n.guard]))
  const of = (rule: string, text: () => string, ...ids: readonly string[]): number =>
    guards.get(key(rule, ids)) ?? model.instance(rule, ids, text)
  const plugs = model.bodies.filter((b) => b.seating && b.seating.ways.length > 0)
  const { itemClearance: gap } = model.problem
  plugs.forEach((a, i) => {
    for (const b of plugs.slice(i + 1)) {
      const [m, n] = [a.item.id, b.item.id]
      const seats = [m, n].map((id) => of('R6', () => asked.plugIn(id), id))
      const four = keepApart(model, [a, body], [b, body], gap, [of('R2', () => apartText(model, a, b), m, n), ...seats])
      if (four && !model.explaining && model.problem.wires.length > 0) onDeck(model, four)
      // within the body, its gap counted, they are off whatever keeps that gap
      for (const [p, q] of [
        [a, b],
        [b, a],
      ] as const)
        if (model.explaining || !pinsWithin(p.footprint, OFF_EDGE - gap))
          keepApart(model, [p, pins], [q, body], OFF_EDGE, seats, (board) => isBox(board, p.footprint, q.footprint))
    }
  })
}

/** By board, part and other part: is there a pin on a point that the other covers wherever the box of the pins meets its body? */
const boxes = new WeakMap<Footprint, Map<Footprint, Map<Footprint, boolean>>>()

/** Not so of pins far from one another: what is between them may sit there. */
function isBox(board: Footprint, part: Footprint, other: Footprint): boolean {
  const parts = boxes.get(board) ?? new Map<Footprint, Map<Footprint, boolean>>()
  boxes.set(board, parts)
  const others = parts.get(part) ?? new Map<Footprint, boolean>()
  parts.set(part, others)
  const box = others.get(other) ?? isBoxOn(board, part, other)
  others.set(other, box)
  return box
}

function isBoxOn(board: Footprint, part: Footprint, other: Footprint): boolean {
  const others = [...seatsOn(other, board)].sort((s, t) => s.u - t.u)
  const us = others.map((t) => t.u)
  const widest = Math.max(other.width, other.depth)
  return seatsOn(part, board).every((s) => {
    const own = new Set(s.pins)
    const box = pins(part, s.turn)
    const [left, low] = [s.u + box.x, s.v + box.y]
    for (let i = firstAtLeast(us, left - widest); i < us.length && us[i]! <= left + box.w; i++) {
      const t = others[i]!
      const { w, h } = body(other, t.turn)
      const meets = t.u + w >= left && t.v <= low + box.h && t.v + h >= low
      if (meets && !t.covered.some((k) => own.has(k))) return false
    }
    return true
  })
}

/** With all of `guards`, and both on one of the boards that `asks` picks, there is a gap between the two along u or along v. */
function keepApart(
  model: Model,
  [a, ofA]: readonly [Body, Outline],
  [b, ofB]: readonly [Body, Outline],
  gap: number,
  guards: readonly number[],
  asks: (board: Footprint) => boolean = () => true,
): Relations | undefined {
  const { e } = model
  const hosts = hostsOf(model, a, b).filter((h) => asks(h.footprint))
  if (hosts.length === 0 || guards.includes(FALSE)) return undefined
  const [p, q] = [sides(a, ofA, gap), sides(b, ofB, gap)]
  // false once they cannot be on one board
  const both = e.newBool()
  for (const { present } of [a, b]) e.addClause([e.not(both), present])
  for (const { lits } of hosts)
    for (const [on, other] of [lits, [lits[1], lits[0]]] as const) e.addClause([e.not(both), e.not(on), other])
  const four = oneBeside(e, p, q, both)
  const either = four.map((r) => r.lit)
  for (const { lits } of hosts)
    e.addClause([...[...guards, ...lits].filter((l) => l !== TRUE).map((l) => e.not(l)), ...either])
  const on = new Set(hosts.map((h) => h.host))
  const active = (ma: Mode, mb: Mode) => ma.host === mb.host && on.has(ma.host)
  const holds = (r: Relation, where: ReadonlyMap<number, Placement>) =>
    placeOf(model, a, b, r.a, where) <= placeOf(model, a, b, r.b, where)
  const out = { a, b, active, four, holds }
  model.oneOf(out, model.onBoards)
  return out
}

/** By the board's turn: which of the four on the deck is each of the four on the board. */
const ON_DECK = [
  [0, 1, 2, 3],
  [2, 3, 1, 0],
  [1, 0, 3, 2],
  [3, 2, 0, 1],
] as const

/** What is decided on the board is so on the deck, which bounds of wires look at. */
function onDeck(model: Model, { a, b, four }: Relations): void {
  const { e } = model
  const there = model.gaps.get(a)?.get(b)
  if (!there) return
  for (const board of boardsOf(model, a, b)) {
    const on = [a, b].map((x) =>
      model.group(
        x,
        x.modes.filter((m) => m.host === board.index),
      ),
    )
    for (const turn of new Set(board.modes.map((m) => m.turn))) {
      const turned = model.group(
        board,
        board.modes.filter((m) => m.turn === turn),
      )
      const both = [...on, turned].map((l) => e.not(l))
      four.forEach((r, k) => void e.addClause([...both, e.not(r.lit), there.four[ON_DECK[turn][k]!]!.lit]))
    }
  }
}

/** Of one end of a relation in a layout, in the frame of the board on which its part is. */
function placeOf(model: Model, a: Body, b: Body, end: End, where: ReadonlyMap<number, Placement>): number {
  const part = end.axis === a.seating!.u || end.axis === a.seating!.v ? a : b
  const { ways, u } = part.seating!
  const own = where.get(part.index)!
  const board = where.get(own.host!)!
  const f = model.problem.items[board.item]!.footprint
  const turn = ((own.turn - board.turn + 4) & 3) as Turn
  const size = turnedSize(part.footprint.width, part.footprint.depth, own.turn)
  const turned = turnedSize(f.width, f.depth, board.turn)
  const on = { x: um(own.at.x - board.at.x), y: um(own.at.y - board.at.y), ...size }
  const r = turnRect(on, turned.w, turned.h, ((4 - board.turn) & 3) as Turn)
  const way = end.modes.length === 0 ? 0 : ways.findIndex((w) => w.footprint === f && w.turn === turn)
  return (end.axis === u ? r.x : r.y) + end.offsets[way]!
}

/** The sides of a part's outline on its board, the high ones pushed out by `gap`; x is along u. */
function sides({ footprint, seating }: Body, outline: Outline, gap: number): Sides {
  const { u, v, ways } = seating!
  const outlines = ways.map((w) => outline(footprint, w.turn))
  const side = (axis: Axis, offset: (r: Rect) => number): End => {
    const offsets = outlines.map(offset)
    if (offsets.every((o) => o === offsets[0])) return fixedEnd(axis, offsets[0]!)
    // a class for each way: the modes it speaks of are ways to sit
    return { axis, modes: ways.map((w) => w.lit), offsets, classOf: [], last: 0 }
  }
  return {
    lowX: side(u, (r) => r.x),
    highX: side(u, (r) => r.x + r.w + gap),
    lowY: side(v, (r) => r.y),
    highY: side(v, (r) => r.y + r.h + gap),
  }
}
