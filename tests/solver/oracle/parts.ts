/** Random footprints of invented parts, in µm, small enough for toy decks. */
import type { Corridor, Footprint, Mount, MountHole, Shape } from '../../../solver/problem.ts'
import { mm, type Point, type Rect, type Um } from '../../../solver/units.ts'
import type { Rng } from './random.ts'

/** How often each feature turns up, 0–1. */
export interface Mix {
  readonly mounts: readonly ('screw' | 'adhesive' | 'strap' | 'drop-in')[]
  readonly corridor: number
  readonly above: number
  readonly open: number
  readonly terminals: number
  readonly mass: number
}

const pt = (x: number, y: number): Point => ({ x: mm(x), y: mm(y) })
const rect = (x: number, y: number, w: number, h: number): Rect => ({ x: mm(x), y: mm(y), w: mm(w), h: mm(h) })
/** A length in mm, to a tenth, in [lo, hi]. */
export const length = (r: Rng, lo: number, hi: number): number =>
  r.int(Math.round(lo * 10), Math.max(Math.round(lo * 10), Math.round(hi * 10))) / 10

/** A shape about (x, y), within `size` mm of it. */
export function blob(
  r: Rng,
  x: number,
  y: number,
  size: number,
  kinds: readonly Shape['kind'][] = ['rect', 'circle', 'polygon', 'sector'],
): Shape {
  const s = Math.max(size, 0.6)
  switch (r.pick(kinds)) {
    case 'rect': {
      const w = length(r, s * 0.5, s * 2)
      const h = length(r, s * 0.5, s * 2)
      const radius = r.chance(0.3) ? Math.floor(Math.min(w, h) * 4) / 10 : 0
      return { kind: 'rect', x: mm(x - w / 2), y: mm(y - h / 2), w: mm(w), h: mm(h), radius: mm(radius) }
    }
    case 'circle':
      return { kind: 'circle', cx: mm(x), cy: mm(y), r: mm(length(r, s * 0.4, s)) }
    case 'sector': {
      const from = r.pick([0, 30, 90, 135, 180, 250, 300])
      return {
        kind: 'sector',
        cx: mm(x),
        cy: mm(y),
        r: mm(length(r, s * 0.6, s * 1.4)),
        from,
        to: from + r.pick([40, 90, 120, 180, 270]),
      }
    }
    case 'polygon': {
      // A star of three to five corners about the middle is always simple; small bulges keep it so.
      const n = r.int(3, 5)
      const start = r.next() * 6.28
      const points = Array.from({ length: n }, (_, k) => {
        const a = start + (2 * Math.PI * k) / n
        const d = s * (0.6 + 0.6 * r.next())
        return { ...pt(x + d * Math.cos(a), y + d * Math.sin(a)), bulge: r.chance(0.3) ? r.pick([0.2, -0.15]) : 0 }
      })
      return { kind: 'polygon', points: r.chance(0.5) ? points : points.map((p) => ({ ...p, bulge: 0 })).reverse() }
    }
  }
}

function holesOf(r: Rng, w: number, d: number): MountHole[] {
  const inset = length(r, 0.6, Math.max(0.6, Math.min(w, d) / 4))
  const all: [number, number][] = [
    [inset, inset],
    [w - inset, d - inset],
    [w - inset, inset],
    [w / 2, d / 2],
  ]
  const diameter = r.pick([0.6, 0.8, 1])
  const land = r.chance(0.4) ? diameter + length(r, 0.2, 1) : 0
  return all
    .slice(0, r.int(1, 3))
    .map((at, k) => ({ id: `h${k}`, at: pt(at[0], at[1]), diameter: mm(diameter), land: mm(land) }))
}

function mountOf(r: Rng, kind: Mix['mounts'][number], w: number, d: number): Mount {
  switch (kind) {
    case 'screw':
      return { kind, standoff: mm(r.pick([0, 0, 2, 5])), holes: holesOf(r, w, d) }
    case 'adhesive':
      return { kind }
    case 'strap': {
      // Slots beside the body or under it.
      const out = r.chance(0.5) ? -0.8 : 0.2
      const long = Math.max(0.5, d - 1)
      const slots = [rect(out, 0.5, 0.6, long), rect(w - out - 0.6, 0.5, 0.6, long)]
      return { kind, slots: r.chance(0.7) ? slots : slots.slice(1) }
    }
    case 'drop-in': {
      const m = length(r, 0.3, Math.min(w, d) / 4)
      const holes = r.chance(0.3) ? holesOf(r, w, d).slice(0, 1) : []
      return { kind, cutout: rect(m, m, w - 2 * m, d - 2 * m), holes, below: mm(r.pick([1, 4, 8])) }
    }
  }
}

function corridorsOf(r: Rng, w: number, d: number, height: number, kinds?: readonly Shape['kind'][]): Corridor[] {
  return Array.from({ length: r.int(1, 2) }, (_, k) => {
    const [x, y] = r.pick([
      [w / 2, d],
      [w / 2, 0],
      [0, d / 2],
      [w, d / 2],
      [w / 2, d / 2],
    ] as const)
    const lo = r.pick([0, 0, 1, -2, height])
    return {
      id: `c${k}`,
      shape: blob(r, x, y, Math.max(w, d) * (0.2 + 0.6 * r.next()), kinds),
      z: [mm(lo), mm(lo + r.pick([2, 6, 20]))] as const,
      why: 'room for a plug',
    }
  })
}

const terminalsOf = (r: Rng, w: number, d: number): Footprint['terminals'] =>
  Array.from({ length: r.int(1, 2) }, (_, k) => ({ id: `t${k}`, at: pt(length(r, 0, w), length(r, 0, d)) }))

function base(r: Rng, m: Mix, id: string, w: number, d: number, height: number): Omit<Footprint, 'kind' | 'mount'> {
  const above: Um | 'open' = r.chance(m.open) ? 'open' : r.chance(m.above) ? mm(r.pick([1, 4, 9])) : mm(0)
  return {
    id,
    name: id,
    width: mm(w),
    depth: mm(d),
    height: mm(height),
    mass: r.chance(m.mass) ? r.int(1, 60) : 0,
    above,
    corridors: r.chance(m.corridor) ? corridorsOf(r, w, d, height) : [],
    terminals: r.chance(m.terminals) ? terminalsOf(r, w, d) : [],
  }
}

export function board(r: Rng, m: Mix, id: string, w: number, d: number): Footprint {
  const kind = r.pick(['board', 'pack', 'sensor', 'part'] as const)
  return { ...base(r, m, id, w, d, r.int(2, 14)), kind, mount: mountOf(r, r.pick(m.mounts), w, d) }
}

/** A breadboard with one or two small blocks; `most` tie points. */
export function breadboard(r: Rng, m: Mix, id: string, most: number): Footprint {
  const pitch = r.pick([2.54, 2.54, 2])
  const [columns, rows] = r.pick(
    (
      [
        [2, 1],
        [3, 1],
        [2, 2],
        [3, 2],
        [4, 2],
        [3, 3],
        [5, 2],
      ] as const
    ).filter(([c, q]) => c * q <= most),
  )
  const two = rows > 1 && r.chance(0.4)
  const edge = r.pick([0, 0.5, 1.27])
  const strip = r.pick(['column', 'row'] as const)
  const whole = { at: pt(edge, edge), columns, rows, strip }
  const blocks = two
    ? [
        { ...whole, rows: 1 },
        { at: pt(edge, edge + pitch * (rows - 1)), columns, rows: 1, strip: r.pick(['column', 'row'] as const) },
      ]
    : [whole]
  const w = Math.max((columns - 1) * pitch + 2 * edge, 2)
  const d = Math.max((rows - 1) * pitch + 2 * edge, 2)
  const kind = r.chance(0.6) ? 'adhesive' : r.pick(m.mounts)
  const b = base(r, m, id, w, d, r.int(2, 8))
  return { ...b, kind: 'breadboard', mount: mountOf(r, kind, w, d), breadboard: { pitch: mm(pitch), blocks } }
}

/** A plug-in part of one to four pins; its body may end exactly on tie points. */
export function plugIn(r: Rng, m: Mix, id: string): Footprint {
  const n = r.int(1, 3)
  const pitch = r.pick([2.54, 2.54, 2.54, 2])
  const double = n === 2 && r.chance(0.4)
  const edge = r.pick([0, 0.6, 1.27, 2.54])
  const w = Math.max((n - 1) * pitch + 2 * edge, 0.5)
  const d = Math.max((double ? pitch : 0) + 2 * r.pick([0, 0.6, 1.27]), 0.5)
  const y = double ? (d - pitch) / 2 : d / 2
  const x = (w - (n - 1) * pitch) / 2
  const row = (v: number, from: number) =>
    Array.from({ length: n }, (_, k) => ({ id: `p${from + k}`, at: pt(x + k * pitch, v) }))
  const pins = double ? [...row(y, 0), ...row(y + pitch, n)] : row(y, 0)
  // Every first pin lies exactly on its contact; the others may be up to 0.01 mm off.
  const [dx, dy] = r.chance(0.2)
    ? r.pick([
        [9, 0],
        [6, 8],
        [8, 8],
      ] as const)
    : [0, 0]
  const shifted = pins.map((p, k) => (k === 0 ? p : { ...p, at: { x: (p.at.x + dx) as Um, y: (p.at.y + dy) as Um } }))
  const b = base(r, m, id, w, d, r.int(2, 9))
  const corridors = r.chance(m.corridor / 2) ? corridorsOf(r, w, d, 3, ['rect']).map(square) : []
  return { ...b, corridors, kind: 'part', mount: { kind: 'plug-in' }, plug: { pins: shifted } }
}

const square = (c: Corridor): Corridor => (c.shape.kind === 'rect' ? { ...c, shape: { ...c.shape, radius: mm(0) } } : c)

export function head(r: Rng, m: Mix, id: string, w: number, d: number): Footprint {
  const from = r.pick([-90, -60, -30, 0, 20])
  const lo = r.pick([0, 2, 6])
  const kind = r.pick(m.mounts)
  return {
    ...base(r, { ...m, open: 0 }, id, w, d, r.int(3, 12)),
    kind: 'head',
    mount: mountOf(r, kind, w, d),
    head: {
      pivot: pt(length(r, 0, w), length(r, 0, d)),
      pan: [from, from + r.pick([45, 90, 120, 180, 200])],
      reach: mm(length(r, 1, Math.max(w, d) * 2)),
      tail: mm(r.chance(0.3) ? 0 : length(r, 0.5, Math.max(w, d))),
      z: [mm(lo), mm(lo + r.pick([3, 10, 25]))],
    },
  }
}
