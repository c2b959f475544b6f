/**
 * A field for one length: mm, cm or inches, decimals or fractions, as readLength takes them. What is typed counts when the field is
 * left or Enter is pressed, so that one number is one step of history; Escape takes it back. A wrong one is said and goes no further.
 */
import { type KeyboardEvent, useEffect, useId, useState } from 'react'
import { type LengthLimits, lengthText, readLength } from '../model/lengths.ts'
import { words } from '../words/index.ts'
import './length-field.css'

/** Text or nothing: why the number cannot be taken, as a sentence. */
export type Refusal = string | undefined

interface Props {
  readonly label: string
  /** mm; missing: an empty field. */
  readonly value: number | undefined
  /** mm; missing: whatever a file allows. */
  readonly limits?: LengthLimits
  /** Called with mm, only when the value is another one. */
  readonly onChange: (value: number) => Refusal
  /** The number may be left out; called when the field was emptied. */
  readonly onEmpty?: () => Refusal
  /** The label is read out, but something else beside the field shows it. */
  readonly unseenLabel?: boolean
  readonly disabled?: boolean
}

export function LengthField({ label, value, limits, onChange, onEmpty, unseenLabel, disabled }: Props) {
  const shown = value === undefined ? '' : lengthText(value)
  const [text, setText] = useState(shown)
  const [refused, setRefused] = useState<Refusal>()
  const id = useId()
  const wrongId = useId()
  // What comes from outside (an undo, a drag) replaces what stands here.
  useEffect(() => {
    setText(shown)
    setRefused(undefined)
  }, [shown])
  const typed = text !== shown
  const read = typed && text.trim() !== '' ? readLength(text, limits) : undefined
  const means = read?.ok && read.unitTyped && read.unit !== 'mm' ? words.lengths.means(lengthText(read.mm)) : undefined
  const back = (): void => {
    setText(shown)
    setRefused(undefined)
  }
  const take = (): void => {
    if (!typed) return
    if (text.trim() === '' && onEmpty) {
      setRefused(value === undefined ? undefined : onEmpty())
      return
    }
    const now = readLength(text, limits)
    if (!now.ok) {
      setRefused(words.lengths.wrong(now.found, now.expected))
      return
    }
    // The same length, otherwise typed: shown as the field shows it.
    if (value !== undefined && lengthText(value) === lengthText(now.mm)) back()
    else setRefused(onChange(now.mm))
  }
  const press = (event: KeyboardEvent): void => {
    if (event.key === 'Enter') {
      // A form around it may send itself with the number as it is now.
      take()
    } else if (event.key === 'Escape' && typed) {
      // The field's own: a dialog around it stays open.
      event.preventDefault()
      event.stopPropagation()
      back()
    }
  }
  const note = refused ?? means
  return (
    <span className="length-field">
      <label htmlFor={id} className={unseenLabel ? 'unseen' : undefined}>
        {label}
      </label>
      <span className="length-entry">
        <input
          id={id}
          inputMode="text"
          autoComplete="off"
          spellCheck={false}
          value={text}
          disabled={disabled}
          // Ctrl-Z is the field's while something unfinished stands in it, and the document's otherwise.
          data-typed={typed || undefined}
          aria-invalid={refused !== undefined}
          aria-describedby={note ? wrongId : undefined}
          onChange={(event) => {
            setText(event.target.value)
            setRefused(undefined)
          }}
          onKeyDown={press}
          onBlur={take}
        />
        <span className="length-unit" aria-hidden="true">
          {words.lengths.unit}
        </span>
      </span>
      {note && (
        <span id={wrongId} className={refused ? 'field-wrong' : 'quiet'} role={refused ? 'alert' : undefined}>
          {note}
        </span>
      )}
    </span>
  )
}
