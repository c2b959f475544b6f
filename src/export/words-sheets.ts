/** What printed sheets say: the pages of decks, paper dummies and the assembly sheet with its order of work. Lengths in mm. */
import type { Mount, Turn } from '../../solver/index.ts'
import { capital, number } from './words.ts'

const count = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`

/** Labels and feet of pages. */
export const pages = {
  printAt: 'Print at 100 %, not fit to page, and measure this bar: 100 mm.',
  bar: '100 mm',
  page: (name: string, page: number, of: number): string => `${name}: page ${page} of ${of}`,
  tile: (
    name: string,
    sheet: number,
    of: number,
    row: readonly [number, number],
    column: readonly [number, number],
  ): string => `${name}: sheet ${sheet} of ${of}, row ${row[0]} of ${row[1]}, column ${column[0]} of ${column[1]}`,
  oneTile: 'Scale 1:1. x to the right, y to the front.',
  tiles: (overlap: number): string =>
    `Scale 1:1. Lay mark M1 on M1, M2 on M2, … and tape: the sheets overlap by ${overlap} mm.`,
  tooManyTiles: (name: string, width: number, depth: number, sheets: number, most: number): string =>
    `${name} with its marks is ${width} × ${depth} mm: ${sheets} sheets of paper, expected at most ${most}; use the SVG or DXF file for one this large`,
  tooManyDummies: (sheets: number, most: number): string =>
    `paper dummies of all parts take ${sheets} sheets, expected at most ${most}`,
  overlap: (overlap: number): string => `overlap: found ${overlap} mm, expected 10 to 40 mm`,
  noPage: 'no page: nothing that was asked for has anything to show',
}

/** The sheet to read before a deck. */
export const deck = {
  label: (deck: string): string => `${deck}, read first`,
  readFirst: (deck: string): string => `${capital(deck)}: read this first`,
  plate: (material: string | undefined, thickness: number, sheets: number): string =>
    `${material ? `Material: ${material}. ` : ''}Plate ${number(thickness)} mm thick. ${sheets === 1 ? 'One sheet' : `${sheets} sheets`} at 1:1 follow${sheets === 1 ? 's' : ''} this page.`,
  steps: {
    print:
      'Print every page at 100 %, not fit to page. Measure both bars on every sheet: 100 mm each. If one is off by more than 0.5 mm, do not use the sheet.',
    trim: (overlap: number): string =>
      `Trim the sheets and lay them together: mark M1 on M1, M2 on M2, and so on, against a light. Tape them down. They overlap by ${number(overlap)} mm.`,
    measure: (width: number, depth: number): string =>
      `Measure the whole outline on the paper: ${number(width)} mm from left to right and ${number(depth)} mm from back to front.`,
    layOn: 'The plate exists already: lay the drawn outline on its edges and fix the paper with tape or a glue stick.',
    fix: 'Fix the paper on the plate with tape or a glue stick, the cut line inside the plate all around.',
    /** `sizes`: as `4 × 3.4 mm`. */
    there: (sizes: string): string =>
      `The grey circles, ${sizes}, are holes that are there already: lay them on theirs.`,
    thereNew: (sizes: string): string =>
      `The grey circles, ${sizes}, are holes that the project takes to be there already, and the drill table leaves them out. On a new plate punch and drill them too, or have them made.`,
    punch: 'Centre-punch every cross before the paper is taken off or cut through.',
    drill: 'Drill by the table: a small pilot hole first, then the size that stands there.',
    onlyNew: 'Make only the new holes, slots and cut-outs.',
    saw: 'No kerf is allowed for: saw on the waste side of the line and file to it. Openings first, the outline last.',
    deburr: 'De-burr every hole and edge on both faces.',
  },
  cautions: 'Cautions',
  map: 'Which sheet goes where',
  drillTable: (holes: number): string => `Drill table, ${count(holes, 'hole')}`,
  noHole: 'No new hole.',
  drillHeads: {
    number: 'No.',
    x: 'x',
    y: 'y',
    fromLeft: 'from left',
    fromLower: 'from lower',
    diameter: '⌀',
    tool: 'drill',
    for: 'for',
    note: 'thread, note',
  },
  noTool: 'none',
  cuts: 'Slots and cut-outs to make for parts',
  noCut: 'None.',
  own: 'Openings and holes of the plate itself',
  ownHeads: { what: 'what', name: 'name', size: 'size', fromLeft: 'centre, from left', fromLower: 'from lower' },
  ownKinds: {
    opening: 'opening',
    slot: 'slot',
    drawn: 'opening of a drawn shape',
    exit: 'hole for a lead',
    pass: 'pass to another deck',
    hole: 'hole, taken to be there already (grey)',
  },
  /** `radius`: of corners. */
  ownSize: ([x, y]: readonly [number, number], round: boolean, radius: number): string =>
    round
      ? `⌀${number(x)}`
      : `${number(x)} × ${number(y)}${radius === 0 ? '' : 2 * radius >= Math.min(x, y) ? ', round ends' : `, corners r ${number(radius)}`}`,
  cutHeads: { what: 'what', size: 'size, x × y', x: 'lower-left corner, x', y: 'y' },
}

const TURNED: Readonly<Record<Turn, string>> = {
  0: 'not turned',
  1: 'turned a quarter to the left',
  2: 'turned half round',
  3: 'turned a quarter to the right',
}

export const dummies = {
  name: (item: string): string => `paper dummy ${item}`,
  label: (sheet: number, of: number): string => `paper dummies: sheet ${sheet} of ${of}`,
  foot: 'Cut along the full lines; fold or keep the dashed room for plugs, cables, hands and moving heads. The arrow points to the front of the robot.',
  caption: (
    item: string,
    footprint: string,
    size: readonly [number, number, number],
    deck: string,
    at: { readonly x: number; readonly y: number; readonly turn: Turn },
  ): string => `${item}: ${footprint}, ${size.join(' × ')} mm; on ${deck} at x ${at.x} y ${at.y}, ${TURNED[at.turn]}`,
}

/** The assembly sheet. */
export const assembly = {
  label: 'assembly',
  cautions: 'Assembly: cautions first',
  work: (work: string): string => `${work}:`,
  plan: (deck: string, scale: number): string => `${capital(deck)}, scale 1 : ${Math.round(scale * 100) / 100}`,
  planNote:
    'Front of the robot up. Arrow: the side of the part that is upper on its paper dummy. Dot: first pin. w1, w2, …: wires; dashed: no way is open for it, see the table of wires.',
  items: 'Items',
  noItem: 'No item is placed.',
  itemHeads: {
    number: 'No.',
    item: 'item',
    part: 'part',
    deck: 'deck',
    x: 'x',
    y: 'y',
    turn: 'turn',
    mounted: 'mounted',
  },
  itemsNote: 'x, y: lower-left corner of the turned part, mm, in the frame of the project.',
  order: 'Order of work',
  hardware: 'Hardware',
  noHardware: 'None.',
  hardwareHeads: { amount: 'amount', what: 'what', standard: 'standard', for: 'for', note: 'note' },
  pinHeads: { pins: 'header pins to snap off', strips: 'strips', for: 'for', note: 'note' },
  pins: (pins: number): string => `${pins} pins`,
  wires: 'Wires, lengths in mm',
  noWire: 'No wire.',
  wireHeads: {
    number: 'No.',
    wire: 'wire',
    from: 'from',
    to: 'to',
    gauge: 'gauge',
    colour: 'colour',
    leads: 'leads',
    run: 'run',
    cut: 'cut',
    longest: 'longest',
    keep: 'keep',
    note: 'note',
  },
  /** `laid`: lengths go round what is in the way; else they are straight. */
  wiresNote: (several: boolean, laid: boolean): string =>
    `Cut: the run with its service loop; add what stripping and crimping take.${laid ? '' : ' Runs are straight ways, as if nothing stood in them: check each with a thread before you cut.'}${several ? ' Longest: over the variants that were worked out, so that one set of wires serves them all.' : ''}${laid ? ' Keep: cut no shorter than this, so that it still reaches where an end may move later, on another breadboard or deck.' : ''}`,
  mounted: {
    screw: 'screwed',
    adhesive: 'stuck down',
    strap: 'strapped',
    'drop-in': 'dropped in',
    'plug-in': 'plugged in',
  } as const satisfies Record<Mount['kind'], string>,
  pluggedInto: (mounted: string, host: string): string => `${mounted}, ${host}`,
  turns: { 0: 'none', 1: '¼ to the left', 2: 'half round', 3: '¼ to the right' } as const satisfies Record<
    Turn,
    string
  >,
}

const LEFT_OFF = 'leave them disconnected at the pack, their ends covered'

const MOUNTING = {
  'drop-in-screwed': 'drop into the cut-outs and screw down',
  'drop-in': 'drop into the cut-outs',
  screw: 'screw down',
  'screw-unstated': 'fasten, though no hole for a screw is stated,',
  strap: 'strap down',
  adhesive: 'stick down last of the mounted parts, on clean dry faces, since they cannot be moved again',
} as const

/** Sentences in the order of work. Items come as `item` calls them, wires as `wire` does. */
export const order = {
  /** What is made in a plate; `openings` are those of a plate that does not exist yet. */
  plate: (deck: string, made: { holes: number; openings: number; cuts: number; outline: boolean }): string => {
    const cut = [
      ...(made.openings > 0 ? [count(made.openings, 'opening')] : []),
      ...(made.cuts > 0 ? [count(made.cuts, 'slot or cut-out', 'slots and cut-outs')] : []),
      ...(made.outline ? ['the outline last'] : []),
    ]
    const work = [
      ...(made.holes > 0 ? [`centre-punch and drill ${count(made.holes, 'hole')} by the drill table`] : []),
      ...(cut.length > 0 ? [`cut ${cut.join(', ')}`] : []),
    ]
    if (work.length === 0) return `${capital(deck)} exists, and nothing new is made in it.`
    return `${capital(deck)}: ${work.join('; ')}; de-burr every hole and edge.`
  },
  layOut:
    'Lay the parts, or their paper dummies, in their places before anything is fixed: every hole under its part, every plug with its room.',
  /** `packs`: those among the items, whose leads stay off. */
  mount: (deck: string, how: keyof typeof MOUNTING, items: readonly string[], packs: readonly string[]): string =>
    `${capital(deck)}: ${MOUNTING[how]} ${items.join(', ')}.${packs.length > 0 ? ` Connect nothing to ${packs.join(', ')} yet.` : ''}`,
  into: (item: string, host: string): string => `${item} into ${host}`,
  itsBreadboard: 'its breadboard',
  plug: (deck: string, plugged: readonly string[]): string =>
    `${capital(deck)}: plug in ${plugged.join(', ')}; the first pin where the plan has its dot.`,
  wires: (deck: string, wires: readonly string[]): string =>
    `${capital(deck)}, wires, the shortest first, every supply disconnected: ${wires.join(', ')}.`,
  supplies: (deck: string, leads: readonly string[]): string =>
    `${capital(deck)}, supply leads: ${leads.join(', ')}; ${LEFT_OFF}.`,
  nextDeck: (deck: string, above: string): string =>
    `Look ${deck} over, then set ${above} above it; what lies below is hard to reach afterwards.`,
  wiresAcross: (wires: readonly string[]): string =>
    `Wires from deck to deck, the shortest first, every supply still disconnected: ${wires.join(', ')}.`,
  suppliesAcross: (leads: readonly string[]): string =>
    `Supply leads from deck to deck: ${leads.join(', ')}; ${LEFT_OFF}.`,
  meter:
    'Check with a meter, power off: no short between supply and ground, polarity right, no bare end, no screw loose.',
  power: (leads: readonly string[]): string =>
    leads.length > 0
      ? `Power last, fuse and switch in place and the switch off: connect ${leads.join(', ')} at the pack.`
      : 'Power last, fuse and switch in place and the switch off.',
  firstPower: 'First power: tracks off the ground, fingers and hair clear, the switch in reach.',
  item: (number: number | undefined, item: string): string => `${number === undefined ? '' : `${number} `}${item}`,
  /** Screws as threads, or by their hole where none is stated. */
  screws: (
    item: string,
    screws: readonly { readonly count: number; readonly thread: string }[],
    standoff: number,
  ): string => {
    const each = screws.map((s) => `${s.count} × ${s.thread}`).join(', ')
    return `${item} (${each}${standoff > 0 ? `, stand-offs ${standoff} mm` : ''})`
  },
  hole: (diameter: number): string => `⌀${diameter} hole`,
  wire: (wire: string, cut: number): string => `${wire} (${number(cut)} mm)`,
  /** After the lengths of wires as they lie. */
  keep: ' Lengths are as the wires lie here: cut none shorter than the table of wires says to keep.',
  /** The table of wires says why. */
  notYet: (wire: string): string => `${wire} (do not cut it yet, see the table of wires)`,
}

/** The check list before power; its sentences come with it. */
export const checkList = {
  label: 'check list before power',
  title: 'Check list before power',
  how: 'For this robot as it stands in its project file. Go through it from the top, with everything disconnected until it says otherwise; tick a box when it is done, and stop where something is not as it should be.',
  cautions: 'Before you begin',
  missing: 'What the files do not say',
  steps: 'Steps, in this order',
  signed: 'Checked by ______________________________   on ____________________',
}
