/** Caliper measures as they are typed in rows, and the measures file that they make. Pure; lengths as readLength takes them. */

import { CORNERS, EDGES, isEdge, type Jaws } from '../bring-in/caliper-model.ts'
import { bringInMeasures } from '../bring-in/caliper-result.ts'
import type { ProjectDeck } from '../model/index.ts'
import { readLength } from '../model/lengths.ts'
import type { CaliperForm, MeasureRow } from '../store/caliper-rows.ts'
import { capital } from '../store/sentences.ts'
import { words } from '../words/index.ts'
import { laidAs } from './bring-files.ts'

export interface Fault {
  readonly list: 'holes' | 'measures'
  readonly index: number
  readonly found: string
  readonly expected: string
}

export type CaliperGot =
  | { readonly kind: 'deck'; readonly deck: ProjectDeck; readonly lines: readonly string[] }
  /** Sound so far, but it says too little or two things. */
  | { readonly kind: 'loose'; readonly lines: readonly string[] }
  | { readonly kind: 'faults'; readonly faults: readonly Fault[]; readonly others: readonly string[] }

/** A line as a sentence of its own; one that begins with a hole's name leaves that as it was typed. */
export const lineOf = (form: CaliperForm, line: string): string =>
  form.holes.some(({ id }) => line.startsWith(`${id} `) || line.startsWith(`${id}:`)) ? line : capital(line)

export const withHole = (form: CaliperForm): CaliperForm => {
  const taken = new Set(form.holes.map((h) => h.id))
  for (let k = 1; ; k++) {
    const id = `hole-${k}`
    if (taken.has(id)) continue
    return {
      holes: [...form.holes, { id, diameter: '', nearX: '', nearY: '' }],
      measures: [
        ...form.measures,
        { from: 'left', to: id, jaws: 'near', readings: '' },
        { from: 'front', to: id, jaws: 'near', readings: '' },
        { from: id, to: '', jaws: 'centre', readings: '' },
      ],
    }
  }
}

export const withoutHole = (form: CaliperForm, id: string): CaliperForm => ({
  holes: form.holes.filter((h) => h.id !== id),
  measures: form.measures.filter((m) => m.from !== id && m.to !== id),
})

/** Ends that a measure may have: edges, corners, holes. */
export const endsOf = (form: CaliperForm): readonly string[] => [...EDGES, ...CORNERS, ...form.holes.map((h) => h.id)]

/** Where jaws can touch between two ends; one choice is none. */
export function jawsOf({ from, to }: Pick<MeasureRow, 'from' | 'to'>): readonly Jaws[] {
  if (to === '') return ['centre']
  const holes = [from, to].filter((end) => !isEdge(end) && !(CORNERS as readonly string[]).includes(end)).length
  return holes === 2 ? ['centre', 'inner', 'outer'] : holes === 1 ? ['centre', 'near', 'far'] : ['centre']
}

/** What the rows make in place of `old`, whose height and thickness stay; rows without a reading do not count yet. */
export function caliperDeck(form: CaliperForm, old: ProjectDeck): CaliperGot {
  const faults: Fault[] = []
  const length = (list: Fault['list'], index: number, text: string, least: number): number => {
    const read = readLength(text, { least, most: 10_000 })
    if (read.ok) return read.mm
    faults.push({ list, index, found: read.found, expected: read.expected })
    return Number.NaN
  }
  const holes = form.holes.map((h, i) => ({
    id: h.id,
    ...(h.diameter.trim() === '' ? {} : { diameter: length('holes', i, h.diameter, 0.001) }),
    ...(h.nearX.trim() === '' || h.nearY.trim() === ''
      ? {}
      : { near: [length('holes', i, h.nearX, -10_000), length('holes', i, h.nearY, -10_000)] }),
  }))
  /** Rows with readings, by their number in the form. */
  const rows = form.measures.map((m, i) => [m, i] as const).filter(([m]) => m.readings.trim() !== '')
  const measures = rows.map(([m, i]) => ({
    from: m.from,
    ...(m.to === '' ? {} : { to: m.to }),
    ...(m.jaws !== 'centre' && jawsOf(m).includes(m.jaws) ? { jaws: m.jaws } : {}),
    readings: m.readings
      .split(/[;\n]/)
      .filter((t) => t.trim() !== '')
      .map((t) => length('measures', i, t, 0.001)),
  }))
  if (faults.length > 0) return { kind: 'faults', faults, others: [] }
  const { id, z, thickness } = old
  const gives = { kind: 'deck', id, z, thickness }
  const file = { format: 'deckwright-measures', version: 1, gives, holes, measures }
  const got = bringInMeasures(JSON.stringify(file), '')
  if (!got.ok) {
    const others: string[] = []
    for (const p of got.problems) {
      const [, list, k] = /^(holes|measures)\[(\d+)\]/.exec(p.path) ?? []
      if (list === undefined) others.push(words.deck.caliperWrong(p.path, p.found, p.expected))
      else {
        const index = list === 'holes' ? Number(k) : (rows[Number(k)]?.[1] ?? 0)
        faults.push({ list: list as Fault['list'], index, found: p.found, expected: p.expected })
      }
    }
    return { kind: 'faults', faults, others }
  }
  const { made, text } = got.value
  if (made?.kind !== 'deck') return { kind: 'loose', lines: text }
  return { kind: 'deck', deck: laidAs(old, made.deck), lines: text }
}
