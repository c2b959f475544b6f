/** What items, exits and wires say of power, as it is typed field by field. Pure; amperes, volts, ohms, ampere-hours as in the files. */
import type { LoadFile, PowerFile } from '../../footprints/power-fields.ts'
import type { ProjectWire } from './schema.ts'

type Supply = NonNullable<PowerFile['supply']>
type Ends = NonNullable<ProjectWire['ends']>
export type EndKind = Ends[number]

/** Fields to set; one that is undefined is taken away. */
export type Fields<T> = { readonly [K in keyof T]?: T[K] | undefined }

const set = <T extends object>(whole: T | undefined, fields: Fields<T>): T =>
  Object.fromEntries(Object.entries({ ...whole, ...fields }).filter(([, value]) => value !== undefined)) as T

const sameFields = (a: object, b: object): boolean => {
  const list = (value: object): string => JSON.stringify(Object.entries(value).sort(([p], [q]) => (p < q ? -1 : 1)))
  return list(a) === list(b)
}

/** Undefined where nothing is left of it. */
export function loadWith(load: LoadFile | undefined, fields: Fields<LoadFile>): LoadFile | undefined {
  const next = set(load, fields)
  return Object.keys(next).length > 0 ? next : undefined
}

/**
 * An item's own `power` after one of its groups was typed into. `usual` is what its footprint says: a group replaces that of the
 * footprint as a whole, so it begins with what stands there, and goes again where it says no more. A supply without volts is none.
 */
export function powerWith(
  own: PowerFile | undefined,
  usual: PowerFile | undefined,
  change: { readonly load: Fields<LoadFile> } | { readonly supply: Fields<Supply> },
): PowerFile | undefined {
  const group = 'load' in change ? 'load' : 'supply'
  const fields = 'load' in change ? change.load : change.supply
  const { [group]: before, ...rest } = own ?? {}
  const next = set<object>(before ?? usual?.[group], fields)
  const none = group === 'supply' ? !('volts' in next) : Object.keys(next).length === 0 && !usual?.load
  const idle = none || sameFields(next, usual?.[group] ?? {})
  const all = idle ? rest : { ...rest, [group]: next }
  return Object.keys(all).length > 0 ? (all as PowerFile) : undefined
}

/** How both ends of a wire are fixed, after one of them was said; a file says both or none, so the other is a contact until it is said too. */
export function endsWith(ends: Ends | undefined, which: 0 | 1, kind: EndKind | undefined): Ends | undefined {
  if (kind === undefined) return undefined
  return which === 0 ? [kind, ends?.[1] ?? 'contact'] : [ends?.[0] ?? 'contact', kind]
}
