/** What is said of measures taken with a caliper. Another language is another file of the same functions. */
import type { CaliperMeasure, Jaws } from './caliper-model.ts'
import { num } from './words.ts'

/** mm; `u` one standard uncertainty. */
interface Figure {
  readonly value: number
  readonly u: number
}

const figure = (f: Figure): string => (f.u > 0 ? `${num(f.value)} ± ${num(2 * f.u)}` : num(f.value))

const ends = (m: CaliperMeasure): string =>
  m.to === undefined ? `the diameter of ${m.from}` : `${m.from} to ${m.to}${m.jaws === undefined ? '' : `, ${m.jaws}`}`

const loosePoint = (point: string, whats: readonly string[]): string =>
  whats[0] === 'width' || whats[0] === 'depth' ? `the ${point} edge` : `${point} (${whats.join(' and ')})`

export const measured = {
  atMostHoles: (most: number): string => `at most ${most} holes`,
  atMostMeasures: (most: number): string => `at most ${most} measures`,
  atMostReadings: (most: number): string => `at most ${most} readings`,
  readings: 'a list of readings in mm',
  someReadings: 'one reading or more, in mm',
  gives: 'an object with "kind": "deck" or "footprint"',
  otherName: 'another name: this is an edge or corner',
  otherEnd: 'the other end of the measure',
  noJawsDiameter: 'nothing: a diameter needs none',
  differentEnd: 'another end than "from"',
  oppositeEdge: 'the opposite edge: these two meet',
  holeOrEdge: 'a hole or the opposite edge: a corner lies on edges',
  noJaws: 'nothing: there is no hole',
  oneOf: (jaws: readonly Jaws[]): string => `one of ${jaws.map((j) => `"${j}"`).join(', ')}`,
  holeAt: (id: string, x: number, y: number, diameter: number): string =>
    `${id} at [${num(x)}, ${num(y)}], ${num(diameter)} mm wide`,
  diameterAbove0: 'measures that give it a diameter above 0',
  onPlate: 'measures that put it on the plate',
  source: 'measured with a caliper',
  /** `whats`: which figures of the point nobody measured. */
  loose: (point: string, whats: readonly string[]): string =>
    `${loosePoint(point, whats)}: the measures do not say where; measure it from one more edge or hole`,
  sizes: (width: Figure, depth: Figure): string => `width ${figure(width)} mm, depth ${figure(depth)} mm`,
  hole: (id: string, x: Figure, y: Figure, diameter: Figure): string =>
    `${id}: x ${figure(x)}, y ${figure(y)}, diameter ${figure(diameter)} mm`,
  factor: (factor: number): string =>
    `the measures agree ${num(factor)} times worse than their uncertainties say; all uncertainties are larger by it`,
  mirrored: (holes: readonly { readonly id: string; readonly x: number; readonly y: number }[]): string =>
    `fits as well with ${holes.map((h) => `${h.id} at [${num(h.x)}, ${num(h.y)}]`).join(', ')}: say about where it is ("near"), or measure it from one more edge or hole`,
  uncertainty: (contradicted: boolean): string =>
    `what stands after ± is two standard uncertainties: about 95 of 100 lie within${contradicted ? ', but not where readings contradict one another' : ''}`,
  /** `most`: how far readings of one distance are apart at most, mm; `alone`: no other measure tells which is right. */
  contrary: (measure: CaliperMeasure, most: number, alone: boolean): string => {
    const [low, high] = [Math.min(...measure.readings), Math.max(...measure.readings)]
    return `the readings ${num(low)} and ${num(high)} of ${ends(measure)} contradict one another: they are ${num(high - low)} mm apart, and readings of one distance hardly ever more than ${num(most)}; one must be a slip, and they do not say which: measure it again${alone ? ', for nothing is made of it until then' : ''}`
  },
  /** `slips`: those of its readings that all the others speak against. */
  slips: (measure: CaliperMeasure, slips: readonly number[]): string => {
    const rest = measure.readings.filter((r) => !slips.includes(r))
    const [low, high] = [Math.min(...rest), Math.max(...rest)]
    const said = low === high ? num(low) : `${num(low)} to ${num(high)}`
    return `${slips.map(num).join(' and ')} of ${ends(measure)} must be ${slips.length === 1 ? 'a slip' : 'slips'}: the other ${rest.length} readings say ${said}; left out, measure it again`
  },
  oneWrong: (measures: readonly CaliperMeasure[]): string =>
    `one of these does not fit the others, measure them again: ${measures.map(ends).join(' · ')}`,
  wrong: (measure: CaliperMeasure, read: number, fitted: number): string =>
    `${ends(measure)} does not fit: read ${num(read)}, the others say ${num(fitted)} mm; measure it again`,
  rectangle: 'the plate is a rectangle with square corners',
  scatterSeen: (scatter: number, repeats: number): string =>
    `one reading scatters by ${num(scatter)} mm, from ${repeats} repeated ${repeats === 1 ? 'reading' : 'readings'}`,
  scatterTaken: (scatter: number): string => `one reading scatters by ${scatter} mm (common practice, no source)`,
  instrument: (uncertainty: number): string =>
    `the caliper itself is right to ${num(uncertainty)} mm (from memory: 0.03 mm at most)`,
}
