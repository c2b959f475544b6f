/** What would have to be different, and what else there is: loosenings and what-ifs on top of the exact search. */
export { applyChange, applyChanges, type Change, changesText, changeText, type Setting, smallerText } from './change.ts'
export {
  betterFigures,
  type Different,
  type DifferentOptions,
  type DifferentResult,
  different,
  differing,
  distanceOf,
  sameFigures,
} from './different.ts'
export { type Loosening, type LooseningOptions, type Loosenings, loosening, loosenings } from './loosen.ts'
export { addingOne, type OneMore, type OneMoreOptions, oneMore } from './one-more.ts'
export { resized, type Way } from './outline.ts'
export { type DeckSize, type SmallestDeck, type SmallestDeckOptions, sizing, smallestDeck } from './smallest-deck.ts'
export { type TradeOff, type TradeOffOptions, type TradeOffs, tradeOffs, trading } from './trade-offs.ts'
export type { Case, WhatIfOptions } from './trial.ts'
