/** A table that can be scrolled and read out: the frame and the heads of all tables of the page. */
import type { ReactNode } from 'react'

interface Props {
  readonly title: string
  /** Whether the title is only read out, since it stands beside the table already. */
  readonly unseenTitle?: boolean
  readonly columns: readonly string[]
  /** The rows. */
  readonly children: ReactNode
}

export function TableRoom({ title, unseenTitle = false, columns, children }: Props) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard (WCAG 2.1.1)
    <section className="table-room" tabIndex={0} aria-label={title}>
      <table>
        <caption className={unseenTitle ? 'unseen' : undefined}>{title}</caption>
        <thead>
          <tr>
            {columns.map((column) => (
              <th key={column} scope="col">
                {column}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>{children}</tbody>
      </table>
    </section>
  )
}
