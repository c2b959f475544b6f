/**
 * A flat photo under a deck's plan: where it lies stands in the project under `page`, so that it is undone like any other number; the picture
 * itself never does, and no template shows it. Two points of the picture whose distance was measured give the scale.
 */
import { mm, toMm } from '../../solver/units.ts'
import type { Project } from './schema.ts'

export type Pixel = readonly [number, number]

export interface Underlay {
  /** Under which name the browser keeps the picture. */
  readonly picture: string
  /** The file it came from, for people. */
  readonly file: string
  /** Pixels, width and height. */
  readonly size: Pixel
  /** Two points of it, in pixels from its upper left corner. */
  readonly points: readonly [Pixel, Pixel]
  /** Measured between them, mm. */
  readonly distance: number
  /** Where the first of them lies in the decks' frame, mm. */
  readonly at: readonly [number, number]
  /** Degrees, anticlockwise. */
  readonly angle: number
}

/** The field of a project that is the page's own (page-notes.ts). */
export const PAGE = 'page'
const FIELD = 'underlays'
const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)
const isPair = (value: unknown): value is [number, number] =>
  Array.isArray(value) && value.length === 2 && value.every((v) => typeof v === 'number' && Number.isFinite(v))

const underlays = (project: Project): Record<string, unknown> => {
  const page = (project as Record<string, unknown>)[PAGE]
  const all = isRecord(page) ? page[FIELD] : undefined
  return isRecord(all) ? all : {}
}

/** The photo under a deck; what is not understood is passed over, as all that stands under `page`. */
export function underlayOf(project: Project, deck: string): Underlay | undefined {
  const all = underlays(project)
  const found = Object.hasOwn(all, deck) ? all[deck] : undefined
  if (!isRecord(found)) return undefined
  const { picture, file, size, points, distance, at, angle } = found
  if (typeof picture !== 'string' || typeof file !== 'string' || !isPair(size) || !isPair(at)) return undefined
  if (!Array.isArray(points) || points.length !== 2 || !points.every(isPair)) return undefined
  if (typeof distance !== 'number' || typeof angle !== 'number') return undefined
  const [first, second] = points as unknown as [Pixel, Pixel]
  const made: Underlay = { picture, file, size, points: [first, second], distance, at, angle }
  return faultOf(made) ? undefined : made
}

/** What makes it no picture with a scale. */
export function faultOf({
  size,
  points,
  distance,
  angle,
}: Underlay): 'points' | 'distance' | 'size' | 'angle' | undefined {
  if (!(size[0] >= 1 && size[1] >= 1)) return 'size'
  if (Math.hypot(points[1][0] - points[0][0], points[1][1] - points[0][1]) < 1) return 'points'
  if (!(distance >= 0.1 && distance <= 10_000)) return 'distance'
  return Number.isFinite(angle) ? undefined : 'angle'
}

/** The project with that photo under a deck; undefined takes it away. */
export function withUnderlay(project: Project, deck: string, underlay: Underlay | undefined): Project {
  const page = (project as Record<string, unknown>)[PAGE]
  const others = Object.entries(underlays(project)).filter(([id]) => id !== deck)
  const all = Object.fromEntries(underlay ? [...others, [deck, underlay]] : others)
  const { [FIELD]: _, ...rest } = isRecord(page) ? page : ({} as Record<string, unknown>)
  return { ...project, [PAGE]: { ...rest, ...(Object.keys(all).length > 0 ? { [FIELD]: all } : {}) } } as Project
}

/** mm for one pixel. */
export const scaleOf = ({ points: [a, b], distance }: Underlay): number =>
  distance / Math.hypot(b[0] - a[0], b[1] - a[1])

/** The matrix `[a, b, c, d, e, f]`, as SVG has it, from pixels (y downwards) to the decks' frame (y to the front). */
export function matrixOf(u: Underlay): readonly [number, number, number, number, number, number] {
  const s = scaleOf(u)
  const [cos, sin] = [Math.cos((u.angle * Math.PI) / 180) * s, Math.sin((u.angle * Math.PI) / 180) * s]
  const [px, py] = u.points[0]
  return [cos, sin, sin, -cos, u.at[0] - cos * px - sin * py, u.at[1] - sin * px + cos * py]
}

/** The angle by which the line between the two points comes to lie along x or y, whichever is nearer. */
export function levelled({ points: [a, b] }: Underlay): number {
  const lies = (Math.atan2(a[1] - b[1], b[0] - a[0]) * 180) / Math.PI
  const angle = Math.round(lies / 90) * 90 - lies
  return angle === 0 ? 0 : Math.round(angle * 1000) / 1000
}

/** A photo as it first lies: its middle third is taken for `width` mm, and its middle for `centre`, until the points say better. */
export function firstLaid(
  picture: string,
  file: string,
  size: Pixel,
  width: number,
  centre: readonly [number, number],
): Underlay {
  const [w, h] = size
  const points: [Pixel, Pixel] = [
    [Math.round(w / 3), Math.round(h / 2)],
    [Math.max(Math.round((2 * w) / 3), Math.round(w / 3) + 1), Math.round(h / 2)],
  ]
  const distance = toMm(mm(Math.max(1, width / 2)))
  return {
    picture,
    file,
    size,
    points,
    distance,
    at: [toMm(mm(centre[0] - distance / 2)), toMm(mm(centre[1]))],
    angle: 0,
  }
}
