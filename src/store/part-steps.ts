/** The draft of a part on its bench: every edit a step that can be undone, kept at once, and nothing of it in the document. */
import { createStore, type StoreApi } from 'zustand/vanilla'
import type { FootprintFile } from '../../footprints/schema.ts'
import type { PartDrafts } from './part-drafts.ts'

export interface PartSteps {
  readonly past: readonly FootprintFile[]
  readonly now: FootprintFile
  readonly future: readonly FootprintFile[]
  /** When what the bench was opened with had been kept; undefined where it began anew. */
  readonly back: number | undefined
  /** Whether a reload would find it. */
  readonly kept: boolean
}

export interface PartBench {
  readonly store: StoreApi<PartSteps>
  /** The next step, by what stands now, for two fields may be left at once. */
  readonly step: (next: (now: FootprintFile) => FootprintFile) => void
  readonly undo: () => void
  readonly redo: () => void
  /** Back to the beginning, as a step that can be undone. */
  readonly anew: () => void
  /** It is in the project now. */
  readonly done: () => void
}

export function createPartBench(start: FootprintFile, drafts: PartDrafts): PartBench {
  const found = drafts.recall(start)
  const store = createStore<PartSteps>(() => ({
    past: [],
    now: found?.footprint ?? start,
    future: [],
    back: found?.at,
    kept: true,
  }))
  const { getState: get, setState: set } = store
  const stand = (past: PartSteps['past'], now: FootprintFile, future: PartSteps['future']): void =>
    set({ past, now, future, kept: drafts.keep(start, now) })
  const step: PartBench['step'] = (next) => {
    const { past, now } = get()
    const then = next(now)
    if (then !== now) stand([...past, now], then, [])
  }
  return {
    store,
    step,
    undo: () => {
      const { past, now, future } = get()
      const before = past.at(-1)
      if (before) stand(past.slice(0, -1), before, [now, ...future])
    },
    redo: () => {
      const { past, now, future } = get()
      const [ahead, ...later] = future
      if (ahead) stand([...past, now], ahead, later)
    },
    anew: () => {
      step(() => start)
      set({ back: undefined })
    },
    done: () => void drafts.keep(start, start),
  }
}
