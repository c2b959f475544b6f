/** Between a solve and a layout file: results written down, files laid over a problem again. */
import { PITCH } from '../../footprints/pitch.ts'
import { oneOf, pathText, snippet } from '../../footprints/problems.ts'
import type { Figures, Finding, ObjectiveValue, Placement, Problem, SolveResult } from '../../solver/index.ts'
import { figures, mm, type Turn, toMm } from '../../solver/index.ts'
import type { LayoutFile } from './layout-file.ts'
import { laid } from './words.ts'

/** Names in lengths (mm in files, Um inside). */
const LENGTHS: ReadonlySet<string> = new Set(['wire-length', 'balance'])
const MOST_HINTS = 100

const round = (value: number, places: number): number => Math.round(value * 10 ** places) / 10 ** places
/** mm² of free contact area: points × PITCH². */
export const freeArea = (points: number): number => round(points * PITCH * PITCH, 2)

/** What a solve returned, as a layout file. `seconds` from reading the project to the answer. */
export function layoutOf(problem: Problem, result: SolveResult, seconds: number): LayoutFile {
  const head = {
    format: 'deckwright-layout',
    version: 1,
    project: problem.name,
    variant: problem.variant,
    status: result.status,
  } as const
  const tail = { grid: toMm(problem.grid), seconds: round(seconds, 3) }
  switch (result.status) {
    case 'unknown':
      return { ...head, objectives: [], placements: [], leftOut: [], wires: [], ...tail }
    case 'infeasible':
      return {
        ...head,
        objectives: [],
        placements: [],
        leftOut: [],
        wires: [],
        ...tail,
        conflict: result.conflict.map((m) => ({ rule: m.rule, items: [...m.items], text: m.text })),
        ...(result.conflictIrreducible ? {} : { conflictIrreducible: false }),
      }
    case 'optimal':
    case 'feasible':
      return {
        ...head,
        objectives: result.objectives.map(objectiveToFile),
        placements: placementsToFile(problem, result.placements),
        leftOut: leftOut(problem, result.placements),
        wires: wiresToFile(problem, result.figures),
        freeTiePoints: result.figures.freeTiePoints,
        freeArea: freeArea(result.figures.freeTiePoints),
        ...tail,
      }
  }
}

/** A value of an objective as files and lines of JSON have it: lengths in mm to 0.001. */
export const valueInFile = (name: string, value: number): number =>
  LENGTHS.has(name) ? round(value / 1000, 3) : round(value, 6)

/** Its bound. Of lengths least is best, so theirs is rounded down: it must not promise more than was proven. */
export const boundInFile = (name: string, bound: number): number =>
  LENGTHS.has(name) ? Math.floor(bound + 1e-6) / 1000 : round(bound, 6)

const objectiveToFile = ({ name, value, bound, proven }: ObjectiveValue) => ({
  name,
  value: valueInFile(name, value),
  bound: boundInFile(name, bound),
  proven,
})

/** What commands give of a layout beside it. */
export const figuresInFile = (f: Figures) => ({
  freeTiePoints: f.freeTiePoints,
  optionalValue: valueInFile('optional-value', f.optionalValue),
  wireLength: valueInFile('wire-length', f.wireLength),
  ...(f.balance === undefined ? {} : { balance: valueInFile('balance', f.balance) }),
})

/** Placements by the items' order, as a file has them. */
export function placementsToFile(problem: Problem, placements: readonly Placement[]): LayoutFile['placements'] {
  return [...placements]
    .sort((a, b) => a.item - b.item)
    .map((p) => ({
      item: problem.items[p.item]!.id,
      deck: problem.decks[p.deck]!.id,
      at: [toMm(p.at.x), toMm(p.at.y)],
      turn: p.turn,
      ...(p.host === undefined ? {} : { host: problem.items[p.host]!.id }),
    }))
}

/** Ids of the items that a layout leaves out. */
export function leftOut(problem: Problem, placements: readonly Placement[]): string[] {
  const placed = new Set(placements.map((p) => p.item))
  return problem.items.filter((_, i) => !placed.has(i)).map((i) => i.id)
}

const wiresToFile = (problem: Problem, f: Figures) =>
  f.wires.map((w) => ({ id: problem.wires[w.wire]!.id, length: toMm(w.length), cut: toMm(w.cut) }))

export interface Laid {
  readonly placements: readonly Placement[]
  /** R10: what the file places that the variant does not have. */
  readonly findings: readonly Finding[]
  /** The same for a list of problems; no `expected` where nobody looked. */
  readonly strange: readonly { readonly found: string; readonly expected?: string }[]
  /** Sentences about hosts that mean nothing, and figures that are missing or wrong. They change nothing. */
  readonly warnings: readonly string[]
}

/**
 * A layout file laid over the problem it is of: names to indices, figures compared with those worked out from the placements.
 * An entry that names an unknown item or deck becomes a finding and no placement; one that names an unknown host has none, nor has
 * one of what does not plug in.
 */
export function placementsOf(problem: Problem, layout: LayoutFile): Laid {
  const itemIndex = new Map(problem.items.map((i, k) => [i.id, k]))
  const deckIndex = new Map(problem.decks.map((d, k) => [d.id, k]))
  const findings: Finding[] = []
  const strange: Laid['strange'][number][] = []
  const placements: Placement[] = []
  const times = new Map<number, number>()
  const unknown = (
    items: readonly string[],
    what: 'item' | 'deck' | 'host',
    name: string,
    known: ReadonlyMap<string, number>,
  ) => {
    // Looking for what may have been meant takes its time, and nobody reads it a thousand times.
    const near = findings.length < MOST_HINTS ? oneOf([...known.keys()], name) : undefined
    const text = laid.unknown(what, JSON.stringify(name), problem.variant, near)
    findings.push({ rule: 'R10', items, text, by: 0 })
    strange.push({ found: laid.named(what, JSON.stringify(name)), ...(near === undefined ? {} : { expected: near }) })
  }
  const warnings: string[] = []
  for (const [i, p] of layout.placements.entries()) {
    const item = itemIndex.get(p.item)
    const deck = deckIndex.get(p.deck)
    const host = p.host === undefined ? undefined : itemIndex.get(p.host)
    if (item === undefined) unknown([p.item], 'item', p.item, itemIndex)
    if (deck === undefined) unknown([p.item, p.deck], 'deck', p.deck, deckIndex)
    if (p.host !== undefined && host === undefined) unknown([p.item, p.host], 'host', p.host, itemIndex)
    if (item === undefined || deck === undefined) continue
    // Twice is once too often already; a thousand times would only cost the checker its time.
    const count = (times.get(item) ?? 0) + 1
    times.set(item, count)
    if (count > 2) continue
    const at = { x: mm(p.at[0]), y: mm(p.at[1]) }
    const plugs = problem.items[item]!.footprint.mount.kind === 'plug-in'
    if (host !== undefined && !plugs) {
      warnings.push(laid.hostOfNone(pathText(['placements', i, 'host']), snippet(p.host), snippet(p.item)))
    }
    placements.push({ item, deck, at, turn: (p.turn ?? 0) as Turn, ...(host === undefined || !plugs ? {} : { host }) })
  }
  const once = findings.length === 0 && [...times.values()].every((n) => n === 1)
  if (once) warnings.push(...compared(problem, layout, placements))
  return { placements, findings, strange, warnings }
}

/** What the file says against what the placements say. */
function compared(problem: Problem, layout: LayoutFile, placements: readonly Placement[]): string[] {
  const f = figures(problem, placements)
  // Where no layout was found nothing was left out by choice, and there is nothing to have figures of.
  const none = placements.length === 0 && (layout.status === 'infeasible' || layout.status === 'unknown')
  const warnings: string[] = []
  const missing: string[] = []
  const number = (name: string, stated: number | undefined, right: number, tolerance: number) => {
    if (stated === undefined) missing.push(name)
    else if (Math.abs(stated - right) > tolerance * 0.5001) {
      warnings.push(laid.differs(name, stated, right))
    }
  }
  if (layout.project !== undefined && layout.project !== problem.name) {
    warnings.push(laid.ofProject(JSON.stringify(layout.project), JSON.stringify(problem.name)))
  }
  const values: Record<string, number | undefined> = {
    'free-tie-points': f.freeTiePoints,
    'optional-value': valueInFile('optional-value', f.optionalValue),
    'new-holes': f.newHoles,
    'wire-length': valueInFile('wire-length', f.wireLength),
    balance: f.balance === undefined ? undefined : valueInFile('balance', f.balance),
  }
  for (const name of problem.objective) {
    const right = values[name]
    if (right === undefined) continue
    const stated = layout.objectives?.find((o) => o.name === name)?.value
    number(laid.objective(name), stated, right, name === 'balance' ? 0.02 : LENGTHS.has(name) ? 0.002 : 1e-6)
  }
  const out = none ? [] : leftOut(problem, placements)
  if (layout.leftOut === undefined) missing.push('leftOut')
  else if ([...layout.leftOut].sort().join('\n') !== [...out].sort().join('\n')) {
    warnings.push(laid.leftOut(layout.leftOut, out))
  }
  const stated = new Map((layout.wires ?? []).map((w) => [w.id, w]))
  if (layout.wires === undefined) missing.push('wires')
  else {
    for (const w of wiresToFile(problem, f)) {
      number(laid.wireLength(w.id), stated.get(w.id)?.length, w.length, 0.002)
      number(laid.cutLength(w.id), stated.get(w.id)?.cut, w.cut, 0.002)
      stated.delete(w.id)
    }
    for (const id of stated.keys()) warnings.push(laid.noSuchWire(id))
  }
  number('freeTiePoints', layout.freeTiePoints, f.freeTiePoints, 1e-6)
  number('freeArea', layout.freeArea, freeArea(f.freeTiePoints), 0.02)
  number('grid', layout.grid, toMm(problem.grid), 0.001)
  if (missing.length > 0 && !none) warnings.push(laid.missing(missing))
  return warnings
}
