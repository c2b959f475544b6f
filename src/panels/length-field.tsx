/**
 * Fields whose text counts when they are left or Enter is pressed, so that one number is one step of history; Escape takes back what is
 * being typed. What is wrong is said by the field and goes no further. Lengths are taken as readLength takes them.
 */
import { type KeyboardEvent, useId, useState } from 'react'
import { type LengthLimits, lengthText, readLength } from '../model/lengths.ts'
import { words } from '../words/index.ts'
import { numberIn, type Range, wrongLength, wrongNumber } from './typed.ts'
import './length-field.css'

/** Text or nothing: why it cannot be taken, as a sentence. */
export type Refusal = string | undefined

interface FieldProps {
  readonly label: string
  /** The label is read out, but something else beside the field shows it. */
  readonly unseenLabel?: boolean
  readonly disabled?: boolean
}

interface TypedProps extends FieldProps {
  /** What stands in the field while nobody types. */
  readonly shown: string
  readonly unit?: string
  /** What was typed, when it differs from `shown`. */
  readonly onTake: (text: string) => Refusal
  /** Said beside the field while it is typed. */
  readonly hint?: (text: string) => string | undefined
  readonly wide?: boolean
}

/** The field under all others here. */
export function TypedField({ label, unseenLabel, disabled, shown, unit, onTake, hint, wide }: TypedProps) {
  // Bound to what it was typed over: what comes from outside (an undo, a drag) replaces it, and at once, with no render between.
  const [draft, setDraft] = useState<{ readonly text: string; readonly over: string; readonly refused?: Refusal }>()
  const { text, refused } = draft?.over === shown ? draft : { text: shown, refused: undefined }
  const id = useId()
  const noteId = useId()
  const typed = text !== shown
  const back = (): void => setDraft(undefined)
  const take = (): void => {
    if (!typed) return
    const why = onTake(text)
    if (why === undefined) back()
    else setDraft({ text, over: shown, refused: why })
  }
  const press = (event: KeyboardEvent): void => {
    if (event.key === 'Enter') take()
    else if (event.key === 'Escape' && typed) {
      // The field's own: a dialog around it stays open.
      event.preventDefault()
      event.stopPropagation()
      back()
    }
  }
  const note = refused ?? (typed ? hint?.(text) : undefined)
  return (
    <span className="length-field">
      <label htmlFor={id} className={unseenLabel ? 'unseen' : undefined}>
        {label}
      </label>
      <span className="length-entry">
        <input
          id={id}
          className={wide ? 'wide' : undefined}
          autoComplete="off"
          spellCheck={false}
          value={text}
          disabled={disabled}
          // Ctrl-Z is the field's while something unfinished stands in it, and the document's otherwise.
          data-typed={typed || undefined}
          aria-invalid={refused !== undefined}
          aria-describedby={note ? noteId : undefined}
          onChange={(event) => setDraft({ text: event.target.value, over: shown })}
          onKeyDown={press}
          onBlur={take}
        />
        {unit && (
          <span className="length-unit" aria-hidden="true">
            {unit}
          </span>
        )}
      </span>
      {note && (
        <span id={noteId} className={refused ? 'field-wrong' : 'length-hint'} role={refused ? 'alert' : undefined}>
          {note}
        </span>
      )}
    </span>
  )
}

interface LengthProps extends FieldProps {
  /** mm; missing: an empty field. */
  readonly value: number | undefined
  /** mm; missing: whatever a file allows. */
  readonly limits?: LengthLimits
  /** Called with mm, only when the value is another one. */
  readonly onChange: (value: number) => Refusal
  /** The number may be left out; called when the field was emptied. */
  readonly onEmpty?: () => Refusal
}

export function LengthField({ value, limits, onChange, onEmpty, ...field }: LengthProps) {
  const shown = value === undefined ? '' : lengthText(value)
  return (
    <TypedField
      {...field}
      shown={shown}
      unit={words.lengths.unit}
      hint={(text) => {
        const read = readLength(text, limits)
        return read.ok && read.unitTyped && read.unit !== 'mm' ? words.lengths.means(lengthText(read.mm)) : undefined
      }}
      onTake={(text) => {
        if (text.trim() === '' && onEmpty) return onEmpty()
        const read = readLength(text, limits)
        if (!read.ok) return wrongLength(text, limits)
        // The same length, otherwise typed, is no change.
        return lengthText(read.mm) === shown ? undefined : onChange(read.mm)
      }}
    />
  )
}

interface NumberProps extends FieldProps {
  readonly value: number | undefined
  readonly unit: string
  readonly range: Range
  readonly onChange: (value: number) => Refusal
  readonly onEmpty?: () => Refusal
}

/** Any other number: grams, degrees, pixels. */
export function NumberEntry({ value, unit, range, onChange, onEmpty, ...field }: NumberProps) {
  return (
    <TypedField
      {...field}
      shown={value === undefined ? '' : String(value)}
      unit={unit}
      onTake={(text) => {
        if (text.trim() === '' && onEmpty) return onEmpty()
        const typed = numberIn(text)
        const wrong = wrongNumber(text, range)
        return wrong !== undefined || typed === undefined || typed === value ? wrong : onChange(typed)
      }}
    />
  )
}

/** A name or a note. */
export function TextEntry({
  value,
  onChange,
  ...field
}: FieldProps & { readonly value: string; readonly onChange: (value: string) => Refusal }) {
  return (
    <TypedField
      {...field}
      wide
      shown={value}
      onTake={(text) => (text.trim() === value ? undefined : onChange(text.trim()))}
    />
  )
}
