/** Robots of any size, for showing how cost grows: three quarters of the items must be there, the rest are breadboards that may. */
import { ear, edge, extra, type Part, part, robot } from './decks.ts'

/** In the order in which a robot gets them. */
export function required(): Part[] {
  return [
    part('brain', 'controller-four-hole'),
    part('bench', 'breadboard-170'),
    part('driver', 'driver-7-in-line', () => ({ place: [{ kind: 'host', item: 'bench' }] })),
    part('pack', 'pack-lithium-flat'),
    ear('ear-left', 'sensor-ultrasonic', 0),
    ear('ear-right', 'sensor-ultrasonic', 1),
    part('regulator', 'voltage-regulator'),
    part('switch', 'slide-switch', () => ({ place: [edge('back', 6)] })),
    part('wall-left', 'sensor-infrared', () => ({ place: [edge('left', 8)] })),
    part('wall-right', 'sensor-infrared', () => ({ place: [edge('right', 8)] })),
    part('block', 'terminal-block'),
    part('damp', 'humidity-board'),
    part('valve', 'driver-2x6'),
    part('regulator-2', 'voltage-regulator'),
    part('cells', 'cells-2-aa'),
    part('board', 'breadboard-400'),
    part('reader', 'label-reader'),
    part('plug', 'header-2x7'),
    part('ear-back', 'sensor-ultrasonic', () => ({ turns: [2], place: [edge('back', 10)] })),
    part('block-2', 'terminal-block'),
    part('damp-2', 'humidity-board'),
    part('clock', 'header-2x4'),
    part('regulator-3', 'voltage-regulator'),
    part('wall-back', 'sensor-infrared'),
    part('bench-2', 'breadboard-170'),
    part('valve-2', 'header-2x8'),
    part('block-3', 'terminal-block'),
    part('pack-2', 'battery-9v'),
    part('reader-2', 'label-reader'),
    part('switch-2', 'slide-switch'),
  ]
}

const FILL = 0.45

/** The text of a project with so many items (4 to 40, copies counted) on so many decks; `grid` in mm. */
export function growing(items: number, decks: number, grid: number, seed: number): string {
  const must = Math.ceil(items * 0.75)
  const parts = required().slice(0, must)
  parts.push(extra('spare', 'breadboard-170', 1, items - must))
  return JSON.stringify(robot({ name: `${items} items`, decks, parts: () => parts }, 10 + seed, FILL, grid))
}
