/**
 * The check list before power is on, made from this project: what to look at and measure with everything disconnected, then the first
 * power with the wheels off the ground, one motor at a time. The order is common practice, no source; local codes, the makers' sheets and
 * licensed practice come before all of it.
 */
import { calledIn } from '../../solver/index.ts'
import {
  idOf,
  type Lead,
  mayStandOnOther,
  type Netlist,
  nodeName,
  type Pad,
  type Part,
  type PowerModel,
  padsOf,
} from '../electric/index.ts'
import type { ServiceOrder } from '../statics/index.ts'
import { gives, type PowerFacts, powerFacts } from './facts.ts'
import { firstPower } from './first-power.ts'
import type { Finding } from './report.ts'
import { type Step, step } from './step.ts'
import { steps } from './words.ts'

export interface BeforePower {
  readonly cautions: readonly string[]
  /** In this order. */
  readonly steps: readonly Step[]
}

/** `service`: what comes off before what, which tells what an upper deck hides. `stops`: what stops the job in wires and power. */
export function beforePower(
  model: PowerModel,
  netlist: Netlist,
  service: Pick<ServiceOrder, 'steps'>,
  facts: PowerFacts = powerFacts(model, netlist),
  stops: readonly Finding[] = [],
): BeforePower {
  const all = [
    ...disconnect(facts),
    ...mendFirst(stops),
    ...looseParts(model, service),
    ...contacts(model, netlist),
    ...polarity(model, netlist, facts),
    ...commonReturn(model, facts),
    ...shorts(facts),
    ...fuses(facts),
    ...programming(facts),
    ...switches(facts),
    ...wheelsUp(facts),
    ...firstPower(model, facts),
    ...motors(facts),
    ...hot(facts),
    ...lastSteps(facts),
  ]
  return { cautions: steps.cautions, steps: all }
}

function disconnect({ supplies, controllers }: PowerFacts): Step[] {
  const packs = supplies.map(idOf)
  return [step(steps.disconnect(packs, controllers), [...packs, ...controllers], steps.whyDisconnect)]
}

/** A list that ends with power on must not be walked through past what is known to be wrong. */
function mendFirst(stops: readonly Finding[]): Step[] {
  if (stops.length === 0) return []
  const items = stops.flatMap((f) => f.items)
  return [step(steps.mendFirst(stops.length), items, steps.whyMendFirst)]
}

/** What an upper deck will hide is looked at first; then what hangs under a deck. */
function looseParts(model: PowerModel, service: Pick<ServiceOrder, 'steps'>): Step[] {
  const { problem, bodies } = model.layout
  const decks = new Set(problem.decks.map((d) => d.id))
  const itemIds = new Set(problem.items.map((i) => i.id))
  const heights = new Map(problem.decks.map((d) => [d.id, d.z]))
  // by the lowest deck that goes over it: from then on it is out of reach
  const hidden = new Map<string, string[]>()
  for (const s of service.steps) {
    if (s.kind !== 'item') continue
    const over = s.first.filter((id) => decks.has(id) && !itemIds.has(id))
    const [lowest] = over.sort((a, b) => heights.get(a)! - heights.get(b)!)
    if (lowest !== undefined) hidden.set(lowest, [...(hidden.get(lowest) ?? []), s.id])
  }
  const byHeight = [...hidden].sort(([a], [b]) => heights.get(a)! - heights.get(b)!)
  const hanging = bodies.filter((b) => b.item.footprint.mount.kind === 'drop-in' && !b.item.later).map((b) => b.item.id)
  const moving = problem.zones.filter((z) => z.kind === 'underside').map((z) => z.id)
  const near = [...hanging, ...moving]
  return [
    ...byHeight.map(([deck, under]) =>
      step(steps.beforeDeck(calledIn(problem, deck), under), [deck, ...under], steps.whyBeforeDeck),
    ),
    step(steps.looseParts(near), near, steps.whyLooseParts),
  ]
}

function contacts(model: PowerModel, netlist: Netlist): Step[] {
  const boards = model.layout.bodies.filter((b) => b.item.footprint.breadboard && !b.item.later).map((b) => b.item.id)
  if (boards.length === 0) return []
  return [step(steps.contacts(boards, netlist.nets.length > 0), boards)]
}

/** What goes to plus and what to minus of each supply and regulator: by its nets, else by its leads. */
function polarity(model: PowerModel, netlist: Netlist, facts: PowerFacts): Step[] {
  const { supplies, regulators, wired } = facts
  const { problem } = model.layout
  return [...supplies, ...regulators]
    .filter((p) => wired.has(p.item))
    .map((p): Step => {
      const id = idOf(p)
      const isSupply = p.power.supply !== undefined || p.body.item.footprint.kind === 'pack'
      const own = netlist.nets.flatMap((net) =>
        net.nodes.flatMap((node) =>
          node.kind === 'pad' && node.item === p.item ? [{ net, node, pad: node.pad }] : [],
        ),
      )
      const isBack = ({ pad }: (typeof own)[number]) => pad.kind === 'return'
      const domain = model.domains.find((d) => d.source.item === p.item)
      const ownLeads = (domain?.leads ?? []).filter((l) => l.a === p.item || l.b === p.item)
      const inNets = own.filter(isBack)
      // a lead back may end on a return that is in no net
      // a single lead is on the pole that it ends on here, whatever it is further on
      const sideOf = ({ a, ends, path }: Lead) => {
        const near = a === p.item ? ends[0] : ends[1]
        if (path === 'pair' || !near) return path
        return gives(near) ? 'out' : near.kind === 'return' ? 'back' : path
      }
      const leadsBack = ownLeads.some((l) => sideOf(l) !== 'out')
      const returns = leadsBack
        ? padsOf(p.body.item.footprint).filter((pad) => pad.kind === 'return')
        : inNets.map(({ pad }) => pad)
      const beside = new Set(besideOutputs(p, returns).map((pad) => pad.id))
      const backs = isSupply ? inNets : inNets.filter(({ pad }) => beside.has(pad.id))
      const byNet = (ends: typeof own) =>
        netlist.nets.flatMap((net) => {
          const here = ends.find((e) => e.net === net)
          const others = net.nodes.filter((n) => n !== here?.node).map((n) => nodeName(problem, n))
          if (!here || others.length === 0) return []
          // a net of returns is spelt out once, where the common return is measured
          const end = nodeName(problem, here.node)
          return [isBack(here) && facts.returns.includes(net) ? steps.toNet(end, net.id) : steps.toEnds(end, others)]
        })
      const nets = { out: byNet(own.filter(({ pad }) => gives(pad))), back: byNet(backs) }
      // a lead is told of where no net has said it: a pair, of which nets say the plus, by what they say of the minus
      const isSaid = ({ a, b, ends }: Lead) => {
        const [near, far, to] = a === p.item ? [ends[0], ends[1], b] : [ends[1], ends[0], a]
        // one that is named by a signal has its plus beside that
        const isNamed = near && (gives(near) || ['return', 'passive'].includes(near.kind ?? 'passive'))
        return own.some(
          ({ net, pad }) =>
            (isNamed ? pad.id === near.id : gives(pad)) &&
            net.nodes.some((n) => n.kind === 'pad' && n.item === to && (!isNamed || n.pad.id === far?.id)),
        )
      }
      const untold = (lead: Lead, side: 'out' | 'back') => {
        if (sideOf(lead) !== 'pair' && sideOf(lead) !== side) return false
        return lead.path === 'pair' && side === 'back' && isSaid(lead) ? nets.back.length === 0 : !isSaid(lead)
      }
      const leads = ownLeads.filter((l) => untold(l, 'out') || untold(l, 'back'))
      const byLead = leads.map((l) => {
        const [out, back] = [untold(l, 'out'), untold(l, 'back')]
        const side = out && back ? steps.plusAndMinus : back ? steps.minus : steps.plus
        return side(steps.lead(l.id, model.nameOf(l.a === p.item ? l.b : l.a)))
      })
      const how = [...nets.out.map(steps.plus), ...byLead, ...nets.back.map(steps.minus)]
      return step(steps.polarity(id, !isSupply, how), [id, ...leads.map((l) => l.id)], steps.whyPolarity)
    })
}

/** The returns that go with a part's outputs: beside each the nearest, since its input may have one of its own (common practice, no source). */
function besideOutputs(p: Part, returns: readonly Pad[]): readonly Pad[] {
  const outputs = padsOf(p.body.item.footprint).filter(gives)
  if (outputs.length === 0) return returns
  const far = (a: Pad, b: Pad) => Math.hypot(a.at.x - b.at.x, a.at.y - b.at.y)
  return returns.filter((r) => outputs.some((out) => returns.every((o) => far(out, r) <= far(out, o))))
}

function commonReturn(model: PowerModel, { returns, supplies, regulators, drivers, controllers }: PowerFacts): Step[] {
  const { problem } = model.layout
  if (returns.length > 0) {
    return returns.map((net) => {
      const ends = net.nodes.map((n) => nodeName(problem, n))
      return step(steps.returnNet(net.id, ends), [net.id], steps.whyReturn)
    })
  }
  // the return of a pack that stands on another is that one's plus
  const lowest = supplies.filter((p) => !mayStandOnOther(model.conductors, problem, p.item))
  const all = [...new Set([...lowest.map(idOf), ...regulators.map(idOf), ...controllers, ...drivers])]
  return all.length < 2 ? [] : [step(steps.returns(all), all, steps.whyReturn)]
}

function shorts({ supplies, regulators, wired }: PowerFacts): Step[] {
  const all = [...supplies, ...regulators].filter((p) => wired.has(p.item)).map(idOf)
  return all.length === 0 ? [] : [step(steps.shorts(all), all, steps.whyShorts)]
}

function fuses({ supplies, fuses: parts, unfused: none }: PowerFacts): Step[] {
  const inside = supplies.filter((p) => p.power.supply?.fuse !== undefined)
  const list = [
    ...inside.map((p) => ({ item: idOf(p), rating: p.power.supply?.fuse })),
    ...parts.map((p) => ({ item: idOf(p), rating: p.power.rating })),
  ]
  return [
    ...(list.length > 0 ? [step(steps.fuses(list), [...inside, ...parts].map(idOf), steps.whyFuse)] : []),
    ...(none.length > 0 ? [step(steps.noFuse(none), none, steps.whyFuse)] : []),
  ]
}

function programming({ programming: lines }: PowerFacts): Step[] {
  return lines.map(({ net, listeners, by }) => {
    const why = steps.whyProgramming(listeners)
    return by === undefined
      ? step(steps.pullLead(net, listeners), [net], why)
      : step(steps.openSwitch(by, net), [by, net], why)
  })
}

/** Everything that turns power off by hand; not all of it, where a supply is `unswitched`. */
const offs = ({ switches, ownSwitches }: PowerFacts): string[] => [...switches, ...ownSwitches.keys()]

/** What stops the robot whatever it does; where it is not sure to, only the plug does. */
const stopsAll = (facts: PowerFacts): string[] => (facts.unswitched.length > 0 ? [] : offs(facts))

function switches(facts: PowerFacts): Step[] {
  const all = offs(facts)
  const items = [...facts.switches, ...facts.ownSwitches.values()]
  if (all.length === 0) return [step(steps.noSwitch)]
  const past = facts.unswitched
  return [
    step(steps.switchOff(all), items),
    ...(past.length > 0 ? [step(steps.pastSwitches(past), past, steps.whyPastSwitches)] : []),
  ]
}

function wheelsUp({ motors: list, heads }: PowerFacts): Step[] {
  return [step(steps.wheelsUp(heads), [...list.map((m) => m.id), ...heads], steps.whyWheelsUp)]
}

function motors(facts: PowerFacts): Step[] {
  const off = stopsAll(facts)
  return facts.motors.map((m, i) =>
    step(steps.motor(i, m.id, off, m.leads), [m.id, ...m.leads.flatMap((l) => [l.wire ?? [], l.item ?? []].flat())]),
  )
}

function hot({ drivers, regulators }: PowerFacts): Step[] {
  const all = [...new Set([...drivers, ...regulators.map(idOf)])]
  return [step(steps.hot(all), all, steps.whyHot)]
}

function lastSteps(facts: PowerFacts): Step[] {
  const { heads, motors: list } = facts
  const ids = list.map((m) => m.id)
  return [
    ...(heads.length > 0 ? [step(steps.heads(heads), heads)] : []),
    ...(ids.length > 1 ? [step(steps.allMotors(ids), ids)] : []),
    step(steps.onTheGround(stopsAll(facts).length > 0)),
  ]
}
