/** The files that the export sheet hands out. What is shown of a file is made from the file itself, so the two cannot differ. */
import { mm } from '../../solver/index.ts'
import type { Wiring } from '../electric/routes-settings.ts'
import { type Pen, pens, sheet, svg, type Template, type TemplateOptions, template } from '../export/index.ts'
import type { CheckList } from '../export/pdf.ts'
import type { PdfPart } from '../export/pdf-parts.ts'
import type { OtherLayout } from '../export/tables.ts'
import type { DrawnGroup, Shop } from '../store/export-settings.ts'
import type { View } from '../store/view.ts'
import { words } from '../words/index.ts'
import type { PageMap } from './export-pdf-map.ts'

export const KINDS = ['svg', 'dxf', 'pdf', 'tables', 'pictures', 'gltf'] as const
export type Kind = (typeof KINDS)[number]

/** How the files stand, in a sentence; empty where none are to be had, which is said elsewhere. */
export function standing(now: {
  /** Files can be made of the layout at all. */
  readonly asked: boolean
  /** How many fields hold what cannot be. */
  readonly wrong: number
  readonly busy: boolean
  readonly files: number
}): string {
  const { files } = words
  if (!now.asked) return ''
  if (now.wrong > 0) return files.notReady
  if (now.busy) return files.beingMade
  return now.files > 0 ? files.ready(now.files) : ''
}

export interface Asked {
  readonly view: Pick<View, 'problem' | 'placements'> & { readonly sheet: Pick<View['sheet'], 'variant'> }
  /** Name of the project file. */
  readonly file: string
  readonly shop: Shop
  readonly asMade: boolean
  /** Layouts of the other variants, for the longest wires. */
  readonly others: readonly OtherLayout[]
  /** How leads are laid, by variant: of this one and the others. Missing = lengths are for straight ways. */
  readonly wiring?: ReadonlyMap<string, Wiring>
  /** Of the PDF; default all. */
  readonly parts?: readonly PdfPart[]
  /** Of the PDF, once the layout has been looked at. */
  readonly checkList?: CheckList
  /** Of the pictures; default light. */
  readonly look?: 'light' | 'dark'
}

export type Cell = string | number | null

/** How a file is shown beside its button. */
export type Shows =
  | { readonly kind: 'image'; readonly width: number; readonly height: number; readonly unit: 'mm' | 'pixels' }
  | { readonly kind: 'dxf' }
  | { readonly kind: 'pdf'; readonly pages: number; readonly paper: string; readonly maps: readonly PageMap[] }
  | {
      readonly kind: 'table'
      readonly columns: readonly string[]
      readonly rows: readonly (readonly Cell[])[]
      readonly notes: readonly string[]
    }
  | { readonly kind: 'solid' }

export interface Made<Data extends string | Uint8Array = string | Uint8Array> {
  readonly name: string
  readonly type: string
  readonly data: Data
  /** What it is, for people: `main deck`. */
  readonly title: string
  readonly shows: Shows
}

/** Letters, digits and a few signs: what every system takes for a file's name. */
export const safe = (text: string): string => text.replace(/[^\p{L}\p{N}._ -]/gu, '_')

export const stem = ({ view, file }: Asked): string => safe(`${file.replace(/\.json$/i, '')}-${view.sheet.variant}`)

export const drawingOptions = ({ shop, asMade }: Pick<Asked, 'shop' | 'asMade'>): TemplateOptions => ({
  kerf: mm(shop.kerf),
  asMade,
  laserHoles: shop.laserHoles,
  marksAsPaths: shop.marksAsPaths,
  ...(shop.tabs > 0 ? { tabs: { count: shop.tabs, width: mm(shop.tabWidth) } } : {}),
})

const pensOf = (colours: Shop['colours']): Partial<Record<DrawnGroup, Pen>> =>
  Object.fromEntries(
    Object.entries(colours).map(([group, colour]) => [group, { ...pens[group as DrawnGroup], colour }] as const),
  )

/** One deck's template as SVG. Throws OffsetError and MergeError. */
export function deckSvg(asked: Asked, deck: number): Made<string> {
  const { problem, placements } = asked.view
  return svgOf(asked, template(problem, placements, deck, drawingOptions(asked)), deck)
}

export function svgOf(asked: Asked, drawing: Template, deck: number | undefined): Made<string> {
  const { view } = drawing
  return {
    ...named(asked, deck, 'svg'),
    type: 'image/svg+xml',
    data: svg(drawing, pensOf(asked.shop.colours)),
    shows: { kind: 'image', width: view.x1 - view.x0, height: view.y1 - view.y0, unit: 'mm' },
  }
}

export function named(asked: Asked, deck: number | undefined, ending: string): { name: string; title: string } {
  const { decks } = asked.view.problem
  const one = deck === undefined ? undefined : decks[deck]
  return {
    name: `${stem(asked)}-${one ? safe(one.id) : 'all-decks'}.${ending}`,
    title: one?.name ?? words.files.sideBySide(decks.map((d) => d.name)),
  }
}

export function drawings(asked: Asked): { drawing: Template; deck: number | undefined }[] {
  const { problem, placements } = asked.view
  const options = drawingOptions(asked)
  return asked.shop.together && problem.decks.length > 1
    ? [{ drawing: sheet(problem, placements, options), deck: undefined }]
    : problem.decks.map((_, deck) => ({ drawing: template(problem, placements, deck, options), deck }))
}
