/** A depth buffer: triangles and lines of an orthographic picture, the nearest surface seen at every sample. */
import { capsule } from './picture-raster.ts'
import type { Pixels } from './png.ts'

/** Pixels right and down, and nearness: greater is nearer to the eye, mm. */
export type Seen = readonly [number, number, number]
export type Rgb = readonly [number, number, number]

export interface Face {
  readonly a: Seen
  readonly b: Seen
  readonly c: Seen
  readonly colour: Rgb
}

interface Window {
  readonly x0: number
  readonly y0: number
  readonly x1: number
  readonly y1: number
}

/** `samples`² are averaged to a pixel. */
export class Canvas3 {
  readonly width: number
  readonly height: number
  readonly #samples: number
  readonly #w: number
  readonly #h: number
  readonly #depth: Float32Array
  readonly #colour: Uint8Array

  constructor(width: number, height: number, ground: Rgb, samples = 2) {
    this.width = width
    this.height = height
    this.#samples = samples
    this.#w = width * samples
    this.#h = height * samples
    this.#depth = new Float32Array(this.#w * this.#h).fill(Number.NEGATIVE_INFINITY)
    this.#colour = new Uint8Array(this.#w * this.#h * 3)
    for (let i = 0; i < this.#colour.length; i++) this.#colour[i] = ground[i % 3]!
  }

  /** Faces that hide what is behind them. */
  solid(faces: readonly Face[]): void {
    for (const face of faces) {
      this.#scan(face, (i, z) => {
        if (z <= this.#depth[i]!) return
        this.#depth[i] = z
        this.#put(i, face.colour, 1)
      })
    }
  }

  /** Faces of one glassy body: of those that nothing hides, the nearest tints each sample once. */
  glass(faces: readonly Face[], opacity: number): void {
    const window = this.#windowOf(faces)
    const width = window.x1 - window.x0 + 1
    const height = window.y1 - window.y0 + 1
    if (width <= 0 || height <= 0) return
    const near = new Float32Array(width * height).fill(Number.NEGATIVE_INFINITY)
    const which = new Int32Array(width * height).fill(-1)
    faces.forEach((face, f) => {
      this.#scan(face, (i, z, x, y) => {
        const k = (y - window.y0) * width + x - window.x0
        // A glassy face that lies on a solid one tints it, all over alike.
        if (z < this.#depth[i]! - 0.02 || z <= near[k]!) return
        near[k] = z
        which[k] = f
      })
    })
    for (let y = 0; y < height; y++)
      for (let x = 0; x < width; x++) {
        const face = faces[which[y * width + x]!]
        if (face) this.#put((y + window.y0) * this.#w + x + window.x0, face.colour, opacity)
      }
  }

  /** A line `thick` pixels wide, seen where nothing is nearer by more than `lift` mm. */
  line(a: Seen, b: Seen, colour: Rgb, thick: number, opacity: number, lift: number): void {
    const s = this.#samples
    const half = (thick * s) / 2
    const [ax, ay, bx, by] = [a[0] * s, a[1] * s, b[0] * s, b[1] * s]
    const length = Math.hypot(bx - ax, by - ay)
    const [ux, uy] = length > 0 ? [(bx - ax) / length, (by - ay) / length] : [1, 0]
    capsule([ax, ay], [bx, by], half, this.#h, (y, from, to) => {
      const last = Math.min(this.#w, Math.ceil(to - 0.5)) - 1
      for (let x = Math.max(0, Math.ceil(from - 0.5)); x <= last; x++) {
        const along = Math.max(0, Math.min(length, (x + 0.5 - ax) * ux + (y + 0.5 - ay) * uy))
        const z = a[2] + (length > 0 ? ((b[2] - a[2]) * along) / length : 0) + lift
        const i = y * this.#w + x
        if (z > this.#depth[i]!) this.#put(i, colour, opacity)
      }
    })
  }

  pixels(): Pixels {
    const s = this.#samples
    const rgb = new Uint8Array(this.width * this.height * 3)
    for (let y = 0; y < this.height; y++)
      for (let x = 0; x < this.width; x++)
        for (let k = 0; k < 3; k++) {
          let sum = 0
          for (let j = 0; j < s; j++)
            for (let i = 0; i < s; i++) sum += this.#colour[((y * s + j) * this.#w + x * s + i) * 3 + k]!
          rgb[(y * this.width + x) * 3 + k] = Math.round(sum / (s * s))
        }
    return { width: this.width, height: this.height, rgb }
  }

  #put(i: number, colour: Rgb, opacity: number): void {
    for (let k = 0; k < 3; k++) {
      const old = this.#colour[3 * i + k]!
      this.#colour[3 * i + k] = Math.round(old + (colour[k]! - old) * opacity)
    }
  }

  #windowOf(faces: readonly Face[]): Window {
    const w = { x0: this.#w, y0: this.#h, x1: -1, y1: -1 }
    for (const { a, b, c } of faces)
      for (const p of [a, b, c]) {
        w.x0 = Math.min(w.x0, Math.floor(p[0] * this.#samples))
        w.y0 = Math.min(w.y0, Math.floor(p[1] * this.#samples))
        w.x1 = Math.max(w.x1, Math.ceil(p[0] * this.#samples))
        w.y1 = Math.max(w.y1, Math.ceil(p[1] * this.#samples))
      }
    return {
      x0: Math.max(0, w.x0),
      y0: Math.max(0, w.y0),
      x1: Math.min(this.#w - 1, w.x1),
      y1: Math.min(this.#h - 1, w.y1),
    }
  }

  /** Every sample whose middle lies in a triangle, row by row. */
  #scan({ a, b, c }: Face, visit: (index: number, z: number, x: number, y: number) => void): void {
    const s = this.#samples
    const area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
    if (area === 0) return
    const y0 = Math.max(0, Math.ceil(Math.min(a[1], b[1], c[1]) * s - 0.5))
    const y1 = Math.min(this.#h - 1, Math.floor(Math.max(a[1], b[1], c[1]) * s - 0.5))
    for (let y = y0; y <= y1; y++) {
      const py = (y + 0.5) / s
      let left = Number.POSITIVE_INFINITY
      let right = Number.NEGATIVE_INFINITY
      for (const [p, q] of [
        [a, b],
        [b, c],
        [c, a],
      ] as const) {
        if (p[1] === q[1] || py < Math.min(p[1], q[1]) || py > Math.max(p[1], q[1])) continue
        const x = p[0] + ((py - p[1]) / (q[1] - p[1])) * (q[0] - p[0])
        left = Math.min(left, x)
        right = Math.max(right, x)
      }
      // Half open, so that a sample on the side of two triangles belongs to one.
      const x0 = Math.max(0, Math.ceil(left * s - 0.5))
      const x1 = Math.min(this.#w - 1, Math.ceil(right * s - 0.5) - 1)
      for (let x = x0; x <= x1; x++) {
        const px = (x + 0.5) / s
        const wb = ((px - a[0]) * (c[1] - a[1]) - (py - a[1]) * (c[0] - a[0])) / area
        const wc = ((b[0] - a[0]) * (py - a[1]) - (b[1] - a[1]) * (px - a[0])) / area
        visit(y * this.#w + x, a[2] + wb * (b[2] - a[2]) + wc * (c[2] - a[2]), x, y)
      }
    }
  }
}
