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
  const mask = new Mask(w, h)
  const span: Span = (y, from, to) => mask.mark(y, from, to)
  for (const mark of picture.groups.flatMap((g) => g.marks)) {
    if (mark.kind === 'area') {
      fill(
        mark.rings.map((r) => r.map(put)),
        h,
        span,
      )
    } else {
      for (const line of mark.lines) {
        const points = line.map(put)
        points.forEach((p, i) => {
          if (i > 0 || points.length === 1) capsule(points[i - 1] ?? p, p, (mark.width * scale) / 2, h, span)
        })
      }
    }
    mask.blend(out, width, rgb(mark.colour), mark.opacity)
  }
  // Clamped arrays round.
  return { width, height, rgb: new Uint8Array(new Uint8ClampedArray(out).buffer) }
}

/** Takes the samples of row `y` whose middles lie between two positions. */
type Span = (y: number, from: number, to: number) => void

/** The samples of one mark: where its own parts lie on one another they count once. */
class Mask {
  readonly #samples: Uint8Array
  readonly #w: number
  /** Rows, first and last samples, one after the other. */
  #spans: number[] = []

  constructor(w: number, h: number) {
    this.#samples = new Uint8Array(w * h)
    this.#w = w
  }

  mark(y: number, from: number, to: number): void {
    const first = Math.max(0, Math.ceil(from - 0.5))
    const last = Math.min(this.#w, Math.ceil(to - 0.5)) - 1
    if (last < first) return
    this.#samples.fill(1, y * this.#w + first, y * this.#w + last + 1)
    this.#spans.push(y, first, last)
  }

  /** Lays the mark over the picture and forgets it. */
  blend(out: Float32Array, width: number, colour: readonly [number, number, number], opacity: number): void {
    for (let k = 0; k < this.#spans.length; k += 3) {
      const y = Math.floor(this.#spans[k]! / SAMPLES)
      const last = Math.floor(this.#spans[k + 2]! / SAMPLES)
      for (let x = Math.floor(this.#spans[k + 1]! / SAMPLES); x <= last; x++) {
        const count = this.#take(x, y)
        if (count === 0) continue
        const share = (opacity * count) / (SAMPLES * SAMPLES)
        const at = (y * width + x) * 3
        for (let c = 0; c < 3; c++) out[at + c] = out[at + c]! + (colour[c]! - out[at + c]!) * share
      }
    }
    this.#spans = []
  }

  /** How many samples of a pixel are marked; they are not, afterwards. */
  #take(x: number, y: number): number {
    let count = 0
    for (let j = 0; j < SAMPLES; j++) {
      const row = (y * SAMPLES + j) * this.#w + x * SAMPLES
      for (let i = 0; i < SAMPLES; i++) {
        count += this.#samples[row + i]!
        this.#samples[row + i] = 0
      }
    }
    return count
  }
}

/** Even-odd: every sample whose middle lies inside. */
function fill(rings: readonly Ring[], h: number, span: Span): void {
  const edges = rings
    .flatMap((ring) =>
      ring.flatMap((a, i) => {
        const b = ring[(i + 1) % ring.length]!
        return a[1] === b[1] ? [] : [a[1] < b[1] ? { a, b } : { a: b, b: a }]
      }),
    )
    .sort((p, q) => p.a[1] - q.a[1])
  let next = 0
  let live: typeof edges = []
  for (let y = Math.max(0, Math.ceil((edges[0]?.a[1] ?? h) - 0.5)); y < h; y++) {
    const middle = y + 0.5
    live = live.filter((e) => middle < e.b[1])
    for (; next < edges.length && edges[next]!.a[1] <= middle; next++)
      if (middle < edges[next]!.b[1]) live.push(edges[next]!)
    if (live.length === 0 && next === edges.length) return
    const xs = live.map(({ a, b }) => a[0] + ((middle - a[1]) / (b[1] - a[1])) * (b[0] - a[0])).sort((p, q) => p - q)
    for (let k = 0; k + 1 < xs.length; k += 2) span(y, xs[k]!, xs[k + 1]!)
  }
}

/** Every row of the region within `half` of the segment a–b: two discs and the stripe between. */
export function capsule(a: Point2, b: Point2, half: number, h: number, span: Span): void {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1])
  const [nx, ny] = length > 0 ? [((a[1] - b[1]) / length) * half, ((b[0] - a[0]) / length) * half] : [0, 0]
  const corners: readonly Point2[] = [
    [a[0] + nx, a[1] + ny],
    [b[0] + nx, b[1] + ny],
    [b[0] - nx, b[1] - ny],
    [a[0] - nx, a[1] - ny],
  ]
  const y1 = Math.min(h - 1, Math.floor(Math.max(a[1], b[1]) + half - 0.5))
  for (let y = Math.max(0, Math.ceil(Math.min(a[1], b[1]) - half - 0.5)); y <= y1; y++) {
    const middle = y + 0.5
    let from = Number.POSITIVE_INFINITY
    let to = Number.NEGATIVE_INFINITY
    for (const [cx, cy] of [a, b]) {
      const rest = half * half - (middle - cy) ** 2
      if (rest < 0) continue
      from = Math.min(from, cx - Math.sqrt(rest))
      to = Math.max(to, cx + Math.sqrt(rest))
    }
    for (let k = 0; k < 4; k++) {
      const [p, q] = [corners[k]!, corners[(k + 1) % 4]!]
      if (p[1] > middle === q[1] > middle) continue
      const x = p[0] + ((middle - p[1]) / (q[1] - p[1])) * (q[0] - p[0])
      from = Math.min(from, x)
      to = Math.max(to, x)
    }
    if (from <= to) span(y, from, to)
  }
}
