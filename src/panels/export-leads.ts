/** How leads lie in the layouts of an export: what is cut by straight lengths may be too short. On the thread that writes files. */
import type { Placement, Problem } from '../../solver/index.ts'
import { laidLeads } from '../electric/cuts.ts'
import type { OtherLayout } from '../export/tables.ts'
import type { LaidLead } from '../model/laid-lead.ts'
import type { Asked } from './export-files.ts'

/** Of the layout, and of the other variants' beside it; none where it was not sent how leads are laid. */
export function laidIn({ view, others, wiring }: Asked): {
  readonly laid?: readonly LaidLead[]
  readonly others: readonly OtherLayout[]
} {
  const leads = (variant: string, of: { problem: Problem; placements: readonly Placement[] }) => {
    const how = wiring?.get(variant)
    return how ? { laid: laidLeads(of.problem, of.placements, how) } : {}
  }
  return { ...leads(view.sheet.variant, view), others: others.map((o) => ({ ...o, ...leads(o.id, o) })) }
}
