/** The draft of a part on its bench, for the fields that it has there. */
import { createContext, useContext, useMemo, useState } from 'react'
import { useStore } from 'zustand'
import { type Path, pathText } from '../../footprints/problems.ts'
import type { FootprintFile } from '../../footprints/schema.ts'
import { footprintProblems, withAt } from '../model/edit-footprint.ts'
import type { EditProblem } from '../model/index.ts'
import type { PartDrafts } from '../store/part-drafts.ts'
import { createPartBench, type PartBench, type PartSteps } from '../store/part-steps.ts'
import { words } from '../words/index.ts'
import { inForm } from './footprint-called.ts'

export interface Draft extends Pick<PartBench, 'anew' | 'done'>, Pick<PartSteps, 'back' | 'kept'> {
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

export function useSteps(first: FootprintFile, drafts: PartDrafts): Draft {
  const [{ store, step, undo, redo, anew, done }] = useState(() => createPartBench(first, drafts))
  const { past, now, future, back, kept } = useStore(store)
  const problems = useMemo(() => footprintProblems(now), [now])
  return {
    footprint: now,
    problems,
    back,
    kept,
    anew,
    done,
    put: (next) => step(() => next),
    set: (path, value) => {
      step((was) => withAt(was, path, value))
      return undefined
    },
    wrong: (path) => {
      const field = pathText(path)
      const problem = problems.find((p) => p.path === field)
      if (!problem) return undefined
      const { found, expected } = inForm(now, problem)
      return words.parts.refused(found, expected)
    },
    undo: past.length > 0 ? undo : undefined,
    redo: future.length > 0 ? redo : undefined,
  }
}

export const Bench = createContext<Draft | undefined>(undefined)

export function useDraft(): Draft {
  const draft = useContext(Bench)
  if (!draft) throw new Error('there is no part on the bench')
  return draft
}
