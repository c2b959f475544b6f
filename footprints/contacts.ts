/** Contacts of a breadboard that cannot be told apart: a pin 0.01 mm off its own (contract R6) would be on both. */

/** Not further from one another, mm. */
const NEAR = 0.02

interface Block {
  readonly at: readonly [number, number]
  readonly columns: number
  readonly rows: number
}

/** Are two contacts at one place? All in mm. */
export function twice(blocks: readonly Block[], pitch: number): boolean {
  if (pitch <= NEAR && blocks.some((b) => b.columns * b.rows > 1)) return true
  const order = [...blocks].sort((a, b) => a.at[0] - b.at[0])
  return order.some((a, n) => {
    const right = a.at[0] + (a.columns - 1) * pitch + NEAR
    for (let m = n + 1; m < order.length && order[m]!.at[0] <= right; m++) {
      const b = order[m]!
      const x = nearest(b.at[0] - a.at[0], a.columns, b.columns, pitch)
      const y = nearest(b.at[1] - a.at[1], a.rows, b.rows, pitch)
      if (Math.hypot(x, y) <= NEAR) return true
    }
    return false
  })
}

/** Of two rows of points of one pitch, the second `by` further on: how near a point of one is to one of the other. */
function nearest(by: number, first: number, second: number, pitch: number): number {
  const shift = Math.min(first - 1, Math.max(1 - second, Math.round(by / pitch)))
  return Math.abs(by - shift * pitch)
}
