/** The surface that is drawn of a head's sweep, against poses tried one by one. */
import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { alongRay, type Layer, sweptLayers, sweptSurface } from '../../src/scene/swept.ts'
import type { HeadParts } from '../../src/statics/head-parts.ts'
import { rectangle } from '../../src/statics/plane.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'

const RAD = Math.PI / 180

/** A camera that pans and tilts over a yoke that only pans; numbers of our own. */
const head: HeadParts = {
  pivot: { x: 0, y: 0 },
  base: 90,
  pan: [-70, 80],
  tilt: [-40, 55],
  ahead: 6,
  height: 60,
  parts: [
    { id: 'camera', tilts: true, across: [-13, 11], side: rectangle(3, -9, 40, 12) },
    { id: 'yoke', tilts: false, across: [-17, 17], side: rectangle(-12, -20, 8, 15) },
  ],
}

/** Where a point of a part (across, ahead, up, about the tilt axis) is at a pose; by hand, as a head turns. */
function posed(part: HeadParts['parts'][number], p: readonly [number, number, number], pan: number, tilt: number) {
  const t = part.tilts ? tilt * RAD : 0
  const y = p[1] * Math.cos(t) - p[2] * Math.sin(t) + head.ahead
  const z = p[1] * Math.sin(t) + p[2] * Math.cos(t) + head.height
  const a = (pan + head.base) * RAD
  return { x: p[0] * Math.cos(a) - y * Math.sin(a), y: p[0] * Math.sin(a) + y * Math.cos(a), z }
}

/** Within a layer, its outline straight between two rays; `by` larger, mm. */
function holds(layer: Layer, p: { x: number; y: number; z: number }, by: number): boolean {
  if (p.z < layer.z[0] - by || p.z > layer.z[1] + by) return false
  const r = Math.hypot(p.x, p.y)
  const deg = Math.atan2(p.y, p.x) / RAD
  const { rays } = layer
  const slack = by / Math.max(r, 1) / RAD
  for (let i = 0; i + 1 < rays.length; i++) {
    const [a, b] = [rays[i]!, rays[i + 1]!]
    for (let d = deg + 360 * Math.ceil((a.at - slack - deg) / 360); d <= b.at + slack; d += 360) {
      const from = Math.min(a.from, b.from)
      const to = Math.max(a.to, b.to)
      if (r >= from - by && r <= to + by) return true
    }
  }
  return false
}

const between = (lo: number, hi: number) => fc.double({ min: lo, max: hi, noNaN: true })

describe('a ray in a convex figure', () => {
  it('comes in and goes out at its edges', () => {
    const square = rectangle(10, -5, 30, 5)
    expect(alongRay(square, 0)).toEqual([10, 30])
    const [near, far] = alongRay(square, 20)!
    expect(near).toBeCloseTo(10 / Math.cos(20 * RAD), 9)
    expect(far).toBeCloseTo(5 / Math.sin(20 * RAD), 9)
    expect(alongRay(square, 60)).toBeUndefined()
    expect(alongRay(rectangle(-2, -2, 2, 2), 180)).toEqual([0, 2])
  })
})

describe('what a head sweeps', () => {
  const layers = sweptLayers(head)

  it('holds every point of its parts at every pose', () => {
    const pose = fc.record({
      part: fc.constantFrom(...head.parts),
      at: fc.tuple(between(0, 1), between(0, 1), between(0, 1)),
      pan: between(...(head.pan as [number, number])),
      tilt: between(...(head.tilt as [number, number])),
    })
    fc.assert(
      fc.property(pose, ({ part, at, pan, tilt }) => {
        const [x0, x1] = part.across
        const [a, , c] = part.side
        const p = [x0 + at[0] * (x1 - x0), a!.x + at[1] * (c!.x - a!.x), a!.y + at[2] * (c!.y - a!.y)] as const
        const now = posed(part, p, pan, tilt)
        expect(layers.some((l) => holds(l, now, 0.15))).toBe(true)
      }),
      { numRuns: 1500 },
    )
  })

  it('is no larger than that by more than a layer is high', () => {
    // A point in it is as near to a point of some pose as a layer's height and the steps tried here allow.
    const near = (p: { x: number; y: number; z: number }): number => {
      let best = Number.POSITIVE_INFINITY
      for (const part of head.parts)
        for (let tilt = head.tilt[0]; tilt <= head.tilt[1]; tilt += part.tilts ? 2.5 : 1000)
          for (let pan = head.pan[0]; pan <= head.pan[1]; pan += 2.5) {
            const a = -(pan + head.base) * RAD
            const x = p.x * Math.cos(a) - p.y * Math.sin(a)
            const ahead = p.x * Math.sin(a) + p.y * Math.cos(a) - head.ahead
            const up = p.z - head.height
            const t = part.tilts ? -tilt * RAD : 0
            const y = ahead * Math.cos(t) - up * Math.sin(t)
            const z = ahead * Math.sin(t) + up * Math.cos(t)
            const [lo, , hi] = part.side
            const off = (v: number, [l, h]: readonly [number, number]) => Math.max(l - v, v - h, 0)
            best = Math.min(best, Math.hypot(off(x, part.across), off(y, [lo!.x, hi!.x]), off(z, [lo!.y, hi!.y])))
          }
      return best
    }
    const high = layers[0]!.z[1] - layers[0]!.z[0]
    const worst = layers.flatMap((l) =>
      l.rays
        .filter((_, i) => i % (LONG ? 9 : 27) === 0)
        .flatMap(({ at, from, to }) =>
          [from, (from + to) / 2, to].map((r) =>
            near({ x: r * Math.cos(at * RAD), y: r * Math.sin(at * RAD), z: (l.z[0] + l.z[1]) / 2 }),
          ),
        ),
    )
    expect(worst.length).toBeGreaterThan(300)
    // 2.5° at 50 mm is 2.2 mm
    expect(Math.max(...worst)).toBeLessThan(high + 2.2)
  })

  it('is a ring all round where it pans all round', () => {
    const round = sweptLayers({ ...head, pan: [-180, 180] })
    for (const l of round) expect(l.rays[l.rays.length - 1]!.at - l.rays[0]!.at).toBeCloseTo(360, 6)
  })

  it('becomes whole triangles, each corner in its layer', () => {
    const { position, uv } = sweptSurface(layers)
    expect(position.length % 9).toBe(0)
    expect(uv.length / 2).toBe(position.length / 3)
    expect(position.every(Number.isFinite)).toBe(true)
    const zs = position.filter((_, i) => i % 3 === 2)
    const low = Math.min(...layers.map((l) => l.z[0]))
    expect(Math.min(...zs)).toBeCloseTo(low, 9)
  })
})
