/** What is wrong or tight in power: currents, voltages, heat and radio; fuses and switches stand in power-protection.ts. */
import type { Amp } from '../model/quantities.ts'
import { type LoadState, STATES, type SupplySeen } from './power.ts'
import type { LaterLoad } from './power-later.ts'
import type { Lead, PowerModel } from './power-model.ts'
import { protection, unprotected } from './power-protection.ts'
import { idOf, type Part } from './power-roles.ts'
import { carries, exceeds, type PowerSettings } from './power-settings.ts'
import { sideOf } from './power-sides.ts'
import type { WireFinding } from './wire-finding.ts'
import { power as words } from './words.ts'

/** What is wrong or worth knowing: leads, loads, fuses, what nothing feeds, heat, radio. `supplies` are those of this model, in all three states. */
export function powerFindings(
  model: PowerModel,
  supplies: readonly SupplySeen[],
  settings: PowerSettings,
  later: ReadonlyMap<SupplySeen, LaterLoad> = new Map(),
): WireFinding[] {
  return [
    ...supplies.flatMap((s) => leadFindings(model, s, settings)),
    ...supplies.flatMap((s) => loadFindings(model, s, settings)),
    ...supplies.flatMap((s) => protection(model, s, settings, later.get(s), supplies)),
    ...unprotected(model),
    ...model.unfed.flatMap((lead) => overloads(model, lead, settings, { running: 0, stall: 0 })),
    ...unfed(model, supplies),
    ...(supplies.length === 0 ? [] : astray(model)),
    ...heat(model, settings),
    ...radio(model, settings),
  ]
}

const leadFindings = (model: PowerModel, { domain, states }: SupplySeen, settings: PowerSettings): WireFinding[] =>
  domain.leads.flatMap((lead, i) => {
    const [running, stall] = [states.running.leads[i]!.amps, states.stall.leads[i]!.amps]
    return overloads(model, lead, settings, { running, stall })
  })

/**
 * Running too much stops the job; too much only while a motor stalls is worth knowing. What the file states for a lead counts where it is
 * more than what is reckoned: loads that say nothing are reckoned to draw nothing.
 */
function overloads(
  model: PowerModel,
  lead: Lead,
  settings: PowerSettings,
  { running, stall }: { readonly running: Amp; readonly stall: Amp },
): WireFinding[] {
  const items = [lead.id, model.nameOf(lead.a), model.nameOf(lead.b)]
  const { stated = 0 } = lead
  return limitsOf(lead, settings).flatMap(({ of, limit, by }): WireFinding[] => {
    if (exceeds(Math.max(running, stated), limit)) {
      const say = stated > running ? words.statedTooMuch : words.overloaded
      const text = say(lead.id, Math.max(running, stated), by, limit)
      return [{ kind: `${of}-overloaded`, topic: 'current', weight: 'stops', items, text }]
    }
    if (!exceeds(stall, limit)) return []
    const text = words.overloadedInStall(lead.id, stall, by, limit)
    return [{ kind: `${of}-overloaded-in-stall`, topic: 'current', weight: 'worth-knowing', items, text }]
  })
}

/** What a lead and its ends may carry. */
function limitsOf(lead: Lead, settings: PowerSettings) {
  return [
    { of: 'lead', limit: carries(lead.awg, settings), by: lead },
    ...(lead.contacts > 0 ? [{ of: 'contact', limit: settings.contactCurrent, by: 'contact' } as const] : []),
  ] as const
}

function loadFindings(model: PowerModel, s: SupplySeen, settings: PowerSettings): WireFinding[] {
  const found: WireFinding[] = []
  const { idle, running, stall } = s.states
  const add = (kind: WireFinding['kind'], items: readonly string[], text: string) =>
    found.push({
      kind,
      topic: kind === 'over-volts' || kind === 'volts-lost' ? 'power' : 'brown-out',
      weight: kind === 'volts-lost' ? 'worth-knowing' : 'stops',
      items,
      text,
    })
  const stalling = stall.loads.filter((l, i) => l.amps > running.loads[i]!.amps).map((l) => l.name)
  running.loads.forEach((l, i) => {
    const [atIdle, atStall] = [idle.loads[i]!, stall.loads[i]!]
    const items = [l.name, s.name]
    const { min, max } = sideOf(model, s.domain, l.node) ?? l.load
    if (min !== undefined && l.volts < min) {
      add('low-volts', items, words.lowVolts(l.name, l.volts, s.name, min))
    } else if (min !== undefined && atStall.volts < min) {
      const text = words.brownOut(l.name, atStall.volts, s.name, stalling, min)
      add('brown-out', [...items, ...stalling.filter((n) => n !== l.name)], text)
    }
    if (max !== undefined && atIdle.volts > max) {
      add('over-volts', items, words.overVolts(l.name, atIdle.volts, s.name, max))
    }
    const lost = running.volts - l.volts
    if (lost > settings.drop * s.domain.volts) {
      add('volts-lost', items, words.voltsLost(s.name, l.name, lost, s.domain.volts))
    }
  })
  // A regulator that gets no more than it gives does not regulate.
  const dropping = new Map<number, string>()
  for (const state of STATES) {
    for (const r of s.states[state].regulators) {
      const made = model.parts.find((p) => p.item === r.item)!.power.output!
      if (dropping.has(r.item)) continue
      const [name, inStall] = [model.nameOf(r.item), state === 'stall']
      if (!r.fed) {
        dropping.set(r.item, words.regulatorUnfed(name, s.name, inStall))
        continue
      }
      if (made.efficiency !== undefined && made.volts > s.domain.volts) continue
      if (r.volts < made.volts) dropping.set(r.item, words.regulatorStarved(name, r.volts, s.name, inStall, made.volts))
    }
  }
  for (const [item, text] of dropping) add('regulator-starved', [model.nameOf(item), s.name], text)
  return [...found, ...assumedReturns(s.name, running.loads)]
}

function assumedReturns(supply: string, loads: readonly LoadState[]): WireFinding[] {
  const items = loads.filter((l) => l.returnAssumed).map((l) => l.name)
  if (items.length === 0) return []
  const text = words.returnAssumed(supply, items)
  return [{ kind: 'return-assumed', topic: 'power', weight: 'worth-knowing', items: [...items, supply], text }]
}

/** Loads that no supply's lead reaches, where there is a supply at all. */
function unfed(model: PowerModel, supplies: readonly SupplySeen[]): WireFinding[] {
  if (supplies.length === 0) return []
  const fed = new Set(supplies.flatMap((s) => s.states.running.loads.map((l) => l.node)))
  const loads = [...model.parts.filter((p) => p.power.load).map((p) => p.item), ...model.exits.map((e) => e.node)]
  const missing = loads.filter((n) => !fed.has(n)).map(model.nameOf)
  if (missing.length === 0) return []
  const text = words.unfed(missing)
  return [{ kind: 'unfed', topic: 'power', weight: 'worth-knowing', items: missing, text }]
}

/** A lead whose supply is none here carries nothing in these figures. */
const astray = (model: PowerModel): WireFinding[] =>
  model.astray.map(({ wire, supply }) => {
    const text = words.astray(wire, supply)
    return { kind: 'lead-astray', topic: 'power', weight: 'worth-knowing', items: [wire], text }
  })

type Box = { readonly x: number; readonly y: number; readonly w: number; readonly h: number }
const gap = (a: Box, b: Box): number =>
  Math.hypot(Math.max(0, a.x - b.x - b.w, b.x - a.x - a.w), Math.max(0, a.y - b.y - b.h, b.y - a.y - a.h))

/** A controller makes a few volts for others, and stays cool. */
const isWarm = (p: Part) =>
  p.power.part === 'driver' ||
  p.power.part === 'regulator' ||
  (p.power.output !== undefined && p.power.part !== 'controller')

/** Room for air round what gets warm; a breadboard under it does not count, nor what sits on that as a part of its own elsewhere. */
function heat(model: PowerModel, settings: PowerSettings): WireFinding[] {
  return model.parts.filter(isWarm).flatMap((p) =>
    model.layout.bodies.flatMap((b): WireFinding[] => {
      const together = b.index === p.item || b.index === p.body.host || b.host === p.item
      // told once for a pair of two warm ones
      const twice = b.index < p.item && model.parts.some((q) => q.item === b.index && isWarm(q))
      if (together || twice || b.deck !== p.body.deck || b.item.footprint.breadboard) return []
      const d = gap(p.body.rect, b.rect)
      if (d >= settings.heat) return []
      const text = words.noAir(b.item.id, d, idOf(p), settings.heat)
      return [{ kind: 'no-air', topic: 'heat', weight: 'worth-knowing', items: [idOf(p), b.item.id], text }]
    }),
  )
}

/** A radio hears motors, their leads, and what switches their current. */
function radio(model: PowerModel, settings: PowerSettings): WireFinding[] {
  const { exits } = model.layout.problem
  const first = model.layout.problem.items.length
  return model.parts
    .filter((p) => p.power.part === 'radio')
    .flatMap((p) => {
      const noisy = [
        ...model.parts
          .filter((q) => q.power.part === 'motor' || isWarm(q))
          .filter((q) => q.body.deck === p.body.deck)
          .map((q) => ({ name: idOf(q), rect: q.body.rect as Box })),
        ...model.exits
          .filter((e) => exits[e.node - first]?.deck === p.body.deck)
          .map((e) => ({ name: e.id, rect: { ...exits[e.node - first]!.at, w: 0, h: 0 } })),
      ]
      return noisy.flatMap(({ name, rect }): WireFinding[] => {
        const d = gap(p.body.rect, rect)
        if (d >= settings.radio) return []
        const text = words.radio(idOf(p), d, name, settings.radio)
        return [{ kind: 'radio-by-noise', topic: 'radio', weight: 'worth-knowing', items: [idOf(p), name], text }]
      })
    })
}
