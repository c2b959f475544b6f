/** SVG path data of shapes, in millimetres, in the frame that the shape is given in (y to the front). */
import type { Footprint, Shape, Turn } from '../../solver/index.ts'
import { leftOf } from '../export/plate.ts'

const n = (um: number): string => String(Math.round(um) / 1000)
const RAD = Math.PI / 180

export function pathOf(shape: Shape): string {
  switch (shape.kind) {
    case 'rect': {
      const { x, y, w, h } = shape
      const r = Math.min(shape.radius, w / 2, h / 2)
      if (r <= 0) return `M${n(x)} ${n(y)}h${n(w)}v${n(h)}h${n(-w)}z`
      const a = (dx: number, dy: number): string => `a${n(r)} ${n(r)} 0 0 1 ${n(dx)} ${n(dy)}`
      return (
        `M${n(x + r)} ${n(y)}h${n(w - 2 * r)}${a(r, r)}v${n(h - 2 * r)}${a(-r, r)}` +
        `h${n(2 * r - w)}${a(-r, -r)}v${n(2 * r - h)}${a(r, -r)}z`
      )
    }
    case 'circle': {
      const { cx, cy, r } = shape
      return `M${n(cx - r)} ${n(cy)}a${n(r)} ${n(r)} 0 0 1 ${n(2 * r)} 0a${n(r)} ${n(r)} 0 0 1 ${n(-2 * r)} 0z`
    }
    case 'polygon': {
      const { points } = shape
      const first = points[0]
      if (!first) return ''
      let d = `M${n(first.x)} ${n(first.y)}`
      points.forEach((a, i) => {
        const b = points[(i + 1) % points.length] ?? first
        if (a.bulge === 0) {
          d += `L${n(b.x)} ${n(b.y)}`
          return
        }
        const r = (Math.hypot(b.x - a.x, b.y - a.y) * (1 + a.bulge * a.bulge)) / (4 * Math.abs(a.bulge))
        d += `A${n(r)} ${n(r)} 0 ${Math.abs(a.bulge) > 1 ? 1 : 0} ${a.bulge > 0 ? 1 : 0} ${n(b.x)} ${n(b.y)}`
      })
      return `${d}z`
    }
    case 'sector': {
      const { cx, cy, r, from } = shape
      const sweep = (((shape.to - from) % 360) + 360) % 360
      if (sweep === 0 && shape.to !== from) return pathOf({ kind: 'circle', cx: shape.cx, cy: shape.cy, r: shape.r })
      const at = (deg: number): string => `${n(cx + r * Math.cos(deg * RAD))} ${n(cy + r * Math.sin(deg * RAD))}`
      return `M${n(cx)} ${n(cy)}L${at(from)}A${n(r)} ${n(r)} 0 ${sweep > 180 ? 1 : 0} 1 ${at(from + sweep)}z`
    }
  }
}

/** A plate with what is cut out of it; filled even-odd. */
export const platePath = (outline: Shape, cuts: readonly Shape[]): string =>
  leftOf(outline, cuts)
    .flatMap((left) => [left.outline, ...left.holes])
    .map(pathOf)
    .join('')

/** Zero-length strokes: with round caps, one path draws any number of dots. */
export const dotsOf = (points: readonly { readonly x: number; readonly y: number }[]): string =>
  points.map((p) => `M${n(p.x)} ${n(p.y)}h0`).join('')

/** Small strokes across each point. */
export const ticksOf = (points: readonly { readonly x: number; readonly y: number }[], half: number): string =>
  points.map((p) => `M${n(p.x - half)} ${n(p.y - half)}l${n(2 * half)} ${n(2 * half)}`).join('')

export const lineOf = (points: readonly { readonly x: number; readonly y: number }[]): string =>
  points.map(({ x, y }, i) => `${i ? 'L' : 'M'}${n(x)} ${n(y)}`).join('')

/** The transform from a footprint's frame to its deck's, contract §1: turn, then the lower-left corner. */
export function placedAt(at: { x: number; y: number }, turn: Turn, width: number, depth: number): string {
  const m = [`1 0 0 1 0 0`, `0 1 -1 0 ${n(depth)} 0`, `-1 0 0 -1 ${n(width)} ${n(depth)}`, `0 -1 1 0 0 ${n(width)}`][
    turn
  ]
  return `translate(${n(at.x)} ${n(at.y)}) matrix(${m})`
}

/** What a head's moving parts sweep, in its footprint's frame: the sector before it and the circle of its tail. */
export const sweepOf = ({ pivot: { x: cx, y: cy }, pan, reach, tail }: NonNullable<Footprint['head']>): string[] => [
  pathOf({ kind: 'sector', cx, cy, r: reach, from: pan[0] + 90, to: pan[1] + 90 }),
  pathOf({ kind: 'circle', cx, cy, r: tail }),
]
