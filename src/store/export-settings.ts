/**
 * What the workshop's machines ask for: settings of the user and not of a project, so they are kept beside the documents and
 * not in them. Lengths in mm, as they are typed.
 */
import { words } from '../words/index.ts'
import type { Shelf } from './shelf.ts'

export type DrawnGroup = 'cut' | 'drill' | 'existing' | 'mark' | 'notes'

export interface Shop {
  /** Full width of the cut, 0 to 10. */
  readonly kerf: number
  readonly laserHoles: boolean
  readonly marksAsPaths: boolean
  /** Gaps left standing in every larger cut line, 0 to 20, and how wide, 0.1 to 10. */
  readonly tabs: number
  readonly tabWidth: number
  /** All decks side by side in one file. */
  readonly together: boolean
  readonly dxf: 'r2000' | 'r12'
  readonly paper: 'A4' | 'Letter'
  /** `#rrggbb` by group: cutters tell cuts from marks by them. A group that is missing keeps its own colour. */
  readonly colours: Readonly<Partial<Record<DrawnGroup, string>>>
}

export const SHOP: Shop = {
  kerf: 0,
  laserHoles: false,
  marksAsPaths: false,
  tabs: 0,
  tabWidth: 1.5,
  together: false,
  dxf: 'r2000',
  paper: 'A4',
  colours: {},
}

/** From what to what a typed number of the shop may go. */
export const LIMITS = {
  kerf: { least: 0, most: 10 },
  tabs: { least: 0, most: 20 },
  tabWidth: { least: 0.1, most: 10 },
} as const

/** What of it changes a cutting file, in words; empty where all is plain. */
export function inWords(shop: Shop): string {
  const { colours, kerf, laserHoles, marksAsPaths, tabs } = words.making.with
  return [
    shop.kerf > 0 ? kerf(shop.kerf) : '',
    shop.tabs > 0 ? tabs(shop.tabs, shop.tabWidth) : '',
    shop.laserHoles ? laserHoles : '',
    shop.marksAsPaths ? marksAsPaths : '',
    Object.keys(shop.colours).length > 0 ? colours : '',
  ]
    .filter((text) => text !== '')
    .join(', ')
}

export const SHELF_KEY = 'deckwright-workshop'

/** What was kept, field by field: what is missing or makes no sense is as in `SHOP`. Never throws. */
export function recallShop(shelf: Shelf | undefined): Shop {
  try {
    const text = shelf?.getItem(SHELF_KEY)
    return text ? shopFrom(JSON.parse(text)) : SHOP
  } catch {
    return SHOP
  }
}

/** Keeps it; false where the browser refuses, as it may in a private window or when its room is full. */
export function keepShop(shelf: Shelf | undefined, shop: Shop): boolean {
  try {
    shelf?.setItem(SHELF_KEY, JSON.stringify(shop))
    return shelf !== undefined
  } catch {
    return false
  }
}

const GROUPS: readonly DrawnGroup[] = ['cut', 'drill', 'existing', 'mark', 'notes']

function shopFrom(value: unknown): Shop {
  if (typeof value !== 'object' || value === null) return SHOP
  const kept = value as Readonly<Record<string, unknown>>
  const length = (key: keyof typeof LIMITS): number => {
    const v = kept[key]
    const { least, most } = LIMITS[key]
    return typeof v === 'number' && v >= least && v <= most ? v : SHOP[key]
  }
  const yes = (key: 'laserHoles' | 'marksAsPaths' | 'together'): boolean =>
    typeof kept[key] === 'boolean' ? kept[key] : SHOP[key]
  const own = typeof kept.colours === 'object' && kept.colours !== null ? kept.colours : {}
  const colours = Object.fromEntries(
    Object.entries(own).filter(
      ([group, colour]) =>
        GROUPS.some((g) => g === group) && typeof colour === 'string' && /^#[0-9a-f]{6}$/i.test(colour),
    ),
  )
  return {
    kerf: length('kerf'),
    laserHoles: yes('laserHoles'),
    marksAsPaths: yes('marksAsPaths'),
    tabs: Math.round(length('tabs')),
    tabWidth: length('tabWidth'),
    together: yes('together'),
    dxf: kept.dxf === 'r12' ? 'r12' : SHOP.dxf,
    paper: kept.paper === 'Letter' ? 'Letter' : SHOP.paper,
    colours,
  }
}
