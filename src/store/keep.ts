/** Safety of work: every change is kept in the browser a moment later, and found again after a reload or a crash. */
import { createStore, type StoreApi } from 'zustand/vanilla'
import { words } from '../words/index.ts'
import type { Doc } from './document.ts'
import type { Files } from './files.ts'
import { foundAgain, foundOf } from './found.ts'
import type { Claim, Claims } from './keep-claims.ts'
import { answered, lookedOn, nearer, WAIT } from './keep-due.ts'
import { type Kept, type Refusal, refusalOf, type Shelf, type Work } from './keep-shelf.ts'
import type { Deckwright, State } from './store.ts'

export type Keeping =
  /** Nothing that would have to be kept. */
  | { readonly kind: 'nothing' }
  | { readonly kind: 'kept'; readonly at: number }
  | { readonly kind: 'refused'; readonly why: Refusal; readonly reason: string }
  /** Another tab has this work: nothing is kept here. `taken`: it took it from this one. */
  | { readonly kind: 'elsewhere'; readonly taken: boolean }

export interface KeepState {
  readonly keeping: Keeping
  /** When the work that was found again had been kept; undefined where none was, or it was put aside. */
  readonly restored: number | undefined
  /** Whether another tab looks on at the work that is kept here. */
  readonly also: boolean
  /** Whether changes of this tab that had no place were kept as a work of their own. */
  readonly apart: boolean
  /** What is kept, newest first, as of the last look. */
  readonly works: readonly Work[]
  /** The id of the work on the stage. */
  readonly here: string | undefined
  /** What was thrown away last, for putting back. */
  readonly thrown: Kept | undefined
  /** A work that was left, and whose last changes were refused: only its text here still has them. */
  readonly lost: Kept | undefined
}

export interface Keep {
  readonly store: StoreApi<KeepState>
  /** Finds the last work again; false where there is none, or it cannot be read (then the document says why). */
  readonly begin: () => Promise<boolean>
  readonly look: () => Promise<void>
  readonly openWork: (id: string) => Promise<boolean>
  /** A kept work with the text of the file that saving it on the page makes. */
  readonly textOf: (id: string) => Promise<Kept | undefined>
  readonly throwAway: (id: string) => Promise<void>
  readonly putBack: () => Promise<void>
  /** Keeps at once what is due, and tries again what was refused; `last` as the page goes. */
  readonly flush: (last?: 'last') => Promise<void>
  /** Takes the work from the other tab, as it is there; what was changed here becomes a work of its own. */
  readonly workHere: () => Promise<void>
  /** What is on this page becomes a work of its own. */
  readonly openCopy: () => Promise<void>
  readonly putAside: () => void
  readonly end: () => void
}

export interface Surroundings {
  readonly shelf: Shelf
  readonly claims: Claims
  /** Milliseconds since 1970. */
  readonly now: () => number
  readonly newId: () => string
  /** Which program this is: what another one found is only where to begin. */
  readonly program: string
  /** Which work this tab had last, so that a reload finds that one, whatever other tabs and clocks did meanwhile. */
  readonly tab?: { readonly last: () => string | undefined; readonly is: (id: string) => void }
}

/** Milliseconds after which a storage that says nothing counts as one that refuses. */
const SLOW = 5000

/** What is kept of what the store holds. */
type Shown = Pick<State, 'history' | 'active' | 'known'>

/** The work that the document on the stage is. */
interface Mine {
  readonly id: string
  writing: number
  touched: boolean
  claim: Claim | undefined
  /** What the shelf has. */
  doc: Doc | undefined
  active: number
  known: State['known'] | undefined
  /** Whether something was changed while another tab had it. */
  changed: boolean
}

export function createKeep(deckwright: Deckwright, files: Files, around: Surroundings): Keep {
  const { shelf, claims, now, newId, program } = around
  const store = createStore<KeepState>(() => ({
    keeping: { kind: 'nothing' },
    restored: undefined,
    also: false,
    apart: false,
    works: [],
    here: undefined,
    thrown: undefined,
    lost: undefined,
  }))
  const { getState: get, setState: set } = store
  const deck = deckwright.store
  let mine = fresh()
  let opened = deck.getState().opened
  /** The document that is being opened is this work, and no new one. */
  let adopted: Mine | undefined
  let due: ReturnType<typeof setTimeout> | undefined
  /** The same for what a search has come by on its way. */
  let later: ReturnType<typeof setTimeout> | undefined
  let queue: Promise<void> = Promise.resolve()

  function fresh(): Mine {
    return {
      id: newId(),
      writing: 0,
      touched: false,
      claim: undefined,
      doc: undefined,
      active: 0,
      known: undefined,
      changed: false,
    }
  }

  /** The deck that stands there before anything is opened is nobody's work. */
  const nobodys = (): boolean => opened === 0 && !mine.doc && !mine.touched
  const elsewhere = (): boolean => get().keeping.kind === 'elsewhere'

  const refuse = (error: unknown): void => {
    const { why, message } = refusalOf(error)
    set({
      keeping: why === 'overtaken' ? { kind: 'elsewhere', taken: true } : { kind: 'refused', why, reason: message },
    })
  }

  const keptOf = (work: Mine, { history: { doc }, active, known }: Shown, writing: number): Kept => ({
    id: work.id,
    name: doc.project.name,
    file: doc.file,
    at: now(),
    writing,
    touched: work.touched,
    text: files.text(doc, (sheet) => sheet.placements ?? []),
    active,
    found: foundOf(doc, known, program),
  })

  /** As a file it has the layouts that were found, as on the page. */
  const asFile = (kept: Kept): Kept => {
    const read = files.open(kept.text, kept.file)
    if (read.kind === 'broken') return kept
    const { doc, known } = foundAgain(read.doc, kept.found, program)
    return { ...kept, text: files.text(doc, (s) => s.placements ?? known.get(s.problem)?.placements ?? []) }
  }

  /** Writes what that work has now, unless the shelf has it; one writing after another, and whoever waits hears of no failure. */
  const write = (work: Mine, state: Shown, last?: 'last'): Promise<void> => {
    const { active, known } = state
    const { doc } = state.history
    const one = async (): Promise<void> => {
      if (work.doc === doc && work.active === active) {
        if (work.known === known) return
        const row = { writing: work.writing, found: foundOf(doc, known, program) }
        try {
          await shelf.writeFound(work.id, row, last && 'unseen')
          work.known = known
        } catch {
          // No work is lost with it, and it is tried again.
        }
        return
      }
      const slow = setTimeout(() => refuse(new Error(words.keep.storage.slow)), SLOW)
      const kept = keptOf(work, state, work.writing + 1)
      // Before it is written: a page that goes comes to nothing after that.
      if (work === mine) around.tab?.is(work.id)
      try {
        await shelf.write(kept, last || work.claim?.sure ? 'unseen' : undefined)
        work.writing = kept.writing
        work.doc = doc
        work.active = active
        work.known = known
        if (work === mine && !elsewhere()) set({ keeping: { kind: 'kept', at: kept.at }, here: work.id })
      } catch (error) {
        if (work === mine) {
          refuse(error)
          work.changed ||= elsewhere()
        } else if (work.touched) set({ lost: asFile(kept) })
      } finally {
        clearTimeout(slow)
      }
    }
    // As the page goes there is no time to wait for others.
    queue = last ? one() : queue.then(one)
    return queue
  }

  const stopWaiting = (): void => {
    clearTimeout(due)
    clearTimeout(later)
    due = undefined
    later = undefined
  }

  const writeNow = (last?: 'last'): Promise<void> => {
    stopWaiting()
    if (elsewhere() || nobodys()) return queue
    return write(mine, deck.getState(), last)
  }

  const told = (work: Mine) => ({
    lost: async () => {
      if (work !== mine) return
      await writeNow()
      work.claim = undefined
      set({ keeping: { kind: 'elsewhere', taken: true }, also: false })
    },
    also: (open: boolean) => {
      if (work === mine) set({ also: open })
    },
  })

  const claim = async (work: Mine, force?: 'force'): Promise<boolean> => {
    const got = await claims.take(work.id, told(work), force)
    if (work !== mine) got?.release()
    else work.claim = got
    return got !== undefined
  }

  /** Another document is on the stage: the one before is written to its end and let go. */
  const begun = (before: State): void => {
    const old = mine
    const was = get().keeping.kind
    stopWaiting()
    const real = before.opened > 0 || old.doc || old.touched
    if (real && old.touched && was !== 'elsewhere') void write(old, before)
    const next = adopted ?? fresh()
    void queue.then(async () => {
      old.claim?.release()
      if (was === 'elsewhere') claims.leave(old.id)
      // One that was only looked at and cannot be taken off the shelf lies there as it was: nothing is lost.
      else if (!old.touched && old.doc && old.id !== next.id) await shelf.remove(old.id).catch(() => {})
    })
    mine = next
    adopted = undefined
    set({
      keeping: mine.claim || mine.writing === 0 ? { kind: 'nothing' } : { kind: 'elsewhere', taken: false },
      restored: undefined,
      also: false,
      here: mine.id,
    })
    if (mine.writing === 0) void claim(mine)
  }

  const leave = deck.subscribe((state, before) => {
    if (state.opened !== opened) {
      opened = state.opened
      begun(before)
    }
    const { doc, past, future } = state.history
    const heard = state.known !== before.known
    const found = heard && answered(state, before)
    if (heard && lookedOn(state, before)) {
      mine.touched = true
      // What the shelf has does not say so yet.
      mine.doc = undefined
    }
    // A page that breaks down says nothing before.
    if (heard && nearer(state, before) && !nobodys() && !elsewhere())
      later ??= setTimeout(() => void writeNow(), WAIT.search)
    if (state.history === before.history && state.active === before.active && !found) return
    if (past.length > 0 || future.length > 0) mine.touched = true
    if (doc === mine.doc && state.active === mine.active && !found) return
    if (nobodys()) return
    if (elsewhere()) mine.changed ||= doc !== before.history.doc && past.length > 0
    else due ??= setTimeout(() => void writeNow(), WAIT.change)
  })

  /** Puts a kept work on the stage; it is claimed before, so that nothing is written that another tab has. */
  const show = async (id: string, force?: 'force'): Promise<boolean> => {
    await writeNow()
    const next: Mine = { ...fresh(), id }
    const before = mine
    const got = id === before.id && before.claim ? before.claim : await claims.take(id, told(next), force)
    /** Nobody else could have it, if a claim were kept on what cannot be read. */
    const unclaim = (): void => {
      if (got !== before.claim) got?.release()
    }
    const kept = await shelf.read(id).catch((error: unknown) => {
      unclaim()
      throw error
    })
    if (!kept) {
      unclaim()
      // Another tab has thrown it away, or what is left of it is no work.
      const file = get().works.find((w) => w.id === id)?.name
      if (file !== undefined) deckwright.actions.refuse({ file, problems: [], kind: 'unreadable' })
      return false
    }
    Object.assign(next, { writing: kept.writing, touched: kept.touched, active: kept.active })
    if (got) next.claim = got
    if (before.id === id) before.claim = undefined
    adopted = next
    const sound = deckwright.actions.open(kept.text, kept.file, (doc) => foundAgain(doc, kept.found, program))
    if (!sound) {
      adopted = undefined
      if (before.id === id) before.claim = got
      else got?.release()
      return false
    }
    deckwright.actions.choose(kept.active)
    // What was read is what is kept: no writing is due for it.
    stopWaiting()
    const state = deck.getState()
    next.doc = state.history.doc
    next.active = state.active
    next.known = state.known
    around.tab?.is(id)
    set({ keeping: got ? { kind: 'kept', at: kept.at } : { kind: 'elsewhere', taken: false } })
    return true
  }

  /** Runs what asks the shelf; a refusal becomes the state that the page shows. */
  const asking = async <T>(work: () => Promise<T>, otherwise: T): Promise<T> => {
    try {
      return await work()
    } catch (error) {
      refuse(error)
      return otherwise
    }
  }

  const look = (): Promise<void> => asking(async () => set({ works: await shelf.works() }), undefined)

  /** What is on the stage, kept as a work of its own beside the one that it came from. */
  const apart = async (): Promise<void> => {
    await shelf.write(keptOf({ ...fresh(), touched: true }, deck.getState(), 1))
    set({ apart: true })
  }

  return {
    store,
    look,
    begin: () =>
      asking(async () => {
        await look()
        const { works } = get()
        const mineBefore = around.tab?.last()
        const last = works.find((w) => w.id === mineBefore) ?? works[0]
        if (!last || !(await show(last.id))) return false
        set({ restored: last.at })
        return true
      }, false),
    openWork: (id) => asking(() => show(id), false),
    textOf: (id) =>
      asking(async () => {
        const kept = await shelf.read(id)
        return kept && asFile(kept)
      }, undefined),
    throwAway: (id) =>
      asking(async () => {
        const thrown = await shelf.read(id)
        await shelf.remove(id)
        set({ thrown })
        await look()
      }, undefined),
    putBack: () =>
      asking(async () => {
        const { thrown } = get()
        if (!thrown) return
        await shelf.write(thrown)
        set({ thrown: undefined })
        await look()
      }, undefined),
    flush: (last) => writeNow(last),
    workHere: () =>
      asking(async () => {
        if (mine.changed) await apart()
        await show(mine.id, 'force')
      }, undefined),
    openCopy: async () => {
      const old = mine
      claims.leave(old.id)
      mine = { ...fresh(), touched: true }
      set({ keeping: { kind: 'nothing' }, also: false, here: mine.id })
      await claim(mine)
      await writeNow()
    },
    putAside: () => set({ restored: undefined, apart: false, lost: undefined }),
    end: () => {
      stopWaiting()
      leave()
      mine.claim?.release()
      if (elsewhere()) claims.leave(mine.id)
    },
  }
}
