/** Differences of figures as the words take them: whole numbers, and millimetres without a sign. */

import type { Figures } from '../../solver/index.ts'
import { type Against, against } from '../store/compare.ts'
import { inMm } from '../store/sentences.ts'

/** Lengths that look the same on the card are the same. */
function length(um: number | undefined, text: (um: number) => string): { mm: string; more: boolean } | undefined {
  if (um === undefined) return undefined
  const mm = text(Math.abs(um))
  return mm === '0' ? undefined : { mm, more: um > 0 }
}

const rounded = (value: number): number => Math.round(value * 100) / 100

export function differenceOf(mine: Figures, other: Figures) {
  const a: Against = against(mine, other)
  return {
    contacts: a.contacts,
    value: rounded(a.value),
    wire: length(a.wire, (um) => String(Math.round(um / 1000))),
    balance: length(a.balance, inMm),
  }
}

/** They look the same, figure by figure. */
export const looksSame = (mine: Figures, other: Figures): boolean => {
  const { contacts, value, wire, balance } = differenceOf(mine, other)
  return contacts === 0 && value === 0 && !wire && !balance
}
