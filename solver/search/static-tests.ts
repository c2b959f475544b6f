/** Gathers what rules say of one body alone, and turns it into bitmaps, block by block. */
import type { Rect } from '../units.ts'
import type { Forbidden } from './apart.ts'
import { FALSE, TRUE } from './engine.ts'
import type { Body, Mode, Model } from './model.ts'
import { gathered, sameOnDeck } from './parts.ts'
import { Bitmap, StaticMap } from './static-map.ts'

/** Of all corners in [xl, xu] × [yl, yu] (µm): 1 all pass, −1 none does, 0 some may. Exact when the box is one point (then never 0). */
export type StaticTest = (xl: number, xu: number, yl: number, yu: number) => -1 | 0 | 1

/**
 * A test of a rectangle that moves with the body. `bad` must be monotone: a larger rectangle is at least as bad. Over a
 * block of positions the union of the rectangles decides "all pass", what they have in common "none does".
 */
export function movingRect(offset: Rect, bad: (x: number, y: number, w: number, h: number) => boolean): StaticTest {
  const { x, y, w, h } = offset
  return (xl, xu, yl, yu) => {
    if (!bad(xl + x, yl + y, w + xu - xl, h + yu - yl)) return 1
    if (xl === xu && yl === yu) return -1
    const cw = w - (xu - xl)
    const ch = h - (yu - yl)
    return cw >= 0 && ch >= 0 && bad(xu + x, yu + y, cw, ch) ? -1 : 0
  }
}

/** What a rule asks of a body in one mode. */
export type Asked = StaticTest | readonly StaticTest[] | undefined

interface Entry {
  readonly body: Body
  readonly guard: number
  readonly asked: (mode: Mode) => Asked
  /** True: it asks something else of turns that are the same to the deck, and of copies. */
  readonly turned: boolean
}

const testsOf = ({ asked }: Entry, mode: Mode): readonly StaticTest[] => {
  const tests = asked(mode)
  return typeof tests === 'function' ? [tests] : (tests ?? [])
}

/** One a mode; undefined where nothing is asked. */
type Maps = (() => readonly Bitmap[]) | undefined

export class StaticTests {
  private readonly model: Model
  private readonly entries: Entry[] = []

  constructor(model: Model) {
    this.model = model
  }

  add(body: Body, guard: number, asked: (mode: Mode) => Asked, turned: boolean): void {
    if (guard !== FALSE) this.entries.push({ body, guard, asked, turned })
  }

  /** One bitmap a mode over everything said about a body (a set of bitmaps an instance where conflicts are explained). */
  post(): void {
    const { model } = this
    const shared = new Map<string, Maps>()
    for (const body of model.bodies) {
      if (body.seating) continue
      // what was said last, where the item is wanted, mostly leaves the least
      const mine = this.entries.filter((n) => n.body === body).reverse()
      const packs = model.explaining ? mine.map((n) => [n]) : [mine]
      packs.forEach((pack, i) => {
        // copies of one item mostly have the same axes, modes and tests: not where one is held or named alone, or asked less
        const modes = body.modes.map((m) => `${m.deck}.${m.turn}`).join()
        const as = model.asksAll && !pack.some((n) => n.turned) ? body.item.base : body.index
        const key = `${as}/${i}/${modes}/${JSON.stringify(body.item.place)}`
        if (!shared.has(key)) shared.set(key, this.mapsOf(body, pack))
        const maps = shared.get(key)
        if (!maps) return
        if (!model.explaining) body.maps = maps()
        const kinds = model.explaining ? body.modes.map((m) => [m]) : kindsOf(body)
        const lits = kinds.map((k) => model.class(body, k))
        const first = kinds.map((k) => body.modes.indexOf(k[0]!))
        const guard = model.explaining ? pack[0]!.guard : TRUE
        new StaticMap(model.e, body.x, body.y, lits, () => first.map((m) => maps()[m]!), body.present, guard)
      })
    }
    for (const n of this.entries) if (n.body.seating) this.postSeated(n)
    for (const body of model.bodies) if (model.explaining || body.seating) this.postTogether(body)
  }

  /** Between what positions any pass: from outside, one after the other would be tried. */
  private postBox({ body, guard }: Entry, mode: Mode, tests: readonly StaticTest[]): void {
    const { e } = this.model
    const [nx, ny] = [body.x.values.length, body.y.values.length]
    const any = (x0: number, x1: number, y0: number, y1: number) =>
      passing(
        body,
        tests,
        () => this.model.tick(),
        () => true,
        [x0, x1, y0, y1],
      )
    if (!any(0, nx - 1, 0, ny - 1)) return
    const { x, y } = body
    const left = first(nx, (i, j) => any(i, j, 0, ny - 1))
    const right = nx - first(nx, (i, j) => any(nx - 1 - j, nx - 1 - i, 0, ny - 1))
    const back = first(ny, (i, j) => any(0, nx - 1, i, j))
    const front = ny - first(ny, (i, j) => any(0, nx - 1, ny - 1 - j, ny - 1 - i))
    for (const within of [e.ge(x.v, left), e.lt(x.v, right), e.ge(y.v, back), e.lt(y.v, front)])
      e.addClause([e.not(guard), e.not(mode.lit), within])
  }

  /** Where rules leave a body no place together, and each by itself does: else that is found out place by place. */
  private postTogether(body: Body): void {
    const { e, explaining } = this.model
    const mine = this.entries.filter((n) => n.body === body)
    const known = new Map<string, readonly Entry[] | undefined>()
    const closed: number[][] = []
    for (const mode of body.modes) {
      const { deck, turn, z0 } = mode
      const key = `${deck}.${turn}.${z0}`
      if (!known.has(key)) known.set(key, this.nowhere(body, mode, mine))
      const those = known.get(key)
      if (those) closed.push([e.not(mode.lit), ...those.flatMap(({ guard }) => (guard === TRUE ? [] : [e.not(guard)]))])
      // what has a place in some mode is soon placed
      else if (!explaining) return
    }
    for (const clause of closed) e.addClause(clause)
  }

  /** Of what is asked of a body, as little as leaves it no place in that mode; undefined where it has one. */
  private nowhere(body: Body, mode: Mode, all: readonly Entry[]): readonly Entry[] | undefined {
    const tick = () => this.model.tick()
    const asked = all.flatMap((n) => {
      const tests = testsOf(n, mode)
      return tests.length > 0 ? [{ n, tests }] : []
    })
    const left = (some: typeof asked) =>
      passing(
        body,
        some.flatMap((a) => a.tests),
        tick,
        () => true,
      )
    if (left(asked)) return undefined
    let least = asked
    for (const one of asked) {
      const rest = least.filter((a) => a !== one)
      if (!left(rest)) least = rest
    }
    return least.map((a) => a.n)
  }

  /** One a mode; turns that are the same to the deck have one together. */
  private mapsOf(body: Body, pack: readonly Entry[]): Maps {
    const kinds = kindsOf(body)
    let tests = kinds.map((k) =>
      pack.flatMap((n) => (n.turned ? [anyOf(k.map((m) => testsOf(n, m)))] : testsOf(n, k[0]!))),
    )
    if (tests.every((t) => t.length === 0)) return undefined
    let made: readonly Bitmap[] | undefined
    return () => {
      if (made) return made
      const maps = tests.map((t) => fill(body, t, () => this.model.tick()))
      // tests are many, and no more asked
      tests = []
      made = body.modes.map((m) => maps[kinds.findIndex((k) => k.includes(m))]!)
      return made
    }
  }

  /** A plug-in part's positions are too many for a bitmap: what is left of them is tested, box by box. */
  private postSeated(n: Entry): void {
    const { x, y } = n.body
    const box = [x.values[0]!, x.values[x.values.length - 1]!, y.values[0]!, y.values[y.values.length - 1]!] as const
    const shared = new Map<string, readonly StaticTest[]>()
    for (const mode of n.body.modes) {
      // whatever the host: on many boards of one height there are many modes of few kinds
      const { deck, turn, z0 } = mode
      const key = `${deck}.${turn}.${z0}`
      const tests = shared.get(key) ?? testsOf(n, mode)
      shared.set(key, tests)
      if (tests.length === 0) continue
      if (this.model.explaining) this.postBox(n, mode, tests)
      const forbids: Forbidden['forbids'] = (xl, xu, yl, yu) => tests.some((t) => t(xl, xu, yl, yu) === -1)
      this.model.apart(undefined, n.body, [n.guard, mode.lit], { box, forbids })
    }
  }
}

/** What passes all tests of one of these lists. */
function anyOf(lists: readonly (readonly StaticTest[])[]): StaticTest {
  return (xl, xu, yl, yu) => {
    let most = -1
    for (const tests of lists) {
      let least = 1
      for (const t of tests) least = Math.min(least, t(xl, xu, yl, yu))
      most = Math.max(most, least)
    }
    return most as ReturnType<StaticTest>
  }
}

/** Modes that are the same to the deck, together. */
const kindsOf = ({ modes, footprint }: Body): Mode[][] =>
  gathered(modes, (a, b) => a.deck === b.deck && sameOnDeck(footprint, a.turn, b.turn))

/** The positions that pass all tests, by quartering blocks until each is clear. */
function fill(body: Body, tests: readonly StaticTest[], tick: () => void): Bitmap {
  const [nx, ny] = [body.x.values.length, body.y.values.length]
  const legal = new Uint8Array(nx * ny)
  passing(body, tests, tick, (x0, x1, y0, y1) => {
    for (let i = x0; i <= x1; i++) legal.fill(1, i * ny + y0, i * ny + y1 + 1)
    return false
  })
  return new Bitmap(nx, ny, legal)
}

/** Calls `found` with blocks of positions (indices x0, x1, y0, y1, both ends in) that pass all tests, until it returns true; whether it did. */
function passing(
  body: Body,
  tests: readonly StaticTest[],
  tick: () => void,
  found: (x0: number, x1: number, y0: number, y1: number) => boolean,
  within: readonly [number, number, number, number] = [0, body.x.values.length - 1, 0, body.y.values.length - 1],
): boolean {
  const [xs, ys] = [body.x.values, body.y.values]
  // of each block those tests that are still open for it, one block's behind another's
  const open = [...tests]
  const block = (x0: number, x1: number, y0: number, y1: number, from: number, to: number): boolean => {
    tick()
    let first = from
    let end = to
    for (let i = from; i < to; i++) {
      const t = open[i]!
      const r = t(xs[x0]!, xs[x1]!, ys[y0]!, ys[y1]!)
      if (r === -1) return false
      if (first === from) {
        if (r === 0) continue
        first = to
        for (let k = from; k < i; k++) open[end++] = open[k]!
      } else if (r === 0) open[end++] = t
    }
    if (first === end) return found(x0, x1, y0, y1)
    if (x0 === x1 && y0 === y1) throw new Error('a static test did not decide a single position')
    if (x1 - x0 >= y1 - y0) {
      const m = (x0 + x1) >> 1
      return block(x0, m, y0, y1, first, end) || block(m + 1, x1, y0, y1, first, end)
    }
    const m = (y0 + y1) >> 1
    return block(x0, x1, y0, m, first, end) || block(x0, x1, m + 1, y1, first, end)
  }
  return xs.length > 0 && ys.length > 0 && block(...within, 0, tests.length)
}

/** The first of n, where `some` says whether it is one of i to j; one of them it is. */
function first(n: number, some: (i: number, j: number) => boolean): number {
  let [lo, hi] = [0, n - 1]
  while (lo < hi) {
    const mid = (lo + hi) >> 1
    if (some(lo, mid)) hi = mid
    else lo = mid + 1
  }
  return lo
}
