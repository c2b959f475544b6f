/** What is made of a layout: the workshop's part of the page, and what was built. */
const holes = (n: number): string => (n === 1 ? '1 hole' : `${n} holes`)

/** What is made, or there, of a layout: slots for straps, cut-outs for what is dropped in. */
interface Amount {
  readonly holes: number
  readonly cuts: number
  readonly called: 'slots' | 'cut-outs' | 'both'
}

const counted = (n: number, one: string): string => `${n} ${n === 1 ? one : `${one}s`}`

function cuts(n: number, called: Amount['called'], said: string): string {
  if (called === 'both') return n === 1 ? `1 ${said}slot or cut-out` : `${n} ${said}slots and cut-outs`
  return counted(n, `${said}${called === 'slots' ? 'slot' : 'cut-out'}`)
}

const amount = (of: Amount, said = ''): string =>
  [of.holes > 0 ? counted(of.holes, `${said}hole`) : '', of.cuts > 0 ? cuts(of.cuts, of.called, said) : '']
    .filter((text) => text !== '')
    .join(' and ')

export const making = {
  title: 'Workshop',
  files: 'Files to make it from…',
  svgOf: (deck: string): string => `Download SVG of ${deck}`,
  onlyNew: 'only what is not built yet',
  notReady: 'A template is made of a layout in which nothing is wrong.',
  /** `decks`: how many the robot has. */
  becomes: (fresh: Amount, decks: number): string => {
    const one = fresh.holes + fresh.cuts === 1
    const of = decks === 1 ? 'the deck' : one ? 'its deck' : 'their decks'
    return `${amount(fresh)} ${one ? 'becomes' : 'become'} part of ${of}.`
  },
  reuse: (old: Amount, fresh: Amount): string => {
    if (amount(old))
      return `This layout reuses ${amount(old)}${amount(fresh) ? `, needs ${amount(fresh, 'new ')}.` : ', and needs no new one.'}`
    return amount(fresh) ? `This layout needs ${amount(fresh)}, all new.` : 'Nothing in this layout asks for a hole.'
  },
  /** What changes a cutting file. */
  with: {
    kerf: (mm: number): string => `a kerf of ${mm} mm`,
    tabs: (n: number, mm: number): string => `${n} tabs of ${mm} mm in each larger cut line`,
    laserHoles: 'new holes as cuts',
    marksAsPaths: 'labels as lines',
    colours: 'your colours',
  },
  drawnWith: (settings: string): string => `The SVG is drawn with ${settings}.`,
  failed: (why: string): string => `The template could not be drawn: ${why}`,
  cautions: 'Cautions',
  writersComing: 'The writers are on their way…',

  bringTitle: 'Your own deck or board',
  bringHow: 'A deck from its drawing (DXF or SVG), a board from the files that it is made from, holes from a caliper.',
  bring: 'Bring it in…',
  readersComing: 'The readers are on their way…',

  built: 'Built',
  markAll: 'Mark all as built where they stand',
  markAllHow:
    'What is marked is not moved any more, by you or by the search, until you unmark it in the list of findings.',
  allMarked: 'All that has a place is marked as built.',
  builtNothing: 'Here stands what is to be drilled, once nothing is wrong.',
  made: 'It has been made',
  madeAsk: 'It has been made…',
  /** `becomes`: a whole sentence; `fewest`: what matters is not the same afterwards. */
  madeHow: (becomes: string, fewest: boolean): string =>
    `${becomes} The next layout can use them again${fewest ? ', and fewest new holes is put among what matters, before short wires and balance' : ''}. It is one step, and Undo takes it back.`,
  takeIn: 'Make them part of it',
  leave: 'Leave it',
  problem: (path: string, found: string, expected: string): string =>
    `${path || 'The project'}: found ${found}; expected ${expected}.`,
  holesIn: (n: number, deck: string): string => `${holes(n)} in ${deck}`,
  holesHow: 'A hole that came out elsewhere, or wider, is put right here. Lengths in mm, from the deck’s origin.',
  hole: (id: string): string => `Hole ${id}`,
  number: { x: 'x', y: 'y', diameter: 'diameter' },
  numberShort: { x: 'x', y: 'y', diameter: '⌀' },
  numberOf: (name: string, hole: string): string => `${name} of hole ${hole}, mm`,
  wrongOf: (wrong: string, name: string): string => `${wrong} (${name})`,
  putRight: 'Put right',
}
