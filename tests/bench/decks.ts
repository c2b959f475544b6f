/**
 * Invented robots for the bench: several decks with rounded corners, posts, slots, exits and passes, and what stands on
 * them, cut from one of two parts lists by the seed. Every number is ours.
 */
import { type Dice, dice } from './random.ts'

type Json = Record<string, unknown>

/** How a kind of robot is made. */
export interface Kind {
  readonly name: string
  readonly decks: number
  readonly parts: (d: Dice) => Part[]
}

export interface Part {
  readonly id: string
  readonly footprint: string
  /** Plan area at turn 0, mm²; 0 for plug-in parts. */
  readonly area: number
  readonly required: boolean
  readonly more?: (plan: Plan) => Json
}

/** What the parts must know about the decks: sizes of the lowest, mm, and the decks' ids from below. */
export interface Plan {
  readonly w: number
  readonly d: number
  readonly ids: readonly string[]
}

const BODIES: Readonly<Record<string, readonly [number, number]>> = {
  'controller-four-hole': [68.58, 53.34],
  'controller-long': [101.6, 53.34],
  'computer-85x56': [85, 56],
  'computer-65x30': [65, 30],
  'pack-lithium-flat': [86, 38],
  'cells-4-aa': [64, 60],
  'cells-2-aa': [33, 60],
  'battery-9v': [61, 36],
  'sensor-ultrasonic': [46, 18],
  'sensor-infrared': [44, 15],
  'voltage-regulator': [46, 22],
  'slide-switch': [34, 13],
  'terminal-block': [60, 18],
  'breadboard-170': [47, 35],
  'breadboard-400': [82.5, 54.5],
  'humidity-board': [24, 20],
  'label-reader': [42, 34],
  'head-micro-screwed': [36, 36],
  'head-micro-drop-in': [40, 20],
}

export function part(id: string, footprint: string, more?: (plan: Plan) => Json): Part {
  const size = BODIES[footprint]
  return { id, footprint, area: size ? size[0] * size[1] : 0, required: true, ...(more ? { more } : {}) }
}

export const extra = (id: string, footprint: string, value: number, count = 1): Part => ({
  ...part(id, footprint, () => ({ required: false, value, count })),
  required: false,
})

export const edge = (side: string, within: number): Json => ({ kind: 'edge', edge: side, within })
/** A sensor that looks ahead, in the left or right half of the lowest deck. */
export const ear = (id: string, footprint: string, half: 0 | 1): Part =>
  part(id, footprint, ({ w, d, ids }) => ({
    turns: [0],
    decks: [ids[0]],
    place: [
      edge('front', 10),
      { kind: 'inside', shape: { rect: [half ? Math.floor(w / 2) : 0, 0, Math.ceil(w / 2), d] } },
    ],
  }))

/** 20 items, copies counted: 14 that must be there, 6 that may. */
function small(d: Dice): Part[] {
  return [
    part('brain', d.pick(['controller-four-hole', 'controller-long', 'computer-85x56'])),
    part('pack', d.pick(['pack-lithium-flat', 'cells-4-aa', 'battery-9v'])),
    ear('ear-left', 'sensor-ultrasonic', 0),
    ear('ear-right', 'sensor-ultrasonic', 1),
    part('wall-left', 'sensor-infrared', () => ({ place: [edge('left', 8)] })),
    part('wall-right', 'sensor-infrared', () => ({ place: [edge('right', 8)] })),
    part('regulator', 'voltage-regulator'),
    part('switch', 'slide-switch', () => ({ place: [edge('back', 6)] })),
    part('block', 'terminal-block'),
    part('damp', 'humidity-board'),
    part('head', d.pick(['head-micro-screwed', 'head-micro-drop-in']), ({ ids }) => ({
      turns: [0],
      decks: [ids.at(-1)],
      place: [edge('front', 8)],
    })),
    part('bench', 'breadboard-170'),
    part('driver', 'driver-7-in-line', () => ({ place: [{ kind: 'host', item: 'bench' }] })),
    part('valve', d.pick(['driver-2x6', 'header-2x8'])),
    extra('spare', 'breadboard-170', 1, 3),
    extra('half', 'breadboard-400', 2),
    extra('beeper', 'buzzer-plug-in', 2),
    extra('radio', 'radio-plug-in', 3),
  ]
}

/** 30 items, copies counted: 22 that must be there, 8 that may. */
function large(d: Dice): Part[] {
  return [
    part('brain', d.pick(['controller-four-hole', 'controller-long'])),
    part('eye', 'computer-65x30'),
    part('pack', d.pick(['pack-lithium-flat', 'cells-4-aa'])),
    part('cells', d.pick(['cells-2-aa', 'battery-9v'])),
    ear('ear-left', 'sensor-ultrasonic', 0),
    ear('ear-right', 'sensor-ultrasonic', 1),
    part('ear-back', 'sensor-ultrasonic', () => ({ turns: [2], place: [edge('back', 10)] })),
    part('wall-left', 'sensor-infrared', () => ({ place: [edge('left', 8)] })),
    part('wall-right', 'sensor-infrared', () => ({ place: [edge('right', 8)] })),
    part('regulator', 'voltage-regulator'),
    part('regulator-2', 'voltage-regulator'),
    part('switch', 'slide-switch', () => ({ place: [edge('back', 6)] })),
    part('block', 'terminal-block'),
    part('damp', 'humidity-board'),
    part('reader', 'label-reader'),
    part('head', d.pick(['head-micro-screwed', 'head-micro-drop-in']), ({ ids }) => ({
      turns: [0],
      decks: [ids.at(-1)],
      place: [edge('front', 8)],
    })),
    part('bench', 'breadboard-170'),
    part('board', 'breadboard-400'),
    part('driver', 'driver-7-in-line', () => ({ place: [{ kind: 'host', item: 'bench' }] })),
    part('valve', 'driver-2x6', () => ({ place: [{ kind: 'host', item: 'board' }] })),
    part('clock', 'header-2x4'),
    part('plug', d.pick(['header-2x7', 'header-2x8', 'header-1x12'])),
    extra('spare', 'breadboard-170', 1, 4),
    extra('half', 'breadboard-400', 2, 2),
    extra('beeper', 'buzzer-plug-in', 2),
    extra('screen', 'display-plug-in', 3),
  ]
}

/** `fills`: what share of the decks' area the required bodies take, for each robot of the kind. */
const KINDS: readonly (Kind & { readonly fills: readonly number[] })[] = [
  { name: '20 on 2', decks: 2, parts: small, fills: [0.5, 0.5, 0.5, 0.5] },
  { name: '30 on 3', decks: 3, parts: large, fills: [0.56, 0.54, 0.54, 0.54] },
]

/** Every upper deck leaves the front of the lowest one open to the sky. */
const UPPER = 0.8

/** The project of one robot; `fill` = share of the decks' area that the required bodies take (plug-in parts take none). */
export function robot(kind: Kind, seed: number, fill: number, grid = 1): Json {
  const d = dice(1000 * kind.decks + seed)
  const parts = kind.parts(d)
  const area = parts.reduce((s, p) => s + (p.required ? p.area : 0), 0)
  const ratio = d.whole(125, 160) / 100
  const plan = area / fill / (1 + (kind.decks - 1) * UPPER)
  const depth = Math.round(Math.sqrt(plan / ratio))
  const w = Math.round(depth * ratio)
  const upper = Math.round(depth * UPPER)
  const ids = Array.from({ length: kind.decks }, (_, k) => `deck-${k + 1}`)
  const radius = d.whole(6, 12)
  const post = d.whole(7, 9)
  const posts = [
    [post, post],
    [w - post, post],
    [post, upper - post],
    [w - post, upper - post],
  ]
  const slot = d.whole(24, 44)
  const side = d.whole(10, 14)
  const rise = d.whole(58, 70)
  const decks = ids.map((id, k) => ({
    id,
    z: 45 + rise * k,
    thickness: 3,
    outline: { rect: [0, 0, w, k === 0 ? depth : upper], radius },
    openings: [
      { id: 'slot', shape: { rect: [Math.round((w - slot) / 2), 4, slot, 7], radius: 3.5 }, mayCover: k > 0 },
      ...(k === 0
        ? [{ id: 'vent', shape: { circle: [Math.round(w / 2), Math.round(upper / 2), 6] }, mayCover: true }]
        : []),
    ],
    holes: posts.map((at, n) => ({ id: `post-${n + 1}`, at, diameter: 3.2 })),
  }))
  const zones: Json[] = ids.flatMap((deck, k) =>
    posts.map((at, n) => ({
      id: `post-${k + 1}-${n + 1}`,
      kind: 'keep-out',
      deck,
      shape: { circle: [...at, 3.5] },
      ...(k === kind.decks - 1 ? { z: [0, 4] } : {}),
      why: k === kind.decks - 1 ? 'head of a screw' : 'post that carries the deck above',
    })),
  )
  zones.push(
    ...[0, w - 22].map((x, n) => ({
      id: `gearbox-${n + 1}`,
      kind: 'underside',
      deck: ids[0],
      shape: { rect: [x, Math.round(depth * 0.35), 22, 30] },
      why: 'a gearbox touches the deck from below',
    })),
  )
  return {
    format: 'deckwright-project',
    version: 1,
    units: 'mm',
    name: `bench robot, ${kind.name} decks, ${seed}`,
    settings: { grid, edgeClearance: 1, itemClearance: 1, minWeb: 2 },
    decks,
    chassis: {
      contact: [
        [-12, 10],
        [w + 12, 10],
        [w + 12, depth - 10],
        [-12, depth - 10],
      ],
      mass: d.whole(500, 900),
      centre: [w / 2, Math.round(depth * 0.45), 25],
    },
    exits: [
      { id: 'motor-left', deck: ids[0], at: [side, Math.round(depth * 0.45)], free: d.whole(170, 240), diameter: 6 },
      {
        id: 'motor-right',
        deck: ids[0],
        at: [w - side, Math.round(depth * 0.45)],
        free: d.whole(170, 240),
        diameter: 6,
      },
    ],
    passes: ids.slice(1).flatMap((id, k) => [
      { id: `pass-left-${k + 1}`, decks: [ids[k], id], at: [side, Math.round(upper * 0.6)], diameter: 7 },
      { id: `pass-right-${k + 1}`, decks: [ids[k], id], at: [w - side, Math.round(upper * 0.6)], diameter: 7 },
    ]),
    zones,
    items: parts.map((p) => ({ id: p.id, footprint: p.footprint, ...p.more?.({ w, d: depth, ids }) })),
    wires: wires(new Map(parts.map((p) => [p.id, p.footprint]))),
  }
}

const SUPPLY: Readonly<Record<string, string>> = { 'computer-85x56': '5v', 'computer-65x30': '5v' }
const LOGIC: Readonly<Record<string, string>> = { 'computer-85x56': 'serial', 'computer-65x30': 'serial' }

/** Leads of the motors, supply from the pack through switch and regulator, and signals to the brain. */
function wires(has: ReadonlyMap<string, string>): Json[] {
  const brain = has.get('brain')!
  const logic = LOGIC[brain] ?? 'd4'
  const list: [id: string, from: [string, string?], to: [string, string], conductors: number][] = [
    ['drive-left', ['motor-left'], ['driver', 'left-motor'], 2],
    ['drive-right', ['motor-right'], ['driver', 'right-motor'], 2],
    ['feed', ['pack', 'plus'], ['switch', 'in'], 1],
    ['feed-2', ['switch', 'out-1'], ['regulator', 'in-plus'], 1],
    ['drive-supply', ['pack', 'plus'], ['driver', 'supply'], 2],
    ['brain-supply', ['regulator', 'out-plus'], ['brain', SUPPLY[brain] ?? 'vin'], 2],
    ['drive', ['brain', logic], ['driver', 'control'], 5],
    ['hear-left', ['ear-left', 'trigger'], ['brain', LOGIC[brain] ?? 'd2'], 4],
    ['hear-right', ['ear-right', 'trigger'], ['brain', LOGIC[brain] ?? 'd3'], 4],
    ['wall-left', ['wall-left', 'signal'], ['brain', LOGIC[brain] ?? 'a0'], 3],
    ['wall-right', ['wall-right', 'signal'], ['brain', LOGIC[brain] ?? 'a1'], 3],
    ['damp', ['damp', 'bus'], ['brain', LOGIC[brain] ?? 'sda'], 4],
    ['turn', ['head', 'pan'], ['block', 'p2'], 3],
    ['turn-2', ['block', 'p3'], ['brain', LOGIC[brain] ?? 'd5'], 2],
    ['hear-back', ['ear-back', 'trigger'], ['brain', LOGIC[brain] ?? 'd2'], 4],
    ['see', ['eye', 'serial'], ['brain', LOGIC[brain] ?? 'd4'], 3],
    ['eye-supply', ['regulator-2', 'out-plus'], ['eye', '5v'], 2],
    ['cells', ['cells', 'plus'], ['regulator-2', 'in-plus'], 2],
    ['read', ['reader', 'data'], ['eye', 'serial'], 4],
    ['screen', ['screen', 'bus'], ['brain', LOGIC[brain] ?? 'sda'], 4],
  ]
  const end = ([name, terminal]: readonly [string, string?]): Json =>
    terminal === undefined ? { exit: name } : { item: name, terminal }
  return list
    .filter(([, from, to]) => (from[1] === undefined || has.has(from[0])) && has.has(to[0]))
    .map(([id, from, to, conductors]) => ({ id, from: end(from), to: end(to), conductors, loop: 10 }))
}

export interface BenchDeck {
  /** `20 on 2, 1` … */
  readonly name: string
  /** The text of a project file. */
  readonly text: string
}

/** Four robots of each kind. */
export function benchDecks(): BenchDeck[] {
  return KINDS.flatMap((kind) =>
    kind.fills.map((fill, k) => ({ name: `${kind.name}, ${k + 1}`, text: JSON.stringify(robot(kind, k + 1, fill)) })),
  )
}
