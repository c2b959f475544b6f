/** The draft of a part on its bench: every edit a step that can be undone, and nothing of it in the document before it is kept. */
import { createContext, useContext, useMemo, useState } from 'react'
import { type Path, pathText } from '../../footprints/problems.ts'
import type { FootprintFile } from '../../footprints/schema.ts'
import { footprintProblems, withAt } from '../model/edit-footprint.ts'
import type { EditProblem } from '../model/index.ts'
import { words } from '../words/index.ts'

interface Steps {
  readonly past: readonly FootprintFile[]
  readonly now: FootprintFile
  readonly future: readonly FootprintFile[]
}

export interface Draft {
  readonly footprint: FootprintFile
  readonly problems: readonly EditProblem[]
  readonly put: (footprint: FootprintFile) => void
  /** Sets a field; undefined takes it away. */
  readonly set: (path: Path, value: unknown) => undefined
  /** What is wrong with a field, in words. */
  readonly wrong: (path: Path) => string | undefined
  readonly undo: (() => void) | undefined
  readonly redo: (() => void) | undefined
}

export function useSteps(first: FootprintFile): Draft {
  const [steps, setSteps] = useState<Steps>({ past: [], now: first, future: [] })
  const { past, now, future } = steps
  const problems = useMemo(() => footprintProblems(now), [now])
  const put = (next: FootprintFile): void =>
    setSteps((s) => (next === s.now ? s : { past: [...s.past, s.now], now: next, future: [] }))
  const [ahead, ...later] = future
  const before = past.at(-1)
  return {
    footprint: now,
    problems,
    put,
    set: (path, value) => {
      // By what stands now, for two fields may be left at once.
      setSteps((s) => ({ past: [...s.past, s.now], now: withAt(s.now, path, value), future: [] }))
      return undefined
    },
    wrong: (path) => {
      const field = pathText(path)
      const problem = problems.find((p) => p.path === field)
      return problem && words.parts.refused(problem.found, problem.expected)
    },
    undo: before && (() => setSteps({ past: past.slice(0, -1), now: before, future: [now, ...future] })),
    redo: ahead && (() => setSteps({ past: [...past, now], now: ahead, future: later })),
  }
}

export const Bench = createContext<Draft | undefined>(undefined)

export function useDraft(): Draft {
  const draft = useContext(Bench)
  if (!draft) throw new Error('there is no part on the bench')
  return draft
}
