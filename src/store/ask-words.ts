/** Figures of a solve, and what a hold costs, in words. */
import { asShown, type ObjectiveName, type ObjectiveValue } from '../../solver/index.ts'
import { roundUp } from '../model/rounding.ts'
import { words } from '../words/index.ts'
import type { HoldCost } from './ask-cost.ts'
import type { Pending } from './asks.ts'

/** One goal of a layout as it is known now. */
export interface Reached {
  readonly name: ObjectiveName
  /** Contacts, value, holes; Um of lengths. */
  readonly value: number
  readonly bound: number
  /** How much better it could be; undefined where the bound says nothing yet. */
  readonly gap: number | undefined
  /** A sentence. */
  readonly text: string
}

/** Decimals with which people read a goal's figures, on cards and in sentences: mm of lengths; the balance as finely as it is proven. */
const PLACES: Readonly<Record<ObjectiveName, number>> = {
  'free-tie-points': 2,
  'optional-value': 2,
  'new-holes': 2,
  'wire-length': 1,
  balance: 2,
}
const inUnits = (name: ObjectiveName, value: number): number => (isLength(name) ? value / 1000 : value)
const isLength = (name: ObjectiveName): boolean => name === 'wire-length' || name === 'balance'

/** As people read it. */
const read = (name: ObjectiveName, value: number): number =>
  Math.round(inUnits(name, asShown(name, value)) * 10 ** PLACES[name]) / 10 ** PLACES[name]

/** How much better a goal could be, as it is known; undefined where the bound says nothing yet. */
export function gapOf(o: ObjectiveValue): { readonly gap: number; readonly told: number } | undefined {
  const { name, value, bound, proven } = o
  if (proven) return { gap: 0, told: 0 }
  // no length and no number of holes is below nothing, so a bound of 0 tells nothing of a sum that is not 0
  if ((isLength(name) || name === 'new-holes') && bound <= 0) return undefined
  const gap = Math.abs(value - bound)
  // rounded up: so much and no more, and a gap too small to be shown is not none
  return { gap, told: roundUp(inUnits(name, gap), PLACES[name]) }
}

export function reachedOf(o: ObjectiveValue, running: boolean, holds?: 'held' | 'freed'): Reached {
  const { name, value, bound } = o
  const known = gapOf(o)
  return {
    name,
    value,
    bound,
    gap: known?.gap,
    text: words.solves.reached(name, read(name, value), known?.told, running, holds),
  }
}

/** The goal that says most of a solve: the first that is not known to be at its best; without one, the first that counts anything. */
export const firstOpen = (goals: readonly Reached[]): Reached | undefined =>
  goals.find((g) => g.gap !== 0) ?? goals.find((g) => g.value !== 0)

export function costText(cost: Pending<HoldCost>): string {
  const { solves } = words
  if (cost.kind === 'asking') return solves.costAsking
  if (cost.kind === 'failed') return solves.costFailed(cost.error)
  const { value } = cost
  switch (value.kind) {
    case 'nothing':
      return solves.costsNothing
    case 'everything':
      return solves.costsEverything
    case 'neither':
      return solves.costsNeither
    case 'unknown':
      return solves.costUnknown
    case 'cost': {
      const [least, most] = [read(value.goal, value.least), read(value.goal, value.most)]
      if (value.least === value.most) return solves.costsExactly(value.goal, most)
      return least > 0 ? solves.costsBetween(value.goal, least, most) : solves.costsAtMost(value.goal, most)
    }
  }
}
