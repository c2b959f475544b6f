/** Flat pictures as pixels: every mark is sampled 4 × 4 to the pixel and laid over what is there. */
import type { Point2, Ring } from './gltf-flat.ts'
import { rgb } from './picture-colours.ts'
import type { Picture } from './picture-marks.ts'
import type { Pixels } from './png.ts'

const SAMPLES = 4

/** `perMm`: pixels to the millimetre; the picture's upper left corner is the first pixel's. */
export function rasterised(picture: Picture, perMm: number): Pixels {
  const width = Math.max(1, Math.round(picture.width * perMm))
  const height = Math.max(1, Math.round(picture.height * perMm))
  const out = new Float32Array(width * height * 3)
  const paper = rgb(picture.paper)
  for (let i = 0; i < out.length; i++) out[i] = paper[i % 3]!
  const scale = perMm * SAMPLES
  const [w, h] = [width * SAMPLES, height * SAMPLES]
  // The one flip of y on the way to pixels.
  const put = ([x, y]: Point2): Point2 => [x * scale, (picture.height - y) * scale]
  const mask = new Uint8Array(w * h)
  for (const mark of picture.groups.flatMap((g) => g.marks)) {
    const reach = new Reach(w, h)
    const hit = (x: number, y: number): void => {
      mask[y * w + x] = 1
      reach.add(x, y)
    }
    if (mark.kind === 'area')
      fill(
        mark.rings.map((r) => r.map(put)),
        w,
        h,
        hit,
      )
    else
      for (const line of mark.lines) {
        const points = line.map(put)
        points.forEach((p, i) => {
          if (i > 0 || points.length === 1) inCapsule(points[i - 1] ?? p, p, (mark.width * scale) / 2, w, h, hit)
        })
      }
    blend(out, width, mask, w, reach, rgb(mark.colour), mark.opacity)
  }
  return { width, height, rgb: Uint8Array.from(out, (v) => Math.round(v)) }
}

/** The pixels that a mark touched. */
class Reach {
  x0: number
  y0: number
  x1 = -1
  y1 = -1
  constructor(w: number, h: number) {
    this.x0 = w
    this.y0 = h
  }
  add(x: number, y: number): void {
    if (x < this.x0) this.x0 = x
    if (x > this.x1) this.x1 = x
    if (y < this.y0) this.y0 = y
    if (y > this.y1) this.y1 = y
  }
}

/** Lays a mark over the picture and clears the mask. */
function blend(
  out: Float32Array,
  width: number,
  mask: Uint8Array,
  w: number,
  reach: Reach,
  colour: readonly [number, number, number],
  opacity: number,
): void {
  const [x0, x1] = [Math.floor(reach.x0 / SAMPLES), Math.floor(reach.x1 / SAMPLES)]
  const [y0, y1] = [Math.floor(reach.y0 / SAMPLES), Math.floor(reach.y1 / SAMPLES)]
  for (let y = y0; y <= y1; y++)
    for (let x = x0; x <= x1; x++) {
      let count = 0
      for (let j = 0; j < SAMPLES; j++) {
        const row = (y * SAMPLES + j) * w + x * SAMPLES
        for (let i = 0; i < SAMPLES; i++) {
          count += mask[row + i]!
          mask[row + i] = 0
        }
      }
      if (count === 0) continue
      const share = (opacity * count) / (SAMPLES * SAMPLES)
      const at = (y * width + x) * 3
      for (let k = 0; k < 3; k++) out[at + k] = out[at + k]! + (colour[k]! - out[at + k]!) * share
    }
}

/** Even-odd: every sample whose middle lies inside. */
function fill(rings: readonly Ring[], w: number, h: number, hit: (x: number, y: number) => void): void {
  const edges = rings.flatMap((ring) =>
    ring.flatMap((a, i) => {
      const b = ring[(i + 1) % ring.length]!
      return a[1] === b[1] ? [] : [a[1] < b[1] ? { a, b } : { a: b, b: a }]
    }),
  )
  const starts = new Map<number, typeof edges>()
  for (const edge of edges) {
    const row = Math.max(0, Math.ceil(edge.a[1] - 0.5))
    const list = starts.get(row)
    if (list) list.push(edge)
    else starts.set(row, [edge])
  }
  let live: typeof edges = []
  for (let y = 0; y < h; y++) {
    live = live.filter((e) => y + 0.5 < e.b[1])
    for (const e of starts.get(y) ?? []) if (y + 0.5 < e.b[1]) live.push(e)
    const xs = live.map(({ a, b }) => a[0] + ((y + 0.5 - a[1]) / (b[1] - a[1])) * (b[0] - a[0])).sort((p, q) => p - q)
    for (let k = 0; k + 1 < xs.length; k += 2) {
      const last = Math.min(w - 1, Math.ceil(xs[k + 1]! - 0.5) - 1)
      for (let x = Math.max(0, Math.ceil(xs[k]! - 0.5)); x <= last; x++) hit(x, y)
    }
  }
}

/** Every sample within `half` of the segment a–b, with how far along the segment its nearest point is. */
export function inCapsule(
  a: Point2,
  b: Point2,
  half: number,
  w: number,
  h: number,
  hit: (x: number, y: number, along: number) => void,
): void {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1])
  const [ux, uy] = length > 0 ? [(b[0] - a[0]) / length, (b[1] - a[1]) / length] : [1, 0]
  const y0 = Math.max(0, Math.floor(Math.min(a[1], b[1]) - half))
  const y1 = Math.min(h - 1, Math.ceil(Math.max(a[1], b[1]) + half))
  const left = Math.max(0, Math.floor(Math.min(a[0], b[0]) - half))
  const right = Math.min(w - 1, Math.ceil(Math.max(a[0], b[0]) + half))
  for (let y = y0; y <= y1; y++) {
    const py = y + 0.5 - a[1]
    let [x0, x1] = [left, right]
    if (uy !== 0) {
      // Where the row crosses the endless stripe about the line.
      const [p, q] = [a[0] + (py * ux - half) / uy, a[0] + (py * ux + half) / uy]
      x0 = Math.max(x0, Math.floor(Math.min(p, q)) - 1)
      x1 = Math.min(x1, Math.ceil(Math.max(p, q)) + 1)
    }
    for (let x = x0; x <= x1; x++) {
      const px = x + 0.5 - a[0]
      const along = Math.max(0, Math.min(length, px * ux + py * uy))
      if ((px - along * ux) ** 2 + (py - along * uy) ** 2 <= half * half) hit(x, y, along)
    }
  }
}
