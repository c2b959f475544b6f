/** Small invented robots for the tests of statics, and the published values they are held against. */
import { readFileSync } from 'node:fs'
import { mm, type Placement, type Problem, type Turn } from '../../solver/index.ts'
import { formatProblem, readProject, toProblem } from '../../src/model/index.ts'
import type { Gravity, Weight } from '../../src/statics/weights.ts'

interface Published {
  readonly id: string
  readonly value: unknown
  readonly tolerance: number
  readonly source: string
  readonly status: 'read' | 'practice' | 'memory'
}

const values = JSON.parse(
  readFileSync(new URL('../fixtures/statics-values.json', import.meta.url), 'utf8'),
) as Published[]

/** A value with its source; tests/fixtures/statics-values.json says where each was read. */
export function published<T = number>(id: string): T {
  const found = values.find((v) => v.id === id)
  if (!found) throw new Error(`no published value ${id}`)
  return found.value as T
}

/** A project as an object, read as a file is. */
export function problemOf(project: Record<string, unknown>, variant = 'base'): Problem {
  const file = { format: 'deckwright-project', version: 1, units: 'mm', name: 'statics test', ...project }
  const read = readProject(JSON.stringify(file), 'statics.json', new Map())
  if (!read.ok) throw new Error(read.problems.map(formatProblem).join('\n'))
  if (read.warnings.length > 0) throw new Error(read.warnings.map(formatProblem).join('\n'))
  return toProblem(read.value, variant, new Map())
}

/** Placements by `item id: [deck, x, y, turn]`, mm. */
export const placed = (
  problem: Problem,
  at: Record<string, readonly [deck: string, x: number, y: number, turn?: number, host?: string]>,
): Placement[] =>
  Object.entries(at).map(([id, [deck, x, y, turn, host]]) => ({
    item: problem.items.findIndex((i) => i.id === id),
    deck: problem.decks.findIndex((d) => d.id === deck),
    at: { x: mm(x), y: mm(y) },
    turn: (turn ?? 0) as Turn,
    ...(host === undefined ? {} : { host: problem.items.findIndex((i) => i.id === host) }),
  }))

/** A box-shaped part that is stuck down. */
export const box = (id: string, width: number, depth: number, height: number, more: Record<string, unknown> = {}) => ({
  id,
  body: { width, depth, height },
  mount: { kind: 'adhesive' },
  ...more,
})

export const gravity = (x: number, y: number, z: number, mass = 1000): Gravity => ({
  mass,
  centre: { x, y, z },
  spread: 0,
})

export const weight = (x: number, y: number, z: number, light: number, heavy = light, reach = 0): Weight => ({
  kind: 'item',
  later: false,
  at: { x, y, z },
  mass: [light, heavy],
  reach,
})

/** Corners of a rectangle of contact, as a problem has them. */
export const contact = (x0: number, y0: number, x1: number, y1: number) => [
  { x: mm(x0), y: mm(y0) },
  { x: mm(x1), y: mm(y0) },
  { x: mm(x1), y: mm(y1) },
  { x: mm(x0), y: mm(y1) },
]
