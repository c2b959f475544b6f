/** The PDF writer alone: what it draws is where it should be, the same each time, and every character leaves something to see. */
import { describe, expect, it } from 'vitest'
import { colours, type Page } from '../../src/export/pdf-ink.ts'
import { bar } from '../../src/export/pdf-paper.ts'
import { arcCurves, openPress, PT } from '../../src/export/pdf-press.ts'
import { shorten, wrapTo } from '../../src/export/pdf-words.ts'
import reference from '../fixtures/reference-values.json'
import { reading } from './pdf-read.ts'

const page = (inks: Page['inks']): Page => ({ width: 210, height: 297, inks })

describe('the press', () => {
  it('makes A4 and Letter pages of the right size in points (ISO 32000-1, 8.3.2: 1 pt = 1/72 in; ISO 216)', async () => {
    expect(PT).toBeCloseTo(1 / 0.3527777778, 8)
    const press = await openPress()
    const bytes = await press.print('sizes', [page([]), { width: 215.9, height: 279.4, inks: [] }])
    await reading(bytes, async ([a4, letter]) => {
      const [width, height] = reference.find((e) => e.id === 'pdf-a4-points')!.value as [number, number]
      expect(a4!.width).toBeCloseTo(width, 2)
      expect(a4!.height).toBeCloseTo(height, 2)
      // Letter is 8.5 × 11 in of 72 pt
      expect(letter!.width).toBeCloseTo(612, 2)
      expect(letter!.height).toBeCloseTo(792, 2)
    })
  })

  it('draws a bar that a renderer finds 100 mm long both ways', async () => {
    const press = await openPress()
    const bytes = await press.print('bars', [page([...bar(60, 40), ...bar(20, 80, true)])])
    await reading(bytes, async ([first]) => {
      const found = await first!.blobs('#000000')
      const along = found.find((b) => b.width > 50)!
      const up = found.find((b) => b.height > 50)!
      expect(Math.abs(along.width - 100)).toBeLessThan(0.05)
      expect(Math.abs(up.height - 100)).toBeLessThan(0.05)
      expect(Math.abs(along.middle.x - 110)).toBeLessThan(0.05)
      expect(Math.abs(up.middle.y - 130)).toBeLessThan(0.05)
    })
  })

  it('puts scaled, turned and clipped groups where they belong', async () => {
    const press = await openPress()
    // A fifth point, because the renderer moves plain rectangles to whole pixels.
    const corners = [
      [10, 0],
      [20, 0],
      [30, 0],
      [30, 5],
      [10, 5],
    ] as const
    const five = { kind: 'path', points: corners.map(([x, y]) => ({ x, y, bulge: 0 })) } as const
    const box = { kind: 'contour', contour: five, fill: colours.ink } as const
    const bytes = await press.print('groups', [
      page([
        { kind: 'group', at: [100, 200], scale: 0.5, inks: [box] },
        { kind: 'group', at: [100, 100], scale: 1, turned: true, inks: [box] },
        { kind: 'group', at: [20, 20], scale: 1, clip: { x0: 10, y0: 0, x1: 18, y1: 9 }, inks: [box] },
      ]),
    ])
    await reading(bytes, async ([first]) => {
      const at = (await first!.blobs('#000000')).map((b) => [b.middle.x, b.middle.y, b.width, b.height])
      const wanted = [
        [110, 201.25, 10, 2.5],
        [97.5, 120, 5, 20],
        [34, 22.5, 8, 5],
      ]
      expect(at.length).toBe(3)
      wanted.forEach((w, i) => {
        w.forEach((v, k) => {
          expect(Math.abs(at[i]![k]! - v), `group ${i}, figure ${k}`).toBeLessThan(0.05)
        })
      })
    })
  })

  it('keeps arcs round to a few parts in ten million, whichever way they run', () => {
    for (const [r, from, sweep] of [
      [1, 0, 2 * Math.PI],
      [500, 1, -4],
      [3, -2, 0.3],
    ] as const) {
      let at = [r * Math.cos(from), r * Math.sin(from)]
      for (const [x1, y1, x2, y2, x3, y3] of arcCurves(0, 0, r, from, sweep)) {
        for (let t = 0; t <= 1; t += 1 / 64) {
          const s = 1 - t
          const on = (a: number, b: number, c: number, d: number): number =>
            s * s * s * a + 3 * s * s * t * b + 3 * s * t * t * c + t * t * t * d
          const radius = Math.hypot(on(at[0]!, x1!, x2!, x3!), on(at[1]!, y1!, y2!, y3!))
          expect(Math.abs(radius / r - 1)).toBeLessThan(4e-7)
        }
        at = [x3!, y3!]
      }
      expect(at[0]).toBeCloseTo(r * Math.cos(from + sweep), 9)
      expect(at[1]).toBeCloseTo(r * Math.sin(from + sweep), 9)
    }
  })

  it('prints the signs of the trade, and a box for what the font lacks', async () => {
    const press = await openPress()
    const words = '⌀3.4 Ω µ ° × → ± ½ Łódź ĄČĐĘĞİŐŘŞŽ ß Ω'
    expect(press.clean(words)).toBe(words)
    expect(press.clean('漢字\u0000\u200d😀a\tb\u2126e\u0301')).toBe('□□□□□a bΩé')
    const bytes = await press.print('words', [page([{ kind: 'text', x: 20, y: 200, size: 4, text: `${words} 漢` }])])
    await reading(bytes, async ([first]) => {
      expect(first!.text).toContain(`${words} □`)
    })
  })

  it('breaks and shortens words to their room, whatever they are', async () => {
    const press = await openPress()
    const long = `${'x'.repeat(400_000)} and 漢字 ${'wide words '.repeat(2000)}`
    for (const text of ['', ' ', 'a', 'one two three', 'W'.repeat(90), long]) {
      for (const line of wrapTo(press, text, 3, 40, 12)) expect(press.width(line, 3)).toBeLessThanOrEqual(40)
      expect(wrapTo(press, text, 3, 40, 12).length).toBeLessThanOrEqual(12)
      expect(press.width(shorten(press, text, 3, 40), 3)).toBeLessThanOrEqual(40)
    }
    expect(wrapTo(press, 'one two three', 3, 400)).toEqual(['one two three'])
    expect(wrapTo(press, 'W'.repeat(90), 3, 40, 500).join('')).toBe('W'.repeat(90))
    expect(shorten(press, 'short', 3, 40)).toBe('short')
    expect(shorten(press, long, 3, 40)).toMatch(/^x+…$/)
  })

  it('writes the same bytes for the same pages, and no date', async () => {
    const make = async (): Promise<Uint8Array> =>
      (await openPress()).print('same', [page([{ kind: 'text', x: 20, y: 20, size: 4, text: 'same' }, ...bar(60, 40)])])
    const [a, b] = [await make(), await make()]
    expect(Buffer.compare(a, b)).toBe(0)
    expect(Buffer.from(a).toString('latin1')).not.toMatch(/CreationDate|ModDate/)
  })
})
