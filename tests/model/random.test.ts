/** Random projects that are right, and random damage: reads never throw, never hang, and OK means usable. */

import { describe, expect, it } from 'vitest'
import type { Problem } from '../../solver/index.ts'
import {
  formatProblem,
  layoutOf,
  type Project,
  placementsOf,
  type Read,
  readLayout,
  readProject,
  toProblem,
  variantsOf,
  writeProject,
} from '../../src/model/index.ts'
import fc from '../seeded.ts'
import { full } from './full-project.ts'

const none = new Map()

/** Every index in range, every length whole: what the solver may count on. */
function expectSound(p: Problem): void {
  const within = (i: number, list: readonly unknown[]) => expect(list[i]).toBeDefined()
  for (const e of p.exits) within(e.deck, p.decks)
  for (const s of p.passes) for (const d of s.decks) within(d, p.decks)
  for (const z of p.zones) within(z.deck, p.decks)
  for (const i of p.items) {
    expect(i.decks.length).toBeGreaterThan(0)
    for (const d of i.decks) within(d, p.decks)
    for (const q of i.place) {
      if (q.kind === 'at') within(q.deck, p.decks)
      if ('item' in q) for (const k of q.item.items) within(k, p.items)
    }
  }
  for (const w of p.wires) {
    for (const end of [w.from, w.to]) {
      if (end.kind === 'exit') within(end.exit, p.exits)
      else {
        expect(end.ref.items.length).toBeGreaterThan(0)
        for (const k of end.ref.items) within(k, p.items)
      }
    }
  }
  expect(p.items.length).toBeLessThanOrEqual(500)
  expect(new Set(p.items.map((i) => i.id)).size).toBe(p.items.length)
  const text = JSON.stringify({ ...p, items: p.items.map((i) => i.overhang) })
  expect(text).not.toMatch(/null|NaN/)
}

const mm = fc.double({ min: -500, max: 500, noNaN: true })
const size = fc.double({ min: 0.001, max: 300, noNaN: true })
const free = fc.double({ min: 0, max: 300, noNaN: true })
const id = fc.string({ minLength: 1, maxLength: 6 }).filter((s) => !s.includes('#'))
const ids = (min: number, max: number) => fc.uniqueArray(id, { minLength: min, maxLength: max })
const maybe = <T>(a: fc.Arbitrary<T>) => fc.option(a, { nil: undefined })
const point = fc.tuple(mm, mm)

const shape = fc.oneof(
  fc.record({ rect: fc.tuple(mm, mm, size, size) }),
  fc.tuple(mm, mm, size, size, fc.double({ min: 0, max: 0.5, noNaN: true })).map(([x, y, w, h, k]) => ({
    rect: [x, y, w, h] as [number, number, number, number],
    radius: k * Math.min(w, h),
  })),
  fc.record({ circle: fc.tuple(mm, mm, size) }),
  fc
    .tuple(mm, mm, size, fc.integer({ min: -360, max: 360 }), fc.integer({ min: 1, max: 360 }))
    .map(([x, y, r, from, sweep]) => ({
      sector: [x, y, r, from, from + sweep] as [number, number, number, number, number],
    })),
  // Star-shaped about its middle, so never crossing itself.
  fc
    .tuple(point, fc.array(fc.integer({ min: 10, max: 90 }), { minLength: 3, maxLength: 9 }))
    .map(([[x, y], radii]) => ({
      polygon: radii.map((r, i): [number, number] => {
        const a = (2 * Math.PI * i) / radii.length
        return [x + r * Math.cos(a), y + r * Math.sin(a)]
      }),
    })),
)

/** Drops what is undefined, as a file would. */
const asFile = <T>(value: T): T => JSON.parse(JSON.stringify(value)) as T

const project: fc.Arbitrary<Project> = fc
  .record({
    decks: ids(1, 3),
    parts: ids(1, 4),
    items: ids(0, 8),
    exits: ids(0, 3),
    zones: ids(0, 3),
    wires: ids(0, 5),
  })
  .chain((names) => {
    const deck = fc.constantFrom(...names.decks)
    const item = names.items.length > 0 ? fc.constantFrom(...names.items) : undefined
    const exit = names.exits.length > 0 ? fc.record({ exit: fc.constantFrom(...names.exits) }) : undefined
    const atItem = item && fc.record({ item, terminal: fc.constant('t') })
    const ends = [exit, atItem].filter((e) => e !== undefined)
    const place = fc.oneof(
      fc.record({ kind: fc.constant('at' as const), deck, at: point }),
      fc.record({ kind: fc.constant('centred' as const), axis: fc.constantFrom('x' as const, 'y' as const) }),
      fc.record({ kind: fc.constant('inside' as const), shape }),
      ...(item ? [fc.record({ kind: fc.constant('near' as const), item, within: free })] : []),
    )
    return fc.record({
      format: fc.constant('deckwright-project' as const),
      version: fc.constant(1 as const),
      units: fc.constant('mm' as const),
      name: fc.string(),
      settings: maybe(fc.record({ grid: size, minWeb: free }, { requiredKeys: [] })),
      decks: fc.tuple(
        ...names.decks.map((d) => fc.record({ id: fc.constant(d), z: mm, thickness: size, outline: shape })),
      ),
      exits: fc.tuple(...names.exits.map((e) => fc.record({ id: fc.constant(e), deck, at: point, free: maybe(free) }))),
      footprints: fc.tuple(
        ...names.parts.map((f) =>
          fc.record({
            id: fc.constant(f),
            body: fc.record({ width: size, depth: size, height: size }),
            mount: fc.constantFrom({ kind: 'adhesive' as const }, { kind: 'strap' as const }),
            terminals: fc.constant([{ id: 't', at: [1, 1] as [number, number] }]),
            above: maybe(fc.oneof(free, fc.constant('open' as const))),
          }),
        ),
      ),
      items: fc.tuple(
        ...names.items.map((i) =>
          fc.record({
            id: fc.constant(i),
            footprint: fc.constantFrom(...names.parts),
            count: maybe(fc.integer({ min: 1, max: 60 })),
            required: maybe(fc.boolean()),
            decks: maybe(fc.array(deck)),
            place: maybe(fc.array(place, { maxLength: 3 })),
            later: maybe(fc.boolean()),
          }),
        ),
      ),
      zones: fc.tuple(
        ...names.zones.map((z) =>
          fc.record({ id: fc.constant(z), kind: fc.constant('reserved' as const), deck, shape }),
        ),
      ),
      wires: fc.tuple(
        ...(ends.length === 0 ? [] : names.wires).map((w) =>
          fc.record({ id: fc.constant(w), from: fc.oneof(...ends), to: fc.oneof(...ends), loop: maybe(free) }),
        ),
      ),
      variants: fc.constant([
        { id: 'v', omit: names.items.slice(0, 1), release: names.zones.slice(0, 1) },
        { id: 'w' },
      ]),
    })
  })
  .map((p) => asFile(p) as unknown as Project)

/** All in the long run, two of five else. */
const many = (all: number): number => (process.env.DECKWRIGHT_LONG === '1' ? all : Math.ceil(0.25 * all))

describe('random projects that are right', () => {
  it('read without a word, survive writing, and become sound problems', () => {
    fc.assert(
      fc.property(project, (p) => {
        const read = readProject(JSON.stringify(p), 'p.json', none)
        // their exits lie anywhere, and one beside its deck is told
        const warnings = read.warnings.filter((w) => !/^(exits|passes)\[\d+\]\.at$/.test(w.path))
        expect([...(read.ok ? [] : read.problems), ...warnings].map(formatProblem)).toEqual([])
        if (!read.ok) return
        expect(read.value).toEqual(p)
        expect(readProject(writeProject(read.value), 'p.json', none)).toMatchObject({ ok: true, value: p })
        for (const v of variantsOf(p)) expectSound(toProblem(read.value, v.id, none))
      }),
      { numRuns: many(150) },
    )
  })
})

type Spot = { holder: Record<string | number, unknown>; key: string | number }

function spots(document: unknown): Spot[] {
  const all: Spot[] = []
  const visit = (v: unknown): void => {
    if (typeof v !== 'object' || v === null) return
    for (const key of Array.isArray(v) ? v.keys() : Object.keys(v)) {
      const holder = v as Record<string | number, unknown>
      all.push({ holder, key })
      visit(holder[key])
    }
  }
  visit(document)
  return all
}

const junk = fc.oneof(
  fc.constantFrom<unknown>(
    null,
    true,
    0,
    -1,
    1e9,
    1e308,
    0.0001,
    201,
    '',
    '#',
    'main',
    'board#2',
    'brain',
    '__proto__',
    'plain',
  ),
  fc.constantFrom<unknown>(
    [],
    {},
    [[]],
    [null],
    { item: 'brain' },
    { exit: 'lamp' },
    { kind: 'at' },
    { rect: [0, 0, 1, 1] },
  ),
  fc.jsonValue({ maxDepth: 2 }),
)
/** What to do with the spot chosen: put junk, take it out, put another spot's value, give an object a field. */
const damage = fc.record({
  spot: fc.nat(),
  kind: fc.constantFrom('put', 'drop', 'copy', 'add'),
  value: junk,
  other: fc.nat(),
  name: fc.constantFrom('id', 'count', 'decks', 'drop', 'omit', '__proto__', 'x', 'place', 'items', 'variants'),
})

function damaged(
  document: unknown,
  damages: readonly (typeof damage extends fc.Arbitrary<infer D> ? D : never)[],
): string {
  const copy = { root: structuredClone(document) }
  for (const d of damages) {
    const all = spots(copy)
    if (all.length === 0) break
    const at = all[d.spot % all.length]!
    const other = all[d.other % all.length]!
    const value = structuredClone(d.value)
    if (d.kind === 'put') at.holder[at.key] = value
    else if (d.kind === 'copy') at.holder[at.key] = structuredClone(other.holder[other.key])
    else if (d.kind === 'drop') {
      if (Array.isArray(at.holder)) at.holder.splice(at.key as number, 1)
      else delete at.holder[at.key]
    } else if (typeof at.holder[at.key] === 'object' && at.holder[at.key] !== null) {
      Object.defineProperty(at.holder[at.key], d.name, {
        value,
        enumerable: true,
        writable: true,
        configurable: true,
      })
    }
    if (JSON.stringify(copy).length > 1e6) break
  }
  return JSON.stringify(copy.root) ?? ''
}

function expectTold<T>(read: Read<T>): void {
  if (!read.ok) expect(read.problems.length).toBeGreaterThan(0)
  for (const p of [...(read.ok ? [] : read.problems), ...read.warnings]) {
    expect(p.found).not.toBe('')
    expect(p.expected).not.toBe('')
    expect(p.line).toBeGreaterThan(0)
    expect(p.column).toBeGreaterThan(0)
    expect(formatProblem(p)).toMatch(/^[^\n\r]+$/)
  }
}

describe('random damage', () => {
  let ok = 0
  let refused = 0

  it('to a project never throws; what still reads becomes sound problems in all variants', () => {
    fc.assert(
      fc.property(fc.array(damage, { minLength: 1, maxLength: 4 }), (damages) => {
        const text = damaged(full(), damages)
        const read = readProject(text, 'p.json', none)
        expectTold(read)
        if (read.ok) {
          ok++
          expect(readProject(writeProject(read.value), 'p.json', none)).toMatchObject({ ok: true, value: read.value })
          for (const v of variantsOf(read.value)) expectSound(toProblem(read.value, v.id, none))
        } else refused++
      }),
      { numRuns: many(1500) },
    )
    // Both ways must have been taken often for this to mean anything.
    expect(ok).toBeGreaterThan(many(200))
    expect(refused).toBeGreaterThan(many(1000))
  })

  it('to the bytes never throws', () => {
    const bytes = new TextEncoder().encode(JSON.stringify(full()))
    const change = fc.tuple(fc.nat(bytes.length - 1), fc.nat(255))
    fc.assert(
      fc.property(fc.array(change, { minLength: 1, maxLength: 5 }), fc.nat(bytes.length), (changes, length) => {
        const copy = bytes.slice(0, length)
        for (const [at, value] of changes) if (at < length) copy[at] = value
        const read = readProject(copy, 'p.json', none)
        if (!read.ok) expect(read.problems.length).toBeGreaterThan(0)
      }),
      { numRuns: many(1000) },
    )
  })

  it('to a layout never throws; what still reads can be laid over the problem', () => {
    const problem = toProblem(full(), 'plain', none)
    const layout = {
      ...layoutOf(problem, { status: 'unknown' }, 1),
      status: 'feasible',
      objectives: [{ name: 'wire-length', value: 1, bound: 1, proven: true }],
      placements: [
        { item: 'brain', deck: 'main', at: [4, 20.5], turn: 1 },
        { item: 'board#1', deck: 'main', at: [70, 100], turn: 0 },
        { item: 'chip', deck: 'main', at: [71, 101.25], turn: 0, host: 'board#1' },
      ],
      wires: [{ id: 'drive', length: 1, cut: 1 }],
    }
    fc.assert(
      fc.property(fc.array(damage, { minLength: 0, maxLength: 4 }), (damages) => {
        const read = readLayout(damaged(layout, damages), 'l.json')
        expectTold(read)
        if (!read.ok) return
        const laid = placementsOf(problem, read.value)
        for (const p of laid.placements) expect([problem.items[p.item], problem.decks[p.deck]]).not.toContain(undefined)
      }),
      { numRuns: many(800) },
    )
  })
})
