/**
 * What a read says when a file is wrong: every problem with its place, what stands there and what would be right.
 * Reads never throw past their door; they return `Read<T>`.
 */
import { got, problemLine, wanted } from './words.ts'

export interface FileProblem {
  readonly file: string
  /** The field, like `items[1].count`; empty for the file as a whole. */
  readonly path: string
  readonly found: string
  readonly expected: string
  /** From 1, where the text is known. */
  readonly line?: number
  readonly column?: number
}

export type Read<T> =
  | { readonly ok: true; readonly value: T; readonly warnings: readonly FileProblem[] }
  | { readonly ok: false; readonly problems: readonly FileProblem[]; readonly warnings: readonly FileProblem[] }

export type Path = readonly (string | number)[]

/** A problem before it is told which file and which line. */
export interface Issue {
  readonly path: Path
  readonly found: string
  readonly expected: string
}

/** What is found where a file has a field that its format does not know. */
export const UNKNOWN = got.unknownField

/** More than this many are counted, not listed: nobody reads them, and a hostile file must not fill the memory. */
export const MOST_LISTED = 1000

/** `['items', 1, 'count']` → `items[1].count`; a key with other signs than letters, digits, `_`, `-` stands in quotes. */
export function pathText(path: Path): string {
  let text = ''
  for (const step of path) {
    if (typeof step === 'number') text += `[${step}]`
    else if (/^[\p{L}\p{N}_-]+$/u.test(step)) text += text === '' ? step : `.${step}`
    else text += `[${snippet(step)}]`
  }
  return text
}

/** A value as it would stand in the file, cut to a readable length; `nothing` for a missing one. */
export function snippet(value: unknown): string {
  if (value === undefined) return got.nothing
  if (typeof value === 'number' && !Number.isFinite(value)) return got.tooLarge
  if (Array.isArray(value) && value.length > 12) return got.listOf(value.length)
  if (Array.isArray(value))
    return clip(`[${value.map((v) => (v === undefined ? got.nothing : snippet(v))).join(', ')}]`)
  if (typeof value === 'object' && value !== null) {
    const keys = Object.keys(value)
    return keys.length === 0 ? got.emptyObject : clip(got.objectWith(keys.slice(0, 8)))
  }
  // JSON quotes what could upset a terminal, all but U+007F–U+009F.
  return clip(typeof value === 'string' ? JSON.stringify(value.slice(0, 200)) : String(value))
}

// biome-ignore lint/suspicious/noControlCharactersInRegex: these are the ones to hide
const CONTROLS = /[\u0000-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]/g

/** One line, at most 120 signs, nothing that steers a terminal. */
export function clip(text: string, most = 120): string {
  const plain = text.replace(CONTROLS, '\ufffd')
  return plain.length > most ? `${plain.slice(0, most - 1)}…` : plain
}

/** The allowed word nearest to `word`, or undefined when none is near (about a third of its letters differ at most). */
export function nearest(word: string, allowed: Iterable<string>): string | undefined {
  let best: string | undefined
  let least = Math.min(Math.max(1, Math.floor(word.length / 3)) + 1, word.length)
  for (const candidate of allowed) {
    if (Math.abs(candidate.length - word.length) >= least || word.length > 60) continue
    const d = distance(word.toLowerCase(), candidate.toLowerCase())
    if (d < least) {
      least = d
      best = candidate
    }
  }
  return best
}

/** Edits from one word to another, with swapped neighbours as one (Damerau 1964, restricted form). */
function distance(a: string, b: string): number {
  let before: number[] = []
  let above = Array.from({ length: b.length + 1 }, (_, j) => j)
  for (let i = 1; i <= a.length; i++) {
    const row = [i]
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1]
      let d = Math.min(above[j]! + 1, row[j - 1]! + 1, above[j - 1]! + (same ? 0 : 1))
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) d = Math.min(d, before[j - 2]! + 1)
      row.push(d)
    }
    before = above
    above = row
  }
  return above[b.length]!
}

/** `one of "a", "b" (did you mean "a"?)`, the list cut where it would be long. */
export function oneOf(allowed: readonly string[], found?: unknown): string {
  if (allowed.length === 0) return wanted.nothingToName
  const shown = allowed.slice(0, 12).map((a) => JSON.stringify(a))
  const near = typeof found === 'string' && allowed.length > 1 ? nearest(found, allowed) : undefined
  const list = allowed.length === 1 ? shown[0]! : wanted.oneOf(shown, allowed.length - shown.length)
  return clip(list, 400) + (near === undefined ? '' : wanted.didYouMean(JSON.stringify(near)))
}

/** One line for people: `robot.json:12:5: items[1].count: found 0, expected a whole number from 1 to 200`. */
export function formatProblem(p: FileProblem): string {
  const at = p.line === undefined ? '' : `:${p.line}${p.column === undefined ? '' : `:${p.column}`}`
  return problemLine(`${clip(p.file, 400)}${at}`, p.path, p.found, p.expected)
}
