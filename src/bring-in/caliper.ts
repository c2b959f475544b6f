/**
 * Positions from a caliper's readings: the plate's size and its holes so that all measures fit best, with the standard uncertainty of
 * each figure. Uncertainty of a mean of readings: JCGM 100:2008 (GUM) §4.2, type A; of the fit: the law of propagation, which for
 * least squares is the Gauss–Markov covariance. A measure that does not fit: normalised residual (Baarda 1968). References from memory.
 */
import { adjust, type Fitted, looseAt, normal, type Target } from './caliper-fit.ts'
import { cholesky, inverse, type Matrix } from './caliper-matrix.ts'
import {
  type CaliperMeasure,
  type CaliperMeasures,
  DEPTH,
  type Model,
  modelOf,
  type Unknown,
  WIDTH,
} from './caliper-model.ts'
import { mean, type Repeats, repeatsOf, spreadOf } from './caliper-repeats.ts'
import { answersBeside, startOf } from './caliper-start.ts'
import { measured } from './words-caliper.ts'

export type { CaliperHole, CaliperMeasure, CaliperMeasures, Jaws } from './caliper-model.ts'

/** mm; `u` is one standard uncertainty, 0 where the figure was given. */
export interface Figure {
  readonly value: number
  readonly u: number
}

export interface FittedMeasure {
  readonly measure: CaliperMeasure
  /** Mean of the readings, and what the fit makes of the same distance. */
  readonly value: number
  readonly fitted: number
  readonly u: number
  /** Sample standard deviation of the readings, where there are two or more. */
  readonly spread: number | undefined
  /** How far the readings could be apart at most, mm, where they are further and so contradict one another. */
  readonly contrary: number | undefined
  /** Those of its readings that the others of them show to be slips; the fit leaves them out. */
  readonly slips: readonly number[]
  /** Residual over its own standard deviation; undefined where no other measure checks this one. */
  readonly normalised: number | undefined
  /** One of `suspects`. */
  readonly suspect: boolean
}

export interface CaliperFit {
  readonly width: Figure
  readonly depth: Figure
  readonly holes: readonly { readonly id: string; readonly x: Figure; readonly y: Figure; readonly diameter: Figure }[]
  readonly measures: readonly FittedMeasure[]
  /**
   * Slips, by indices of measures: the worst normalised residual above 3, then the next without it (data snooping). A group of
   * several: any one of them would explain it, and no other measure tells which.
   */
  readonly suspects: readonly (readonly number[])[]
  readonly chi2: number
  /** Measures beyond what is needed. */
  readonly freedom: number
  /** Above 1 where the measures fit worse than their uncertainties say (1 % level): all `u` of figures are larger by it. */
  readonly factor: number
  readonly assumptions: readonly string[]
}

export type CaliperResult =
  | { readonly status: 'fitted'; readonly fit: CaliperFit }
  /** Other answers fit as well: a hole mirrored, mostly. `about` a hole's place, `near`, decides. */
  | {
      readonly status: 'ambiguous'
      readonly fit: CaliperFit
      readonly others: readonly { readonly id: string; readonly x: number; readonly y: number }[][]
    }
  /** The measures do not say where these are. */
  | { readonly status: 'undetermined'; readonly loose: readonly Unknown[] }

/** The instrument's own standard uncertainty, mm: 0.03 at most, taken as √3 wide. */
const INSTRUMENT = 0.03 / Math.sqrt(3)
const SUSPECT = 3
/** Normalised residuals that differ by less say the same. */
const TIED = 0.001

/** `m` is sound: holes known, every measure without fault, readings above 0. Same input, same answer. */
export function caliper(m: CaliperMeasures): CaliperResult {
  const assumptions: string[] = [measured.rectangle]
  const repeats = repeatsOf(
    m.measures.map((k) => k.readings),
    m.reading,
  )
  const target = targetOf(m, repeats, assumptions)
  const start = startOf(target, m)
  const best = adjust(target, start)
  const loose = looseAt(target, best.x)
  if (loose.length > 0) return { status: 'undetermined', loose: loose.map((i) => target.model.unknowns[i]!) }
  const { answer, others } = answersBeside(target, m, best)
  const looseThere = looseAt(target, answer.x)
  if (looseThere.length > 0) return { status: 'undetermined', loose: looseThere.map((i) => target.model.unknowns[i]!) }
  const fitted = told(target, m, repeats, answer, assumptions)
  if (others.length === 0) return { status: 'fitted', fit: fitted }
  const moved = others.map((o) =>
    target.model.holes.flatMap(({ id, x, y }) => {
      const away = Math.hypot(o.x[x]! - answer.x[x]!, o.x[y]! - answer.x[y]!)
      return away > 0.1 ? [{ id, x: o.x[x]!, y: o.x[y]! }] : []
    }),
  )
  return { status: 'ambiguous', fit: fitted, others: moved }
}

/**
 * Means, and their uncertainties: scatter over √readings (GUM §4.2.3) and the instrument, in quadrature (§5.1.2). Readings that must be slips
 * are left out. Where the rest contradict one another still, or do not say which is the slip, their own scatter counts.
 */
function targetOf(m: CaliperMeasures, { reading, seen, contrary, slips }: Repeats, assumptions: string[]): Target {
  if (seen !== undefined) assumptions.push(measured.scatterSeen(reading, seen))
  else if (m.reading === undefined) assumptions.push(measured.scatterTaken(reading))
  const own = m.instrument ?? INSTRUMENT
  if (m.instrument === undefined) assumptions.push(measured.instrument(INSTRUMENT))
  const kept = m.measures.map((k, i) => k.readings.filter((r) => !slips.get(i)?.includes(r)))
  return {
    model: modelOf(m),
    values: kept.map(mean),
    uncertainties: kept.map((readings, i) => {
      const scatter = contrary.has(i) ? Math.max(reading, spreadOf(readings)!) : reading
      return Math.hypot(scatter / Math.sqrt(readings.length), own)
    }),
  }
}

interface Judged {
  readonly covariance: Matrix
  readonly fittedValues: readonly number[]
  readonly normalised: readonly (number | undefined)[]
}

function judge(target: Target, x: readonly number[]): Judged {
  const { n } = normal(target, x)
  const factor = cholesky(n)
  // Not loose, so it is positive.
  if (factor === undefined) throw new Error('a fit that is determined has no covariance')
  const covariance = inverse(factor)
  const fittedValues: number[] = []
  const normalised = target.model.equations.map((e, i) => {
    const gradient: number[] = []
    const value = e.at(x, gradient)
    fittedValues.push(value)
    let own = 0
    e.on.forEach((p, a) => {
      e.on.forEach((q, b) => {
        own += gradient[a]! * gradient[b]! * covariance[p]![q]!
      })
    })
    const u = target.uncertainties[i]!
    // Redundancy: 1 where all others know the distance already, 0 where nothing else says it.
    const redundancy = 1 - own / u ** 2
    return redundancy < 1e-4 ? undefined : (value - target.values[i]!) / (u * Math.sqrt(redundancy))
  })
  return { covariance, fittedValues, normalised }
}

/** The 99 % point of chi² (Wilson & Hilferty 1931). */
const most = (freedom: number): number =>
  freedom * (1 - 2 / (9 * freedom) + 2.326348 * Math.sqrt(2 / (9 * freedom))) ** 3

function told(
  target: Target,
  m: CaliperMeasures,
  { contrary, slips }: Repeats,
  answer: Fitted,
  assumptions: readonly string[],
): CaliperFit {
  const { model } = target
  const { covariance, fittedValues, normalised } = judge(target, answer.x)
  const freedom = m.measures.length - model.unknowns.length
  const factor = freedom > 0 && answer.chi2 > most(freedom) ? Math.sqrt(answer.chi2 / freedom) : 1
  const figure = (i: number): Figure => ({ value: answer.x[i]!, u: factor * Math.sqrt(covariance[i]![i]!) })
  const suspects = suspectsOf(target, answer)
  return {
    width: figure(WIDTH),
    depth: figure(DEPTH),
    holes: model.holes.map(({ id, x, y, d }, i) => ({
      id,
      x: figure(x),
      y: figure(y),
      diameter: d === undefined ? { value: m.holes[i]!.diameter!, u: 0 } : figure(d),
    })),
    measures: m.measures.map((measure, i) => ({
      measure,
      value: target.values[i]!,
      fitted: fittedValues[i]!,
      u: target.uncertainties[i]!,
      spread: spreadOf(measure.readings),
      contrary: contrary.get(i),
      slips: slips.get(i) ?? [],
      normalised: normalised[i],
      suspect: suspects.some((group) => group.includes(i)),
    })),
    suspects,
    chi2: answer.chi2,
    freedom,
    factor,
    assumptions,
  }
}

/** The worst measure is taken away and the rest fitted anew, until none is worse than it should be. */
function suspectsOf(target: Target, answer: Fitted): number[][] {
  const groups: number[][] = []
  let left = target.values.map((_, i) => i)
  let x = answer.x
  for (let round = 0; round < 20; round++) {
    const size = judge(partOf(target, left), x).normalised.map((w) => Math.abs(w ?? 0))
    const worst = Math.max(0, ...size)
    if (worst <= SUSPECT) break
    groups.push(left.filter((_, k) => size[k]! > worst * (1 - TIED)))
    left = left.filter((_, k) => k !== size.indexOf(worst))
    const rest = partOf(target, left)
    // A start from the old answer, which the slip pulled away, finds the nearest new one.
    x = adjust(rest, x).x
    if (looseAt(rest, x).length > 0) break
  }
  return groups
}

function partOf(target: Target, keep: readonly number[]): Target {
  const model: Model = { ...target.model, equations: keep.map((i) => target.model.equations[i]!) }
  return { model, values: keep.map((i) => target.values[i]!), uncertainties: keep.map((i) => target.uncertainties[i]!) }
}
