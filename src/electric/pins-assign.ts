/**
 * The assignment problem: each row gets a column of its own, and the sum of their costs is least. Exact; the Hungarian method with
 * potentials, shortest augmenting paths (Kuhn 1955; Munkres 1957; Jonker & Volgenant 1987), O(rows² · columns).
 */

/** At least as much as one forbidden pair costs: so that as few as possible are taken, whatever the rest costs. */
const FORBIDDEN = 1e12

/**
 * `cost[row][column]`: whole numbers below 1e9, Infinity where the two do not go together. Returns for each row its column, or
 * −1 where it got none; first as many rows as possible are served, then at least cost.
 *
 * `assign([[4, 1], [2, Infinity]])` → `[1, 0]`
 */
export function assign(cost: readonly (readonly number[])[]): number[] {
  const rows = cost.length
  const given = cost.reduce((most, row) => Math.max(most, row.length), 0)
  // Columns that stand for nothing, so that no row goes without.
  const columns = given + rows
  const at = (r: number, c: number): number => {
    const v = cost[r]![c]
    return v === undefined || v === Number.POSITIVE_INFINITY ? FORBIDDEN : v
  }
  // From 1; column 0 holds the row that is being placed.
  const rowPrice = new Array<number>(rows + 1).fill(0)
  const columnPrice = new Array<number>(columns + 1).fill(0)
  const rowOf = new Array<number>(columns + 1).fill(0)
  for (let row = 1; row <= rows; row++) {
    rowOf[0] = row
    let column = 0
    const reach = new Array<number>(columns + 1).fill(Number.POSITIVE_INFINITY)
    const from = new Array<number>(columns + 1).fill(0)
    const done = new Array<boolean>(columns + 1).fill(false)
    do {
      done[column] = true
      const r = rowOf[column]!
      let step = Number.POSITIVE_INFINITY
      let next = 0
      for (let c = 1; c <= columns; c++) {
        if (done[c]) continue
        const reduced = at(r - 1, c - 1) - rowPrice[r]! - columnPrice[c]!
        if (reduced < reach[c]!) {
          reach[c] = reduced
          from[c] = column
        }
        if (reach[c]! < step) {
          step = reach[c]!
          next = c
        }
      }
      for (let c = 0; c <= columns; c++) {
        if (done[c]) {
          rowPrice[rowOf[c]!]! += step
          columnPrice[c]! -= step
        } else reach[c]! -= step
      }
      column = next
    } while (rowOf[column] !== 0)
    while (column !== 0) {
      rowOf[column] = rowOf[from[column]!]!
      column = from[column]!
    }
  }
  const columnOf = new Array<number>(rows).fill(-1)
  for (let c = 1; c <= given; c++) {
    const r = rowOf[c]! - 1
    if (r >= 0 && at(r, c - 1) < FORBIDDEN) columnOf[r] = c - 1
  }
  return columnOf
}
