/**
 * The tables that go with a layout, as rows of plain values (mm, grams, pieces), for CSV, for print and for the page. All are
 * functions of problem and placements alone. `tables-columns.ts` says which columns a file of each has.
 */
export { type HardwareRow, hardwareList } from './hardware.ts'
export { type BillRow, billOfItems } from './tables-bill.ts'
export { type DrillRow, drillDatum, drillNotes, drillTable, notDrilled } from './tables-drill.ts'
export { type HeaderRow, headerPins } from './tables-headers.ts'
export { type OtherLayout, type WireRow, wireCutList } from './tables-wires.ts'
