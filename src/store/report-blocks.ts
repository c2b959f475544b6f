/**
 * The parts of a report as sentences and tables: what the page shows, prints and copies. How figures are rounded says `src/model/rounding.ts`, and each layer's own.
 * Names stand in them as in the project; `blocksIn` writes those of copies as people read them.
 */
import { fixed, tenthsUp, trimmed } from '../model/rounding.ts'
import { words } from '../words/index.ts'

export interface Line {
  readonly text: string
  /** Ids of what it speaks of, to be lit on the plan. */
  readonly items: readonly string[]
}

export interface Row {
  readonly cells: readonly string[]
  readonly items: readonly string[]
}

export type Block =
  | { readonly kind: 'lines'; readonly title?: string; readonly lines: readonly Line[] }
  | { readonly kind: 'cautions'; readonly title: string; readonly lines: readonly Line[] }
  | {
      readonly kind: 'table'
      readonly title: string
      readonly columns: readonly string[]
      readonly rows: readonly Row[]
    }

export const PARTS = ['wires', 'pins', 'prepare', 'power', 'balance', 'head', 'service', 'first'] as const
export type PartName = (typeof PARTS)[number]

/** At most so many decimals, no trailing zeros, and no minus before nothing. */
export const figure = trimmed

/** Rounded up. */
export const cutMm = (value: number | undefined): string => (value === undefined ? words.report.none : tenthsUp(value))

export const mm = (value: number): string => fixed(value, 1)

export const line = (text: string, items: readonly string[] = []): Line => ({ text, items })

export const lines = (list: readonly Line[], title?: string): Block[] =>
  list.length === 0 ? [] : [{ kind: 'lines', lines: list, ...(title === undefined ? {} : { title }) }]

export const cautions = (title: string, texts: readonly string[]): Block[] =>
  texts.length === 0 ? [] : [{ kind: 'cautions', title, lines: texts.map((t) => line(t)) }]

export const table = (title: string, columns: readonly string[], rows: readonly Row[]): Block[] =>
  rows.length === 0 ? [] : [{ kind: 'table', title, columns, rows }]

export const row = (cells: readonly string[], items: readonly string[] = []): Row => ({ cells, items })

/** The same blocks, whatever of them is read changed by `said`. */
export const blocksIn = (blocks: readonly Block[], said: (text: string) => string): Block[] =>
  blocks.map((block): Block => {
    const title = block.title === undefined ? {} : { title: said(block.title) }
    return block.kind === 'table'
      ? { ...block, ...title, rows: block.rows.map((r) => ({ ...r, cells: r.cells.map(said) })) }
      : { ...block, ...title, lines: block.lines.map((l) => ({ ...l, text: said(l.text) })) }
  })

/** For a text file or a message: tables with aligned columns. */
export function textOf(title: string, blocks: readonly Block[]): string {
  const parts = blocks.map((block) => {
    const head = block.title === undefined ? [] : [`${block.title}:`]
    if (block.kind === 'table')
      return [...head, ...aligned([block.columns, ...block.rows.map((r) => r.cells)])].join('\n')
    const mark = block.kind === 'cautions' ? '! ' : '- '
    return [...head, ...block.lines.map((l) => `${mark}${l.text}`)].join('\n')
  })
  return `${[title, ...parts].join('\n\n')}\n`
}

function aligned(rows: readonly (readonly string[])[]): string[] {
  const widths = rows[0]?.map((_, c) => Math.max(...rows.map((r) => r[c]?.length ?? 0))) ?? []
  return rows.map((r) =>
    r
      .map((cell, c) => cell.padEnd(widths[c] ?? 0))
      .join('  ')
      .trimEnd(),
  )
}
