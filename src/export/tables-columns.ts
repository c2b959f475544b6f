/** Which columns a file of each table has, with the unit in the title. The order is for reading; programs go by the titles. */
import { PITCH } from '../../footprints/pitch.ts'
import { type Column, csv } from './csv.ts'
import type { BillRow, DrillRow, HardwareRow, HeaderRow, WireRow } from './tables.ts'
import { headers } from './words-tables.ts'

export const drillColumns: readonly Column<DrillRow>[] = [
  { title: 'number', value: (r) => r.number },
  { title: 'x mm', value: (r) => r.x },
  { title: 'y mm', value: (r) => r.y },
  { title: 'from left mm', value: (r) => r.fromLeft },
  { title: 'from lower edge mm', value: (r) => r.fromLower },
  { title: 'diameter mm', value: (r) => r.diameter },
  { title: 'drill mm', value: (r) => r.tool },
  { title: 'item', value: (r) => r.item },
  { title: 'hole', value: (r) => r.hole },
  { title: 'thread', value: (r) => r.thread },
  { title: 'clearance hole (ISO 273)', value: (r) => r.fit },
  { title: 'note', value: (r) => r.note },
]

export const hardwareColumns: readonly Column<HardwareRow>[] = [
  { title: 'amount', value: (r) => r.amount },
  { title: 'unit', value: (r) => r.unit },
  { title: 'kind', value: (r) => r.kind },
  { title: 'what', value: (r) => r.what },
  { title: 'standard', value: (r) => r.standard },
  { title: 'thread', value: (r) => r.thread },
  { title: 'length mm', value: (r) => r.length },
  { title: 'for', value: (r) => r.items.map((i) => `${i.item} (${i.amount})`).join(', ') },
  { title: 'note', value: (r) => r.note },
]

export const billColumns: readonly Column<BillRow>[] = [
  { title: 'count', value: (r) => r.count },
  { title: 'kind', value: (r) => r.kind },
  { title: 'name', value: (r) => r.name },
  { title: 'id', value: (r) => r.id },
  { title: 'items', value: (r) => r.items.join(', ') },
  { title: 'width mm', value: (r) => r.width },
  { title: 'depth mm', value: (r) => r.depth },
  { title: 'height mm', value: (r) => r.height },
  { title: 'mass each g', value: (r) => r.mass },
  { title: 'note', value: (r) => r.note },
]

export const wireColumns: readonly Column<WireRow>[] = [
  { title: 'wire', value: (r) => r.id },
  { title: 'from', value: (r) => r.from },
  { title: 'to', value: (r) => r.to },
  { title: 'gauge', value: (r) => r.gauge },
  { title: 'colour', value: (r) => r.colour },
  { title: 'conductors', value: (r) => r.conductors },
  { title: 'length mm', value: (r) => r.length },
  { title: 'cut length mm', value: (r) => r.cut },
  { title: 'longest cut over the variants mm', value: (r) => r.longest },
  { title: 'longest in', value: (r) => r.longestIn },
  { title: 'note', value: (r) => r.note },
  { title: 'keep at least mm', value: (r) => r.keep },
  { title: 'keep for', value: (r) => r.keepFor },
]

export const headerColumns: readonly Column<HeaderRow>[] = [
  { title: 'pins', value: (r) => r.pins },
  { title: 'count', value: (r) => r.count },
  { title: 'pitch mm', value: () => PITCH },
  { title: 'items', value: (r) => headers.items(r.items) },
  { title: 'note', value: (r) => r.note },
]

/** The columns of a drill table that is a file of its own: `datum` says in each row where 0,0 is. */
export const drillColumnsAt = (datum: string): readonly Column<DrillRow>[] => [
  ...drillColumns,
  { title: 'datum', value: () => datum },
]

/** `drillCsv(drillTable(problem, placements, 0))` → `"number,x mm,y mm,…\r\n1,12.5,20,…\r\n"`; likewise below. */
export const drillCsv = (rows: readonly DrillRow[], datum?: string): string =>
  csv(datum === undefined ? drillColumns : drillColumnsAt(datum), rows)
export const hardwareCsv = (rows: readonly HardwareRow[]): string => csv(hardwareColumns, rows)
export const billCsv = (rows: readonly BillRow[]): string => csv(billColumns, rows)
export const wireCsv = (rows: readonly WireRow[]): string => csv(wireColumns, rows)
export const headerCsv = (rows: readonly HeaderRow[]): string => csv(headerColumns, rows)
