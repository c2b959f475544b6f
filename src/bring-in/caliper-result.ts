/** A fit of caliper measures as a deck of a project (contract §3) or as a footprint (contract §2), and as text for people. */
import type { FileProblem, Read } from '../../footprints/problems.ts'
import type { FootprintFile } from '../../footprints/schema.ts'
import { mm, toMm } from '../../solver/units.ts'
import type { Project } from '../model/schema.ts'
import {
  type CaliperFit,
  type CaliperMeasures,
  type CaliperResult,
  caliper,
  type Figure,
  type FittedMeasure,
} from './caliper.ts'
import { type MeasuresFile, readMeasures } from './caliper-file.ts'
import { measured } from './words-caliper.ts'

export type DeckFile = Project['decks'][number]

/** mm, rounded as in files. */
const round = (f: Figure): number => toMm(mm(f.value))
const STANDOFF = 5

export const measuresOf = (file: MeasuresFile): CaliperMeasures => ({
  holes: file.holes ?? [],
  measures: file.measures,
  reading: file.caliper?.reading,
  instrument: file.caliper?.instrument,
})

export type Made =
  | { readonly kind: 'deck'; readonly deck: DeckFile }
  | { readonly kind: 'footprint'; readonly footprint: FootprintFile }

export interface MeasuresBroughtIn {
  readonly result: CaliperResult
  /**
   * Only where the measures say one thing: not while a place is loose or has a mirror image that fits as well, nor while a figure rests
   * on nothing but readings that contradict one another: their mean is what nobody measured.
   */
  readonly made: Made | undefined
  readonly text: readonly string[]
}

/** A measures file's text to what it gives; never throws. */
export function bringInMeasures(source: string | Uint8Array, file: string): Read<MeasuresBroughtIn> {
  const read = readMeasures(source, file)
  if (!read.ok) return read
  const result = caliper(measuresOf(read.value))
  const problems = result.status === 'undetermined' ? [] : impossible(result.fit, file)
  if (problems.length > 0) return { ok: false, problems, warnings: read.warnings }
  const sound = result.status === 'fitted' && !result.fit.measures.some(isUnchecked)
  const made = sound ? madeOf(read.value.gives, result.fit) : undefined
  return { ok: true, value: { result, made, text: caliperText(result) }, warnings: read.warnings }
}

/** Whether its readings contradict one another, with neither the rest of them nor another measure to tell which is right. */
const isUnchecked = ({ contrary, slips, normalised }: FittedMeasure): boolean =>
  contrary !== undefined && slips.length === 0 && normalised === undefined

/** Holes that no plate can have: readings that were swapped or belong to another hole. */
function impossible(fit: CaliperFit, file: string): FileProblem[] {
  return fit.holes.flatMap(({ id, x, y, diameter }, i) => {
    const path = `holes[${i}]`
    const where = measured.holeAt(id, x.value, y.value, diameter.value)
    const beyond = Math.max(-x.value, -y.value, x.value - fit.width.value, y.value - fit.depth.value)
    if (diameter.value < 0.001) return [{ file, path, found: where, expected: measured.diameterAbove0 }]
    if (beyond > 0) return [{ file, path, found: where, expected: measured.onPlate }]
    return []
  })
}

/** What `gives` asks for. */
export function madeOf(gives: MeasuresFile['gives'], fit: CaliperFit): Made {
  const holes = fit.holes.map((h) => {
    const at: [number, number] = [round(h.x), round(h.y)]
    return { id: h.id, at, diameter: round(h.diameter) }
  })
  const [width, depth] = [round(fit.width), round(fit.depth)]
  const named = gives.name === undefined ? {} : { name: gives.name }
  if (gives.kind === 'deck') {
    const { id, z, thickness, material } = gives
    const more = material === undefined ? {} : { material }
    return {
      kind: 'deck',
      deck: { id, ...named, z, thickness, outline: { rect: [0, 0, width, depth] }, holes, ...more },
    }
  }
  return {
    kind: 'footprint',
    footprint: {
      format: 'deckwright-footprint',
      version: 1,
      id: gives.id,
      ...named,
      source: measured.source,
      kind: 'part',
      body: { width, depth, height: gives.height },
      mount: { kind: 'screw', standoff: gives.standoff ?? STANDOFF, holes },
    },
  }
}

/** Sentences: sizes and positions with their uncertainty, what does not fit, what is not known. */
export function caliperText(result: CaliperResult): string[] {
  if (result.status === 'undetermined') {
    const points = [...new Set(result.loose.map((u) => u.point))]
    return points.map((p) =>
      measured.loose(
        p,
        result.loose.flatMap((u) => (u.point === p ? [u.what] : [])),
      ),
    )
  }
  const { fit } = result
  const lines = [measured.sizes(fit.width, fit.depth)]
  for (const h of fit.holes) lines.push(measured.hole(h.id, h.x, h.y, h.diameter))
  for (const m of fit.measures) {
    const { measure, contrary, slips } = m
    if (contrary === undefined) continue
    if (slips.length > 0) lines.push(measured.slips(measure, slips))
    else lines.push(measured.contrary(measure, contrary, isUnchecked(m)))
  }
  for (const group of fit.suspects) lines.push(slip(group.map((i) => fit.measures[i]!)))
  if (fit.factor > 1) {
    lines.push(measured.factor(fit.factor))
  }
  if (result.status === 'ambiguous') {
    for (const other of result.others) lines.push(measured.mirrored(other))
  }
  const contradicted = fit.measures.some((k) => k.contrary !== undefined && k.slips.length === 0)
  return [...lines, measured.uncertainty(contradicted), ...fit.assumptions]
}

function slip(group: readonly FittedMeasure[]): string {
  const [m] = group
  return group.length > 1
    ? measured.oneWrong(group.map((g) => g.measure))
    : measured.wrong(m!.measure, m!.value, m!.fitted)
}
