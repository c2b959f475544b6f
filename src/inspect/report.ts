/** What an inspection of one layout says: plain data, lengths in mm, angles in degrees, masses in grams, volts, amperes and watts. */
import type { LaterMove, PinByPin, PowerSeen } from '../electric/index.ts'
import type { AccessReport, Balance, HeadReport, ServiceOrder, ViewReport } from '../statics/index.ts'
import type { BeforePower } from './before-power.ts'

/** `stops`: the robot would not run so, or harm could be done; `worth-knowing`: it runs, but somebody should know. */
export interface Finding {
  /** `layout` where a rule of a legal layout is broken, `cut` of what stands on what will be cut, else as electric and statics call it. */
  readonly topic: string
  /** Of the kinds that electric and statics list, or `slot-covered`, `cut-out-covered`, `land-cut`; the rule, where one is broken. */
  readonly kind: string
  readonly weight: 'stops' | 'worth-knowing'
  /** Ids of items, wires, nets, exits, zones and decks. */
  readonly items: readonly string[]
  readonly text: string
}

/** A part of the report that is left out, or holds for less than all, because the files do not say enough. */
export interface Missing {
  readonly part: 'leads' | 'pins' | 'power' | 'balance' | 'heads' | 'views' | 'access' | 'before-power'
  /** A sentence without the names that files have for things. */
  readonly text: string
  /** Which field would say it. */
  readonly field: string
}

/** A place on a deck, mm. */
export interface Spot {
  readonly deck: string
  readonly at: readonly [number, number]
}

export interface LeadRoute {
  readonly wire: string
  /** Ids of the items or exits at its ends. */
  readonly from: string
  readonly to: string
  /** Along the decks and between them; `straight` as if nothing stood in the way; `cut` with loop, ends and service. */
  readonly length: number
  readonly straight: number
  readonly cut: number
  /** What there is of the lead; missing where nothing limits it. */
  readonly there?: number
  /** Ends and corners; a spot on each deck where it changes. */
  readonly spots: readonly Spot[]
  /** Ids of what it goes round. */
  readonly round: readonly string[]
}

export interface LeadsSeen {
  readonly routes: readonly LeadRoute[]
  /** Leads that find no way, and what shuts them in. */
  readonly blocked: readonly { readonly wire: string; readonly by: readonly string[] }[]
  /** Leads that run side by side, and for how long. */
  readonly bundles: readonly { readonly wires: readonly string[]; readonly deck: string; readonly together: number }[]
  /** Do not cut too short: lengths over the variants and later moves. */
  readonly keep: readonly LeadKept[]
}

export interface LeadKept {
  readonly wire: string
  /** Length to cut for each variant given; missing where no way is open. */
  readonly variants: readonly { readonly variant: string; readonly cut?: number }[]
  readonly later: readonly (Omit<LaterMove, 'least' | 'most'> & { readonly least: number; readonly most: number })[]
  readonly keep: number
}

export interface Report {
  readonly project: string
  readonly variant: string
  /** What stops the job first: broken rules, then the rest in the order of the parts below. No double. */
  readonly findings: readonly Finding[]
  readonly missing: readonly Missing[]
  readonly leads?: LeadsSeen
  /** Pin table and contact plan. */
  readonly pins?: Omit<PinByPin, 'findings' | 'preparation'>
  readonly preparation: PinByPin['preparation']
  readonly power?: Omit<PowerSeen, 'findings'>
  readonly balance?: { readonly level: Omit<Balance, 'findings'>; readonly slope?: Omit<Balance, 'findings'> }
  readonly heads: readonly Omit<HeadReport, 'findings'>[]
  readonly views: readonly Omit<ViewReport, 'findings'>[]
  readonly service: Omit<ServiceOrder, 'findings'>
  readonly access: Omit<AccessReport, 'findings'>
  readonly beforePower: BeforePower
}
