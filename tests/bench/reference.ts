/** Reference methods for the packing bench, each on the same instance, in the same process: CP-SAT and a MILP. */
import loadHighs from 'highs'
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

/** The MILP of Beasley (1985): one 0–1 variable a kind and position, every unit square covered at most once. */
export async function byMilp(instance: Instance, seconds: number): Promise<Reference> {
  const highs = await loadHighs()
  const t = performance.now()
  const { w, h } = instance.sheet
  const names: string[] = []
  const gain: string[] = []
  const kinds: string[] = []
  const cells = Array.from({ length: w * h }, (): string[] => [])
  instance.items.forEach((p, k) => {
    const mine: string[] = []
    for (let x = 0; x + p.w <= w; x++)
      for (let y = 0; y + p.h <= h; y++) {
        const name = `k${k}x${x}y${y}`
        names.push(name)
        mine.push(name)
        gain.push(`${p.value} ${name}`)
        for (let i = x; i < x + p.w; i++) for (let j = y; j < y + p.h; j++) cells[i * h + j]!.push(name)
      }
    if (mine.length > 0) kinds.push(`${mine.join(' + ')} <= ${p.copies}`)
  })
  const covered = cells.filter((c) => c.length > 0).map((c) => `${c.join(' + ')} <= 1`)
  const rows = [...kinds, ...covered].map((r, k) => `c${k}: ${r}`)
  const lp = `Maximize\n obj: ${gain.join(' + ')}\nSubject To\n${rows.join('\n')}\nBinary\n${names.join(' ')}\nEnd\n`
  const a = highs.solve(lp, { time_limit: seconds })
  return { value: a.Status === 'Optimal' ? Math.round(a.ObjectiveValue) : undefined, ms: performance.now() - t }
}
