/** Drawings brought in: decks from DXF and SVG. */
export { bringInDeck, type DeckBroughtIn, type DeckOptions, type DeckReport } from './deck.ts'
export { ASKED as UNITS_ASKED, isUnit, type Unit } from './units.ts'
