/**
 * From project to problem: one variant, copies expanded, defaults filled in, every name an index, every length whole
 * micrometres. The project must have been read OK.
 */
import { shapeToSolver } from '../../footprints/fields.ts'
import { type FootprintFile, footprintToSolver } from '../../footprints/schema.ts'
import type { Deck, Footprint, Item, ItemRef, Place, Problem, Wire, WireEnd, Zone } from '../../solver/problem.ts'
import type { NetAsked, NetEnd } from '../../solver/terminals.ts'
import { mm, type Point, type Um } from '../../solver/units.ts'
import {
  OBJECTIVES,
  type Project,
  type ProjectDeck,
  type ProjectItem,
  type ProjectNet,
  type ProjectPlace,
  type ProjectWire,
  type ProjectZone,
} from './schema.ts'
import { applyVariant, baseOf } from './variants.ts'
import { fresh } from './words.ts'

/** Contract §3, in mm. */
export const DEFAULTS = { grid: 1, edgeClearance: 0, itemClearance: 0, minWeb: 2 } as const

const point = ([x, y]: readonly [number, number]): Point => ({ x: mm(x), y: mm(y) })
const given = <K extends string, V>(key: K, value: V | undefined): { [k in K]?: V } =>
  value === undefined ? {} : ({ [key]: value } as { [k in K]?: V })
const lengthIf = (value: number | undefined): Um | undefined => (value === undefined ? undefined : mm(value))

/**
 * Throws a RangeError where the project has no such variant. Wires of `later` items are left out; a `place` entry that names
 * an item the variant omits has no indices.
 */
export function toProblem(project: Project, variant: string, library: ReadonlyMap<string, FootprintFile>): Problem {
  const asked = applyVariant(project, variant)
  const deckIndex = new Map(asked.decks.map((d, i) => [d.id, i]))
  const exits = asked.exits ?? []
  const exitIndex = new Map(exits.map((e, i) => [e.id, i]))

  const files = new Map(library)
  for (const f of asked.footprints ?? []) files.set(f.id, f)
  const parts = new Map<string, Footprint>()
  const part = (id: string): Footprint => {
    const known = parts.get(id)
    if (known !== undefined) return known
    const made = footprintToSolver(files.get(id)!)
    parts.set(id, made)
    return made
  }

  const copies = new Map<string, number[]>()
  const sources: { id: string; item: ProjectItem }[] = []
  for (const item of asked.items) {
    const count = item.count ?? 1
    const mine: number[] = []
    for (let k = 1; k <= count; k++) {
      mine.push(sources.length)
      sources.push({ id: count === 1 ? item.id : `${item.id}#${k}`, item })
    }
    copies.set(item.id, mine)
  }
  const refer = (name: string): ItemRef => {
    const all = copies.get(baseOf(name)) ?? []
    const k = name.includes('#') ? Number(name.slice(name.indexOf('#') + 1)) : 0
    if (k === 1 && all.length === 1) return { name: baseOf(name), items: all, numbered: true }
    return { name, items: k === 0 ? all : all.slice(k - 1, k) }
  }
  const deckOf = (id: string): number => deckIndex.get(id)!

  const everywhere = asked.decks.map((_, i) => i)
  const items = sources.map(({ id, item }): Item => {
    const side = item.overhang ?? {}
    return {
      id,
      base: item.id,
      footprint: part(item.footprint),
      required: item.required ?? true,
      value: item.value ?? 1,
      turns: [...new Set(item.turns ?? ([0, 1, 2, 3] as const))],
      decks: (item.decks ?? []).length === 0 ? everywhere : [...new Set(item.decks)].map(deckOf),
      place: (item.place ?? []).map((p) => placeToSolver(p, deckOf, refer)),
      stack: mm(item.stack ?? 0),
      later: item.later ?? false,
      overhang: {
        front: mm(side.front ?? 0),
        back: mm(side.back ?? 0),
        left: mm(side.left ?? 0),
        right: mm(side.right ?? 0),
      },
      ...given('stackMass', item.stackMass === undefined ? undefined : ([...item.stackMass] as const)),
      ...given('laterMass', item.laterMass),
      ...given('laterReach', lengthIf(item.laterReach)),
    }
  })

  const later = new Set(asked.items.filter((i) => i.later === true).map((i) => i.id))
  const laterEnd = (end: ProjectWire['from']) => 'item' in end && later.has(baseOf(end.item))
  const endToSolver = (end: ProjectWire['from']): WireEnd => {
    if ('exit' in end) return { kind: 'exit', exit: exitIndex.get(end.exit)! }
    const ref = refer(end.item)
    const terminal = items[ref.items[0]!]!.footprint.terminals.find((t) => t.id === end.terminal)!
    return { kind: 'item', ref, terminal: end.terminal, at: terminal.at }
  }

  // What comes later has no ends yet.
  const there = (name: string | undefined): number[] =>
    name === undefined || later.has(baseOf(name)) ? [] : refer(name).items.slice(0, 1)
  const netToSolver = (n: ProjectNet): NetAsked => ({
    id: n.id,
    ends: n.ends.flatMap((e): NetEnd[] => {
      if (e.exit !== undefined) return [{ kind: 'exit', exit: exitIndex.get(e.exit)! }]
      return there(e.item).map((item) =>
        e.any === undefined ? { kind: 'terminal', item, terminal: e.terminal! } : { kind: 'any', item, any: e.any },
      )
    }),
    ...given('switch', there(n.switch)[0]),
  })

  const wires = asked.wires ?? []
  const waits = (w: ProjectWire) => laterEnd(w.from) || laterEnd(w.to)
  const unseen = [
    ...wires.filter(waits).flatMap((w) => [w.from, w.to].map((end) => ('item' in end ? end.item : undefined))),
    ...wires.map((w) => w.supply),
    ...(asked.nets ?? []).flatMap((n) => [n.switch, ...n.ends.map((e) => e.item)].filter((i) => there(i).length === 0)),
  ]
  const named = new Set(unseen.filter((name): name is string => typeof name === 'string' && name.includes('#')))

  return {
    name: asked.name,
    variant,
    grid: mm(asked.settings?.grid ?? DEFAULTS.grid),
    edgeClearance: mm(asked.settings?.edgeClearance ?? DEFAULTS.edgeClearance),
    itemClearance: mm(asked.settings?.itemClearance ?? DEFAULTS.itemClearance),
    minWeb: mm(asked.settings?.minWeb ?? DEFAULTS.minWeb),
    decks: asked.decks.map((d) => deckToSolver(d, asked.decks)),
    ...(asked.chassis === undefined
      ? {}
      : {
          chassis: {
            contact: asked.chassis.contact.map(([x, y]) => point([x, y])),
            mass: asked.chassis.mass,
            centre: { ...point([asked.chassis.centre[0], asked.chassis.centre[1]]), z: mm(asked.chassis.centre[2]) },
          },
        }),
    exits: exits.map((e) => ({
      id: e.id,
      deck: deckOf(e.deck),
      at: point(e.at),
      ...given('free', lengthIf(e.free)),
      ...given('diameter', lengthIf(e.diameter)),
      ...given('kind', e.kind),
    })),
    passes: (asked.passes ?? []).map((p) => ({
      id: p.id,
      decks: [deckOf(p.decks[0]), deckOf(p.decks[1])],
      at: point(p.at),
      ...given('diameter', lengthIf(p.diameter)),
    })),
    items,
    zones: (asked.zones ?? []).map((z) => zoneToSolver(z, deckOf)),
    wires: wires
      .filter((w) => !waits(w))
      .map(
        (w): Wire => ({
          id: w.id,
          from: endToSolver(w.from),
          to: endToSolver(w.to),
          ...given('maxLength', lengthIf(w.maxLength)),
          loop: mm(w.loop ?? 0),
          conductors: w.conductors ?? 1,
          ...given('gauge', w.gauge),
          ...given('colour', w.colour),
        }),
      ),
    objective: asked.objective ?? OBJECTIVES.filter((o) => o !== 'new-holes'),
    ...given('nets', asked.nets?.map(netToSolver)),
    ...given('named', named.size > 0 ? [...named] : undefined),
    ...given('leastTipAngle', asked.settings?.leastTipAngle),
    ...given('mostTrackShare', asked.settings?.mostTrackShare),
  }
}

/** Decks of one name are told apart by their ids. */
function deckToSolver(d: ProjectDeck, all: readonly ProjectDeck[]): Deck {
  const name = d.name || d.id
  const alone = all.every((other) => other === d || (other.name || other.id) !== name)
  return {
    id: d.id,
    name: alone ? name : fresh.sameName(name, d.id),
    z: mm(d.z),
    thickness: mm(d.thickness),
    outline: shapeToSolver(d.outline),
    openings: (d.openings ?? []).map((o) => ({
      id: o.id,
      shape: shapeToSolver(o.shape),
      mayCover: o.mayCover ?? false,
      ...(o.strap === true ? { strap: true } : {}),
    })),
    holes: (d.holes ?? []).map((h) => ({ id: h.id, at: point(h.at), diameter: mm(h.diameter) })),
    ...given('material', d.material),
  }
}

function zoneToSolver(z: ProjectZone, deckOf: (id: string) => number): Zone {
  return {
    id: z.id,
    kind: z.kind,
    deck: deckOf(z.deck),
    shape: shapeToSolver(z.shape),
    ...given('z', z.z === undefined ? undefined : ([mm(z.z[0]), mm(z.z[1])] as const)),
    ...given('why', z.why),
  }
}

function placeToSolver(p: ProjectPlace, deckOf: (id: string) => number, refer: (name: string) => ItemRef): Place {
  switch (p.kind) {
    case 'at':
      return { kind: 'at', deck: deckOf(p.deck), at: point(p.at), ...given('turn', p.turn) }
    case 'centred':
      return { kind: 'centred', axis: p.axis }
    case 'edge':
      return { kind: 'edge', edge: p.edge, within: mm(p.within) }
    case 'inside':
      return { kind: 'inside', shape: shapeToSolver(p.shape) }
    case 'near':
      return { kind: 'near', item: refer(p.item), within: mm(p.within) }
    case 'beyond':
      return { kind: 'beyond', item: refer(p.item), side: p.side }
    case 'host':
      return { kind: 'host', item: refer(p.item) }
  }
}
