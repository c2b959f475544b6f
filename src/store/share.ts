/** Structure that two values have in common, kept once: a history of hundreds of edits must not hold hundreds of whole copies. */
import type { Doc, Sheet } from './document.ts'

const isPlain = (value: object): boolean => {
  const proto: unknown = Object.getPrototypeOf(value)
  return proto === Object.prototype || proto === null
}

/**
 * A value equal to `next` in which every part that is equal to the part at the same place of `old` is that very part; `old`
 * itself where all is equal. Lists and plain objects are looked into, anything else is taken as it is. Fields count in their order,
 * so that the text written of the result is the text written of `next`. Neither is changed.
 */
export function share<T>(old: unknown, next: T): T {
  if (Object.is(old, next) || typeof old !== 'object' || typeof next !== 'object' || !old || !next) return next
  if (Array.isArray(next)) {
    if (!Array.isArray(old)) return next
    const mixed: unknown[] = next.map((value: unknown, i) => share(old[i], value))
    return (same(old, mixed) ? old : mixed) as T
  }
  if (Array.isArray(old) || !isPlain(next) || !isPlain(old)) return next
  const before = old as Record<string, unknown>
  const keys = Object.keys(next)
  const mixed = Object.fromEntries(
    keys.map((key) => {
      const value = (next as Record<string, unknown>)[key]
      return [key, Object.hasOwn(before, key) ? share(before[key], value) : value]
    }),
  )
  const names = Object.keys(before)
  const equal = names.length === keys.length && keys.every((k, i) => names[i] === k && Object.is(before[k], mixed[k]))
  return (equal ? old : mixed) as T
}

const same = (a: readonly unknown[], b: readonly unknown[]): boolean =>
  a.length === b.length && a.every((value, i) => Object.is(value, b[i]))

/** `next` with all that it has in common with `old`. A problem stays one of its own: what was said of it goes by its identity. */
export function sharedDoc(old: Doc, next: Doc): Doc {
  const sheets = next.sheets.map((sheet): Sheet => {
    const before = old.sheets.find((s) => s.variant === sheet.variant)?.problem
    if (!before) return sheet
    const problem = share(before, sheet.problem)
    return { ...sheet, problem: problem === before ? { ...before } : problem }
  })
  return { ...next, project: share(old.project, next.project), sheets }
}
