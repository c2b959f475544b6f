/**
 * The robot in the round: an orthographic picture of the very solids that the glTF file holds, hidden surfaces hidden by a
 * depth buffer. Needs no screen and no graphics card.
 */

import type { Placement, Problem } from '../../solver/index.ts'
import { called } from '../model/called.ts'
import type { LaidLead } from '../model/index.ts'
import { lineOf } from './gltf-flat.ts'
import type { Mesh, Point3 } from './gltf-mesh.ts'
import { type Extra, type Part, partsOf } from './gltf-parts.ts'
import { materialOf } from './gltf-roles.ts'
import { letters, lettersWidth } from './letters.ts'
import { type Look, rgb, solidColours } from './picture-colours.ts'
import { Canvas3, type Face, type Rgb, type Seen } from './picture-solid.ts'
import { type Pixels, png } from './png.ts'

export interface RoundOptions {
  /** Where the eye is: degrees anticlockwise from the right (+x); default 240, behind and to the left. */
  readonly azimuth?: number
  /** Degrees over the horizon, −90 to 90; default 38. */
  readonly elevation?: number
  /** Pixels across, 16 to 8000; the height follows. Default 1600. */
  readonly width?: number
  readonly look?: Look
  /** Roles that are left away; default none. */
  readonly without?: readonly Extra[]
  /** Item names on the bodies' tops; default true. */
  readonly names?: boolean
  /** How leads lie round what is in their way; missing = straight. */
  readonly laid?: readonly LaidLead[]
}

export interface RoundPicture extends Pixels {
  /** Pixels to the millimetre, at right angles to the line of sight. */
  readonly perMm: number
}

/** Millimetres free around the robot. */
const MARGIN = 8
/** Sides of neighbouring faces that turn by less than this belong to one curved surface. */
const SMOOTH = Math.cos((30 * Math.PI) / 180)
/** Most pixels, and most of them on top of one another. */
const MOST = 8_000_000
const TALLEST = 8000

/** The PNG file. */
export function roundPng(problem: Problem, placements: readonly Placement[], options: RoundOptions = {}): Uint8Array {
  const picture = roundPicture(problem, placements, options)
  return png(picture, picture.perMm)
}

export function roundPicture(
  problem: Problem,
  placements: readonly Placement[],
  options: RoundOptions = {},
): RoundPicture {
  const colours = solidColours[options.look ?? 'light']
  const eye = camera(options.azimuth ?? 240, options.elevation ?? 38)
  const lowest = Math.min(...problem.decks.map((d) => d.z))
  const solids = flattened(partsOf(problem, placements, options.without, options.laid)).map((s): Solid => {
    const { colour, opacity } = materialOf[s.part.role]
    // A plate over another must not hide what stands under it.
    const over = s.part.role === 'deck' && s.at[2] * 1000 > lowest
    return { ...s, colour: rgb(colours[colour]), opacity: over ? 0.55 : opacity }
  })
  const points = solids.flatMap((s) => s.part.mesh.points.map((p) => eye.seen(sum(p, s.at))))
  const x0 = least(points, 0) - MARGIN
  const y0 = least(points, 1) - MARGIN
  const across =
    -least(
      points.map(([x, y, z]): Seen => [-x, y, z]),
      0,
    ) +
    MARGIN -
    x0
  const down =
    -least(
      points.map(([x, y, z]): Seen => [x, -y, z]),
      1,
    ) +
    MARGIN -
    y0
  const wanted = Math.round(Math.max(16, Math.min(8000, options.width ?? 1600)))
  const perMm = Math.min(wanted / across, Math.sqrt(MOST / across / down), TALLEST / down)
  const [width, height] = [across, down].map((v) => Math.max(1, Math.round(v * perMm))) as [number, number]
  const place = (p: Point3): Seen => {
    const [x, y, z] = eye.seen(p)
    return [(x - x0) * perMm, (y - y0) * perMm, z]
  }
  const canvas = new Canvas3(width, height, rgb(colours.ground))
  const lift = 0.4 + 2 / perMm
  const thick = Math.max(1, width / 1200)
  const draw = (s: Solid): void => {
    const faces = facesOf(s, eye, place)
    if (s.opacity < 1) canvas.glass(faces, s.opacity)
    else canvas.solid(faces)
  }
  const edge = (s: Solid): void => {
    if (s.part.role === 'contacts' || s.part.role === 'wire') return
    const glassy = s.opacity < 1 && s.part.role !== 'deck'
    const colour = glassy ? s.colour : rgb(colours.edge)
    for (const [a, b] of edgesOf(s.part.mesh))
      canvas.line(place(sum(a, s.at)), place(sum(b, s.at)), colour, thick, glassy ? 0.6 : 0.9, lift)
  }
  const opaque = solids.filter((s) => s.opacity === 1)
  const clear = solids.filter((s) => s.opacity < 1).sort((a, b) => nearness(a, eye) - nearness(b, eye))
  for (const s of opaque) draw(s)
  for (const s of opaque) edge(s)
  if (options.names ?? true)
    for (const s of opaque)
      for (const [a, b] of nameOn(s, eye)) canvas.line(place(a), place(b), rgb(colours.edge), thick * 1.3, 1, lift)
  for (const s of clear) {
    draw(s)
    edge(s)
  }
  return { ...canvas.pixels(), perMm }
}

interface Solid {
  readonly part: Part
  readonly at: Point3
  readonly colour: Rgb
  readonly opacity: number
}

interface Eye {
  /** To the right, down, and towards the eye, mm. */
  readonly seen: (p: Point3) => Seen
  readonly towards: Point3
  readonly right: Point3
  readonly up: Point3
}

function camera(azimuth: number, elevation: number): Eye {
  const [a, e] = [(azimuth * Math.PI) / 180, (Math.max(-90, Math.min(90, elevation)) * Math.PI) / 180]
  const towards: Point3 = [Math.cos(e) * Math.cos(a), Math.cos(e) * Math.sin(a), Math.sin(e)]
  const right: Point3 = [-Math.sin(a), Math.cos(a), 0]
  const up: Point3 = [-Math.sin(e) * Math.cos(a), -Math.sin(e) * Math.sin(a), Math.cos(e)]
  return { seen: (p) => [dot(p, right), -dot(p, up), dot(p, towards)], towards, right, up }
}

const dot = (a: Point3, b: Point3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
const sum = (a: Point3, b: Point3): Point3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
const least = (points: readonly Seen[], k: 0 | 1): number => points.reduce((v, p) => Math.min(v, p[k]), Infinity)

function flattened(parts: readonly Part[], at: Point3 = [0, 0, 0]): { part: Part; at: Point3 }[] {
  return parts.flatMap((part) => {
    const here = sum(at, part.at)
    return [{ part, at: here }, ...flattened(part.parts, here)]
  })
}

/** How near the middle of a solid is. */
function nearness(s: Solid, eye: Eye): number {
  const points = s.part.mesh.points
  return points.reduce((v, p) => v + dot(sum(p, s.at), eye.towards), 0) / points.length
}

/** Faces that look at the eye, shaded by two lamps and the light of the room. */
function facesOf(s: Solid, eye: Eye, place: (p: Point3) => Seen): Face[] {
  const seen = s.part.mesh.points.map((p) => place(sum(p, s.at)))
  return s.part.mesh.triangles.flatMap((t): Face[] => {
    const n = normalOf(s.part.mesh, t)
    if (!n || dot(n, eye.towards) <= 0) return []
    const light = Math.min(1.06, 0.52 + 0.45 * Math.max(0, dot(n, LAMP)) + 0.22 * Math.max(0, dot(n, SIDE_LAMP)))
    const colour = s.colour.map((v) => Math.min(255, v * light)) as unknown as Rgb
    return [{ a: seen[t[0]]!, b: seen[t[1]]!, c: seen[t[2]]!, colour }]
  })
}

const unit = ([x, y, z]: Point3): Point3 => {
  const l = Math.hypot(x, y, z)
  return [x / l, y / l, z / l]
}
const LAMP = unit([-120, -200, 400])
const SIDE_LAMP = unit([300, 160, 120])

function normalOf(mesh: Mesh, [i, j, k]: readonly [number, number, number]): Point3 | undefined {
  const [a, b, c] = [mesh.points[i]!, mesh.points[j]!, mesh.points[k]!]
  const [ux, uy, uz] = [b[0] - a[0], b[1] - a[1], b[2] - a[2]]
  const [vx, vy, vz] = [c[0] - a[0], c[1] - a[1], c[2] - a[2]]
  const n: Point3 = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx]
  return Math.hypot(...n) > 1e-12 ? unit(n) : undefined
}

/** Sides between faces that turn sharply. */
function edgesOf(mesh: Mesh): [Point3, Point3][] {
  const across = new Map<string, Point3>()
  for (const t of mesh.triangles) {
    const n = normalOf(mesh, t)
    if (!n) continue
    for (let k = 0; k < 3; k++) across.set(`${t[k]} ${t[(k + 1) % 3]}`, n)
  }
  const edges: [Point3, Point3][] = []
  for (const [side, n] of across) {
    const [a, b] = side.split(' ').map(Number) as [number, number]
    const other = across.get(`${b} ${a}`)
    if (a < b && other && dot(n, other) < SMOOTH) edges.push([mesh.points[a]!, mesh.points[b]!])
  }
  return edges
}

/** The item's name on the body's top, the way round that reads best from the eye; nothing where it would be too small. */
function nameOn(s: Solid, eye: Eye): [Point3, Point3][] {
  if (s.part.role !== 'body' || eye.towards[2] <= 0.2) return []
  const xs = s.part.mesh.points
  const [w, d, h] = [0, 1, 2].map((k) => xs.reduce((v, p) => Math.max(v, p[k]!), 0)) as [number, number, number]
  const ways: readonly Point3[] = [
    [1, 0, 0],
    [0, 1, 0],
    [-1, 0, 0],
    [0, -1, 0],
  ]
  const best = ways.reduce((a, b) => (dot(b, eye.right) > dot(a, eye.right) + 1e-9 ? b : a))
  const across = ways[(ways.indexOf(best) + 1) % 4]!
  const [long, wide] = best[0] !== 0 ? [w, d] : [d, w]
  const name = called(s.part.name)
  const size = Math.min(7, wide * 0.6, (long * 0.86) / lettersWidth(name, 1))
  if (!(size >= 1.8)) return []
  const width = lettersWidth(name, size)
  return letters(name, -width / 2, -size * 0.36, size).flatMap((stroke) => {
    const line = lineOf(stroke).map(
      ([u, v]): Point3 =>
        sum(s.at, [w / 2 + best[0] * u + across[0] * v, d / 2 + best[1] * u + across[1] * v, h + 0.05]),
    )
    return line.slice(1).map((b, i): [Point3, Point3] => [line[i]!, b])
  })
}
