/**
 * Fuses and switches: whether a pack has them, whether a fuse suits the leads that it guards, and whether each stands what flows through
 * it, wherever it stands. All of it common practice, no source.
 */
import type { Amp } from '../model/quantities.ts'
import type { SupplySeen } from './power.ts'
import type { LaterLoad } from './power-later.ts'
import type { Lead, PowerModel } from './power-model.ts'
import { isPack } from './power-roles.ts'
import { carries, exceeds, type PowerSettings } from './power-settings.ts'
import { isFused, isSwitched, onTheWay, Ways } from './power-ways.ts'
import type { WireFinding } from './wire-finding.ts'
import { power as words } from './words.ts'

export function protection(
  model: PowerModel,
  s: SupplySeen,
  settings: PowerSettings,
  later: LaterLoad | undefined,
  /** All of the robot's: what flows through one part may come from several. */
  supplies: readonly SupplySeen[],
): WireFinding[] {
  const ways = new Ways(model, s.domain.source)
  if (!ways.isJoined) return []
  const fuses = fusesOf(model, ways, s, supplies)
  return [
    ...(s.domain.source.power.supply ? missing(model, ways, s.name) : []),
    ...tooLarge(ways, s, fuses, settings),
    ...fuses.flatMap((f) => blows(s, f, later)),
    ...switches(model, ways, s, supplies),
  ]
}

/** What flows through a part, of all supplies together, and the names of those; told by the first of them alone. */
function flowThrough(item: number, s: SupplySeen, supplies: readonly SupplySeen[]) {
  const sharing = supplies.filter((o) => o.states.stall.through[item]! > 0 || o.states.running.through[item]! > 0)
  const sum = (state: 'running' | 'stall') => sharing.reduce((all, o) => all + o.states[state].through[item]!, 0)
  return { running: sum('running'), stall: sum('stall'), names: sharing.map((o) => o.name), told: sharing[0] === s }
}

/** The same of packs that say nothing of their cells, nor whether there is a fuse among them: that is worth knowing. */
export const unprotected = (model: PowerModel): WireFinding[] =>
  model.parts.flatMap((part) => {
    if (!isPack(part) || part.power.supply) return []
    const ways = new Ways(model, part)
    const found = ways.isJoined ? missing(model, ways, model.nameOf(part.item)) : []
    return found.map((f) => ({ ...f, weight: 'worth-knowing' }))
  })

/** A fuse near the pack and a master switch: everything is behind them, or is told. */
function missing(model: PowerModel, ways: Ways, name: string): WireFinding[] {
  const found: WireFinding[] = []
  if (!isFused(model, ways)) {
    const fuses = onTheWay(model, ways, 'fuse').filter(({ item }) => ways.comesTo(item, 'out'))
    const each = ways.isBehind(fuses.map((f) => f.item)) ? fuses.map((f) => model.nameOf(f.item)) : []
    const text = each.length > 0 ? words.fuseEach(name, each) : words.noFuse(name)
    found.push({ kind: 'no-fuse', topic: 'protection', weight: 'stops', items: [name, ...each], text })
  }
  if (!isSwitched(model, ways)) {
    const text = words.noMasterSwitch(name)
    found.push({ kind: 'no-master-switch', topic: 'protection', weight: 'worth-knowing', items: [name], text })
  }
  return found
}

interface Fuse {
  /** A part; none for the pack's own. */
  readonly part?: string
  readonly rating: Amp
  /** Through it as all runs, and whose that is. */
  readonly amps: Amp
  readonly names: readonly string[]
  readonly told: boolean
  /** Everything that the supply feeds is behind it. */
  readonly all: boolean
  /** Whether what flows in a lead of the supply has to flow through it too. */
  readonly guards: (lead: Lead) => boolean
  /** The same of what is drawn somewhere. */
  readonly feeds: (load: number) => boolean
}

/** The pack's own and all parts that say what they let through. */
function fusesOf(model: PowerModel, ways: Ways, s: SupplySeen, supplies: readonly SupplySeen[]): Fuse[] {
  const { domain, states } = s
  const own = domain.source.power.supply?.fuse
  const parts = onTheWay(model, ways, 'fuse').flatMap(({ item, power: { rating } }): Fuse[] => {
    if (rating === undefined) return []
    const { running: amps, names, told } = flowThrough(item, s, supplies)
    const all = ways.isBehind([item])
    // in the way back alone it protects no plus lead
    const guards = (lead: Lead) => all || (ways.comesTo(item, 'out') && ways.flowsThrough(item, lead))
    const feeds = (load: number) => all || ways.isFedThrough(item, load)
    return [{ part: model.nameOf(item), rating, amps, names, told, all, guards, feeds }]
  })
  return own === undefined
    ? parts
    : [
        {
          rating: own,
          amps: states.running.amps,
          names: [s.name],
          told: true,
          all: true,
          guards: () => true,
          feeds: () => true,
        },
        ...parts,
      ]
}

/** What lets so much flow in a lead: one fuse, or those of branches that come back together. */
interface Limit {
  readonly by: readonly Fuse[]
  readonly amps: Amp
}

/** Each lead is held against the least that fuses let flow in it; of each of those the thinnest such lead is told. */
function tooLarge(ways: Ways, s: SupplySeen, fuses: readonly Fuse[], settings: PowerSettings): WireFinding[] {
  const weakest = new Map<string, readonly [Limit, Lead]>()
  for (const lead of s.domain.leads) {
    const least = leastFor(ways, fuses, lead)
    const key = `${least?.by.map((f) => f.part)}`
    if (least && !((weakest.get(key)?.[1].awg ?? Number.NEGATIVE_INFINITY) >= lead.awg)) weakest.set(key, [least, lead])
  }
  return [...weakest.values()].flatMap(([{ by, amps }, lead]): WireFinding[] => {
    const limit = carries(lead.awg, settings)
    if (!exceeds(amps, limit)) return []
    const names = by.map((f) => f.part ?? s.name)
    const text =
      by.length > 1
        ? words.fusesTooLarge(names, amps, lead.id, lead.awg, limit)
        : words.fuseTooLarge(s.name, by[0]!.part, amps, lead.id, lead.awg, limit)
    const items = [...names, lead.id]
    return [{ kind: 'fuse-too-large', topic: 'protection', weight: 'worth-knowing', items, text }]
  })
}

function leastFor(ways: Ways, fuses: readonly Fuse[], lead: Lead): Limit | undefined {
  const inOrder = [...fuses].sort((a, b) => a.rating - b.rating)
  const each = ways.comingBackBy(lead).map((load) => inOrder.find((f) => f.feeds(load)))
  const branches = each.every((f) => f !== undefined) ? [...new Set(each)] : []
  const single = inOrder.find((f) => f.guards(lead))
  const limits = [single ? [single] : [], branches].filter((by) => by.length > 0)
  const [least] = limits
    .map((by): Limit => ({ by, amps: by.reduce((sum, f) => sum + f.rating, 0) }))
    .sort((a, b) => a.amps - b.amps)
  return least
}

/** What later items will draw flows through a fuse that everything is behind; nothing says what else it will flow through. */
function blows(s: SupplySeen, { part, rating, amps, names, told, all }: Fuse, later?: LaterLoad): WireFinding[] {
  const items = part === undefined ? [s.name] : [part, ...(names.length > 0 ? names : [s.name])]
  if (exceeds(amps, rating)) {
    if (!told) return []
    const text = words.fuseBlows(amps, s.name, part, rating)
    return [{ kind: 'fuse-blows', topic: 'protection', weight: 'stops', items, text }]
  }
  if (!later || !all || !exceeds(later.amps, rating)) return []
  const text = words.fuseBlowsLater(later.items, later.amps, s.name, part, rating)
  const both = [...items, ...later.items]
  return [{ kind: 'fuse-blows-later', topic: 'protection', weight: 'worth-knowing', items: both, text }]
}

/** As with leads: too much as all runs stops the job, too much only while motors stall is worth knowing. */
function switches(model: PowerModel, ways: Ways, s: SupplySeen, supplies: readonly SupplySeen[]): WireFinding[] {
  return onTheWay(model, ways, 'switch').flatMap((part): WireFinding[] => {
    const { rating } = part.power
    if (rating === undefined) return []
    const id = model.nameOf(part.item)
    const { running, stall, names, told } = flowThrough(part.item, s, supplies)
    const inStall = !exceeds(running, rating)
    if (!told || (inStall && !exceeds(stall, rating))) return []
    const text = words.switchOverloaded(inStall ? stall : running, id, inStall, rating)
    const weight = inStall ? 'worth-knowing' : 'stops'
    return [{ kind: 'switch-overloaded', topic: 'protection', weight, items: [id, ...names], text }]
  })
}
