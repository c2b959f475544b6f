/**
 * The wire cut list: from where to where, and how long each wire is cut. Where it is told how leads lie round what is in their way,
 * lengths are along that way; else they are R7's, for straight ways, and the list cannot be cut by unchecked.
 */
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
import type { LaidLead } from '../model/index.ts'
import { wires as words } from './words-tables.ts'

export interface WireRow {
  readonly id: string
  readonly from: string
  readonly to: string
  /** Whether this layout has it, and not only another variant's. */
  readonly here: boolean
  /** As the project gives it: AWG where it is a number; empty where it gives none. */
  readonly gauge: number | string
  /** As the user names it; empty where nobody did. */
  readonly colour: string
  readonly conductors: number
  /** The run and what to cut for it, mm; null for a wire that only other variants have, and where no way is open. */
  readonly length: number | null
  readonly cut: number | null
  /** The longest cut over this layout and `others`, mm, and the variant that asks for it; null and empty where none has a way for it. */
  readonly longest: number | null
  readonly longestIn: string
  readonly note: string
  /** Not to be cut shorter, mm: the longest of all cuts and of what an end needs that moves later, and which end that is where it asks for more than they. */
  readonly keep: number | null
  readonly keepFor: string
}

/** Another variant's layout, for the longest cut. */
export interface OtherLayout {
  readonly id: string
  readonly problem: Problem
  readonly placements: readonly Placement[]
  /** How its leads lie; missing = straight. */
  readonly laid?: readonly LaidLead[]
}

/**
 * The wires whose two ends are placed, in the project's order, then those that only `others` have.
 *
 * `wireCutList(problem, placements)[0]` → `{ id: 'drive', from: 'brain, serial', to: 'driver, control', gauge: 22, colour: 'grey',
 * conductors: 4, here: true, length: 118.2, cut: 133.2, longest: 133.2, longestIn: 'beside', note: '', keep: 196, keepFor: 'driver on deck top in base' }`
 */
export function wireCutList(
  problem: Problem,
  placements: readonly Placement[],
  others: readonly OtherLayout[] = [],
  laid?: readonly LaidLead[],
): WireRow[] {
  const here = { id: problem.variant, problem, placements, ...(laid ? { laid } : {}) }
  const all = [here, ...others].map((layout) => ({ of: layout, wires: wiresOf(layout) }))
  const ids = new Set(all.flatMap(({ wires }) => wires.map((w) => w.row.id)))
  return [...ids].map((id) => {
    const found = all.flatMap(({ of, wires }) => wires.filter((w) => w.row.id === id).map((w) => ({ ...w, of })))
    const first = found[0]!
    const longest = found.reduce((l, f) => ((f.row.longest ?? 0) > (l.row.longest ?? 0) ? f : l), first).row
    const kept = found.reduce((l, f) => ((f.row.keep ?? 0) > (l.row.keep ?? 0) ? f : l), first).row
    const mine = first.of === here
    const only = mine ? '' : words.onlyIn(found.map((f) => f.of.id))
    const wrong = found.map((f) => (f.wrong === '' || f.of === here ? f.wrong : words.inVariant(f.of.id, f.wrong)))
    return {
      ...first.row,
      ...(mine ? {} : { here: false, length: null, cut: null }),
      longest: longest.longest,
      longestIn: longest.longestIn,
      keep: kept.keep,
      keepFor: (kept.keep ?? 0) > (longest.longest ?? 0) ? kept.keepFor : '',
      // What must not be overlooked first: a reader may stop at the beginning, and a narrow window show no more.
      note: words.notes([...wrong, only, first.row.note, mine ? first.detour : '']),
    }
  })
}

/** `detour`: that it does not run straight; `wrong`: why it cannot be laid like this. Both empty where there is nothing to say. */
interface Found {
  readonly row: WireRow
  readonly detour: string
  readonly wrong: string
}

/** A wire that a layout has. */
export interface WireHere {
  readonly wire: Wire
  /** As R7 measures it. */
  readonly run: Run
  /** What to cut it by: as it is laid where that is known, else its run; missing where no way is open. */
  readonly way?: Pick<NonNullable<LaidLead['way']>, 'length' | 'cut' | 'from' | 'to'>
  readonly lead?: LaidLead
}

/** The wires whose two ends are placed, in the project's order, and what each is cut by: the one place that says so for all that is printed. */
export function wiresHere(
  problem: Problem,
  placements: readonly Placement[],
  laid: readonly LaidLead[] | undefined,
): WireHere[] {
  const layout = layoutOf(problem, placements)
  return problem.wires.flatMap((wire, index): WireHere[] => {
    const run = runOf(layout, wire)
    // Without a chain of passes there is no run, and the layout is not legal.
    if (!run || !Number.isFinite(run.length)) return []
    const lead = laid?.find((l) => l.wire === index)
    if (!lead) return [{ wire, run, way: { ...run, length: um(run.length), cut: um(run.length + wire.loop) } }]
    return [{ wire, run, lead, ...(lead.way ? { way: lead.way } : {}) }]
  })
}

function wiresOf({ id: variant, problem, placements, laid }: OtherLayout): Found[] {
  return wiresHere(problem, placements, laid).map(({ wire, run, way, lead }): Found => {
    const { from, to } = way ?? run
    const cut = way ? toMm(way.cut) : null
    const keep = lead?.keep
    const row: WireRow = {
      id: wire.id,
      here: true,
      from: endText(problem, wire.from, from),
      to: endText(problem, wire.to, to),
      gauge: wire.gauge ?? '',
      colour: wire.colour ?? '',
      conductors: wire.conductors,
      length: way ? toMm(um(way.length)) : null,
      cut,
      longest: cut,
      longestIn: cut === null ? '' : variant,
      note: notesOf(problem, wire),
      // Without it known how leads lie, it is not known what is enough either.
      keep: keep ? toMm(keep.least) : lead ? cut : null,
      keepFor: keep ? words.keepFor(keep.item, keep.to, variant) : '',
    }
    const further = way ? toMm(um(way.length - run.length)) : 0
    const there = lead?.there
    return {
      row,
      detour: further > 0 ? words.round(further) : '',
      wrong: !way
        ? words.noWay(lead?.by ?? [])
        : there !== undefined
          ? words.doesNotReach(toMm(way.cut), toMm(there))
          : '',
    }
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
