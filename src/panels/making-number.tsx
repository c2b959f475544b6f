/** A number as it is typed: what is no number, or out of range, is said and goes no further. */
import { useEffect, useId, useState } from 'react'

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
  const found = text.trim() === '' ? 'Nothing stands here' : `This is “${text.trim()}”`
  return `${found}; a ${whole ? 'whole ' : ''}number from ${least} to ${most} is needed.`
}

export function NumberField({
  label,
  value,
  range,
  onChange,
  onWrong,
}: {
  label: string
  value: number
  range: Range
  onChange: (value: number) => void
  /** Told whenever what stands in the field begins or ceases to be wrong. */
  onWrong?: (label: string, wrong: boolean) => void
}) {
  const [text, setText] = useState(String(value))
  const id = useId()
  // A value that comes from outside replaces what is typed, but `0.20` is not taken away from whoever types it.
  useEffect(() => setText((old) => (numberIn(old) === value ? old : String(value))), [value])
  const wrong = wrongWith(text, range)
  const isWrong = wrong !== undefined
  useEffect(() => {
    if (!isWrong) return
    onWrong?.(label, true)
    return () => onWrong?.(label, false)
  }, [isWrong, label, onWrong])
  return (
    <span className="number-field">
      <input
        inputMode="decimal"
        aria-label={label}
        aria-invalid={isWrong}
        aria-describedby={wrong ? id : undefined}
        value={text}
        onChange={(event) => {
          setText(event.target.value)
          const typed = numberIn(event.target.value)
          if (typed !== undefined && wrongWith(event.target.value, range) === undefined) onChange(typed)
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
