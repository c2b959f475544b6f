/** Texts, numbers without a unit and choices as the panels for parts use them, and sentences with such fields in them. */
import { type ReactNode, useId } from 'react'
import { NumberEntry, type Refusal, TypedField } from './length-field.tsx'
import type { Range } from './typed.ts'

interface TextProps {
  readonly label: string
  readonly value: string
  /** Takes it, or says why not. */
  readonly onChange: (text: string) => Refusal
  readonly unseenLabel?: boolean
  /** As wide as there is room. */
  readonly wide?: boolean
}

export function TextField({ label, value, onChange, unseenLabel = false, wide = false }: TextProps) {
  return (
    <span className={wide ? 'text-entry wide' : 'text-entry'}>
      <TypedField
        label={label}
        unseenLabel={unseenLabel}
        shown={value}
        wide
        onTake={(text) => (text.trim() === value ? undefined : onChange(text.trim()))}
      />
    </span>
  )
}

interface CountProps {
  readonly label: string
  /** Missing: an empty field. */
  readonly value: number | undefined
  readonly range: Range
  readonly onChange: (value: number) => Refusal
  /** The number may be left out. */
  readonly onEmpty?: () => Refusal
  readonly unseenLabel?: boolean
}

export const CountField = ({ unseenLabel = false, ...field }: CountProps) => (
  <NumberEntry {...field} unseenLabel={unseenLabel} unit="" />
)

export function Choice<T extends string>({
  label,
  value,
  options,
  onChange,
  unseenLabel,
}: {
  label: string
  value: T
  options: readonly (readonly [T, string])[]
  onChange: (value: T) => void
  unseenLabel?: boolean
}) {
  const id = useId()
  return (
    <span className="entry-field">
      <label htmlFor={id} className={unseenLabel ? 'unseen' : undefined}>
        {label}
      </label>
      <select id={id} value={value} onChange={(event) => onChange(event.target.value as T)}>
        {options.map(([name, said]) => (
          <option key={name} value={name}>
            {said}
          </option>
        ))}
      </select>
    </span>
  )
}

/** A sentence of the words with fields in it: `{name}` stands for the slot of that name. */
export function Sentence({ text, slots }: { text: string; slots: Readonly<Record<string, ReactNode>> }) {
  return (
    <span className="sentence">
      {text.split(/\{(\w+)\}/).map((piece, k) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: the pieces of a sentence have no other name
        <span key={k}>{k % 2 === 1 ? slots[piece] : piece}</span>
      ))}
    </span>
  )
}
