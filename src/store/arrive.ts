/** A file that was chosen or dropped: what it is, and what becomes of it. Nothing but a sound file changes the document. */
import { readFootprint, withOwnFootprint } from '../model/edit-footprint.ts'
import { formatOf } from '../model/format-of.ts'
import { type FileProblem, layoutVariant, placementsOf, readLayout } from '../model/index.ts'
import type { Deckwright } from './store.ts'

/** What a file is that is no document of ours: it must be looked at, and perhaps asked about, before it is taken. */
export type BringKind = 'deck' | 'board' | 'measures'

/** What was done: a document opened, a layout or a part taken into the one that is there, or nothing, with the reason told. */
export type Arrived =
  | { readonly kind: 'opened' | 'laid' | 'refused' }
  /** A drawing, a board's file or measures: nothing is done with it yet. */
  | { readonly kind: 'bring'; readonly as: BringKind }
  /** The name of the part, which is among the project's own now. */
  | { readonly kind: 'part'; readonly name: string }

const REFUSED: Arrived = { kind: 'refused' }

const problem = (file: string, path: string, found: string, expected: string): FileProblem => ({
  file,
  path,
  found,
  expected,
})

function layOut({ store, actions }: Deckwright, source: Uint8Array, file: string): Arrived {
  const { doc } = store.getState().history
  const read = readLayout(source, file)
  const variant = read.ok ? layoutVariant(doc.project, read.value, file) : read
  if (!read.ok || !variant.ok) {
    actions.refuse({ file, problems: variant.ok ? [] : variant.problems, kind: 'layout' })
    return REFUSED
  }
  const sheet = doc.sheets.find((s) => s.variant === variant.value)
  if (!sheet) return REFUSED
  const laid = placementsOf(sheet.problem, read.value)
  if (laid.findings.length > 0 || laid.placements.length === 0) {
    const unknown = laid.findings.map((f) =>
      problem(file, 'placements', f.text.replace(/\.$/, ''), 'names of this deck'),
    )
    const none = [problem(file, 'placements', 'an empty list', 'at least one item with a place')]
    actions.refuse({ file, problems: unknown.length > 0 ? unknown : none, kind: 'layout' })
    return REFUSED
  }
  actions.lay(variant.value, laid.placements)
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
    return { kind: 'part', name: read.value.name ?? read.value.id }
  }
  actions.refuse({ file, problems })
  return REFUSED
}

/** `source`: the file's bytes; `file`: its name. */
export function arrive(here: Deckwright, source: Uint8Array, file: string): Arrived {
  const kind = formatOf(source)
  switch (kind) {
    case 'deckwright-layout':
      return layOut(here, source, file)
    case 'deckwright-footprint':
      return takePart(here, source, file)
    case 'deckwright-measures':
      return { kind: 'bring', as: 'measures' }
    default:
      if (kind === undefined && !/\.json$/i.test(file)) {
        if (/\.(svg|dxf)$/i.test(file)) return { kind: 'bring', as: 'deck' }
        if (/\.(idf|emn|brd|gbr|gm1|gko|drl|xln|txt)$/i.test(file)) return { kind: 'bring', as: 'board' }
        here.actions.refuse({ file, problems: [], kind: 'other' })
        return REFUSED
      }
      return here.actions.open(source, file) ? { kind: 'opened' } : REFUSED
  }
}
