/** A number that counts while it is typed, so that what is made by it is seen at once; what is wrong is said and goes no further. */
import { useEffect, useId, useState } from 'react'
import { RefusedField } from './refused.tsx'
import { lengthIn, numberIn, type Range, wrongLength, wrongNumber } from './typed.ts'

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
  const faultIn = length ? wrongLength : wrongNumber
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
      <RefusedField id={id}>{wrong}</RefusedField>
    </span>
  )
}
