/** Drags on a line of their own: the newest wish is answered, those that came between are not. */
import type { Hold, Placement, Problem } from '../../solver/index.ts'
import type { Line, OpenLine } from './protocol.ts'

/** A layout near the hint with the holds where they are; undefined where none was found. */
type Told = (placements: readonly Placement[] | undefined) => void

export interface Drag {
  /** Where the others would go. `told` is not called where a newer wish came before this one was begun. */
  readonly to: (holds: readonly Hold[], hint: readonly Placement[], told: Told) => void
  /** Nothing more is told; the line stays warm for the next drag. */
  readonly end: () => void
}

interface Wish {
  readonly problem: Problem
  readonly holds: readonly Hold[]
  readonly hint: readonly Placement[]
  readonly told: Told
  readonly drag: object
}

export function createDrags(open: OpenLine): { readonly drag: (problem: Problem) => Drag; readonly end: () => void } {
  let count = 0
  let line: Line | undefined
  /** The problem that the thread has compiled. */
  let there: Problem | undefined
  let asked: { readonly id: number; readonly wish: Wish } | undefined
  let newest: Wish | undefined
  let now: object | undefined

  const lose = (): void => {
    line?.end()
    line = there = asked = newest = undefined
  }

  const next = (): void => {
    if (asked || !newest) return
    const wish = newest
    newest = undefined
    line ??= open(
      (say) => {
        if (!asked || say.id !== asked.id) return
        const { told, drag } = asked.wish
        asked = undefined
        // a session that broke is made anew at the next wish
        if (say.kind === 'failed') there = undefined
        if (say.kind === 'dragged' && drag === now) told(say.placements)
        next()
      },
      // a preview that cannot be had is none: what is dropped is solved all the same
      lose,
    )
    const id = ++count
    const { problem, holds, hint } = wish
    asked = { id, wish }
    line.ask({ kind: 'drag', id, holds, hint, ...(problem === there ? {} : { problem }) })
    there = problem
  }

  return {
    drag: (problem) => {
      const drag = {}
      now = drag
      return {
        to: (holds, hint, told) => {
          newest = { problem, holds, hint, told, drag }
          next()
        },
        end: () => {
          if (newest?.drag === drag) newest = undefined
          if (now === drag) now = undefined
        },
      }
    },
    end: lose,
  }
}
