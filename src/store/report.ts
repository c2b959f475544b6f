/**
 * What the inspection says of the layout on the stage. It follows the document and whatever is carried, a step behind; the last
 * report stays until the next one is there, so that nothing flickers. None of it is in the document.
 */
import { createStore, type StoreApi } from 'zustand/vanilla'
import type { Placement, Problem } from '../../solver/index.ts'
import type { VariantLayout } from '../electric/index.ts'
import type { Report } from '../inspect/index.ts'
import type { Project } from '../model/index.ts'
import type { Inspector } from '../worker/inspect.ts'
import { type Deckwright, type State, shown } from './state.ts'
import { findingsOf } from './view.ts'

/** What a report is of. */
export interface Seen {
  readonly project: Project
  readonly problem: Problem
  readonly placements: readonly Placement[]
  readonly others: readonly VariantLayout[]
}

export interface ReportState {
  /** Of the variant on the stage; the newest that is known. */
  readonly report?: Report
  readonly of?: Seen
  /** A newer one is on its way. */
  readonly looking: boolean
  readonly failed?: string
  /** The sentence that was chosen, and the ids that it speaks of: they are lit. */
  readonly chosen?: { readonly text: string; readonly items: readonly string[] }
}

export interface Reports {
  readonly store: StoreApi<ReportState>
  /** Lights what a sentence speaks of, and takes the first item into the hand; the same again lets go. */
  readonly choose: (text: string, items: readonly string[]) => void
  readonly end: () => void
}

/** Milliseconds between two looks at layouts that a solve comes by: the solve needs the processor more. */
const PAUSE = 800

export function createReports({ store: deck, actions }: Deckwright, inspector: Inspector): Reports {
  const store = createStore<ReportState>(() => ({ looking: false }))
  const others = otherLayouts()
  let wanted: Seen | undefined
  let opened = deck.getState().opened
  let pause: ReturnType<typeof setTimeout> | undefined

  const look = (): void => {
    clearTimeout(pause)
    pause = undefined
    const mine = wanted
    if (!mine) return
    inspector.look(mine, (inspected) => {
      if (wanted?.problem.variant !== mine.problem.variant) return
      const looking = wanted !== mine
      const { chosen } = store.getState()
      const kept = chosen ? { chosen } : {}
      store.setState(
        inspected.kind === 'report'
          ? { report: inspected.report, of: mine, looking, ...kept }
          : { failed: inspected.error, looking, ...kept },
        true,
      )
    })
  }

  const follow = (): void => {
    const state = deck.getState()
    const sheet = state.history.doc.sheets[state.active]
    const placements = sheet && (state.carry?.placements ?? shown(state, sheet))
    const anew = state.opened !== opened || (sheet && wanted && sheet.variant !== wanted.problem.variant)
    opened = state.opened
    if (!sheet || !placements || placements.length === 0) {
      wanted = undefined
      clearTimeout(pause)
      pause = undefined
      if (store.getState().report || store.getState().looking) store.setState({ looking: false }, true)
      return
    }
    const { project } = state.history.doc
    // what is being looked for elsewhere can wait until the hand has let go
    const beside = state.carry && wanted && !anew ? wanted.others : others(state, project)
    const answer = sheet.placements ? sheet.answer : state.known.get(sheet.problem)?.answer
    const solving = !answer && !state.carry
    const same =
      wanted?.project === project &&
      wanted.problem === sheet.problem &&
      wanted.placements === placements &&
      wanted.others === beside
    if (same) {
      if (pause !== undefined && !solving) look()
      return
    }
    wanted = { project, problem: sheet.problem, placements, others: beside }
    if (anew) store.setState({ looking: true }, true)
    else if (!store.getState().looking) store.setState({ looking: true })
    if (!solving) look()
    else pause ??= setTimeout(look, PAUSE)
  }

  const unsubscribe = deck.subscribe((state, before) => {
    const { chosen } = store.getState()
    // something else was taken into the hand, or another variant came to the stage
    const elsewhere = state.selected !== before.selected && !chosen?.items.includes(state.selected ?? '')
    if (chosen && (elsewhere || state.active !== before.active || state.opened !== before.opened)) {
      const { chosen: _, ...rest } = store.getState()
      store.setState(rest, true)
    }
    follow()
  })
  follow()

  return {
    store,
    choose: (text, items) => {
      const { chosen, ...rest } = store.getState()
      if (chosen?.text === text) {
        store.setState(rest, true)
        actions.hoverWire(undefined)
        return
      }
      store.setState({ ...rest, chosen: { text, items } }, true)
      const { history, active } = deck.getState()
      const problem = history.doc.sheets[active]?.problem
      const item = items.find((id) => problem?.items.some((i) => i.id === id))
      const wire = problem?.wires.findIndex((w) => items.includes(w.id)) ?? -1
      if (item !== undefined) actions.select(item)
      actions.hoverWire(wire < 0 ? undefined : wire)
    },
    end: () => {
      unsubscribe()
      clearTimeout(pause)
      inspector.end()
    },
  }
}

/** Sound layouts of the other variants, once their solves have come to an end; the same list until one of them changes. */
function otherLayouts() {
  let last: readonly VariantLayout[] = []
  let of: Project | undefined
  return (state: State, project: Project): readonly VariantLayout[] => {
    const now = state.history.doc.sheets.flatMap((sheet, index): VariantLayout[] => {
      const answer = sheet.placements ? sheet.answer : state.known.get(sheet.problem)?.answer
      if (index === state.active || !answer || sheet.problem.wires.length === 0) return []
      const placements = shown(state, sheet)
      if (placements.length === 0 || findingsOf(sheet.problem, placements).length > 0) return []
      return [{ variant: sheet.variant, placements }]
    })
    const same =
      of === project &&
      now.length === last.length &&
      now.every((o, i) => o.variant === last[i]?.variant && o.placements === last[i]?.placements)
    if (!same) last = now
    of = project
    return last
  }
}
