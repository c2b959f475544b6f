/** The pins of plug-in parts as straight strips of header pins. */
import { PITCH_UM } from '../../footprints/pitch.ts'
import type { Footprint, Point } from '../../solver/index.ts'

/** How far a pin may be off the pitch, as for pins on tie points (R6), Um. */
const OFF = 10

/**
 * Lengths of the straight strips that cover a footprint's pins, longest first. A run of pins of one pitch along u or v is one strip;
 * of two that cross, the longer keeps the pin, and of equal ones that along u.
 */
export function stripsOf(f: Footprint): number[] {
  const left = (f.plug?.pins ?? []).map((p) => p.at)
  const strips: number[] = []
  while (left.length > 0) {
    const runs = [...runsOf(left, 'x', 'y'), ...runsOf(left, 'y', 'x')]
    const longest = runs.reduce((a, b) => (b.length > a.length ? b : a))
    if (longest.length === 1) return [...strips, ...left.map(() => 1)]
    strips.push(longest.length)
    for (const pin of longest) left.splice(left.indexOf(pin), 1)
  }
  return strips
}

/** Pins split into rows (one `across`), and rows into runs of one pitch; every pin is in one run. */
function runsOf(pins: readonly Point[], along: 'x' | 'y', across: 'x' | 'y'): Point[][] {
  const rows: Point[][] = []
  for (const pin of [...pins].sort((a, b) => a[across] - b[across])) {
    const row = rows.at(-1)
    if (row && pin[across] - row[0]![across] <= OFF) row.push(pin)
    else rows.push([pin])
  }
  return rows.flatMap((row) => {
    const runs: Point[][] = []
    for (const pin of row.sort((a, b) => a[along] - b[along])) {
      const run = runs.at(-1)
      if (run && Math.abs(pin[along] - run.at(-1)![along] - PITCH_UM) <= OFF) run.push(pin)
      else runs.push([pin])
    }
    return runs
  })
}
