/** The tables as files, each with the rows that stand in it. */
import { type Column, csv } from '../export/csv.ts'
import {
  billOfItems,
  drillDatum,
  drillNotes,
  drillTable,
  hardwareList,
  headerPins,
  wireCutList,
} from '../export/tables.ts'
import { billColumns, drillColumnsAt, hardwareColumns, headerColumns, wireColumns } from '../export/tables-columns.ts'
import { words } from '../words/index.ts'
import type { Asked, Made } from './export-files.ts'
import { laidIn } from './export-leads.ts'

export function tableFiles(asked: Asked, stem: string, safe: (text: string) => string): Made[] {
  const { problem, placements } = asked.view
  const { laid, others } = laidIn(asked)
  const of = <Row>(
    what: string,
    title: string,
    columns: readonly Column<Row>[],
    rows: readonly Row[],
    notes: readonly string[] = [],
  ): Made => ({
    name: `${stem}-${what}.csv`,
    type: 'text/csv',
    data: csv(columns, rows),
    title,
    shows: {
      kind: 'table',
      columns: columns.map((c) => c.title),
      rows: rows.map((row) => columns.map((c) => c.value(row))),
      notes,
    },
  })
  const text = words.files
  const several = problem.decks.length > 1
  return [
    ...problem.decks.map((deck, d) =>
      of(
        several ? `drill-${safe(deck.id)}` : 'drill',
        several ? text.drillIn(deck.name) : text.drill,
        drillColumnsAt(drillDatum(problem, d)),
        drillTable(problem, placements, d),
        drillNotes(problem, d),
      ),
    ),
    of('hardware', text.hardware, hardwareColumns, hardwareList(problem, placements)),
    of('wires', text.wires, wireColumns, wireCutList(problem, placements, others, laid), laid ? [] : [text.straight]),
    of('headers', text.headers, headerColumns, headerPins(problem, placements)),
    of('bill', text.bill, billColumns, billOfItems(problem, placements)),
  ]
}
