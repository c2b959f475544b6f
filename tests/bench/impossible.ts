/** Decks of 12 items on which something cannot be, each for another reason. Every number is ours. */
import { part } from './decks.ts'
import { dice } from './random.ts'

type Json = Record<string, unknown>

const front = { kind: 'edge', edge: 'front', within: 6 }

/** What a robot of 12 has, by id; reasons are added by replacing fields. */
const PARTS: Readonly<Record<string, Json>> = {
  brain: { footprint: 'controller-four-hole' },
  pack: { footprint: 'pack-lithium-flat' },
  'ear-left': { footprint: 'sensor-ultrasonic', turns: [0], place: [front] },
  'ear-right': { footprint: 'sensor-ultrasonic', turns: [0], place: [front] },
  wall: { footprint: 'sensor-infrared', place: [{ kind: 'edge', edge: 'left', within: 6 }] },
  regulator: { footprint: 'voltage-regulator' },
  switch: { footprint: 'slide-switch' },
  block: { footprint: 'terminal-block' },
  damp: { footprint: 'humidity-board' },
  bench: { footprint: 'breadboard-170' },
  driver: { footprint: 'driver-7-in-line', place: [{ kind: 'host', item: 'bench' }] },
  lamp: { footprint: 'lamp-mast' },
}

function deck(
  name: string,
  w: number,
  d: number,
  change: Record<string, Json>,
  more: Json = {},
): { name: string; text: string } {
  const items = Object.entries(PARTS).map(([id, fields]) => ({ id, ...fields, ...change[id] }))
  return {
    name,
    text: JSON.stringify({
      format: 'deckwright-project',
      version: 1,
      units: 'mm',
      name,
      settings: { grid: 1, edgeClearance: 1, itemClearance: 1, minWeb: 2 },
      decks: [{ id: 'main', z: 60, thickness: 3, outline: { rect: [0, 0, w, d], radius: 10 } }],
      exits: [{ id: 'motor-left', deck: 'main', at: [12, Math.round(d / 2)], free: 150, diameter: 6 }],
      items,
      wires: [
        {
          id: 'drive-left',
          from: { exit: 'motor-left' },
          to: { item: 'driver', terminal: 'left-motor' },
          conductors: 2,
        },
      ],
      ...more,
    }),
  }
}

const KINDS = [
  ...['controller-long', 'computer-65x30', 'cells-4-aa', 'cells-2-aa', 'breadboard-170', 'breadboard-400'],
  ...['sensor-ultrasonic', 'sensor-infrared', 'voltage-regulator', 'slide-switch', 'terminal-block', 'label-reader'],
]

/** A deck of 12 items drawn from the kinds, which take this share of its area: more than there is. */
function overfull(seed: number, fill: number): { name: string; text: string } {
  const d = dice(seed)
  const drawn = ['controller-four-hole', 'pack-lithium-flat', ...Array.from({ length: 10 }, () => d.pick(KINDS))]
  const area = drawn.reduce((sum, f) => sum + part(f, f).area, 0)
  const w = Math.round(Math.sqrt((area / fill) * 1.4))
  const items = Object.fromEntries(drawn.map((footprint, i) => [`part-${i + 1}`, { footprint }]))
  const plain = { exits: [], wires: [], items: Object.entries(items).map(([id, fields]) => ({ id, ...fields })) }
  return deck(`${Math.round(fill * 100 - 100)} % too much on it, ${seed}`, w, Math.round(w / 1.4), {}, plain)
}

/** Decks that are impossible, each for its own reason, which the name says. */
export function impossibleDecks(): { readonly name: string; readonly text: string }[] {
  return [
    deck('four sensors at a front edge for three', 180, 130, {
      wall: { footprint: 'sensor-ultrasonic', turns: [0], place: [front] },
      damp: { footprint: 'sensor-infrared', turns: [0], place: [front] },
    }),
    deck(
      'a lead that ends before the breadboard',
      190,
      130,
      {
        bench: { place: [{ kind: 'edge', edge: 'right', within: 10 }] },
      },
      {
        exits: [{ id: 'motor-left', deck: 'main', at: [12, 65], free: 60, diameter: 6 }],
      },
    ),
    deck(
      'a deck above that nothing may stand under',
      180,
      130,
      {},
      {
        decks: [
          { id: 'main', z: 60, thickness: 3, outline: { rect: [0, 0, 180, 130], radius: 10 } },
          { id: 'roof', z: 120, thickness: 3, outline: { rect: [30, 0, 150, 130] } },
        ],
        items: Object.entries(PARTS).map(([id, fields]) => ({ id, ...fields, decks: ['main'] })),
      },
    ),
    deck('more than the deck has room for', 128, 110, {
      block: { footprint: 'breadboard-400' },
      lamp: { footprint: 'cells-4-aa' },
    }),
    ...[1.05, 1.1, 1.15, 1.2, 1.3, 1.4].map((fill, k) => overfull(k + 1, fill)),
  ]
}
