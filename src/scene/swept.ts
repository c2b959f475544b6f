/**
 * What a head truly sweeps, as a surface: pans of every tilt of each of its boxes, cut into flat layers. In a layer a part is, at any
 * tilt, a rectangle about the pivot (statics), and that rectangle pans. What a convex plane figure covers of one ray while it turns is
 * one interval, since it moves steadily with the angle, so that inner and outer distance by direction say all. A layer
 * reaches as far as the part does anywhere in its heights, so that the surface is never inside the true volume but for the chords
 * between its rays, and outside it by less than a layer.
 */
import type { HeadParts } from '../statics/head-parts.ts'
import { degrees, type Interval, type Polygon, radians, rectangle, turned } from '../statics/plane.ts'
import { aheadWithin } from '../statics/turning.ts'

export interface Layer {
  /** Over the ground, mm. */
  readonly z: Interval
  /** Directions in degrees anticlockwise from +x of the decks' frame, in order, and what is covered there, mm from the pivot. */
  readonly rays: readonly { readonly at: number; readonly from: number; readonly to: number }[]
}

/** Where a ray from the origin at `deg` runs inside a convex polygon that goes anticlockwise. */
export function alongRay(polygon: Polygon, deg: number): Interval | undefined {
  const dx = Math.cos(radians(deg))
  const dy = Math.sin(radians(deg))
  let lo = 0
  let hi = Number.POSITIVE_INFINITY
  for (const [i, p] of polygon.entries()) {
    const q = polygon[(i + 1) % polygon.length]!
    // inside: to the left of each edge
    const nx = p.y - q.y
    const ny = q.x - p.x
    const rate = nx * dx + ny * dy
    const off = nx * p.x + ny * p.y
    if (Math.abs(rate) < 1e-12) {
      if (off > 1e-9) return undefined
    } else if (rate > 0) lo = Math.max(lo, off / rate)
    else hi = Math.min(hi, off / rate)
  }
  return lo <= hi + 1e-9 ? [lo, Math.max(lo, hi)] : undefined
}

/** Every `step` degrees at most, ends included. */
function steps([a, b]: Interval, step: number): number[] {
  const n = Math.max(1, Math.ceil((b - a) / step - 1e-9))
  return Array.from({ length: n + 1 }, (_, i) => a + ((b - a) * i) / n)
}

/** What a convex polygon covers while it pans over `pan` (degrees added to where it is). */
function covered(plan: Polygon, pan: Interval, step: number): Layer['rays'] {
  const angles = plan.map((p) => degrees(Math.atan2(p.y, p.x)))
  const inside = plan.every((p, i) => {
    const q = plan[(i + 1) % plan.length]!
    return (q.x - p.x) * -p.y - (q.y - p.y) * -p.x >= 0
  })
  // Seen from outside it is within half a turn, so angles about its middle's direction do not wrap.
  const middle = degrees(
    Math.atan2(
      plan.reduce((s, p) => s + p.y, 0),
      plan.reduce((s, p) => s + p.x, 0),
    ),
  )
  const off = angles.map((a) => ((((a - middle + 180) % 360) + 360) % 360) - 180)
  const own: Interval = inside ? [middle - 180, middle + 180] : [middle + Math.min(...off), middle + Math.max(...off)]
  const whole = inside || own[1] - own[0] + pan[1] - pan[0] >= 360
  const range: Interval = whole ? [middle + pan[0], middle + pan[0] + 360] : [own[0] + pan[0], own[1] + pan[1]]
  // Corners reach farthest and edges come nearest, so that their own directions are looked at too.
  const looks = new Set<number>([...angles])
  for (const [i, p] of plan.entries()) {
    const q = plan[(i + 1) % plan.length]!
    looks.add(degrees(Math.atan2(-(q.x - p.x), q.y - p.y)))
    looks.add(degrees(Math.atan2(q.x - p.x, -(q.y - p.y))))
  }
  const fixed = [...looks]
  // Where a corner begins and ends its way, the outline has a corner of its own.
  const turns = angles.flatMap((a) => [a + pan[0], a + pan[1]]).map((a) => a + 360 * Math.ceil((range[0] - a) / 360))
  const rays = [...steps(range, step), ...turns.filter((a) => a < range[1])].sort((a, b) => a - b)
  return rays.flatMap((at) => {
    let from = Number.POSITIVE_INFINITY
    let to = 0
    const look = (deg: number): void => {
      const hit = alongRay(plan, deg)
      if (!hit) return
      from = Math.min(from, hit[0])
      to = Math.max(to, hit[1])
    }
    for (const pan1 of steps(pan, step)) look(at - pan1)
    // the polygon's direction `deg` comes to `at` at the pan at - deg
    for (const deg of fixed) {
      const p = (((at - deg - pan[0]) % 360) + 360) % 360
      if (p <= pan[1] - pan[0]) look(deg)
    }
    return to >= from ? [{ at, from, to }] : []
  })
}

/** Into how many layers what tilts is cut, and how far apart the rays of one may be, degrees. */
const LAYERS = 24
const STEP = 3

/** Layers of equal height from the lowest to the highest point of each part. */
export function sweptLayers(h: HeadParts): Layer[] {
  const pan: Interval = [h.pan[0] + h.base, h.pan[1] + h.base]
  return h.parts.flatMap((part): Layer[] => {
    const tilt: Interval = part.tilts ? h.tilt : [0, 0]
    const up = aheadWithin(turned(part.side, -Math.PI / 2), tilt, [-1e9, 1e9]).flat()
    const low = Math.min(...up)
    const high = Math.max(...up)
    const n = tilt[0] === tilt[1] ? 1 : LAYERS
    return Array.from({ length: n }, (_, i): Interval => {
      const d = (high - low) / n
      return [low + i * d, low + (i + 1) * d]
    }).flatMap((band): Layer[] =>
      aheadWithin(part.side, tilt, band).map(([near, far]) => ({
        z: [h.height + band[0], h.height + band[1]],
        rays: covered(rectangle(part.across[0], near + h.ahead, part.across[1], far + h.ahead), pan, STEP),
      })),
    )
  })
}

/** A surface of triangles without an index, about the pivot in plan; `uv` in mm for a hatch. */
export function sweptSurface(layers: readonly Layer[]): { readonly position: number[]; readonly uv: number[] } {
  const position: number[] = []
  const uv: number[] = []
  const quad = (corners: readonly (readonly [number, number, number])[], flat: boolean, along: readonly number[]) => {
    for (const i of [0, 1, 2, 0, 2, 3]) {
      const [x, y, z] = corners[i]!
      position.push(x, y, z)
      if (flat) uv.push(x, y)
      else uv.push(along[i]!, z)
    }
  }
  for (const { z, rays } of layers) {
    const at = (i: number, which: 'from' | 'to', height: number): readonly [number, number, number] => {
      const ray = rays[i]!
      return [ray[which] * Math.cos(radians(ray.at)), ray[which] * Math.sin(radians(ray.at)), height]
    }
    const [low, high] = z
    for (let i = 0; i + 1 < rays.length; i++) {
      const j = i + 1
      const a = radians(rays[i]!.at) * rays[i]!.to
      const b = radians(rays[j]!.at) * rays[j]!.to
      quad([at(i, 'from', high), at(i, 'to', high), at(j, 'to', high), at(j, 'from', high)], true, [])
      quad([at(j, 'from', low), at(j, 'to', low), at(i, 'to', low), at(i, 'from', low)], true, [])
      quad([at(i, 'to', low), at(j, 'to', low), at(j, 'to', high), at(i, 'to', high)], false, [a, b, b, a])
      quad([at(j, 'from', low), at(i, 'from', low), at(i, 'from', high), at(j, 'from', high)], false, [b, a, a, b])
    }
    const end = (i: number): void => {
      const { from, to } = rays[i]!
      quad([at(i, 'from', low), at(i, 'to', low), at(i, 'to', high), at(i, 'from', high)], false, [from, to, to, from])
    }
    const last = rays.length - 1
    if (last > 0 && rays[last]!.at - rays[0]!.at < 360 - 1e-9) {
      end(0)
      end(last)
    }
  }
  return { position, uv }
}
