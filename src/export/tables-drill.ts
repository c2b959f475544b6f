/** The drill table of one deck: what is to be drilled where, with which drill. The drawings number their holes by it. */
import { bounds, cutsOf, layoutOf, type Placement, type Problem, prepare, toMm, um } from '../../solver/index.ts'
import { CLEARANCE, drillFor, fitOf, HOLE_CLASS, SERIES, threadOf, toleranceOf } from './hardware-data.ts'
import { thereAlready } from './own-cuts.ts'
import { drill as words } from './words-tables.ts'

export interface DrillRow {
  /** From 1, in the order of drilling. */
  readonly number: number
  /** Centre in the project's frame, mm. */
  readonly x: number
  readonly y: number
  /** The same from the left and from the lower edge of the outline's bounding box, mm. */
  readonly fromLeft: number
  readonly fromLower: number
  /** Of the hole, mm. */
  readonly diameter: number
  /** The nearest standard metric drill at or above `diameter`, mm; null where there is none. */
  readonly tool: number | null
  readonly item: string
  /** The hole's id in the item's footprint. */
  readonly hole: string
  /** As the footprint gives it; empty where it does not. */
  readonly thread: string
  /** Which clearance hole of ISO 273 it is, with its tolerance class; empty where it is none. */
  readonly fit: string
  readonly note: string
}

/**
 * The holes to be made in a deck (`deck` is its index), drill by drill, then by x, then by y. Holes that are there already and
 * those of `later` items are not in it. Like the template, it does not look at outline and openings.
 *
 * `drillTable(problem, placements, 0)[0]` → `{ number: 1, x: 12.5, y: 20, fromLeft: 12.5, fromLower: 20, diameter: 2.9, tool: 2.9,
 * item: 'brain', hole: 'h1', thread: 'M2.5', fit: 'M2.5 medium, H13', note: '' }`
 */
export function drillTable(problem: Problem, placements: readonly Placement[], deck: number): DrillRow[] {
  const corner = bounds(prepare(problem.decks[deck]!.outline))
  const rows = cutsOf(layoutOf(problem, placements)).flatMap(({ body, form, made, hole }) => {
    if (!made || !hole || !('at' in form) || body.deck !== deck || body.item.later) return []
    const tool = drillFor(hole.diameter) ?? null
    const diameter = toMm(hole.diameter)
    return [
      {
        x: toMm(form.at.x),
        y: toMm(form.at.y),
        fromLeft: toMm(um(form.at.x - corner.x)),
        fromLower: toMm(um(form.at.y - corner.y)),
        diameter,
        tool,
        item: body.item.id,
        hole: hole.id,
        thread: hole.screw ?? '',
        fit: fitText(diameter, hole.screw),
        note: noteOf(diameter, tool, hole.screw),
      },
    ]
  })
  const last = Number.POSITIVE_INFINITY
  return rows
    .sort((a, b) => (a.tool ?? last) - (b.tool ?? last) || a.x - b.x || a.y - b.y || a.diameter - b.diameter)
    .map((row, i) => ({ number: i + 1, ...row }))
}

/** What the drill table measures from, how exactly, and what is not in it: sentences to stand beside it. The workshop's cautions (`cautions.ts`) go with them. */
export function drillNotes(problem: Problem, deck: number): string[] {
  return [
    words.axes,
    drillDatum(problem, deck),
    words.corner,
    words.tolerance([6, 30, 120, 400].map((upTo) => ({ upTo, tolerance: toleranceOf(upTo)! }))),
    ...notDrilled(problem, deck),
  ]
}

/** Of holes that are taken to be there already, where there are any. */
export function notDrilled(problem: Problem, deck: number): string[] {
  const there = thereAlready(problem.decks[deck]!)
  return there.length === 0 ? [] : [words.thereAlready(there)]
}

/** Where 0,0 lies on a deck, as a sentence. */
export function drillDatum(problem: Problem, deck: number): string {
  const { x, y } = bounds(prepare(problem.decks[deck]!.outline))
  return words.datum(toMm(x), toMm(y))
}

function fitText(diameter: number, screw: string | undefined): string {
  const fit = fitOf(diameter)
  const thread = threadOf(screw)
  if (!fit || (screw !== undefined && thread !== fit.thread)) return ''
  return words.fit(fit.thread, fit.series, HOLE_CLASS[fit.series])
}

function noteOf(diameter: number, tool: number | null, screw: string | undefined): string {
  const notes: string[] = []
  if (tool === null) notes.push(words.noTool)
  else if (tool > diameter) notes.push(words.wider(toMm(um(Math.round((tool - diameter) * 1000)))))
  const thread = threadOf(screw)
  if (thread && fitOf(diameter)?.thread !== thread) {
    const right = SERIES.map((s) => CLEARANCE[thread][s])
    notes.push(words.notClearance(thread, right))
  }
  return notes.join('; ')
}
