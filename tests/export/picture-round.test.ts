/** The picture in the round, read by another PNG reader and measured against sizes worked out by hand. */
import { PNG } from 'pngjs'
import { describe, expect, it } from 'vitest'
import { mm } from '../../solver/index.ts'
import { rgb, solidColours } from '../../src/export/picture-colours.ts'
import { type RoundOptions, roundPicture, roundPng } from '../../src/export/picture-round.ts'
import { at, deck, item, part, problem, rect } from './decks.ts'
import { demos } from './picture-demos.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'
type Rgb = readonly [number, number, number]
type Image = ReturnType<typeof roundPicture>

const pixel = (p: Image, x: number, y: number): Rgb => {
  const i = 3 * (y * p.width + x)
  return [p.rgb[i]!, p.rgb[i + 1]!, p.rgb[i + 2]!]
}

/** Whether a pixel is a shade of a colour: brighter or darker, but of the same mix. */
function shade(p: Rgb, hex: string): boolean {
  const c = rgb(hex)
  const f = p.reduce((a, b) => a + b, 0) / c.reduce((a, b) => a + b, 0)
  return f > 0.4 && p.every((v, k) => Math.abs(v - c[k]! * f) < 6)
}

function extent(p: Image, hex: string): { w: number; h: number; count: number; x0: number; y0: number } {
  const box = { x0: Infinity, x1: -Infinity, y0: Infinity, y1: -Infinity, count: 0 }
  for (let y = 0; y < p.height; y++)
    for (let x = 0; x < p.width; x++) {
      if (!shade(pixel(p, x, y), hex)) continue
      box.count++
      box.x0 = Math.min(box.x0, x)
      box.x1 = Math.max(box.x1, x)
      box.y0 = Math.min(box.y0, y)
      box.y1 = Math.max(box.y1, y)
    }
  return { w: box.x1 + 1 - box.x0, h: box.y1 + 1 - box.y0, count: box.count, x0: box.x0, y0: box.y0 }
}

const plain = { names: false, width: 700 } as const
const block = (w: number, d: number, h: number) =>
  item(`${w} ${d} ${h}`, part('block', w, d, { kind: 'adhesive' }, { height: mm(h) }))
const one = problem([deck('d', rect(0, 0, 100, 60))], [block(40, 20, 30)])
const seen = (options: RoundOptions): Image => roundPicture(one, [at(0, 10, 30)], { ...plain, ...options })

describe('the picture in the round', () => {
  // Orthographic projection: a length l at the angle a to the picture is seen as l·cos a. Edges are drawn a pixel wide.
  it('is to scale from above, from behind and aslant', () => {
    const { body } = solidColours.light
    const cases: readonly [RoundOptions, number, number][] = [
      [{ azimuth: 270, elevation: 90 }, 40, 20],
      [{ azimuth: 270, elevation: 0 }, 40, 30],
      [{ azimuth: 0, elevation: 0 }, 20, 30],
      [{ azimuth: 270, elevation: 30 }, 40, 20 * Math.sin(Math.PI / 6) + 30 * Math.cos(Math.PI / 6)],
      [{ azimuth: 240, elevation: 0 }, 40 * Math.cos(Math.PI / 6) + 20 * Math.sin(Math.PI / 6), 30],
    ]
    for (const [options, w, h] of cases) {
      const picture = seen(options)
      const found = extent(picture, body)
      expect(Math.abs(found.w - w * picture.perMm), `${JSON.stringify(options)} across`).toBeLessThan(3)
      expect(Math.abs(found.h - h * picture.perMm), `${JSON.stringify(options)} up`).toBeLessThan(3)
    }
  })

  it('has the right at the right and the front at the top, seen from above and behind', () => {
    const picture = seen({ azimuth: 270, elevation: 90 })
    const body = extent(picture, solidColours.light.body)
    const all = extent(picture, solidColours.light.deck)
    expect((body.x0 - all.x0) / picture.perMm).toBeCloseTo(10, 0)
    // 60 − (30 + 20) = 10 mm from the front edge.
    expect((body.y0 - all.y0) / picture.perMm).toBeCloseTo(10, 0)
  })

  it('hides what stands behind, and only that', () => {
    const high = item('high', part('high', 40, 10, { kind: 'adhesive' }, { height: mm(30), breadboard: bread }))
    const two = problem([deck('d', rect(0, 0, 100, 60))], [high, block(40, 10, 20)])
    const view = (azimuth: number): number => {
      const picture = roundPicture(two, [at(0, 30, 10), at(1, 30, 40)], { ...plain, azimuth, elevation: 0 })
      return extent(picture, solidColours.light.body).count / picture.perMm ** 2
    }
    // From behind the high block hides the low one; from the front the low one is seen whole: 40 × 20 mm less its edges.
    expect(view(270)).toBe(0)
    expect(Math.abs(view(90) - 800)).toBeLessThan(60)
  })

  it('lets what is reserved shine through', () => {
    const ghost = problem([deck('d', rect(0, 0, 100, 60))], [{ ...block(40, 20, 30), stack: mm(25) }])
    const options = { ...plain, azimuth: 270, elevation: 0 }
    const picture = roundPicture(ghost, [at(0, 10, 30)], options)
    const without = roundPicture(ghost, [at(0, 10, 30)], { ...options, without: ['stack'] })
    // 3 mm of deck, 30 of body, 25 of ghost, and 8 mm of room on either side.
    expect(picture.height / picture.perMm).toBeCloseTo(3 + 30 + 25 + 16, 0)
    expect(without.height / without.perMm).toBeCloseTo(3 + 30 + 16, 0)
    const shadeAt = (down: number): Rgb =>
      pixel(picture, Math.round((8 + 10 + 20) * picture.perMm), Math.round((8 + down) * picture.perMm))
    const [ghostly, solid, ground] = [shadeAt(12), shadeAt(25 + 15), rgb(solidColours.light.ground)]
    expect(shade(solid, solidColours.light.body)).toBe(true)
    // A fifth of the same face's colour over the ground.
    for (const k of [0, 1, 2]) expect(Math.abs(ghostly[k]! - (0.8 * ground[k]! + 0.2 * solid[k]!))).toBeLessThan(1.5)
  })

  for (const look of ['light', 'dark'] as const) {
    it(`makes a PNG of a demo, ${look}, the same each time`, () => {
      const { problem: p, placements } = demos()[0]!
      const file = roundPng(p, placements, { width: 300, look })
      const png = PNG.sync.read(Buffer.from(file))
      expect(png.width).toBe(300)
      const picture = roundPicture(p, placements, { width: 300, look })
      expect([png.width, png.height]).toEqual([picture.width, picture.height])
      for (let i = 0; i < png.width * png.height; i++)
        for (let k = 0; k < 3; k++) if (png.data[4 * i + k] !== picture.rgb[3 * i + k]) expect.fail(`pixel ${i}`)
      const ground = rgb(solidColours[look].ground)
      expect(pixel(picture, 0, 0)).toEqual(ground)
      expect(roundPng(p, placements, { width: 300, look })).toEqual(file)
    })
  }

  it('stands an empty layout, any width, and decks of any size', () => {
    for (const size of [1, 10_000]) {
      for (const width of [0, 300, ...(LONG ? [1e9] : [])]) {
        const picture = roundPicture(problem([deck('d', rect(0, 0, size, size))], []), [], { width })
        expect(picture.width * picture.height).toBeLessThan(8_100_000)
        expect(picture.rgb).toHaveLength(picture.width * picture.height * 3)
        expect(Number.isFinite(picture.perMm)).toBe(true)
      }
    }
  })
})

const bread = {
  pitch: mm(2.54),
  blocks: [{ at: { x: mm(2), y: mm(2) }, columns: 2, rows: 2, strip: 'column' as const }],
}
