/// <reference types="vite/client" />
/**
 * Knapsack instances like the larger published sets, with known optima. None of these is a published instance: the published
 * ones stay unseen, so that nothing is tuned on them. What the published sets look like:
 *
 * | set | sheet | kinds | pieces | read in |
 * |---|---|---|---|---|
 * | gcut1–12 (Beasley 1985, J. Oper. Res. Soc. 36) | 250, 500, 1000 | 10, 20, 30, 50 | one of each | Caprara & Monaci (2004), table of results; of gcut1–2 the files too: sides from a quarter to three quarters of the sheet, value = area |
 * | okp1–5 (Fekete & Schepers 2004) | 100 | 15 to 33 | 30 to 97 | the same, sizes only; that values are drawn apart from areas is from memory |
 * | cgcut2–3, wang20 (Christofides & Whitlock 1977; Wang 1983) | 40 × 70, 70 × 40 | 10, 20 | 23 to 62 | Fekete & Schepers (2004), table of results |
 * | hadchr (Hadjiconstantinou & Christofides 1995) | 30, 40 | 7 to 15 | one of each | the same |
 *
 * How they are made here (seeds fixed):
 *
 * - `dissected`: the sheet is cut into pieces, by straight cuts and by pinwheels of five; their value is their area. Decoys are worth less
 *   than their area. No choice is worth more than the sheet's area, and the pieces of the cut reach it.
 * - `weighted`: as before, but a stack of pieces wider than half the sheet fills its left side, and every piece, decoys too, earns as well
 *   sheet width × height × (1 where it is wider than half, ½ where just half). Any packing earns at most the sheet's area in that way, since no
 *   line across meets two such pieces (a dual feasible function: Fekete & Schepers 2004), and the stack reaches it: optimum = twice the area.
 * - `quarters`, `priced`, `narrow`: drawn as in gcut, okp and wang20; their optima were proven by
 *   CP-SAT or by going through all choices (by-subsets.ts), not by the solver (look-alikes.csv).
 */
import { type Dice, dice } from '../bench/random.ts'
import { dissect, type Rectangle } from './dissect.ts'
import csv from './look-alikes.csv?raw'
import type { Instance } from './packing.ts'

type Piece = Instance['items'][number]

/** An instance whose best layout is known from how it was made. */
export interface Built {
  readonly instance: Instance
  readonly optimum: number
  /** One best layout: every rectangle is a piece of the instance, at its place. */
  readonly layout: readonly Rectangle[]
}

/** Pieces of one size and value as one kind. */
function merged(pieces: readonly Piece[]): Piece[] {
  const out = new Map<string, Piece>()
  for (const p of pieces) {
    const key = `${p.w},${p.h},${p.value}`
    out.set(key, { ...p, copies: p.copies + (out.get(key)?.copies ?? 0) })
  }
  return [...out.values()]
}

/** Sizes that are not in the cut, a third of them next to one that is. */
function decoys(d: Dice, cut: readonly Rectangle[], sheet: Instance['sheet'], n: number, least: number): Rectangle[] {
  const taken = new Set(cut.map((p) => `${p.w},${p.h}`))
  const out: Rectangle[] = []
  while (out.length < n) {
    const near = out.length % 3 === 0 ? d.pick(cut) : undefined
    const w = near ? near.w + d.whole(-1, 1) : d.whole(least, Math.floor(sheet.w * 0.75))
    const h = near ? near.h + d.whole(-1, 1) : d.whole(least, Math.floor(sheet.h * 0.75))
    if (w < 1 || h < 1 || w > sheet.w || h > sheet.h || taken.has(`${w},${h}`)) continue
    taken.add(`${w},${h}`)
    out.push({ x: 0, y: 0, w, h })
  }
  return out
}

function dissected(name: string, seed: number, w: number, h: number, pieces: number, kinds: number): Built {
  const d = dice(seed)
  const layout = dissect(d, { x: 0, y: 0, w, h }, pieces, Math.ceil(Math.min(w, h) / 6))
  const cut = merged(layout.map((p) => ({ w: p.w, h: p.h, copies: 1, value: p.w * p.h })))
  const others = decoys(d, layout, { w, h }, kinds - cut.length, Math.ceil(Math.min(w, h) / 6)).map((p) => ({
    w: p.w,
    h: p.h,
    copies: d.whole(1, 2),
    value: Math.floor((p.w * p.h * d.whole(70, 97)) / 100),
  }))
  return { instance: { name, sheet: { w, h }, items: d.shuffle([...cut, ...others]) }, optimum: w * h, layout }
}

function weighted(name: string, seed: number, w: number, h: number, pieces: number, kinds: number): Built {
  const d = dice(seed)
  const least = Math.ceil(Math.min(w, h) / 6)
  const wide = Math.floor(w / 2) + d.whole(1, Math.floor(w / 6))
  const stack: Rectangle[] = []
  const high = Math.max(2, Math.round(pieces / 3))
  for (let k = 0, y = 0; k < high; k++) {
    const to = k === high - 1 ? h : Math.round((h * (k + 1)) / high) + d.whole(-1, 1)
    stack.push({ x: 0, y, w: wide, h: to - y })
    y = to
  }
  const rest = dissect(d, { x: wide, y: 0, w: w - wide, h }, pieces - high, Math.ceil(least / 1.5))
  const layout = [...stack, ...rest]
  // Twice the extra, so that a half is whole: 2·w·h + 2·extra is even where w is, halved again below.
  const worth = (p: { w: number; h: number }): number =>
    p.w * p.h + (2 * p.w > w ? w * p.h : 2 * p.w === w ? (w * p.h) / 2 : 0)
  const cut = merged(layout.map((p) => ({ w: p.w, h: p.h, copies: 1, value: worth(p) })))
  const others = decoys(d, layout, { w, h }, kinds - cut.length, least).map((p) => ({
    w: p.w,
    h: p.h,
    copies: 1,
    value: Math.floor((worth(p) * d.whole(75, 97)) / 100),
  }))
  return { instance: { name, sheet: { w, h }, items: d.shuffle([...cut, ...others]) }, optimum: 2 * w * h, layout }
}

/** Sides from a quarter to three quarters of the sheet, value = area, one of each. */
function quarters(name: string, seed: number, side: number, kinds: number): Instance {
  const d = dice(seed)
  const length = (): number => d.whole(Math.ceil(side / 4), Math.floor((3 * side) / 4))
  const items = Array.from({ length: kinds }, () => {
    const [w, h] = [length(), length()]
    return { w, h, copies: 1, value: w * h }
  })
  return { name, sheet: { w: side, h: side }, items }
}

/** Wide, tall, big and small pieces on 100 × 100, a few copies of some, value = area × (1 … 3), rounded to tenths. */
function priced(name: string, seed: number, kinds: number, copies: number): Instance {
  const d = dice(seed)
  const items = Array.from({ length: kinds }, () => {
    const [wLo, wHi, hLo, hHi] = d.pick([
      [50, 90, 5, 35],
      [5, 35, 50, 90],
      [40, 75, 40, 75],
      [8, 45, 8, 45],
    ] as const)
    const [w, h] = [d.whole(wLo, wHi), d.whole(hLo, hHi)]
    return { w, h, copies: d.whole(1, copies), value: Math.round((w * h * d.whole(10, 30)) / 10) }
  })
  return { name, sheet: { w: 100, h: 100 }, items }
}

/** 20 kinds on 70 × 40, about two of each, value = area. */
function narrow(name: string, seed: number, w: number, h: number, kinds: number): Instance {
  const d = dice(seed)
  const items = Array.from({ length: kinds }, () => {
    const [pw, ph] = [d.whole(Math.ceil(w / 5), Math.floor(w / 1.5)), d.whole(Math.ceil(h / 4), Math.floor(h / 1.4))]
    return { w: pw, h: ph, copies: d.whole(1, 3), value: pw * ph }
  })
  return { name, sheet: { w, h }, items }
}

export function builtLookAlikes(): Built[] {
  return [
    dissected('dissected-40-a', 1, 40, 40, 7, 20),
    dissected('dissected-40-b', 2, 40, 40, 6, 30),
    dissected('dissected-70', 3, 70, 40, 6, 20),
    dissected('dissected-100-a', 4, 100, 100, 5, 30),
    dissected('dissected-100-b', 5, 100, 100, 7, 50),
    dissected('dissected-250', 6, 250, 250, 6, 40),
    dissected('dissected-500', 7, 500, 500, 5, 60),
    dissected('dissected-1000', 8, 1000, 1000, 5, 100),
    weighted('weighted-40', 11, 40, 40, 7, 20),
    weighted('weighted-70', 12, 70, 40, 8, 24),
    weighted('weighted-100', 13, 100, 100, 7, 40),
    weighted('weighted-250', 14, 250, 250, 6, 50),
    weighted('weighted-500', 15, 500, 500, 6, 80),
    weighted('weighted-1000', 16, 1000, 1000, 5, 100),
  ]
}

/** Drawn at random; their optima stand in look-alikes.csv. */
export function drawnLookAlikes(): Instance[] {
  return [
    quarters('quarters-250-20', 21, 250, 20),
    quarters('quarters-250-30', 22, 250, 30),
    quarters('quarters-250-50', 23, 250, 50),
    quarters('quarters-500-20', 24, 500, 20),
    quarters('quarters-500-30', 25, 500, 30),
    quarters('quarters-500-50', 26, 500, 50),
    quarters('quarters-1000-20', 27, 1000, 20),
    quarters('quarters-1000-30', 28, 1000, 30),
    quarters('quarters-1000-50', 29, 1000, 50),
    priced('priced-20-many', 31, 20, 4),
    priced('priced-30', 32, 30, 1),
    priced('priced-30-b', 33, 30, 1),
    priced('priced-33-many', 34, 33, 3),
    narrow('narrow-70-20', 41, 70, 40, 20),
    narrow('narrow-40-20', 42, 40, 70, 20),
    narrow('narrow-40-25', 43, 40, 40, 25),
  ]
}

export const lookAlikes = (): Instance[] => [...builtLookAlikes().map((b) => b.instance), ...drawnLookAlikes()]

/** What is known of the best value. `kind`: `by construction`, `all choices tried`, `CP-SAT`, or `not known`. */
export interface Known {
  readonly optimum: number | undefined
  readonly kind: string
}

export function lookAlikeOptima(): Map<string, Known> {
  const out = new Map<string, Known>(
    builtLookAlikes().map((b) => [b.instance.name, { optimum: b.optimum, kind: 'by construction' }]),
  )
  for (const row of csv.trim().split(/\r?\n/).slice(1)) {
    const [name, optimum, kind] = row.split(',')
    out.set(name!, { optimum: optimum === '' ? undefined : Number(optimum), kind: kind! })
  }
  return out
}
