/** Two variants against each other: by their figures, by where the items stand, and which two are on the stage. */
import { createStore, type StoreApi } from 'zustand/vanilla'
import type { Figures, Placement, Problem } from '../../solver/index.ts'
import type { Project } from '../model/index.ts'
import { questionOf } from './carry-over.ts'
import type { Doc } from './document.ts'
import { placementOf } from './moves.ts'
import { type State, shown } from './store.ts'
import { figuresOf, findingsOf } from './view.ts'

/** What is on the stage beside the variant that was chosen: no part of the document. */
export interface Beside {
  readonly variant: string | undefined
}

export type BesideStore = StoreApi<Beside>

export const createBeside = (): BesideStore => createStore<Beside>(() => ({ variant: undefined }))

/** Index of the second sheet; undefined where none was chosen, it is gone, or it is the one on the stage. */
export function besideIn(state: State, { variant }: Beside): number | undefined {
  const { sheets } = state.history.doc
  const index = variant === undefined ? -1 : sheets.findIndex((s) => s.variant === variant)
  return index < 0 || index === state.active ? undefined : index
}

/** How the figures of one layout differ from another's: positive = more, longer, farther off; lengths in Um. */
export interface Against {
  readonly contacts: number
  readonly value: number
  /** Undefined where neither has a wire. */
  readonly wire: number | undefined
  readonly balance: number | undefined
}

export function against(mine: Figures, other: Figures): Against {
  return {
    contacts: mine.freeTiePoints - other.freeTiePoints,
    value: mine.optionalValue - other.optionalValue,
    wire: mine.wires.length + other.wires.length === 0 ? undefined : mine.wireLength - other.wireLength,
    balance: mine.balance === undefined || other.balance === undefined ? undefined : mine.balance - other.balance,
  }
}

/** Where an item of one layout stands in another. Um, x to the right, y to the front. */
export interface Apart {
  readonly item: string
  readonly kind: 'moved' | 'only-here' | 'only-there'
  readonly dx: number
  readonly dy: number
  /** Quarter turns anticlockwise, from here to there. */
  readonly turns: 0 | 1 | 2 | 3
  /** The deck's name there, where it is another one. */
  readonly deck: string | undefined
  /** Its placements, each with the indices of its own problem. */
  readonly here: Placement | undefined
  readonly there: Placement | undefined
}

export interface Laid {
  readonly problem: Problem
  readonly placements: readonly Placement[]
}

interface Stands {
  readonly item: string
  readonly at: Placement
  readonly deck: string
  readonly deckName: string
}

function standing({ problem, placements }: Laid): Map<string, Stands[]> {
  const byBase = new Map<string, Stands[]>()
  problem.items.forEach((item, index) => {
    const at = placementOf(placements, index)
    const deck = at && problem.decks[at.deck]
    if (!at || !deck) return
    const all = byBase.get(item.base) ?? []
    byBase.set(item.base, all)
    all.push({ item: item.id, at, deck: deck.id, deckName: deck.name })
  })
  return byBase
}

const far = (a: Stands, b: Stands): number =>
  (a.deck === b.deck ? 0 : 1e9) +
  Math.abs(a.at.at.x - b.at.at.x) +
  Math.abs(a.at.at.y - b.at.at.y) +
  (a.at.turn === b.at.turn ? 0 : 1)

/**
 * Items that do not stand in the same place in both. Copies of one item stand for each other: they are paired by distance, the nearest
 * two first, so that two copies that changed places have not moved.
 */
export function placesApart(here: Laid, there: Laid): Apart[] {
  const mine = standing(here)
  const others = standing(there)
  const apart: Apart[] = []
  const none = { dx: 0, dy: 0, turns: 0, deck: undefined } as const
  for (const base of new Set([...mine.keys(), ...others.keys()])) {
    const left = [...(mine.get(base) ?? [])]
    const right = [...(others.get(base) ?? [])]
    const pairs = left
      .flatMap((a) => right.map((b) => ({ a, b, far: far(a, b) })))
      .sort((p, q) => p.far - q.far || p.a.at.item - q.a.at.item || p.b.at.item - q.b.at.item)
    const done = new Set<Stands>()
    for (const { a, b } of pairs) {
      if (done.has(a) || done.has(b)) continue
      done.add(a).add(b)
      const moved: Apart = {
        item: a.item,
        kind: 'moved',
        dx: b.at.at.x - a.at.at.x,
        dy: b.at.at.y - a.at.at.y,
        turns: ((b.at.turn - a.at.turn + 4) % 4) as Apart['turns'],
        deck: a.deck === b.deck ? undefined : b.deckName,
        here: a.at,
        there: b.at,
      }
      if (moved.dx !== 0 || moved.dy !== 0 || moved.turns !== 0 || moved.deck !== undefined) apart.push(moved)
    }
    for (const a of left)
      if (!done.has(a)) apart.push({ item: a.item, kind: 'only-here', ...none, here: a.at, there: undefined })
    // By a name that no copy here goes by: its own may be that of one which was paired with another.
    const taken = new Set(left.map((a) => a.item))
    const more = right.filter((b) => !done.has(b))
    const names = [...more.map((b) => b.item), ...there.problem.items.filter((i) => i.base === base).map((i) => i.id)]
    const free = [...new Set(names)].filter((id) => !taken.has(id))
    more.forEach((b, k) => {
      apart.push({ item: free[k] ?? b.item, kind: 'only-there', ...none, here: undefined, there: b.at })
    })
  }
  return apart
}

/** What the other way of asking came to, wherever it was asked: in another variant, or before an edit. */
export type Elsewhere =
  /** `proven`: nothing better is possible. */
  | { readonly kind: 'solved'; readonly figures: Figures; readonly proven: boolean }
  | { readonly kind: 'cannot' }
  | { readonly kind: 'looking' }
  | { readonly kind: 'never' }

/** The documents in which something was asked, the present first, and then the latest. */
const documents = ({ history }: State): Doc[] => [
  history.doc,
  ...history.past.slice(-20).reverse(),
  ...history.future.slice(0, 20),
]

/** The best that is known for a variant of a project, which need be no variant of the document. */
export function knownOf(state: State, project: Project, variant: string): Elsewhere {
  const question = questionOf(project, variant)
  let looking = false
  for (const doc of documents(state)) {
    const sheet = doc.sheets.find((s) => questionOf(doc.project, s.variant) === question)
    if (!sheet) continue
    const known = state.known.get(sheet.problem)
    if (known?.answer?.kind === 'result' && known.answer.result.status === 'infeasible') return { kind: 'cannot' }
    const placements = known?.placements ?? []
    if (known?.answer && (placements.length > 0 || sheet.problem.items.length === 0))
      return {
        kind: 'solved',
        figures: figuresOf(sheet.problem, placements),
        proven: known.answer.kind === 'result' && known.answer.result.status === 'optimal',
      }
    if (doc === state.history.doc && !known?.answer) looking = true
  }
  return { kind: looking ? 'looking' : 'never' }
}

/** The figures of the layout on show; undefined where there is none, or it is not legal. */
export function soundFigures(state: State, index: number): Figures | undefined {
  const sheet = state.history.doc.sheets[index]
  if (!sheet) return undefined
  const placements = shown(state, sheet)
  if (placements.length === 0 && sheet.problem.items.length > 0) return undefined
  return findingsOf(sheet.problem, placements).length > 0 ? undefined : figuresOf(sheet.problem, placements)
}
