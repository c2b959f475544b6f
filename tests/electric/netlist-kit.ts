/** An invented small robot with a netlist, laid out by hand: a controller on stand-offs, a driver on a breadboard, a pack, motors' leads. */

import { mm, type Placement, type Problem, type Turn } from '../../solver/index.ts'
import { conductorsOf } from '../../src/electric/conductors.ts'
import { netlistOf } from '../../src/electric/netlist.ts'
import { checkNets } from '../../src/electric/pins-check.ts'
import { formatProblem, type Project, readProject, toProblem } from '../../src/model/index.ts'

// biome-ignore lint/suspicious/noExplicitAny: files to be spoiled on purpose
export type Any = Record<string, any>

const P = 2.54
/** Two blocks of `columns` × 5 with a gap, and below and above a rail of two groups of five each. */
export const board = (
  columns = 12,
  joined: number[][] | false = [
    [2, 3],
    [4, 5],
  ],
): Any => ({
  id: 'board',
  body: { width: 40, depth: 50, height: 8.5 },
  mount: { kind: 'adhesive' },
  breadboard: {
    blocks: [
      { at: [5, 11], columns, rows: 5, strip: 'column' },
      { at: [5, 11 + 7 * P], columns, rows: 5, strip: 'column' },
      { at: [5, 3], columns: 5, rows: 1, strip: 'row' },
      { at: [5 + 6 * P, 3], columns: 5, rows: 1, strip: 'row' },
      { at: [5, 47], columns: 5, rows: 1, strip: 'row' },
      { at: [5 + 6 * P, 47], columns: 5, rows: 1, strip: 'row' },
    ],
    ...(joined === false ? {} : { joined }),
  },
})

/** Five pins in a line: supply, return, two inputs, one that listens. Screws for the motor and its supply. */
export const driver = (): Any => ({
  id: 'driver',
  body: { width: 5 * P, depth: 8, height: 10 },
  mount: { kind: 'plug-in' },
  plug: {
    pins: [
      { id: '1', at: [P / 2, 1], kind: 'logic-in', volts: [3, 5.5] },
      { id: '2', at: [P / 2 + P, 1], kind: 'return' },
      { id: '3', at: [P / 2 + 2 * P, 1], name: 'in 1', kind: 'digital' },
      { id: '4', at: [P / 2 + 3 * P, 1], name: 'in 2', kind: 'digital' },
      { id: '5', at: [P / 2 + 4 * P, 1], name: 'listen', kind: 'serial-in' },
    ],
  },
  terminals: [
    { id: 'motor', at: [3, 7], kind: 'motor-pair' },
    { id: 'supply', at: [8, 7], kind: 'supply-in', volts: [4, 12] },
    { id: 'supply-return', at: [11, 7], kind: 'return' },
  ],
})

export const brain = (): Any => ({
  id: 'brain',
  body: { width: 50, depth: 30, height: 12 },
  mount: { kind: 'screw', standoff: 5, holes: [] },
  terminals: [
    { id: 'vin', at: [2, 2], kind: 'supply-in', volts: [6, 12] },
    { id: 'gnd', at: [5, 2], kind: 'return' },
    { id: 'gnd-2', at: [8, 2], kind: 'return' },
    { id: '5v', at: [11, 2], kind: 'logic-out', volts: [4.9, 5.1] },
    { id: 'tx', at: [14, 2], kind: 'serial-out', program: true, also: ['digital'] },
    { id: 'rx', at: [17, 2], kind: 'serial-in', program: true, also: ['digital'] },
    ...[2, 3, 4, 5, 6, 7].map((n) => ({ id: `d${n}`, at: [14 + 3 * n, 28], kind: 'digital' })),
    ...[0, 1].map((n) => ({ id: `a${n}`, at: [2 + 3 * n, 28], kind: 'analog-in', also: ['digital'] })),
  ],
})

export const pack = (): Any => ({
  id: 'pack',
  body: { width: 30, depth: 60, height: 20 },
  mount: { kind: 'strap', slots: [] },
  terminals: [
    { id: 'plus', at: [5, 58], kind: 'supply-out', volts: [6, 8.4] },
    { id: 'minus', at: [9, 58], kind: 'return' },
  ],
})

const nets = (): Any[] => [
  { id: 'battery', ends: [end('pack', 'plus'), end('brain', 'vin'), end('driver', 'supply')] },
  {
    id: 'return',
    ends: [end('pack', 'minus'), end('brain', 'gnd'), end('driver', '2'), end('driver', 'supply-return')],
  },
  { id: 'logic', ends: [end('brain', '5v'), end('driver', '1')] },
  { id: 'forward', ends: [{ item: 'brain', any: 'digital' }, end('driver', '3')] },
  { id: 'backward', ends: [{ item: 'brain', any: 'digital' }, end('driver', '4')] },
  { id: 'motor-a', ends: [{ exit: 'left' }, end('driver', 'motor')] },
  { id: 'motor-b', ends: [{ exit: 'left' }, end('driver', 'motor')] },
]

export const end = (item: string, terminal: string): Any => ({ item, terminal })

/** Placements: brain at 0,0; board at 60,0; pack at 110,0; the driver's first pin on column 1 of the lower block, top row. */
export function robot(change: (p: Any) => void = () => {}): {
  project: Project
  problem: Problem
  placements: Placement[]
} {
  const project: Any = {
    format: 'deckwright-project',
    version: 1,
    units: 'mm',
    name: 'pond skimmer',
    decks: [{ id: 'd', z: 40, thickness: 3, outline: { rect: [0, 0, 300, 150] } }],
    exits: [{ id: 'left', deck: 'd', at: [70, 80], kind: 'motor-pair' }],
    footprints: [brain(), board(), driver(), pack()],
    items: ['brain', 'board', 'driver', 'pack'].map((id) => ({ id, footprint: id })),
    nets: nets(),
  }
  change(project)
  const r = readProject(JSON.stringify(project), 'test.json', new Map())
  if (!r.ok) throw new Error(r.problems.map(formatProblem).join('\n'))
  const problem = toProblem(r.value, 'base', new Map())
  const first = [65 + P - P / 2, 11 + 4 * P - 1] as const
  const spots: Record<string, readonly [number, number]> = {
    brain: [0, 0],
    board: [60, 0],
    'board-2': [60, 55],
    pack: [110, 0],
    driver: first,
    ...project.at,
  }
  const placements = problem.items.flatMap((item, i): Placement[] => {
    const spot = spots[item.id]
    return spot === undefined ? [] : [{ item: i, deck: 0, at: { x: mm(spot[0]), y: mm(spot[1]) }, turn: 0 as Turn }]
  })
  return { project: r.value, problem, placements }
}

export function findings(change: (p: Any) => void = () => {}) {
  const { problem, placements } = robot(change)
  const netlist = netlistOf(problem, placements)
  return checkNets(problem, placements, netlist, conductorsOf(problem, placements, netlist))
}
