/**
 * What flows where: each supply at idle, running and with every motor stalled. Volts at a load are the cells' less what their
 * own resistance takes, less what both conductors of every lead take (Kirchhoff). Amperes, volts, ohms, hours.
 */

import type { LoadFile } from '../../footprints/power-fields.ts'
import type { TerminalKind } from '../../solver/index.ts'
import type { Amp, Hour, Volt, Watt } from '../model/quantities.ts'
import { PLUS } from './conductors.ts'
import { type Pad, padsOf } from './netlist-pads.ts'
import type { Domain, Lead, PowerModel } from './power-model.ts'
import { type Flow, flowOf, through } from './power-network.ts'
import { idOf } from './power-roles.ts'
import { sideOf } from './power-sides.ts'

export const STATES = ['idle', 'running', 'stall'] as const
export type State = (typeof STATES)[number]

export interface LoadState {
  readonly node: number
  readonly name: string
  readonly amps: Amp
  /** At the load itself, return included. */
  readonly volts: Volt
  readonly load: LoadFile
  /** No lead of the supply leads back: the way back is taken to be like the way out. */
  readonly returnAssumed: boolean
}

export interface LeadState {
  readonly lead: Lead
  readonly amps: Amp
  /** Lost in its conductors. */
  readonly drop: Volt
}

export interface SupplyState {
  readonly amps: Amp
  /** At the supply's own terminals. */
  readonly volts: Volt
  readonly loads: readonly LoadState[]
  readonly leads: readonly LeadState[]
  /** By node: what flows through it, on its way out or, where that is more, on its way back. */
  readonly through: readonly Amp[]
  /** Regulators that it feeds: volts at their input, what they turn into heat, and whether it can give them the power that they ask for. */
  readonly regulators: readonly {
    readonly item: number
    readonly volts: Volt
    readonly watts: Watt
    readonly linear: boolean
    readonly fed: boolean
  }[]
}

export interface SupplySeen {
  readonly domain: Domain
  readonly name: string
  readonly states: Readonly<Record<State, SupplyState>>
  /** Until the cells' capacity is used up; missing where it is not known or nothing is drawn. */
  readonly hours: { readonly idle?: Hour; readonly running?: Hour }
}

/** What a load draws in a state; what is not given is as in the state before it, or else the next. */
export function drawn(load: LoadFile, state: State): Amp {
  switch (state) {
    case 'idle':
      return load.idle ?? load.running ?? 0
    case 'running':
      return load.running ?? load.idle ?? 0
    case 'stall':
      return load.stall ?? load.running ?? load.idle ?? 0
  }
}

/**
 * All supplies. A load that two supplies reach (a driver: logic and motors) draws from the one made by a regulator, or else
 * from the one of fewer volts. A linear regulator draws what it gives; one with an efficiency draws the power over it, and what it
 * gives where its supply has not that power.
 */
export function suppliesOf(model: PowerModel): SupplySeen[] {
  const reached = new Map(model.domains.map((d) => [d, flows(model, d, [])]))
  const preferred = [...model.domains].sort(
    (a, b) => Number(!a.source.power.output) - Number(!b.source.power.output) || a.volts - b.volts,
  )
  const nodes = [
    ...model.parts.flatMap((p) => (p.power.load ? [{ node: p.item, load: p.power.load }] : [])),
    ...model.exits.map(({ node, load }) => ({ node, load })),
  ]
  const loads = new Map<Domain, typeof nodes>()
  for (const n of nodes) {
    const domain = preferred.find((d) => n.node !== d.source.item && reached.get(d)!.out.drop[n.node] !== undefined)
    if (domain) loads.set(domain, [...(loads.get(domain) ?? []), n])
  }
  // what a driver itself draws is drawn once; volts are looked at on its motors' side too
  for (const d of model.domains)
    for (const { item } of model.parts) {
      const mine = loads.get(d) ?? []
      if (item === d.source.item || mine.some((n) => n.node === item) || !sideOf(model, d, item)) continue
      if (reached.get(d)!.out.drop[item] !== undefined) loads.set(d, [...mine, { node: item, load: {} }])
    }
  const feeder = (child: Domain) =>
    child.source.power.output &&
    preferred.find((d) => d !== child && reached.get(d)!.out.drop[child.source.item] !== undefined)
  const states = new Map<Domain, Record<State, SupplyState>>()
  const solved = (d: Domain, above: readonly Domain[]): Record<State, SupplyState> => {
    const known = states.get(d)
    if (known) return known
    // a ring of regulators feeds nobody: the one asked again is left out
    const children = model.domains.filter((c) => !above.includes(c) && c !== d && feeder(c) === d)
    const at = (state: State) =>
      stateOf(
        model,
        d,
        state,
        loads.get(d) ?? [],
        children.map((c) => ({ child: c, below: solved(c, [...above, d])[state] })),
      )
    const made = { idle: at('idle'), running: at('running'), stall: at('stall') }
    states.set(d, made)
    return made
  }
  return model.domains.map((domain): SupplySeen => {
    const s = solved(domain, [])
    const { supply } = domain.source.power
    const capacity = supply?.capacity === undefined ? undefined : supply.capacity * (supply.parallel ?? 1)
    const hours = (amps: Amp): Hour | undefined => (capacity === undefined || amps <= 0 ? undefined : capacity / amps)
    const [idle, running] = [hours(s.idle.amps), hours(s.running.amps)]
    return {
      domain,
      name: idOf(domain.source),
      states: s,
      hours: { ...(idle === undefined ? {} : { idle }), ...(running === undefined ? {} : { running }) },
    }
  })
}

interface Flows {
  readonly out: Flow
  readonly back: Flow
}

/** The leads that are no part of the way out, or back, lead from a node to itself. */
const edgesOf = (d: Domain, not: 'out' | 'back') => d.leads.map((l) => (l.path === not ? { ...l, a: 0, b: 0 } : l))

function flows(model: PowerModel, d: Domain, draws: readonly Amp[]): Flows {
  return {
    out: flowOf(model.nodes, edgesOf(d, 'back'), d.source.item, draws),
    back: flowOf(model.nodes, edgesOf(d, 'out'), d.source.item, draws),
  }
}

function throughOf(model: PowerModel, d: Domain, { out, back }: Flows): Amp[] {
  const side = (not: 'out' | 'back', flow: Flow): Amp[] => {
    const all = through(model.nodes, edgesOf(d, not), flow)
    for (const item of model.conductors.roles.protects.keys()) {
      const amps = flow.amps.map((a, i) => (goesPast(model, d.leads[i]!, item, not) ? 0 : a))
      all[item] = acrossOf(model, d, item, amps) ?? through(model.nodes, edgesOf(d, not), { ...flow, amps })[item]!
    }
    return all
  }
  const returning = side('out', back)
  return side('back', out).map((a, node) => Math.max(a, returning[node]!))
}

/** Whether the one conductor of a pair that is asked for has no terminal at this part: the other has, by which the pair is named. */
function goesPast(model: PowerModel, { path, ends }: Lead, item: number, not: 'out' | 'back'): boolean {
  const isBack = ends.some((end) => end?.kind === 'return')
  if (path !== 'pair' || isBack === (not === 'out')) return false
  const kinds: readonly (TerminalKind | undefined)[] = isBack ? PLUS : ['return']
  return !padsOf(model.layout.problem.items[item]!.footprint).some(({ kind }) => kinds.includes(kind))
}

/** From one terminal of a part to another; what only meets at one of them does not flow through it. Nothing where it is drawn with one. */
function acrossOf(model: PowerModel, d: Domain, item: number, amps: readonly Amp[]): Amp | undefined {
  if (padsOf(model.layout.problem.items[item]!.footprint).length < 2) return undefined
  const into = new Map<string, Amp>()
  d.leads.forEach(({ a, b, ends }, i) => {
    const add = (pad: Pad | undefined, more: Amp) => pad && into.set(pad.id, (into.get(pad.id) ?? 0) + more)
    if (b === item) add(ends[1], amps[i]!)
    if (a === item) add(ends[0], -amps[i]!)
  })
  return [...into.values()].reduce((sum, more) => sum + Math.max(0, more), 0)
}

interface Fed {
  readonly child: Domain
  readonly below: SupplyState
}

/**
 * Rounds in which the input of switching regulators settles: their current depends on their volts, which depend on it. It only falls
 * from round to round, so it settles, or there is no current at which what they take is given.
 */
const ROUNDS = 200

/** Volts between two rounds, and volts of which no regulator makes anything. */
const [SETTLED, NOTHING] = [1e-6, 0.1]

function stateOf(
  model: PowerModel,
  d: Domain,
  state: State,
  loads: readonly { readonly node: number; readonly load: LoadFile }[],
  fed: readonly Fed[],
): SupplyState {
  let input = fed.map(() => d.volts)
  const draws: Amp[] = Array.from({ length: model.nodes }, () => 0)
  const switching = fed.some((f) => f.child.source.power.output!.efficiency !== undefined)
  let enough = true
  const inputAmps = (f: Fed, volts: Volt): Amp => {
    const { efficiency, volts: made } = f.child.source.power.output!
    return efficiency === undefined || !enough ? f.below.amps : (made * f.below.amps) / (efficiency * volts)
  }
  let seen = flows(model, d, draws)
  let amps = 0
  const voltsAt = (node: number): Volt => {
    const out = seen.out.drop[node] ?? 0
    return d.volts - amps * d.ohms - out - (seen.back.drop[node] ?? out)
  }
  /** The greatest change of an input. */
  const round = (): Volt => {
    draws.fill(0)
    for (const { node, load } of loads) draws[node]! += drawn(load, state)
    fed.forEach((f, i) => {
      draws[f.child.source.item]! += inputAmps(f, input[i]!)
    })
    seen = flows(model, d, draws)
    amps = draws.reduce((sum, a) => sum + a, 0)
    const next = fed.map((f) => voltsAt(f.child.source.item))
    const change = next.reduce((most, v, i) => Math.max(most, Math.abs(v - input[i]!)), 0)
    input = next
    return change
  }
  for (let k = 1; switching && enough; k++) {
    if (round() < SETTLED) break
    enough = k < ROUNDS && input.every((v) => v >= NOTHING)
  }
  if (!switching || !enough) round()
  // what is asked for is more than there is where less than nothing is left: then nothing is
  const left = (volts: Volt): Volt => Math.max(0, volts)
  return {
    amps,
    volts: left(d.volts - amps * d.ohms),
    loads: loads.map(({ node, load }) => ({
      node,
      name: model.nameOf(node),
      amps: drawn(load, state),
      volts: left(voltsAt(node)),
      load,
      returnAssumed: seen.back.drop[node] === undefined,
    })),
    leads: d.leads.map((lead, i) => {
      const [out, back] = [Math.abs(seen.out.amps[i]!), Math.abs(seen.back.amps[i]!)]
      const each = lead.path === 'pair' ? out + back : lead.path === 'out' ? out : back
      return {
        lead,
        amps: lead.path === 'back' ? back : Math.max(out, lead.path === 'pair' ? back : 0),
        drop: each * lead.ohms,
      }
    }),
    through: throughOf(model, d, seen),
    regulators: fed.map((f, i) => {
      const { efficiency, volts } = f.child.source.power.output!
      const watts = inputAmps(f, input[i]!) * input[i]! - volts * f.below.amps
      return {
        item: f.child.source.item,
        volts: left(input[i]!),
        watts: Math.max(0, watts),
        linear: efficiency === undefined,
        fed: enough || efficiency === undefined,
      }
    }),
  }
}
