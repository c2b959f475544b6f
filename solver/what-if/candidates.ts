/** What could be loosened so that a conflict goes away: only what its members rest on, since nothing else can undo it. */

import type { Problem } from '../problem.ts'
import type { ConflictMember } from '../result.ts'
import { bounds, prepare } from '../shapes.ts'
import { type Um, um } from '../units.ts'
import { asksPlaced, asked as words } from '../words-asked.ts'
import { type Change, COARSE, copiesOf, FINE, isNamedAlone, type Setting } from './change.ts'
import { LONGEST, resizedDeck, sizeOf } from './outline.ts'
import type { Case } from './trial.ts'

/** One thing that may be loosened, in steps 1 … `steps`, the smallest first. */
export interface Candidate {
  /** The same key, the same candidate. */
  readonly key: string
  readonly steps: number
  /** Whatever fits at one step fits at every larger one. */
  readonly monotone: boolean
  /** Undefined where there is no such step between others: then it does not work. */
  readonly changes: (step: number) => readonly Change[] | undefined
  /** The relative change, by which loosenings are ordered: see README. */
  readonly cost: (step: number) => number
}

const settingOf: Readonly<Record<string, Setting>> = { R1: 'edgeClearance', R2: 'itemClearance', R5: 'minWeb' }

/** Candidates in the order of README.md. */
export function candidatesOf(asked: Case, conflict: readonly ConflictMember[], keep: ReadonlySet<string>): Candidate[] {
  const { problem } = asked
  const out = new Map<string, Candidate>()
  const add = (list: readonly Candidate[]) => {
    for (const c of list) if (!out.has(c.key)) out.set(c.key, c)
  }
  for (const m of conflict) add(settings(problem, m.rule))
  for (const m of conflict) if (m.rule === 'R7') add(wires(problem, m.items[0]!))
  const places = conflict.flatMap((m) => placesOf(asked, m))
  for (const p of places) if (p.entry !== undefined) add(withins(problem, p.item, p.entry))
  for (const d of decksOf(problem, conflict, places)) add(outlines(problem, d))
  for (const m of conflict) add(zones(problem, m))
  for (const p of places) add(released(asked, p))
  for (const m of conflict)
    if (asksPlaced(m))
      for (const i of itemsNamed(problem, m.items[0]!)) if (!keep.has(problem.items[i]!.base)) add(fewer(problem, i))
  return [...out.values()]
}

function settings(problem: Problem, rule: string): Candidate[] {
  const setting = settingOf[rule]
  if (setting === undefined || problem[setting] <= 0) return []
  const from = problem[setting]
  const steps = Math.ceil(from / FINE)
  const at = (k: number) => um(Math.max(0, (steps - k) * FINE))
  return [
    {
      key: setting,
      steps,
      monotone:
        setting !== 'edgeClearance' || problem.items.every((i) => Object.values(i.overhang).every((o) => o === 0)),
      changes: (k) => [{ kind: 'setting', setting, from, to: at(k) }],
      cost: (k) => (from - at(k)) / from,
    },
  ]
}

/** Steps up to what could matter, as long as a file may say so. */
const stepsTo = (most: number, from: number): number =>
  Math.max(0, Math.min(Math.ceil((most - from) / COARSE), Math.floor((LONGEST - from) / COARSE)))

/** A limit may stand on the wire, on its exits, or on both: what is below the new length grows to it. */
function wires(problem: Problem, id: string): Candidate[] {
  const wire = problem.wires.find((w) => w.id === id)
  if (!wire) return []
  const exits = [wire.from, wire.to].flatMap((n) => (n.kind === 'exit' ? [problem.exits[n.exit]!] : []))
  const limits = [wire.maxLength, ...exits.map((e) => e.free)].filter((l): l is Um => l !== undefined)
  if (limits.length === 0) return []
  const from = Math.min(...limits)
  const low = problem.decks.reduce((z, d) => Math.min(z, d.z), Number.POSITIVE_INFINITY)
  const high = problem.decks.reduce((z, d) => Math.max(z, d.z), Number.NEGATIVE_INFINITY)
  // farther than all is large, there and back for every deck on a way through passes, no wire needs to go
  const { length, width } = reachOf(problem)
  const most = 2 * problem.decks.length * (length + width) + 2 * (high - low)
  const steps = stepsTo(most + wire.loop, from)
  const changes = (k: number): Change[] => {
    const to = um(from + k * COARSE)
    const own: Change[] =
      wire.maxLength !== undefined && wire.maxLength < to
        ? [{ kind: 'max-length', wire: id, from: wire.maxLength, to }]
        : []
    return [
      ...own,
      ...exits.flatMap((e): Change[] =>
        e.free !== undefined && e.free < to ? [{ kind: 'free', exit: e.id, from: e.free, to }] : [],
      ),
    ]
  }
  return steps < 1
    ? []
    : [{ key: `wire/${id}`, steps, monotone: true, changes, cost: (k) => (k * COARSE) / Math.max(from, COARSE) }]
}

interface Named {
  readonly item: number
  /** Index among the item's place entries; undefined for a hold. */
  readonly entry: number | undefined
}

/** The place entries, or the hold, that a member of the conflict speaks of. */
function placesOf({ problem, pins }: Case, m: ConflictMember): Named[] {
  if (m.rule !== 'R10') return []
  // what need not be there is placed because it is held
  if (asksPlaced(m))
    return itemsNamed(problem, m.items[0]!)
      .filter((item) => !problem.items[item]!.required && pins.some((h) => h.item === item))
      .map((item) => ({ item, entry: undefined }))
  return itemsNamed(problem, m.items[0]!).flatMap((item): Named[] => {
    const entries = problem.items[item]!.place.map((p, entry) => ({ p, entry }))
    const meant = entries.filter(({ p }) => m.text === words.place(m.items[0]!, p, problem.decks))
    const pin = pins.find((h) => h.item === item)
    const held = pin && m.text === words.at(m.items[0]!, pin, problem.decks) ? [{ item, entry: undefined }] : []
    return [...meant.map(({ entry }) => ({ item, entry })), ...held]
  })
}

function withins(problem: Problem, index: number, entry: number): Candidate[] {
  const item = problem.items[index]!
  const place = item.place[entry]!
  if (place.kind !== 'edge' && place.kind !== 'near') return []
  const from = place.within
  const across = (s: { length: number; width: number }) =>
    place.kind === 'near' ? s.length + s.width : place.edge === 'front' || place.edge === 'back' ? s.length : s.width
  const size = Math.max(...problem.decks.map((d) => across(sizeOf(d.outline))))
  const most = place.kind === 'near' ? across(reachOf(problem)) : size + beyond(problem)
  const steps = stepsTo(most, from)
  const changes = (k: number): Change[] => [
    { kind: 'within', item: item.base, entry, place, from, to: um(from + k * COARSE) },
  ]
  return steps < 1
    ? []
    : [{ key: `within/${item.base}/${entry}`, steps, monotone: true, changes, cost: (k) => (k * COARSE) / size }]
}

/** Decks whose size a member looks at: outlines by R1 and R5, the bounding box by `edge` and `centred`. */
function decksOf(problem: Problem, conflict: readonly ConflictMember[], places: readonly Named[]): number[] {
  const out = new Set<number>()
  const standsOn = (i: number) => {
    for (const d of problem.items[i]!.decks) out.add(d)
  }
  for (const m of conflict)
    if (m.rule === 'R1' || m.rule === 'R5')
      for (const id of m.items) for (const i of itemsNamed(problem, id)) standsOn(i)
  for (const p of places) {
    const kind = p.entry === undefined ? undefined : problem.items[p.item]!.place[p.entry]!.kind
    if (kind === 'edge' || kind === 'centred') standsOn(p.item)
  }
  return [...out].sort((a, b) => a - b)
}

/** By how much a body, or where a wire ends on it, may lie beyond a deck's edge. */
function beyond({ items }: Problem): number {
  const over = items.flatMap(({ overhang, footprint: { width, depth, terminals } }) => [
    ...Object.values(overhang),
    ...terminals.flatMap(({ at: { x, y } }) =>
      [-x, x - width, -y, y - depth].map((d) => d + Math.max(...Object.values(overhang))),
    ),
  ])
  return Math.max(0, ...over)
}

/** Length and width of what holds all decks, exits and passes, and what hangs over. */
function reachOf(problem: Problem): { readonly length: number; readonly width: number } {
  const { decks, exits, passes } = problem
  const more = 2 * beyond(problem)
  const boxes = decks.map((d) => bounds(prepare(d.outline)))
  const points = [...exits, ...passes].map((p) => p.at)
  const span = (lo: number[], hi: number[]) => Math.max(...hi) - Math.min(...lo)
  const [xs, ys] = [points.map((p) => p.x), points.map((p) => p.y)]
  return {
    length: more + span([...boxes.map((b) => b.y), ...ys], [...boxes.map((b) => b.y + b.h), ...ys]),
    width: more + span([...boxes.map((b) => b.x), ...xs], [...boxes.map((b) => b.x + b.w), ...xs]),
  }
}

/** A deck up to twice as long or as wide. */
function outlines(problem: Problem, deck: number): Candidate[] {
  const { id, name, outline } = problem.decks[deck]!
  const size = sizeOf(outline)
  const grown = (by: number, long: boolean) => resizedDeck(problem, deck, um(long ? by : 0), um(long ? 0 : by))
  return [true, false].flatMap((long): Candidate[] => {
    const from = long ? size.length : size.width
    let steps = Math.floor(Math.min(from, LONGEST - from) / COARSE)
    while (steps > 0 && !grown(steps * COARSE, long)) steps--
    if (steps < 1) return []
    const changes = (k: number): Change[] | undefined => {
      const by = k * COARSE
      const made = grown(by, long)
      if (!made) return undefined
      const to = { length: um(size.length + (long ? by : 0)), width: um(size.width + (long ? 0 : by)) }
      return [
        { kind: 'outline', deck: id, name, longer: um(long ? by : 0), wider: um(long ? 0 : by), outline: made, to },
      ]
    }
    const key = `deck/${id}/${long ? 'length' : 'width'}`
    return [{ key, steps, monotone: grows(problem, deck, long), changes, cost: (k) => (k * COARSE) / from }]
  })
}

/**
 * Whether a layout on the smaller deck is one on the larger too: a rectangle grows, nothing looks at the far edge, and
 * nothing hangs, or swings, under the deck.
 */
export function grows(problem: Problem, deck: number, long: boolean): boolean {
  const d = problem.decks[deck]!
  const far = long ? 'front' : 'right'
  const axis = long ? 'y' : 'x'
  return (
    d.outline.kind === 'rect' &&
    problem.decks.every((o) => o.z >= d.z) &&
    problem.items.every(
      ({ decks, footprint: { head } }) =>
        !head || decks.every((o) => o === deck || problem.decks[o]!.z + head.z[0] >= d.z),
    ) &&
    problem.items.every(
      (i) =>
        !i.decks.includes(deck) ||
        (i.overhang[far] === 0 &&
          i.place.every((p) => !(p.kind === 'edge' && p.edge === far) && !(p.kind === 'centred' && p.axis === axis))),
    )
  )
}

/** The zone of an R4 member; for holes the `underside` zones of the decks where they may be. */
function zones(problem: Problem, m: ConflictMember): Candidate[] {
  if (m.rule !== 'R4' && m.rule !== 'R5') return []
  const decks = new Set(m.items.flatMap((id) => itemsNamed(problem, id)).flatMap((i) => problem.items[i]!.decks))
  const meant = problem.zones.filter((z) =>
    m.rule === 'R4' ? z.id === m.items[1] : m.items.length === 1 && z.kind === 'underside' && decks.has(z.deck),
  )
  return meant.map((z) => once(`zone/${z.id}`, { kind: 'release', zone: z.id }, 1))
}

function released({ problem }: Case, { item, entry }: Named): Candidate[] {
  const { base, id, place } = problem.items[item]!
  if (entry === undefined) return [once(`hold/${id}`, { kind: 'let-go', item: id }, 1)]
  return [once(`place/${base}/${entry}`, { kind: 'no-place', item: base, entry, place: place[entry]! }, 1)]
}

/** One copy fewer, or the item left out where there is only one. */
function fewer(problem: Problem, index: number): Candidate[] {
  const { base, required } = problem.items[index]!
  const copies = copiesOf(problem, base)
  if (!required) return []
  if (copies.length === 1) return [once(`item/${base}`, { kind: 'optional', item: base }, 1)]
  if (isNamedAlone(problem, copies[copies.length - 1]!)) return []
  const change = { kind: 'count', item: base, from: copies.length, to: copies.length - 1 } as const
  return [once(`item/${base}`, change, 1 / copies.length)]
}

const once = (key: string, change: Change, cost: number): Candidate => ({
  key,
  steps: 1,
  monotone: true,
  changes: () => [change],
  cost: () => cost,
})

/** Items that an id of a conflict stands for: one, or all copies of one. */
const itemsNamed = (problem: Problem, id: string): number[] =>
  problem.items.flatMap((i, k) => (i.id === id || i.base === id ? [k] : []))
