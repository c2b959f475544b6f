/** Reference methods for the packing bench, each on the same instance, in the same process: CP-SAT and a MILP. */
import loadHighs from 'highs'
import type { Fit } from '../published/fits.ts'
import type { Instance } from '../published/packing.ts'
import { CpWriter, not } from '../solver/oracle/cp-model.ts'

export interface Reference {
  readonly value: number | undefined
  readonly ms: number
}

const pieces = (instance: Instance) => instance.items.flatMap((p) => Array.from({ length: p.copies }, () => p))

/** Optional rectangles as CP-SAT sees them: four relations a pair, one of which holds where both are placed. */
export async function byCpSat(instance: Instance, seconds: number): Promise<Reference> {
  const t = performance.now()
  const w = new CpWriter()
  const all = pieces(instance).map((p) => ({
    ...p,
    x: w.range(0, instance.sheet.w - p.w),
    y: w.range(0, instance.sheet.h - p.h),
    here: w.bool(),
  }))
  w.noOverlap(all.map((p) => ({ x: p.x, y: p.y, w: p.w, h: p.h, when: p.here })))
  // Pieces of a kind are taken in order.
  all.forEach((p, k) => {
    const q = all[k + 1]
    if (q && q.w === p.w && q.h === p.h && q.value === p.value) w.clause([p.here, not(q.here)])
  })
  w.linear(
    all.map((p) => [p.here, p.w * p.h] as const),
    0,
    instance.sheet.w * instance.sheet.h,
  )
  const a = await w.solve(
    all.map((p) => [p.here, -p.value] as const),
    seconds,
  )
  return { value: a.status === 'optimal' ? -a.value : undefined, ms: performance.now() - t }
}

export interface FitAnswer {
  /** Undefined where time ran out. */
  readonly fits: boolean | undefined
  readonly ms: number
}

/** Whether all pieces fit on a square sheet. Equal pieces stand in order of x. */
export async function fitByCpSat(fit: Fit, seconds: number): Promise<FitAnswer> {
  const t = performance.now()
  const w = new CpWriter()
  const all = fit.pieces.map((p) => ({
    ...p,
    x: w.range(0, fit.side - p.w),
    y: w.range(0, fit.side - p.h),
    when: w.yes,
  }))
  w.noOverlap(all)
  all.forEach((p, i) => {
    const q = all.find((o, k) => k > i && o.w === p.w && o.h === p.h)
    if (q)
      w.linear(
        [
          [q.x, 1],
          [p.x, -1],
        ],
        0,
        fit.side,
      )
  })
  const a = await w.solve([], seconds)
  return { fits: a.status === 'unknown' ? undefined : a.status === 'optimal', ms: performance.now() - t }
}

/**
 * Normal positions along one axis: sums of pieces' sizes, which are all that is needed, since every layout can be pushed into the
 * corner (Herz 1972; Christofides & Whitlock 1977).
 */
function normal(length: number, pieces: readonly { readonly size: number; readonly copies: number }[]): number[] {
  const reached = new Uint8Array(length + 1)
  reached[0] = 1
  for (const { size, copies } of pieces)
    for (let k = 0; k < copies; k++) for (let at = length - size; at >= 0; at--) if (reached[at]) reached[at + size] = 1
  return [...reached.keys()].filter((at) => reached[at] && at < length)
}

interface Places {
  readonly xs: readonly number[]
  readonly ys: readonly number[]
}

function placesOf(instance: Instance): Places {
  const { sheet, items } = instance
  return {
    xs: normal(
      sheet.w,
      items.map((p) => ({ size: p.w, copies: p.copies })),
    ),
    ys: normal(
      sheet.h,
      items.map((p) => ({ size: p.h, copies: p.copies })),
    ),
  }
}

/** Over all places of a piece so long, how many normal positions it covers. */
const coveredBy = (places: readonly number[], size: number, length: number): number =>
  places
    .filter((at) => at + size <= length)
    .reduce((s, at) => s + places.filter((v) => v >= at && v < at + size).length, 0)

/** How many entries the MILP's matrix has: for every kind and place, the points that the piece covers. */
export function entries(instance: Instance): number {
  const { xs, ys } = placesOf(instance)
  const { w, h } = instance.sheet
  return instance.items.reduce((s, p) => s + coveredBy(xs, p.w, w) * coveredBy(ys, p.h, h), 0)
}

/**
 * The MILP of Beasley (1985) as LP text: one 0–1 variable a kind and normal position, every point where pieces may begin covered at most
 * once. With `all`, every piece must be placed, and nothing is optimised.
 */
function milpText(instance: Instance, all: boolean): string {
  const { w, h } = instance.sheet
  const { xs, ys } = placesOf(instance)
  const names: string[] = []
  const gain: string[] = []
  const kinds: string[] = []
  const cells = Array.from({ length: xs.length * ys.length }, (): string[] => [])
  instance.items.forEach((p, k) => {
    const mine: string[] = []
    for (const x of xs)
      for (const y of ys) {
        if (x + p.w > w || y + p.h > h) continue
        const name = `k${k}x${x}y${y}`
        names.push(name)
        mine.push(name)
        gain.push(`${all ? 0 : p.value} ${name}`)
        xs.forEach((cx, i) => {
          if (cx >= x && cx < x + p.w)
            ys.forEach((cy, j) => {
              if (cy >= y && cy < y + p.h) cells[i * ys.length + j]!.push(name)
            })
        })
      }
    if (mine.length > 0) kinds.push(`${mine.join(' + ')} ${all ? '=' : '<='} ${p.copies}`)
  })
  const covered = cells.filter((c) => c.length > 1).map((c) => `${c.join(' + ')} <= 1`)
  const rows = [...kinds, ...covered].map((r, k) => `c${k}: ${r}`)
  return `Maximize\n obj: ${gain.join(' + ')}\nSubject To\n${rows.join('\n')}\nBinary\n${names.join(' ')}\nEnd\n`
}

export async function byMilp(instance: Instance, seconds: number): Promise<Reference> {
  const highs = await loadHighs()
  const t = performance.now()
  const a = highs.solve(milpText(instance, false), { time_limit: seconds })
  return { value: a.Status === 'Optimal' ? Math.round(a.ObjectiveValue) : undefined, ms: performance.now() - t }
}

/** The same question to the MILP. */
export async function fitByMilp(fit: Fit, seconds: number): Promise<FitAnswer> {
  const highs = await loadHighs()
  const t = performance.now()
  const items = fit.pieces.map((p) => ({ ...p, copies: 1, value: 0 }))
  const instance: Instance = { name: fit.name, sheet: { w: fit.side, h: fit.side }, items }
  const a = highs.solve(milpText(instance, true), { time_limit: seconds })
  const fits = a.Status === 'Optimal' ? true : a.Status === 'Infeasible' ? false : undefined
  return { fits, ms: performance.now() - t }
}
