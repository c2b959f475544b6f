/** A proof as text, one step a line: see README.md for the format. */
import type { Axis } from '../search/relation.ts'
import type { Bitmap } from '../search/static-map.ts'
import { describe, runs, type Speller } from './describe.ts'
import { ProofLog, type Speaker } from './steps.ts'

const TRUE = -1
const FALSE = -2

export class TextLog extends ProofLog implements Speller {
  readonly every = false
  steps = 0
  /** Characters written, line ends included; all of them ASCII, so bytes as well. */
  bytes = 0
  private readonly sink: (line: string) => void
  private readonly speakers = new Map<Speaker, number>()
  private readonly axes = new Set<number>()
  private readonly bitmaps = new Map<Bitmap, number>()
  private readonly numbers = new Map<ArrayLike<number>, number>()
  private clauses = 0

  /** `sink` gets each line, without its end. */
  constructor(sink: (line: string) => void) {
    super()
    this.sink = sink
  }

  private write(line: string): void {
    this.bytes += line.length + 1
    this.steps++
    this.sink(line)
  }

  lit(l: number): string {
    if (l === TRUE) return 'T'
    if (l === FALSE) return 'F'
    const v = this.e.varOf(l)
    const k = (l >> 1) - this.e.base[v]!
    return `${l & 1 ? '-' : ''}${v + 1}${k === 1 ? '' : `.${k}`}`
  }

  private lits(list: ArrayLike<number>, turned = false): string {
    let out = ''
    for (let i = 0; i < list.length; i++) {
      const l = list[i]!
      if (l >= 0) out += ` ${this.lit(turned ? l ^ 1 : l)}`
    }
    return out
  }

  axis(a: Axis): string {
    if (!this.axes.has(a.v)) {
      this.axes.add(a.v)
      this.write(`g axis ${a.v + 1}${steps(a.values)}`)
    }
    return String(a.v + 1)
  }

  bitmap(b: Bitmap): string {
    let n = this.bitmaps.get(b)
    if (n === undefined) {
      n = this.bitmaps.size + 1
      this.bitmaps.set(b, n)
      this.write(`g bitmap ${n} ${b.x0} ${b.y0} ${b.nx} ${b.ny} ${runs(b).join(' ')}`)
    }
    return String(n)
  }

  given(lits: readonly number[]): void {
    if (!lits.includes(TRUE)) this.write(`g clause${this.lits(lits)}`)
  }

  asked(goal: string, value: number, guard: number): void {
    this.write(`g threshold ${this.lit(guard)} ${goal} ${value}`)
  }

  private number(by: Speaker | undefined): number {
    if (!by) return 0
    let n = this.speakers.get(by)
    if (n === undefined) {
      n = this.speakers.size + 1
      this.speakers.set(by, n)
      this.write(`g constraint ${n} ${describe(by, this)}`)
    }
    return n
  }

  deduced(lit: number, reason: ArrayLike<number>, by: Speaker | undefined): void {
    this.write(`d ${this.number(by)} ${this.lit(lit)}${this.lits(reason)}`)
  }

  learned(lits: ArrayLike<number>): void {
    const n = ++this.clauses
    this.numbers.set(lits, n)
    this.write(`l ${n}${this.lits(lits)}`)
  }

  forgot(lits: ArrayLike<number>): void {
    const n = this.numbers.get(lits)
    if (n === undefined) return
    this.numbers.delete(lits)
    this.write(`f ${n}`)
  }

  protected wroteBound(goal: string | undefined, value: number, held: readonly number[]): void {
    this.write(`b ${goal ?? 'none'} ${value}${this.lits(held)}`)
  }
}

/** Values in runs of equal steps: first, step, count, first, step, count, … */
function steps(values: Int32Array): string {
  const out: number[] = []
  for (let i = 0; i < values.length; ) {
    const step = i + 1 < values.length ? values[i + 1]! - values[i]! : 0
    let n = 1
    while (i + n < values.length && values[i + n]! - values[i + n - 1]! === step) n++
    out.push(values[i]!, step, n)
    i += n
  }
  return out.map((n) => ` ${n}`).join('')
}
