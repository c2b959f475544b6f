/** Small projects for the tests of this folder. Lengths in mm. */
import { figures, mm, type Placement, type Problem, type Turn } from '../../solver/index.ts'
import { type Project, readProject, toProblem } from '../../src/model/index.ts'

export const part = (id: string, width: number, depth: number, more: object = {}) => ({
  format: 'deckwright-footprint',
  version: 1,
  id,
  name: id,
  source: 'invented',
  kind: 'part',
  body: { width, depth, height: 10 },
  mount: { kind: 'adhesive' },
  terminals: [{ id: 't', at: [width / 2, 0] }],
  ...more,
})

/** A project read, or the reader's problems thrown; nothing in it may be unknown. */
export function project(more: object): Project {
  const all = {
    format: 'deckwright-project',
    version: 1,
    units: 'mm',
    name: 'invented',
    decks: [{ id: 'main', z: 10, thickness: 3, outline: { rect: [0, 0, 100, 80] } }],
    ...more,
  }
  const read = readProject(JSON.stringify(all), 'invented.json', new Map())
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  if (read.warnings.length > 0) throw new Error(JSON.stringify(read.warnings))
  return read.value
}

export const problemOf = (p: Project, variant = 'base'): Problem => toProblem(p, variant, new Map())

/** Placements by item id: `[x, y, turn?, deck?]`. */
export function placed(
  problem: Problem,
  where: Record<string, readonly [number, number, number?, number?]>,
): Placement[] {
  return Object.entries(where).map(([id, [x, y, turn = 0, deck = 0]]) => {
    const item = problem.items.findIndex((i) => i.id === id)
    if (item < 0) throw new Error(`no item ${id}`)
    return { item, deck, at: { x: mm(x), y: mm(y) }, turn: turn as Turn }
  })
}

/** R7's lengths as the checker measures them, Um, by wire id. */
export const straightLengths = (problem: Problem, placements: readonly Placement[]): Map<string, number> =>
  new Map(figures(problem, placements).wires.map((w) => [problem.wires[w.wire]!.id, w.length]))
