/** Supplies, leads and loads as dots on a large deck, for the tests of power. Lengths in mm. */
import { inspectPower } from '../../src/electric/power-inspect.ts'
import { part, placed, problemOf, project } from './kit.ts'

export const dot = (id: string, power: object, more: object = {}) =>
  part(id, 2, 2, { terminals: [{ id: 't', at: [0, 0] }], power, ...more })
export const PACK = { supply: { cells: 4, volts: 1.5, ohms: 0.15, capacity: 2, fuse: 1.9, switched: true } }

export type Spot = readonly [number, number]
export interface Asked {
  parts: Record<string, readonly [power: object, at: Spot, more?: object]>
  wires: readonly (readonly [from: string, to: string, supply: string | number, more?: object])[]
  exits?: Record<string, readonly [load: object, at: Spot]>
  settings?: object
}

/** Parts of one terminal each at their lower-left corner; leads named from-to; `settings.wiring.clearance` 0. */
export function seen({ parts, wires, exits = {}, settings = {} }: Asked) {
  const end = (id: string) => (id in exits ? { exit: id } : { item: id, terminal: 't' })
  const p = project({
    decks: [{ id: 'main', z: 10, thickness: 3, outline: { rect: [0, 0, 900, 500] } }],
    settings: { wiring: { clearance: 0 }, ...settings },
    footprints: Object.entries(parts).map(([id, [power, , more]]) => dot(id, power, more)),
    items: Object.keys(parts).map((id) => ({ id, footprint: id })),
    exits: Object.entries(exits).map(([id, [load, at]]) => ({ id, deck: 'main', at, load })),
    wires: wires.map(([a, b, supply, more]) => ({
      id: `${a}-${b}`,
      from: end(a),
      to: end(b),
      gauge: 22,
      conductors: 2,
      supply,
      ...more,
    })),
  })
  const problem = problemOf(p)
  const at = placed(problem, Object.fromEntries(Object.entries(parts).map(([id, [, spot]]) => [id, spot])))
  return inspectPower(p, new Map(), problem, at)
}
export const topics = (s: ReturnType<typeof seen>) => s.findings.map((f) => `${f.topic} ${f.weight}`)
