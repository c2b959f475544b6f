/**
 * What templates, pictures and models say, and why a template cannot be made. The words of printed sheets are in words-sheets.ts,
 * those of tables in words-tables.ts, cautions in cautions.ts and assembly-cautions.ts. Plain functions of names and millimetres;
 * whoever calls them decides nothing about wording. Another language is another set of these files.
 */
import type { Zone } from '../../solver/index.ts'

/** To a thousandth, without trailing zeros. */
export const number = (value: number): string => String(Math.round(value * 1000) / 1000 || 0)

/** With a capital, to begin a line. */
export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

const rounded = (v: number): number => Math.round(v * 100) / 100 || 0

/** What things are called. */
export const called = {
  variant: (project: string, variant: string): string => `${project}, variant ${variant}`,
  later: (item: string): string => `${item} (later)`,
  hole: (item: string): string => `a hole of ${item}`,
  slot: (item: string): string => `a slot of ${item}`,
  cutout: (item: string): string => `the cut-out of ${item}`,
  outline: (deck: string): string => `the outline of ${deck}`,
  opening: (opening: string, deck: string): string => `opening ${opening} of ${deck}`,
  exit: (exit: string): string => `exit ${exit}`,
  pass: (pass: string): string => `pass ${pass}`,
  /** Lines that are made one. */
  merged: (names: readonly string[]): string => names.join(', with '),
}

/** Why lines cannot be made, of the lines that `called` names. */
export const refused = {
  of: (line: string, why: string): string => `${line}: ${why}`,
  alongOneAnother: (lines: string): string => `${lines}: their lines run along one another and cannot be made one`,
  nothingLeft: (lines: string): string => `${lines}: nothing is left between them`,
  closesUp: (x: number, y: number, by: number): string =>
    `the contour closes up near x ${rounded(x)}, y ${rounded(y)} when it is moved by ${by} mm, half the kerf`,
}

/** `deck lid, birch ply`. */
const withMaterial = (deck: string, material: string | undefined): string => `${deck}${material ? `, ${material}` : ''}`

const corner = (x: number, y: number): string => `lower left of the outline's box, x ${number(x)} y ${number(y)} mm`

interface HoleCount {
  readonly count: number
  readonly diameter: number
  readonly screw: string | undefined
}

/** `Drill 4 × 3.2 mm (M3), 2 × 2.7 mm.` */
const holes = (list: readonly HoleCount[], cut: boolean): string => {
  if (list.length === 0) return 'Drill: no new hole.'
  const all = list.map((h) => `${h.count} × ${number(h.diameter)} mm${h.screw ? ` (${h.screw})` : ''}`).join(', ')
  return cut ? `New holes are cut, not drilled: ${all}.` : `Drill ${all}.`
}

/** `4 × 3.4 mm, 2 × 2.7 mm`. */
export const sizes = (list: readonly { readonly count: number; readonly diameter: number }[]): string =>
  list.map((h) => `${h.count} × ${number(h.diameter)} mm`).join(', ')

/** The lines on a template. mm. */
export const template = {
  title: (project: string, variant: string, deck: string): string => `${called.variant(project, variant)}, ${deck}`,
  sheetTitle: (project: string, variant: string, decks: readonly string[]): string =>
    `${called.variant(project, variant)}, decks ${decks.join(', ')}`,
  one: (project: string, variant: string, deck: string, material: string | undefined): string =>
    `${called.variant(project, variant)}, ${withMaterial(deck, material)}`,
  many: (project: string, variant: string, decks: number): string =>
    `${called.variant(project, variant)}, ${decks} decks side by side`,
  printAt: 'Use at 100 %, not fit to page: measure the bar before anything is cut or drilled.',
  datum: (x: number, y: number): string => `Datum (cross): ${corner(x, y)}; x to the right, y to the front.`,
  /** One deck of several on a sheet, `shift` to the right of its own place. */
  ofMany: (
    deck: string,
    material: string | undefined,
    thickness: number,
    x: number,
    y: number,
    shift: number,
    holeList: string,
  ): string => {
    const where = shift === 0 ? 'in its own place' : `${number(shift)} mm to the right of its own place`
    return `${capital(withMaterial(deck, material))}, ${number(thickness)} mm thick. Datum (cross): ${corner(x, y)}; drawn ${where}. ${holeList}`
  },
  differ: 'These decks are not of one thickness or material: cut each from its own stock.',
  kerf: (kerf: number): string =>
    `Kerf ${number(kerf)} mm (full width) is allowed for in the cut lines alone: outline out by half of it, all else in.`,
  noKerf: 'Kerf: none allowed for.',
  asMade: 'The plate exists already: make only the new holes, slots and cut-outs.',
  holes,
  /** Of holes in the group `existing`; `made`: the plate exists. */
  thereAlready: (list: readonly { readonly count: number; readonly diameter: number }[], made: boolean): string =>
    `Grey (existing): ${sizes(list)}, holes taken to be there already.${made ? '' : ' On a new plate make these first, or have them made.'}`,
  tabs: (count: number, width: number, from: number): string =>
    `Tabs: up to ${count} of ${number(width)} mm stand in every cut line that is ${from} mm or more both ways, whose lines are open there on purpose; cut them by hand and file them flush.`,
  front: 'front',
  length: (length: number): string => `${length} mm`,
}

const ZONES: Readonly<Record<Zone['kind'], string>> = {
  'keep-out': 'kept out',
  reserved: 'reserved',
  view: 'view',
  underside: 'no holes',
}

const because = (reason: string | undefined, before: string): string => (reason ? `${before}${reason}` : '')

/** Titles of what is in a picture, and its key. */
export const picture = {
  title: (project: string, variant: string): string => `${project}, ${variant}`,
  plan: (title: string): string => `Plan of ${title}, seen from above`,
  /** Over each deck; `deck` only where there are several. */
  above: (deck: string | undefined): string => `${deck === undefined ? '' : `${deck}, `}front at the top`,
  zone: (kind: Zone['kind'], zone: string, reason: string | undefined): string =>
    `${ZONES[kind]}: ${zone}${because(reason, ', ')}`,
  corridor: (corridor: string, item: string, reason: string | undefined): string =>
    `corridor ${corridor} of ${item}${because(reason, ': ')}`,
  sweep: (head: string): string => `sweep of ${head}`,
  contacts: (board: string, free: number, covered: number): string =>
    `${free} free contacts on ${board}, ${covered} covered`,
  wire: (number: number, wire: string): string => `wire ${number}: ${wire}`,
  wireBarred: (number: number, wire: string): string => `wire ${number}: ${wire}, no way is open on the deck`,
  key: (sign: string): string => `key: ${sign}`,
  scaleBar: (length: number): string => `scale bar, ${length} mm`,
  signs: {
    body: 'body',
    later: 'kept for later',
    free: 'free contact',
    covered: 'covered contact',
    firstPin: 'first pin',
    corridor: 'corridor',
    sweep: 'sweep',
    zone: ZONES,
    exit: 'exit or pass',
    wire: 'wire',
    barred: 'wire without a way on the deck',
  },
}

/** Names of what is in a model. */
export const model = {
  deck: (deck: string): string => `deck ${deck}`,
  contacts: (board: string): string => `${board} free contacts`,
  stack: (item: string): string => `${item} stack`,
  corridor: (item: string, corridor: string): string => `${item} corridor ${corridor}`,
  sweep: (head: string): string => `${head} sweep`,
  wire: (wire: string): string => `wire ${wire}`,
}
