/** The start view: whether it is shown, and the pictures of the demos on it, solved a little while somebody looks. */
import { createStore, type StoreApi } from 'zustand/vanilla'
import type { Placement, Problem } from '../../solver/index.ts'
import type { Doc, Sheet } from './document.ts'
import type { Files } from './files.ts'
import type { PoolLike } from './solves.ts'
import type { Deckwright } from './store.ts'

export interface Demo {
  readonly file: string
  readonly text: string
}

export interface StartState {
  readonly open: boolean
  /** A layout of each demo's first variant that has one, by the demo's file, as far as one was found. */
  readonly pictures: ReadonlyMap<string, Picture>
}

export interface Picture {
  readonly problem: Problem
  readonly placements: readonly Placement[]
}

export interface DemoDoc {
  readonly demo: Demo
  readonly doc: Doc
  readonly sheet: Sheet
}

export interface Start {
  readonly store: StoreApi<StartState>
  readonly demos: () => readonly DemoDoc[]
  readonly show: () => void
  /** Back to the document. */
  readonly leave: () => void
  readonly choose: (demo: Demo) => void
  readonly end: () => void
}

/** Milliseconds before the demos are solved, so that whoever chooses at once waits for nothing; and for each of them. */
const BEFORE = 700
const EACH = 1500

export function createStart(deckwright: Deckwright, files: Files, pool: PoolLike, demos: readonly Demo[]): Start {
  const store = createStore<StartState>(() => ({ open: false, pictures: new Map() }))
  const { getState: get, setState: set } = store
  let read: readonly DemoDoc[] | undefined
  let soon: ReturnType<typeof setTimeout> | undefined
  /** Demos whose pictures are as good as they get. */
  const painted = new Set<string>()
  const jobs = new Set<ReturnType<PoolLike['solve']>>()

  /** Demos that are sound; a test holds them to it. */
  const docs = (): readonly DemoDoc[] => {
    read ??= demos.flatMap((demo) => {
      const opened = files.open(demo.text, demo.file)
      const sheet = opened.kind === 'opened' ? opened.doc.sheets[0] : undefined
      return opened.kind === 'opened' && sheet ? [{ demo, doc: opened.doc, sheet }] : []
    })
    return read
  }

  const picture = (file: string, problem: Problem, placements: readonly Placement[]): void =>
    set({ pictures: new Map(get().pictures).set(file, { problem, placements }) })

  /** Where nothing fits, or nothing was found in time, the next variant is tried. */
  const paintOne = (file: string, [sheet, ...rest]: readonly Sheet[]): void => {
    if (!sheet) return
    const { problem } = sheet
    if (sheet.placements) {
      picture(file, problem, sheet.placements)
      painted.add(file)
      return
    }
    const job = pool.solve({
      problem,
      options: { time: EACH },
      onProgress: ({ placements }) => {
        if (placements) picture(file, problem, placements)
      },
    })
    jobs.add(job)
    void job.done.then((ending) => {
      jobs.delete(job)
      if (ending.kind !== 'done') return
      const { result } = ending
      if ('placements' in result) {
        picture(file, problem, result.placements)
        painted.add(file)
      } else paintOne(file, rest)
    })
  }

  const paint = (): void => {
    for (const { demo, doc } of docs()) if (!painted.has(demo.file)) paintOne(demo.file, doc.sheets)
  }

  const stop = (): void => {
    clearTimeout(soon)
    for (const job of jobs) job.cancel()
    jobs.clear()
  }
  const leave = (): void => {
    if (!get().open) return
    stop()
    set({ open: false })
  }
  const unsubscribe = deckwright.store.subscribe((state, before) => {
    if (state.opened !== before.opened) leave()
  })

  return {
    store,
    demos: docs,
    show: () => {
      if (get().open) return
      set({ open: true })
      soon = setTimeout(paint, BEFORE)
    },
    leave,
    choose: ({ text, file }) => void deckwright.actions.open(text, file),
    end: () => {
      stop()
      unsubscribe()
    },
  }
}
