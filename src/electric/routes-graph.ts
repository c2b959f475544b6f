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

interface Grid {
  readonly xs: readonly number[]
  readonly ys: readonly number[]
  /** First node; node = base + (iy · width + ix). */
  readonly base: number
  /** Whether the piece to the right of, above the node is barred. */
  readonly right: Uint8Array
  readonly up: Uint8Array
}

const sorted = (values: number[]): number[] => [...new Set(values)].sort((a, b) => a - b)

function gridOf(boxes: readonly Box[], spots: readonly { x: number; y: number }[], base: number): Grid {
  const xs = sorted([...boxes.flatMap((b) => [b.x0, b.x1]), ...spots.map((s) => s.x)])
  const ys = sorted([...boxes.flatMap((b) => [b.y0, b.y1]), ...spots.map((s) => s.y)])
  const ix = new Map(xs.map((v, i) => [v, i]))
  const iy = new Map(ys.map((v, i) => [v, i]))
  const width = xs.length
  const right = new Uint8Array(width * ys.length)
  const up = new Uint8Array(width * ys.length)
  for (const b of boxes) {
    const [l, r, d, u] = [ix.get(b.x0)!, ix.get(b.x1)!, iy.get(b.y0)!, iy.get(b.y1)!]
    for (let j = d + 1; j < u; j++) right.fill(1, j * width + l, j * width + r)
    for (let j = d; j < u; j++) up.fill(1, j * width + l + 1, j * width + Math.max(l + 1, r))
  }
  return { xs, ys, base, right, up }
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
    return g.base + g.ys.indexOf(y) * g.xs.length + g.xs.indexOf(x)
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
    const g = grids[deck]!
    const width = g.xs.length
    const i = (node - g.base) % width
    const j = Math.floor((node - g.base) / width)
    const here = node - g.base
    const step = (next: number, along: 0 | 1, length: number, x: number, y: number) =>
      reach(next * 3 + along, value + length + (dir !== 2 && dir !== along ? BEND : 0), state, guess(along, deck, x, y))
    const x = g.xs[i]!
    const y = g.ys[j]!
    if (i + 1 < width && !g.right[here]) step(node + 1, 0, g.xs[i + 1]! - x, g.xs[i + 1]!, y)
    if (i > 0 && !g.right[here - 1]) step(node - 1, 0, x - g.xs[i - 1]!, g.xs[i - 1]!, y)
    if (j + 1 < g.ys.length && !g.up[here]) step(node + width, 1, g.ys[j + 1]! - y, x, g.ys[j + 1]!)
    if (j > 0 && !g.up[here - width]) step(node - width, 1, y - g.ys[j - 1]!, x, g.ys[j - 1]!)
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
class Heap {
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
      if (!this.less(i, p)) break
      this.swap(i, p)
      i = p
    }
  }

  pop(): number | undefined {
    const top = this.states[0]
    if (top === undefined) return undefined
    const key = this.keys.pop()!
    const rest = this.rests.pop()!
    const state = this.states.pop()!
    if (this.keys.length > 0) {
      this.keys[0] = key
      this.rests[0] = rest
      this.states[0] = state
      for (let i = 0; ; ) {
        const l = 2 * i + 1
        if (l >= this.keys.length) break
        const c = l + 1 < this.keys.length && this.less(l + 1, l) ? l + 1 : l
        if (!this.less(c, i)) break
        this.swap(i, c)
        i = c
      }
    }
    return top
  }

  private less(a: number, b: number): boolean {
    const d = this.keys[a]! - this.keys[b]! || this.rests[a]! - this.rests[b]!
    return d < 0 || (d === 0 && this.states[a]! < this.states[b]!)
  }

  private swap(a: number, b: number): void {
    const k = this.keys[a]!
    const r = this.rests[a]!
    const s = this.states[a]!
    this.keys[a] = this.keys[b]!
    this.rests[a] = this.rests[b]!
    this.states[a] = this.states[b]!
    this.keys[b] = k
    this.rests[b] = r
    this.states[b] = s
  }
}

/** Whether a piece of a way runs through the inside of a box. */
export const crosses = (a: Spot, b: Spot, box: Box): boolean => {
  if (a.deck !== b.deck || (a.x === b.x && a.y === b.y)) return false
  const [x0, x1] = a.x < b.x ? [a.x, b.x] : [b.x, a.x]
  const [y0, y1] = a.y < b.y ? [a.y, b.y] : [b.y, a.y]
  return x0 < box.x1 && x1 > box.x0 && y0 < box.y1 && y1 > box.y0
}
