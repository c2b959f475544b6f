/** Figures as people are shown them: two that read the same are the same to them. */
import type { ObjectiveName } from './problem.ts'

/** Um: wires are read to 0.1 mm; the balance as finely as it is proven (contract §5). */
export const stepShown = (name: ObjectiveName): number => (name === 'wire-length' ? 100 : name === 'balance' ? 10 : 0)

export function asShown(name: ObjectiveName, value: number): number {
  const step = stepShown(name)
  return step === 0 ? value : Math.round(value / step) * step
}

/** The longest that still reads as this length does: a hundredth of a micrometre short of the next, for sums differ in their last digits. */
export const longestShown = (name: ObjectiveName, value: number): number =>
  Math.max(value, asShown(name, value) + stepShown(name) / 2 - 0.01)
