/** What the list of wires says of each lead's length. */
import type { WireLength } from '../../solver/index.ts'
import { words } from '../words/index.ts'
import { cutMm, type Lead } from './leads.ts'
import { inMm } from './sentences.ts'

/** How long it is from end to end, and how long it has to be cut to lie as it has to; or that it cannot lie like this. */
export function leadSaid(length: WireLength, leads: readonly Lead[]): string {
  const t = words.parts.wires
  const lead = leads.find((l) => l.wire === length.wire)
  if (!lead || lead.way === 'barred') return t.barred(inMm(length.length))
  const cut = Math.max(lead.cut ?? 0, length.cut)
  const said =
    cut > length.cut + 50 ? t.laidRound(inMm(length.length), cutMm(cut)) : t.laid(inMm(length.length), cutMm(cut))
  return lead.spare !== undefined && lead.spare < 0 ? t.doesNotReach(said, inMm(cut + lead.spare)) : said
}
