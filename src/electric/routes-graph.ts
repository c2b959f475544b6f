/**
 * Shortest rectilinear ways among boxes. A shortest way exists on the lines through the boxes' sides and the ends (the escape
 * graph; de Rezende, Lee & Wu 1985 show it for rectangles), so it is enough to search those, by A* (Hart, Nilsson & Raphael
 * 1968). Among the shortest one with the fewest bends is taken. Lengths in Um.
 */

/** Open: a way may run along the sides. */
export interface Box {
  readonly x0: number
  readonly y0: number
  readonly x1: number
  readonly y1: number
}

export interface Spot {
  readonly deck: number
  readonly x: number
  readonly y: number
}

/** Where a lead may change deck, at no length (what the height costs is the caller's to add). */
export interface Link {
  readonly x: number
  readonly y: number
  readonly decks: readonly [number, number]
}

export interface Way {
  readonly length: number
  /** Ends and corners; a spot on each deck where it changes. */
  readonly spots: readonly Spot[]
}

/** A bend costs this part of a micrometre: never a longer way for fewer bends. */
const BEND = 1 / 1024

/** The crossings of all lines on one deck. */
export interface Grid {
  readonly xs: readonly number[]
  readonly ys: readonly number[]
  /** First node; node = base + (iy · width + ix). */
  readonly base: number
  /** Whether the piece to the right of, above the node is barred. */
  readonly right: Uint8Array
  readonly up: Uint8Array
}

/** In order, each once. */
function sorted(values: Float64Array): number[] {
  values.sort()
  const out: number[] = []
  for (const v of values) if (out.length === 0 || out[out.length - 1] !== v) out.push(v)
  return out
}

export function gridOf(boxes: readonly Box[], spots: readonly { x: number; y: number }[], base: number): Grid {
  const n = 2 * boxes.length
  const vx = new Float64Array(n + spots.length)
  const vy = new Float64Array(n + spots.length)
  boxes.forEach((b, i) => {
    vx[2 * i] = b.x0
    vx[2 * i + 1] = b.x1
    vy[2 * i] = b.y0
    vy[2 * i + 1] = b.y1
  })
  spots.forEach((s, i) => {
    vx[n + i] = s.x
    vy[n + i] = s.y
  })
  const xs = sorted(vx)
  const ys = sorted(vy)
  const width = xs.length
  const right = new Uint8Array(width * ys.length)
  const up = new Uint8Array(width * ys.length)
  for (const b of boxes) {
    const [l, r, d, u] = [at(xs, b.x0), at(xs, b.x1), at(ys, b.y0), at(ys, b.y1)]
    for (let j = d + 1; j < u; j++) right.fill(1, j * width + l, j * width + r)
    for (let j = d; j < u; j++) up.fill(1, j * width + l + 1, j * width + Math.max(l + 1, r))
  }
  return { xs, ys, base, right, up }
}

/** Where a value stands in a sorted list that has it. */
export function at(list: readonly number[], value: number): number {
  let [lo, hi] = [0, list.length - 1]
  while (lo < hi) {
    const mid = (lo + hi) >> 1
    if (list[mid]! < value) lo = mid + 1
    else hi = mid
  }
  return lo
}

/** The shortest way from one spot to another, or none. `boxes` by deck; links join decks. */
export function shortestWay(
  boxes: readonly (readonly Box[])[],
  from: Spot,
  to: Spot,
  links: readonly Link[] = [],
): Way | undefined {
  const grids: Grid[] = []
  let nodes = 0
  boxes.forEach((b, deck) => {
    const here = [from, to].filter((s) => s.deck === deck)
    const grid = gridOf(b, [...here, ...links.filter((l) => l.decks.includes(deck))], nodes)
    grids.push(grid)
    nodes += grid.xs.length * grid.ys.length
  })
  const nodeAt = (deck: number, x: number, y: number) => {
    const g = grids[deck]!
    return g.base + at(g.ys, y) * g.xs.length + at(g.xs, x)
  }
  const deckOf = (node: number) => {
    let d = grids.length - 1
    while (grids[d]!.base > node || grids[d]!.xs.length === 0) d--
    return d
  }
  const across = new Map<number, number[]>()
  for (const l of links) {
    const [a, b] = [nodeAt(l.decks[0], l.x, l.y), nodeAt(l.decks[1], l.x, l.y)]
    across.set(a, [...(across.get(a) ?? []), b])
    across.set(b, [...(across.get(b) ?? []), a])
  }
  const goal = nodeAt(to.deck, to.x, to.y)
  const start = nodeAt(from.deck, from.x, from.y)
  // A state is a node and the way it was entered: 0 along x, 1 along y, 2 not along either.
  const cost = new Float64Array(nodes * 3).fill(Number.POSITIVE_INFINITY)
  const before = new Int32Array(nodes * 3).fill(-1)
  const done = new Uint8Array(nodes * 3)
  const heap = new Heap()
  const guess = guesser(boxes.length, to, links)
  const reach = (state: number, value: number, came: number, rest: number) => {
    if (value >= cost[state]! || rest === Number.POSITIVE_INFINITY) return
    cost[state] = value
    before[state] = came
    heap.push(value + rest, rest, state)
  }
  reach(start * 3 + 2, 0, -1, guess(2, from.deck, from.x, from.y))
  for (let state = heap.pop(); state !== undefined; state = heap.pop()) {
    if (done[state]) continue
    done[state] = 1
    const node = Math.floor(state / 3)
    const dir = state % 3
    if (node === goal) return wayTo(state, before, grids, deckOf)
    const value = cost[state]!
    const deck = deckOf(node)
    const { xs, ys, right, up, base } = grids[deck]!
    const width = xs.length
    const here = node - base
    const i = here % width
    const j = (here - i) / width
    const x = xs[i]!
    const y = ys[j]!
    for (let side = 0; side < 4; side++) {
      const along = side >> 1
      const back = side % 2 === 1
      const edge = back ? here - (along === 0 ? 1 : width) : here
      if (along === 0 ? (back ? i === 0 : i + 1 === width) : back ? j === 0 : j + 1 === ys.length) continue
      if ((along === 0 ? right : up)[edge] === 1) continue
      const next = node + (back ? -1 : 1) * (along === 0 ? 1 : width)
      const to = next * 3 + along
      if (done[to] === 1) continue
      const nx = along === 0 ? xs[back ? i - 1 : i + 1]! : x
      const ny = along === 0 ? y : ys[back ? j - 1 : j + 1]!
      const length = Math.abs(nx - x) + Math.abs(ny - y)
      const gone = value + length + (dir !== 2 && dir !== along ? BEND : 0)
      if (gone < cost[to]!) reach(to, gone, state, guess(along, deck, nx, ny))
    }
    if (links.length > 0)
      for (const next of across.get(node) ?? []) reach(next * 3 + 2, value, state, guess(2, deckOf(next), x, y))
  }
  return undefined
}

/**
 * The least that is left to go from a place that was entered in a direction: as if nothing stood in the way, over the passes, and
 * the bend that must come. Never too much, so that A* still ends with a shortest way of fewest bends.
 */
function guesser(
  decks: number,
  to: Spot,
  links: readonly Link[],
): (dir: number, deck: number, x: number, y: number) => number {
  if (links.length === 0) {
    return (dir, _, x, y) => {
      const [dx, dy] = [Math.abs(x - to.x), Math.abs(y - to.y)]
      const bends = (dir === 1 || dy > 0) && (dir === 0 || dx > 0) && dx + dy > 0
      return dx + dy + (bends ? BEND : 0)
    }
  }
  // Links hold for both of their decks; relaxed until nothing gets shorter (Bellman 1958; Ford 1956).
  const left = links.map((l) =>
    l.decks.includes(to.deck) ? Math.abs(l.x - to.x) + Math.abs(l.y - to.y) : Number.POSITIVE_INFINITY,
  )
  for (let again = true; again; ) {
    again = false
    links.forEach((l, i) => {
      links.forEach((m, k) => {
        const over = left[k]! + Math.abs(l.x - m.x) + Math.abs(l.y - m.y)
        if (over >= left[i]! || !(m.decks.includes(l.decks[0]) || m.decks.includes(l.decks[1]))) return
        left[i] = over
        again = true
      })
    })
  }
  const on = Array.from({ length: decks }, (_, d) =>
    links.flatMap((l, i) => (l.decks.includes(d) ? [{ x: l.x, y: l.y, left: left[i]! }] : [])),
  )
  return (_, deck, x, y) => {
    let least = deck === to.deck ? Math.abs(x - to.x) + Math.abs(y - to.y) : Number.POSITIVE_INFINITY
    for (const l of on[deck]!) least = Math.min(least, Math.abs(x - l.x) + Math.abs(y - l.y) + l.left)
    return least
  }
}

function wayTo(state: number, before: Int32Array, grids: readonly Grid[], deckOf: (node: number) => number): Way {
  const spots: Spot[] = []
  for (let s = state; s >= 0; s = before[s]!) {
    const node = Math.floor(s / 3)
    const deck = deckOf(node)
    const g = grids[deck]!
    const at = node - g.base
    const spot = { deck, x: g.xs[at % g.xs.length]!, y: g.ys[Math.floor(at / g.xs.length)]! }
    const a = spots[0]
    const b = spots[1]
    const straight =
      a &&
      b &&
      a.deck === deck &&
      b.deck === deck &&
      ((a.x === b.x && spot.x === a.x) || (a.y === b.y && spot.y === a.y))
    if (straight) spots[0] = spot
    else spots.unshift(spot)
  }
  const length = spots.reduce((sum, s, i) => {
    const last = spots[i - 1]
    return last && last.deck === s.deck ? sum + Math.abs(s.x - last.x) + Math.abs(s.y - last.y) : sum
  }, 0)
  return { length, spots }
}

/**
 * A binary heap of states. Of equal keys what is nearest to the goal leaves first, which saves looking at all ways that are as
 * short; then in the order of the states, so that a way is always the same.
 */
export class Heap {
  private readonly keys: number[] = []
  private readonly rests: number[] = []
  private readonly states: number[] = []

  push(key: number, rest: number, state: number): void {
    let i = this.keys.length
    this.keys.push(key)
    this.rests.push(rest)
    this.states.push(state)
    while (i > 0) {
      const p = (i - 1) >> 1
      if (!this.before(key, rest, state, p)) break
      this.copy(p, i)
      i = p
    }
    this.set(i, key, rest, state)
  }

  pop(): number | undefined {
    const top = this.states[0]
    if (top === undefined) return undefined
    const key = this.keys.pop()!
    const rest = this.rests.pop()!
    const state = this.states.pop()!
    const n = this.keys.length
    if (n === 0) return top
    let i = 0
    for (;;) {
      const l = 2 * i + 1
      if (l >= n) break
      const r = l + 1
      const c = r < n && this.before(this.keys[r]!, this.rests[r]!, this.states[r]!, l) ? r : l
      if (this.before(key, rest, state, c)) break
      this.copy(c, i)
      i = c
    }
    this.set(i, key, rest, state)
    return top
  }

  /** Whether this entry leaves before the one at `i`. */
  private before(key: number, rest: number, state: number, i: number): boolean {
    const k = this.keys[i]!
    if (key !== k) return key < k
    const r = this.rests[i]!
    return rest !== r ? rest < r : state < this.states[i]!
  }

  private copy(from: number, to: number): void {
    this.set(to, this.keys[from]!, this.rests[from]!, this.states[from]!)
  }

  private set(i: number, key: number, rest: number, state: number): void {
    this.keys[i] = key
    this.rests[i] = rest
    this.states[i] = state
  }
}

/** Whether a piece of a way runs through the inside of a box. */
export const crosses = (a: Spot, b: Spot, box: Box): boolean => {
  if (a.deck !== b.deck || (a.x === b.x && a.y === b.y)) return false
  return (
    Math.min(a.x, b.x) < box.x1 &&
    Math.max(a.x, b.x) > box.x0 &&
    Math.min(a.y, b.y) < box.y1 &&
    Math.max(a.y, b.y) > box.y0
  )
}
