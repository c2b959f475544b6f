/** Wire and power against worked examples of textbooks, tables and codes; sources in tests/fixtures/examples-electric.json. */
import { ohmsPerMetre } from '../../src/electric/gauge.ts'
import type { StateFigures } from '../../src/electric/index.ts'
import { flowOf } from '../../src/electric/power-network.ts'
import { routesOf } from '../../src/electric/routes.ts'
import { WIRING } from '../../src/electric/routes-settings.ts'
import { areaOf, diameterOf } from '../../src/model/awg.ts'
import { allHeld, type Example, hold } from '../examples.ts'
import file from '../fixtures/examples-electric.json'
import { problemOf, project } from './kit.ts'
import { FOOT, lostOn, row } from './row-kit.ts'

const all = file as unknown as readonly Example[]
const INCH = 25.4
/** mm² of a circular mil: a circle of a thousandth of an inch. */
const CIRCULAR_MIL = (Math.PI / 4) * (INCH / 1000) ** 2

allHeld(all, [
  ...[
    'diameter',
    'area',
    'resistance',
    'resistivity',
    'hot',
    'temperature',
    'drop',
    'gauge',
    'cells',
    'series',
    'parallel',
    'hours',
  ],
  ...['linear', 'switching', 'network', 'route'],
])

interface Gauges {
  readonly awg: readonly number[]
}
hold<Gauges>(all, 'diameter', ({ awg }) => ({
  mm: awg.map(diameterOf),
  inches: awg.map((n) => diameterOf(n) / INCH),
}))

hold<Gauges>(all, 'area', ({ awg }) => ({
  mm2: awg.map(areaOf),
  cmil: awg.map((n) => areaOf(n) / CIRCULAR_MIL),
}))

hold<Gauges>(all, 'resistance', ({ awg }) => ({
  ohmsPerKft: awg.map((n) => ohmsPerMetre(n) * 1000 * FOOT),
  milliohmsPerMetre: awg.map((n) => ohmsPerMetre(n) * 1000),
}))

/** Of the metal, whatever the gauge. */
hold<{ temperature: number; stranded: boolean }>(all, 'resistivity', (copper) => {
  const ohmMm2PerMetre = ohmsPerMetre(22, copper) * areaOf(22)
  return { ohmMm2PerMetre, ohmCmilPerFoot: (ohmMm2PerMetre * FOOT) / CIRCULAR_MIL }
})

hold<Gauges & { readonly temperature: number; readonly stranded: boolean }>(all, 'hot', ({ awg, ...copper }) => ({
  ohmsPerKft: awg.map((n) => ohmsPerMetre(n, copper) * 1000 * FOOT),
}))

/** A wire of so many ohms at one temperature, at another: whatever the gauge. */
hold<{ ohms: number; from: number; to: number }>(all, 'temperature', ({ ohms, from, to }) => {
  const metres = ohms / ohmsPerMetre(22, { temperature: from })
  return { ohms: ohmsPerMetre(22, { temperature: to }) * metres }
})

interface Run {
  readonly awg: number
  readonly feet: number
  readonly amps: number
  readonly temperature: number
  readonly stranded: boolean
}
hold<Run>(all, 'drop', ({ feet, ...run }) => ({ volts: lostOn({ ...run, metres: feet * FOOT }) }))

interface Sought {
  readonly run: number
  readonly amps: number
  readonly volts: number
  readonly temperature?: number
  readonly stranded?: boolean
}
/** The tables' runs take both conductors together: half of it is the way out. */
hold<Sought>(all, 'gauge', ({ run, amps, volts, ...copper }) => {
  const sold = Array.from({ length: 12 }, (_, i) => 30 - 2 * i)
  return { awg: sold.find((awg) => lostOn({ awg, metres: (run / 2) * FOOT, amps, ...copper }) <= volts) ?? -1 }
})

interface Cells {
  readonly cells?: number
  readonly parallel?: number
  readonly volts: number
  readonly ohms: number
  readonly load: number
}
/** A pack on a resistor. Loads here draw a fixed current, so it is the one at which the terminal voltage is I·R. */
function operating({ load, ...supply }: Cells) {
  const at = (running: number): StateFigures =>
    row([
      ['pack', { supply }],
      ['load', { load: { running } }],
    ])[0]!.states.running
  const emf = at(0).volts
  const ohms = emf - at(1).volts
  const { amps, volts } = at(emf / (load + ohms))
  return { emf, ohms, amps, volts, acrossLoad: amps * load }
}
for (const formula of ['cells', 'series', 'parallel']) {
  hold<Cells>(all, formula, (given) => {
    const { acrossLoad, ...got } = operating(given)
    return { ...got, volts: Math.abs(acrossLoad - got.volts) < 1e-9 ? got.volts : Number.NaN }
  })
}

hold<{ capacity: number; parallel?: number; amps: number }>(all, 'hours', ({ amps, ...supply }) => {
  const [pack] = row([
    ['pack', { supply: { volts: 12, ...supply } }],
    ['load', { load: { running: amps } }],
  ])
  return { hours: pack!.hours.running! }
})

interface Regulated {
  readonly from: number
  readonly to: number
  readonly amps: number
  readonly efficiency?: number
}
for (const formula of ['linear', 'switching']) {
  hold<Regulated>(all, formula, ({ from, to, amps, efficiency }) => {
    const output = efficiency === undefined ? { volts: to } : { volts: to, efficiency }
    const [pack] = row([
      ['pack', { supply: { volts: from } }],
      ['regulator', { part: 'regulator', output }],
      ['load', { load: { running: amps } }],
    ])
    const { running } = pack!.states
    const { volts, watts } = running.regulators[0]!
    return { amps: running.amps, watts, input: running.amps * volts }
  })
}

/** Between node 0 and node `to`: what the net loses with one ampere, and how the amperes asked for part. */
hold<{ edges: readonly (readonly [number, number, number])[]; to: number }>(all, 'network', ({ edges, to }, e) => {
  const nodes = 1 + Math.max(...edges.map(([a, b]) => Math.max(a, b)))
  const net = edges.map(([a, b, ohms]) => ({ a, b, ohms }))
  const draws = (amps: number) => Array.from({ length: nodes }, (_, i) => (i === to ? amps : 0))
  return {
    ohms: flowOf(nodes, net, 0, draws(1)).drop[to]!,
    shares: [...flowOf(nodes, net, 0, draws(e.amps ?? 1)).amps],
  }
})

/** A free deck, a unit of the example being 10 mm: a lead runs as a taxi does. */
hold<{ from: readonly [number, number]; to: readonly [number, number] }>(all, 'route', ({ from, to }) => {
  const spot = ([x, y]: readonly [number, number]) => [10 + 10 * x, 10 + 10 * y]
  const problem = problemOf(
    project({
      exits: [
        { id: 'a', deck: 'main', at: spot(from) },
        { id: 'b', deck: 'main', at: spot(to) },
      ],
      items: [],
      wires: [{ id: 'w', from: { exit: 'a' }, to: { exit: 'b' } }],
    }),
  )
  return { length: routesOf(problem, [], WIRING).routes[0]!.length / 10_000 }
})
