/** A solve that goes on: the model is compiled once, what was learned stays, and each hold is only an assumption. */
import { check } from './check/check.ts'
import { coarsened, DRAG_CELLS } from './coarse.ts'
import { compile } from './compile.ts'
import type { Placement, Problem } from './problem.ts'
import type { Hold } from './result.ts'
import type { Model } from './search/model.ts'
import { firstAtLeast } from './search/relation.ts'
import { Search } from './search/search.ts'
import { type Point, type Um, um } from './units.ts'

/** Conflicts that a drag may take from one look at it to the next. */
const MOST = 2000

export class Session {
  readonly problem: Problem
  private readonly model: Model
  private readonly search: Search
  /** The lines that bodies are tried on, where the problem's own are too many to follow a hand. */
  private readonly lines: Um | undefined

  /** Compiles the problem; takes some tens of milliseconds. */
  constructor(problem: Problem) {
    this.problem = problem
    const coarse = coarsened(problem, DRAG_CELLS)
    this.lines = coarse?.grid
    this.model = compile(coarse ?? problem, { interchange: false, allTurns: true })
    this.search = new Search(this.model)
    this.search.lean = true
  }

  /**
   * A legal layout with the holds where they are, near `hint`: what need not move stays, though not proven fewest.
   * Undefined when there is none, or none was found soon enough. Everything learned is kept: holds are
   * assumptions, so no learned clause rests on one. The last hold is what is dragged. On a grid too fine to follow a hand, others
   * are moved along coarser lines, so that some layouts are not seen.
   */
  next(holds: readonly Hold[], hint: readonly Placement[]): Placement[] | undefined {
    const { lines } = this
    const along = carriedAlong(holds, hint)
    if (along && check(this.problem, along).length === 0) return along
    if (lines === undefined) {
      const found = this.near(holds, hint)
      if (found && check(this.problem, found).length > 0)
        throw new Error('the session made a layout that the checker refuses')
      return found
    }
    // what is plugged in goes along with its host
    const start = hint.reduce((layout, p) => {
      return p.host === undefined ? carried(layout, p.item, this.corners(p)[0] ?? p.at) : layout
    }, hint)
    // others make room for what is dragged where it is tried, which must also be room for it where it is
    const dragged = holds[holds.length - 1]
    const rest = holds.slice(0, -1).map((h) => ({ ...h, at: this.corners(h)[0] ?? h.at }))
    for (const at of dragged ? this.corners(dragged) : [undefined]) {
      const found = this.near(at ? [...rest, { ...dragged!, at }] : rest, start)
      const exact = found && this.offLines(found, holds, hint, lines)
      if (exact) return exact
    }
    return undefined
  }

  /** The places round this one that the model has, the nearest first. */
  private corners({ item, at }: Pick<Hold, 'item' | 'at'>): Point[] {
    const body = this.model.bodies[item]!
    const near = (axis: 'x' | 'y'): number[] => {
      const { values } = body[axis]
      const k = firstAtLeast(values, at[axis])
      if (values[k] === at[axis]) return [at[axis]]
      return [values[k - 1], values[k]]
        .filter((v): v is number => v !== undefined)
        .sort((a, b) => Math.abs(a - at[axis]) - Math.abs(b - at[axis]))
    }
    return near('y').flatMap((y) => near('x').map((x) => ({ x: um(x), y: um(y) })))
  }

  /** What is held exactly where it is, and what only went to the nearest line back where it was; undefined where that is not legal. */
  private offLines(
    found: readonly Placement[],
    holds: readonly Hold[],
    hint: readonly Placement[],
    lines: Um,
  ): Placement[] | undefined {
    const held = new Map(holds.map((h) => [h.item, h]))
    let now: readonly Placement[] = found
    for (const h of holds) now = carried(now, h.item, h.at)
    const legal = (layout: readonly Placement[]) => check(this.problem, layout).length === 0
    const was = new Map(hint.map((p) => [p.item, p]))
    const back = (layout: readonly Placement[], item: number): readonly Placement[] => {
      const [old, p] = [was.get(item), layout.find((q) => q.item === item)]
      if (!old || !p || held.has(item) || old.deck !== p.deck || old.turn !== p.turn || old.host !== p.host)
        return layout
      const far = Math.max(Math.abs(old.at.x - p.at.x), Math.abs(old.at.y - p.at.y))
      return far <= 2 * lines ? carried(layout, item, old.at) : layout
    }
    // hosts first: what is plugged in goes along, and then back by itself
    const items = [...found].sort((a, b) => Number(a.host !== undefined) - Number(b.host !== undefined))
    const all = items.reduce((layout, p) => back(layout, p.item), now)
    if (legal(all)) return [...all]
    for (const p of items) {
      const one = back(now, p.item)
      if (one !== now && legal(one)) now = one
    }
    return legal(now) ? [...now] : undefined
  }

  private near(holds: readonly Hold[], hint: readonly Placement[]): Placement[] | undefined {
    const { e } = this.model
    e.backTo(0)
    const assumed: number[] = []
    for (const h of holds) {
      const lits = this.standAt(h)
      if (!lits) return undefined
      assumed.push(...lits)
    }
    this.search.follow(hint)
    const until = e.conflicts + MOST
    const verdict = this.search.run(assumed, () => e.conflicts >= until)
    const found = verdict === 'found' ? this.search.placements() : undefined
    e.backTo(0)
    return found
  }

  /** Literals that hold an item; undefined where it can never stand there. */
  private standAt(h: Hold): number[] | undefined {
    const { e } = this.model
    const body = this.model.bodies[h.item]!
    const modes = body.modes.filter((m) => m.deck === h.deck && m.turn === h.turn)
    if (modes.length === 0) return undefined
    const out = [body.present, ...body.modes.filter((m) => !modes.includes(m)).map((m) => e.not(m.lit))]
    for (const axis of ['x', 'y'] as const) {
      const { v, values } = body[axis]
      const k = firstAtLeast(values, h.at[axis])
      if (values[k] !== h.at[axis]) return undefined
      out.push(e.ge(v, k), e.lt(v, k + 1))
    }
    return out.filter((l) => l >= 0)
  }
}

/** The layout with what is held where it is held and all else where it was; undefined where a hold also turns something, or takes it elsewhere. */
function carriedAlong(holds: readonly Hold[], hint: readonly Placement[]): Placement[] | undefined {
  let layout = hint
  for (const { item, deck, turn, at } of holds) {
    const p = layout.find((q) => q.item === item)
    if (!p || p.host !== undefined || p.deck !== deck || p.turn !== turn) return undefined
    layout = carried(layout, item, at)
  }
  return [...layout]
}

/** A layout with one item elsewhere, and what is plugged into it along with it. */
function carried(layout: readonly Placement[], item: number, at: Point): readonly Placement[] {
  const p = layout.find((q) => q.item === item)
  if (!p) return layout
  const [dx, dy] = [at.x - p.at.x, at.y - p.at.y]
  if (dx === 0 && dy === 0) return layout
  return layout.map((q) => {
    if (q.item === item) return { ...q, at }
    return q.host === item ? { ...q, at: { x: um(q.at.x + dx), y: um(q.at.y + dy) } } : q
  })
}
