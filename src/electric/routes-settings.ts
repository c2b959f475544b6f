/** How leads are laid: the project's settings (`settings.wiring`, a wire's `ends`) with what stands for those it leaves out. */
import { mm, type Rect, type Um, um, type Wire } from '../../solver/index.ts'
import type { Project } from '../model/index.ts'
// not by the door: a thread that solves loads this, and needs no reader of files
import { applyVariant } from '../model/variants.ts'

export type EndKind = 'solder' | 'plug' | 'contact'

/** Lengths in Um. */
export interface Wiring {
  /** Gap between a lead and a body or keep-out zone beside it. */
  readonly clearance: Um
  /** A body whose underside is at least this far over the deck may be passed under, between its stand-offs. */
  readonly under: Um
  readonly allowance: Readonly<Record<EndKind, Um>>
  /** Spare length of every lead, over the `loop` of its own. */
  readonly service: Um
  /** Straight piece that a lead needs beyond an exit, so that it does not bend where it is held. */
  readonly straight: Um
  readonly bundle: Um
  /** Gap between a lead and a moving track. */
  readonly tracks: Um
  /** Moving tracks: in plan, and the height of their top over the ground. */
  readonly moving: readonly { readonly id: string; readonly box: Rect; readonly top: Um }[]
  /** By wire id: how the ends are fixed, from and to. */
  readonly ends: ReadonlyMap<string, readonly [EndKind, EndKind]>
}

/**
 * Common practice, no source: 1 mm of room beside a lead, 4 mm under a board (stand-offs of 5 mm pass, those of 3 mm do not),
 * 5 mm straight after an exit, 10 mm
 * to a moving track. Allowances are 0 until asked for: the rules of a legal layout know of none.
 */
export const WIRING: Wiring = {
  clearance: mm(1),
  under: mm(4),
  allowance: { solder: mm(0), plug: mm(0), contact: mm(0) },
  service: mm(0),
  straight: mm(5),
  bundle: mm(3),
  tracks: mm(10),
  moving: [],
  ends: new Map(),
}

/** The settings of one variant. Throws a RangeError where there is no such variant. */
export function wiringOf(project: Project, variant: string): Wiring {
  const asked = applyVariant(project, variant)
  const w = asked.settings?.wiring ?? {}
  const or = (given: number | undefined, usual: Um): Um => (given === undefined ? usual : mm(given))
  return {
    clearance: or(w.clearance, WIRING.clearance),
    under: or(w.under, WIRING.under),
    allowance: {
      solder: or(w.solder, WIRING.allowance.solder),
      plug: or(w.plug, WIRING.allowance.plug),
      contact: or(w.contact, WIRING.allowance.contact),
    },
    service: or(w.service, WIRING.service),
    straight: or(w.straight, WIRING.straight),
    bundle: or(w.bundle, WIRING.bundle),
    tracks: or(w.tracks, WIRING.tracks),
    moving: (asked.chassis?.tracks ?? []).map(({ id, box: [x, y, w, h], top }) => ({
      id,
      box: { x: mm(x), y: mm(y), w: mm(w), h: mm(h) },
      top: mm(top),
    })),
    ends: new Map((asked.wires ?? []).flatMap((wire) => (wire.ends === undefined ? [] : [[wire.id, wire.ends]]))),
  }
}

/** What a lead needs over its routed length: loop, service loop, and so much for each end that is fixed up here (not at an exit). */
export function extraOf(wiring: Wiring, wire: Wire): Um {
  const kinds = wiring.ends.get(wire.id)
  const ends = [wire.from, wire.to].map((end, i) => (kinds && end.kind === 'item' ? wiring.allowance[kinds[i]!] : 0))
  return um(wire.loop + wiring.service + ends[0]! + ends[1]!)
}

/** What there is of a lead: its `maxLength`, and what its exits leave free; Infinity where nothing limits it. */
export function limitOf(exits: readonly { readonly free?: Um }[], wire: Wire): number {
  const free = [wire.from, wire.to].map((end) => (end.kind === 'exit' ? exits[end.exit]?.free : undefined))
  return Math.min(wire.maxLength ?? Number.POSITIVE_INFINITY, ...free.map((f) => f ?? Number.POSITIVE_INFINITY))
}
