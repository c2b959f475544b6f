/** Decks on paper, read back by a renderer that is not ours and measured: outline over the seams, holes, bars, words. */
import { describe, expect, it } from 'vitest'
import { mm } from '../../solver/index.ts'
import { cautions } from '../../src/export/cautions.ts'
import { PdfError, pdfPages } from '../../src/export/pdf.ts'
import { colours } from '../../src/export/pdf-ink.ts'
import { papers } from '../../src/export/pdf-paper.ts'
import { tilingOf } from '../../src/export/pdf-tiles.ts'
import { drillTable } from '../../src/export/tables.ts'
import { at, deck, item, part, problem, rect, round, screws } from './decks.ts'
import { type ReadPage, reading } from './pdf-read.ts'
import type { Blob } from './raster.ts'

const board = part('board', 85, 56, screws([3.5, 3.5, 2.7], [61.5, 3.5, 2.7], [3.5, 52.5, 3.4], [61.5, 52.5, 2.7]))
const big = problem(
  [deck('big', rect(0, 0, 400, 300, 20), { openings: [{ id: 'o', shape: round(120, 150, 20), mayCover: false }] })],
  [item('one', board), item('two', board)],
)
const bigPlaces = [at(0, 20, 20), at(1, 250, 200, 1)]
const small = problem([deck('plate', rect(10, 5, 120, 90, 4))], [item('one', board)])
const smallPlaces = [at(0, 20, 15)]

/** Dots per inch for four whole sheets: enough, with the edges' coverage, for a twentieth of a millimetre. */
const SEAM = 150
const isTile = (p: ReadPage): boolean => /: sheet \d+ of \d+, row/.test(p.text)
const left = (b: Blob): number => b.middle.x - b.width / 2
const right = (b: Blob): number => b.middle.x + b.width / 2
const low = (b: Blob): number => b.middle.y - b.height / 2
const high = (b: Blob): number => b.middle.y + b.height / 2

describe('a deck on one sheet', () => {
  it('has outline, holes and their numbers where project and drill table have them', async () => {
    const rows = drillTable(small, smallPlaces, 0)
    await reading(await pdfPages(small, smallPlaces, { parts: ['template'] }), async (pages) => {
      const [tile, ...more] = pages.filter(isTile)
      expect(more).toEqual([])
      const outline = (await tile!.blobs(colours.cut)).sort((a, b) => b.width - a.width)[0]!
      expect(Math.abs(outline.width - 120 - 0.15)).toBeLessThan(0.05)
      expect(Math.abs(outline.height - 90 - 0.15)).toBeLessThan(0.05)
      const crosses = (await tile!.blobs(colours.drill)).filter((b) => b.width > 5)
      expect(crosses.length).toBe(rows.length)
      for (const row of rows) {
        const [x, y] = [outline.middle.x - 70 + row.x, outline.middle.y - 50 + row.y]
        const off = Math.min(...crosses.map((c) => Math.hypot(c.middle.x - x, c.middle.y - y)))
        expect(off, `hole ${row.number}`).toBeLessThan(0.05)
        expect(tile!.text).toContain(`${row.number} ⌀${row.diameter}`)
      }
      const table = pages[0]!.text
      expect(table).toContain('Drill table, 4 holes')
      for (const caution of cautions.slice(0, 3)) expect(table).toContain(caution)
    })
  })

  it('has on every page a bar of 100 mm each way, and says how to print', async () => {
    for (const [paper, width, height] of [
      ['A4', 595.2756, 841.8898],
      ['Letter', 612, 792],
    ] as const) {
      await reading(await pdfPages(small, smallPlaces, { parts: ['template'], paper }), async (pages) => {
        expect(pages.length).toBe(2)
        for (const page of pages) {
          expect(Math.abs(page.width - width)).toBeLessThan(0.01)
          expect(Math.abs(page.height - height)).toBeLessThan(0.01)
          expect(page.text).toContain('Print at 100 %, not fit to page, and measure this bar')
        }
        const black = await pages[1]!.blobs('#000000')
        const bars = black.filter((b) => left(b) < 16 || low(b) < 13)
        const [along, up] = [bars.find((b) => b.width > 50)!, bars.find((b) => b.height > 50)!]
        expect(Math.abs(along.width - 100)).toBeLessThan(0.05)
        expect(Math.abs(up.height - 100)).toBeLessThan(0.05)
      })
    }
  })

  it('draws no outline to cut on a plate that exists', async () => {
    await reading(await pdfPages(small, smallPlaces, { parts: ['template'], asMade: true }), async (pages) => {
      const tile = pages.find(isTile)!
      expect((await tile.blobs(colours.cut)).filter((b) => b.width > 5)).toEqual([])
      const there = (await tile.blobs(colours.existing)).sort((a, b) => b.width - a.width)[0]!
      // with the datum's arm of 4 mm to the left, which is grey enough to count
      expect(Math.abs(there.width - 124)).toBeLessThan(0.3)
      expect(pages[0]!.text).toContain('The plate exists already')
    })
  })
})

describe('a deck over several sheets', () => {
  it('comes together at the registration marks with the outline that the project has', async () => {
    await reading(await pdfPages(big, bigPlaces, { parts: ['template'] }), async (pages) => {
      const tiles = pages.filter(isTile)
      expect(tiles.length).toBe(4)
      tiles.forEach((t, i) => {
        const [row, column] = [Math.floor(i / 2) + 1, (i % 2) + 1]
        expect(t.text).toContain(`deck big: sheet ${i + 1} of 4, row ${row} of 2, column ${column} of 2`)
      })
      const marks = await Promise.all(
        tiles.map(async (t) => (await t.blobs(colours.register, SEAM)).filter((b) => b.width > 5).map((b) => b.middle)),
      )
      const lines = await Promise.all(tiles.map((t) => t.blobs(colours.cut, SEAM)))
      const [wide, tall] = [Math.max(...marks.flat().map((m) => m.x)), Math.max(...marks.flat().map((m) => m.y))]
      // Each sheet's place, as someone lays it who only looks at the marks: 2 beside 1, 3 below 1, 4 below 2.
      const shift = (i: number, k: number, way: 'x' | 'y'): { x: number; y: number } => {
        const far = (p: { x: number; y: number }): boolean => (way === 'x' ? p.x > wide - 4 : p.y < tall / 3)
        const near = (p: { x: number; y: number }): boolean => (way === 'x' ? p.x < 30 : p.y > tall - 4)
        const sort = (ps: { x: number; y: number }[]) => ps.sort((a, b) => (way === 'x' ? a.y - b.y : a.x - b.x))
        const [a, b] = [sort(marks[i]!.filter(far)), sort(marks[k]!.filter(near))]
        expect(a.length, `marks of ${i + 1} for ${k + 1}`).toBe(2)
        expect(b.length, `marks of ${k + 1} for ${i + 1}`).toBe(2)
        const by = a.map((p, n) => ({ x: p.x - b[n]!.x, y: p.y - b[n]!.y }))
        // Both marks fit at once.
        expect(Math.hypot(by[0]!.x - by[1]!.x, by[0]!.y - by[1]!.y)).toBeLessThan(0.05)
        return { x: (by[0]!.x + by[1]!.x) / 2, y: (by[0]!.y + by[1]!.y) / 2 }
      }
      const [right1, down1, down2, right3] = [shift(0, 1, 'x'), shift(0, 2, 'y'), shift(1, 3, 'y'), shift(2, 3, 'x')]
      const fourth = { x: right1.x + down2.x, y: right1.y + down2.y }
      expect(Math.hypot(fourth.x - down1.x - right3.x, fourth.y - down1.y - right3.y)).toBeLessThan(0.05)
      const places = [{ x: 0, y: 0 }, right1, down1, fourth]
      const all = lines.flatMap((blobs, i) =>
        blobs.map((b) => ({
          x0: left(b) + places[i]!.x,
          x1: right(b) + places[i]!.x,
          y0: low(b) + places[i]!.y,
          y1: high(b) + places[i]!.y,
        })),
      )
      const width = Math.max(...all.map((b) => b.x1)) - Math.min(...all.map((b) => b.x0)) - 0.15
      const height = Math.max(...all.map((b) => b.y1)) - Math.min(...all.map((b) => b.y0)) - 0.15
      expect(Math.abs(width - 400)).toBeLessThan(0.1)
      expect(Math.abs(height - 300)).toBeLessThan(0.1)
      expect(pages[0]!.text).toContain('400 mm from left to right and 300 mm from back to front')
    })
  }, 60_000)

  it('lays tiles that cover the drawing, overlap, and turn the paper where that saves sheets', () => {
    const tiling = (w: number, h: number, overlap = 10) =>
      tilingOf(
        { name: 'd', inks: [{ kind: 'contour', contour: square(w, h), fill: '#000000' }], sketch: [], box: box(w, h) },
        papers.A4,
        overlap,
      )
    expect(tiling(170, 230).tiles.length).toBe(1)
    expect(tiling(230, 150).paper.width).toBe(297)
    expect(tiling(230, 150).tiles.length).toBe(1)
    for (const [w, h, overlap] of [
      [400, 300, 10],
      [700, 120, 10],
      [90, 900, 25],
      [612.5, 437.25, 40],
    ] as const) {
      const { tiles, rows, columns, marks } = tiling(w, h, overlap)
      expect(tiles.length).toBe(rows * columns)
      expect(Math.min(...tiles.map((t) => t.shows.x0))).toBeLessThanOrEqual(0)
      expect(Math.max(...tiles.map((t) => t.shows.x1))).toBeGreaterThanOrEqual(w)
      expect(Math.min(...tiles.map((t) => t.shows.y0))).toBeLessThanOrEqual(0)
      expect(Math.max(...tiles.map((t) => t.shows.y1))).toBeGreaterThanOrEqual(h)
      for (const m of marks) {
        const on = tiles.filter(
          ({ shows: s }) => m.x - 3.5 >= s.x0 && m.x + 3.5 <= s.x1 && m.y - 3.5 >= s.y0 && m.y + 3.5 <= s.y1,
        )
        expect(on.length, `mark ${m.name}`).toBe(2)
      }
      expect(marks.length).toBe(2 * (rows * (columns - 1) + columns * (rows - 1)))
    }
  })

  it('refuses a deck of 10 m in words, and an overlap that cannot be', async () => {
    const huge = problem([deck('hall', rect(0, 0, 10_000, 10_000))], [])
    await expect(pdfPages(huge, [], { parts: ['template'] })).rejects.toThrow(PdfError)
    await expect(pdfPages(huge, [], { parts: ['template'] })).rejects.toThrow(
      /deck hall with its marks is 100\d\d × 10000 mm: \d+ sheets .* at most 64/,
    )
    await expect(pdfPages(small, [], { parts: ['template'], overlap: mm(2) })).rejects.toThrow(
      /overlap: found 2 mm, expected 10 to 40 mm/,
    )
  })
})

describe('every file', () => {
  it('is the same bytes each time, also with names that no font has', async () => {
    const names = ['漢字'.repeat(80), 'x'.repeat(3000), '‮rtl\u0000é'.repeat(9), 'a\nb\tc']
    const odd = problem(
      [deck('plate', rect(0, 0, 200, 140), { name: '甲板'.repeat(100), material: 'z'.repeat(500) })],
      names.map((name) => item(name, part(name, 40, 30, screws([5, 5, 3.4])))),
      { name: 'ロボット'.repeat(50) },
    )
    const places = [at(0, 0, 0), at(1, 50, 0), at(2, 100, 0), at(3, 150, 0)]
    const [a, b] = [await pdfPages(odd, places), await pdfPages(odd, places)]
    expect(Buffer.compare(a, b)).toBe(0)
    await reading(a, async (pages) => {
      expect(pages.length).toBeGreaterThan(4)
      expect(pages.map((p) => p.text).join('')).toContain('□□□□')
    })
  })
})

const box = (w: number, h: number) => ({ x0: 0, y0: 0, x1: w, y1: h })
const square = (w: number, h: number) => ({
  kind: 'path' as const,
  points: [
    { x: 0, y: 0, bulge: 0 },
    { x: w, y: 0, bulge: 0 },
    { x: w, y: h, bulge: 0 },
    { x: 0, y: h, bulge: 0 },
  ],
})
