/** An invented robot with something of everything, laid out by hand: two decks, pack, switch, regulator, controller, driver, head, sensor. */
import { mm, type Placement, type Problem, type Turn } from '../../solver/index.ts'
import { type InspectOptions, inspect, type Report } from '../../src/inspect/index.ts'
import { formatProblem, type Project, readProject, toProblem, variantsOf } from '../../src/model/index.ts'
import { driver as plainDriver } from '../electric/netlist-kit.ts'

// biome-ignore lint/suspicious/noExplicitAny: files to be spoiled on purpose
export type Any = Record<string, any>

const P = 2.54
const end = (item: string, terminal: string): Any => ({ item, terminal })
const corridor = (access: string, rect: number[], z: number[]): Any => ({
  id: access,
  shape: { rect },
  z,
  why: 'a hand',
  access,
})

const pack = (): Any => ({
  id: 'pack',
  kind: 'pack',
  body: { width: 60, depth: 30, height: 18 },
  mass: 120,
  mount: { kind: 'adhesive' },
  corridors: [corridor('cells', [0, 0, 60, 30], [18, 40])],
  terminals: [
    { id: 'plus', at: [58, 10], kind: 'supply-out', volts: [6, 8.4], conductors: 2 },
    { id: 'minus', at: [58, 20], kind: 'return', conductors: 3 },
  ],
  power: { supply: { cells: 2, volts: 3.7, ohms: 0.04, capacity: 2.2, fuse: 3 } },
})

const toggle = (): Any => ({
  id: 'toggle',
  body: { width: 20, depth: 12, height: 12 },
  mass: 8,
  mount: { kind: 'adhesive' },
  corridors: [corridor('switch', [0, 0, 20, 12], [12, 40])],
  terminals: [
    { id: 'in', at: [4, 6], kind: 'passive' },
    { id: 'out', at: [16, 6], kind: 'passive', conductors: 2 },
  ],
})

const brain = (): Any => ({
  id: 'brain',
  body: { width: 50, depth: 30, height: 12 },
  mass: 30,
  mount: {
    kind: 'screw',
    standoff: 5,
    holes: [
      { id: 'a', at: [4, 4], diameter: 3.2, land: 6, screw: 'M3' },
      { id: 'b', at: [46, 26], diameter: 3.2, land: 6, screw: 'M3' },
    ],
  },
  corridors: [corridor('program', [50, 10, 20, 10], [5, 12])],
  terminals: [
    { id: 'vin', at: [2, 2], kind: 'supply-in', volts: [6, 12] },
    { id: 'gnd', at: [8, 2], kind: 'return', conductors: 4 },
    { id: '5v', at: [14, 2], kind: 'logic-out', volts: [4.9, 5.1] },
    { id: 'tx', at: [20, 2], kind: 'serial-out', program: true },
    ...[2, 3, 4, 5].map((n) => ({ id: `d${n}`, at: [6 * n, 28], kind: 'digital' })),
  ],
  power: { part: 'controller', load: { idle: 0.05, running: 0.1, min: 5, max: 12 } },
})

const board = (): Any => ({
  id: 'board',
  body: { width: 40, depth: 50, height: 8.5 },
  mass: 20,
  mount: { kind: 'adhesive' },
  breadboard: {
    blocks: [
      { at: [5, 11], columns: 12, rows: 5, strip: 'column' },
      { at: [5, 11 + 7 * P], columns: 12, rows: 5, strip: 'column' },
      { at: [5, 3], columns: 5, rows: 1, strip: 'row' },
      { at: [5, 47], columns: 5, rows: 1, strip: 'row' },
    ],
  },
})

/** The netlists' driver, for two motors, and with what it weighs and draws. */
const driver = (): Any => ({
  ...plainDriver(),
  mass: 5,
  terminals: [
    { id: 'motor-1', at: [2, 7], kind: 'motor-pair' },
    { id: 'motor-2', at: [5, 7], kind: 'motor-pair' },
    { id: 'supply', at: [8, 7], kind: 'supply-in', volts: [4, 12] },
    { id: 'supply-return', at: [11, 7], kind: 'return' },
  ],
  power: { part: 'driver', load: { idle: 0.01, running: 0.02, min: 4, max: 12 } },
})

const neck = (): Any => ({
  id: 'neck',
  kind: 'head',
  body: { width: 30, depth: 30, height: 50 },
  mass: 40,
  mount: { kind: 'adhesive' },
  head: {
    pivot: [15, 15],
    pan: [-60, 60],
    reach: 34,
    tail: 14,
    z: [20, 60],
    tilt: [-30, 30],
    tiltAxis: [0, 36],
    payload: [{ id: 'camera', box: [-10, 4, -8, 20, 14, 16] }],
    bracket: [{ id: 'yoke', box: [-12, -6, 22, 24, 12, 20] }],
    view: { from: [0, 18, 0], width: 60, height: 45 },
  },
})

const eye = (): Any => ({
  id: 'eye',
  kind: 'sensor',
  body: { width: 30, depth: 12, height: 15 },
  mass: 9,
  mount: { kind: 'adhesive' },
  terminals: [{ id: 'out', at: [15, 2] }],
  view: { from: [15, 12, 8], towards: 0, width: 30, height: 20, range: 300 },
})

const lead = (id: string, from: Any, to: Any, more: Any = {}): Any => ({
  id,
  from,
  to,
  supply: 'pack',
  gauge: 20,
  loop: 10,
  conductors: 2,
  ...more,
})

/** A project file as an object. */
export const robotFile = (): Any => ({
  format: 'deckwright-project',
  version: 1,
  units: 'mm',
  name: 'reed warbler',
  settings: { grid: 0.01 },
  decks: [
    {
      id: 'main',
      z: 40,
      thickness: 3,
      outline: { rect: [0, 0, 160, 120] },
      openings: [{ id: 'slot', shape: { rect: [70, 56, 24, 5] } }],
    },
    { id: 'top', z: 110, thickness: 3, outline: { rect: [0, 0, 160, 60] } },
  ],
  chassis: {
    contact: [
      [-10, 10],
      [170, 10],
      [170, 110],
      [-10, 110],
    ],
    mass: 600,
    centre: [80, 58, 25],
  },
  exits: [
    {
      id: 'left',
      deck: 'main',
      at: [4, 70],
      kind: 'motor-pair',
      free: 300,
      load: { idle: 0, running: 0.4, stall: 1.5 },
    },
    {
      id: 'right',
      deck: 'main',
      at: [156, 70],
      kind: 'motor-pair',
      free: 300,
      load: { idle: 0, running: 0.4, stall: 1.5 },
    },
  ],
  passes: [{ id: 'pass', decks: ['main', 'top'], at: [152, 40] }],
  footprints: [pack(), toggle(), brain(), board(), driver(), neck(), eye()],
  items: [
    ...['pack', 'brain', 'board', 'driver', 'neck', 'eye'].map((id) => ({ id, footprint: id })),
    { id: 'master', footprint: 'toggle', power: { part: 'switch', rating: 5 } },
    { id: 'line', footprint: 'toggle' },
  ],
  wires: [
    lead('battery', end('pack', 'plus'), end('master', 'in')),
    lead('to-brain', end('master', 'out'), end('brain', 'vin')),
    lead('to-driver', end('master', 'out'), end('driver', 'supply')),
    lead('motor-left', { exit: 'left' }, end('driver', 'motor-1')),
    lead('motor-right', { exit: 'right' }, end('driver', 'motor-2')),
  ],
  nets: [
    { id: 'battery', ends: [end('pack', 'plus'), end('master', 'in')] },
    { id: 'fed', ends: [end('master', 'out'), end('brain', 'vin'), end('driver', 'supply')] },
    { id: 'motor-a', ends: [{ exit: 'left' }, end('driver', 'motor-1')] },
    { id: 'motor-b', ends: [{ exit: 'right' }, end('driver', 'motor-2')] },
    {
      id: 'return',
      ends: [end('pack', 'minus'), end('brain', 'gnd'), end('driver', '2'), end('driver', 'supply-return')],
    },
    { id: 'logic', ends: [end('brain', '5v'), end('driver', '1')] },
    { id: 'forward', ends: [{ item: 'brain', any: 'digital' }, end('driver', '3')] },
    { id: 'backward', ends: [{ item: 'brain', any: 'digital' }, end('driver', '4')] },
    { id: 'talk', ends: [end('brain', 'tx'), end('driver', '5')], switch: 'line' },
  ],
})

/** `item: [deck, x, y, turn, host]` */
const PLACES: Readonly<Record<string, readonly [string, number, number, number?, string?]>> = {
  pack: ['main', 10, 20],
  brain: ['top', 70, 10],
  board: ['main', 100, 65],
  driver: ['main', 105 - P / 2 + P, 65 + 11 + 4 * P - 1, 0, 'board'],
  neck: ['main', 30, 85],
  eye: ['main', 65, 106],
  master: ['main', 20, 66],
  line: ['top', 20, 30],
}

export interface Robot {
  readonly project: Project
  readonly problem: Problem
  readonly placements: readonly Placement[]
}

/** The robot read as a file is, a little changed; `places` replaces where something stands. */
export function robot(change: (p: Any) => void = () => {}, places: Partial<typeof PLACES> = {}): Robot {
  const file = robotFile()
  change(file)
  return robotOf(file, { ...PLACES, ...places } as typeof PLACES)
}

export function robotOf(file: Any, places: typeof PLACES): Robot {
  const r = readProject(JSON.stringify(file), 'test.json', new Map())
  if (!r.ok) throw new Error(r.problems.map(formatProblem).join('\n'))
  if (r.warnings.length > 0) throw new Error(r.warnings.map(formatProblem).join('\n'))
  const problem = toProblem(r.value, variantsOf(r.value)[0]!.id, new Map())
  const placements = problem.items.flatMap((item, i): Placement[] => {
    const spot = places[item.id]
    if (!spot) return []
    const [deck, x, y, turn = 0, host] = spot
    return [
      {
        item: i,
        deck: problem.decks.findIndex((d) => d.id === deck),
        at: { x: mm(x), y: mm(y) },
        turn: turn as Turn,
        ...(host === undefined ? {} : { host: problem.items.findIndex((k) => k.id === host) }),
      },
    ]
  })
  return { project: r.value, problem, placements }
}

export const reportOf = (r: Robot, options: InspectOptions = {}): Report =>
  inspect(r.project, new Map(), r.problem, r.placements, options)

type Spot = readonly [number, number]

/** A quarter turn anticlockwise of the whole file about 0,0, and of where its items stand. */
export function turned(file: Any, places: typeof PLACES): { file: Any; places: typeof PLACES } {
  const at = ([x, y, ...rest]: number[]): number[] => [-y!, x!, ...rest]
  const shape = (s: Any): Any => {
    if (s.rect) {
      const [x, y, w, h] = s.rect
      return { ...s, rect: [-y - h, x, h, w] }
    }
    if (s.circle) return { circle: at(s.circle) }
    return { polygon: s.polygon.map(at) }
  }
  const out = structuredClone(file)
  for (const d of out.decks) {
    d.outline = shape(d.outline)
    for (const o of d.openings ?? []) o.shape = shape(o.shape)
  }
  out.chassis.contact = out.chassis.contact.map(at)
  out.chassis.centre = at(out.chassis.centre)
  for (const e of [...out.exits, ...out.passes]) e.at = at(e.at)
  const size = (id: string, turn: number): Spot => {
    const item = file.items.find((i: Any) => i.id === id)
    const { width, depth } = file.footprints.find((f: Any) => f.id === item.footprint).body
    return turn % 2 === 0 ? [width, depth] : [depth, width]
  }
  const moved = Object.entries(places).map(([id, [deck, x, y, turn = 0, host]]) => {
    const [, h] = size(id, turn)
    return [id, [deck, -y - h, x, (turn + 1) % 4, host]] as const
  })
  return { file: out, places: Object.fromEntries(moved) as typeof PLACES }
}

export const places = (): typeof PLACES => PLACES
