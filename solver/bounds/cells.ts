/**
 * A deck in grid cells. Every start and every end (with the clearance behind it) is rounded up to the grid: rounding keeps
 * order, so what does not overlap does not overlap in cells either, and a body takes whole cells.
 */
import type { Body, Mode, Model } from '../search/model.ts'

/** How many cells some body may cover, from column x0 and row y0 on. */
export interface Cells {
  readonly x0: number
  readonly y0: number
  /** Usable cells in the columns before x0+i; the same for rows. */
  readonly columns: Float64Array
  readonly rows: Float64Array
}

/** First cell at or after a coordinate (µm). */
export const cellOf = (at: number, grid: number): number => Math.ceil(at / grid)

/** Cells that a length with its clearance takes at least, wherever it starts among `values`. */
export function lengthIn(values: Int32Array, length: number, grid: number): number {
  return values.every((v) => v % grid === 0) ? Math.ceil(length / grid) : Math.floor(length / grid)
}

const known = new WeakMap<Model, (Cells | undefined)[]>()

/** The cells of a deck; undefined where its bodies have no maps. Only once all static tests are posted. */
export function cellsOf(model: Model, deck: number): Cells | undefined {
  let list = known.get(model)
  if (!list) {
    list = model.problem.decks.map((_, d) => measure(model, d))
    known.set(model, list)
  }
  return list[deck]
}

function measure(model: Model, deck: number): Cells | undefined {
  const { grid, itemClearance: gap } = model.problem
  const parts: { readonly body: Body; readonly mode: Mode; readonly index: number }[] = []
  const seen = new Set<unknown>()
  for (const body of model.bodies) {
    if (body.seating || body.footprint.mount.kind === 'plug-in') continue
    for (const [index, mode] of body.modes.entries()) {
      if (mode.deck !== deck) continue
      const map = body.maps?.[index]
      if (!map) return undefined
      if (seen.has(map)) continue
      seen.add(map)
      parts.push({ body, mode, index })
    }
  }
  let [x0, x1, y0, y1] = [Infinity, -Infinity, Infinity, -Infinity]
  for (const { body, mode } of parts) {
    const [xs, ys] = [body.x.values, body.y.values]
    if (xs.length === 0 || ys.length === 0) continue
    x0 = Math.min(x0, cellOf(xs[0]!, grid))
    x1 = Math.max(x1, cellOf(xs[xs.length - 1]! + mode.w + gap, grid))
    y0 = Math.min(y0, cellOf(ys[0]!, grid))
    y1 = Math.max(y1, cellOf(ys[ys.length - 1]! + mode.h + gap, grid))
  }
  if (!(x1 > x0)) return { x0: 0, y0: 0, columns: new Float64Array(1), rows: new Float64Array(1) }
  const [nx, ny] = [x1 - x0, y1 - y0]
  // a table of differences: +1 where covered rectangles begin, −1 where they end
  const w = ny + 1
  const table = new Int32Array((nx + 1) * w)
  for (const { body, mode, index } of parts) {
    const map = body.maps![index]!
    const [xs, ys] = [body.x.values, body.y.values]
    const cs = ys.map((v) => cellOf(v, grid) - y0)
    const ds = ys.map((v) => cellOf(v + mode.h + gap, grid) - y0)
    for (let i = map.x0; i < map.x0 + map.nx; i++) {
      const a = cellOf(xs[i]!, grid) - x0
      const b = cellOf(xs[i]! + mode.w + gap, grid) - x0
      for (let j = map.y0; j < map.y0 + map.ny; j++) {
        if (!map.at(i, j)) continue
        const c = cs[j]!
        // the next ones up, as long as they leave no cell out, cover one rectangle together
        while (j + 1 < map.y0 + map.ny && cs[j + 1]! <= ds[j]! && map.at(i, j + 1)) j++
        const d = ds[j]!
        table[a * w + c]!++
        table[a * w + d]!--
        table[b * w + c]!--
        table[b * w + d]!++
      }
    }
    model.tick()
  }
  const columns = new Float64Array(nx + 1)
  const rows = new Float64Array(ny + 1)
  for (let i = 0; i < nx; i++) {
    let used = 0
    for (let j = 0; j < ny; j++) {
      let n = table[i * w + j]!
      if (i > 0) n += table[(i - 1) * w + j]!
      if (j > 0) n += table[i * w + j - 1]!
      if (i > 0 && j > 0) n -= table[(i - 1) * w + j - 1]!
      table[i * w + j] = n
      if (n > 0) {
        used++
        rows[j + 1]!++
      }
    }
    columns[i + 1] = columns[i]! + used
  }
  for (let j = 0; j < ny; j++) rows[j + 1]! += rows[j]!
  return { x0, y0, columns, rows }
}
