/**
 * Reads a proof and believes as little of it as it can: every learned clause and every bound must follow by unit
 * propagation from the lines before it, every deduction from the constraint that it names. What does not is not built on.
 * Shares no code with the search.
 */
import { ClauseBase, type Held } from './clause-base.ts'
import { type Box, type Cells, holds, isWhole, type Judge, judgeOf, type Lit, readLit, Words } from './constraints.ts'
import { goalJudgeOf } from './goal-constraints.ts'

export interface ProvenBound {
  /** `none`: there is no layout at all. */
  readonly goal: string
  /** Cannot be reached, with the thresholds of `under` met. */
  readonly value: number
  readonly under: readonly { readonly goal: string; readonly value: number }[]
}

export interface Replay {
  /** Lines of each kind. */
  readonly steps: { given: number; deduced: number; learned: number; forgot: number; bound: number }
  /** Deductions by kind of constraint. */
  readonly judged: Map<string, number>
  /** Deductions that only the search can judge, by its name for them. */
  readonly trusted: Map<string, number>
  readonly bounds: ProvenBound[]
  /** What does not follow, with its line; none = the proof stands. */
  readonly failures: string[]
}

interface Threshold {
  readonly goal: string
  readonly value: number
  readonly v: number
  readonly lit: Lit
}

const MOST = 20
/** The goal of a bound that there is no layout at all. */
const NONE = 'none'
/** More values or cells than any deck has (positions beyond 40 million are searched coarsely), and few enough to be held. */
const MOST_CELLS = 2 ** 26

/** Replays a proof, line by line. Throws where a line is none: a literal, a number or an end that is not where it should be. */
export function replay(lines: Iterable<string>): Replay {
  const r = new Replayer()
  let n = 0
  for (const line of lines) {
    n++
    if (line === '') continue
    const why = r.step(line.split(' '))
    if (why !== undefined && r.report.failures.length < MOST)
      r.report.failures.push(`line ${n}: ${why}: ${line.length > 200 ? `${line.slice(0, 200)} …` : line}`)
  }
  return r.report
}

class Replayer {
  readonly report: Replay = {
    steps: { given: 0, deduced: 0, learned: 0, forgot: 0, bound: 0 },
    judged: new Map(),
    trusted: new Map(),
    bounds: [],
    failures: [],
  }
  private readonly base = new ClauseBase()
  private readonly axes = new Map<number, number[]>()
  private readonly bitmaps = new Map<number, Cells>()
  private readonly constraints = new Map<number, { readonly kind: string; readonly judge: Judge | undefined }>()
  /** By literal. */
  private readonly thresholds = new Map<number, Threshold>()
  private readonly learned = new Map<number, Held | undefined>()
  /** Deductions since the last learned clause: the next one rests on them, later ones do not. */
  private passing: Held[] = []

  /** What is wrong with the step, if anything. */
  step(words: readonly string[]): string | undefined {
    const { steps } = this.report
    switch (words[0]) {
      case 'g':
        steps.given++
        return this.given(words)
      case 'd':
        steps.deduced++
        return this.deduced(words)
      case 'l': {
        steps.learned++
        const n = new Words(words, 1).whole()
        const lits = words.slice(2).map((w) => this.base.literal(w))
        const sound = this.base.follows(lits)
        this.pass()
        const again = once(this.learned, n, sound ? this.base.add(lits) : undefined)
        return sound ? again : 'does not follow by unit propagation'
      }
      case 'f': {
        steps.forgot++
        const w = new Words(words, 1)
        const n = w.whole()
        w.end()
        const c = this.learned.get(n)
        if (!this.learned.delete(n)) return 'forgets what was not learned'
        if (c) c.dead = true
        return undefined
      }
      case 'b':
        steps.bound++
        return this.bound(words)
      default:
        return 'no kind of step'
    }
  }

  private pass(): void {
    for (const c of this.passing) c.dead = true
    this.passing = []
  }

  private given(words: readonly string[]): string | undefined {
    const w = new Words(words, 1)
    switch (w.next()) {
      case 'clause':
        this.base.add(words.slice(2).map((l) => this.base.literal(l)))
        return undefined
      case 'axis': {
        const values: number[] = []
        const v = w.whole()
        while (!w.over) {
          const [first, step, count] = [w.whole(), w.whole(), w.count()]
          if (values.length + count > MOST_CELLS) return 'gives more values than can be'
          for (let k = 0; k < count; k++) values.push(first + k * step)
        }
        if (values.some((x, i) => i > 0 && x <= values[i - 1]!)) return 'values do not ascend'
        if (!isWhole(values.at(-1) ?? 0)) return 'gives values that are too large to be exact'
        if ([...this.thresholds.values()].some((t) => t.v === v)) return 'gives values to a threshold'
        return once(this.axes, v, values)
      }
      case 'bitmap': {
        const [n, x0, y0, nx, ny] = [w.whole(), w.whole(), w.whole(), w.count(), w.count()]
        if (nx * ny > MOST_CELLS) return 'gives more cells than can be'
        const legal = new Uint8Array(nx * ny)
        let at = 0
        for (let set = false; !w.over; set = !set) {
          const length = w.count()
          if (set) legal.fill(1, at, at + length)
          at += length
        }
        if (at !== nx * ny) return 'runs do not fill the bitmap'
        return once(this.bitmaps, n, { x0, y0, nx, ny, legal })
      }
      case 'constraint': {
        const n = w.whole()
        const kind = w.next()
        const judge =
          judgeOf(kind, w, this.axes, this.bitmaps) ??
          goalJudgeOf(kind, w, this.axes, (box, goal) => this.asked(box, goal))
        if (!judge && kind !== 'other') return 'gives no kind of constraint'
        const called = judge ? kind : w.next()
        w.end()
        return once(this.constraints, n, { kind: called, judge })
      }
      case 'threshold': {
        const [text, goal, value] = [w.next(), w.next(), w.number()]
        w.end()
        // two that share a variable could rule each other out, and a bound would follow from nothing
        if (!/^\d+$/.test(text)) return 'asks by what is no variable of its own'
        if (goal === NONE) return 'asks for no goal'
        const v = Number(text)
        if (this.axes.has(v)) return 'asks by how far something stands'
        return once(this.thresholds, this.base.literal(text), { goal, value, v, lit: readLit(text) })
      }
      default:
        return 'gives nothing known'
    }
  }

  /** The tightest that a goal's thresholds ask where their literals are true. Only of goals of which less is better. */
  private asked(box: Box, goal: string): number | undefined {
    let least: number | undefined
    for (const t of this.thresholds.values())
      if (t.goal === goal && (least === undefined || t.value < least) && holds(box, t.lit)) least = t.value
    return least
  }

  private deduced(words: readonly string[]): string | undefined {
    const { judged, trusted } = this.report
    const w = new Words(words, 1)
    const c = this.constraints.get(w.whole())
    const implied = w.next()
    const lits = [
      ...(implied === 'F' ? [] : [this.base.literal(implied)]),
      ...words.slice(3).map((l) => this.base.literal(l) ^ 1),
    ]
    if (!c) return 'names a constraint that was not given'
    const counted = c.judge ? judged : trusted
    counted.set(c.kind, (counted.get(c.kind) ?? 0) + 1)
    if (c.judge && !c.judge(boxOf(words))) return `does not follow from its ${c.kind}`
    const held = this.base.add(lits)
    if (held) this.passing.push(held)
    return undefined
  }

  private bound(words: readonly string[]): string | undefined {
    const w = new Words(words, 1)
    const [goal, value] = [w.next(), w.number()]
    // by the literals and not their texts: 9 and 09 are one
    const held = words.slice(3).map((l) => this.base.literal(l))
    // what is refuted with a threshold met says nothing of layouts that do not meet it
    if (goal === NONE && (value !== 0 || held.length > 0))
      return 'asks for something, so it does not say that there is none'
    if (!this.base.follows(held.map((l) => l ^ 1))) return 'is not refuted'
    this.pass()
    const under = held.map((l) => this.thresholds.get(l))
    const asked = under.pop()
    if (goal !== NONE && (asked?.goal !== goal || asked.value !== value)) return 'asks another threshold'
    if (under.some((t) => !t)) return 'holds what is no threshold'
    if (under.some((t) => t!.goal === goal)) return 'holds the goal that it bounds'
    this.report.bounds.push({ goal, value, under: under.map((t) => ({ goal: t!.goal, value: t!.value })) })
    return undefined
  }
}

/** Keeps what a number names; a second one would change what was said by the first. */
function once<K, T>(list: Map<K, T>, name: K, it: T): string | undefined {
  if (list.has(name)) return 'gives a second one of that number'
  list.set(name, it)
  return undefined
}

/** Reasons, and the opposite of the conclusion, as bounds. */
function boxOf(words: readonly string[]): Box {
  const low = new Map<number, number>()
  const high = new Map<number, number>()
  words.slice(2).forEach((w, i) => {
    const l = readLit(w)
    if (typeof l === 'boolean') return
    if (l.less === i > 0) high.set(l.v, Math.min(high.get(l.v) ?? Number.POSITIVE_INFINITY, l.k - 1))
    else low.set(l.v, Math.max(low.get(l.v) ?? 0, l.k))
  })
  return { low: (v) => low.get(v) ?? 0, high: (v) => high.get(v) ?? Number.POSITIVE_INFINITY }
}
