/** Pairs of modes of two bodies, those that are paired with the same ones together; and names of some modes. */
import type { Body, Mode } from './model.ts'

/** Each mode of the one with each of the other. */
export interface Pair {
  readonly a: readonly Mode[]
  readonly b: readonly Mode[]
}

export class ModePairs {
  private readonly items: number
  private readonly levels = new WeakMap<readonly Mode[], readonly (readonly Mode[])[]>()

  /** How many items there are. */
  constructor(items: number) {
    this.items = items
  }

  /** Those that `active` picks. It may look at decks, hosts and heights alone. */
  of(as: readonly Mode[], bs: readonly Mode[], active: (ma: Mode, mb: Mode) => boolean): readonly Pair[] {
    const [la, lb] = [this.levelsOf(as), this.levelsOf(bs)]
    const rows: { readonly hits: readonly number[]; readonly ones: (readonly Mode[])[] }[] = []
    const hits: number[] = []
    for (const one of la) {
      hits.length = 0
      for (let k = 0; k < lb.length; k++) if (active(one[0]!, lb[k]![0]!)) hits.push(k)
      if (hits.length === 0) continue
      const row = rows.find((r) => r.hits.length === hits.length && r.hits.every((k, i) => k === hits[i]))
      if (row) row.ones.push(one)
      else rows.push({ hits: [...hits], ones: [one] })
    }
    return rows.map(({ hits: of, ones }) => ({
      a: ones.length === 1 ? ones[0]! : ones.flat(),
      b: of.length === lb.length ? bs : of.length === 1 ? lb[of[0]!]! : of.flatMap((k) => lb[k]!),
    }))
  }

  /** Modes by deck and host: within one only the turn differs. */
  private levelsOf(modes: readonly Mode[]): readonly (readonly Mode[])[] {
    let out = this.levels.get(modes)
    if (!out) {
      const by = new Map<number, Mode[]>()
      for (const m of modes) {
        const key = m.deck * (this.items + 1) + m.host
        const list = by.get(key)
        if (list) list.push(m)
        else by.set(key, [m])
      }
      out = [...by.values()]
      this.levels.set(modes, out)
    }
    return out
  }
}

/** Names some of a body's modes: their literals follow one another. */
export function choiceOf(body: Body, modes: readonly Mode[]): number | string {
  const first = body.modes[0]!.lit
  if (body.modes.length > 30) return modes.map((m) => m.lit).join()
  let bits = 0
  for (const m of modes) bits |= 1 << ((m.lit - first) >> 1)
  return bits
}
