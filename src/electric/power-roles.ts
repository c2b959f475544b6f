/** What the files say of parts and leads beside their terminals: fuses, switches and packs, and which way a lead is of its supply. */
import type { PowerFile } from '../../footprints/power-fields.ts'
import type { Body, Problem, Wire, WireEnd } from '../../solver/index.ts'
import type { Project } from '../model/index.ts'
import type { Volt } from '../model/quantities.ts'
import { baseOf } from '../model/variants.ts'
import type { Roles } from './conductors.ts'
import { type Pad, padsOf } from './netlist-pads.ts'
import { GIVES, TAKES } from './pins-kinds.ts'
import type { Path } from './pins-leads.ts'

/** A placed item that may have to do with power. */
export interface Part {
  /** Index of the item. */
  readonly item: number
  readonly body: Body
  readonly power: PowerFile
}

export const idOf = (p: Part): string => p.body.item.id

export function rolesOf(
  parts: readonly Part[],
  paths: ReadonlyMap<string, Path>,
  files: NonNullable<Project['wires']>,
): Roles {
  return {
    protects: new Map(
      parts.flatMap((part) => {
        const what = protectionBy(part)
        return what ? [[part.item, what] as const] : []
      }),
    ),
    packs: new Set(parts.filter(isPack).map((p) => p.item)),
    paths: new Map(
      files.flatMap(({ id, supply }) => {
        const path = paths.get(id)
        return supply === undefined || path === undefined ? [] : [[id, path] as const]
      }),
    ),
    supplies: new Map(files.flatMap(({ id, supply }) => (supply === undefined ? [] : [[id, `${supply}`] as const]))),
  }
}

/** By what it says it is; else a part that only joins what is at it, and keeps room for the hand that switches, is a switch. */
function protectionBy({ power, body }: Part): 'fuse' | 'switch' | undefined {
  if (power.part === 'fuse' || power.part === 'switch') return power.part
  const says = power.part ?? power.supply ?? power.output ?? power.load
  const joins = padsOf(body.item.footprint).every((p) => (p.kind ?? 'passive') === 'passive')
  return says === undefined && joins && hasSwitch(body) ? 'switch' : undefined
}

const hasSwitch = ({ item }: Body): boolean => item.footprint.corridors.some((c) => c.access === 'switch')

/** What a hand can turn off, by what it says it is or by the room that it keeps for the hand. */
export const isSwitch = ({ power, body }: Part): boolean => power.part === 'switch' || hasSwitch(body)

/** What gives power from cells, as far as anything says so. */
export const isPack = ({ power, body }: Part): boolean =>
  power.supply !== undefined || (body.item.footprint.kind === 'pack' && !power.output)

/** What makes its volts from another supply's; a pack that makes its own is the pack that it is. */
export const isRegulator = (part: Part): boolean =>
  !isPack(part) && (part.power.output !== undefined || part.power.part === 'regulator')

/** With nothing drawn; nothing of what has no cells, or does not say. */
export const cellVolts = ({ power: { supply } }: Part): Volt | undefined => supply && (supply.cells ?? 1) * supply.volts

/** What the file says of leads, each supply by the id that its item has: `pack#1` may stand for the only pack. */
export function suppliedById(problem: Problem, files: NonNullable<Project['wires']>): NonNullable<Project['wires']> {
  const ids = new Set(problem.items.map((i) => i.id))
  return files.map((w) => {
    const only = typeof w.supply === 'string' && w.supply.endsWith('#1') ? baseOf(w.supply) : undefined
    return only !== undefined && ids.has(only) ? { ...w, supply: only } : w
  })
}

export function padAt(problem: Problem, end: WireEnd): Pad | undefined {
  const f = end.kind === 'item' ? problem.items[end.ref.items[0] ?? -1]?.footprint : undefined
  return end.kind === 'exit' || !f ? undefined : padsOf(f).find((p) => p.ids.includes(end.terminal))
}

/**
 * What the file says, else: a lead of one conductor that ends on a return is the way back, and where a supply has such a lead, one
 * of its leads of one conductor that ends on plus is the way out. Two single wires taken for two pairs would lose half as much. From the
 * plus of one pack to the minus of the next it is the way back of the second alone.
 */
export function pathsOf(problem: Problem, files: NonNullable<Project['wires']>): Map<string, Path> {
  const said = new Map(files.map((w) => [w.id, w]))
  const kinds = (wire: Wire) => [wire.from, wire.to].map((end) => padAt(problem, end)?.kind)
  const isBack = (wire: Wire) => {
    const { path, supply } = said.get(wire.id) ?? {}
    if (path !== undefined || wire.conductors !== 1) return path === 'back'
    const returns = [wire.from, wire.to].filter((end) => padAt(problem, end)?.kind === 'return')
    const isOwn = returns.some((end) => end.kind === 'item' && end.ref.name === supply)
    return returns.length > 0 && (isOwn || !kinds(wire).some((kind) => kind && GIVES.includes(kind)))
  }
  const leadsBack = new Set(problem.wires.filter(isBack).map((w) => said.get(w.id)?.supply))
  return new Map(
    problem.wires.map((wire): [string, Path] => {
      const file = said.get(wire.id)
      if (file?.path !== undefined) return [wire.id, file.path]
      if (isBack(wire)) return [wire.id, 'back']
      const single = wire.conductors === 1 && leadsBack.has(file?.supply)
      return [wire.id, single && kinds(wire).some((k) => k && [...GIVES, ...TAKES].includes(k)) ? 'out' : 'pair']
    }),
  )
}
