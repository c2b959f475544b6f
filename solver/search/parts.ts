/** A footprint's parts after a turn, relative to the turned body's lower-left corner. */
import { mountCuts, mountHoles } from '../mount.ts'
import type { Breadboard, Footprint, Mount } from '../problem.ts'
import type { Point, Rect, Turn, Um } from '../units.ts'
import { turnedSize, turnPoint, turnRect, um } from '../units.ts'

export const at = (f: Footprint, p: Point, turn: Turn): Point => turnPoint(p, f.width, f.depth, turn)

export const rectAt = (f: Footprint, r: Rect, turn: Turn): Rect => turnRect(r, f.width, f.depth, turn)

/** Underside over the deck's top face, for parts that stand on the deck. */
export function undersideOf(mount: Mount): number {
  if (mount.kind === 'screw') return mount.standoff
  return mount.kind === 'drop-in' ? -mount.below : 0
}

export interface TiePoint {
  readonly x: number
  readonly y: number
  /** Points with the same strip number are one conductor. */
  readonly strip: number
}

/** All tie points in the footprint's frame. */
export function tiePoints(b: Breadboard): TiePoint[] {
  const out: TiePoint[] = []
  let strips = 0
  for (const block of b.blocks) {
    for (let i = 0; i < block.columns; i++)
      for (let j = 0; j < block.rows; j++)
        out.push({
          x: block.at.x + i * b.pitch,
          y: block.at.y + j * b.pitch,
          strip: strips + (block.strip === 'column' ? i : j),
        })
    strips += block.strip === 'column' ? block.columns : block.rows
  }
  return out
}

export const tieCount = (f: Footprint): number =>
  f.breadboard ? f.breadboard.blocks.reduce((n, b) => n + b.columns * b.rows, 0) : 0

/** True when nothing tells the footprint at turn `a` from itself at turn `b` (its terminals aside). */
export function sameAfterTurn(f: Footprint, a: Turn, b: Turn): boolean {
  if (f.head || f.plug || f.corridors.length > 0) return false
  return look(f, a).all === look(f, b).all
}

/** True when the deck cannot tell the footprint at turn `a` from itself at turn `b`: as large, and the same holes and cuts. */
export function sameOnDeck(f: Footprint, a: Turn, b: Turn): boolean {
  return a === b || (!f.head && look(f, a).deck === look(f, b).deck)
}

/** What can be told of a footprint at a turn: by what it stands on, and by all. */
interface Look {
  readonly deck: string
  readonly all: string
}

const looks = new WeakMap<Footprint, (Look | undefined)[]>()

function look(f: Footprint, turn: Turn): Look {
  let known = looks.get(f)
  if (!known) {
    known = []
    looks.set(f, known)
  }
  known[turn] ??= lookAt(f, turn)
  return known[turn]
}

function lookAt(f: Footprint, turn: Turn): Look {
  const size = turnedSize(f.width, f.depth, turn)
  const holes = mountHoles(f.mount).map((h) => {
    const p = at(f, h.at, turn)
    return `${p.x},${p.y},${h.diameter},${h.land}`
  })
  const cuts = mountCuts(f.mount).map((r) => {
    const t = rectAt(f, r, turn)
    return `${t.x},${t.y},${t.w},${t.h}`
  })
  const strips = new Map<number, string[]>()
  for (const t of f.breadboard ? tiePoints(f.breadboard) : []) {
    const p = at(f, { x: um(t.x), y: um(t.y) }, turn)
    const list = strips.get(t.strip)
    if (list) list.push(`${p.x},${p.y}`)
    else strips.set(t.strip, [`${p.x},${p.y}`])
  }
  const ties = [...strips.values()].map((s) => s.sort().join(' ')).sort()
  const deck = JSON.stringify([size, holes.sort(), cuts.sort()])
  return { deck, all: `${deck} ${ties.join('; ')}` }
}

/** Lower-left corner, in the turned host's frame, of a `w` × `h` rectangle at (u, v) of the unturned host. */
export function onTurnedHost(host: Footprint, u: number, v: number, w: number, h: number, turn: Turn): Point {
  const r = turnRect({ x: um(u), y: um(v), w: um(w), h: um(h) }, host.width, host.depth, turn)
  return { x: r.x as Um, y: r.y as Um }
}

/** Those that are the same, together, in the order in which they come. */
export function gathered<T>(list: readonly T[], same: (a: T, b: T) => boolean): T[][] {
  const out: T[][] = []
  for (const one of list) {
    const like = out.find(([first]) => same(first!, one))
    if (like) like.push(one)
    else out.push([one])
  }
  return out
}
