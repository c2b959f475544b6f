/** Parts that take two supplies apart: a driver's own, which its `load` speaks of, and its motors', which a terminal of it speaks of. */
import type { LoadFile } from '../../footprints/power-fields.ts'
import { padsOf } from './netlist-pads.ts'
import { TAKES } from './pins-kinds.ts'
import type { Domain, PowerModel } from './power-model.ts'

/** Volts that the terminals of such a part take to which leads of this supply go; nothing for other parts, or where none says. */
export function sideOf(model: PowerModel, domain: Domain, node: number): Pick<LoadFile, 'min' | 'max'> | undefined {
  const f = model.layout.problem.items[node]?.footprint
  const kinds = new Set(f && padsOf(f).flatMap((p) => (p.kind && TAKES.includes(p.kind) ? [p.kind] : [])))
  if (kinds.size < 2) return undefined
  const fed = domain.leads.flatMap((lead) => (lead.a === node ? lead.ends[0] : lead.b === node ? lead.ends[1] : []))
  const taking = fed.flatMap((p) => (p?.kind && TAKES.includes(p.kind) && p.volts ? [p.volts] : []))
  if (taking.length === 0) return undefined
  return { min: Math.max(...taking.map((v) => v[0])), max: Math.min(...taking.map((v) => v[1])) }
}
