/** The oracle's own geometry against points thrown at random, so that the oracles do not rest on themselves. */
import { describe, expect, it } from 'vitest'
import {
  type Box,
  boxClear,
  boxInside,
  boxOverlaps,
  boxToBorder,
  discClear,
  discInside,
  movedRegion,
  pointToBorder,
  type Region,
  region,
  regionsOverlap,
} from './oracle/geometry.ts'
import { blob } from './oracle/parts.ts'
import { rng } from './oracle/random.ts'

const N = 400
const some = (seed: number) => {
  const r = rng(seed)
  const shape = blob(r, 10, 10, 3 + 5 * r.next())
  const w = 300 + r.int(0, 6000)
  const h = 300 + r.int(0, 6000)
  const box: Box = { x: 2000 + r.int(0, 12000), y: 2000 + r.int(0, 12000), w, h }
  return { r, shape, reg: region(shape), box }
}

describe('the oracle’s geometry', () => {
  it('says that box and region overlap where a random point lies well inside both, and only there', () => {
    let both = 0
    let none = 0
    for (let s = 0; s < N; s++) {
      const { r, reg, box } = some(s)
      let hit = false
      for (let k = 0; k < 400 && !hit; k++) hit = reg.holds(box.x + r.next() * box.w, box.y + r.next() * box.h)
      const says = boxOverlaps(reg, box)
      if (hit) expect(says, `seed ${s}`).toBe(true)
      // A part that 400 points miss is thin: the border then runs through the box or hardly enters it.
      if (!says) expect(hit, `seed ${s}`).toBe(false)
      if (says && !hit) expect(boxToBorder(reg, box), `seed ${s}`).toBe(0)
      if (says) both++
      else none++
    }
    expect(both).toBeGreaterThan(N / 10)
    expect(none).toBeGreaterThan(N / 10)
  })

  it('measures the distance to a border as the nearest of many of its points', () => {
    for (let s = 0; s < N; s++) {
      const { reg, box } = some(s)
      const points = borderPoints(reg)
      let near = Number.POSITIVE_INFINITY
      let nearCentre = Number.POSITIVE_INFINITY
      const [cx, cy] = [box.x + box.w / 2, box.y + box.h / 2]
      for (const [x, y] of points) {
        const dx = Math.max(box.x - x, 0, x - box.x - box.w)
        const dy = Math.max(box.y - y, 0, y - box.y - box.h)
        near = Math.min(near, Math.hypot(dx, dy))
        nearCentre = Math.min(nearCentre, Math.hypot(x - cx, y - cy))
      }
      // The points stand at most 60 µm apart.
      expect(near - boxToBorder(reg, box), `seed ${s}`).toBeGreaterThan(-1e-6)
      expect(near - boxToBorder(reg, box), `seed ${s}`).toBeLessThan(60)
      expect(Math.abs(nearCentre - pointToBorder(reg, cx, cy)), `seed ${s}`).toBeLessThan(60)
    }
  })

  it('holds a box inside exactly where all of its points are, and keeps discs by their radius', () => {
    let inside = 0
    for (let s = 0; s < 6 * N; s++) {
      const { r, reg, box } = some(s)
      const w = box.w / 4
      const b: Box = { x: reg.box.x + r.next() * (reg.box.w - w), y: reg.box.y + r.next() * (reg.box.h - w), w, h: w }
      let out = 0
      for (let k = 0; k < 200; k++) if (!reg.holds(b.x + r.next() * b.w, b.y + r.next() * b.h)) out++
      const says = boxInside(reg, b, 0)
      if (out > 0) expect(says, `seed ${s}`).toBe(false)
      if (says) inside++
      else expect(out > 0 || boxToBorder(reg, b) === 0, `seed ${s}`).toBe(true)
      const [x, y] = [b.x + w / 2, b.y + w / 2]
      const d = pointToBorder(reg, x, y)
      for (const [radius, web] of [
        [d * 0.4, d * 0.59],
        [d * 0.4, d * 0.61],
      ] as const) {
        expect(discInside(reg, x, y, radius, web)).toBe(reg.holds(x, y) && radius + web <= d)
        expect(discClear(reg, x, y, radius, web)).toBe(!reg.holds(x, y) && radius + web <= d)
      }
    }
    expect(inside).toBeGreaterThan(N / 4)
  })

  it('keeps a box clear of a region by the asked distance, to the micrometre', () => {
    let tried = 0
    for (let s = 0; s < N; s++) {
      const { reg, box } = some(s)
      const d = boxToBorder(reg, box)
      if (boxOverlaps(reg, box) || d < 2) continue
      tried++
      expect(boxClear(reg, box, Math.round(d) - 1), `seed ${s}`).toBe(true)
      expect(boxClear(reg, box, Math.round(d) + 1), `seed ${s}`).toBe(false)
    }
    expect(tried).toBeGreaterThan(N / 10)
  })

  it('says that two regions overlap where a random point lies in both, and only there', () => {
    let both = 0
    let none = 0
    for (let s = 0; s < N; s++) {
      const { r, reg } = some(s)
      const other = movedRegion(some(s + 10_000).reg, r.int(0, 20_000), r.int(-8000, 8000))
      let hit = false
      for (let k = 0; k < 2000 && !hit; k++) {
        const x = reg.box.x + r.next() * reg.box.w
        const y = reg.box.y + r.next() * reg.box.h
        hit = reg.holds(x, y) && other.holds(x, y) && Math.min(pointToBorder(reg, x, y), pointToBorder(other, x, y)) > 1
      }
      const says = regionsOverlap(reg, other)
      if (hit) expect(says, `seed ${s}`).toBe(true)
      expect(regionsOverlap(other, reg), `seed ${s}`).toBe(says)
      if (says) both++
      else {
        none++
        expect(hit, `seed ${s}`).toBe(false)
      }
    }
    expect(both).toBeGreaterThan(N / 10)
    expect(none).toBeGreaterThan(N / 10)
  })

  it('takes touching for touching: box on box, box on circle, box on an arc’s chord', () => {
    const circle = region({ kind: 'circle', cx: 0, cy: 0, r: 5000 } as never)
    expect(boxOverlaps(circle, { x: 3000, y: 4000, w: 1000, h: 1000 })).toBe(false)
    expect(boxOverlaps(circle, { x: 2999, y: 4000, w: 1000, h: 1000 })).toBe(true)
    expect(boxInside(circle, { x: -3000, y: -4000, w: 6000, h: 8000 }, 0)).toBe(true)
    expect(boxInside(circle, { x: -3000, y: -4000, w: 6001, h: 8000 }, 0)).toBe(false)
    expect(boxOverlaps(circle, { x: 5000, y: -1000, w: 1000, h: 2000 })).toBe(false)
    // A half disc stands on its chord: nothing of the chord is a border.
    const dome = region({
      kind: 'polygon',
      points: [
        { x: 0, y: 0, bulge: 0 },
        { x: 6000, y: 0, bulge: 0 },
        { x: 6000, y: 6000, bulge: 0.5 },
        { x: 0, y: 6000, bulge: 0 },
      ],
    } as never)
    expect(boxInside(dome, { x: 1500, y: 5000, w: 2800, h: 2000 }, 0)).toBe(true)
    expect(dome.box.y + dome.box.h).toBeCloseTo(7500, 6)
  })
})

/** Points on the border, at most 60 µm apart. */
function borderPoints(reg: Region): [number, number][] {
  return reg.pieces.flatMap((p) => {
    const length = p.kind === 'line' ? Math.hypot(p.bx - p.ax, p.by - p.ay) : p.r * p.sweep
    const n = Math.ceil(length / 60) + 1
    return Array.from({ length: n + 1 }, (_, k): [number, number] =>
      p.kind === 'line'
        ? [p.ax + ((p.bx - p.ax) * k) / n, p.ay + ((p.by - p.ay) * k) / n]
        : [p.cx + p.r * Math.cos(p.from + (p.sweep * k) / n), p.cy + p.r * Math.sin(p.from + (p.sweep * k) / n)],
    )
  })
}
