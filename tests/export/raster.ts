/** Measures an SVG as a scanner would: draws it with a renderer that knows nothing of ours, and looks at the ink. */
import { Resvg } from '@resvg/resvg-js'

export interface Raster {
  readonly width: number
  readonly height: number
  /** Pixels per millimetre. */
  readonly perMm: number
  /** Coverage 0–1, by row. */
  readonly ink: Float32Array
}

export interface Blob {
  /** Millimetres from the page's left and lower edge, weighted by coverage. */
  readonly x: number
  readonly y: number
  /** Middle of the outer extent: unlike the centroid of a long thin ring it does not depend on how each side was blended. */
  readonly middle: { readonly x: number; readonly y: number }
  /** Outer extent in millimetres, ink to ink, a partly covered edge pixel counted in part. */
  readonly width: number
  readonly height: number
}

const GROUPS = ['cut', 'drill', 'existing', 'mark', 'notes']

/** The same document with one group left in it, or without that one. */
export function only(svg: string, id: string, kept = true): string {
  let text = svg
  for (const other of GROUPS) {
    if ((other !== id) === kept) text = text.replace(new RegExp(`<g id="${other}"[\\s\\S]*?\\n {2}</g>`), '')
  }
  return text
}

export const raster = (svg: string, dpi = 400): Raster => drawn(svg, dpi, 1)[0]!

/** Its ink, shared out to so many pictures: a pixel goes to that which `to` says by its red and its blue. */
function drawn(svg: string, dpi: number, count: number, to = (_red: number, _blue: number) => 0): Raster[] {
  const { width, height, pixels } = new Resvg(svg, { dpi, font: { loadSystemFonts: false } }).render()
  const inks = Array.from({ length: count }, () => new Float32Array(width * height))
  for (let i = 0; i < width * height; i++) {
    const alpha = pixels[4 * i + 3]!
    if (alpha !== 0) inks[to(pixels[4 * i]!, pixels[4 * i + 2]!)]![i] = alpha / 255
  }
  return inks.map((ink) => ({ width, height, perMm: dpi / 25.4, ink }))
}

/** The ink of two groups that touch each other nowhere, drawn once, the first in red and the second in blue: a page takes long to draw. */
export function two(svg: string, first: string, second: string, dpi = 400): [Raster, Raster] {
  let text = svg
  for (const id of GROUPS) if (id !== first && id !== second) text = only(text, id, false)
  for (const [id, colour] of [
    [first, '#ff0000'],
    [second, '#0000ff'],
  ] as const)
    text = text.replace(new RegExp(`(<g id="${id}"[^>]* stroke=)"[^"]*"`), `$1"${colour}"`)
  const [lines, rest] = drawn(text, dpi, 2, (red, blue) => (red > blue ? 0 : 1))
  return [lines!, rest!]
}

/** Connected patches of ink. */
export function blobs(r: Raster): Blob[] {
  const seen = new Uint8Array(r.ink.length)
  const found: Blob[] = []
  for (let start = 0; start < r.ink.length; start++) {
    if (seen[start] || r.ink[start]! === 0) continue
    const members: number[] = []
    const stack = [start]
    seen[start] = 1
    while (stack.length > 0) {
      const i = stack.pop()!
      members.push(i)
      const x = i % r.width
      for (let dx = -1; dx <= 1; dx++) {
        if (x + dx < 0 || x + dx >= r.width) continue
        for (let k = i + dx - r.width; k <= i + dx + r.width; k += r.width) {
          if (k < 0 || k >= r.ink.length || seen[k] || r.ink[k]! === 0) continue
          seen[k] = 1
          stack.push(k)
        }
      }
    }
    found.push(measure(r, members))
  }
  return found
}

function measure(r: Raster, members: readonly number[]): Blob {
  let [sum, sx, sy] = [0, 0, 0]
  const columns = new Map<number, number>()
  const rows = new Map<number, number>()
  for (const i of members) {
    const x = i % r.width
    const y = Math.floor(i / r.width)
    const c = r.ink[i]!
    sum += c
    sx += c * (x + 0.5)
    sy += c * (y + 0.5)
    columns.set(x, Math.max(columns.get(x) ?? 0, c))
    rows.set(y, Math.max(rows.get(y) ?? 0, c))
  }
  const across = extent(columns)
  const down = extent(rows)
  return {
    x: sx / sum / r.perMm,
    y: (r.height - sy / sum) / r.perMm,
    middle: { x: (across.from + across.to) / 2 / r.perMm, y: (r.height - (down.from + down.to) / 2) / r.perMm },
    width: (across.to - across.from) / r.perMm,
    height: (down.to - down.from) / r.perMm,
  }
}

/** From first to last pixel, the two at the ends as far as they are covered. */
function extent(most: ReadonlyMap<number, number>): { from: number; to: number } {
  const keys = [...most.keys()].sort((a, b) => a - b)
  const [first, last] = [keys[0]!, keys[keys.length - 1]!]
  return { from: first + 1 - most.get(first)!, to: last + most.get(last)! }
}
