/**
 * Fuses and switches: whether a pack has them, whether a fuse suits the leads that it guards, and whether each stands what flows through
 * it, wherever it stands. All of it common practice, no source.
 */
import type { Amp } from '../model/quantities.ts'
import type { SupplySeen } from './power.ts'
import type { LaterLoad } from './power-later.ts'
import { type Domain, isProtection, type Lead, type Part, type PowerModel } from './power-model.ts'
import type { Link } from './power-nets.ts'
import { reach } from './power-network.ts'
import { carries, exceeds, type PowerSettings } from './power-settings.ts'
import type { WireFinding } from './wire-finding.ts'
import { power as words } from './words.ts'

/** Fuses and switches, by item: what flows in at one terminal of theirs flows out at another. */
export type Protection = ReadonlyMap<number, 'fuse' | 'switch'>

export const protectionOf = (parts: readonly Part[]): Protection =>
  new Map(parts.flatMap(({ item, power: { part } }) => (isProtection(part) ? [[item, part] as const] : [])))

export function protection(
  model: PowerModel,
  s: SupplySeen,
  settings: PowerSettings,
  later: LaterLoad | undefined,
  /** All of the robot's: what flows through one part may come from several. */
  supplies: readonly SupplySeen[],
): WireFinding[] {
  if (s.domain.leads.length === 0) return []
  const fuses = fusesOf(model, s, supplies)
  return [
    ...missing(model, s),
    ...tooLarge(s, fuses, settings),
    ...fuses.flatMap((f) => blows(s, f, later)),
    ...switches(model, s, supplies),
  ]
}

/** What flows through a part, of all supplies together, and the names of those; told by the first of them alone. */
function flowThrough(item: number, s: SupplySeen, supplies: readonly SupplySeen[]) {
  const sharing = supplies.filter((o) => o.states.stall.through[item]! > 0 || o.states.running.through[item]! > 0)
  const sum = (state: 'running' | 'stall') => sharing.reduce((all, o) => all + o.states[state].through[item]!, 0)
  return { running: sum('running'), stall: sum('stall'), names: sharing.map((o) => o.name), told: sharing[0] === s }
}

/** A fuse near the pack and a master switch: everything is behind them, or is told. */
function missing(model: PowerModel, { name, domain }: SupplySeen): WireFinding[] {
  const { supply } = domain.source.power
  if (!supply) return []
  const found: WireFinding[] = []
  if (!isFused(model, domain)) {
    found.push({ kind: 'no-fuse', topic: 'protection', weight: 'stops', items: [name], text: words.noFuse(name) })
  }
  if (!isSwitched(model, domain)) {
    const text = words.noMasterSwitch(name)
    found.push({ kind: 'no-master-switch', topic: 'protection', weight: 'worth-knowing', items: [name], text })
  }
  return found
}

/** Whether all that a supply feeds is behind a fuse, its own or a part. Where nothing says what it feeds, any fuse may be its. */
export const isFused = (model: PowerModel, domain: Domain): boolean =>
  domain.source.power.supply?.fuse !== undefined ||
  (wayOf(model, domain).told
    ? stationsOf(model, domain, 'fuse').some((f) => f.all)
    : model.parts.some((p) => p.power.part === 'fuse'))

/** Whether all that a supply feeds is behind a switch, its own or a part. Where nothing says what it feeds, any switch may be its. */
export const isSwitched = (model: PowerModel, domain: Domain): boolean =>
  domain.source.power.supply?.switched === true ||
  (wayOf(model, domain).told ? stationsOf(model, domain, 'switch').some((f) => f.all) : model.parts.some(isSwitch))

/** What a hand can turn off, by what it says it is or by the room that it keeps for the hand. */
export const isSwitch = ({ power, body }: Part): boolean =>
  power.part === 'switch' || body.item.footprint.corridors.some((c) => c.access === 'switch')

/** A part that leads of a supply run through. */
interface Station {
  readonly part: Part
  /** Without it the supply reaches nothing that draws. */
  readonly all: boolean
  /** Whether what flows in a lead of the supply has to flow through it too. */
  readonly guards: (lead: Lead) => boolean
}

/**
 * The way out from a supply, and who draws on it: by leads as far as they come from the supply to anybody; else nets are taken in, which may
 * lead the power there. `told`: one of both says whom it feeds.
 */
function wayOf(model: PowerModel, domain: Domain) {
  const leads = domain.leads.filter((l) => l.path !== 'back')
  const saying = model.parts.filter((p) => p.power.load || p.power.output || p.power.part).map((p) => p.item)
  const protects = protectionOf(model.parts)
  const along = (out: readonly Link[]) => {
    // who says nothing of what it draws may draw all the same: an exit, or whoever has a plus that is fed
    const fed = out.flatMap(({ a, b, ends }) =>
      [a, b].filter((n, i) => !model.layout.problem.items[n] || (ends[i]?.kind ?? 'passive') !== 'passive'),
    )
    const drawing = [...new Set([...saying, ...fed])].filter((n) => n !== domain.source.item && !protects.has(n))
    const reached = reach(model.nodes, out, domain.source.item)
    return { out, drawing, reached, told: drawing.some((n) => reached[n]) }
  }
  const byLeads = along(leads)
  return byLeads.told ? byLeads : along([...leads, ...model.links])
}

function stationsOf(model: PowerModel, domain: Domain, kind: 'fuse' | 'switch'): Station[] {
  const { out, drawing, reached } = wayOf(model, domain)
  const isKind = ({ item, power: { part } }: Part) => part === kind || (kind === 'switch' && model.ledThrough.has(item))
  const returning = reach(
    model.nodes,
    domain.leads.filter((l) => l.path !== 'out'),
    domain.source.item,
  )
  return model.parts.flatMap((part): Station[] => {
    if (!isKind(part) || !(reached[part.item] || returning[part.item])) return []
    // in the way back alone it protects no plus lead
    if (!reached[part.item]) return [{ part, all: false, guards: () => false }]
    const rest = reach(model.nodes, out, domain.source.item, new Set([part.item]))
    const all = !drawing.some((n) => n !== part.item && rest[n])
    // a lead back comes from behind it where its one end is there
    const guards = ({ a, b, path }: Lead) => all || (path === 'back' ? !(rest[a] && rest[b]) : !rest[a] && !rest[b])
    return [{ part, all, guards }]
  })
}

interface Fuse {
  /** A part; none for the pack's own. */
  readonly part?: string
  readonly rating: Amp
  /** Through it as all runs, and whose that is. */
  readonly amps: Amp
  readonly names: readonly string[]
  readonly told: boolean
  readonly all: boolean
  readonly guards: (lead: Lead) => boolean
}

/** The pack's own and all parts that say what they let through. */
function fusesOf(model: PowerModel, s: SupplySeen, supplies: readonly SupplySeen[]): Fuse[] {
  const { domain, states } = s
  const own = domain.source.power.supply?.fuse
  const parts = stationsOf(model, domain, 'fuse').flatMap(({ part, ...station }): Fuse[] => {
    const { rating } = part.power
    if (rating === undefined) return []
    const { running: amps, names, told } = flowThrough(part.item, s, supplies)
    return [{ ...station, part: model.nameOf(part.item), rating, amps, names, told }]
  })
  return own === undefined
    ? parts
    : [{ rating: own, amps: states.running.amps, names: [s.name], told: true, all: true, guards: () => true }, ...parts]
}

/** Each lead is held against the smallest fuse that what flows in it flows through; of each fuse the thinnest such lead is told. */
function tooLarge(s: SupplySeen, fuses: readonly Fuse[], settings: PowerSettings): WireFinding[] {
  const weakest = new Map<Fuse, Lead>()
  for (const lead of s.domain.leads) {
    const [least] = fuses.filter((f) => f.guards(lead)).sort((a, b) => a.rating - b.rating)
    if (least && !((weakest.get(least)?.awg ?? Number.NEGATIVE_INFINITY) >= lead.awg)) weakest.set(least, lead)
  }
  return [...weakest].flatMap(([{ part, rating }, lead]): WireFinding[] => {
    const limit = carries(lead.awg, settings)
    if (!exceeds(rating, limit)) return []
    const text = words.fuseTooLarge(s.name, part, rating, lead.id, lead.awg, limit)
    const items = [part ?? s.name, lead.id]
    return [{ kind: 'fuse-too-large', topic: 'protection', weight: 'worth-knowing', items, text }]
  })
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
function switches(model: PowerModel, s: SupplySeen, supplies: readonly SupplySeen[]): WireFinding[] {
  return stationsOf(model, s.domain, 'switch').flatMap(({ part }): WireFinding[] => {
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
