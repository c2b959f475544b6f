/** Numbers and lengths as they are typed into the fields of the page, and what is wrong with one, as a sentence. */
import { type LengthLimits, readLength } from '../model/lengths.ts'
import { words } from '../words/index.ts'

/** `12,5` and `12.5`; undefined for what is no number. */
export function numberIn(text: string): number | undefined {
  const parts = /^\s*[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)\s*$/.exec(text)
  return parts ? Number(text.replace(',', '.')) : undefined
}

export interface Range {
  readonly least: number
  readonly most: number
  readonly whole?: boolean
}

/** What is wrong with a typed number; undefined where nothing is. */
export function wrongNumber(text: string, { least, most, whole = false }: Range): string | undefined {
  const value = numberIn(text)
  if (value !== undefined && value >= least && value <= most && (!whole || Number.isInteger(value))) return undefined
  return words.lengths.wrongNumber(text.trim(), least, most, whole)
}

/** Like `numberIn` for a length as people type it, in mm. */
export function lengthIn(text: string): number | undefined {
  const read = readLength(text)
  return read.ok ? read.mm : undefined
}

/** What is wrong with a typed length; undefined where nothing is. */
export function wrongLength(text: string, limits?: LengthLimits): string | undefined {
  const read = readLength(text, limits)
  return read.ok ? undefined : words.lengths.wrong(text.trim() === '' ? undefined : read.found, read.expected)
}
