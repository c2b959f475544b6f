/**
 * The breadboards of a layout as conductors: which contacts are one strip, what they are called, and which are free. The groups of
 * a rail are one conductor only where the footprint says so (`joined`); but two nets never go on one rail, for they may be.
 */
import {
  type Body,
  coveredPoints,
  isHost,
  isOnTiePoint,
  type layoutOf,
  type Point,
  pinsOn,
  pointOn,
  tiePointAt,
  tiePointsOn,
  um,
} from '../../solver/index.ts'
import { called } from './words.ts'

type Layout = ReturnType<typeof layoutOf>

export interface Contact {
  readonly board: number
  readonly strip: Strip
  /** As people count them: `c7` = row c, column 7; `rail 2, 7`. */
  readonly name: string
  /** In the footprint's and in the deck's frame. */
  readonly own: Point
  readonly at: Point
}

export interface Seat {
  readonly item: number
  /** Index of the pin. */
  readonly pin: number
  readonly contact: Contact
}

export interface Strip {
  readonly board: number
  readonly contacts: Contact[]
  /** All strips of one rail have one; a column has its own. */
  readonly line: string
  readonly rail: boolean
  readonly seats: Seat[]
  /** Contacts that nothing covers or sits in, and in which no wire of the project ends. */
  readonly free: Set<Contact>
}

export interface Boards {
  readonly strips: readonly Strip[]
  /** By item and pin: `3 0`. */
  readonly seatOf: ReadonlyMap<string, Seat>
  /** The contact at a point of a board's footprint, to 0.01 mm. */
  readonly contactAt: (board: number, own: Point) => Contact | undefined
  /** Of a board, in the order of `tiePointsOn`. */
  readonly contactsOf: (board: number) => readonly Contact[]
}

/** Boards that come `later` are no boards yet, and parts that come later keep their contacts covered. */
export function boardsOf(layout: Layout): Boards {
  const hosts = layout.bodies.filter((b) => isHost(b.item) && !b.item.later)
  const strips: Strip[] = []
  const contacts = new Map<number, Contact[]>()
  const seatOf = new Map<string, Seat>()
  for (const host of hosts) {
    const mine = contactsOf(host, strips)
    contacts.set(host.index, mine)
    const points = tiePointsOn(host.item.footprint, host.placement)
    for (const part of layout.bodies) {
      if (part.host !== host.index) continue
      for (const i of coveredPoints(part, points)) mine[i]!.strip.free.delete(mine[i]!)
      if (part.item.later) continue
      pinsOn(part.item.footprint, part.placement).forEach((at, pin) => {
        const contact = mine[tiePointAt(points, at, pin === 0)]
        if (!contact) return
        const seat = { item: part.index, pin, contact }
        contact.strip.seats.push(seat)
        seatOf.set(`${part.index} ${pin}`, seat)
      })
    }
  }
  const contactAt = (board: number, own: Point) => contacts.get(board)?.find((c) => isOnTiePoint(own, c.own))
  // what the project's own wires end in is taken
  for (const wire of layout.problem.wires)
    for (const end of [wire.from, wire.to]) {
      if (end.kind !== 'item' || end.ref.items.length !== 1) continue
      const c = contactAt(end.ref.items[0]!, end.at)
      c?.strip.free.delete(c)
    }
  return { strips, seatOf, contactAt, contactsOf: (board) => contacts.get(board) ?? [] }
}

/** Contacts in the order of `tiePointsOn`; their strips are added to `strips`. */
function contactsOf(host: Body, strips: Strip[]): Contact[] {
  const { footprint } = host.item
  const { blocks, pitch, joined } = footprint.breadboard!
  const names = namer(footprint.breadboard!)
  const strip = new Map<string, Strip>()
  const contacts: Contact[] = []
  blocks.forEach((block, b) => {
    const rail = block.strip === 'row'
    // A block that is joined goes by the first of its group.
    const first = rail ? (joined?.find((g) => g.includes(b))?.[0] ?? b) : b
    for (let i = 0; i < block.columns; i++) {
      for (let j = 0; j < block.rows; j++) {
        const own = { x: um(block.at.x + i * pitch), y: um(block.at.y + j * pitch) }
        const key = rail ? `${first} row ${j}` : `${b} column ${i}`
        let s = strip.get(key)
        if (!s) {
          const line = `${host.index} ${rail ? `rail ${own.y}` : key}`
          s = { board: host.index, contacts: [], line, rail, seats: [], free: new Set() }
          strip.set(key, s)
          strips.push(s)
        }
        const at = pointOn(footprint, host.placement, own)
        const contact: Contact = { board: host.index, strip: s, name: names(rail, own), own, at }
        s.contacts.push(contact)
        s.free.add(contact)
        contacts.push(contact)
      }
    }
  })
  return contacts
}

/** Columns are numbered from the left, rows lettered and rails numbered from the back, as drawn at turn 0. */
function namer(board: NonNullable<Body['item']['footprint']['breadboard']>) {
  const places = (rail: boolean, axis: 'x' | 'y'): number[] => {
    const all = board.blocks
      .filter((b) => (b.strip === 'row') === rail)
      .flatMap((b) => Array.from({ length: axis === 'x' ? b.columns : b.rows }, (_, k) => b.at[axis] + k * board.pitch))
    return [...new Set(all)].sort((a, b) => a - b)
  }
  const x = { rail: places(true, 'x'), hole: places(false, 'x') }
  const y = { rail: places(true, 'y'), hole: places(false, 'y') }
  return (rail: boolean, own: Point): string =>
    rail
      ? called.rail(y.rail.indexOf(own.y) + 1, x.rail.indexOf(own.x) + 1)
      : `${letter(y.hole.indexOf(own.y))}${x.hole.indexOf(own.x) + 1}`
}

/** a … z, then aa, ab … */
const letter = (k: number): string =>
  (k < 26 ? '' : String.fromCharCode(96 + Math.floor(k / 26))) + String.fromCharCode(97 + (k % 26))
