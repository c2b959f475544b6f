/** Rectangles without width or height (a hole's centre over a column of positions) against shapes that they cross. */
import { describe, expect, it } from 'vitest'
import type { Shape } from '../../solver/problem.ts'
import { prepare, rectOverlaps } from '../../solver/shapes.ts'
import { um } from '../../solver/units.ts'

const shapes: Record<string, Shape> = {
  sector: { kind: 'sector', cx: um(24_800), cy: um(5600), r: um(7100), from: 30, to: 150 },
  slanted: {
    kind: 'polygon',
    points: [
      { x: um(20_000), y: um(4000), bulge: 0 },
      { x: um(31_000), y: um(7000), bulge: 0 },
      { x: um(27_000), y: um(13_000), bulge: 0 },
    ],
  },
  bowed: {
    kind: 'polygon',
    points: [
      { x: um(20_000), y: um(6000), bulge: 0.4 },
      { x: um(30_000), y: um(7000), bulge: 0 },
      { x: um(26_000), y: um(12_000), bulge: -0.2 },
    ],
  },
}

describe('a thin rectangle', () => {
  for (const [name, shape] of Object.entries(shapes))
    it(`overlaps a ${name} one wherever a part of it does`, () => {
      const region = prepare(shape)
      const rect = (x: number, y: number, w: number, h: number) => ({ x: um(x), y: um(y), w: um(w), h: um(h) })
      let inside = 0
      let outside = 0
      for (const clearance of [0, 300, 1500])
        for (let x = 17_000; x <= 33_000; x += 500)
          for (let y = 3000; y <= 15_000; y += 500) {
            const point = rectOverlaps(region, rect(x, y, 0, 0), clearance)
            if (point) inside++
            else outside++
            for (const length of [700, 5000]) {
              if (!point) continue
              for (const longer of [
                rect(x, y, 0, length),
                rect(x, y - length, 0, length),
                rect(x, y, length, 0),
                rect(x - length, y, length, 0),
              ])
                expect(rectOverlaps(region, longer, clearance), `${x} ${y} ${length} ${clearance}`).toBe(true)
            }
          }
      expect(inside).toBeGreaterThan(100)
      expect(outside).toBeGreaterThan(100)
    })
})
