/** The document, its history and the solves in flight, as one store without React. */
import { createStore } from 'zustand/vanilla'
import type { Placement } from '../../solver/index.ts'
import { built, type EditProblem, type FileProblem, moveHole, type Project } from '../model/index.ts'
import { type Along, withNames } from './along.ts'
import { followDrags } from './ask-drag.ts'
import { createAsks } from './asks.ts'
import { carriedOver } from './carry-over.ts'
import {
  amended,
  type Doc,
  type History,
  nothingDone,
  question,
  redo,
  type Sheet,
  step,
  undo,
  withoutStep,
  withSheet,
} from './document.ts'
import { type Files, indexOfItem, withHosts } from './files.ts'
import { holdsLost } from './holds-kept.ts'
import { middle, nudged, placementOf, samePlace, snap, turned, withMoved } from './moves.ts'
import { sharedDoc } from './share.ts'
import { createSolves, type PoolLike } from './solves.ts'
import { type Actions, type Deckwright, type How, isBuilt, type State, shown } from './state.ts'

export type * from './state.ts'
export { shown } from './state.ts'

/** A document as it is when it has just been opened, the `opened`th. */
const fresh = (doc: Doc, opened: number, notices: readonly FileProblem[]): State => ({
  history: { past: [], doc, future: [] },
  opened,
  active: 0,
  selected: undefined,
  hovered: undefined,
  hoveredWire: undefined,
  carry: undefined,
  known: new Map(),
  trials: new Map(),
  trialBounds: new Map(),
  asked: new Map(),
  broken: undefined,
  notices,
})

export function createDeckwright(files: Files, pool: PoolLike, first: Doc): Deckwright {
  const store = createStore<State>(() => fresh(first, 0, []))
  const { getState: get, setState: set } = store
  const solves = createSolves(store, pool)

  const sheetNow = (): Sheet | undefined => get().history.doc.sheets[get().active]

  /** One step of history, and whatever is to be solved for it. */
  const commit = (doc: Doc): void => {
    set({ history: step(get().history, doc), carry: undefined })
    solves.refresh()
  }
  const commitSheet = (sheet: Sheet): void => commit(withSheet(get().history.doc, get().active, sheet))

  /** The sheet as asked anew: what the solver said to it before no longer counts. */
  const asked = (
    sheet: Sheet,
    holds: readonly string[],
    placements: readonly Placement[],
    before: readonly Placement[],
  ): Sheet => {
    return { ...question(sheet), holds, placements, before }
  }

  const heldAt = (sheet: Sheet, from: readonly Placement[], moved: Placement): void => {
    const id = sheet.problem.items[moved.item]?.id
    if (id === undefined || isBuilt(sheet, id) || samePlace(placementOf(from, moved.item), moved)) return
    const holds = sheet.holds.includes(id) ? sheet.holds : [...sheet.holds, id]
    commitSheet(asked(sheet, holds, withMoved(sheet.problem, from, moved), from))
  }

  const drop = (): void => {
    const { carry } = get()
    const sheet = sheetNow()
    if (!carry || !sheet) return
    set({ carry: undefined })
    const moved = placementOf(carry.placements, carry.item)
    if (moved) heldAt(sheet, carry.from, moved)
  }

  /** Runs `act` with the active sheet, an item of it and where it stands; what is carried is put down before. */
  const withItem = (id: string, act: (sheet: Sheet, item: number, at: Placement | undefined) => void): void => {
    drop()
    const sheet = sheetNow()
    if (!sheet) return
    const item = indexOfItem(sheet.problem, id)
    if (item !== undefined) act(sheet, item, placementOf(shown(get(), sheet), item))
  }

  const carryTo = (wish: Placement): void => {
    const { carry } = get()
    const sheet = sheetNow()
    if (!carry || !sheet) return
    const moved = snap(sheet.problem, carry.from, wish)
    if (samePlace(placementOf(carry.placements, carry.item), moved)) return
    set({ carry: { ...carry, placements: withMoved(sheet.problem, carry.from, moved) } })
  }

  const load = (doc: Doc, notices: readonly FileProblem[], known: State['known'] = new Map()): void => {
    solves.cancelAll()
    set({ ...fresh(doc, get().opened + 1, notices), known })
    solves.refresh()
  }

  const travel = (way: (history: History) => History): void => {
    if (get().carry) {
      set({ carry: undefined })
      return
    }
    const history = way(get().history)
    if (history === get().history) return
    const now = sheetNow()
    const before = get().history.doc.sheets
    const { sheets } = history.doc
    // A variant more or less may stand before the one on the stage.
    const on = sheets.findIndex((s) => s.variant === now?.variant)
    // Where nothing of that one changes, another does, and is to be seen.
    const changes = (s: Sheet): boolean => before.some((b) => b.variant === s.variant && !nothingDone(b, s))
    const stays = sheets[on]
    const other = now && stays && nothingDone(now, stays) ? sheets.findIndex(changes) : -1
    set({ history, active: other >= 0 ? other : on >= 0 ? on : Math.min(get().active, sheets.length - 1) })
    solves.refresh()
  }

  /** What is on show stays on show, so that a plate that was made does not change under its layout. */
  const change = (project: Project, how?: How, along?: Along): readonly EditProblem[] => {
    const anew = how === 'anew'
    drop()
    const { doc } = get().history
    const now = sheetNow()
    const kept = (sheet: Sheet): readonly Placement[] =>
      anew && sheet.holds.length === 0
        ? []
        : sheet === now && how !== 'found-again'
          ? shown(get(), sheet)
          : (sheet.placements ?? [])
    // Read back as any file would be: whatever goes into the document is sound.
    const named = withNames(doc.sheets, along?.renamed, project)
    const layouts = (sheet: Sheet): readonly Placement[] => kept(doc.sheets[named.indexOf(sheet)] ?? sheet)
    const read = files.open(files.text({ ...doc, project, sheets: named }, layouts), doc.file)
    if (read.kind === 'broken') return read.problems
    const next = sharedDoc(doc, read.doc)
    const told = next.sheets.map((sheet): Sheet => {
      const k = doc.sheets.findIndex((s) => s.variant === sheet.variant)
      const lost = k < 0 ? [] : holdsLost(doc.sheets[k]!, named[k]!, sheet)
      return lost.length > 0 ? { ...sheet, lost } : sheet
    })
    const sheets = told.map((sheet): Sheet => {
      const put = sheet.variant === now?.variant && along?.put?.(sheet.problem, sheet.placements ?? [])
      if (put) return { ...sheet, placements: [...(sheet.placements ?? []), put], before: sheet.placements ?? [] }
      if (!sheet.placements) return sheet
      if (anew) return { ...sheet, anew: true }
      return sheet.variant === now?.variant ? { ...sheet, before: sheet.placements } : sheet
    })
    const carried = carriedOver(doc, { ...next, sheets }, now)
    const known = new Map(get().known)
    for (const [fresh, old] of carried.same) {
      const heard = known.get(old)
      if (heard) known.set(fresh, heard)
    }
    set({ known })
    const wasActive = now && carried.doc.sheets.findIndex((s) => s.variant === now.variant)
    commit(carried.doc)
    // A variant more or less may stand before the one on the stage, or it is gone itself.
    set({ active: wasActive !== undefined && wasActive >= 0 ? wasActive : Math.min(get().active, sheets.length - 1) })
    return []
  }

  const edited = (edit: ReturnType<typeof moveHole>): readonly EditProblem[] =>
    !edit.ok ? edit.problems : edit.project === get().history.doc.project ? [] : change(edit.project)

  const unfollow = followDrags(store, pool)
  const asks = createAsks(store, pool, {
    commitSheet,
    patchSheet: (sheet) => {
      const { history, active } = get()
      set({ history: amended(history, withSheet(history.doc, active, sheet)) })
      solves.refresh()
    },
    backTo: (sheet) => {
      const { history, active } = get()
      if (history.past.at(-1)?.sheets[active] !== sheet) return false
      set({ history: withoutStep(history, withSheet(history.doc, active, sheet)) })
      solves.refresh()
      return true
    },
    change,
    free: (id) => actions.free(id),
    drop,
    outdone: (problem, placements) => solves.outdone(problem, placements),
  })

  const actions: Actions = {
    ...asks.actions,
    open: (text, file, again) => {
      const read = files.open(text, file)
      if (read.kind === 'broken') {
        set({ broken: { file, problems: read.problems, strange: read.strange } })
        return false
      }
      const found = again?.(read.doc)
      load(found?.doc ?? read.doc, read.notices, found?.known)
      return true
    },
    newDeck: (width, depth, taken) => load(files.empty(width, depth, taken), []),
    refuse: (broken) => set({ broken }),
    notice: (notices) => set({ notices }),
    lay: (variant, placements) => {
      drop()
      const { sheets } = get().history.doc
      const active = sheets.findIndex((s) => s.variant === variant)
      const sheet = sheets[active]
      if (!sheet) return
      set({ active, broken: undefined })
      commitSheet(asked(sheet, [], placements, placements))
    },
    save: () => {
      drop()
      const { doc } = get().history
      return { file: doc.file, text: files.text(doc, (sheet) => shown(get(), sheet)) }
    },
    choose: (index) => {
      drop()
      if (get().history.doc.sheets[index]) set({ active: index })
    },
    select: (id) => {
      if (get().selected !== id) set({ selected: id })
    },
    hover: (id) => {
      if (get().hovered !== id) set({ hovered: id })
    },
    hoverWire: (index) => set({ hoveredWire: index }),
    lift: (id, by) =>
      withItem(id, (sheet, item, at) => {
        const from = shown(get(), sheet)
        if (at && isBuilt(sheet, id)) set({ selected: id })
        else if (at) set({ carry: { item, from, placements: from, by }, selected: id })
      }),
    carryTo,
    nudge: (dx, dy) => {
      const { carry } = get()
      const sheet = sheetNow()
      const at = carry && placementOf(carry.placements, carry.item)
      if (sheet && carry && at) carryTo(nudged(sheet.problem, carry.from, at, dx, dy))
    },
    drop,
    takeBack: () => set({ carry: undefined }),
    turn: (id, way = 1) => {
      withItem(id, (sheet, _item, at) => {
        const from = shown(get(), sheet)
        if (at) heldAt(sheet, from, turned(sheet.problem, from, at, way))
      })
    },
    hold: (id) =>
      withItem(id, (sheet, _item, at) => {
        if (!at || sheet.holds.includes(id)) return
        // Nothing moves, so whatever the solver said to the layout still stands.
        commitSheet({ ...sheet, holds: [...sheet.holds, id], placements: shown(get(), sheet) })
      }),
    free: (id) =>
      withItem(id, (sheet) => {
        if (!sheet.holds.includes(id) || isBuilt(sheet, id)) return
        const holds = sheet.holds.filter((h) => h !== id)
        commitSheet(solves.freed(sheet, holds))
      }),
    freeAll: () => {
      drop()
      const sheet = sheetNow()
      const built = sheet?.built ?? []
      if (sheet && sheet.holds.length > built.length) commitSheet(solves.freed(sheet, built))
    },
    markBuilt: (ids) => {
      drop()
      const sheet = sheetNow()
      const placements = sheet && shown(get(), sheet)
      if (!sheet || !placements) return
      const there = ids.filter((id) => placements.some((p) => sheet.problem.items[p.item]?.id === id))
      const built = withHosts(sheet.problem, placements, [...(sheet.built ?? []), ...there])
      if (built.length === (sheet.built?.length ?? 0)) return
      commitSheet({ ...sheet, built, holds: [...new Set([...sheet.holds, ...built])], placements })
    },
    unmarkBuilt: (id) => {
      drop()
      const sheet = sheetNow()
      if (!sheet || !isBuilt(sheet, id)) return
      const { problem } = sheet
      const on = shown(get(), sheet).filter((p) => p.host !== undefined && problem.items[p.host]?.id === id)
      const along = new Set([id, ...on.map((p) => problem.items[p.item]?.id)])
      // They stay held, so nothing moves at once.
      commitSheet({ ...sheet, built: (sheet.built ?? []).filter((b) => !along.has(b)) })
    },
    place: (id) =>
      withItem(id, (sheet, item, at) => {
        const from = shown(get(), sheet)
        const to = at ? undefined : middle(sheet.problem, from, item)
        if (to) heldAt(sheet, from, to)
      }),
    toDeck: (id, deck) =>
      withItem(id, (sheet, item, at) => {
        const from = shown(get(), sheet)
        if (at && at.deck !== deck)
          heldAt(sheet, from, snap(sheet.problem, from, { item, deck, at: at.at, turn: at.turn }))
      }),
    rearrange: () => {
      drop()
      const sheet = sheetNow()
      if (!sheet?.placements) return
      const { holds, placements } = sheet
      if (holds.length === 0) solves.fromOwn(sheet)
      commitSheet(
        holds.length === 0
          ? { ...question(sheet), holds }
          : { ...asked(sheet, holds, placements, placements), anew: true },
      )
    },
    stop: () => solves.stop(),
    lookOn: () => {
      drop()
      const sheet = sheetNow()
      if (!sheet || sheet.placements) return
      // Layouts as good as this one may not be so for long.
      asks.forget(sheet)
      solves.lookOn()
    },
    change,
    build: () => {
      drop()
      const sheet = sheetNow()
      return sheet ? edited(built(get().history.doc.project, sheet.problem, shown(get(), sheet))) : []
    },
    moveHole: (deck, hole, at, diameter) => edited(moveHole(get().history.doc.project, deck, hole, at, diameter)),
    undo: () => travel(undo),
    redo: () => travel(redo),
    dismiss: () => set({ broken: undefined, notices: [] }),
  }

  solves.refresh()
  return {
    store,
    actions,
    end: () => {
      unfollow()
      asks.end()
      solves.cancelAll()
    },
  }
}
