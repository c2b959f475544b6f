/** The inspection that belongs to the document on the page, and what of it is lit. */
import { useMemo } from 'react'
import { useStore } from 'zustand'
import { loadLibrary } from '../../footprints/load.ts'
import { type Finding, um } from '../../solver/index.ts'
import { createReports, type ReportState, type Reports } from '../store/report.ts'
import type { Deckwright } from '../store/store.ts'
import type { View } from '../store/view.ts'
import { createInspector, inspectInBrowser } from '../worker/inspect.ts'
import { useDeckwright } from './use.ts'

const all = new WeakMap<Deckwright, Reports>()

export function useReports(): Reports {
  const here = useDeckwright()
  const reports = all.get(here) ?? createReports(here, createInspector(inspectInBrowser, loadLibrary()))
  all.set(here, reports)
  return reports
}

export const useReport = <T>(select: (state: ReportState) => T): T => useStore(useReports().store, select)

/** Ids of what a chosen sentence or a conflict speaks of. */
export function useLit(view: View, active: boolean): ReadonlySet<string> {
  const chosen = useReport((s) => s.chosen)
  const { conflict } = view
  return useMemo(
    () => (active ? new Set([...conflict.flatMap((m) => m.items), ...(chosen?.items ?? [])]) : NONE),
    [active, conflict, chosen],
  )
}

const NONE: ReadonlySet<string> = new Set()

/** What is lit among the findings, for views that mark what findings name. */
export const marked = (findings: readonly Finding[], lit: ReadonlySet<string>): readonly Finding[] =>
  lit.size === 0 ? findings : [...findings, { rule: 'R1', items: [...lit], text: '', by: um(0) }]
