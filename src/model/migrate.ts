/**
 * Where files of old versions become files of the present one. A step `n` takes a document of version n and returns the same
 * document as version n + 1; version 1 is the first, so there is no step yet.
 */
import { type Issue, oneOf, snippet } from '../../footprints/problems.ts'
import { wanted } from './words.ts'

export type Format = 'deckwright-project' | 'deckwright-layout' | 'deckwright-footprint' | 'deckwright-measures'
export type Step = (document: Record<string, unknown>) => Record<string, unknown>
export type Steps = Readonly<Record<Format, readonly Step[]>>

const STEPS: Steps = {
  'deckwright-project': [],
  'deckwright-layout': [],
  'deckwright-footprint': [],
  'deckwright-measures': [],
}

/**
 * The document in the present version, or why it is none of ours. Never changes what it is given, as long as the steps do not.
 * `all`: the steps of each kind of file; tests bring some of their own, since files have none yet.
 */
export function migrate(
  document: unknown,
  format: Format,
  all: Steps = STEPS,
): { document: unknown } | { refused: Issue } {
  if (typeof document !== 'object' || document === null || Array.isArray(document)) {
    return { refused: { path: [], found: snippet(document), expected: wanted.objectOf(format) } }
  }
  const { format: stated, version } = document as Record<string, unknown>
  if (stated !== undefined && stated !== format) {
    const other = typeof stated === 'string' && Object.hasOwn(all, stated)
    const expected = other ? wanted.otherKind(format) : oneOf([format], stated)
    return { refused: { path: ['format'], found: snippet(stated), expected } }
  }
  const steps = all[format]
  const present = steps.length + 1
  if (typeof version === 'number' && Number.isInteger(version) && version > present) {
    const expected = wanted.olderVersion(present)
    return { refused: { path: ['version'], found: snippet(version), expected } }
  }
  // A version that is missing or makes no sense is the schema's to report.
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1) return { document }
  return { document: steps.slice(version - 1).reduce((d, step) => step(d), document as Record<string, unknown>) }
}
