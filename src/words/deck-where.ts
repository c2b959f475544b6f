/** In which variants a change of a deck holds, in the deck workshop. */
import { listed } from './listed.ts'

const FIELDS = {
  outline: 'outline',
  openings: 'openings',
  holes: 'holes',
  z: 'height',
  thickness: 'thickness',
  material: 'material',
  name: 'name',
} as const
type Field = keyof typeof FIELDS

const named = (variant: string): string => `“${variant}”`
const own = (variants: readonly string[]): string => (variants.length === 1 ? 'has its own' : 'have their own')

export const deckWhere = {
  variant: 'Variant',
  option: (id: string, name: string): string => `${id}, ${name}`,
  only: 'Change it in this variant only',
  everywhere: (others: boolean): string => `What you change here holds in all ${others ? 'other ' : ''}variants.`,
  /** `but`: variants that have their own; ids. */
  holds: (fields: readonly Field[], variant: string, here: boolean, but: readonly string[]): string => {
    const what = `Changes of its ${listed(fields.map((f) => FIELDS[f]))} hold in`
    if (here) return `${what} ${named(variant)} alone.`
    return but.length === 0
      ? `${what} all variants.`
      : `${what} all variants but ${listed(but.map(named))}, which ${own(but)}.`
  },
  others: 'Leads, passes and zones are the same in all variants.',
  again: (fields: readonly Field[]): string => `Take ${listed(fields.map((f) => FIELDS[f]))} as in all variants again`,
  leaveOut: (variant: string): string => `Leave this deck out of ${named(variant)}`,
  takeBack: (variant: string): string => `Have this deck in ${named(variant)} again`,
  leftOut: (variants: readonly string[]): string =>
    `${listed(variants.map(named))} ${variants.length === 1 ? 'leaves' : 'leave'} this deck out.`,
  notIn: (name: string): string => `${name} (left out)`,
}
