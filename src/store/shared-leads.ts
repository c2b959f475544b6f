/** The leads of a layout, worked out once for plan and 3D view together. */
import type { Placement } from '../../solver/index.ts'
import type { Project } from '../model/index.ts'
import { type Lead, routedLeads, straightLeads, wiringFor } from './leads.ts'
import type { View } from './view.ts'

interface Known {
  readonly view: Pick<View, 'problem' | 'figures'>
  readonly project: Project | undefined
  readonly variant: string
  readonly carrying: boolean
  readonly leads: readonly Lead[]
}

const seen = new WeakMap<readonly Placement[], Known>()

/** `carrying`: something is on its way, so that they run straight. */
export function leadsOf(view: View, project: Project | undefined, carrying: boolean): readonly Lead[] {
  const { problem, placements, figures, sheet } = view
  const { variant } = sheet
  const old = seen.get(placements)
  if (
    old &&
    old.view.problem === problem &&
    old.view.figures === figures &&
    old.project === project &&
    old.variant === variant &&
    old.carrying === carrying
  )
    return old.leads
  const leads = (carrying ? straightLeads : routedLeads)(problem, placements, wiringFor(project, variant), figures)
  seen.set(placements, { view: { problem, figures }, project, variant, carrying, leads })
  return leads
}
