/**
 * Several files that are dropped at once: one project, then parts, one layout and one thing to be looked at first, each named in what is
 * said of it; nothing is passed over in silence. What comes first among equals is as the browser lists them.
 */
import { readFootprint } from '../model/edit-footprint.ts'
import { formatOf } from '../model/format-of.ts'
import type { FileProblem } from '../model/index.ts'
import { words } from '../words/index.ts'
import { type Arrived, arrive, type BringKind, type Kind, kindOfFile } from './arrive.ts'
import type { Broken, Deckwright } from './state.ts'

/** A file as it was dropped; without bytes where it cannot be read, as a folder cannot. */
export interface Dropped {
  readonly name: string
  readonly bytes: Uint8Array | undefined
}

export interface Whole {
  readonly name: string
  readonly bytes: Uint8Array
}

/** Why a sound file was not taken: another of its kind was, or a part of the same id. */
export type LeftOver = 'project' | 'layout' | 'part' | 'drawing'

export interface AllArrived {
  readonly project?: string
  readonly layout?: string
  /** Names of files. */
  readonly parts: readonly string[]
  /** What came of the only file, where there was one. */
  readonly only?: Arrived
  readonly bring?: { readonly as: BringKind; readonly files: readonly Whole[] }
  readonly left: readonly { readonly file: string; readonly why: LeftOver }[]
  /** Names of files that cannot be used; why is in the store. */
  readonly refused: readonly string[]
}

const ORDER: readonly Kind[] = ['project', 'part', 'layout', 'board', 'deck', 'measures', 'picture', 'nothing', 'other']
const BRINGS: readonly Kind[] = ['board', 'deck', 'measures'] satisfies BringKind[]

export function arriveAll(here: Deckwright, files: readonly Dropped[]): AllArrived {
  const { store, actions } = here
  const done = {
    project: undefined as string | undefined,
    layout: undefined as string | undefined,
    parts: [] as string[],
    bring: undefined as AllArrived['bring'],
    left: [] as { file: string; why: LeftOver }[],
    refused: [] as string[],
  }
  const ids = new Set<string>()
  const refusals: Broken[] = []
  const strange: FileProblem[] = []
  let only: Arrived | undefined
  const take = ({ name, bytes }: Whole): Arrived['kind'] => {
    const arrived = arrive(here, bytes, name)
    only = arrived
    const { broken, notices } = store.getState()
    if (arrived.kind === 'refused') {
      done.refused.push(name)
      if (broken) refusals.push(broken)
    } else strange.push(...notices.filter((n) => n.file === name))
    return arrived.kind
  }
  const known = files.flatMap(({ name, bytes }) => (bytes ? [{ name, bytes, kind: kindOfFile(bytes, name) }] : []))
  for (const { name, bytes } of files)
    if (!bytes) {
      done.refused.push(name)
      refusals.push({ file: name, problems: [], kind: 'unreadable' })
    }
  const leave = (file: string, why: LeftOver): unknown => done.left.push({ file, why })
  for (const kind of ORDER)
    for (const file of known.filter((k) => k.kind === kind)) {
      const { name, bytes } = file
      if (BRINGS.includes(kind)) {
        // A board has several files, all others one.
        if (!done.bring) done.bring = { as: kind as BringKind, files: [file] }
        else if (kind === 'board') done.bring = { as: kind, files: [...done.bring.files, file] }
        else leave(name, 'drawing')
      } else if (kind === 'project') {
        // What is no project after all cannot be opened, and is told why.
        if (done.project !== undefined && formatOf(bytes) === 'deckwright-project') leave(name, kind)
        else if (take(file) === 'opened') done.project = name
      } else if (kind === 'layout') {
        if (done.layout !== undefined) leave(name, kind)
        else if (take(file) === 'laid') done.layout = name
      } else if (kind === 'part') {
        const read = readFootprint(bytes, name)
        const id = read.ok ? read.value.id : ''
        if (id !== '' && ids.has(id)) leave(name, kind)
        else if (take(file) === 'part') {
          ids.add(id)
          done.parts.push(name)
        }
      } else take(file)
    }
  const { project, layout, bring, parts, left, refused } = done
  if (bring && !only) actions.dismiss()
  // What was taken later has put aside what was said of those before.
  const [first] = refusals
  if (first) actions.refuse(refusals.length === 1 ? first : together(refusals))
  if (strange.length > 0) actions.notice(strange)
  return {
    parts,
    left,
    refused,
    ...(project === undefined ? {} : { project }),
    ...(layout === undefined ? {} : { layout }),
    ...(bring === undefined
      ? {}
      : { bring: { as: bring.as, files: bring.files.map(({ name, bytes }) => ({ name, bytes })) } }),
    ...(files.length === 1 && only ? { only } : {}),
  }
}

/** Several that were not taken, as one. */
function together(all: readonly Broken[]): Broken {
  const { none, wanted } = words.start
  return {
    file: words.start.files(all.map((r) => r.file)),
    problems: all.flatMap(({ file, kind, problems }) =>
      kind === undefined || kind === 'layout' ? problems : [{ file, path: '', found: none[kind], expected: wanted }],
    ),
    strange: all.flatMap((r) => r.strange ?? []),
  }
}
