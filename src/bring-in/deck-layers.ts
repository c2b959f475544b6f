/**
 * Which layers, or named groups, of a drawing are the plate. Where one is named `cut`, as in a template of ours, what is named
 * `mark` or `notes` is not; otherwise all are, unless some are asked for.
 */
import { clip, oneOf, snippet } from '../../footprints/problems.ts'
import { Refused, type Run, type Unused, type Where } from './contours.ts'

const CUT = 'cut'
const NOT_CUT = ['mark', 'notes']

export interface Chosen {
  readonly runs: readonly Run[]
  readonly unused: readonly Unused[]
  /** Whether the drawing has a layer `cut` and this is on it. */
  readonly cutLayer: (where: Where) => boolean
}

/** Splits runs by layer. What is left out is told layer by layer. Throws Refused for a layer that is not there. */
export function chosen(
  runs: readonly Run[],
  unused: readonly (Unused & { readonly layers: readonly string[] })[],
  asked: readonly string[] | undefined,
): Chosen {
  const onCut = (where: Where): boolean => where.layers.some((l) => l.toLowerCase() === CUT)
  const template = runs.some((r) => onCut(r.where))
  const wanted = asked?.map((l) => l.toLowerCase())
  if (wanted) refuseUnknown(runs, asked!)
  const leaves = (layers: readonly string[]): string | undefined => {
    const low = layers.map((l) => l.toLowerCase())
    if (wanted) return low.some((l) => wanted.includes(l)) ? undefined : (layers[0] ?? 'no layer')
    return template ? layers.find((l) => NOT_CUT.includes(l.toLowerCase())) : undefined
  }
  const away = new Map<string, { count: number; line: string }>()
  const leave = (layer: string, line: string): void => {
    const entry = away.get(layer) ?? { count: 0, line }
    entry.count += 1
    away.set(layer, entry)
  }
  const kept = runs.filter((r) => {
    const layer = leaves(r.where.layers)
    if (layer !== undefined) leave(layer, `line ${r.where.line}`)
    return layer === undefined
  })
  const told = unused.filter((u) => {
    const layer = leaves(u.layers)
    if (layer !== undefined) leave(layer, u.where)
    return layer === undefined
  })
  const why = wanted ? 'other layers were asked for' : 'beside a layer "cut", this one is no cut'
  const layers = [...away].map(([layer, { count, line }]) => ({
    what: `${count} ${count === 1 ? 'thing' : 'things'} on ${clip(layer, 60)}`,
    where: `from ${line}`,
    why,
  }))
  return { runs: kept, unused: [...told, ...layers], cutLayer: (where) => template && onCut(where) }
}

function refuseUnknown(runs: readonly Run[], asked: readonly string[]): void {
  const there = [...new Set(runs.flatMap((r) => r.where.layers))]
  const low = new Set(there.map((l) => l.toLowerCase()))
  const missing = asked.find((l) => !low.has(l.toLowerCase()))
  if (missing === undefined) return
  throw new Refused(snippet(missing), `a layer or group of the drawing, ${oneOf(there, missing)}`, undefined, 'layers')
}
