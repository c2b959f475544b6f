/** A file that was chosen or dropped: what it is, and what becomes of it. Nothing but a sound file changes the document. */
import { readFootprint, withOwnFootprint } from '../model/edit-footprint.ts'
import { formatOf, looksLike } from '../model/format-of.ts'
import { type FileProblem, layoutVariant, placementsOf, readLayout } from '../model/index.ts'
import { words } from '../words/index.ts'
import type { Deckwright } from './store.ts'

/** What a file is that is no document of ours: it must be looked at, and perhaps asked about, before it is taken. */
export type BringKind = 'deck' | 'board' | 'measures'

/** What was done: a document opened, a layout or a part taken into the one that is there, or nothing, with the reason told. */
export type Arrived =
  | { readonly kind: 'opened' | 'laid' | 'refused' }
  /** A drawing, a board's file or measures: nothing is done with it yet. */
  | { readonly kind: 'bring'; readonly as: BringKind }
  /** The name of the part, which is among the project's own now, there in place of one of its id if there was one. */
  | { readonly kind: 'part'; readonly name: string; readonly replaced: boolean }

/** What a file is, as far as can be told before it is read. */
export type Kind = 'project' | 'layout' | 'part' | BringKind | 'nothing' | 'picture' | 'other'

const REFUSED: Arrived = { kind: 'refused' }

const problem = (file: string, path: string, found: string, expected: string): FileProblem => ({
  file,
  path,
  found,
  expected,
})

function layOut({ store, actions }: Deckwright, source: Uint8Array, file: string): Arrived {
  const { doc } = store.getState().history
  const read = readLayout(source, file, doc.project)
  if (!read.ok) {
    const { problems, warnings: strange } = read
    actions.refuse({
      file,
      problems,
      strange,
      ...(problems.some((p) => p.path === 'variant') ? { kind: 'layout' } : {}),
    })
    return REFUSED
  }
  const variant = layoutVariant(doc.project, read.value)
  const sheet = doc.sheets.find((s) => s.variant === variant)
  if (!sheet) return REFUSED
  const laid = placementsOf(sheet.problem, read.value)
  if (laid.findings.length > 0) {
    const problems = laid.strange.map((s) =>
      problem(file, 'placements', s.found, s.expected ?? words.start.itsNames(sheet.name)),
    )
    actions.refuse({ file, problems, kind: 'layout' })
    return REFUSED
  }
  if (laid.placements.length === 0) {
    actions.refuse({
      file,
      problems: [problem(file, 'placements', words.start.noPlaces, words.start.somePlaces)],
    })
    return REFUSED
  }
  actions.lay(variant, laid.placements)
  if (read.warnings.length > 0) actions.notice(read.warnings)
  return { kind: 'laid' }
}

function takePart({ store, actions }: Deckwright, source: Uint8Array, file: string): Arrived {
  const read = readFootprint(source, file)
  const { project } = store.getState().history.doc
  const problems = read.ok
    ? actions.change(withOwnFootprint(project, read.value)).map((p) => ({ ...p, file }))
    : read.problems
  if (read.ok && problems.length === 0) {
    actions.dismiss()
    if (read.warnings.length > 0) actions.notice(read.warnings)
    const replaced = project.footprints?.some((f) => f.id === read.value.id) === true
    return { kind: 'part', name: read.value.name ?? read.value.id, replaced }
  }
  actions.refuse({ file, problems, strange: read.warnings })
  return REFUSED
}

/** By what the file states, then by how it looks, last by its ending. */
export function kindOfFile(source: Uint8Array, file: string): Kind {
  const looks = looksLike(source)
  if (looks === 'nothing' || looks === 'picture') return looks
  const format = formatOf(source)
  switch (format) {
    case 'deckwright-layout':
      return 'layout'
    case 'deckwright-footprint':
      return 'part'
    case 'deckwright-measures':
      return 'measures'
    case undefined:
      // What is JSON but for a slip is told where the slip is.
      if (looks === 'json' || /\.json$/i.test(file)) return 'project'
      if (/\.(svg|dxf)$/i.test(file)) return 'deck'
      return /\.(idf|emn|brd|gbr|gm1|gko|drl|xln|txt)$/i.test(file) ? 'board' : 'other'
    default:
      return 'project'
  }
}

/** `source`: the file's bytes; `file`: its name. */
export function arrive(here: Deckwright, source: Uint8Array, file: string): Arrived {
  const kind = kindOfFile(source, file)
  switch (kind) {
    case 'project':
      return here.actions.open(source, file) ? { kind: 'opened' } : REFUSED
    case 'layout':
      return layOut(here, source, file)
    case 'part':
      return takePart(here, source, file)
    case 'deck':
    case 'board':
    case 'measures':
      return { kind: 'bring', as: kind }
    default:
      here.actions.refuse({ file, problems: [], kind })
      return REFUSED
  }
}
