/** A thin writer of mixed-integer programmes as LP text, with the words of the CP-SAT writer: what holds only under literals is relaxed by a big M. */
import { not, type Term } from '../solver/oracle/cp-model.ts'

export interface BoxAt {
  readonly x: number
  readonly y: number
  readonly w: number
  readonly h: number
  readonly when: number
}

export class LpWriter {
  private readonly lo: number[] = []
  private readonly hi: number[] = []
  private readonly rows: string[] = []

  range(lo: number, hi: number): number {
    this.hi.push(hi)
    return this.lo.push(lo) - 1
  }

  bool(): number {
    return this.range(0, 1)
  }

  clause(literals: readonly number[]): void {
    this.linear(
      literals.map((l) => [l, 1] as const),
      1,
      Number.POSITIVE_INFINITY,
    )
  }

  exactlyOne(literals: readonly number[]): void {
    this.linear(
      literals.map((l) => [l, 1] as const),
      1,
      1,
    )
  }

  /** lo ≤ Σ factor·variable ≤ hi, asked only where all `when` literals hold. */
  linear(terms: readonly Term[], lo: number, hi: number, when: readonly number[] = []): void {
    const { sum, base } = this.plain(terms)
    const entries = [...sum]
    const most = entries.reduce((s, [v, f]) => s + f * (f > 0 ? this.hi[v]! : this.lo[v]!), base)
    const least = entries.reduce((s, [v, f]) => s + f * (f > 0 ? this.lo[v]! : this.hi[v]!), base)
    if (hi < most) this.row(terms, when, hi, most - hi, 1)
    if (lo > least) this.row(terms, when, lo, lo - least, -1)
  }

  noOverlap(boxes: readonly BoxAt[]): void {
    boxes.forEach((a, i) => {
      for (const b of boxes.slice(i + 1)) {
        if (a.x === b.x) continue
        const ways = [
          [a.x, b.x, a.w],
          [b.x, a.x, b.w],
          [a.y, b.y, a.h],
          [b.y, a.y, b.h],
        ] as const
        const four = ways.map(([first, second, size]) => {
          const l = this.bool()
          this.linear(
            [
              [first, 1],
              [second, -1],
            ],
            Number.NEGATIVE_INFINITY,
            -size,
            [l],
          )
          return l
        })
        this.clause([not(a.when), not(b.when), ...four])
      }
    })
  }

  /** The whole programme; the terms are made least. */
  text(least: readonly Term[]): string {
    const { sum, base } = this.plain(least)
    const bounds = this.lo.map((lo, v) => `${lo} <= v${v} <= ${this.hi[v]}`)
    const names = this.lo.map((_, v) => `v${v}`)
    const one = `v${names.length}`
    const goal = [...sum].map(([v, f]) => `${f < 0 ? '-' : '+'} ${Math.abs(f)} v${v}`).join(' ')
    const rows = this.rows.map((r, k) => `r${k}: ${r}`)
    return [
      'Minimize',
      ` obj: ${goal} ${base < 0 ? '-' : '+'} ${Math.abs(base)} ${one}`,
      'Subject To',
      ...rows,
      'Bounds',
      ...bounds,
      `1 <= ${one} <= 1`,
      'General',
      names.join(' '),
      'End\n',
    ].join('\n')
  }

  /** Terms over variables; a negated literal counts 1 − v. */
  private plain(terms: readonly Term[]): { sum: Map<number, number>; base: number } {
    const sum = new Map<number, number>()
    let base = 0
    for (const [v, f] of terms) {
      if (v < 0) base += f
      const [k, g] = v < 0 ? [-v - 1, -f] : [v, f]
      sum.set(k, (sum.get(k) ?? 0) + g)
    }
    return { sum, base }
  }

  /** sign·Σ ≤ sign·limit + m·(number of `when` literals that do not hold). */
  private row(terms: readonly Term[], when: readonly number[], limit: number, m: number, sign: 1 | -1): void {
    const all = [...terms.map(([v, f]) => [v, sign * f] as const), ...when.map((l) => [not(l), -m] as const)]
    const { sum, base } = this.plain(all)
    const text = [...sum].map(([v, f]) => `${f < 0 ? '-' : '+'} ${Math.abs(f)} v${v}`).join(' ')
    this.rows.push(`${text} <= ${sign * limit - base}`)
  }
}
