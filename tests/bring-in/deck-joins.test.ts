/** Loose lines to contours, and contours to decks: gaps, doubles, tails, islands, neighbours. Answers known by construction. */
import { describe, expect, it } from 'vitest'
import { shapeToSolver } from '../../footprints/fields.ts'
import { outlineOf } from '../../solver/shapes.ts'
import type { ProjectDeck } from '../../src/model/index.ts'
import { apart, deckApart, LONG, random, randomDeck, refused, taken } from './deck-kit.ts'

const dxf = (entities: readonly string[], units = 4): string =>
  `0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n${units}\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n${entities.join('')}0\nENDSEC\n0\nEOF\n`
const line = (a: number, b: number, c: number, d: number, layer = '0'): string =>
  `0\nLINE\n8\n${layer}\n10\n${a}\n20\n${b}\n11\n${c}\n21\n${d}\n`
const circle = (x: number, y: number, r: number, layer = '0'): string =>
  `0\nCIRCLE\n8\n${layer}\n10\n${x}\n20\n${y}\n40\n${r}\n`
const box = (x: number, y: number, w: number, h: number, layer = '0'): string[] => [
  line(x, y, x + w, y, layer),
  line(x + w, y, x + w, y + h, layer),
  line(x + w, y + h, x, y + h, layer),
  line(x, y + h, x, y, layer),
]

/** A shape as lines and arcs of their own, each shortened by half of `gap` at its ends. */
function loose(shape: ProjectDeck['outline'], gap: number, r: (a: number, b: number) => number): string[] {
  return outlineOf(shapeToSolver(shape)).map((e) => {
    if (!e.arc) {
      const [dx, dy] = [e.x1 - e.x0, e.y1 - e.y0]
      const cut = (gap * 500) / Math.hypot(dx, dy)
      const ends = [
        (e.x0 + cut * dx) / 1000,
        (e.y0 + cut * dy) / 1000,
        (e.x1 - cut * dx) / 1000,
        (e.y1 - cut * dy) / 1000,
      ] as const
      return r(0, 1) < 0.5 ? line(...ends) : line(ends[2], ends[3], ends[0], ends[1])
    }
    const { cx, cy, r: radius, sweep } = e.arc
    const from = Math.atan2(e.y0 - cy, e.x0 - cx)
    const cut = ((gap * 500) / radius) * Math.sign(sweep)
    const [a, b] = [from + cut, from + sweep - cut].map((t) => (t * 180) / Math.PI) as [number, number]
    const [lo, hi] = sweep > 0 ? [a, b] : [b, a]
    return `0\nARC\n8\n0\n10\n${cx / 1000}\n20\n${cy / 1000}\n40\n${radius / 1000}\n50\n${lo}\n51\n${hi}\n`
  })
}

function shuffled<T>(all: readonly T[], r: (a: number, b: number) => number): T[] {
  return all
    .map((v) => ({ v, k: r(0, 1000) }))
    .sort((a, b) => a.k - b.k)
    .map(({ v }) => v)
}

describe('loose lines and arcs', () => {
  it('in any order and direction come to the deck they were taken from', () => {
    for (let seed = 1; seed <= (LONG ? 300 : 12); seed++) {
      const r = random(seed * 7 + 1)
      const deck = randomDeck(seed)
      const shapes = [deck.outline, ...(deck.openings ?? []).map((o) => o.shape)].filter((s) => !('circle' in s))
      const round = (deck.openings ?? []).flatMap((o) => ('circle' in o.shape ? [o.shape.circle] : []))
      if ('circle' in deck.outline) continue
      const parts = shuffled(
        shapes.flatMap((s) => loose(s, 0, r)),
        r,
      )
      const circles = [
        ...(deck.holes ?? []).map((h) => circle(h.at[0], h.at[1], h.diameter / 2)),
        ...round.map((c) => circle(...c)),
      ]
      const got = taken(dxf([...parts, ...circles]), 'loose.dxf', { corner: 'as-drawn' })
      const want: ProjectDeck = {
        ...deck,
        openings: (deck.openings ?? []).filter((o) => !('circle' in o.shape)),
        holes: [
          ...(deck.holes ?? []),
          ...round.map(([x, y, radius], i) => ({ id: `r${i}`, at: [x, y] as [number, number], diameter: 2 * radius })),
        ],
      }
      expect(deckApart(want, got.decks[0]!), `seed ${seed}`).toBeLessThanOrEqual(0.0011)
      expect(got.report.closedGaps).toEqual([])
      expect(got.report.unused).toEqual([])
    }
  })

  it('with gaps up to 0.1 mm are closed, each gap told with its width', () => {
    for (let seed = 3; seed <= (LONG ? 300 : 20); seed += 1) {
      const { outline } = randomDeck(seed)
      if ('circle' in outline) continue
      const r = random(seed)
      const parts = loose(outline, 0.09, r)
      const got = taken(dxf(shuffled(parts, r)), 'gaps.dxf', { corner: 'as-drawn' })
      expect(got.report.closedGaps, `seed ${seed}`).toHaveLength(parts.length)
      for (const g of got.report.closedGaps) {
        expect(g.width).toBeGreaterThan(0.03)
        expect(g.width).toBeLessThanOrEqual(0.1)
      }
      expect(apart(outline, got.decks[0]!.outline), `seed ${seed}`).toBeLessThan(0.1)
      // One hair more, and nothing is closed.
      const no = refused(dxf(shuffled(loose(outline, 0.15, r), r)), 'open.dxf')
      expect(no.unused.length).toBeGreaterThan(0)
      expect(taken(dxf(loose(outline, 0.15, r)), 'open.dxf', { gap: 0.2 }).decks).toHaveLength(1)
    }
  })

  it('that run past their corner meet in it', () => {
    const parts = [
      line(-0.04, 0, 60.04, 0),
      line(60, -0.03, 60, 40.03),
      line(60.02, 40, -0.02, 40),
      line(0, 40.05, 0, -0.05),
    ]
    expect(taken(dxf(parts), 'over.dxf', { corner: 'as-drawn' }).decks[0]!.outline).toEqual({ rect: [0, 0, 60, 40] })
  })

  it('are used once though there twice, and tails are listed', () => {
    const parts = [...box(0, 0, 60, 40), line(60, 40, 60, 0), circle(9, 9, 2), circle(9, 9, 2), line(60, 40, 70, 50)]
    const { decks, report } = taken(dxf(parts), 'twice.dxf')
    expect(decks[0]!.outline).toEqual({ rect: [0, 0, 60, 40] })
    expect(decks[0]!.holes).toHaveLength(1)
    expect(report.twice.map((t) => t.what)).toEqual(['CIRCLE', 'LINE'])
    expect(report.unused).toHaveLength(1)
    expect(report.unused[0]!.why).toBe('an open line from (70, 50) that ends on another at (60, 40)')
  })

  it('without length are left out and counted', () => {
    const { decks, report } = taken(
      dxf([...box(0, 0, 60, 40), line(5, 5, 5, 5), line(60, 40, 60.0004, 40)]),
      'tiny.dxf',
    )
    expect(decks[0]!.outline).toEqual({ rect: [0, 0, 60, 40] })
    expect(report.tiny).toBe(2)
  })
})

describe('nesting', () => {
  it('tells outlines, openings, holes and what falls out, to any depth', () => {
    for (let seed = 1; seed <= (LONG ? 200 : 10); seed++) {
      const r = random(seed)
      const counts = [0, 0, 0]
      const parts: string[] = []
      const fill = (x: number, y: number, s: number, depth: number): void => {
        const k = Math.min(depth, 2)
        counts[k] = counts[k]! + 1
        const kind = depth === 0 ? 0 : r(0, 1)
        if (kind < 0.6) parts.push(...box(x, y, s, s))
        else parts.push(circle(x + s / 2, y + s / 2, s / 2))
        const inner = kind < 0.6 ? s - 2 : s * 0.7
        if (depth > 3 || inner < 6) return
        const [u, v] = [x + (s - inner) / 2, y + (s - inner) / 2]
        const half = inner / 2
        for (const [i, j] of [
          [0, 0],
          [1, 0],
          [0, 1],
          [1, 1],
        ] as const) {
          if (r(0, 1) < 0.6) fill(u + i * half + 0.5, v + j * half + 0.5, half - 1, depth + 1)
        }
      }
      const many = 1 + (seed % 3)
      for (let i = 0; i < many; i++) fill(i * 150, r(-20, 20), 140, 0)
      const got = taken(dxf(shuffled(parts, r)), 'nest.dxf')
      expect(got.decks).toHaveLength(many)
      const inside = got.decks.reduce((n, d) => n + (d.openings?.length ?? 0) + (d.holes?.length ?? 0), 0)
      expect(inside, `seed ${seed}`).toBe(counts[1])
      expect(got.report.unused, `seed ${seed}`).toHaveLength(counts[2]!)
    }
  })

  it('numbers several outlines from left to right, and gives one where asked', () => {
    const parts = [...box(100, 0, 50, 30), circle(110, 10, 2), ...box(0, 5, 60, 40), circle(10, 15, 3)]
    const all = taken(dxf(parts), 'two.dxf', { id: 'level' })
    expect(all.decks.map((d) => [d.id, d.outline, d.holes![0]!.at])).toEqual([
      ['level-1', { rect: [0, 0, 60, 40] }, [10, 10]],
      ['level-2', { rect: [0, 0, 50, 30] }, [10, 10]],
    ])
    const one = taken(dxf(parts), 'two.dxf', { id: 'level', outline: 2 })
    expect(one.decks.map((d) => d.id)).toEqual(['level'])
    expect(one.report.unused).toHaveLength(1)
    expect(refused(dxf(parts), 'two.dxf', { outline: 3 }).problems[0]!.path).toBe('outline')
  })

  it('takes the layers that are asked for, and tells what it left', () => {
    const parts = [...box(-10, -10, 100, 80, 'frame'), ...box(0, 0, 60, 40, 'Plate'), circle(9, 9, 2, 'bores')]
    const got = taken(dxf(parts), 'layers.dxf', { layers: ['plate', 'BORES'] })
    expect(got.decks[0]).toMatchObject({ outline: { rect: [0, 0, 60, 40] }, holes: [{ at: [9, 9], diameter: 4 }] })
    expect(got.report.unused).toEqual([
      { what: '4 things on frame', where: 'from line 16', why: 'other layers were asked for' },
    ])
    expect(refused(dxf(parts), 'layers.dxf', { layers: ['plates'] }).problems[0]!.expected).toContain(
      'did you mean "Plate"',
    )
  })

  it('takes a layer that is asked for and has nothing on it: the others hold all there is', () => {
    const drawing = { outline: { rect: [0, 0, 60, 40] }, holes: [{ at: [9, 9], diameter: 4 }] }
    const layers = ['plate', 'bores', 'existing']
    const table = ['Plate', 'bores', 'Existing'].map((l) => `0\nLAYER\n2\n${l}\n70\n0\n62\n7\n`).join('')
    const parts = dxf([...box(0, 0, 60, 40, 'Plate'), circle(9, 9, 2, 'bores'), line(0, 0, 9, 9, 'rest')])
    const ruled = parts.replace('0\nSECTION\n2\nENT', `0\nSECTION\n2\nTABLES\n${table}0\nENDSEC\n0\nSECTION\n2\nENT`)
    expect(taken(ruled, 'l.dxf', { layers }).decks[0]).toMatchObject(drawing)
    const groups = '<g id="plate"><rect width="60" height="40"/></g><g id="bores"><circle cx="9" cy="31" r="2"/></g>'
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40">${groups}<g id="existing"></g></svg>`
    expect(taken(svg, 'l.svg', { layers }).decks[0]).toMatchObject(drawing)
    for (const [file, text] of [['l.dxf', ruled] as const, ['l.svg', svg] as const]) {
      expect(refused(text, file, { layers: ['existing'] }).problems[0]!.found).toMatch(/^nothing to cut/)
      expect(refused(text, file, { layers: ['existence'] }).problems[0]!.expected).toMatch(/did you mean "[Ee]xisting"/)
    }
  })

  it('makes large circles openings where a size is given', () => {
    const parts = [...box(0, 0, 60, 40), circle(10, 10, 1.6), circle(40, 20, 10)]
    const got = taken(dxf(parts), 'holes.dxf', { holesUpTo: 12 }).decks[0]!
    expect(got.holes).toHaveLength(1)
    expect(got.openings).toEqual([{ id: 'opening-1', shape: { circle: [40, 20, 10] } }])
  })

  it('reads inches, and believes whoever says otherwise', () => {
    const inch = dxf([...box(0, 0, 2, 1)], 1)
    expect(taken(inch, 'i.dxf').decks[0]!.outline).toEqual({ rect: [0, 0, 50.8, 25.4] })
    const told = taken(inch, 'i.dxf', { unit: 'cm' })
    expect(told.decks[0]!.outline).toEqual({ rect: [0, 0, 20, 10] })
    expect(told.report.unit).toMatchObject({ from: 'options', fileSays: '1 unit = 25.4 mm (in)' })
  })
})
