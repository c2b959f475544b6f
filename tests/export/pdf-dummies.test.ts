/** Paper dummies: their size, their words, and how many sheets. */
import { describe, expect, it } from 'vitest'
import { mm } from '../../solver/index.ts'
import { pdfPages } from '../../src/export/pdf.ts'
import { dummyOf } from '../../src/export/pdf-dummies.ts'
import { boxOfInk } from '../../src/export/pdf-ink.ts'
import { openPress } from '../../src/export/pdf-press.ts'
import { at, deck, item, part, problem, pt, rect, screws } from './decks.ts'
import { reading } from './pdf-read.ts'

describe('paper dummies', () => {
  it('are as large as the part, whichever way they lie on the sheet', async () => {
    // 230 mm goes along the sheet only
    const bar = (id: string, w: number, d: number) => item(id, part(id, w, d, { kind: 'adhesive' }))
    const one = problem([deck('d', rect(0, 0, 400, 400))], [bar('long', 230, 40), bar('wide', 110, 50)])
    await reading(
      await pdfPages(one, [at(0, 0, 0), at(1, 0, 100)], { parts: ['dummies'] }),
      async ([page, ...more]) => {
        expect(more).toEqual([])
        const found = (await page!.blobs('#000000')).filter((b) => b.width > 30 && b.height > 30)
        const sizes = found.map((b) => [b.width - 0.25, b.height - 0.25]).sort((a, b) => a[0]! - b[0]!)
        expect(sizes.length).toBe(2)
        for (const [k, [w, h]] of [
          [40, 230],
          [110, 50],
        ].entries()) {
          expect(Math.abs(sizes[k]![0]! - w!)).toBeLessThan(0.05)
          expect(Math.abs(sizes[k]![1]! - h!)).toBeLessThan(0.05)
        }
      },
    )
  })

  it('keep words clear of slots that lie beside the body, and of the arrow', async () => {
    const press = await openPress()
    const beside = (y: number) => ({ x: mm(5), y: mm(y), w: mm(12), h: mm(3) })
    const pack = part('pack', 40, 20, { kind: 'strap', slots: [beside(-4), beside(21)] })
    const one = problem([deck('d', rect(0, 0, 100, 100))], [item('pack', pack)])
    for (const turn of [0, 1, 2, 3] as const) {
      const { inks, box } = dummyOf(press, one, at(0, 30, 30, turn))
      expect(box.y1).toBeGreaterThan(24)
      const words = inks.flatMap((ink) => (ink.kind === 'text' ? [boxOfInk(ink)] : []))
      expect(words.length).toBeGreaterThan(1)
      for (const w of words) {
        expect(w.y1 < -4 || w.y0 > -1 || w.x0 > 17).toBe(true)
        expect(w.y0).toBeGreaterThan(box.y0)
      }
      const name = inks.find((ink) => ink.kind === 'text' && ink.text === 'pack')
      if (name?.kind !== 'text') throw new Error('no name')
      const right = name.x + press.width(name.text, name.size)
      for (const ink of inks) {
        if (ink.kind !== 'line') continue
        const b = boxOfInk(ink)
        // The letters have no tail but that of p.
        const clear = b.y1 < name.y || b.y0 > name.y + name.size * 0.8 || b.x0 > right || b.x1 < name.x
        expect(clear, `turn ${turn}`).toBe(true)
      }
    }
  })

  it('print no name of a terminal over another, over a dot, or over the name of the part', async () => {
    const press = await openPress()
    // a header at 2.54 mm along an edge, another across it, and two screws
    const row = (n: number, x: number, y: number, dx: number, dy: number, id: string) =>
      Array.from({ length: n }, (_, i) => ({ id: `${id}-${i}`, at: pt(x + i * dx, y + i * dy) }))
    const crowded = part('board', 60, 40, screws([8, 10, 3.4], [30, 36, 3.4]), {
      terminals: [
        ...row(16, 12, 2.5, 2.54, 0, 'signal'),
        ...row(8, 57, 8, 0, 2.54, 'ground'),
        ...row(2, 20, 28, 3, 0, 'mid'),
      ],
    })
    const one = problem([deck('d', rect(0, 0, 100, 100))], [item('controller', crowded)])
    const { inks } = dummyOf(press, one, at(0, 10, 10))
    const words = inks.flatMap((ink) => (ink.kind === 'text' && /-\d+$|^controller$/.test(ink.text) ? [ink] : []))
    const boxes = words.map(({ x, y, size, text, up }) => {
      // letters are .8 of the size high, and few go .2 below the line
      const [w, h, d] = [press.width(text, size), size * 0.8, size * 0.2]
      return up ? { x0: x - h, y0: y, x1: x + d, y1: y + w } : { x0: x, y0: y - d, x1: x + w, y1: y + h }
    })
    const dots = crowded.terminals.map(({ at: { x, y } }) => [x / 1000, y / 1000] as const)
    const over = boxes.flatMap((a, i) => [
      ...boxes.slice(i + 1).filter((b) => a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1),
      ...dots.filter(([x, y]) => x > a.x0 - 0.4 && x < a.x1 + 0.4 && y > a.y0 - 0.4 && y < a.y1 + 0.4),
    ])
    expect(over).toEqual([])
    // and none is left out that has room one way or the other
    expect(words.filter((w) => w.text.startsWith('signal'))).toHaveLength(16)
    expect(words.filter((w) => w.text.startsWith('ground'))).toHaveLength(8)
  })

  it('come in tiles where a part is larger than a sheet, and are refused where nobody would print them', async () => {
    const big = problem([deck('d', rect(0, 0, 900, 900))], [item('slab', part('slab', 300, 250, { kind: 'adhesive' }))])
    await reading(await pdfPages(big, [at(0, 0, 0)], { parts: ['dummies'] }), async (pages) => {
      expect(pages.length).toBe(4)
      expect(pages[0]!.text).toContain('paper dummy slab: sheet 1 of 4')
    })
    const many = problem(
      [deck('d', rect(0, 0, 9000, 9000))],
      Array.from({ length: 500 }, (_, i) => item(`p${i}`, part(`p${i}`, 150, 150, { kind: 'adhesive' }))),
    )
    const places = many.items.map((_, i) => at(i, 0, 0))
    await expect(pdfPages(many, places, { parts: ['dummies'] })).rejects.toThrow(
      /paper dummies of all parts take \d+ sheets, expected at most 200/,
    )
  })
})
