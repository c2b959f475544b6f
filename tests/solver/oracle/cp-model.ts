/** A thin writer of CP-SAT models as plain protocol objects: literals are variable numbers, `not(l)` is −l−1. */
import { CpModel, type CpModelProto, CpSolver } from 'or-tools-wasm/cp-sat'

export type Term = readonly [variable: number, factor: number]
export const not = (l: number): number => -l - 1
const FAR = 2 ** 60

export type CpAnswer =
  | { readonly status: 'optimal'; readonly value: number; readonly values: readonly number[] }
  | { readonly status: 'infeasible' }
  | { readonly status: 'unknown' }

export class CpWriter {
  private readonly domains: number[][] = []
  private readonly rules: NonNullable<CpModelProto['constraints']> = []
  private readonly truth: number

  constructor() {
    this.truth = this.int([1])
  }

  /** A copy to which more may be added. */
  copy(): CpWriter {
    const c = new CpWriter()
    c.domains.splice(0, 1, ...this.domains)
    c.rules.push(...this.rules)
    return c
  }

  get yes(): number {
    return this.truth
  }

  /** A variable that takes one of these values. */
  int(values: readonly number[]): number {
    const domain: number[] = []
    for (const v of [...new Set(values)].sort((a, b) => a - b)) {
      if (domain.at(-1) === v - 1) domain[domain.length - 1] = v
      else domain.push(v, v)
    }
    return this.domains.push(domain) - 1
  }

  range(lo: number, hi: number): number {
    return this.domains.push([lo, hi]) - 1
  }

  bool(): number {
    return this.range(0, 1)
  }

  /** lo ≤ Σ factor·variable ≤ hi, asked only where all `when` literals hold. */
  linear(terms: readonly Term[], lo: number, hi: number, when: readonly number[] = []): void {
    const sum = new Map<number, number>()
    let base = 0
    for (const [v, f] of terms) {
      // A negated literal counts 1 − v.
      if (v < 0) base += f
      const [k, g] = v < 0 ? [-v - 1, -f] : [v, f]
      sum.set(k, (sum.get(k) ?? 0) + g)
    }
    const vars = [...sum.keys()].filter((k) => sum.get(k) !== 0)
    const linear = {
      vars,
      coeffs: vars.map((k) => sum.get(k)!),
      domain: [Math.max(lo, -FAR) - base, Math.min(hi, FAR) - base],
    }
    this.rules.push(when.length > 0 ? { linear, enforcementLiteral: [...when] } : { linear })
  }

  clause(literals: readonly number[]): void {
    this.rules.push({ boolOr: { literals: [...literals] } })
  }

  exactlyOne(literals: readonly number[]): void {
    this.rules.push({ exactlyOne: { literals: [...literals] } })
  }

  /** A literal that holds where any of these does. */
  any(literals: readonly number[]): number {
    const l = this.bool()
    this.clause([not(l), ...literals])
    for (const k of literals) this.clause([l, not(k)])
    return l
  }

  table(vars: readonly number[], rows: readonly (readonly number[])[]): void {
    const exprs = vars.map((v) => ({ vars: [v], coeffs: [1] }))
    this.rules.push({ table: { exprs, values: rows.flat() } })
  }

  /** Boxes of fixed size at variable places, each there where `when` holds, none over another. */
  noOverlap(boxes: readonly { x: number; y: number; w: number; h: number; when: number }[]): void {
    const interval = (v: number, size: number, when: number): number => {
      const start = { vars: [v], coeffs: [1] }
      const end = { vars: [v], coeffs: [1], offset: size }
      return this.rules.push({ interval: { start, end, size: { offset: size } }, enforcementLiteral: [when] }) - 1
    }
    const xIntervals = boxes.map((b) => interval(b.x, b.w, b.when))
    const yIntervals = boxes.map((b) => interval(b.y, b.h, b.when))
    this.rules.push({ noOverlap2d: { xIntervals, yIntervals } })
  }

  /** Σ factor·variable + base as a variable of its own, and its square. */
  square(terms: readonly Term[], base: number, most: number): number {
    const v = this.range(-most, most)
    this.linear([...terms, [v, -1]], -base, -base)
    const s = this.range(0, most * most)
    const e = { vars: [v], coeffs: [1] }
    this.rules.push({ intProd: { target: { vars: [s], coeffs: [1] }, exprs: [e, e] } })
    return s
  }

  /** Least Σ, or any answer where no terms are given. */
  async solve(least: readonly Term[], seconds: number): Promise<CpAnswer> {
    const sum = new Map<number, number>()
    let base = 0
    for (const [v, f] of least) {
      if (v < 0) base += f
      sum.set(v < 0 ? -v - 1 : v, (sum.get(v < 0 ? -v - 1 : v) ?? 0) + (v < 0 ? -f : f))
    }
    const vars = [...sum.keys()]
    const proto: CpModelProto = { variables: this.domains.map((domain) => ({ domain })), constraints: this.rules }
    if (vars.length > 0) proto.objective = { vars, coeffs: vars.map((k) => sum.get(k)!) }
    const model = new CpModel(proto)
    const solver = new CpSolver()
    const status = solver.statusName(await solver.solve(model, { numSearchWorkers: 1, maxTimeInSeconds: seconds }))
    if (status === 'INFEASIBLE') return { status: 'infeasible' }
    if (status === 'MODEL_INVALID') throw new Error(`CP-SAT refuses the model: ${await model.validate()}`)
    if (status !== 'OPTIMAL') return { status: 'unknown' }
    const values = (solver.response()!.solution ?? []).map(Number)
    const value = vars.reduce((s, k) => s + sum.get(k)! * values[k]!, base)
    return { status: 'optimal', value, values }
  }
}
