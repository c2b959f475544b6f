/** Columns of printed tables: figures stay whole, whatever share their column has. */
import { describe, expect, it } from 'vitest'
import { columnWidths } from '../../src/export/pdf-columns.ts'
import { flow } from '../../src/export/pdf-flow.ts'
import { papers } from '../../src/export/pdf-paper.ts'
import { openPress } from '../../src/export/pdf-press.ts'

const press = await openPress()
const widths = (shares: readonly number[], ...rows: readonly (readonly string[])[]) =>
  columnWidths(
    press,
    shares.map((share) => ({ head: '', share })),
    rows,
    { room: 100, size: 2.6, beside: 2 },
  )
const total = (of: readonly number[]): number => of.reduce((sum, w) => sum + w, 0)

describe('columns of a printed table', () => {
  it('go by their shares where the figures have room', () => {
    expect(widths([20, 30], ['a', 'one two'], ['12', 'a-word-without-any-space-that-is-wider'])).toEqual([40, 60])
  })

  it('are as wide as their widest figure, and the others share what is left', () => {
    const [a, b, c] = widths([2, 49, 49], ['cut', '', ''], ['126.095', '', ''], ['(12600.095)', '', '']) as [
      number,
      number,
      number,
    ]
    expect(a - 2).toBeGreaterThanOrEqual(press.width('(12600.095)', 2.6))
    expect(a - 2).toBeLessThan(press.width('(12600.095)', 2.6) + 0.01)
    expect(b).toBeCloseTo(c, 9)
    expect(total([a, b, c])).toBeCloseTo(100, 9)
    // What one takes may leave too little for the figures of another.
    const [d, e] = widths([1, 9, 90], ['12600.095', '126.09', ''], ['', '', '']) as [number, number]
    expect(e - 2).toBeGreaterThanOrEqual(press.width('126.09', 2.6))
    expect(d).toBeGreaterThan(e)
  })

  it('hold to their shares where nobody could print the figures whole', () => {
    const many = Array.from({ length: 20 }, () => '12600.095')
    expect(
      widths(
        many.map(() => 1),
        many,
      ),
    ).toEqual(many.map(() => 5))
  })

  it('break no figure of a table and no head, names alone', () => {
    const columns = [
      { head: 'No.', share: 1 },
      { head: 'wire leads', share: 5 },
      { head: 'longest', share: 2 },
      { head: 'note', share: 90 },
    ]
    const row = ['w1234', 'lead-to-the-left-motor', '126.095 (no-bench)', 'AWG 22']
    const pages = flow(press, papers.A4, 'title', 'name', [{ kind: 'table', columns, rows: [row], none: '' }])
    const texts = pages.flatMap((p) => p.inks.flatMap((i) => (i.kind === 'text' ? [i.text] : [])))
    for (const whole of ['longest', 'w1234', '126.095', 'AWG 22']) expect(texts).toContain(whole)
    expect(texts.join('')).toContain('lead-to-the-left-motor')
  })
})
