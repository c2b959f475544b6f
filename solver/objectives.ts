/** Of objectives: which of a problem's count, and which way is better. */
import type { ObjectiveName, Problem } from './problem.ts'

/** Those that a problem asks for; without chassis, balance is left out. */
export const objectivesOf = (problem: Problem): ObjectiveName[] =>
  problem.objective.filter((name) => name !== 'balance' || problem.chassis !== undefined)

/** Most is best; of all others least. */
export const isMost = (name: ObjectiveName): boolean => name === 'free-tie-points' || name === 'optional-value'
