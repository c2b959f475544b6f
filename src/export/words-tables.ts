/** What tables say in their cells and beside them. Lengths in mm. The titles of columns, by which programs go, are in tables-columns.ts. */
import { sizes } from './words.ts'

const tenths = (value: number): number => Math.ceil(value * 10 - 1e-6) / 10

/** Sizes of one thread, as `fine 3.2, medium 3.4, coarse 3.6`. */
type Sizes = readonly { readonly series: string; readonly size: number }[]

const series = (sizes: Sizes): string => sizes.map((s) => `${s.series} ${s.size}`).join(', ')

/** What is under a screw's head, from above. */
const through = {
  board: (thickness: number): string => `board ${thickness} mm (assumed: measure it)`,
  foot: (thickness: number): string => `foot ${thickness} mm (assumed: measure it)`,
  standoff: (height: number): string => `stand-off ${height} mm`,
  deck: (thickness: number): string => `deck ${thickness} mm`,
}

export const hardware = {
  socketHead: 'socket head cap screw',
  stack: (own: { board: boolean; thickness: number }, standoff: number, deck: number): string =>
    [
      own.board ? through.board(own.thickness) : through.foot(own.thickness),
      ...(standoff > 0 ? [through.standoff(standoff)] : []),
      through.deck(deck),
    ].join(', '),
  screw: (thread: string, length: number | undefined, name: string): string =>
    length === undefined ? `${thread} ${name}` : `${thread} × ${length} ${name}`,
  through: (stack: string): string => `through ${stack}, washer, nut`,
  tooLong: (needs: number, longest: number, standard: string, thread: string): string =>
    `needs ${tenths(needs)} mm, longer than the ${longest} mm that ${standard} lists for ${thread}: threaded stand-offs and two screws`,
  headOverLand: (head: number, land: number): string => `its head of ${head} mm is wider than the land of ${land} mm`,
  washer: (thread: string, diameter: number): string => `${thread} plain washer, ⌀ ${diameter} mm`,
  washerOverLand: (land: number): string => `wider than the land of ${land} mm`,
  nut: (thread: string, flats: number): string => `${thread} hexagon nut, ${flats} mm across flats`,
  notes: (notes: readonly string[]): string => notes.join('; '),
  unknownScrew: (screw: string): string => `${screw} screw, nut and washer`,
  unstatedScrew: 'screw, nut and washer, thread not stated',
  noData: (screw: string): string => `no data for ${screw} here`,
  /** `known`: whether a washer and a nut come on top of a usual length. */
  longerThan: (hint: string, sum: number, known: boolean, stack: string): string =>
    `${hint}; longer than ${tenths(sum)} mm${known ? ' by washer and nut' : ''}: through ${stack}`,
  /** Which thread a hole is for, by ISO 273. */
  holeIs: (diameter: number, series: string, thread: string): string =>
    `the hole of ${diameter} mm is the ${series} clearance hole of ${thread} (ISO 273)`,
  holeNarrow: (diameter: number): string =>
    `the hole of ${diameter} mm is narrower than the clearance holes of ISO 273 from M2 on`,
  holeTakes: (diameter: number, thread: string, sizes: Sizes): string =>
    `the hole of ${diameter} mm would take ${thread} (ISO 273: ${series(sizes)})`,
  holeWide: (diameter: number): string =>
    `the hole of ${diameter} mm is wider than the clearance holes of ISO 273 up to M5`,
  holeLoose: (diameter: number, thread: string, sizes: Sizes): string =>
    `the hole of ${diameter} mm is loose for ${thread} (ISO 273: ${series(sizes)}) and tight for the next`,
  standoff: (height: number, thread: string): string =>
    `stand-off ${height} mm, plain${thread === '' ? '' : `, clear of ${thread}`}`,
  standoffNote: 'the screw goes through it; a threaded one of this height takes two shorter screws instead',
  dropIn: (width: number, depth: number): string => `part dropped into a cut-out of ${width} × ${depth} mm`,
  dropInNote: (below: number): string => `reaches ${below} mm under the top face of the deck`,
  adhesive: 'double-sided adhesive',
  adhesiveNote: 'the whole underside of the envelope; clean and de-grease both faces first',
  strap: 'strap',
  strapUpTo: (width: number): string => `strap up to ${width} mm wide`,
  strapRound: (round: number, closing: number, pack: boolean): string =>
    `${round} mm round body and deck, and ${closing} mm to close it (assumed)${pack ? '; hold the pack, do not squeeze it' : ''}`,
  noSlots: 'the footprint has no slots for it',
  oneSlot: 'this slot has no other that faces it: measure the way',
}

export const drill = {
  axes: 'x runs to the right, y to the front, in mm from the centre of the hole to 0,0 of the project.',
  corner: `"From left" and "from lower edge" are measured from that corner.`,
  tolerance: (steps: readonly { readonly upTo: number; readonly tolerance: number }[]): string =>
    `Where nothing else is asked for, ISO 2768-m will do: ${steps.map((s) => `± ${s.tolerance} up to ${s.upTo} mm`).join(', ')}.`,
  /** Where the lower-left corner of the outline's box lies from 0,0. */
  datum: (x: number, y: number): string => {
    const off = [
      ...(x === 0 ? [] : [`${Math.abs(x)} mm ${x > 0 ? 'to the left of' : 'to the right of'}`]),
      ...(y === 0 ? [] : [`${Math.abs(y)} mm ${y > 0 ? 'below' : 'above'}`]),
    ]
    const corner = "the lower-left corner of the outline's bounding box"
    return `0,0 lies ${off.length === 0 ? `on ${corner}` : `${off.join(' and ')} ${corner}`}.`
  },
  /** What the table leaves out. */
  thereAlready: (list: readonly { readonly count: number; readonly diameter: number }[]): string =>
    `Not in this table: ${sizes(list)}, holes taken to be there already (grey in the drawings). On a new plate make these first, or have them made.`,
  fit: (thread: string, series: string, tolerance: string): string => `${thread} ${series}, ${tolerance}`,
  noTool: 'no drill of the standard series from 1 to 13.9 mm: use a step drill, a hole saw or the cutter',
  wider: (by: number): string => `the drill is ${by} mm wider than the hole`,
  notClearance: (thread: string, right: readonly number[]): string =>
    `not a clearance hole of ISO 273 for ${thread} (${right.join(', ')})`,
}

export const bill = { later: 'later: its place is kept, nothing is made or mounted for it now' }

export const headers = {
  single: 'single pins: many such parts have legs of their own and need none',
  /** `items` as often as each needs a strip: `brain (2), display`. */
  items: (items: readonly string[]): string =>
    [...new Set(items)]
      .map((id) => {
        const strips = items.filter((other) => other === id).length
        return strips === 1 ? id : `${id} (${strips})`
      })
      .join(', '),
}

export const wires = {
  exit: (exit: string): string => `lead at ${exit}`,
  end: (item: string, terminal: string, name: string | undefined): string =>
    `${item}, ${terminal}${name === undefined ? '' : ` (${name})`}`,
  onlyIn: (variants: readonly string[]): string =>
    `only in variant${variants.length === 1 ? '' : 's'} ${variants.join(', ')}`,
  keepFor: (item: string, to: string, variant: string): string => `${item} on ${to}, from variant ${variant}`,
  inVariant: (variant: string, text: string): string => `variant ${variant}: ${text}`,
  /** What is said of one wire, nothing left out. */
  notes: (notes: readonly string[]): string => notes.filter((n) => n !== '').join('; '),
  round: (further: number): string => `${tenths(further)} mm of it go round what is in its way`,
  noWay: (by: readonly string[]): string =>
    by.length === 0
      ? 'do not cut it yet: no pass leads from deck to deck'
      : `do not cut it yet, make room or measure with a thread: no way on the deck is open, ${by.join(', ')} in its way`,
  doesNotReach: (needed: number, there: number): string =>
    `does not reach: needs ${tenths(needed)} mm, and there are ${there} mm of it`,
  /** `free`: what there is of it beyond the deck, where that is known. */
  leadThere: (free: number | undefined): string =>
    `the lead is there already${free === undefined ? '' : `, ${free} mm free beyond the deck`}`,
}
