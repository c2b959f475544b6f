import { describe, expect, it } from 'vitest'
import { mm } from '../../solver/index.ts'
import {
  along,
  type Contour,
  circle,
  contourOf,
  type Line,
  segmentsOf,
  segmentsOfOpen,
} from '../../src/export/contour.ts'
import { lengthOf } from '../../src/export/near.ts'
import { TABS_FROM, tabbed } from '../../src/export/tabs.ts'
import fc from '../seeded.ts'
import { rect } from './decks.ts'

const around = (c: Contour): number =>
  c.kind === 'circle' ? 2 * Math.PI * c.r : segmentsOf(c.points).reduce((sum, s) => sum + lengthOf(s), 0)

const open = (line: Line) => {
  if (line.kind !== 'open') throw new Error('expected a line with two ends')
  const segments = segmentsOfOpen(line.points)
  return {
    from: line.points[0]!,
    to: line.points[line.points.length - 1]!,
    length: segments.reduce((sum, s) => sum + lengthOf(s), 0),
    segments,
  }
}

const shapes: Record<string, Contour> = {
  square: contourOf(rect(0, 0, 40, 40)),
  rounded: contourOf(rect(-3, 5, 120, 60, 8)),
  disc: circle(10, 20, 30),
  bay: contourOf({
    kind: 'polygon',
    points: [
      [0, 0, 0],
      [40, 0, 0],
      [40, 30, 0],
      [30, 30, -1],
      [10, 30, 0],
      [0, 30, 0],
    ].map(([x, y, bulge]) => ({ x: mm(x!), y: mm(y!), bulge: bulge! })),
  }),
}

describe('tabs', () => {
  for (const [name, shape] of Object.entries(shapes)) {
    for (const [count, width, kerf] of [
      [1, 1.5, 0],
      [3, 1.5, 0.2],
      [4, 0.8, 0],
    ] as const) {
      it(`leave ${count} gaps of ${width} mm and a kerf of ${kerf} in the ${name}`, () => {
        const lines = tabbed(shape, { count, width }, kerf).map(open)
        expect(lines).toHaveLength(count)
        const drawn = lines.reduce((sum, l) => sum + l.length, 0)
        expect(drawn).toBeCloseTo(around(shape) - count * (width + kerf), 6)
        lines.forEach((l, i) => {
          const next = lines[(i + 1) % lines.length]!
          // Straight across, a gap on an arc is a hair shorter than along it.
          const across = Math.hypot(next.from.x - l.to.x, next.from.y - l.to.y)
          expect(across).toBeLessThan(width + kerf + 1e-9)
          expect(across).toBeGreaterThan((width + kerf) * 0.97)
        })
      })
    }
  }

  it('stay on the line that they are cut from', () => {
    for (const shape of Object.values(shapes)) {
      const dense =
        shape.kind === 'circle'
          ? []
          : segmentsOf(shape.points).flatMap((s) => Array.from({ length: 500 }, (_, k) => along(s, k / 500)))
      for (const line of tabbed(shape, { count: 3, width: 2 }, 0).map(open)) {
        for (const p of line.segments.flatMap((s) => [0, 0.3, 0.7].map((t) => along(s, t)))) {
          const off =
            shape.kind === 'circle'
              ? Math.abs(Math.hypot(p.x - shape.cx, p.y - shape.cy) - shape.r)
              : Math.min(...dense.map((q) => Math.hypot(p.x - q.x, p.y - q.y)))
          expect(off).toBeLessThan(0.13)
        }
      }
    }
  })

  it('are not at corners where the sides are long', () => {
    // Four tabs of a 40 mm square: evenly spread from a corner they fall on the middles of the sides.
    for (const count of [1, 2, 3, 4, 5]) {
      for (const line of tabbed(shapes.square!, { count, width: 1.5 }, 0).map(open)) {
        for (const end of [line.from, line.to]) {
          const corner = Math.min(...[0, 40].flatMap((x) => [0, 40].map((y) => Math.hypot(end.x - x, end.y - y))))
          expect(corner).toBeGreaterThanOrEqual(0.75 - 1e-9)
        }
      }
    }
  })

  it('are never left in what is small', () => {
    const hole = circle(0, 0, 1.7)
    const slot = contourOf(rect(0, 0, 80, TABS_FROM - 1))
    expect(tabbed(hole, { count: 4, width: 0.5 }, 0)).toEqual([hole])
    expect(tabbed(slot, { count: 4, width: 0.5 }, 0)).toEqual([slot])
  })

  it('are fewer where so many have no room', () => {
    expect(tabbed(shapes.square!, { count: 12, width: 5 }, 0)).toHaveLength(6)
    expect(tabbed(shapes.square!, { count: 1, width: 100 }, 0)).toEqual([shapes.square])
  })

  it('never meet, whatever the shape', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 8000, max: 40000 }), { minLength: 3, maxLength: 40 }),
        fc.integer({ min: 1, max: 12 }),
        fc.double({ min: 0.2, max: 5, noNaN: true }),
        (radii, count, width) => {
          const shape = contourOf({
            kind: 'polygon',
            points: radii.map((r, i) => {
              const angle = (2 * Math.PI * i) / radii.length
              return { x: mm((r * Math.cos(angle)) / 1000), y: mm((r * Math.sin(angle)) / 1000), bulge: 0 }
            }),
          })
          const lines = tabbed(shape, { count, width }, 0)
          if (lines[0]!.kind !== 'open') return
          const drawn = lines.map(open).reduce((sum, l) => sum + l.length, 0)
          expect(drawn).toBeCloseTo(around(shape) - lines.length * width, 5)
        },
      ),
      { numRuns: 200 },
    )
  })
})
