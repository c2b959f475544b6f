import { describe, expect, it } from 'vitest'
import { mm } from '../../solver/index.ts'
import { cautions, OffsetError, svg, template } from '../../src/export/index.ts'
import { at, deck, item, part, problem, pt, rect, round } from './decks.ts'
import { blobs, only, raster, two } from './raster.ts'
import { board, full, placements } from './workshop.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'
const GROUPS = ['cut', 'drill', 'existing', 'mark', 'notes']

const content = (text: string, id: string): string =>
  new RegExp(`<g id="${id}"[^>]*>([\\s\\S]*?)\\n {2}</g>`).exec(text)![1]!

const contours = (text: string, id: string): string[] => content(text, id).match(/<(path|circle)[^>]*>/g) ?? []

const circles = (text: string, id: string): { cx: number; cy: number; r: number }[] =>
  [...content(text, id).matchAll(/<circle cx="([\d.-]+)" cy="([\d.-]+)" r="([\d.-]+)"/g)].map((m) => ({
    cx: Number(m[1]),
    cy: Number(m[2]),
    r: Number(m[3]),
  }))

/** Contract §1: (u,v), (d−v,u), (w−u,d−v), (v,w−u) for a 30 × 20 body, written out here again. */
function holesOf(turn: number, x: number, y: number): [number, number][] {
  return (
    [
      [3, 3],
      [27, 4],
      [15, 17],
    ] as [number, number][]
  ).map(([u, v]) => {
    const turned = [
      [u, v],
      [20 - v, u],
      [30 - u, 20 - v],
      [v, 30 - u],
    ][turn]!
    return [x + turned[0]!, y + turned[1]!]
  })
}

describe('the template of a deck', () => {
  const text = svg(template(full, placements, 0))

  it('has width and height in mm equal to the viewBox, and five groups', () => {
    const [, w, h, box] = /width="(\d+)mm" height="(\d+)mm" viewBox="([^"]+)"/.exec(text)!
    expect(box).toBe(`0 0 ${w} ${h}`)
    expect([...text.matchAll(/<g id="(\w+)"/g)].map((m) => m[1])).toEqual(GROUPS)
  })

  it('puts each thing into its group, once', () => {
    // Outline, two openings, exit and pass with a diameter, two slots, one new cut-out; "old" reuses the bay.
    expect(contours(text, 'cut')).toHaveLength(8)
    // Two boards of three holes; one of them lies on the existing hole "near".
    expect(circles(text, 'drill')).toHaveLength(5)
    expect(contours(text, 'existing')).toHaveLength(2)
    expect(contours(text, 'mark')).toHaveLength(8 + 1 + 2)
    const all = ['cut', 'drill', 'existing'].flatMap((id) => contours(text, id))
    expect(new Set(all).size).toBe(all.length)
  })

  it('has no text, fill or transform in cut and drill, and no fill in mark', () => {
    for (const id of ['cut', 'drill']) expect(content(text, id)).not.toMatch(/<text|fill|transform|stroke-dash/)
    expect(content(text, 'mark')).not.toMatch(/<text|fill/)
    expect(text).not.toContain('transform')
  })

  it('closes every contour of the cut', () => {
    for (const c of contours(text, 'cut')) expect(c).toMatch(/^<circle|Z"\/>$/)
    expect(contours(text, 'cut').filter((c) => c.startsWith('<circle'))).toHaveLength(3)
  })

  it('says what has to be said', () => {
    const notes = content(text, 'notes')
      .replace(/<[^>]*>/g, ' ')
      .replace(/\s+/g, ' ')
    for (const words of ['100 mm', '100 %', 'not fit to page', 'Datum', 'Kerf: none', ...cautions]) {
      expect(notes).toContain(words)
    }
    expect(notes).toContain('3 × 3.2 mm, 2 × 2.7 mm')
  })

  it('moves the plate to what exists with --as-made, and leaves the new cuts', () => {
    const made = svg(template(full, placements, 0, { asMade: true }))
    expect(contours(made, 'cut')).toHaveLength(3)
    expect(contours(made, 'existing')).toHaveLength(2 + 5)
    expect(circles(made, 'drill')).toHaveLength(5)
    expect(made).toContain('plate exists')
  })

  it('takes pens as settings', () => {
    const pen = svg(template(full, placements, 0), { cut: { colour: '#ff0000', width: 0.01 } })
    expect(pen).toContain('<g id="cut" stroke="#ff0000" stroke-width="0.01">')
  })

  it('keeps names with markup in them harmless', () => {
    const odd = { ...full, name: '<b>&"', variant: 'a\u0001b' }
    const said = svg(template(odd, placements, 0))
    expect(said).toContain('&lt;b&gt;&amp;&quot;')
    expect(said).not.toContain('\u0001')
    expect(() => raster(said, 20)).not.toThrow()
  })
})

describe('kerf', () => {
  it('goes to the cut alone: outline out, all else in', () => {
    const square = problem(
      [deck('d', rect(0, 0, 40, 40), { openings: [{ id: 'o', shape: round(20, 20, 1.7), mayCover: false }] })],
      [item('b', board)],
    )
    const here = [at(0, 5, 5)]
    const plain = svg(template(square, here, 0))
    const cut = svg(template(square, here, 0, { kerf: mm(0.2) }))
    expect(content(cut, 'drill').replaceAll(/c[xy]="[^"]*"/g, '')).toBe(
      content(plain, 'drill').replaceAll(/c[xy]="[^"]*"/g, ''),
    )
    const d = /<path d="([^"]+)"/.exec(content(cut, 'cut'))![1]!
    const xs = [...d.matchAll(/[ML] ([\d.]+) ([\d.]+)/g)].map((m) => Number(m[1]))
    expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(40.2, 6)
    expect(circles(cut, 'cut')[0]!.r * 2).toBeCloseTo(3.2, 6)
    expect(cut).toContain('Kerf 0.2 mm (full width)')
  })

  it('names the contour that it would close', () => {
    const slit = problem(
      [deck('d', rect(0, 0, 40, 40), { openings: [{ id: 'slit', shape: rect(5, 5, 20, 0.3), mayCover: false }] })],
      [],
    )
    expect(() => template(slit, [], 0, { kerf: mm(0.4) })).toThrow(/opening slit of deck d/)
    expect(() => template(slit, [], 0, { kerf: mm(0.4) })).toThrow(OffsetError)
  })
})

describe('measured on the drawn page', () => {
  for (const turn of [0, 1, 2, 3] as const) {
    it(`holes stand within 0.05 mm of where they belong, turn ${turn}`, () => {
      const plate = problem([deck('d', rect(-7.5, 3.25, 70, 60))], [item('b', board)])
      const text = svg(template(plate, [at(0, 11, 13, turn)], 0))
      const [lines, holes] = two(text, 'cut', 'drill', LONG ? 400 : 300)
      const outline = blobs(lines)
      expect(outline).toHaveLength(1)
      const [o] = outline
      // Ink to ink is the size plus one stroke of 0.1 mm; the middle of the ring is the rectangle's centre.
      expect(Math.abs(o!.width - 70.1)).toBeLessThan(0.05)
      expect(Math.abs(o!.height - 60.1)).toBeLessThan(0.05)
      const found = blobs(holes)
      expect(found).toHaveLength(3)
      for (const [x, y] of holesOf(turn, 11, 13)) {
        const [dx, dy] = [x - (-7.5 + 35), y - (3.25 + 30)]
        const near = Math.min(...found.map((f) => Math.hypot(f.x - o!.middle.x - dx, f.y - o!.middle.y - dy)))
        expect(near).toBeLessThan(0.05)
      }
      const sizes = found.map((f) => f.width).sort((a, b) => a - b)
      for (const [i, d] of [2.7, 3.2, 3.2].entries()) expect(Math.abs(sizes[i]! - d - 0.1)).toBeLessThan(0.05)
    })
  }

  it('draws a scale bar of the length it states', () => {
    const [wide] = blobs(
      raster(only(svg(template(full, placements, 0)), 'notes').replace(/<text[\s\S]*?<\/text>/g, '')),
    ).sort((a, b) => b.width - a.width)
    expect(Math.abs(wide!.width - 100.2)).toBeLessThan(0.05)
    const small = problem([deck('d', rect(0, 0, 30, 30))], [])
    const text = svg(template(small, [], 0))
    expect(text).toContain('>50 mm<')
    const [bar] = blobs(raster(only(text, 'notes').replace(/<text[\s\S]*?<\/text>/g, ''))).sort(
      (a, b) => b.width - a.width,
    )
    expect(Math.abs(bar!.width - 50.2)).toBeLessThan(0.05)
  })

  it('clips nothing: outlines, overhanging bodies and words all lie on the page', () => {
    const over = problem([deck('d', rect(0, 0, 40, 30))], [item('big', part('big', 60, 50, { kind: 'adhesive' }))])
    const t = template(over, [at(0, -15, -12)], 0)
    for (const text of t.notes.texts) {
      expect(text.x).toBeGreaterThanOrEqual(t.view.x0)
      expect(text.y - text.size * 0.3).toBeGreaterThanOrEqual(t.view.y0)
      expect(text.x + 0.6 * text.size * text.text.length).toBeLessThanOrEqual(t.view.x1)
      expect(text.y + text.size).toBeLessThanOrEqual(t.view.y1)
    }
    const drawn = raster(svg(t), 200)
    const edge = (i: number): number => drawn.ink[i]!
    for (let x = 0; x < drawn.width; x++) expect(edge(x) + edge((drawn.height - 1) * drawn.width + x)).toBe(0)
    for (let y = 0; y < drawn.height; y++) expect(edge(y * drawn.width) + edge((y + 1) * drawn.width - 1)).toBe(0)
  })

  const n = LONG ? 200_000 : 60_000
  it(`draws an outline of ${n} corners`, () => {
    const points = Array.from({ length: n }, (_, i) => {
      const a = (2 * Math.PI * i) / n
      return { ...pt(5000 * Math.cos(a), 5000 * Math.sin(a)), bulge: 0 }
    })
    const t = template(problem([deck('d', { kind: 'polygon', points })], []), [], 0)
    expect(t.view).toMatchObject({ x0: -5012, x1: 5012, y1: 5012 })
  })

  it('draws round corners, circles and arcs as arcs: the area inside is what geometry says', () => {
    const bay = deck('d', {
      kind: 'polygon',
      points: [
        [0, 0, 0],
        [40, 0, 0],
        [40, 30, 0],
        [30, 30, -1],
        [10, 30, 0],
        [0, 30, 0],
      ].map(([x, y, bulge]) => ({ x: mm(x!), y: mm(y!), bulge: bulge! })),
    })
    const text = only(svg(template(problem([bay], []), [], 0)), 'cut')
      .replace('stroke="#d55e00"', 'stroke="none"')
      .replace('<path ', '<path fill="#000" ')
    const drawn = raster(text)
    const covered = drawn.ink.reduce((sum, c) => sum + c, 0) / drawn.perMm ** 2
    expect(Math.abs(covered - (40 * 30 - (Math.PI * 100) / 2))).toBeLessThan(0.3)
  })
})
