/** CSV as a CSV library reads it. */
import { parse } from 'csv-parse/sync'
import { describe, expect, it } from 'vitest'
import { type Column, csv } from '../../src/export/csv.ts'
import fc from '../seeded.ts'

type Row = readonly (string | number | null)[]
const columns = (n: number): Column<Row>[] =>
  Array.from({ length: n }, (_, k) => ({ title: `c${k}`, value: (r: Row) => r[k]! }))
const read = (text: string): string[][] => parse(text, { relax_column_count: false }) as string[][]

describe('csv', () => {
  it('has a header, commas, CRLF, and quotes only where they are needed', () => {
    const rows: Row[] = [
      ['plain', 1.5, null],
      ['a "b", c', -2, 'two\r\nlines'],
    ]
    expect(csv(columns(3), rows)).toBe('c0,c1,c2\r\nplain,1.5,\r\n"a ""b"", c",-2,"two\r\nlines"\r\n')
    expect(csv(columns(2), [])).toBe('c0,c1\r\n')
  })

  it('keeps numbers numbers: a dot, three decimals, no exponent, no minus zero', () => {
    const rows: Row[] = [[-1.5, 0.1 + 0.2, -0.0001, 1e-9, 123456.789, Number.NaN]]
    expect(csv(columns(6), rows).split('\r\n')[1]).toBe('-1.5,0.3,0,0,123456.789,')
  })

  it('hands no formula to a spreadsheet', () => {
    for (const bad of ['=1+1', '+1', '-1', '@sum', '\tx', '=HYPERLINK("a","b")']) {
      const [, row] = read(csv(columns(2), [[bad, -1]]))
      expect(row).toEqual([`'${bad}`, '-1'])
    }
    expect(read(csv([{ title: '=x', value: () => 1 }], [0]))[0]).toEqual(["'=x"])
  })

  it('reads back as it was written, whatever is in it', () => {
    const cell = fc.oneof(fc.string(), fc.string({ unit: fc.constantFrom('"', ',', '\r', '\n', ';', 'é', '⌀', ' ') }))
    fc.assert(
      fc.property(fc.array(fc.tuple(cell, cell, fc.integer()), { maxLength: 8 }), (rows) => {
        const back = read(csv(columns(3), rows))
        expect(back.length).toBe(rows.length + 1)
        rows.forEach((row, i) => {
          const plain = (v: string) => (/^[=+\-@\t\r]/.test(v) ? `'${v}` : v)
          expect(back[i + 1]).toEqual([plain(row[0]), plain(row[1]), String(row[2])])
        })
      }),
      { numRuns: 300 },
    )
  })
})
