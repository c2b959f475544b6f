/** What sentences are made of, and how the page says what the layers below it say. */

import { listed } from './listed.ts'
import { TURNED } from './turned.ts'

/** `mm` less than 0: it stands over that edge. */
const from = (mm: string, edge: 'left' | 'back'): string =>
  mm.startsWith('-') ? `${mm.slice(1)} mm over the ${edge} edge` : `${mm} mm from the ${edge}`

export const sentences = {
  listed,
  /** Reasons without their full stops, as what goes on after “because”. */
  reasons: (texts: readonly string[]): string =>
    texts.length === 0 ? 'the rules leave no place.' : `${texts.join('; and ')}.`,
  /** Wording of findings and conflicts (solver/words.ts) that the page has another way of saying. */
  ofThePage: (text: string): string =>
    text
      // The plan and its rulers call where both are counted from the datum.
      .replace(/\bmust stand at (-?[\d.]+) mm, (-?[\d.]+) mm/g, 'must stay at $1 mm, $2 mm from the datum')
      .replace(/(^|[\s(])-(?=\d)/g, '$1−'),

  /** What would make it fit, as the page says it. */
  loosening: (text: string): string => {
    const said = text
      .replace(/ stand not in the middle\b/g, ' stand off the middle')
      .replace(/ stand not only\b/g, ' stand elsewhere than')
    return said.charAt(0).toUpperCase() + said.slice(1)
  },

  notPlaced: 'not placed',
  pluggedInto: (host: string, place: string): string => `plugged into ${host}, ${place}`,
  onDeck: (deck: string, place: string): string => `${deck}, ${place}`,
  /** Lengths in mm; quarter turns. */
  place: (left: string, back: string, turn: 0 | 1 | 2 | 3): string =>
    `${from(left, 'left')}, ${from(back, 'back')}${turn === 0 ? '' : `, ${TURNED[turn]}`}`,
  size: (width: string, depth: string, height: string): string => `${width} × ${depth} mm, ${height} mm high`,
}
