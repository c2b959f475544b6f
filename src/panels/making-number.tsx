/** A number as it is typed: what is no number, or out of range, is said and goes no further. */
import { useEffect, useId, useState } from 'react'
import { readLength } from '../model/lengths.ts'
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

/** What is wrong with a typed number, as a sentence; undefined where nothing is. */
export function wrongWith(text: string, { least, most, whole }: Range): string | undefined {
  const value = numberIn(text)
  if (value !== undefined && value >= least && value <= most && (!whole || Number.isInteger(value))) return undefined
  return words.making.numberWrong(text.trim(), whole ?? false, least, most)
}

/** Like `numberIn` for a length as people type it, in mm. */
export function lengthIn(text: string): number | undefined {
  const read = readLength(text)
  return read.ok ? read.mm : undefined
}

/** What is wrong with a typed length, as a sentence; undefined where nothing is. */
export function wrongLength(text: string, { least, most }: Range): string | undefined {
  const read = readLength(text, { least, most })
  return read.ok ? undefined : words.lengths.wrong(read.found, read.expected)
}

export function NumberField({
  label,
  value,
  range,
  length = false,
  onChange,
  onWrong,
}: {
  label: string
  value: number
  range: Range
  /** It is a length: mm, or whatever unit is typed behind it. */
  length?: boolean
  onChange: (value: number) => void
  /** Told whenever what stands in the field begins or ceases to be wrong. */
  onWrong?: (label: string, wrong: boolean) => void
}) {
  const [text, setText] = useState(String(value))
  const id = useId()
  // A value that comes from outside replaces what is typed, but `0.20` is not taken away from whoever types it.
  const parse = length ? lengthIn : numberIn
  useEffect(() => setText((old) => (parse(old) === value ? old : String(value))), [value, parse])
  const faultIn = length ? wrongLength : wrongWith
  const wrong = faultIn(text, range)
  const isWrong = wrong !== undefined
  useEffect(() => {
    if (!isWrong) return
    onWrong?.(label, true)
    return () => onWrong?.(label, false)
  }, [isWrong, label, onWrong])
  return (
    <span className="number-field">
      <input
        inputMode={length ? 'text' : 'decimal'}
        aria-label={label}
        aria-invalid={isWrong}
        aria-describedby={wrong ? id : undefined}
        value={text}
        onChange={(event) => {
          setText(event.target.value)
          const typed = parse(event.target.value)
          if (typed !== undefined && faultIn(event.target.value, range) === undefined) onChange(typed)
        }}
      />
      {wrong && (
        <span id={id} className="field-wrong" role="alert">
          {wrong}
        </span>
      )}
    </span>
  )
}
