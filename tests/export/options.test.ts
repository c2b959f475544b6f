/** Laser holes, marks as paths, tabs, the sheet, the order of cutting, and how they work together. */
import { describe, expect, it } from 'vitest'
import { mm } from '../../solver/index.ts'
import { along, boxOf, type Contour, contourKey, segmentsOf } from '../../src/export/contour.ts'
import type { Template } from '../../src/export/drawing.ts'
import { MergeError, OffsetError, sheet, svg, template } from '../../src/export/index.ts'
import { sharing } from '../../src/export/merge.ts'
import { inside } from '../../src/export/order.ts'
import { area } from './contour-kit.ts'
import { at, deck, item, part, problem, pt, rect, round, screws } from './decks.ts'
import { blobs, only, raster } from './raster.ts'
import { full, placements, tower, towered } from './workshop.ts'

const GROUPS = ['cut', 'drill', 'existing', 'mark', 'notes']
const content = (text: string, id: string): string =>
  new RegExp(`<g id="${id}"[^>]*>([\\s\\S]*?)\\n {2}</g>`).exec(text)![1]!
const groups = (text: string): string[] => [...text.matchAll(/<g id="(\w+)"/g)].map((m) => m[1]!)
const closed = (t: Template): Contour[] =>
  t.cut.map((c) => {
    if (c.kind === 'open') throw new Error('an open line where none was asked for')
    return c
  })
const keys = (lines: readonly Contour[]): string[] => lines.map(contourKey).sort()

describe('the order of cutting', () => {
  it('comes to every contour after all that lie in it', () => {
    const nested = problem(
      [
        deck('d', rect(0, 0, 100, 80), {
          openings: [
            { id: 'big', shape: rect(10, 10, 40, 40), mayCover: true },
            { id: 'in it', shape: rect(20, 20, 10, 10), mayCover: true },
            { id: 'in that', shape: round(25, 25, 2), mayCover: true },
          ],
        }),
      ],
      [],
    )
    for (const t of [
      template(nested, [], 0),
      template(full, placements, 0),
      sheet(tower, towered),
      template(nested, [], 0, { kerf: mm(0.2) }),
    ]) {
      const cut = closed(t)
      cut.forEach((outer, i) => {
        for (const later of cut.slice(i + 1)) {
          const p =
            later.kind === 'circle' ? { x: later.cx + later.r, y: later.cy } : along(segmentsOf(later.points)[0]!, 0.5)
          expect(inside(outer, p)).toBe(false)
        }
      })
    }
  })

  it('ends with the outline, even of one that an opening crosses', () => {
    const crossed = problem(
      [deck('d', rect(0, 0, 50, 50), { openings: [{ id: 'o', shape: rect(-5, 10, 10, 10), mayCover: true }] })],
      [],
    )
    const cut = closed(template(crossed, [], 0))
    expect(cut.map(area)).toEqual([100, 2500])
  })
})

describe('no line is cut twice', () => {
  const slotted = (openings: Parameters<typeof deck>[2]) =>
    problem(
      [deck('d', rect(0, 0, 100, 80), openings)],
      [item('pack', part('pack', 30, 20, { kind: 'strap', slots: [{ x: mm(5), y: mm(-3), w: mm(10), h: mm(3) }] }))],
      { minWeb: mm(0) },
    )

  it('where a slot touches an opening with a whole side', () => {
    const p = slotted({ openings: [{ id: 'o', shape: rect(40, 10, 30, 17), mayCover: false }] })
    const cut = closed(template(p, [at(0, 40, 30)], 0))
    expect(cut.map(area)).toEqual([30 * 17 + 30, 8000])
    // With kerf the two are one window, half a kerf smaller all round: perimeter 100 mm.
    const kerfed = closed(template(p, [at(0, 40, 30)], 0, { kerf: mm(0.2) }))
    expect(area(kerfed[0]!)).toBeCloseTo(540 - 100 * 0.1 + 0.04, 6)
  })

  it('where an opening lies on the edge of the plate', () => {
    const p = slotted({ openings: [{ id: 'o', shape: rect(0, 20, 10, 10), mayCover: false }] })
    const [slot, outline, ...more] = closed(template(p, [at(0, 40, 30)], 0))
    expect(more).toEqual([])
    expect([area(slot!), area(outline!)]).toEqual([30, 7900])
  })

  it('where a kerf brings two lines together', () => {
    // They overlap by just the kerf, so that both sides would be cut along x = 29.9.
    const p = slotted({
      openings: [
        { id: 'a', shape: rect(10, 40, 20, 20), mayCover: false },
        { id: 'b', shape: rect(29.8, 35, 20, 20), mayCover: false },
      ],
    })
    const cut = closed(template(p, [], 0, { kerf: mm(0.2) }))
    expect(cut).toHaveLength(2)
    expect(closed(template(p, [], 0))).toHaveLength(3)
  })

  it('and an opening as large as the plate is the plate, one nearly so is refused by name', () => {
    const p = (by: number) =>
      problem(
        [deck('d', rect(0, 0, 40, 30), { openings: [{ id: 'o', shape: rect(0, 0, 40, 30 + by), mayCover: true }] })],
        [],
      )
    expect(closed(template(p(0), [], 0)).map(area)).toEqual([1200])
    expect(() => template(p(0.001), [], 0)).toThrow(/opening o of deck d, with the outline of deck d: nothing is left/)
  })

  it('and what exists is not cut again, but a new slot stays whole', () => {
    const p = slotted({ openings: [{ id: 'o', shape: rect(40, 10, 30, 17), mayCover: false }] })
    const t = template(p, [at(0, 40, 30)], 0, { asMade: true })
    expect(closed(t).map(area)).toEqual([30])
    expect(t.existing.map(area)).toEqual([8000, 510])
  })
})

describe('laser holes', () => {
  const t = template(full, placements, 0)
  const laser = template(full, placements, 0, { laserHoles: true })

  it('move from drill to cut and nothing else changes', () => {
    expect(laser.drill).toEqual([])
    expect(groups(svg(laser))).toEqual(GROUPS)
    expect(keys(closed(laser))).toEqual(keys([...closed(t), ...t.drill]))
    expect(laser.existing).toEqual(t.existing)
    expect(svg(laser)).toContain('New holes are cut, not drilled: 3 × 3.2 mm, 2 × 2.7 mm.')
  })

  it('are cut with as-made too, and are made smaller by the kerf', () => {
    const made = template(full, placements, 0, { laserHoles: true, asMade: true, kerf: mm(0.2) })
    const radii = made.cut.flatMap((c) => (c.kind === 'circle' ? [Math.round(c.r * 1000) / 1000] : []))
    expect(radii.sort()).toEqual([1.25, 1.25, 1.5, 1.5, 1.5])
  })

  it('are refused where the kerf fills one, by name', () => {
    const tiny = problem([deck('d', rect(0, 0, 40, 40))], [item('b', part('b', 20, 20, screws([10, 10, 0.8])))])
    expect(() => template(tiny, [at(0, 5, 5)], 0, { laserHoles: true, kerf: mm(1) })).toThrow(/a hole of b/)
    expect(() => template(tiny, [at(0, 5, 5)], 0, { laserHoles: true, kerf: mm(1) })).toThrow(OffsetError)
    expect(template(tiny, [at(0, 5, 5)], 0, { kerf: mm(1) }).drill).toHaveLength(1)
  })
})

describe('labels', () => {
  it('call copies as people do, on the page and on the plate', () => {
    const plate = problem([deck('d', rect(0, 0, 60, 40))], [item('board#2', part('b', 30, 12, screws([3, 3, 3.2])))])
    const texts = template(plate, [at(0, 5, 5)], 0).notes.texts.map((x) => x.text)
    expect(texts).toContain('board 2')
    expect(texts.join()).not.toContain('board#2')
  })
})

describe('marks as paths', () => {
  const t = template(full, placements, 0)
  const paths = template(full, placements, 0, { marksAsPaths: true })

  it('turn every label into open lines of mark, and leave all other words text', () => {
    const labels = ['front', 'first', 'someday (later)', 'driver']
    for (const label of labels) {
      expect(t.notes.texts.map((x) => x.text)).toContain(label)
      expect(paths.notes.texts.map((x) => x.text)).not.toContain(label)
    }
    expect(paths.mark.filter((s) => s.kind === 'open').length).toBeGreaterThan(60)
    expect(t.mark.filter((s) => s.kind === 'open')).toEqual([])
    expect(content(svg(paths), 'mark')).not.toMatch(/<text|fill|transform/)
    expect(content(svg(paths), 'notes')).toMatch(/<text[^>]*>Wear eye protection/)
    expect({ ...paths, mark: [], notes: [] }).toEqual({ ...t, mark: [], notes: [] })
  })

  it('stay on the bodies that they name', () => {
    const alone = problem([deck('d', rect(0, 0, 60, 40))], [item('board', part('b', 30, 12, screws([3, 3, 3.2])))])
    const drawn = template(alone, [at(0, 20, 15)], 0, { marksAsPaths: true })
    const letters = drawn.mark.flatMap((s) => (s.kind === 'open' ? [boxOf(s)] : [])).filter((b) => b.x0 > 0)
    expect(letters.length).toBeGreaterThan(5)
    for (const b of letters) {
      expect(b.x0).toBeGreaterThan(20)
      expect(b.x1).toBeLessThan(50)
      expect(b.y0).toBeGreaterThan(15)
      expect(b.y1).toBeLessThan(27)
      // Clear of the hole at 23, 18.
      const far = Math.hypot(Math.max(b.x0 - 23, 0, 23 - b.x1), Math.max(b.y0 - 18, 0, 18 - b.y1))
      expect(far).toBeGreaterThan(1.6)
    }
  })

  it('keep a label as text where a letter is not among ours', () => {
    const odd = problem([deck('d', rect(0, 0, 60, 40))], [item('плата', part('b', 30, 12, { kind: 'adhesive' }))])
    expect(template(odd, [at(0, 20, 15)], 0, { marksAsPaths: true }).notes.texts.map((x) => x.text)).toContain('плата')
  })
})

describe('tabs', () => {
  it('open the outline and large openings, never holes, slots or small openings, and the notes say so', () => {
    const t = template(full, placements, 0, { laserHoles: true, tabs: { count: 3, width: mm(1.2) } })
    const open = t.cut.filter((c) => c.kind === 'open')
    // The outline alone is 15 mm or more both ways.
    expect(open).toHaveLength(3)
    const plain = template(full, placements, 0, { laserHoles: true })
    expect(t.cut.filter((c) => c.kind !== 'open')).toEqual(closed(plain).slice(0, -1))
    expect(t.view.x0).toBe(plain.view.x0)
    const said = t.notes.texts.map((x) => x.text).join(' ')
    expect(said).toContain('up to 3 of 1.2 mm')
    expect(said).toContain('open there on purpose')
    for (const c of content(svg(t), 'cut')
      .match(/<path[^>]*>/g)!
      .slice(-3))
      expect(c).not.toContain('Z')
  })

  it('are never left in a mounting hole, however large', () => {
    const wide = problem([deck('d', rect(0, 0, 60, 60))], [item('b', part('b', 40, 40, screws([20, 20, 22])))])
    const t = template(wide, [at(0, 10, 10)], 0, { laserHoles: true, tabs: { count: 2, width: mm(1) } })
    expect(t.cut.map((c) => c.kind)).toEqual(['circle', 'open', 'open'])
  })

  it('stand as wide as asked for, measured beside the beam', () => {
    const plate = problem([deck('d', rect(0, 0, 40, 40))], [])
    const options = { tabs: { count: 4, width: mm(2) }, kerf: mm(0.4) }
    const t = template(plate, [], 0, options)
    const ends = t.cut.map((c) => (c.kind === 'open' ? c.points : []))
    ends.forEach((points, i) => {
      const [from, to] = [points[points.length - 1]!, ends[(i + 1) % 4]![0]!]
      // The beam's round end reaches half a kerf into the gap from both sides.
      expect(Math.hypot(to.x - from.x, to.y - from.y) - 0.4).toBeCloseTo(2, 6)
    })
  })
})

describe('the sheet', () => {
  const t = sheet(tower, towered)
  const text = svg(t)

  it('holds all decks side by side, five groups once each', () => {
    expect(groups(text)).toEqual(GROUPS)
    expect(t.cut).toHaveLength(3)
    expect(t.drill).toHaveLength(9)
    const [w, h] = [t.view.x1 - t.view.x0, t.view.y1 - t.view.y0]
    expect(text).toContain(`width="${w}mm" height="${h}mm" viewBox="0 0 ${w} ${h}"`)
    const outlines = closed(t)
      .filter((c) => area(c) > 1000)
      .map(boxOf)
    expect(outlines).toHaveLength(2)
    expect(outlines[1]!.x0).toBeGreaterThanOrEqual(outlines[0]!.x1 + 10)
  })

  it('moves each deck along x alone, by whole millimetres, the first not at all, and says how far', () => {
    const [main, lid] = [template(tower, towered, 0), template(tower, towered, 1)]
    expect(keys(closed(t).slice(0, 2))).toEqual(keys(closed(main)))
    const shift = boxOf(t.cut[2]!).x0 - boxOf(lid.cut[0]!).x0
    expect(Number.isInteger(shift)).toBe(true)
    expect(boxOf(t.cut[2]!).y0).toBe(boxOf(lid.cut[0]!).y0)
    const said = t.notes.texts.map((x) => x.text).join(' ')
    expect(said).toContain(`drawn ${shift} mm to the right of its own place`)
    expect(said).toContain('Deck Lid, 3 mm thick. Datum')
    expect(said).not.toContain('own stock')
    expect(said).toContain('3 mm birch plywood')
  })

  it('warns where its decks are not of one thickness or material', () => {
    for (const other of [{ thickness: mm(2) }, { material: 'acrylic' }]) {
      const mixed = { ...tower, decks: tower.decks.map((d, i) => (i === 1 ? { ...d, ...other } : d)) }
      const said = sheet(mixed, towered).notes.texts.map((x) => x.text)
      expect(said.join(' ')).toContain('cut each from its own stock')
    }
  })

  it('labels each deck above it, as text or as lines', () => {
    expect(t.notes.texts.filter((x) => /^deck (main|Lid)$/.test(x.text))).toHaveLength(2)
    const lines = sheet(tower, towered, { marksAsPaths: true })
    expect(lines.notes.texts.filter((x) => /^deck (main|Lid)$/.test(x.text))).toEqual([])
    expect(lines.mark.length).toBeGreaterThan(t.mark.length + 20)
  })

  it('is drawn where it says, measured on the page', () => {
    const found = blobs(raster(only(text, 'cut'), 200)).sort((a, b) => b.width - a.width)
    expect(Math.abs(found[0]!.width - 110.1)).toBeLessThan(0.05)
    const [lid] = found.filter((b) => Math.abs(b.width - 50.1) < 0.05)
    expect(Math.abs(lid!.height - 40.1)).toBeLessThan(0.05)
    const bar = blobs(raster(only(text, 'notes').replace(/<text[\s\S]*?<\/text>/g, ''), 200)).sort(
      (a, b) => b.width - a.width,
    )[0]!
    expect(Math.abs(bar.width - 100.2)).toBeLessThan(0.05)
  })

  it('clips nothing and lays nothing over another deck', () => {
    const drawn = raster(svg(sheet(tower, towered, { marksAsPaths: true })), 100)
    for (let x = 0; x < drawn.width; x++)
      expect(drawn.ink[x]! + drawn.ink[(drawn.height - 1) * drawn.width + x]!).toBe(0)
    for (let y = 0; y < drawn.height; y++)
      expect(drawn.ink[y * drawn.width]! + drawn.ink[(y + 1) * drawn.width - 1]!).toBe(0)
  })
})

/** Area of the two windows, by the shoelace formula. */
const both = (hair: number): number => {
  const triangle = (p: readonly (readonly [number, number])[]): number =>
    Math.abs(p.reduce((s, [x, y], i) => s + x * p[(i + 1) % 3]![1] - p[(i + 1) % 3]![0] * y, 0)) / 2
  return (
    triangle([
      [10, 10],
      [40, 21.003],
      [10, 40],
    ]) +
    triangle([
      [10, 10 - hair],
      [30, 5],
      [40, 21.003 + hair],
    ])
  )
}

describe('contours so near that no clean line is left', () => {
  it('are either merged or refused by name, never drawn twice', () => {
    let [fine, refused] = [0, 0]
    for (let k = 0; k < 60; k++) {
      // Two windows along a slanted line, one of them turned by a hair.
      const near = problem(
        [
          deck('d', rect(0, 0, 100, 80), {
            openings: [
              {
                id: 'a',
                shape: {
                  kind: 'polygon',
                  points: [pt(10, 10), pt(40, 21.003), pt(10, 40)].map((p) => ({ ...p, bulge: 0 })),
                },
                mayCover: false,
              },
              {
                id: 'b',
                shape: {
                  kind: 'polygon',
                  points: [pt(10, 10 - k * 0.0005), pt(30, 5), pt(40, 21.003 + k * 0.0005)].map((p) => ({
                    ...p,
                    bulge: 0,
                  })),
                },
                mayCover: false,
              },
            ],
          }),
        ],
        [],
      )
      try {
        const cut = closed(template(near, [], 0))
        fine++
        expect(sharing(cut)).toEqual([])
        const gone = cut.slice(0, -1).reduce((sum, c) => sum + area(c), 0)
        // Shoelace of both triangles, which overlap by nothing to speak of.
        expect(Math.abs(gone - both(k * 0.0005))).toBeLessThan(0.2)
      } catch (error) {
        expect(error).toBeInstanceOf(MergeError)
        refused++
      }
    }
    expect(fine + refused).toBe(60)
    expect(fine).toBeGreaterThan(refused)
  })
})
