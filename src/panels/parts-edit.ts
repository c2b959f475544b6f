/** Edits of the document by the panels for parts: one step each, and what is wrong in words. */
import { useState } from 'react'
import { loadLibrary } from '../../footprints/load.ts'
import type { FootprintFile } from '../../footprints/schema.ts'
import { footprintsOf } from '../model/edit-footprint.ts'
import type { EditProblem, Project } from '../model/index.ts'
import type { Along } from '../store/along.ts'
import type { How } from '../store/state.ts'
import { words } from '../words/index.ts'
import type { Refusal } from './length-field.tsx'
import { useActions, useDeck, useDeckwright } from './use.ts'

/** Library and project's own, by id. */
export function useFootprints(): ReadonlyMap<string, FootprintFile> {
  const own = useDeck((s) => s.history.doc.project.footprints)
  const { store } = useDeckwright()
  // The map is small, and the same list of the project gives the same one.
  const [seen, setSeen] = useState<{ own: unknown; all: ReadonlyMap<string, FootprintFile> }>()
  if (seen && seen.own === own) return seen.all
  const all = footprintsOf(store.getState().history.doc.project, loadLibrary())
  setSeen({ own, all })
  return all
}

export interface Edit {
  /** What was wrong with the last edit, for a list. */
  readonly problems: readonly EditProblem[]
  /** Makes the project another one; the refusal in words, for the field that asked. */
  readonly edit: (make: (project: Project, variant: string) => Project, along?: Along, how?: How) => Refusal
}

export function useEdit(): Edit {
  const actions = useActions()
  const { store } = useDeckwright()
  const [problems, setProblems] = useState<readonly EditProblem[]>([])
  return {
    problems,
    edit: (make, along, how) => {
      const { history, active } = store.getState()
      const { project } = history.doc
      const next = make(project, history.doc.sheets[active]?.variant ?? '')
      const wrong = next === project ? [] : actions.change(next, how, along)
      setProblems(wrong)
      const [first] = wrong
      return first && words.parts.refused(first.found, first.expected)
    },
  }
}
