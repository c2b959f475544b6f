/** Packs in series: which of them stand on which. */
import type { Conductors } from './conductors.ts'
import type { LeadEnd } from './pins-leads.ts'

/** The plus of each pack under this one, the lowest first; none under a pack whose return is led to no other's plus. */
export function packsUnder({ middles, places }: Conductors, item: number): readonly LeadEnd[] {
  const under: LeadEnd[] = []
  const seen = new Set([item])
  for (let top = item; ; ) {
    const plus = [...middles].find(([node]) => (places.get(node) as LeadEnd).item === top)?.[1]
    if (!plus || seen.has(plus.item)) return under
    seen.add(plus.item)
    under.unshift(plus)
    top = plus.item
  }
}
