/** The wire cut list: from where to where, and how long each wire is cut. */
import {
  layoutOf,
  type Placement,
  type Problem,
  type Run,
  runOf,
  toMm,
  um,
  type Wire,
  type WireEnd,
} from '../../solver/index.ts'
import { wires as words } from './words-tables.ts'

export interface WireRow {
  readonly id: string
  readonly from: string
  readonly to: string
  /** As the project gives it: AWG where it is a number; empty where it gives none. */
  readonly gauge: number | string
  /** As the user names it; empty where nobody did. */
  readonly colour: string
  readonly conductors: number
  /** The run and, with the loop, what to cut, mm; null for a wire that only other variants have. */
  readonly length: number | null
  readonly cut: number | null
  /** The longest cut over this layout and `others`, mm, and the variant that asks for it. */
  readonly longest: number
  readonly longestIn: string
  readonly note: string
}

/** Another variant's layout, for the longest cut. */
export interface OtherLayout {
  readonly id: string
  readonly problem: Problem
  readonly placements: readonly Placement[]
}

/**
 * The wires whose two ends are placed, in the project's order, then those that only `others` have.
 *
 * `wireCutList(problem, placements)[0]` → `{ id: 'drive', from: 'brain, serial', to: 'driver, control', gauge: 22, colour: 'grey',
 * conductors: 4, length: 118.2, cut: 133.2, longest: 133.2, longestIn: 'beside', note: '' }`
 */
export function wireCutList(
  problem: Problem,
  placements: readonly Placement[],
  others: readonly OtherLayout[] = [],
): WireRow[] {
  const rows = wiresOf(problem, placements, problem.variant)
  /** Variants of the wires that this one has not. */
  const elsewhere = new Map<string, Set<string>>()
  for (const other of others) {
    for (const theirs of wiresOf(other.problem, other.placements, other.id)) {
      const k = rows.findIndex((r) => r.id === theirs.id)
      const mine = rows[k]
      if (!mine) {
        elsewhere.set(theirs.id, new Set())
        rows.push({ ...theirs, length: null, cut: null })
      } else if (theirs.longest > mine.longest) {
        rows[k] = { ...mine, longest: theirs.longest, longestIn: theirs.longestIn }
      }
      elsewhere.get(theirs.id)?.add(other.id)
    }
  }
  return rows.map((row) => {
    const ids = [...(elsewhere.get(row.id) ?? [])]
    if (ids.length === 0) return row
    const only = words.onlyIn(ids)
    return { ...row, note: row.note === '' ? only : `${only}; ${row.note}` }
  })
}

function wiresOf(problem: Problem, placements: readonly Placement[], variant: string): WireRow[] {
  const layout = layoutOf(problem, placements)
  return problem.wires.flatMap((wire): WireRow[] => {
    const run = runOf(layout, wire)
    // Without a chain of passes there is no run, and the layout is not legal.
    if (!run || !Number.isFinite(run.length)) return []
    const cut = toMm(um(run.length + wire.loop))
    return [
      {
        id: wire.id,
        from: endText(problem, wire.from, run.from),
        to: endText(problem, wire.to, run.to),
        gauge: wire.gauge ?? '',
        colour: wire.colour ?? '',
        conductors: wire.conductors,
        length: toMm(um(run.length)),
        cut,
        longest: cut,
        longestIn: variant,
        note: notesOf(problem, wire),
      },
    ]
  })
}

function endText(problem: Problem, end: WireEnd, at: Run['from']): string {
  if (end.kind === 'exit') return words.exit(problem.exits[end.exit]!.id)
  const item = problem.items[at.item!]!
  const name = item.footprint.terminals.find((t) => t.id === end.terminal)?.name
  return words.end(item.id, end.terminal, name)
}

/** A lead that comes through the deck is there already: it is shortened, not made. */
function notesOf(problem: Problem, wire: Wire): string {
  const notes = [wire.from, wire.to].flatMap((end) => {
    if (end.kind !== 'exit') return []
    const { free } = problem.exits[end.exit]!
    return [words.leadThere(free === undefined ? undefined : toMm(free))]
  })
  return notes.join('; ')
}
