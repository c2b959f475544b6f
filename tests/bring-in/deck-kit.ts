/** Decks for the tests of bringing in, and how far two of them are from one another, by the solver's geometry. */

import { type ShapeFile, shapeToSolver } from '../../footprints/fields.ts'
import { boundaryDistance, outlineOf, prepare } from '../../solver/shapes.ts'
import { bringInDeck, type DeckBroughtIn, type DeckOptions } from '../../src/bring-in/deck.ts'
import type { ProjectDeck } from '../../src/model/index.ts'

/** What was brought in; a refusal fails the test with its words. */
export function taken(
  source: string | Uint8Array,
  name: string,
  options: DeckOptions = {},
): Extract<DeckBroughtIn, { ok: true }> {
  const got = bringInDeck(source, name, options)
  if (!got.ok)
    throw new Error(
      got.problems.map((p) => `${p.line}: ${p.path}: found ${p.found}, expected ${p.expected}`).join('\n'),
    )
  return got
}

/** The refusal; a deck fails the test. */
export function refused(
  source: string | Uint8Array,
  name: string,
  options: DeckOptions = {},
): Extract<DeckBroughtIn, { ok: false }> {
  const got = bringInDeck(source, name, options)
  if (got.ok) throw new Error(`taken: ${JSON.stringify(got).slice(0, 400)}`)
  return got
}

/** Largest distance, mm, of a point on the one boundary from the other boundary, both ways. */
export function apart(a: ShapeFile, b: ShapeFile): number {
  return Math.max(oneWay(a, b), oneWay(b, a))
}

function oneWay(from: ShapeFile, to: ShapeFile): number {
  const region = prepare(shapeToSolver(to))
  let most = 0
  for (const e of outlineOf(shapeToSolver(from))) {
    for (let k = 0; k <= 12; k++) {
      const t = k / 12
      const angle = e.arc ? Math.atan2(e.y0 - e.arc.cy, e.x0 - e.arc.cx) + e.arc.sweep * t : 0
      const x = e.arc ? e.arc.cx + e.arc.r * Math.cos(angle) : e.x0 + (e.x1 - e.x0) * t
      const y = e.arc ? e.arc.cy + e.arc.r * Math.sin(angle) : e.y0 + (e.y1 - e.y0) * t
      most = Math.max(most, boundaryDistance(region, x, y))
    }
  }
  return most / 1000
}

/**
 * Largest distance, mm, between two decks: outlines, openings and holes paired with the nearest of the other. Infinity where the
 * numbers of openings or holes differ.
 */
export function deckApart(a: ProjectDeck, b: ProjectDeck): number {
  const [ao, bo] = [a.openings ?? [], b.openings ?? []]
  const [ah, bh] = [a.holes ?? [], b.holes ?? []]
  if (ao.length !== bo.length || ah.length !== bh.length) return Number.POSITIVE_INFINITY
  let most = apart(a.outline, b.outline)
  const free = new Set(bo)
  for (const o of ao) {
    const near = [...free].map((p) => ({ p, d: apart(o.shape, p.shape) })).sort((p, q) => p.d - q.d)[0]!
    free.delete(near.p)
    most = Math.max(most, near.d)
  }
  const left = new Set(bh)
  for (const h of ah) {
    const d = (k: (typeof bh)[number]): number =>
      Math.max(Math.hypot(h.at[0] - k.at[0], h.at[1] - k.at[1]), Math.abs(h.diameter - k.diameter))
    const near = [...left].sort((p, q) => d(p) - d(q))[0]!
    left.delete(near)
    most = Math.max(most, d(near))
  }
  return most
}

/** A multiplicative generator (Park and Miller 1988), so that a failure can be repeated. */
export function random(seed: number): (lo: number, hi: number) => number {
  let state = (seed % 2147483646) + 1
  return (lo, hi) => {
    state = (state * 48271) % 2147483647
    return Math.round((lo + ((hi - lo) * state) / 2147483647) * 1000) / 1000
  }
}

const round = (v: number): number => Math.round(v * 1000) / 1000

/** A random deck: outline of any kind, and in the cells of its middle openings of any kind and holes. */
export function randomDeck(seed: number, id = 'plate'): ProjectDeck {
  const r = random(seed)
  const [x, y] = [r(-50, 50), r(-50, 50)]
  const [w, h] = [r(80, 200), r(80, 160)]
  const kind = seed % 4
  const outline: ShapeFile =
    kind === 0
      ? { rect: [x, y, w, h] }
      : kind === 1
        ? { rect: [x, y, w, h], radius: r(1, 20) }
        : kind === 2
          ? { circle: [round(x + w / 2), round(y + h / 2), Math.ceil(w + h)] }
          : {
              polygon: [
                [x, y, r(-0.1, 0.6)],
                [round(x + w), y],
                [round(x + w), round(y + h), r(0.05, 1)],
                [round(x + w / 3), round(y + h + r(0, 20))],
                [x, round(y + h)],
              ],
            }
  const openings: NonNullable<ProjectDeck['openings']> = []
  const holes: NonNullable<ProjectDeck['holes']> = []
  // A grid of cells well inside all of the outlines; one thing in a cell.
  const [cw, ch] = [(w - 30) / 4, (h - 30) / 3]
  for (let i = 0; i < 4; i++) {
    for (let j = 0; j < 3; j++) {
      const [u, v] = [x + 15 + i * cw, y + 15 + j * ch]
      const s = Math.min(cw, ch) - 4
      const [cx, cy] = [round(u + cw / 2), round(v + ch / 2)]
      const pick = Math.floor(r(0, 5.99))
      const size = r(s / 4, s / 2)
      const opening = (shape: ShapeFile): unknown => openings.push({ id: `o${i}${j}`, shape })
      const low = (c: number): number => round(c - size)
      if (pick === 0) opening({ rect: [low(cx), low(cy), size, size] })
      else if (pick === 1)
        opening({ rect: [low(cx), low(cy), round(size * 2), size], radius: Math.floor(size * 300) / 1000 })
      else if (pick === 2) opening({ circle: [cx, cy, size] })
      else if (pick === 3) {
        opening({
          polygon: [
            [low(cx), low(cy), r(-0.3, 0.3)],
            [cx, low(cy)],
            [cx, cy, r(-0.2, 1)],
            [low(cx), cy],
          ],
        })
      } else holes.push({ id: `h${i}${j}`, at: [cx, cy], diameter: r(1, 6) })
    }
  }
  return { id, z: 40, thickness: 3, outline, openings, holes }
}

export const LONG = process.env.DECKWRIGHT_LONG === '1'
