/**
 * What stands on a deck has no more area than the deck, also after every side has been scaled conservatively: sides over
 * W − ε count as W, sides under ε as nothing (dual feasible functions, Fekete & Schepers 2004). Implied by R1 and R2, and
 * seen long before any two bodies meet.
 */
import type { Item, Problem } from '../problem.ts'
import { deckShapes } from '../rules/deck.ts'
import { TRUE } from '../search/engine.ts'
import { Linear } from '../search/linear.ts'
import type { Mode, Model } from '../search/model.ts'
import { type Rect, type Turn, turnedSize } from '../units.ts'
import { grown } from './grown.ts'

export interface Size {
  readonly w: number
  readonly h: number
}

/** The room of a deck's box in grid cells, every start and end rounded up (see cells.ts). */
export function sheetOf(box: Rect, { grid, edgeClearance: edge, itemClearance: gap }: Problem): Size {
  const cells = (low: number, size: number) =>
    Math.max(0, Math.ceil((low + size - edge + gap) / grid) - Math.ceil((low + edge) / grid))
  return { w: cells(box.x, box.w), h: cells(box.y, box.h) }
}

/** What an item takes at least, in cells; one that stands off the grid may save a part of one. */
export function pieceOf(item: Item, turn: Turn, { grid, itemClearance: gap }: Problem): Size {
  const size = turnedSize(item.footprint.width, item.footprint.depth, turn)
  const off = item.place.some((p) => p.kind === 'at' || p.kind === 'centred')
  const cells = (length: number) => (off ? Math.floor : Math.ceil)((length + gap) / grid)
  return { w: cells(size.w), h: cells(size.h) }
}

/** The most scales tried along one axis. */
const SCALES = 8

interface Piece {
  readonly lit: number
  /** One a turn that the body may have here. */
  readonly sizes: readonly Size[]
}

export function roomOn(model: Model): void {
  const { problem, e } = model
  deckShapes(problem).forEach((d, index) => {
    const { w: W, h: H } = sheetOf(d.box, problem)
    const plain = model.bodies.flatMap((body): Piece[] => {
      const modes = body.modes.filter((m) => m.deck === index)
      const out = Object.values(body.item.overhang).some((o) => o > 0)
      if (modes.length === 0 || body.footprint.mount.kind === 'plug-in' || out || model.loose.has(body.index)) return []
      const sizes = modes.map((m: Mode) => pieceOf(body.item, m.turn, problem))
      return [{ lit: e.not(model.group(body, modes)), sizes }]
    })
    const larger = grown(
      plain.map((p) => p.sizes),
      { w: W, h: H },
    )
    const pieces = plain.map((p, i): Piece => ({ lit: p.lit, sizes: larger[i]! }))
    const seen = new Set<string>()
    const xs = scales(
      W,
      pieces.flatMap((p) => p.sizes.map((s) => s.w)),
    )
    const ys = scales(
      H,
      pieces.flatMap((p) => p.sizes.map((s) => s.h)),
    )
    for (const x of xs)
      for (const y of ys) {
        const room = x.whole * y.whole
        const terms = pieces.flatMap((p) => {
          // whichever way it is turned, it takes at least this much
          const coef = Math.min(...p.sizes.map((s) => x.size(s.w) * y.size(s.h)))
          return coef > 0 ? [{ lit: p.lit, coef }] : []
        })
        const sum = terms.reduce((n, t) => n + t.coef, 0)
        const key = terms.map((t) => `${t.lit}:${t.coef}`).join()
        if (sum <= room || seen.has(key)) continue
        seen.add(key)
        new Linear(e, terms, [], sum - room, TRUE)
      }
  })
}

/** A conservative scale: sides that fit side by side into the deck still do after it. */
export interface Scale {
  /** The deck's side after it. */
  readonly whole: number
  size(side: number): number
}

/**
 * Scales worth trying, plain length first: with ε just over each side that is at most half, sides over `whole` − ε count as
 * whole and sides under ε as nothing; with k, a side counts by how many of 1 ⁄ (k + 1) it is over (u⁽ᵏ⁾ there).
 */
export function scales(whole: number, sides: readonly number[], most = SCALES): Scale[] {
  const plain = { whole, size: (side: number) => side }
  // no room at all: nothing to divide by
  if (whole <= 0) return [plain]
  const halves = [...new Set(sides.flatMap((s) => (s <= whole / 2 ? [s, s + 1] : [whole - s + 1])))]
    .filter((s) => s > 0 && s <= whole / 2)
    .sort((a, b) => a - b)
  const step = Math.max(1, Math.ceil(halves.length / most))
  const cut = halves
    .filter((_, i) => i % step === 0)
    .map((e) => ({ whole, size: (side: number) => (side > whole - e ? whole : side < e ? 0 : side) }))
  const parts = [1, 2, 3].map((k) => ({
    whole: k * whole,
    size: (side: number) => (((k + 1) * side) % whole === 0 ? k * side : Math.floor(((k + 1) * side) / whole) * whole),
  }))
  return [plain, ...cut, ...(most > SCALES ? parts : parts.slice(0, 2))]
}
