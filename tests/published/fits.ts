/// <reference types="vite/client" />
/**
 * "Does everything fit?": 10 to 23 pieces, all required, on 20 × 20, with 0 to 20 % to spare, as the published feasibility sets
 * have them (sheet, number of pieces and spare area of Clautiaux, Carlier & Moukrim 2007, Eur. J. Oper. Res. 183, from memory; none of
 * these is a published instance). Seeds fixed.
 *
 * - `cut`: the sheet is dissected and one strip after the other is taken off pieces until the spare area is reached; they fit by construction.
 * - `bent`: a cut whose pieces trade a unit of width or height with each other, area kept; they may fit or not.
 * - `drawn`: sizes drawn until the area is met; pairs that can stand neither side by side nor one before the other are drawn again.
 *
 * Whether bent and drawn ones fit was decided by CP-SAT, not by us (fits.csv).
 */
import { type Dice, dice } from '../bench/random.ts'
import { dissect } from './dissect.ts'
import csv from './fits.csv?raw'

export interface Fit {
  readonly name: string
  readonly side: number
  readonly pieces: readonly { readonly w: number; readonly h: number }[]
}

const SIDE = 20
type Piece = { w: number; h: number }
const area = (list: readonly Piece[]): number => list.reduce((s, p) => s + p.w * p.h, 0)
const wanted = (spare: number): number => Math.round((SIDE * SIDE * (100 - spare)) / 100)

/** Takes strips one wide off pieces while the area stays at least as wanted. */
function trim(d: Dice, pieces: Piece[], target: number): Piece[] {
  for (let tries = 0; tries < 10_000 && area(pieces) > target; tries++) {
    const p = d.pick(pieces)
    const over = area(pieces) - target
    if (d.whole(0, 1) === 0 ? p.w > 1 && p.h <= over : false) p.w--
    else if (p.h > 1 && p.w <= over) p.h--
  }
  return pieces
}

function cut(d: Dice, n: number, spare: number): Piece[] {
  const pieces = dissect(d, { x: 0, y: 0, w: SIDE, h: SIDE }, n, 2).map(({ w, h }) => ({ w, h }))
  return d.shuffle(trim(d, pieces, wanted(spare)))
}

/** Pairs of pieces get new sides with the same sum of areas, so that the old cut no longer shows. */
function bent(d: Dice, n: number, spare: number): Piece[] {
  const pieces = cut(d, n, spare)
  for (let done = 0, tries = 0; done < 3 && tries < 10_000; tries++) {
    const [a, b] = d.shuffle(pieces).slice(0, 2) as [Piece, Piece]
    const sum = area([a, b])
    const w = a.w + d.whole(-1, 1)
    const h = a.h + d.whole(-1, 1)
    const bw = b.w + d.whole(-1, 1)
    const left = sum - w * h
    if (w < 1 || h < 1 || bw < 1 || left < 1 || left % bw !== 0) continue
    const bh = left / bw
    if (Math.max(w, h, bw, bh) > SIDE || (w === a.w && h === a.h)) continue
    Object.assign(a, { w, h })
    Object.assign(b, { w: bw, h: bh })
    done++
  }
  return pieces
}

const apart = (a: Piece, b: Piece): boolean => a.w + b.w <= SIDE || a.h + b.h <= SIDE

function drawn(d: Dice, n: number, spare: number): Piece[] {
  const target = wanted(spare)
  const most = Math.round(2.6 * Math.sqrt((SIDE * SIDE) / n))
  for (;;) {
    const pieces = Array.from({ length: n }, () => ({ w: d.whole(1, most), h: d.whole(1, most) }))
    if (area(pieces) < target) continue
    trim(d, pieces, target)
    if (area(pieces) === target && pieces.every((p, i) => pieces.slice(i + 1).every((q) => apart(p, q)))) return pieces
  }
}

const HOW = { cut, bent, drawn }
const PLAN: readonly [how: keyof typeof HOW, n: number, spare: number][] = [
  ['cut', 10, 0],
  ['cut', 13, 0],
  ['cut', 15, 0],
  ['cut', 15, 5],
  ['cut', 17, 3],
  ['cut', 18, 8],
  ['cut', 20, 5],
  ['cut', 23, 10],
  ['bent', 10, 0],
  ['bent', 12, 2],
  ['bent', 13, 5],
  ['bent', 14, 0],
  ['bent', 15, 3],
  ['bent', 16, 8],
  ['bent', 17, 4],
  ['bent', 20, 6],
  ['drawn', 10, 0],
  ['drawn', 10, 4],
  ['drawn', 11, 8],
  ['drawn', 12, 6],
  ['drawn', 12, 3],
  ['drawn', 13, 4],
  ['drawn', 14, 6],
  ['bent', 11, 1],
  ['bent', 15, 1],
  ['drawn', 13, 8],
  ['drawn', 15, 4],
  ['drawn', 15, 10],
  ['drawn', 17, 8],
  ['drawn', 20, 10],
  ['drawn', 23, 15],
  ['drawn', 15, 20],
  ['drawn', 23, 20],
]

export function fits(): Fit[] {
  return PLAN.map(([how, n, spare], k) => {
    const name = `${how}-${n}-${String(spare).padStart(2, '0')}`
    return { name, side: SIDE, pieces: HOW[how](dice(500 + k), n, spare) }
  })
}

/** `yes`, `no` or `not known`, by name. */
export function fitsKnown(): Map<string, { fits: string; how: string }> {
  const rows = csv.trim().split(/\r?\n/).slice(1)
  return new Map(
    rows.map((row) => {
      const [name, answer, how] = row.split(',')
      return [name!, { fits: answer!, how: how! }]
    }),
  )
}

/** As a project file: every piece must be there, stuck down, unturned; nothing is optimised. */
export function fitText(fit: Fit): string {
  return JSON.stringify({
    format: 'deckwright-project',
    version: 1,
    units: 'mm',
    name: fit.name,
    settings: { grid: 1 },
    decks: [{ id: 'sheet', z: 0, thickness: 1, outline: { rect: [0, 0, fit.side, fit.side] } }],
    footprints: fit.pieces.map((p, k) => ({
      format: 'deckwright-footprint',
      version: 1,
      id: `piece-${k + 1}`,
      name: `piece ${k + 1}`,
      source: 'drawn at random for the bench',
      kind: 'part',
      body: { width: p.w, depth: p.h, height: 1 },
      mount: { kind: 'adhesive' },
    })),
    items: fit.pieces.map((_, k) => ({ id: `p${k + 1}`, footprint: `piece-${k + 1}`, turns: [0] })),
    objective: [],
  })
}
