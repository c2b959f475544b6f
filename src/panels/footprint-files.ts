/** Files for the bench: a part's own, a board's drawings or a part's measures, read to a part; and what is said of each. */
import type { FootprintFile } from '../../footprints/schema.ts'
import type { DrillAnswers } from '../bring-in/excellon-number.ts'
import { readFootprint } from '../model/edit-footprint.ts'
import type { FileProblem, ProjectDeck } from '../model/index.ts'
import { type Kind, kindOfFile } from '../store/arrive.ts'
import type { Whole } from '../store/arrive-all.ts'
import { words } from '../words/index.ts'

export interface Brought {
  /** Names of the files that it is from. */
  readonly files: readonly string[]
  /** Names of those that were left, since a bench holds one part. */
  readonly left: readonly string[]
  /** Missing: nothing was taken, and `problems` say why. */
  readonly footprint?: FootprintFile
  readonly problems: readonly FileProblem[]
  /** What was read, taken for granted and not used, in sentences. */
  readonly lines: readonly string[]
  /** What the files of a board do not say of their numbers. */
  readonly asks: { readonly units: boolean; readonly zeros: boolean }
}

const NOTHING = { problems: [], lines: [], asks: { units: false, zeros: false } } as const

/** What makes a part, the surest first. */
const ORDER = ['part', 'board', 'measures'] as const satisfies readonly Kind[]

/**
 * `draft`: what is on the bench; a board's files, which say less than a part's, leave it id, name and, where they have none, height.
 * `deck`: any deck, which measures of a plate would be laid on.
 */
export async function footprintFrom(
  sources: readonly Whole[],
  draft: FootprintFile,
  deck: ProjectDeck,
  answers: DrillAnswers,
): Promise<Brought> {
  const kinds = sources.map((s) => ({ ...s, kind: kindOfFile(s.bytes, s.name) }))
  const kind = ORDER.find((k) => kinds.some((s) => s.kind === k))
  const [first] = kinds.filter((s) => s.kind === kind)
  const all = sources.map((s) => s.name)
  if (!kind || !first) {
    const problems = kinds.map(({ name, kind: is }) => ({
      file: name,
      path: '',
      found: words.footprint.files.is[is],
      expected: words.footprint.files.wanted,
    }))
    return { ...NOTHING, files: all, left: [], problems }
  }
  const used = kind === 'board' ? kinds.filter((s) => s.kind === 'board') : [first]
  const files = used.map((s) => s.name)
  const more = { ...NOTHING, files, left: all.filter((name) => !files.includes(name)) }
  if (kind === 'part') {
    const read = readFootprint(first.bytes, first.name)
    if (!read.ok) return { ...more, problems: [...read.problems, ...read.warnings] }
    const strange = read.warnings.map((w) => words.footprint.files.problem('', w.path, w.found, w.expected))
    return { ...more, footprint: read.value, lines: strange }
  }
  // The readers are large, and come only when there is something to read.
  const { boardAsks, boardFrom, measuresFrom } = await import('./bring-files.ts')
  if (kind === 'measures') {
    const got = measuresFrom(first, deck)
    if (got.kind === 'refused') return { ...more, problems: got.problems, lines: got.lines }
    if (got.kind === 'footprint') return { ...more, footprint: got.footprint, lines: got.lines }
    const { measuresOfDeck, wanted } = words.footprint.files
    return { ...more, problems: [{ file: first.name, path: 'gives', found: measuresOfDeck, expected: wanted }] }
  }
  let got = boardFrom(used, draft.id, undefined, answers)
  const notes: string[] = []
  if (got.kind === 'refused' && got.problems.some((p) => p.path === 'height')) {
    const { height } = draft.body
    got = boardFrom(used, draft.id, height, answers)
    notes.push(words.footprint.files.heightStays(height))
  }
  if (got.kind !== 'footprint')
    return { ...more, problems: got.kind === 'refused' ? got.problems : [], asks: boardAsks(got) }
  const { footprint } = got
  const named = draft.name === undefined ? footprint : { ...footprint, name: draft.name }
  return { ...more, footprint: named, lines: [...notes, ...got.lines] }
}
