/**
 * The head of a layout as plain data (point 6 of the work): what its parts truly sweep, what stands in their way at which pan
 * and tilt, and the range that is left. Angles in degrees, lengths in mm.
 */
import { type Body, type Layout, layoutOf, type Placement, type Problem, sweepOf } from '../../solver/index.ts'
import type { StaticsFinding } from './finding.ts'
import { type HeadParts, headParts } from './head-parts.ts'
import { blockedPans, blockedTilts, type Profile, sweptBy } from './head-sweep.ts'
import { type Obstacle, obstacleCalled, obstaclesOf, othersOf } from './obstacles.ts'
import { type Interval, joined, without } from './plane.ts'
import { found } from './words.ts'

export interface HeadHit {
  /** Item or deck that stands in the way. */
  readonly id: string
  readonly kind: Obstacle['kind']
  /** Parts of the head that it stands in the way of. */
  readonly parts: readonly string[]
  /** Pan angles that it blocks at one tilt or another. */
  readonly pan: readonly Interval[]
}

export interface HeadReport {
  readonly item: string
  readonly pan: Interval
  readonly tilt: Interval
  readonly swept: { readonly reach: number; readonly z: Interval; readonly profile: readonly Profile[] }
  readonly hits: readonly HeadHit[]
  /** Pan angles that are free at every tilt; with every stack, and without any. */
  readonly freePan: readonly Interval[]
  readonly freePanBare: readonly Interval[]
  /** Pan angles that are free at one tilt, every `step` degrees and at both ends. */
  readonly byTilt: readonly { readonly tilt: number; readonly free: readonly Interval[] }[]
  readonly findings: readonly StaticsFinding[]
}

export interface HeadOptions {
  /** Degrees between the tilts of `byTilt`; default 5. */
  readonly step?: number
  /** How much of the height reserved for stacks is filled, 0 to 1; default 1. */
  readonly stacked?: number
}

/** One report for each placed head that says what it carries. */
export function headReports(
  problem: Problem,
  placements: readonly Placement[],
  options: HeadOptions = {},
): HeadReport[] {
  const layout = layoutOf(problem, placements)
  const all = obstaclesOf(layout).flatMap((o) => filled(o, options.stacked ?? 1))
  return layout.bodies.flatMap((body) => {
    const h = headParts(problem, body)
    return h ? [reportOf(layout, othersOf(all, body.index), body, h, options.step ?? 5)] : []
  })
}

function reportOf(layout: Layout, others: readonly Obstacle[], body: Body, h: HeadParts, step: number): HeadReport {
  const item = body.item.id
  const swept = sweptBy(h)
  const near = others.filter((o) => o.z[0] < swept.z[1] && o.z[1] > swept.z[0])
  const met = near.flatMap((o): { o: Obstacle; hit: HeadHit }[] => {
    const byPart = h.parts.map((part) => ({ id: part.id, pan: blockedPans(h, o, h.tilt, part) }))
    const parts = byPart.filter((p) => p.pan.length > 0)
    if (parts.length === 0) return []
    const pan = joined(parts.flatMap((p) => p.pan))
    return [{ o, hit: { id: o.id, kind: o.kind, parts: parts.map((p) => p.id), pan } }]
  })
  const hits = met.map((m) => m.hit)
  const left = (kinds: (k: Obstacle['kind']) => boolean) =>
    without(
      h.pan,
      hits.filter((x) => kinds(x.kind)).flatMap((x) => x.pan),
    )
  const freePan = left(() => true)
  const freePanBare = left((k) => k !== 'stack')
  const byTilt = steps(h.tilt, step).map((tilt) => ({
    tilt,
    free: without(
      h.pan,
      met.flatMap(({ o }) => blockedPans(h, o, [tilt, tilt])),
    ),
  }))
  const report = { item, pan: h.pan, tilt: h.tilt, swept, hits, freePan, freePanBare, byTilt }
  return { ...report, findings: findingsOf(layout, body, report) }
}

function filled(o: Obstacle, share: number): Obstacle[] {
  if (o.kind !== 'stack') return [o]
  return share > 0 ? [{ ...o, z: [o.z[0], o.z[0] + (o.z[1] - o.z[0]) * Math.min(1, share)] }] : []
}

function steps([lo, hi]: Interval, step: number): number[] {
  const out = [lo]
  for (let k = Math.floor(lo / step) + 1; k * step < hi; k++) out.push(k * step)
  if (hi > lo) out.push(hi)
  return out
}

/** Tilts that one pan leaves; for a slider. Undefined where the item is no placed head that says what it carries. */
export function freeTilts(
  problem: Problem,
  placements: readonly Placement[],
  item: number,
  pan: number,
): Interval[] | undefined {
  const layout = layoutOf(problem, placements)
  const body = layout.bodyOf.get(item)
  const h = body && headParts(problem, body)
  if (!body || !h) return undefined
  const obstacles = othersOf(obstaclesOf(layout), item)
  return without(
    h.tilt,
    obstacles.flatMap((o) => blockedTilts(h, o, pan)),
  )
}

/** Rounding of angles and of mm. */
const FINE = 1e-6

function findingsOf(layout: Layout, body: Body, r: Omit<HeadReport, 'findings'>): StaticsFinding[] {
  const findings: StaticsFinding[] = []
  const called = (hit: HeadHit) => ({ kind: hit.kind, called: obstacleCalled(layout.problem, hit) })
  const solid = r.hits.filter((x) => x.kind !== 'stack')
  const stacks = r.hits.filter((x) => x.kind === 'stack' && !solid.some((s) => s.id === x.id && s.kind === 'body'))
  for (const hit of solid) {
    const text = found.headBlocked(called(hit), hit.parts, r.item, hit.pan, r.freePan)
    findings.push({ kind: 'head-blocked', topic: 'head', weight: 'stops', items: [r.item, hit.id], text })
  }
  for (const hit of stacks) {
    const text = found.headBlocked(called(hit), hit.parts, r.item, hit.pan, r.freePan)
    const items = [r.item, hit.id]
    findings.push({ kind: 'head-blocked-by-stack', topic: 'head', weight: 'worth-knowing', items, text })
  }
  const tilts = r.byTilt.filter((t) => t.free.length === 1 && whole(t.free[0]!, r.pan)).map((t) => t.tilt)
  if (r.hits.length > 0 && tilts.length > 0 && tilts.length < r.byTilt.length) {
    const text = found.headRange(r.item, tilts)
    findings.push({ kind: 'head-range', topic: 'head', weight: 'worth-knowing', items: [r.item], text })
  }
  const stated = sweepOf(layout.problem, body)
  const head = body.item.footprint.head!
  if (stated) {
    const far = r.swept.reach - Math.max(head.reach, head.tail) / 1000
    const low = stated.z[0] / 1000 - r.swept.z[0]
    const high = r.swept.z[1] - stated.z[1] / 1000
    const past = (by: number): number | undefined => (by > FINE ? by : undefined)
    if (far > FINE || low > FINE || high > FINE) {
      const text = found.headBeyondSweep(r.item, { farther: past(far), lower: past(low), higher: past(high) })
      findings.push({ kind: 'head-beyond-sweep', topic: 'head', weight: 'worth-knowing', items: [r.item], text })
    }
  }
  return findings
}

const whole = (free: Interval, pan: Interval): boolean => free[0] <= pan[0] + FINE && free[1] >= pan[1] - FINE
