/** When a value is called proven (contract §5): one place for all that says so. */
import type { ObjectiveValue } from './result.ts'

/** Balance, Um. */
const NEAR = 10

/** A value is its bound; balance to 0.01 mm, in whole micrometres as files have them, where a bound is rounded down. */
export const isProven = ({
  name,
  value,
  bound,
}: Pick<ObjectiveValue, 'value' | 'bound'> & { name: string }): boolean =>
  name === 'balance' ? Math.round(value) - Math.floor(bound + 1e-6) <= NEAR : value === bound
