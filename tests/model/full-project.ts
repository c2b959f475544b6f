/** An invented robot that uses every field of contract §2 and §3 at least once, for tests. */
import { expect } from 'vitest'
import { formatProblem, type Project, readProject, toProblem } from '../../src/model/index.ts'

export const none = new Map()
export const problem = (project: Project, variant = 'base') => toProblem(project, variant, none)

export function read(project: unknown, library = none): Project {
  const r = readProject(JSON.stringify(project), 'test.json', library)
  if (!r.ok) throw new Error(r.problems.map(formatProblem).join('\n'))
  expect(r.warnings.map(formatProblem)).toEqual([])
  return r.value
}

export const small = (): Project => ({
  format: 'deckwright-project',
  version: 1,
  units: 'mm',
  name: 'small',
  decks: [{ id: 'd', z: 10, thickness: 3, outline: { rect: [0, 0, 100, 80] } }],
  footprints: [{ id: 'box', body: { width: 20, depth: 10, height: 5 }, mount: { kind: 'adhesive' } }],
  items: [{ id: 'a', footprint: 'box' }],
})

export const full = (): Project => ({
  format: 'deckwright-project',
  version: 1,
  units: 'mm',
  name: 'pond skimmer',
  settings: { grid: 0.5, edgeClearance: 1, itemClearance: 0.25, minWeb: 3 },
  decks: [
    {
      id: 'main',
      name: 'main deck',
      z: 40,
      thickness: 3,
      outline: {
        polygon: [
          [0, 0],
          [120, 0, 0.5],
          [120, 180],
          [0, 180],
        ],
      },
      openings: [
        { id: 'slot', shape: { rect: [50, 20, 10, 4], radius: 2 }, mayCover: true },
        { id: 'eye', shape: { circle: [20, 160, 6.1] } },
      ],
      holes: [{ id: 'p1', at: [5, 5], diameter: 3.2 }],
      material: 'plywood',
    },
    { id: 'top', z: 90, thickness: 2, outline: { sector: [60, 60, 50, 300, 60] } },
  ],
  chassis: {
    contact: [
      [0, 0],
      [120, 0],
      [120, 180],
      [0, 180],
    ],
    mass: 900,
    centre: [60, 88.5, 21],
  },
  exits: [
    { id: 'motor', deck: 'main', at: [10, 12.5], free: 200, diameter: 8 },
    { id: 'lamp', deck: 'top', at: [60, 60] },
  ],
  passes: [
    { id: 'riser', decks: ['main', 'top'], at: [80, 60], diameter: 12 },
    { id: 'gap', decks: ['top', 'main'], at: [0, 0] },
  ],
  footprints: [
    {
      format: 'deckwright-footprint',
      version: 1,
      id: 'controller',
      name: 'controller board',
      source: 'invented',
      kind: 'board',
      body: { width: 60, depth: 40.5, height: 12 },
      mass: 30,
      mount: {
        kind: 'screw',
        standoff: 6,
        holes: [
          { id: 'h1', at: [3, 3], diameter: 3.4, land: 7, screw: 'M3' },
          { id: 'h2', at: [57, 37.5], diameter: 3.4 },
        ],
      },
      above: 'open',
      corridors: [{ id: 'plug', shape: { rect: [-40, 10, 40, 15] }, z: [-1, 12], why: 'data plug' }],
      terminals: [
        { id: 'vin', at: [1, 2], name: 'supply' },
        { id: 'out', at: [59, 2] },
      ],
    },
    {
      id: 'contacts',
      name: 'contacts',
      source: 'invented',
      kind: 'breadboard',
      body: { width: 30, depth: 20, height: 8 },
      mount: { kind: 'adhesive' },
      terminals: [{ id: 'a1', at: [2, 2] }],
      breadboard: { pitch: 2.5, blocks: [{ at: [2, 2.25], columns: 10, rows: 5, strip: 'row' }] },
    },
    {
      id: 'driver',
      body: { width: 10, depth: 10, height: 5 },
      mount: { kind: 'plug-in' },
      plug: {
        pins: [
          { id: '1', at: [1, 1] },
          { id: '2', at: [3.54, 1] },
        ],
      },
    },
    { id: 'cells', body: { width: 60, depth: 30, height: 15 }, mount: { kind: 'strap', slots: [[5, -3, 3, 20]] } },
    {
      id: 'neck',
      kind: 'head',
      body: { width: 24, depth: 12, height: 50 },
      mount: { kind: 'drop-in', cutout: [1, 1, 22, 10], holes: [{ id: 'a', at: [-2, 6], diameter: 2 }], below: 18 },
      above: 4,
      head: { pivot: [6, 6], pan: [-80, 80], reach: 45, tail: 15, z: [20, 60] },
    },
  ],
  items: [
    {
      id: 'brain',
      footprint: 'controller',
      turns: [1, 3],
      decks: ['main'],
      place: [
        { kind: 'at', deck: 'main', at: [4, 20.5], turn: 1 },
        { kind: 'centred', axis: 'x' },
        { kind: 'edge', edge: 'left', within: 5 },
        { kind: 'inside', shape: { circle: [60, 60, 55] } },
        { kind: 'near', item: 'board', within: 90 },
        { kind: 'beyond', item: 'board#2', side: 'back' },
      ],
      stack: 12,
      overhang: { left: 2 },
    },
    { id: 'board', footprint: 'contacts', count: 3, required: false, value: 2.5 },
    { id: 'chip', footprint: 'driver', place: [{ kind: 'host', item: 'board#1' }] },
    { id: 'pack', footprint: 'cells', overhang: { front: 1, back: 2, right: 3 } },
    { id: 'arm', footprint: 'neck', later: true },
  ],
  zones: [
    { id: 'bay', kind: 'reserved', deck: 'main', shape: { rect: [0, 150, 20, 20] }, z: [0, 30], why: 'gripper' },
    { id: 'view', kind: 'view', deck: 'top', shape: { circle: [60, 60, 5] } },
    { id: 'post', kind: 'keep-out', deck: 'main', shape: { circle: [5, 5, 5] } },
    { id: 'gear', kind: 'underside', deck: 'main', shape: { rect: [0, 0, 30, 30] } },
  ],
  wires: [
    {
      id: 'drive',
      from: { exit: 'motor' },
      to: { item: 'brain', terminal: 'out' },
      maxLength: 300,
      loop: 20,
      conductors: 2,
      gauge: 22,
      colour: 'grey, like "the left one"',
      current: 1.5,
      supply: 6,
    },
    { id: 'feed', from: { item: 'board', terminal: 'a1' }, to: { item: 'brain', terminal: 'vin' } },
    { id: 'second', from: { item: 'board#2', terminal: 'a1' }, to: { exit: 'lamp' } },
  ],
  objective: ['wire-length', 'balance'],
  variants: [
    { id: 'plain' },
    {
      id: 'light',
      name: 'without the top',
      items: { brain: { turns: [0], place: [], stack: 0 }, board: { count: 2 } },
      omit: ['pack'],
      release: ['bay'],
      wires: { second: null, drive: { loop: 5 } },
      settings: { grid: 1 },
      decks: { main: { thickness: 4 } },
      drop: ['top'],
    },
  ],
})
