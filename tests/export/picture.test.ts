/** The plan's picture: its SVG drawn by another renderer, its PNG read by another reader, and measured. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { Resvg } from '@resvg/resvg-js'
import { PNG } from 'pngjs'
import { describe, expect, it } from 'vitest'
import { figures, layoutOf, mm, type Pass, type Wire } from '../../solver/index.ts'
import { planPicture, planPng } from '../../src/export/picture.ts'
import { planColours, rgb, solidColours } from '../../src/export/picture-colours.ts'
import { hatched } from '../../src/export/picture-marks.ts'
import { rasterised } from '../../src/export/picture-raster.ts'
import { dashed } from '../../src/model/dashed.ts'
import { type Stroke, wireRoutes } from '../../src/model/index.ts'
import { at, deck, item, part, problem, pt, rect, round } from './decks.ts'
import { demos } from './picture-demos.ts'
import { planSvg } from './picture-svg.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'
const bench = problem([deck('d', rect(0, 0, 100, 60))], [item('block', part('block', 20, 10, { kind: 'adhesive' }))])

/** First and last column and row in which a colour stands, pixels. */
function extent(png: PNG, hex: string): { x0: number; x1: number; y0: number; y1: number } {
  const [r, g, b] = rgb(hex)
  const box = { x0: Infinity, x1: -Infinity, y0: Infinity, y1: -Infinity }
  for (let y = 0; y < png.height; y++)
    for (let x = 0; x < png.width; x++) {
      const i = 4 * (y * png.width + x)
      if (png.data[i] !== r || png.data[i + 1] !== g || png.data[i + 2] !== b) continue
      box.x0 = Math.min(box.x0, x)
      box.x1 = Math.max(box.x1, x)
      box.y0 = Math.min(box.y0, y)
      box.y1 = Math.max(box.y1, y)
    }
  return box
}

describe('the plan as pixels', () => {
  it('is to scale, and says so', () => {
    const file = planPng(bench, [at(0, 40, 20)], { perMm: 10 })
    const png = PNG.sync.read(Buffer.from(file))
    const found = extent(png, planColours.light.deckFill)
    // The deck's rim, 0.24 mm wide (0.4 × unit 0.6), covers half its width of the fill on either side.
    expect(Math.abs(found.x1 + 1 - found.x0 - (1000 - 2.4))).toBeLessThanOrEqual(2)
    expect(Math.abs(found.y1 + 1 - found.y0 - (600 - 2.4))).toBeLessThanOrEqual(2)
    const picture = planPicture(bench, [at(0, 40, 20)])
    expect([png.width, png.height]).toEqual([Math.round(picture.width * 10), Math.round(picture.height * 10)])
    // W3C PNG: a pHYs chunk of 9 bytes, pixels to the metre both ways, unit 1 = metre.
    const bytes = Buffer.from(file)
    const chunk = bytes.indexOf('pHYs')
    expect([bytes.readUInt32BE(chunk + 4), bytes.readUInt32BE(chunk + 8), bytes[chunk + 12]]).toEqual([
      10_000, 10_000, 1,
    ])
    expect(chunk).toBeLessThan(bytes.indexOf('IDAT'))
  })

  it('has a scale bar of the length that it names', () => {
    const svg = planSvg(bench, [])
    const label = /<title>scale bar, (\d+) mm<\/title>/.exec(svg)
    const picture = planPicture(bench, [])
    const only = { ...picture, groups: picture.groups.filter((g) => g.title?.startsWith('scale bar')) }
    const bar = { ...only, groups: only.groups.map((g) => ({ ...g, marks: g.marks.slice(0, 1) })) }
    const { width, rgb: pixels } = rasterised(bar, 12)
    const dark: number[] = []
    for (let i = 0; i < pixels.length; i += 3) if (pixels[i]! < 128) dark.push((i / 3) % width)
    const length = (dark.reduce((a, b) => Math.max(a, b)) + 1 - dark.reduce((a, b) => Math.min(a, b))) / 12
    // Round ends add half a stroke (0.18 mm) each.
    expect(Math.abs(length - 0.18 - Number(label![1]))).toBeLessThan(0.09)
  })

  it('looks in pixels as the SVG does in another renderer', () => {
    for (const { name, problem: p, placements } of demos().filter((d) => /no-arm|beside/.test(d.name))) {
      const perMm = LONG ? 4 : 3
      const picture = planPicture(p, placements, { look: name.includes('beside') ? 'dark' : 'light' })
      const mine = rasterised(picture, perMm)
      const svg = planSvg(p, placements, { look: name.includes('beside') ? 'dark' : 'light' })
      const theirs = new Resvg(svg, { dpi: perMm * 25.4, font: { loadSystemFonts: false } }).render()
      expect(Math.abs(theirs.width - mine.width) + Math.abs(theirs.height - mine.height)).toBeLessThanOrEqual(2)
      // The getter makes a copy each time.
      const pixels = theirs.pixels
      let far = 0
      let total = 0
      const [w, h] = [Math.min(mine.width, theirs.width), Math.min(mine.height, theirs.height)]
      for (let y = 0; y < h; y++)
        for (let x = 0; x < w; x++) {
          let most = 0
          for (let k = 0; k < 3; k++) {
            const d = Math.abs(mine.rgb[3 * (y * mine.width + x) + k]! - pixels[4 * (y * theirs.width + x) + k]!)
            most = Math.max(most, d)
          }
          total += most
          if (most > 64) far++
        }
      expect(total / (w * h), `${name}: mean difference of 255`).toBeLessThan(2)
      expect(far / (w * h), `${name}: pixels that differ plainly`).toBeLessThan(0.002)
    }
  })
})

describe('the plan as SVG', () => {
  for (const { name, problem: p, placements } of demos()) {
    it(`${name}: every item, corridor, zone, wire and free contact`, () => {
      const svg = planSvg(p, placements)
      const titles = [...svg.matchAll(/<g><title>([^<]*)<\/title>/g)].map((m) => m[1]!)
      for (const q of placements) {
        const { id, footprint } = p.items[q.item]!
        expect(
          titles.filter((t) => t.startsWith(`${id}: `)),
          id,
        ).toHaveLength(1)
        for (const c of footprint.corridors)
          expect(titles.filter((t) => t.startsWith(`corridor ${c.id} of ${id}`))).toHaveLength(1)
      }
      for (const z of p.zones)
        expect(
          titles.some((t) => t.includes(`: ${z.id}`)),
          z.id,
        ).toBe(true)
      const dots = [...svg.matchAll(/<path [^>]*stroke="#00805d"[^>]* d="([^"]*)"/g)].flatMap((m) => [
        ...m[1]!.matchAll(/h0/g),
      ])
      // Six more stand in the key.
      expect(dots.length - 6).toBe(figures(p, placements).freeTiePoints)
    })
  }

  it('draws one deck alone, and refuses one that is not there', () => {
    const { problem: p, placements } = demos()[0]!
    const svg = planSvg(p, placements, { deck: 1 })
    expect(svg).toContain('<title>upper deck')
    expect(svg).not.toContain('<title>lower deck')
    expect(() => planSvg(p, placements, { deck: 2 })).toThrow('deck: found 2, expected 0 to 1')
  })

  it('stands any id, and any size of deck', () => {
    const ids = ['皿<&>"', '\u0000\ud800', 'x'.repeat(400), '🤖', ' ']
    const p = problem(
      [deck('d', rect(0, 0, 100, 60))],
      ids.map((id) => item(id, part(id, 10, 10, { kind: 'adhesive' }))),
    )
    const placements = ids.map((_, i) => at(i, 15 * i, 10))
    const svg = planSvg(p, placements)
    expect(() => new Resvg(svg).render()).not.toThrow()
    expect(svg).not.toContain('NaN')
    for (const [size, perMm] of [
      [2, 8],
      [10_000, LONG ? 8 : 0.05],
    ] as const) {
      const file = planPng(problem([deck('d', rect(0, 0, size, size / 2))], []), [], { perMm })
      const png = PNG.sync.read(Buffer.from(file))
      expect(png.width * png.height).toBeLessThan(8_100_000)
      expect(extent(png, planColours.light.deckFill).x1).toBeGreaterThan(0)
    }
  })
})

describe('hatches and dashes', () => {
  it('cover what they should', () => {
    // Lines 2 mm apart over 40 × 30 mm with a hole of 10 × 10: their length is area ÷ step, give or take a line.
    const ring = (x: number, y: number, w: number, h: number) =>
      [
        [x, y],
        [x + w, y],
        [x + w, y + h],
        [x, y + h],
      ] as [number, number][]
    const long = (all: readonly (readonly (readonly [number, number])[])[]) =>
      all.reduce((s, l) => s + l.slice(1).reduce((t, b, i) => t + Math.hypot(b[0] - l[i]![0], b[1] - l[i]![1]), 0), 0)
    for (const angle of [0, 45, 90, -45]) {
      const lines = hatched([ring(0.5, 0.5, 40, 30), ring(10.5, 10.5, 10, 10)], angle, 2)
      expect(Math.abs(long(lines) - 1100 / 2), `${angle}`).toBeLessThan(25)
      for (const [a, b] of lines) {
        const [x, y] = [(a![0] + b![0]) / 2, (a![1] + b![1]) / 2]
        expect(x > 10.5001 && x < 20.4999 && y > 10.5001 && y < 20.4999, `${angle}: ${x} ${y} in the hole`).toBe(false)
      }
    }
    const pieces = dashed<readonly [number, number]>([...ring(0, 0, 30, 10), [0, 0]], 3, 1)
    expect(long(pieces)).toBeCloseTo(60, 6)
    expect(pieces).toHaveLength(20)
  })
})

describe('wires in pictures', () => {
  const length = (strokes: readonly Stroke[]): number =>
    strokes
      .flatMap(({ points }) =>
        points.slice(1).map((b, i) => Math.abs(b.x - points[i]!.x) + Math.abs(b.y - points[i]!.y)),
      )
      .reduce((s, l) => s + l, 0)

  it('are as long as the rules say, whatever passes they take', () => {
    let seed = 7
    const random = (n: number): number => {
      seed = (seed * 1_103_515_245 + 12_345) % 2_147_483_648
      return Math.floor((seed / 2_147_483_648) * n)
    }
    let joined = 0
    for (let run = 0; run < 60; run++) {
      const decks = [0, 1, 2].map((k) => deck(`d${k}`, rect(0, 0, 200, 100), { z: mm(40 + 30 * k) }))
      const passes = Array.from({ length: random(6) }, (_, i): Pass => {
        const from = random(3)
        return { id: `p${i}`, decks: [from, (from + 1 + random(2)) % 3], at: pt(random(200), random(100)) }
      })
      const exits = [0, 1].map((i) => ({ id: `e${i}`, deck: random(3), at: pt(random(200), random(100)) }))
      const wire: Wire = {
        id: 'w',
        from: { kind: 'exit', exit: 0 },
        to: { kind: 'exit', exit: 1 },
        loop: mm(0),
        conductors: 1,
      }
      const p = problem(decks, [], { passes, exits, wires: [wire] })
      const measured = figures(p, []).wires[0]
      const route = wireRoutes(layoutOf(p, []))[0]
      if (!measured || !Number.isFinite(measured.length)) {
        expect(route).toBeUndefined()
        continue
      }
      joined++
      const rise = Math.abs(decks[exits[0]!.deck]!.z - decks[exits[1]!.deck]!.z)
      expect(length(route!.strokes) + rise).toBe(measured.length)
      route!.strokes.slice(1).forEach((b, i) => {
        const a = route!.strokes[i]!
        expect(a.deck).not.toBe(b.deck)
        expect(a.points.at(-1)).toEqual(b.points[0])
      })
    }
    expect(joined).toBeGreaterThan(20)
  })

  for (const { name, problem: p, placements } of demos()) {
    it(`${name}: the same length as in the layout`, () => {
      const routes = new Map(wireRoutes(layoutOf(p, placements)).map((r) => [r.wire, r]))
      for (const w of figures(p, placements).wires) {
        const { from, to, strokes } = routes.get(w.wire)!
        const rise = Math.abs(p.decks[from.deck]!.z - p.decks[to.deck]!.z)
        expect(length(strokes) + rise).toBe(w.length)
      }
    })
  }
})

describe('colours', () => {
  it('are the page’s own', () => {
    const css = readFileSync(join(import.meta.dirname, '../../src/look.css'), 'utf8')
    const [light, dark] = css.split('@media (prefers-color-scheme: dark)') as [string, string]
    const value = (name: string, look: 'light' | 'dark'): string | undefined => {
      const found = (text: string) => new RegExp(`--${name}: (#[0-9a-f]{6})`).exec(text)?.[1]
      return (look === 'dark' ? found(dark) : undefined) ?? found(light)
    }
    const names = { paper: 'sheet' } as Record<string, string>
    for (const look of ['light', 'dark'] as const) {
      for (const [role, colour] of Object.entries(planColours[look])) {
        const name = names[role] ?? role.replace(/[A-Z]/g, (c) => `-${c.toLowerCase()}`)
        expect(colour, `${role}, ${look}`).toBe(value(name, look))
      }
      for (const [role, colour] of Object.entries(solidColours[look])) {
        expect(colour, `${role}, ${look}`).toBe(value(role === 'wire' ? 'wire' : `solid-${role}`, look))
      }
    }
  })
})

// A disc and a square of one colour and known size count as many pixels as their area.
describe('the rasteriser', () => {
  it('fills areas to a hundredth', () => {
    const p = problem([deck('d', round(50, 50, 40), { openings: [] })], [])
    const picture = planPicture(p, [])
    const mark = picture.groups.flatMap((g) => g.marks).find((m) => m.colour === planColours.light.deckFill)!
    const { rgb: pixels } = rasterised(
      { ...picture, paper: '#000000', groups: [{ marks: [{ ...mark, colour: '#ffffff' }] }] },
      5,
    )
    let sum = 0
    for (let i = 0; i < pixels.length; i += 3) sum += pixels[i]! / 255
    expect(sum / 25 / (Math.PI * 1600)).toBeCloseTo(1, 2)
  })
})
