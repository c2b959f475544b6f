/**
 * A whole deck as others see it, for CP-SAT and a MILP: which bodies stand, where, and how many tie points stay free. It asks for less than
 * we do, so that it stays small: bodies inside the box of their deck and apart (R1, R2), off boxes inside openings and keep-out zones (R1, R4),
 * `at`, `edge` and `inside` (R10), an `open` body under no other deck (R8), and of a plug-in part only that it covers as many tie points as it has
 * pins. Rounded corners, holes, corridors, heads, wires and the rest are not asked. So its best is never worse than ours, which is
 * looked at, and its times are those of an easier question.
 */
import loadHighs from 'highs'
import {
  bounds as boxOf,
  type Item,
  type Problem,
  prepare,
  type Rect,
  type Shape,
  type SolveResult,
  turnedSize,
} from '../../solver/index.ts'
import { CpWriter, not, type Term } from '../solver/oracle/cp-model.ts'
import { type BoxAt, LpWriter } from './lp-model.ts'
import { ms } from './timing.ts'

/** What both writers offer. Literals as in CpWriter: `not(l)` is −l−1. */
interface Writer {
  range(lo: number, hi: number): number
  bool(): number
  clause(literals: readonly number[]): void
  exactlyOne(literals: readonly number[]): void
  linear(terms: readonly Term[], lo: number, hi: number, when?: readonly number[]): void
  noOverlap(boxes: readonly BoxAt[]): void
}

const NO = Number.NEGATIVE_INFINITY
/** Grid steps beyond any deck of the bench. */
const FAR = 2000

const tiePoints = (item: Item): number =>
  item.footprint.breadboard?.blocks.reduce((s, b) => s + b.columns * b.rows, 0) ?? 0

const offGrid = (p: Problem): boolean =>
  p.items.some((i) =>
    i.place.some((e) => e.kind === 'centred' || (e.kind === 'at' && (e.at.x % p.grid !== 0 || e.at.y % p.grid !== 0))),
  )

const bounds = (s: Shape): Rect => boxOf(prepare(s))

/** A box inside a rectangle's or circle's rounded ends: 0.3 of the radius is more than 1 − 1/√2. */
function inner(shape: Shape): { x: number; y: number; w: number; h: number } | undefined {
  if (shape.kind !== 'rect' && shape.kind !== 'circle') return undefined
  const b = bounds(shape)
  const off = 0.3 * (shape.kind === 'circle' ? shape.r : shape.radius)
  return { x: b.x + off, y: b.y + off, w: b.w - 2 * off, h: b.h - 2 * off }
}

/** What a body keeps off on one deck. */
function obstacles(p: Problem, item: Item, deck: number): NonNullable<ReturnType<typeof inner>>[] {
  const drop = item.footprint.mount.kind === 'drop-in'
  const shapes = drop ? [] : p.decks[deck]!.openings.filter((o) => !o.mayCover).map((o) => o.shape)
  for (const z of p.zones)
    if (z.deck === deck && (z.kind === 'keep-out' || z.kind === 'reserved') && z.z === undefined) shapes.push(z.shape)
  if (item.footprint.above === 'open') for (const d of p.decks) if (d.z > p.decks[deck]!.z) shapes.push(d.outline)
  return shapes.map(inner).filter((b) => b !== undefined)
}

/** Writes the model; the terms returned are to be made least: minus the free tie points. */
function write(w: Writer, p: Problem): Term[] {
  const g = p.grid
  // Off the grid, places are rounded down and sizes with them, which asks for less.
  const size = offGrid(p) ? Math.floor : Math.ceil
  const up = offGrid(p) ? Math.floor : Math.ceil
  const least: Term[] = []
  const one = w.range(1, 1)
  const decks = p.decks.map((): BoxAt[] => [])
  for (const item of p.items) {
    const here = item.required ? one : w.bool()
    if (item.footprint.mount.kind === 'plug-in') {
      least.push([here, item.footprint.plug?.pins.length ?? 0])
      continue
    }
    if (tiePoints(item) > 0) least.push([here, -tiePoints(item)])
    const [x, y] = [w.range(-FAR, FAR), w.range(-FAR, FAR)]
    const modes: number[] = []
    for (const deck of item.decks)
      for (const turn of new Set(item.turns.map((t) => (item.turns.includes((t % 2) as 0 | 1) ? t % 2 : t)))) {
        const s = turnedSize(item.footprint.width, item.footprint.depth, turn as 0)
        const when = w.bool()
        modes.push(when)
        const box = bounds(p.decks[deck]!.outline)
        const between = (v: number, from: number, to: number): void => {
          const [lo, hi] = [Math.max(up(from / g), -FAR), Math.min(Math.floor(to / g), FAR)]
          if (lo > hi) w.clause([not(when)])
          else w.linear([[v, 1]], lo, hi, [when])
        }
        const e = p.edgeClearance
        const o = item.overhang
        between(x, box.x - o.left + (o.left > 0 ? 0 : e), box.x + box.w + o.right - s.w - (o.right > 0 ? 0 : e))
        between(y, box.y - o.back + (o.back > 0 ? 0 : e), box.y + box.h + o.front - s.h - (o.front > 0 ? 0 : e))
        for (const r of item.place) {
          if (r.kind === 'at') {
            between(x, r.at.x, r.at.x)
            between(y, r.at.y, r.at.y)
            if (r.deck !== deck) w.clause([not(when)])
          }
          if (r.kind === 'inside') {
            const b = bounds(r.shape)
            between(x, b.x, b.x + b.w - s.w)
            between(y, b.y, b.y + b.h - s.h)
          }
          if (r.kind === 'edge' && r.edge === 'left') between(x, NO, box.x + r.within)
          if (r.kind === 'edge' && r.edge === 'right') between(x, box.x + box.w - r.within - s.w, Infinity)
          if (r.kind === 'edge' && r.edge === 'back') between(y, NO, box.y + r.within)
          if (r.kind === 'edge' && r.edge === 'front') between(y, box.y + box.h - r.within - s.h, Infinity)
        }
        for (const b of obstacles(p, item, deck)) {
          const four = [w.bool(), w.bool(), w.bool(), w.bool()] as const
          w.linear([[x, 1]], NO, Math.floor((b.x - s.w) / g), [four[0]])
          w.linear([[x, 1]], up((b.x + b.w) / g), Infinity, [four[1]])
          w.linear([[y, 1]], NO, Math.floor((b.y - s.h) / g), [four[2]])
          w.linear([[y, 1]], up((b.y + b.h) / g), Infinity, [four[3]])
          w.clause([not(when), ...four])
        }
        const c = p.itemClearance
        decks[deck]!.push({ x, y, w: size((s.w + c) / g), h: size((s.h + c) / g), when })
      }
    w.exactlyOne([...modes, not(here)])
  }
  for (const boxes of decks) w.noOverlap(boxes)
  return least
}

type Answer =
  | { readonly status: 'optimal'; readonly value: number }
  | { readonly status: 'infeasible' }
  | { readonly status: 'unknown' }

async function cpSat(p: Problem, seconds: number): Promise<Answer> {
  const w = new CpWriter()
  const least = write(w, p)
  const a = await w.solve(least, seconds)
  return a.status === 'optimal' ? { status: 'optimal', value: -a.value } : { status: a.status }
}

async function milp(p: Problem, seconds: number): Promise<Answer> {
  const highs = await loadHighs()
  const w = new LpWriter()
  const least = write(w, p)
  const a = highs.solve(w.text(least), { time_limit: seconds })
  if (a.Status === 'Infeasible') return { status: 'infeasible' }
  // The objective is whole: within the default gap of the method it is the nearest whole number.
  return a.Status === 'Optimal' ? { status: 'optimal', value: -Math.round(a.ObjectiveValue) } : { status: 'unknown' }
}

/** Two cells of a table: what CP-SAT and the MILP needed. Throws where a model that asks for less has a worse best than we. */
export async function byDeckModel(
  name: string,
  p: Problem,
  ours: SolveResult,
  seconds: number,
  milpToo: boolean,
): Promise<[string, string]> {
  const value = 'objectives' in ours ? ours.objectives.find((o) => o.name === 'free-tie-points')?.value : undefined
  const cell = async (who: string, run: () => Promise<Answer>): Promise<string> => {
    const t = performance.now()
    const a = await run()
    const took = performance.now() - t
    if (a.status === 'unknown') return `not in ${seconds} s`
    if (value !== undefined && (a.status === 'infeasible' || a.value < value))
      throw new Error(`${name}: ${who} finds no ${value} in a model that asks for less than ours`)
    return a.status === 'optimal' ? `${ms(took)} (${a.value})` : `${ms(took)} (none)`
  }
  return [
    await cell('CP-SAT', () => cpSat(p, seconds)),
    milpToo ? await cell('the MILP', () => milp(p, seconds)) : 'left out',
  ]
}
