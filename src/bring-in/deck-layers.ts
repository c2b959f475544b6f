/**
 * Which layers, or named groups, of a drawing are the plate. Where one is named `cut`, as in a template of ours, what is named
 * `mark` or `notes` is not; otherwise all are, unless some are asked for.
 */
import { clip, oneOf, snippet } from '../../footprints/problems.ts'
import { type Draft, Refused, type Run, type Unused, type Where } from './contours.ts'
import { lineText } from './words.ts'
import { drawing } from './words-drawings.ts'

const CUT = 'cut'
const NOT_CUT = ['mark', 'notes']

export interface Chosen {
  readonly runs: readonly Run[]
  readonly unused: readonly Unused[]
  /** Whether the drawing has a layer `cut` and this is on it. */
  readonly cutLayer: (where: Where) => boolean
}

/** Splits runs by layer. What is left out is told layer by layer. Throws Refused for a layer that is not there. */
export function chosen({ runs, unused, named }: Draft, asked: readonly string[] | undefined): Chosen {
  const onCut = (where: Where): boolean => where.layers.some((l) => l.toLowerCase() === CUT)
  const template = runs.some((r) => onCut(r.where))
  const wanted = asked?.map((l) => l.toLowerCase())
  if (asked) refuseUnknown([...named], asked)
  const leaves = (layers: readonly string[]): string | undefined => {
    const low = layers.map((l) => l.toLowerCase())
    if (wanted) return low.some((l) => wanted.includes(l)) ? undefined : (layers[0] ?? drawing.noLayer)
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
    if (layer !== undefined) leave(layer, lineText(r.where.line))
    return layer === undefined
  })
  const told = unused.filter((u) => {
    const layer = leaves(u.layers)
    if (layer !== undefined) leave(layer, u.where)
    return layer === undefined
  })
  const why = wanted ? drawing.otherLayers : drawing.notCut
  const layers = [...away].map(([layer, { count, line }]) => ({
    what: drawing.thingsOn(count, clip(layer, 60)),
    where: drawing.fromLine(line),
    why,
  }))
  return { runs: kept, unused: [...told, ...layers], cutLayer: (where) => template && onCut(where) }
}

function refuseUnknown(there: readonly string[], asked: readonly string[]): void {
  const low = new Set(there.map((l) => l.toLowerCase()))
  const missing = asked.find((l) => !low.has(l.toLowerCase()))
  if (missing === undefined) return
  throw new Refused(snippet(missing), drawing.layerOf(oneOf(there, missing)), undefined, 'layers')
}
