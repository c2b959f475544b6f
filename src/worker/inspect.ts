/** Inspections on a thread of their own: the newest layout is looked at, those that came between are not. */
import type { FootprintFile } from '../../footprints/schema.ts'
import type { Placement, Problem } from '../../solver/index.ts'
import { inspectRoutes, type VariantLayout, wiringOf } from '../electric/index.ts'
import { inspect, type Report } from '../inspect/index.ts'
import { type Project, toProblem } from '../model/index.ts'
import { errorText } from './protocol.ts'
import { threads } from './words.ts'

type Library = ReadonlyMap<string, FootprintFile>

export interface Subject {
  readonly project: Project
  /** A variant of the project, and a layout of it, legal or not. */
  readonly problem: Problem
  readonly placements: readonly Placement[]
  /** Layouts of other variants, for lengths that serve them all. */
  readonly others: readonly VariantLayout[]
}

/** What is sent: only what differs from the time before; the library once. */
export interface InspectAsk extends Partial<Omit<Subject, 'placements'>> {
  readonly id: number
  readonly library?: Library
  readonly placements: readonly Placement[]
}

export type InspectSay =
  | { readonly kind: 'inspected'; readonly id: number; readonly report: Report }
  | { readonly kind: 'failed'; readonly id: number; readonly error: string }

export type Inspected =
  | { readonly kind: 'report'; readonly report: Report }
  | { readonly kind: 'failed'; readonly error: string }

/** The thread's end of the line. */
export function inspecting(say: (say: InspectSay) => void): (ask: InspectAsk) => void {
  let library: Library = new Map()
  let project: Project | undefined
  let problem: Problem | undefined
  let others: readonly VariantLayout[] = []
  return (ask) => {
    const { id } = ask
    try {
      library = ask.library ?? library
      project = ask.project ?? project
      problem = ask.problem ?? problem
      if (!project || !problem) throw new Error('nothing was sent that could be inspected')
      // what does not change while a hand moves something is worked out once
      if (ask.others) others = ask.others.map((o) => routed(project!, library, o))
      say({ kind: 'inspected', id, report: inspect(project, library, problem, ask.placements, { others }) })
    } catch (error) {
      say({ kind: 'failed', id, error: errorText(error) })
    }
  }
}

function routed(project: Project, library: Library, { variant, placements }: VariantLayout): VariantLayout {
  const problem = toProblem(project, variant, library)
  const known = { problem, routed: inspectRoutes(problem, placements, wiringOf(project, variant)) }
  return { variant, placements, known }
}

export interface InspectLine {
  readonly ask: (ask: InspectAsk) => void
  readonly end: () => void
}

/** `broken`: the thread died, with a sentence. */
export type OpenInspect = (hear: (say: InspectSay) => void, broken: (error: string) => void) => InspectLine

export interface Inspector {
  /** `told` is not called where a newer subject came before this one was begun. */
  readonly look: (subject: Subject, told: (inspected: Inspected) => void) => void
  readonly end: () => void
}

interface Wish {
  readonly subject: Subject
  readonly told: (inspected: Inspected) => void
}

export function createInspector(open: OpenInspect, library: Library): Inspector {
  let count = 0
  let line: InspectLine | undefined
  /** What the thread has. */
  let there: Subject | undefined
  let asked: { readonly id: number; readonly wish: Wish } | undefined
  let newest: Wish | undefined
  let ended = false

  const lose = (): void => {
    line?.end()
    line = there = asked = undefined
  }

  const openLine = (): InspectLine =>
    open(
      (say) => {
        if (!asked || say.id !== asked.id) return
        const { told } = asked.wish
        asked = undefined
        // what it had by then is not known
        if (say.kind === 'failed') there = undefined
        told(say.kind === 'failed' ? say : { kind: 'report', report: say.report })
        next()
      },
      (error) => {
        const wish = newest ?? asked?.wish
        newest = undefined
        lose()
        wish?.told({ kind: 'failed', error })
      },
    )

  const next = (): void => {
    if (asked || !newest || ended) return
    const wish = newest
    newest = undefined
    const first = line === undefined
    line ??= openLine()
    const id = ++count
    asked = { id, wish }
    const { project, problem, placements, others } = wish.subject
    const anew = project !== there?.project
    const ask: InspectAsk = {
      id,
      placements,
      ...(first ? { library } : {}),
      ...(anew ? { project } : {}),
      ...(problem !== there?.problem ? { problem } : {}),
      ...(anew || others !== there?.others ? { others } : {}),
    }
    there = wish.subject
    line.ask(ask)
  }

  return {
    look: (subject, told) => {
      newest = { subject, told }
      next()
    },
    end: () => {
      ended = true
      newest = undefined
      lose()
    },
  }
}

/** A line to a browser's worker; without workers it is broken, and says so. */
export const inspectInBrowser: OpenInspect = (hear, broken) => {
  if (typeof Worker === 'undefined') {
    return { ask: () => queueMicrotask(() => broken(threads.noWorkersAtAll)), end: () => {} }
  }
  const worker = new Worker(new URL('./inspect-entry.ts', import.meta.url), { type: 'module', name: 'inspection' })
  worker.addEventListener('message', (event: MessageEvent<InspectSay>) => hear(event.data))
  worker.addEventListener('error', (event) => broken(event.message || threads.noInspection))
  return { ask: (ask) => worker.postMessage(ask), end: () => worker.terminate() }
}
