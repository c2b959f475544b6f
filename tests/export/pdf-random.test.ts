/** Whatever legal or odd project comes in, a PDF that can be read comes out, or a refusal in words. */

import { describe, expect, it } from 'vitest'
import { type Mount, mm, type Placement, type Shape, type Turn } from '../../solver/index.ts'
import { PdfError, pdfPages } from '../../src/export/pdf.ts'
import fc from '../seeded.ts'
import { deck, item, part, problem, pt, rect, round, screws } from './decks.ts'
import { reading } from './pdf-read.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'

const size = fc.double({ min: 0.001, max: 400, noNaN: true })
const where = fc.double({ min: -500, max: 500, noNaN: true })
const text = fc.oneof(fc.string({ unit: 'binary', maxLength: 40 }), fc.string({ unit: 'grapheme', maxLength: 200 }))

const shape: fc.Arbitrary<Shape> = fc.oneof(
  fc.tuple(where, where, size, size, size).map(([x, y, w, h, r]) => rect(x, y, w, h, r)),
  fc.tuple(where, where, size).map(([x, y, r]) => round(x, y, r)),
  fc
    .tuple(
      where,
      where,
      size,
      fc.double({ min: -180, max: 180, noNaN: true }),
      fc.double({ min: 1, max: 360, noNaN: true }),
    )
    .map(
      ([x, y, r, from, sweep]): Shape => ({ kind: 'sector', cx: mm(x), cy: mm(y), r: mm(r), from, to: from + sweep }),
    ),
  fc.tuple(where, where, size, size, fc.double({ min: -2, max: 2, noNaN: true })).map(
    ([x, y, w, h, bulge]): Shape => ({
      kind: 'polygon',
      points: [
        { ...pt(x, y), bulge },
        { ...pt(x + w + 1, y), bulge: 0 },
        { ...pt(x, y + h + 1), bulge: 0 },
      ],
    }),
  ),
)

const mount: fc.Arbitrary<Mount> = fc.oneof(
  fc.constant<Mount>({ kind: 'adhesive' }),
  fc.array(fc.tuple(where, where, size), { maxLength: 4 }).map((holes) => screws(...holes)),
  fc
    .tuple(where, where, size, size)
    .map(([x, y, w, h]): Mount => ({ kind: 'strap', slots: [{ x: mm(x), y: mm(y), w: mm(w), h: mm(h) }] })),
)

const robot = fc
  .record({
    outlines: fc.array(shape, { minLength: 1, maxLength: 2 }),
    opening: shape,
    parts: fc.array(
      fc.record({
        w: size,
        d: size,
        mount,
        corridor: shape,
        name: text,
        x: where,
        y: where,
        turn: fc.constantFrom<Turn>(0, 1, 2, 3),
        later: fc.boolean(),
      }),
      { maxLength: 4 },
    ),
    name: text,
    paper: fc.constantFrom('A4' as const, 'Letter' as const),
    asMade: fc.boolean(),
  })
  .map(({ outlines, opening, parts, name, paper, asMade }) => ({
    problem: problem(
      outlines.map((o, i) =>
        deck(`d${i}`, o, { openings: [{ id: 'o', shape: opening, mayCover: false }], name, z: mm(90 - 40 * i) }),
      ),
      parts.map((p, i) =>
        item(
          `${p.name}${i}`,
          part(`${p.name}${i}`, p.w, p.d, p.mount, {
            corridors: [{ id: 'c', shape: p.corridor, z: [mm(0), mm(1)], why: name }],
          }),
          {
            later: p.later,
          },
        ),
      ),
      { name },
    ),
    placements: parts.map(
      (p, i): Placement => ({ item: i, deck: i % outlines.length, at: pt(p.x, p.y), turn: p.turn }),
    ),
    paper,
    asMade,
  }))

describe('random projects', () => {
  it('become a PDF that another program can read, the same each time', async () => {
    let printed = 0
    await fc.assert(
      fc.asyncProperty(robot, async (r) => {
        const print = () => pdfPages(r.problem, r.placements, { paper: r.paper, asMade: r.asMade })
        let bytes: Uint8Array
        try {
          bytes = await print()
        } catch (error) {
          // Far-flung bodies make large drawings; the refusal must be ours.
          expect(error).toBeInstanceOf(PdfError)
          return
        }
        printed++
        expect(Buffer.compare(bytes, await print())).toBe(0)
        await reading(bytes, async (pages) => {
          for (const p of pages) expect(p.text).toContain('Print at 100 %')
        })
      }),
      { numRuns: LONG ? 60 : 5, seed: 7 },
    )
    expect(printed).toBeGreaterThan(LONG ? 3 : 2)
  })

  it('take a bulge next to nothing for a straight side, instead of looking for an arc of endless radius', async () => {
    const points = [
      { ...pt(0, 0), bulge: -5e-219 },
      { ...pt(126.817, 0), bulge: 0 },
      { ...pt(0, 41.758), bulge: 1e-12 },
    ]
    const openings = [{ id: 'o', shape: round(0, 0, 0.001), mayCover: false }]
    const flat = problem([deck('d', { kind: 'polygon', points }, { openings })], [])
    await reading(await pdfPages(flat, [], { parts: ['template'] }), async (pages) => {
      const outline = (await pages[1]!.blobs('#d55e00')).sort((a, b) => b.width - a.width)[0]!
      expect(Math.abs(outline.width - 126.817 - 0.15)).toBeLessThan(0.05)
    })
  })
})
