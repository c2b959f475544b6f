/**
 * The one door for files: bytes to text, text to JSON, an old version to the present one, then the check of its kind; and every
 * problem told where it stands. Nothing here throws, whatever comes in.
 */
import { type FileProblem, type Issue, MOST_LISTED, type Path, pathText, type Read } from '../../footprints/problems.ts'
import { lineAndColumn, locate, parseJson } from './json.ts'
import { type Format, migrate } from './migrate.ts'
import { got, wanted } from './words.ts'

export const MOST_BYTES = 10_000_000

export interface Checked {
  readonly problems: readonly Issue[]
  readonly warnings: readonly Issue[]
  /** Set where the value is not the document as it stands. */
  readonly value?: unknown
}

/** A file's text to a checked value; `check` may trust that it gets parsed JSON and nothing else. */
export function readFile<T>(
  source: string | Uint8Array,
  file: string,
  format: Format,
  check: (document: unknown) => Checked,
): Read<T> {
  const decoded = decode(source)
  if ('problem' in decoded) return { ok: false, problems: [{ file, path: '', ...decoded.problem }], warnings: [] }
  const { text } = decoded
  const parsed = parseJson(text)
  const place = lineAndColumn(text)
  const textProblems = parsed.issues.map(({ offset, path, found, expected }) => ({
    file,
    path: pathText(path),
    found,
    expected,
    ...place(offset),
  }))
  if (parsed.value === undefined) return { ok: false, problems: listed(textProblems, file), warnings: [] }

  const migrated = migrate(parsed.value, format)
  const checked: Checked =
    'refused' in migrated ? { problems: [migrated.refused], warnings: [] } : check(migrated.document)
  const value = (checked.value ?? ('refused' in migrated ? undefined : migrated.document)) as T
  const { problems, warnings } = checked
  // Where fields stand costs another pass over the text, so only where there is something to tell.
  if (problems.length === 0 && warnings.length === 0 && textProblems.length === 0)
    return { ok: true, value, warnings: [] }

  const told = tell(text, file, problems, warnings, place)
  const all = [...textProblems, ...told.problems].sort(byPlace)
  const hints = listed(told.warnings.sort(byPlace), file)
  return all.length > 0
    ? { ok: false, problems: listed(all, file), warnings: hints }
    : { ok: true, value, warnings: hints }
}

const byPlace = (a: FileProblem, b: FileProblem) => a.line! - b.line! || a.column! - b.column!

function tell(
  text: string,
  file: string,
  problems: readonly Issue[],
  warnings: readonly Issue[],
  place: (offset: number) => { line: number; column: number },
): { problems: FileProblem[]; warnings: FileProblem[] } {
  const offsets = locate(
    text,
    [...problems, ...warnings].map((i) => i.path),
  )
  const one = (issue: Issue, k: number): FileProblem => ({
    file,
    path: pathText(issue.path),
    found: issue.found,
    expected: issue.expected,
    ...place(offsets[k]!),
  })
  return {
    problems: problems.map(one),
    warnings: warnings.map((w, k) => one(w, problems.length + k)),
  }
}

function listed(all: FileProblem[], file: string): FileProblem[] {
  if (all.length <= MOST_LISTED) return all
  const more = { file, path: '', found: got.moreLikeThese(all.length - MOST_LISTED), expected: wanted.fileWithout }
  return [...all.slice(0, MOST_LISTED), more]
}

type Decoded = { text: string } | { problem: Pick<FileProblem, 'found' | 'expected'> & Partial<FileProblem> }

/** UTF-8 with or without a byte-order mark, at most 10 MB. */
function decode(source: string | Uint8Array): Decoded {
  const bytes = typeof source === 'string' ? bytesOf(source) : source.length
  if (bytes > MOST_BYTES) {
    return { problem: { found: got.bytes(bytes), expected: wanted.atMostBytes(MOST_BYTES) } }
  }
  if (typeof source === 'string') return { text: source.startsWith('\ufeff') ? source.slice(1) : source }
  if ((source[0] === 0xff && source[1] === 0xfe) || (source[0] === 0xfe && source[1] === 0xff)) {
    return { problem: { found: got.utf16, expected: wanted.utf8 } }
  }
  try {
    return { text: new TextDecoder('utf-8', { fatal: true }).decode(source) }
  } catch {
    return { problem: { found: got.notUtf8, expected: wanted.utf8, ...firstBadLine(source) } }
  }
}

/** Exact only where it matters: a text of few enough signs cannot be too long. */
const bytesOf = (text: string) =>
  text.length > MOST_BYTES || text.length * 3 <= MOST_BYTES ? text.length : new TextEncoder().encode(text).length

/** A line feed is never part of a longer UTF-8 sign, so lines can be tried one by one. */
function firstBadLine(bytes: Uint8Array): { line: number; column: number } {
  const strict = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true })
  for (let line = 1, from = 0; ; line++) {
    const feed = bytes.indexOf(10, from)
    const part = bytes.subarray(from, feed < 0 ? bytes.length : feed)
    try {
      strict.decode(part)
    } catch {
      const lenient = new TextDecoder('utf-8', { ignoreBOM: line > 1 }).decode(part)
      return { line, column: lenient.indexOf('\ufffd') + 1 }
    }
    if (feed < 0) return { line, column: 1 }
    from = feed + 1
  }
}

/**
 * A copy without what the issues point at, so that checks which come later meet sound values or nothing, or what `instead` says.
 * Only what leads to an issue is copied: the rest may be large.
 */
export function withoutFaults(
  document: unknown,
  faults: readonly { readonly path: Path }[],
  instead: (path: Path) => unknown = () => undefined,
): unknown {
  if (faults.length === 0) return document
  const mine = new Set<unknown>()
  const copyOf = (value: unknown): unknown => {
    if (typeof value !== 'object' || value === null || mine.has(value)) return value
    const copy: object = Array.isArray(value) ? value.slice() : { ...value }
    mine.add(copy)
    return copy
  }
  const root = copyOf(document)
  for (const { path } of faults) {
    let holder: unknown = root
    for (const step of path.slice(0, -1)) {
      const inside: unknown =
        typeof holder === 'object' && holder !== null && Object.hasOwn(holder, step)
          ? (holder as Record<string | number, unknown>)[step]
          : undefined
      const copy = copyOf(inside)
      if (copy !== inside) put(holder as object, step, copy)
      holder = copy
    }
    const last = path.at(-1)
    if (typeof holder !== 'object' || holder === null || last === undefined) continue
    const value = instead(path)
    // A hole keeps the numbers of its neighbours.
    if (Array.isArray(holder)) holder[last as number] = null
    else if (value === undefined) delete (holder as Record<string | number, unknown>)[last]
    else put(holder, last, value)
  }
  return root
}

/** Not by assignment: "__proto__" is a field like any other. */
const put = (holder: object, field: string | number, value: unknown) =>
  Object.defineProperty(holder, field, { value, enumerable: true, writable: true, configurable: true })
