/** What is made of a layout: the workshop's part of the page, and what was built. */
const holes = (n: number): string => (n === 1 ? '1 hole' : `${n} holes`)

export const making = {
  title: 'Workshop',
  files: 'Files to make it from…',
  svgOf: (deck: string): string => `Download SVG of ${deck}`,
  onlyNew: 'only what is not built yet',
  drawnWith: (settings: string): string => `The SVG is drawn with ${settings}.`,
  failed: (why: string): string => `The template could not be drawn: ${why}`,
  cautions: 'Cautions',
  writersComing: 'The writers are on their way…',

  bringTitle: 'Your own deck or board',
  bringHow: 'A deck from its drawing (DXF or SVG), a board from the files that it is made from, holes from a caliper.',
  bring: 'Bring it in…',
  readersComing: 'The readers are on their way…',

  built: 'Built',
  builtNothing: 'Here stands what is to be drilled, once nothing is wrong.',
  made: 'It has been made',
  madeAsk: 'It has been made…',
  /** `becomes`: a whole sentence. */
  madeHow: (becomes: string): string =>
    `${becomes} The next layout can use them again. It is one step, and Undo takes it back.`,
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
