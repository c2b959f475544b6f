/**
 * Where the fit begins, and which other answers there are: distances alone often leave a hole and its mirror image. Edges say
 * coordinates outright; what they do not say is tried on a grid over the plate, and from a few scattered starts.
 */
import { adjust, type Fitted, type Target } from './caliper-fit.ts'
import { type CaliperMeasures, DEPTH, isEdge, isHorizontal, WIDTH } from './caliper-model.ts'

/** Points of the grid along each side of the plate. */
const GRID = 24
/** Answers whose chi² differs by less cannot be told apart (three standard deviations). */
const ALIKE = 9
/** Answers that lie nearer to one another are one, mm. */
const SAME = 0.1
/** A hole's centre may lie outside the plate by so much in an answer, mm. */
const OUTSIDE = 0.5
const MOST_ANSWERS = 8

export function startOf(target: Target, m: CaliperMeasures): number[] {
  const { model, values } = target
  const x = new Array<number>(model.unknowns.length).fill(0)
  const longest = Math.max(1, ...values)
  const known = new Set<number>()
  const set = (index: number, value: number): void => {
    if (known.has(index)) return
    known.add(index)
    x[index] = value
  }
  m.measures.forEach((k, i) => {
    if (isEdge(k.from) && k.to !== undefined && isEdge(k.to)) set(isHorizontal(k.from) ? DEPTH : WIDTH, values[i]!)
  })
  set(WIDTH, longest)
  set(DEPTH, longest)
  m.holes.forEach((h, j) => {
    const at = model.holes[j]!
    if (at.d !== undefined) {
      const i = m.measures.findIndex((k) => k.from === h.id && k.to === undefined)
      set(at.d, i < 0 ? 3 : values[i]!)
    }
    m.measures.forEach((k, i) => {
      const edge = [k.from, k.to ?? ''].find(isEdge)
      if (edge === undefined || (k.from !== h.id && k.to !== h.id)) return
      const index = isHorizontal(edge) ? at.y : at.x
      const size = x[isHorizontal(edge) ? DEPTH : WIDTH]!
      set(index, edge === 'left' || edge === 'back' ? values[i]! : size - values[i]!)
    })
    // Off the middle and off one another, so that no distance is 0 and no two holes pull the same way.
    set(at.x, h.near?.[0] ?? x[WIDTH]! * scattered(2 * j + 1))
    set(at.y, h.near?.[1] ?? x[DEPTH]! * scattered(2 * j + 2))
  })
  return x
}

/** A fixed sequence in (0, 1) that fills it evenly: multiples of the golden ratio. */
const scattered = (k: number): number => 0.1 + 0.8 * ((k * 0.6180339887498949) % 1)

/** The best answer, and those that fit as well and are elsewhere. Holes with a `near` stay in its neighbourhood. */
export function answersBeside(target: Target, m: CaliperMeasures, first: Fitted): { answer: Fitted; others: Fitted[] } {
  const free = target.model.holes.filter((_, i) => m.holes[i]!.near === undefined)
  const found: Fitted[] = [first]
  const take = (f: Fitted): void => {
    if (!found.some((g) => same(target, f, g)) && found.length < 60) found.push(f)
  }
  // Scattered starts first: the first answer may be a bad one. Fewer where each is dear.
  const starts = Math.max(3, Math.min(40, Math.round(3e6 / target.model.unknowns.length ** 3)))
  for (let s = 1; s <= starts; s++) {
    const x = first.x.slice()
    free.forEach((h, j) => {
      x[h.x] = x[WIDTH]! * scattered(13 * s + 2 * j)
      x[h.y] = x[DEPTH]! * scattered(29 * s + 2 * j + 1)
    })
    take(adjust(target, x))
  }
  const best = () =>
    found.reduce(
      (a, b) => (b.chi2 < a.chi2 && inside(target, b) ? b : a),
      found.find((f) => inside(target, f)) ?? first,
    )
  const from = best()
  for (const h of free)
    for (const at of valleys(target, from, h)) {
      const x = from.x.slice()
      x[h.x] = at.x
      x[h.y] = at.y
      take(adjust(target, x))
    }
  const lowest = best()
  const alike = found.filter((f) => f.chi2 - lowest.chi2 < ALIKE && inside(target, f))
  const answer = alike.reduce((a, b) => (astray(target, m, b) < astray(target, m, a) - SAME ? b : a), lowest)
  const others = alike.filter(
    (f) => f !== answer && !same(target, f, answer) && astray(target, m, f) < astray(target, m, answer) + SAME,
  )
  return { answer, others: others.slice(0, MOST_ANSWERS) }
}

/** How far holes are from where they were said to be, about, mm. */
const astray = (target: Target, m: CaliperMeasures, { x }: Fitted): number =>
  target.model.holes.reduce((sum, h, i) => {
    const near = m.holes[i]!.near
    return near === undefined ? sum : sum + Math.hypot(x[h.x]! - near[0], x[h.y]! - near[1])
  }, 0)

function same(target: Target, a: Fitted, b: Fitted): boolean {
  return target.model.holes.every((h) => Math.hypot(a.x[h.x]! - b.x[h.x]!, a.x[h.y]! - b.x[h.y]!) < SAME)
}

const inside = (target: Target, { x }: Fitted): boolean =>
  x[WIDTH]! > 0 &&
  x[DEPTH]! > 0 &&
  target.model.holes.every(
    (h) => Math.min(x[h.x]!, x[h.y]!) > -OUTSIDE && x[h.x]! < x[WIDTH]! + OUTSIDE && x[h.y]! < x[DEPTH]! + OUTSIDE,
  )

/** Grid points lower than their neighbours in this hole's own part of chi², all else staying. */
function valleys(
  target: Target,
  { x }: Fitted,
  h: { x: number; y: number; d: number | undefined },
): { x: number; y: number }[] {
  const own = target.model.equations.flatMap((e, i) => (e.on.includes(h.x) ? [i] : []))
  const at = x.slice()
  const gradient: number[] = []
  const heights: number[][] = []
  const place = (i: number, size: number): number => ((i + 0.5) / GRID) * size
  for (let i = 0; i < GRID; i++) {
    const row: number[] = []
    heights.push(row)
    for (let j = 0; j < GRID; j++) {
      at[h.x] = place(i, x[WIDTH]!)
      at[h.y] = place(j, x[DEPTH]!)
      row.push(
        own.reduce((sum, k) => {
          const r = (target.model.equations[k]!.at(at, gradient) - target.values[k]!) / target.uncertainties[k]!
          return sum + r * r
        }, 0),
      )
    }
  }
  const low: { x: number; y: number }[] = []
  for (let i = 0; i < GRID; i++) {
    for (let j = 0; j < GRID; j++) {
      let lowest = true
      for (let k = 0; k < 9; k++) {
        const other = heights[i + (k % 3) - 1]?.[j + Math.floor(k / 3) - 1]
        if (other !== undefined && other < heights[i]![j]!) lowest = false
      }
      if (lowest) low.push({ x: place(i, x[WIDTH]!), y: place(j, x[DEPTH]!) })
    }
  }
  return low
}
