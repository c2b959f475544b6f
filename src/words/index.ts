/**
 * Every text of the page's own, one file a part of it, so that another language is one more object of the same type. Numbers and
 * names come in as arguments; sentences are whole here, never glued together elsewhere. What the layers below say (findings,
 * conflicts, loosenings, check list, templates and printed sheets) stands in a `words*.ts` of each: DEVELOPERS.md, "Another language".
 */

import { bring } from './bring.ts'
import { corners } from './corners.ts'
import { deck } from './deck.ts'
import { deckWhere } from './deck-where.ts'
import { files } from './files.ts'
import { footprint } from './footprint.ts'
import { head } from './head.ts'
import { keep } from './keep.ts'
import { lengths } from './lengths.ts'
import { making } from './making.ts'
import { page } from './page.ts'
import { parts } from './parts.ts'
import { plan } from './plan.ts'
import { power } from './power.ts'
import { report } from './report.ts'
import { scene } from './scene.ts'
import { sentences } from './sentences.ts'
import { sheet } from './sheet.ts'
import { solves } from './solves.ts'
import { start } from './start.ts'
import { variants } from './variants.ts'

const english = {
  bring,
  corners,
  deck,
  deckWhere,
  files,
  footprint,
  head,
  keep,
  lengths,
  making,
  page,
  parts,
  plan,
  power,
  report,
  scene,
  sentences,
  sheet,
  solves,
  start,
  variants,
}

export type Words = typeof english

/** The words of the language in use. */
export const words: Words = english
