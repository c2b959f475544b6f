/**
 * The rule `joined`, for a solve: a pin that sits in a board is joined by a contact of its strip, so one must be free for each lead
 * that it needs. What is in the way is what the plan of contacts (strips.ts) finds. A finding names the part and whatever else covers
 * the strip, and at which of their seats on the board they do so still; where the boards stand does not matter.
 */
import {
  isHost,
  type LazyFinding,
  type LazyRule,
  layoutOf,
  type Placement,
  type Problem,
  type Seated,
} from '../../solver/index.ts'
import { netlistOf } from './netlist.ts'
import { blockedStrips } from './strips.ts'
import type { Boards } from './strips-boards.ts'
import { type Known, type Need, needOf } from './strips-needs.ts'
import { rangeOf, type Seat, type Seats, seatsOf } from './strips-seats.ts'
import { strips as words } from './words.ts'

export const joinedRule: LazyRule = {
  name: 'joined',
  text: words.rule,
  // a search learns from the first, and asks again; of what no seat can mend it could learn only that there is no layout
  find: (problem, placements) => {
    for (const finding of unjoined(problem, placements)) if (!finding.anySeat) return [finding]
    return []
  },
}

/** `anySeat`: the part shuts in its own pins wherever it is plugged in. */
export interface Unjoined extends LazyFinding {
  readonly anySeat: boolean
}

/** Whether any part is plugged in that a net or a wire could name. */
export const canBlock = (problem: Problem): boolean =>
  problem.items.some((i) => i.footprint.mount.kind === 'plug-in') &&
  (problem.nets?.length ?? 0) + problem.wires.length > 0

/** Every strip that leaves no contact for what has to be joined to it, as far as that is sure to be so in other layouts too. */
export function* unjoined(problem: Problem, placements: readonly Placement[]): Generator<Unjoined> {
  if (!canBlock(problem)) return
  const netlist = netlistOf(problem, placements)
  const { boards, blocked } = blockedStrips(problem, placements, netlist)
  if (blocked.length === 0) return
  const layout = layoutOf(problem, placements)
  const known: Known = {
    problem,
    netlist,
    isPlaced: (item) => layout.bodyOf.has(item),
    isShut: (item, pin) => boards.seatOf.get(`${item} ${pin}`)?.contact.strip.free.size === 0,
  }
  for (const { finding, pins } of blocked)
    for (const { item, pad } of pins) {
      const need = needOf(known, item, pad)
      const found = need && causeOf(new Plugged(problem, layout, boards), item, need)
      if (!found) continue
      yield { text: finding.text, ...found }
      break
    }
}

/** A part where it sits. */
interface Sitting {
  readonly seats: Seats
  readonly seat: Seat
  readonly host: number
}

class Plugged {
  private readonly found = new Map<number, Sitting | undefined>()

  constructor(
    readonly problem: Problem,
    private readonly layout: ReturnType<typeof layoutOf>,
    readonly boards: Boards,
  ) {}

  /** Undefined where it sits in no board, or not on its contacts. */
  of(item: number): Sitting | undefined {
    if (!this.found.has(item)) this.found.set(item, this.find(item))
    return this.found.get(item)
  }

  on(host: number): number[] {
    return this.layout.bodies.flatMap((b) => (b.host === host ? [b.index] : []))
  }

  private find(item: number): Sitting | undefined {
    const part = this.layout.bodyOf.get(item)
    const board = part?.host === undefined ? undefined : this.layout.bodyOf.get(part.host)
    if (!part || !board) return undefined
    const turn = ((part.placement.turn - board.placement.turn + 4) & 3) as Placement['turn']
    const seats = seatsOf(this.problem, item, board.index, turn)
    const { x, y, w, h } = part.rect
    const [rx, ry] = [x - board.rect.x, y - board.rect.y]
    const { width, depth } = board.item.footprint
    // the turned corner (contract, frame), turned back
    const [u, v] = [
      [rx, ry],
      [ry, depth - rx - w],
      [width - rx - w, depth - ry - h],
      [width - ry - h, rx],
    ][board.placement.turn] as [number, number]
    const seat = seats.at.get(`${u} ${v}`)
    return seat && { seats, seat, host: board.index }
  }
}

/** What alone is enough: the part, what covers the rest of the strips of those pins, and the other ends where these may be left out. */
function causeOf(plugged: Plugged, item: number, need: Need): Omit<Unjoined, 'text'> | undefined {
  const { problem, boards } = plugged
  const own = plugged.of(item)
  if (!own) return undefined
  const contacts = boards.contactsOf(own.host)
  const strips = need.pins.map((pin) => own.seats.stripOf[own.seat.pins[pin]!]!)
  const isShut = (pin: number) => contacts[own.seat.pins[pin]!]!.strip.free.size < need.contacts
  if (!need.pins.every(isShut)) return undefined
  const under = new Map<number, number[]>()
  let filled = false
  for (const tie of new Set(strips.flatMap((s) => own.seats.strips[s]!))) {
    const contact = contacts[tie]!
    if (contact.strip.free.has(contact)) continue
    const by = [item, ...under.keys(), ...plugged.on(own.host)].find((i) => plugged.of(i)?.seat.covered.has(tie))
    // else one of the project's wires ends in it, or it is covered by what sits askew, which is no layout
    if (by === undefined) filled = true
    else under.set(by, [...(under.get(by) ?? []), tie])
  }
  const others = [...under.keys()].filter((i) => i !== item)
  const anywhere = new Set<number>()
  const apart = new Set<number>()
  const isOff = (s: Seat): boolean => s.pins.every((tie) => !strips.includes(own.seats.stripOf[tie]!))
  for (const { always, others: ends } of need.far) {
    if (always) continue
    // nothing can sit in the strip but what covers it, and that does not as long as its pins stay off it
    const sure = ends.filter((o) => !others.includes(o.item) || isOff(plugged.of(o.item)!.seat))
    const best = sure.find((o) => !o.named) ?? sure[0]
    if (!best) return undefined
    if (others.includes(best.item)) apart.add(best.item)
    else if (best.named) anywhere.add(best.item)
  }
  const alone = others.length === 0 && !filled
  const { footprint } = problem.items[own.host]!
  const anyHost = alone && problem.items.every((i) => i.footprint !== footprint || !i.later)
  const seated = new Map<number, Seated>()
  const shut = isShutBy(own.seats, need)
  const mine = under.get(item) ?? []
  const stays = (s: Seat): boolean =>
    need.pins.every((pin, k) => own.seats.stripOf[s.pins[pin]!] === strips[k]) && mine.every((t) => s.covered.has(t))
  seated.set(item, { ...rangeOf(own.seats, own.seat, alone ? shut : stays), anyHost })
  for (const other of others) {
    const { seats, seat } = plugged.of(other)!
    const ties = under.get(other)!
    const covers = (s: Seat): boolean => ties.every((t) => s.covered.has(t)) && (!apart.has(other) || isOff(s))
    seated.set(other, { ...rangeOf(seats, seat, covers), anyHost: false })
  }
  const anySeat = alone && allSeats(problem, item).every((seats) => [...seats.at.values()].every(isShutBy(seats, need)))
  return { placements: [item, ...others, ...anywhere].sort((a, b) => a - b), seated, anywhere, anySeat }
}

/** Whether the part alone covers the strips of those pins, at a seat. */
const isShutBy =
  ({ strips, stripOf }: Seats, need: Need) =>
  (s: Seat): boolean =>
    need.pins.every((pin) => {
      const members = strips[stripOf[s.pins[pin]!]!]!
      return members.filter((tie) => !s.covered.has(tie)).length < need.contacts
    })

/** Of a part on every board that is there to be plugged into, at each turn. */
const allSeats = (problem: Problem, item: number): Seats[] =>
  problem.items.flatMap((host, h) =>
    isHost(host) && !host.later ? ([0, 1, 2, 3] as const).map((turn) => seatsOf(problem, item, h, turn)) : [],
  )
