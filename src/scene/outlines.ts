/** Shapes of the contract as outlines that three can extrude, in millimetres. */
import { Shape as Outline, Path } from 'three'
import type { Shape } from '../../solver/index.ts'
import { arcOf } from '../store/outline.ts'

const RAD = Math.PI / 180

/** Draws `shape` on `path`, anticlockwise where it is not a polygon of the file's own direction. */
function draw<P extends Path>(path: P, shape: Shape): P {
  switch (shape.kind) {
    case 'rect': {
      const x = shape.x / 1000
      const y = shape.y / 1000
      const w = shape.w / 1000
      const h = shape.h / 1000
      const r = Math.min(shape.radius / 1000, w / 2, h / 2)
      path.moveTo(x + r, y)
      path.lineTo(x + w - r, y)
      if (r > 0) path.absarc(x + w - r, y + r, r, -Math.PI / 2, 0, false)
      path.lineTo(x + w, y + h - r)
      if (r > 0) path.absarc(x + w - r, y + h - r, r, 0, Math.PI / 2, false)
      path.lineTo(x + r, y + h)
      if (r > 0) path.absarc(x + r, y + h - r, r, Math.PI / 2, Math.PI, false)
      path.lineTo(x, y + r)
      if (r > 0) path.absarc(x + r, y + r, r, Math.PI, 1.5 * Math.PI, false)
      return path
    }
    case 'circle':
      path.absarc(shape.cx / 1000, shape.cy / 1000, shape.r / 1000, 0, 2 * Math.PI, false)
      return path
    case 'sector': {
      const { cx, cy, r, from } = shape
      const sweep = (((shape.to - from) % 360) + 360) % 360
      if (sweep === 0) return draw(path, { kind: 'circle', cx, cy, r })
      path.moveTo(cx / 1000, cy / 1000)
      path.absarc(cx / 1000, cy / 1000, r / 1000, from * RAD, (from + sweep) * RAD, false)
      path.lineTo(cx / 1000, cy / 1000)
      return path
    }
    case 'polygon': {
      const { points } = shape
      points.forEach((a, i) => {
        const b = points[(i + 1) % points.length]
        if (!b) return
        if (i === 0) path.moveTo(a.x / 1000, a.y / 1000)
        if (a.bulge === 0) path.lineTo(b.x / 1000, b.y / 1000)
        else {
          const arc = arcOf(a, b, a.bulge)
          path.absarc(arc.cx / 1000, arc.cy / 1000, arc.r / 1000, arc.from * RAD, arc.to * RAD, a.bulge < 0)
        }
      })
      return path
    }
  }
}

export const outlineOf = (shape: Shape): Outline => draw(new Outline(), shape)
export const holeOf = (shape: Shape): Path => draw(new Path(), shape)
