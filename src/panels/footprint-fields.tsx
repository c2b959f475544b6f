/** Fields of a draft part by their path in the file, each with what is wrong beside it, and lists of such fields. */
import type { ReactNode } from 'react'
import type { Path } from '../../footprints/problems.ts'
import { words } from '../words/index.ts'
import { Choice, CountField, TextField } from './entry-field.tsx'
import { rowCalled } from './footprint-called.ts'
import { useDraft } from './footprint-draft.ts'
import { LengthField } from './length-field.tsx'

/** Whatever stands at a path of the draft. */
export function valueAt(whole: unknown, path: Path): unknown {
  let value = whole
  for (const step of path)
    value = typeof value === 'object' && value !== null ? (value as Record<string | number, unknown>)[step] : undefined
  return value
}

/** What is wrong with the field at a path, beside it. */
export function Wrong({ path }: { path: Path }) {
  const wrong = useDraft().wrong(path)
  return wrong === undefined ? null : <span className="field-wrong">{wrong}</span>
}

interface FieldProps {
  readonly path: Path
  readonly label: string
  readonly unseenLabel?: boolean
  /** What it means when the file says nothing. */
  readonly idle?: number
  /** The field may be left out, and is when it is emptied. */
  readonly optional?: boolean
}

/** A length; `size`: more than nothing. */
export function Mm({
  path,
  label,
  idle,
  optional,
  least = -10_000,
  unseenLabel = false,
}: FieldProps & { least?: number }) {
  const { footprint, set } = useDraft()
  const value = valueAt(footprint, path)
  return (
    <span className="bench-field">
      <LengthField
        label={label}
        unseenLabel={unseenLabel}
        value={typeof value === 'number' ? value : idle}
        limits={{ least, most: 10_000 }}
        onChange={(mm) => set(path, mm)}
        {...(optional ? { onEmpty: () => set(path, undefined) } : {})}
      />
      <Wrong path={path} />
    </span>
  )
}

export function Count({
  path,
  label,
  idle,
  optional,
  least,
  most,
  whole = false,
  unseenLabel = false,
}: FieldProps & { least: number; most: number; whole?: boolean }) {
  const { footprint, set } = useDraft()
  const value = valueAt(footprint, path)
  return (
    <span className="bench-field">
      <CountField
        label={label}
        unseenLabel={unseenLabel}
        value={typeof value === 'number' ? value : idle}
        range={{ least, most, whole }}
        onChange={(n) => set(path, n)}
        {...(optional ? { onEmpty: () => set(path, undefined) } : {})}
      />
      <Wrong path={path} />
    </span>
  )
}

export function Text({ path, label, unseenLabel = false, wide = false }: FieldProps & { wide?: boolean }) {
  const { footprint, set } = useDraft()
  const value = valueAt(footprint, path)
  return (
    <span className={wide ? 'bench-field wide' : 'bench-field'}>
      <TextField
        label={label}
        unseenLabel={unseenLabel}
        wide={wide}
        value={typeof value === 'string' ? value : ''}
        // An id is never left out; any other text may be.
        onChange={(text) => set(path, text === '' && path.at(-1) !== 'id' ? undefined : text)}
      />
      <Wrong path={path} />
    </span>
  )
}

/** One of a few; the option '' leaves the field out. */
export function Pick<T extends string>({
  path,
  label,
  options,
  unseenLabel = false,
}: FieldProps & { options: readonly (readonly [T, string])[] }) {
  const { footprint, set } = useDraft()
  return (
    <span className="bench-field">
      <Choice
        label={label}
        unseenLabel={unseenLabel}
        value={String(valueAt(footprint, path) ?? '') as T}
        options={options}
        onChange={(value) => set(path, value === '' ? undefined : value)}
      />
      <Wrong path={path} />
    </span>
  )
}

export function Tick({ label, on, onChange }: { label: string; on: boolean; onChange: (on: boolean) => void }) {
  return (
    <label className="tick">
      <input type="checkbox" checked={on} onChange={(event) => onChange(event.target.checked)} />
      {label}
    </label>
  )
}

/** A yes that stands in the file as `true`, a no as nothing. */
export function Flag({ path, label }: { path: Path; label: string }) {
  const { footprint, set } = useDraft()
  return (
    <Tick label={label} on={valueAt(footprint, path) === true} onChange={(on) => set(path, on ? true : undefined)} />
  )
}

/** What a part may have as a whole: a tick, and under it what is to be said of it. `fresh` is what it begins with. */
export function Having({
  path,
  label,
  fresh,
  children,
}: {
  path: Path
  label: string
  fresh: unknown
  children: ReactNode
}) {
  const { footprint, set } = useDraft()
  const there = valueAt(footprint, path) !== undefined
  return (
    <div className="bench-having">
      <Tick label={label} on={there} onChange={(on) => set(path, on ? fresh : undefined)} />
      {there && children}
    </div>
  )
}

export function Group({ title, children }: { title: string; children: ReactNode }) {
  return (
    <fieldset className="bench-group">
      <legend>{title}</legend>
      {children}
    </fieldset>
  )
}

/** A list in the draft, one line an entry; `one` names an entry, `fresh` makes the next. */
export function Rows<T>({
  path,
  one,
  fresh,
  onRemove,
  children,
}: {
  path: Path
  one: string
  fresh: (all: readonly T[]) => T
  /** In place of only taking the entry away. */
  onRemove?: (index: number) => void
  children: (entry: T, at: Path) => ReactNode
}) {
  const { footprint, set } = useDraft()
  const t = words.footprint
  const all = (valueAt(footprint, path) ?? []) as readonly T[]
  return (
    <>
      <ul className="bench-rows">
        {all.map((entry, k) => {
          const name = rowCalled(one, entry, k)
          return (
            // biome-ignore lint/suspicious/noArrayIndexKey: an id may be typed anew, and the field must keep its focus
            <li key={k}>
              <fieldset>
                <legend>{name}</legend>
                {children(entry, [...path, k])}
                <button
                  type="button"
                  className="small"
                  aria-label={t.removeOf(name)}
                  onClick={() => (onRemove ? onRemove(k) : set([...path, k], undefined))}
                >
                  {t.remove}
                </button>
              </fieldset>
            </li>
          )
        })}
      </ul>
      <button type="button" onClick={() => set([...path, all.length], fresh(all))}>
        {t.add(one)}
      </button>
    </>
  )
}

/** `t3` where three ids of that kind are taken. */
export function nextId(all: readonly { id: string }[], letter: string): string {
  const taken = new Set(all.map((e) => e.id))
  for (let k = 1; ; k++) if (!taken.has(`${letter}${k}`)) return `${letter}${k}`
}
