import { type CaliperFit, type CaliperMeasures, type CaliperResult, caliper } from '../../src/bring-in/caliper.ts'

/** `left>a` near 10.2 10.3 … as measures, for short tests. */
export function measures(
  lines: readonly string[],
  holes: CaliperMeasures['holes'],
  more: Partial<CaliperMeasures> = {},
) {
  const read = lines.map((line) => {
    const [ends, ...rest] = line.split(' ')
    const [from, to] = ends!.split('>')
    const jaws = rest.filter((w) => Number.isNaN(Number(w)))[0]
    return {
      from: from!,
      ...(to === undefined ? {} : { to }),
      ...(jaws === undefined ? {} : { jaws: jaws as 'near' }),
      readings: rest.map(Number).filter((v) => !Number.isNaN(v)),
    }
  })
  return { holes, measures: read, ...more }
}

export function fitOf(result: CaliperResult, status: 'fitted' | 'ambiguous' = 'fitted'): CaliperFit {
  if (result.status !== status) throw new Error(JSON.stringify(result))
  return (result as { fit: CaliperFit }).fit
}
export const fitted = (...args: Parameters<typeof measures>) => fitOf(caliper(measures(...args)))
export const at = (f: CaliperFit, id: string) => f.holes.find((h) => h.id === id)!

/** Normally scattered numbers from a seed: Box & Muller 1958 over a 32-bit generator. */
export function normal(seed: number): () => number {
  let state = seed >>> 0
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) >>> 0
    let t = Math.imul(state ^ (state >>> 15), state | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return (((t ^ (t >>> 14)) >>> 0) + 0.5) / 2 ** 32
  }
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform())
}
