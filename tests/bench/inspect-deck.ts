/** An invented robot of 40 items on 3 decks with everything that an inspection looks at: nets, supplies, motors, a head with a camera. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { type Part, part, robot } from './decks.ts'
import { required } from './growing.ts'

// biome-ignore lint/suspicious/noExplicitAny: files as they stand on disk
type Json = Record<string, any>

const end = (item: string, terminal: string): Json => ({ item, terminal })
const any = (kind: string): Json => ({ item: 'brain', any: kind })

/** A part of the library, its terminals and pins saying what they are. */
function kinds(file: string, of: Readonly<Record<string, Json>>): Json {
  const f = JSON.parse(readFileSync(join('footprints', file), 'utf8')) as Json
  const said = (t: Json): Json => ({ ...t, ...of[t.id] })
  return {
    ...f,
    terminals: f.terminals.map(said),
    ...(f.plug === undefined ? {} : { plug: { ...f.plug, pins: f.plug.pins.map(said) } }),
  }
}

const digital = { kind: 'digital' }
const analog = { kind: 'analog-in', also: ['digital'] }
const earth = { kind: 'return', conductors: 6 }

const footprints = (): Json[] => [
  kinds('boards/controller-four-hole.json', {
    vin: { kind: 'supply-in', volts: [6, 12] },
    'gnd-power': earth,
    gnd: earth,
    '5v': { kind: 'logic-out', volts: [4.9, 5.1], conductors: 6 },
    a0: analog,
    a1: analog,
    d2: digital,
    d3: digital,
    d4: digital,
    d5: digital,
    sda: { kind: 'bus-data' },
    scl: { kind: 'bus-clock' },
  }),
  kinds('motion/driver-7-in-line.json', {
    1: { kind: 'logic-in', volts: [3, 5.5] },
    2: { kind: 'return' },
    3: digital,
    4: digital,
    5: digital,
    6: digital,
    7: { kind: 'return' },
    'left-motor': { kind: 'motor-pair' },
    'right-motor': { kind: 'motor-pair' },
    supply: { kind: 'supply-in', volts: [4, 12], conductors: 2 },
  }),
  kinds('power/pack-lithium-flat.json', {
    plus: { kind: 'supply-out', volts: [6, 8.4], conductors: 4 },
    minus: { kind: 'return', conductors: 6 },
  }),
]

const nets = (): Json[] => [
  { id: 'battery', ends: [end('pack', 'plus'), end('brain', 'vin'), end('driver', 'supply')] },
  { id: 'return', ends: [end('pack', 'minus'), end('brain', 'gnd'), end('driver', '2'), end('driver', '7')] },
  { id: 'logic', ends: [end('brain', '5v'), end('driver', '1'), end('plug', '1')] },
  ...['3', '4', '5'].map((pin, i) => ({ id: `drive-${i + 1}`, ends: [any('digital'), end('driver', pin)] })),
  { id: 'data', ends: [end('brain', 'sda'), end('plug', '2')] },
  { id: 'clock', ends: [end('brain', 'scl'), end('plug', '3')] },
  { id: 'hear', ends: [any('analog-in'), end('plug', '5')] },
  ...['left', 'right'].map((s) => ({ id: `motor-${s}`, ends: [{ exit: `motor-${s}` }, end('driver', `${s}-motor`)] })),
]

const cell = { volts: 3.7, ohms: 0.03, capacity: 2.2 }

const power = (): Readonly<Record<string, Json>> => ({
  pack: { supply: { cells: 2, ...cell, fuse: 5 } },
  'pack-2': { supply: { volts: 9, ohms: 1.5, capacity: 0.5, fuse: 1 } },
  switch: { part: 'switch', rating: 6 },
  regulator: { part: 'regulator', output: { volts: 5, efficiency: 0.85 } },
  'regulator-2': { part: 'regulator', output: { volts: 5 } },
  brain: { part: 'controller', load: { idle: 0.05, running: 0.09, min: 4.5, max: 12 } },
  driver: { part: 'driver', load: { idle: 0.01, running: 0.02, min: 4, max: 12 } },
  head: { load: { idle: 0.02, running: 0.3, stall: 0.9, min: 4.5, max: 6 } },
  reader: { load: { idle: 0.1, running: 0.14, min: 4.5, max: 5.5 } },
  'ear-left': { load: { running: 0.015, min: 4.5, max: 5.5 } },
  'ear-right': { load: { running: 0.015, min: 4.5, max: 5.5 } },
})

const wires = (): Json[] => {
  const lead = (id: string, from: Json, to: Json, supply: string, more: Json = {}): Json => ({
    id,
    from,
    to,
    supply,
    gauge: 22,
    loop: 10,
    conductors: 2,
    ...more,
  })
  return [
    lead('battery', end('pack', 'plus'), end('switch', 'in'), 'pack', { gauge: 20 }),
    lead('battery-2', end('switch', 'out-1'), end('regulator', 'in-plus'), 'pack'),
    lead('battery-3', end('switch', 'out-1'), end('driver', 'supply'), 'pack', { gauge: 20 }),
    lead('battery-4', end('switch', 'out-1'), end('brain', 'vin'), 'pack'),
    lead('five-head', end('regulator', 'out-plus'), end('head', 'pan'), 'regulator', { conductors: 3 }),
    lead('five-left', end('regulator', 'out-plus'), end('ear-left', 'trigger'), 'regulator'),
    lead('five-right', end('regulator', 'out-plus'), end('ear-right', 'trigger'), 'regulator'),
    lead('nine', end('pack-2', 'plus'), end('regulator-2', 'in-plus'), 'pack-2'),
    lead('five-reader', end('regulator-2', 'out-plus'), end('reader', 'data'), 'regulator-2'),
    { ...lead('left', { exit: 'motor-left' }, end('driver', 'left-motor'), 'pack'), gauge: 20 },
    { ...lead('right', { exit: 'motor-right' }, end('driver', 'right-motor'), 'pack'), gauge: 20 },
  ]
}

/** What a growing robot has, a few spare breadboards and more small things, and the head: 40 in all. */
const parts = (): Part[] => [
  ...required(),
  part('spare', 'breadboard-170'),
  part('spare-2', 'breadboard-400'),
  part('damp-3', 'humidity-board'),
  part('wall-front', 'sensor-infrared'),
  part('mast', 'lamp-mast'),
  part('beeper', 'buzzer-plug-in'),
  part('screen', 'display-plug-in'),
  part('switch-3', 'slide-switch'),
  part('block-4', 'terminal-block'),
  part('head', 'head-micro-screwed', ({ ids }) => ({ turns: [0], decks: [ids.at(-1)] })),
]

/** Roomy. */
const FILL = 0.3

/** The text of the project file. 40 items, all of which must be there. */
export function inspectedRobot(): string {
  const p = robot({ name: 'inspected', decks: 3, parts }, 1, FILL) as Json
  const said = power()
  const motors = p.exits.map((e: Json) => ({
    ...e,
    free: 600,
    kind: 'motor-pair',
    load: { idle: 0, running: 0.4, stall: 1.8, min: 3 },
  }))
  const replaced = new Set(['drive-left', 'drive-right', 'drive-supply', 'feed', 'feed-2'])
  return JSON.stringify({
    ...p,
    name: 'bench robot, inspected',
    footprints: footprints(),
    items: p.items.map((i: Json) => ({
      ...i,
      ...(said[i.id] ? { power: said[i.id] } : {}),
      ...(i.id === 'board' ? { stack: 20, stackMass: [0, 40] } : {}),
    })),
    exits: motors,
    wires: [...p.wires.filter((w: Json) => !replaced.has(w.id)), ...wires()],
    nets: nets(),
    settings: { ...p.settings, leastTipAngle: 20, mostTrackShare: 0.7 },
  })
}
