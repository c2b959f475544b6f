/**
 * Tables as CSV (RFC 4180): comma, CRLF, a header row, quotes where a cell needs them; UTF-8. Numbers have a dot and at most
 * three decimals. A spreadsheet takes text that starts with = + - @ for a formula, so such text gets an apostrophe before it;
 * a negative number is a number and stays one.
 */
export type Cell = string | number | null

export interface Column<Row> {
  readonly title: string
  readonly value: (row: Row) => Cell
}

const FORMULA = /^[=+\-@\t\r]/
const QUOTED = /[",\r\n]/

function cell(value: Cell): string {
  if (value === null) return ''
  if (typeof value === 'number') return Number.isFinite(value) ? String(Math.round(value * 1000) / 1000 || 0) : ''
  const safe = FORMULA.test(value) ? `'${value}` : value
  return QUOTED.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe
}

/**
 * Rows as CSV text; an empty table is its header row.
 *
 * `csv([{ title: 'x mm', value: (r) => r.x }, { title: 'for', value: (r) => r.for }], [{ x: -1.5, for: '=A1' }])`
 * → `"x mm,for\r\n-1.5,'=A1\r\n"`
 */
export function csv<Row>(columns: readonly Column<Row>[], rows: readonly Row[]): string {
  const lines = [columns.map((c) => cell(c.title)), ...rows.map((row) => columns.map((c) => cell(c.value(row))))]
  return lines.map((line) => `${line.join(',')}\r\n`).join('')
}
