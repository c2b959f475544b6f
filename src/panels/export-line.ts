/** Files written on a thread of their own: pictures and printed pages take a second, and nothing may block the page. */
import { words } from '../words/index.ts'
import { errorText } from '../worker/protocol.ts'
import type { Asked, Kind, Made } from './export-files.ts'

export interface WriteAsk {
  readonly id: number
  readonly kind: Kind
  readonly asked: Asked
}

export type WriteSay =
  | { readonly id: number; readonly kind: 'files'; readonly files: readonly Made[] }
  | { readonly id: number; readonly kind: 'failed'; readonly error: string }

/** The thread's end of the line; `filesOf` is handed in, so that the page itself need not load the writers. */
export function writing(
  filesOf: (kind: Kind, asked: Asked) => Promise<readonly Made[]>,
  say: (say: WriteSay) => void,
): (ask: WriteAsk) => Promise<void> {
  return async ({ id, kind, asked }) => {
    try {
      say({ id, kind: 'files', files: await filesOf(kind, asked) })
    } catch (error) {
      say({ id, kind: 'failed', error: errorText(error) })
    }
  }
}

export interface Writers {
  /** Rejects with a sentence where the files cannot be made. */
  readonly make: (kind: Kind, asked: Asked) => Promise<readonly Made[]>
  readonly end: () => void
}

type Thread = Pick<Worker, 'postMessage' | 'terminate' | 'addEventListener'>

/** Undefined where there are no workers; nothing could be solved there either. */
export const openThread = (): Thread | undefined =>
  typeof Worker === 'undefined'
    ? undefined
    : new Worker(new URL('./export-entry.ts', import.meta.url), { type: 'module', name: 'files' })

/** What is drawn, and not all that is said of it on the page. */
const slim = (asked: Asked): Asked => {
  const { problem, placements, sheet } = asked.view
  return { ...asked, view: { problem, placements, sheet: { variant: sheet.variant } } }
}

/** The thread starts with the first files; one that breaks is started again with the next. */
export function createWriters(open: () => Thread | undefined): Writers {
  const waiting = new Map<number, (say: WriteSay) => void>()
  let thread: Thread | undefined
  let count = 0
  const lose = (error: string): void => {
    thread?.terminate()
    thread = undefined
    for (const [id, go] of waiting) go({ id, kind: 'failed', error })
    waiting.clear()
  }
  const begin = (): Thread => {
    const line = open()
    if (!line) throw new Error(words.files.noThread)
    line.addEventListener('message', (event) => {
      const say = (event as MessageEvent<WriteSay>).data
      const go = waiting.get(say.id)
      waiting.delete(say.id)
      go?.(say)
    })
    line.addEventListener('error', (event) => lose((event as ErrorEvent).message || words.files.noThread))
    return line
  }
  return {
    make: async (kind, asked) => {
      thread ??= begin()
      const line = thread
      const id = ++count
      const say = await new Promise<WriteSay>((go) => {
        waiting.set(id, go)
        line.postMessage({ id, kind, asked: slim(asked) } satisfies WriteAsk)
      })
      if (say.kind === 'failed') throw new Error(say.error)
      return say.files
    },
    end: () => lose(words.files.noThread),
  }
}
