/** What the variants' parts of the page share: the second variant on the stage, the common stand of the views, and edits of the project. */
import { useState } from 'react'
import { useStore } from 'zustand'
import type { Project } from '../model/index.ts'
import { type Camera, createCamera } from '../store/camera.ts'
import { type BesideStore, besideIn, createBeside } from '../store/compare.ts'
import { createPlanView, type PlanViews } from '../store/plan-view.ts'
import type { Deckwright } from '../store/store.ts'
import { words } from '../words/index.ts'
import { useDeckwright } from './use.ts'

export interface StageState {
  readonly beside: BesideStore
  readonly camera: Camera
  readonly planView: PlanViews
}

const states = new WeakMap<Deckwright, StageState>()

export function useStageState(): StageState {
  const here = useDeckwright()
  const state = states.get(here) ?? { beside: createBeside(), camera: createCamera(), planView: createPlanView() }
  states.set(here, state)
  return state
}

/** Index of the second sheet on the stage, where there is one. */
export function useBeside(): number | undefined {
  const { store } = useDeckwright()
  const chosen = useStore(useStageState().beside)
  return useStore(store, (s) => besideIn(s, chosen))
}

/** Hands a project to the document; what is wrong with it stays as a sentence until the next edit. */
export function useEdit(): {
  readonly wrong: string | undefined
  readonly edit: (make: (project: Project) => Project, anew?: 'anew') => boolean
} {
  const { store, actions } = useDeckwright()
  const [wrong, setWrong] = useState<string>()
  return {
    wrong,
    edit: (make, anew) => {
      const { project } = store.getState().history.doc
      const next = make(project)
      if (next === project) return true
      const [problem] = actions.change(next, anew)
      setWrong(problem && words.variants.bar.wrong(problem.path, problem.found, problem.expected))
      return !problem
    },
  }
}
