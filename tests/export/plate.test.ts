/** What is left of plates, against a polygon clipper that is not ours (polyclip-ts, through the rings of glTF). */
import { describe, expect, it } from 'vitest'
import { area, type Layout, prepare, type Shape } from '../../solver/index.ts'
import { areasOf, ringArea } from '../../src/export/gltf-flat.ts'
import { planColours } from '../../src/export/picture-colours.ts'
import { groundOf, shapeRing } from '../../src/export/picture-plan.ts'
import { type Left, leftOf } from '../../src/export/plate.ts'
import { platePath } from '../../src/plan/paths.ts'
import { rect, round } from './decks.ts'

const size = (left: readonly Left[]): number =>
  left.reduce((sum, { outline, holes }) => [outline, ...holes].reduce((v, s, i) => v + (i ? -1 : 1) * mm2(s), sum), 0)
const mm2 = (shape: Shape): number => Math.abs(area(shape)) / 1e6

const plate = rect(0, 0, 190, 150, 14)

describe('what is left of a plate', () => {
  it('is the very same shapes where all lies apart within it', () => {
    const cuts = [rect(20, 20, 10, 10), round(60, 60, 4)]
    expect(leftOf(plate, cuts)).toEqual([{ outline: plate, holes: cuts }])
  })

  it('has a notch for an opening over the edge, and nothing of it beyond', () => {
    const [left, ...more] = leftOf(rect(0, 0, 190, 150), [rect(183, 60, 18, 16)])
    expect(more).toEqual([])
    // worked out by hand: 190 × 150 less 7 × 16
    expect(size([left!])).toBeCloseTo(28388, 6)
    expect(left!.holes).toEqual([])
    const { box } = prepare(left!.outline)
    expect([box.x, box.y, box.w, box.h]).toEqual([0, 0, 190000, 150000])
  })

  it('is what plan and picture draw', () => {
    const over = rect(183, 60, 18, 16)
    // M183 60 … 190 … : 201, the far side of the opening, is nowhere
    expect(platePath(plate, [over])).not.toMatch(/\b201\b/)
    const problem = {
      items: [],
      exits: [],
      passes: [],
      zones: [],
      decks: [{ id: 'd', outline: plate, openings: [{ shape: over }], holes: [] }],
    }
    const pen = { colours: planColours.light, unit: 1 }
    const [ground] = groundOf({ problem } as unknown as Layout, 0, pen)
    const rings = ground!.marks.flatMap((m) => (m.kind === 'area' ? m.rings : m.lines))
    expect(Math.max(...rings.flat().map(([x]) => x))).toBe(190)
  })

  it('has nothing for an opening beside it, one hole for two that cross, and two pieces where it is cut through', () => {
    expect(leftOf(plate, [rect(300, 300, 18, 16)])).toEqual([{ outline: plate, holes: [] }])
    const [crossed] = leftOf(plate, [rect(40, 40, 40, 4), rect(40, 30, 4, 40)])
    expect(crossed!.holes).toHaveLength(1)
    expect(mm2(crossed!.holes[0]!)).toBeCloseTo(160 + 160 - 16, 6)
    const halves = leftOf(rect(0, 0, 100, 50), [rect(40, -5, 20, 60), round(80, 25, 5)])
    expect(halves.map((h) => h.holes.length).sort()).toEqual([0, 1])
    expect(size(halves)).toBeCloseTo(4000 - 25 * Math.PI, 2)
    expect(leftOf(plate, [rect(-5, -5, 300, 300)])).toEqual([])
  })

  it('is as much as a polygon clipper leaves, wherever openings lie', () => {
    let seed = 7
    const rnd = () => {
      seed = (seed * 16807) % 2147483647
      return seed / 2147483647
    }
    for (let k = 0; k < (process.env.DECKWRIGHT_LONG === '1' ? 60 : 1); k++) {
      const cuts = Array.from(
        { length: 1 + (k % 4) },
        (): Shape =>
          rnd() < 0.5
            ? round(rnd() * 210 - 10, rnd() * 170 - 10, 3 + rnd() * 20)
            : rect(rnd() * 200 - 15, rnd() * 160 - 15, 5 + rnd() * 50, 5 + rnd() * 50, rnd() * 5),
      )
      const areas = areasOf(shapeRing(plate), cuts.map(shapeRing))
      const right = areas.flatMap((a) => [a.outer, ...a.holes]).reduce((sum, ring) => sum + ringArea(ring), 0)
      // chords of 0.02 mm along up to five curves of some 120 mm
      expect(Math.abs(size(leftOf(plate, cuts)) - right), `${k}`).toBeLessThan(12)
    }
  })
})
