/** Supplies and loads in a row, as published examples have them, through the whole reckoning of power. */
import { inspectPower } from '../../src/electric/index.ts'
import { part, placed, problemOf, project } from './kit.ts'

export const FOOT = 0.3048

const dot = (id: string, power: object) => part(id, 2, 2, { terminals: [{ id: 't', at: [0, 0] }], power })

/** Parts in a row, each `apart` mm from the one before, joined by leads of `gauge`; the first supplies, a regulator what follows it. */
export function row(
  parts: readonly (readonly [string, object])[],
  { apart = 10, gauge = 0, lead = {}, power = {} } = {},
) {
  let supply = parts[0]![0]
  const p = project({
    decks: [{ id: 'main', z: 10, thickness: 3, outline: { rect: [0, 0, 9990, 90] } }],
    settings: { wiring: { clearance: 0 }, power },
    footprints: parts.map(([id, has]) => dot(id, has)),
    items: parts.map(([id]) => ({ id, footprint: id })),
    wires: parts.slice(1).map(([id], i) => {
      const [from] = parts[i]!
      if ('output' in parts[i]![1]) supply = from
      const ends = { from: { item: from, terminal: 't' }, to: { item: id, terminal: 't' } }
      return { id: `${from}-${id}`, ...ends, gauge, conductors: 2, supply, ...lead }
    }),
  })
  const problem = problemOf(p)
  const at = placed(problem, Object.fromEntries(parts.map(([id], i) => [id, [i * apart, 0] as const])))
  return inspectPower(p, new Map(), problem, at).supplies
}

export interface Run {
  readonly awg: number
  /** Out, so that half the conductor is in it. */
  readonly metres: number
  readonly amps: number
  readonly temperature?: number | undefined
  readonly stranded?: boolean | undefined
}

/** Volts lost out and back. A tenth of the length and ten times the current lose as much, and fit on a deck. */
export function lostOn({ awg, metres, amps, temperature = 20, stranded = false }: Run): number {
  const [pack] = row(
    [
      ['pack', { supply: { volts: 120 } }],
      ['load', { load: { running: 10 * amps } }],
    ],
    { apart: metres * 100, gauge: awg, lead: { stranded }, power: { temperature } },
  )
  const { running } = pack!.states
  return running.volts - running.loads[0]!.volts
}
