/** Oracle 1: all placements of a tiny deck, one after the other; the best by the plain order of costs. */
import type { Problem } from '../../../solver/problem.ts'
import type { Hold } from '../../../solver/result.ts'
import { freeStands, nothingOff, type Off, seatedStands } from './candidates.ts'
import { costs } from './measure.ts'
import { broken1, broken2, type Instance, instances, type Layout } from './rules.ts'
import { type Stand, tiesOf } from './stand.ts'

export interface BruteOptions {
  readonly off?: Off
  readonly pins?: readonly Hold[]
  /** Stop at the first legal layout. */
  readonly feasibilityOnly?: boolean
  /** Costs that must not be exceeded, by objective; asks for the best of what follows them. */
  readonly atMost?: readonly number[]
  /** Items that are left out, whatever is required of them. */
  readonly absent?: ReadonlySet<number>
  /** Steps after which to give up. */
  readonly limit?: number
}

export type BruteAnswer =
  | { readonly status: 'optimal'; readonly costs: readonly number[]; readonly layout: Layout }
  | { readonly status: 'infeasible' }
  | { readonly status: 'too large' }

/** Lexicographic, equal within a nanometre. */
export function better(a: readonly number[], b: readonly number[]): boolean {
  for (const [k, v] of a.entries()) {
    if (v < b[k]! - 1e-6) return true
    if (v > b[k]! + 1e-6) return false
  }
  return false
}

export function brute(p: Problem, options: BruteOptions = {}): BruteAnswer {
  const { off = nothingOff, limit = 400_000 } = options
  const plug = (i: number): boolean => p.items[i]!.footprint.mount.kind === 'plug-in'
  const all = p.items.map((_, i) => i)
  // Hosts before the parts that sit on them.
  const order = [...all.filter((i) => !plug(i)), ...all.filter(plug)]
  const asked = instances(p).filter(
    (k) => !off(k.key) && !(k.key.endsWith('|required') && options.absent?.has(k.items[0]!)),
  )
  const due = order.map((_, d): Instance[] =>
    asked.filter((k) => Math.max(...k.items.map((i) => order.indexOf(i)), 0) === d),
  )
  const hold = (i: number): Hold | undefined => options.pins?.find((h) => h.item === i)
  const sound = (s: Stand): boolean => broken1(p, s).every(off)
  const fixed = new Map(
    order
      .filter((i) => !plug(i) && !options.absent?.has(i))
      .map((i) => [i, freeStands(p, i, off, hold(i)).filter(sound)]),
  )
  const loose = new Map<number, Stand[]>()
  const onHost = new Map<Stand, Map<number, Stand[]>>()
  const layout: (Stand | undefined)[] = all.map(() => undefined)
  let steps = 0
  let best: { costs: number[]; layout: Layout } | undefined

  const standsOf = (i: number): readonly Stand[] => {
    if (!plug(i)) return fixed.get(i)!
    const hosts = layout.filter((s): s is Stand => s !== undefined && tiesOf(p.items[s.item]!).length > 0)
    const seats = hosts.flatMap((h) => {
      const known = onHost.get(h) ?? new Map<number, Stand[]>()
      onHost.set(h, known)
      const list = known.get(i) ?? seatedStands(p, i, h, hold(i)).filter(sound)
      known.set(i, list)
      return list
    })
    // Without R6 a part may lie anywhere, contacts or not.
    if (!off(`R6|${p.items[i]!.id}`)) return seats
    const free = loose.get(i) ?? freeStands(p, i, off, hold(i)).filter(sound)
    loose.set(i, free)
    return [...seats, ...free]
  }

  // Whether two stands go together, each pair asked once.
  const pairs = new Map<Stand, Map<Stand, boolean>>()
  const together = (a: Stand, b: Stand): boolean => {
    const known = pairs.get(a) ?? new Map<Stand, boolean>()
    if (known.size === 0) pairs.set(a, known)
    const k = known.get(b) ?? broken2(p, a, b).every(off)
    known.set(b, k)
    return k
  }

  const dive = (d: number): 'done' | 'on' | 'over' => {
    if (steps++ > limit) return 'over'
    if (d === order.length) {
      if (options.feasibilityOnly) {
        best = { costs: [], layout: [...layout] }
        return 'done'
      }
      const c = costs(p, layout)
      if (options.atMost?.some((m, k) => c[k]! > m + 1e-6)) return 'on'
      const from = options.atMost?.length ?? 0
      if (!best || better(c.slice(from), best.costs.slice(from))) best = { costs: c, layout: [...layout] }
      return 'on'
    }
    const i = order[d]!
    const placed = layout.filter((s): s is Stand => s !== undefined)
    const choices: (Stand | undefined)[] = options.absent?.has(i) ? [] : [...standsOf(i)]
    const mayLack = options.absent?.has(i) || !p.items[i]!.required || off(`R10|${p.items[i]!.id}|required`)
    // An absent item is most often the shortest way to a legal layout.
    if (mayLack && !hold(i)) choices.unshift(undefined)
    for (const s of choices) {
      if (s && placed.some((t) => !together(t, s))) continue
      layout[i] = s
      const next = due[d]!.some((k) => k.broken(layout)) ? 'on' : dive(d + 1)
      layout[i] = undefined
      if (next !== 'on') return next
      if (steps++ > limit) return 'over'
    }
    return 'on'
  }

  if (order.length > 0 && dive(0) === 'over') return { status: 'too large' }
  if (order.length === 0) best = { costs: costs(p, layout), layout }
  return best ? { status: 'optimal', ...best } : { status: 'infeasible' }
}
