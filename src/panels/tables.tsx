/** Rows of a file as a table that can be read out. */
import { words } from '../words/index.ts'
import type { Cell } from './export-files.ts'
import { TableRoom } from './table-room.tsx'

const shown = (cell: Cell | undefined): string =>
  cell === null || cell === undefined
    ? ''
    : typeof cell === 'number'
      ? String(Math.round(cell * 1000) / 1000 || 0)
      : cell

/** Text longer than this takes more room to the side than downwards. */
const LONG = 40

const kindOf = (cell: Cell | undefined): string | undefined =>
  typeof cell === 'number' ? 'number' : typeof cell === 'string' && cell.length > LONG ? 'long' : undefined

export function Table({
  title,
  columns,
  rows,
  notes,
}: {
  title: string
  columns: readonly string[]
  rows: readonly (readonly Cell[])[]
  notes: readonly string[]
}) {
  if (rows.length === 0) return <p>{words.files.emptyTable}</p>
  return (
    <>
      <TableRoom title={title} unseenTitle columns={columns}>
        {rows.map((row, r) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: rows have no other name, and are never sorted
          <tr key={r}>
            {columns.map((column, c) => (
              <td key={column} className={kindOf(row[c])}>
                {shown(row[c])}
              </td>
            ))}
          </tr>
        ))}
      </TableRoom>
      {notes.map((note) => (
        <p key={note} className="quiet">
          {note}
        </p>
      ))}
    </>
  )
}
