/** Bringing in drawings, boards and measures: the dialog. What its readers found is said by src/bring-in. */
const count = (n: number, what: string): string => `${n} ${what}${n === 1 ? '' : 's'}`

export const bring = {
  title: 'Bring in what is there',
  close: 'Close',
  what: 'What to bring in',
  kinds: {
    deck: 'A deck from its drawing, DXF or SVG',
    board: 'A circuit board from its files: IDF, or outline and drill files',
    measures: 'Measures by caliper, as a measures file',
  },
  files: 'Its files, all at once',
  file: 'Its file',
  orDrop: 'Or drop it anywhere here.',
  these: (names: readonly string[]): string => names.join(', '),
  inPlaceOf: 'In place of',
  name: 'Name',
  height: 'Height with its parts, mm',
  ownInVariant: (variant: string): string =>
    `Variant “${variant}” gives this deck an outline, openings or holes of its own, which stay.`,
  inVariantAlone: (variant: string): string =>
    `This counts in variant “${variant}” alone, as its plate is its own; in the others the deck stays as it is.`,
  placeOne: 'One of it is to be placed, in every variant.',
  takeFor: (deck: string): string => `Take it for ${deck}`,
  take: (footprint: string): string => `Take ${footprint}`,
  leave: 'Leave it',
  replaces: 'Outline, openings and holes are replaced; height, name and items stay.',
  oneStep: 'It is one step, and Undo takes it back.',
  notTogether: 'It does not go together with the rest of the project, which is as it was:',
  problem: (path: string, found: string, expected: string): string =>
    `${path || 'The project'}: found ${found}; expected ${expected}.`,
  refused: 'It cannot be used like this. Your document is as it was.',
  refusal: (where: string, found: string, expected: string): string =>
    `${where}: found ${found}; expected ${expected}.`,
  line: (line: number): string => `line ${line}`,
  unitAsk: 'One unit of the drawing is',
  notSaid: 'not said yet',
  units: {
    mm: 'millimetres',
    cm: 'centimetres',
    m: 'metres',
    um: 'micrometres',
    in: 'inches',
    ft: 'feet',
    mil: 'thousandths of an inch',
    px: 'pixels, 96 to the inch',
    pt: 'points, 72 to the inch',
  },
  measuresIn: 'Its files measure in',
  inMm: 'millimetres',
  inInches: 'inches',
  leavesOut: 'Its drill file leaves out',
  leadingZeros: 'zeros before a number',
  trailingZeros: 'zeros behind it',
  otherOutline: (chosen: number): string => `Choose another of the outlines than the ${chosen}.`,
  whichOutline: (count: number): string => `${count} outlines lie side by side. Which one is the deck?`,
  outline: (number: number, what: string): string => `The ${number}. from the left: ${what}`,
  deckPicture: (what: string): string => `The deck: ${what}`,
  boardPicture: (what: string): string => `The board: ${what}`,
  board: (width: number, depth: number, height: number, holes: number): string =>
    `${width} × ${depth} mm, ${height} mm high, ${holes === 1 ? '1 hole' : `${holes} holes`} to screw it down`,
  /** `sizes`: a whole sentence, or nothing. */
  noUnit: (found: string, sizes: string): string =>
    `The file does not say what its unit is (${found}). ${sizes}`.trim(),
  unsettled: 'measures that do not settle every place',
  settled: 'more',
  assumed: (what: string): string => `Assumed: ${what}.`,
  unused: (what: string): string => `Not used: ${what}.`,
  unusedAt: (what: string, where: string, why: string): string =>
    `Not used: ${what}${where ? ` (${where})` : ''}: ${why}.`,
  moreLike: (n: number): string => `And ${n} more like the last.`,
  oneUnit: (mm: number, fromFile: boolean): string =>
    `One unit of the drawing is ${mm} mm, ${fromFile ? 'as the file says' : 'as you say'}.`,
  closedGap: (mm: number, at: string): string => `Closed a gap of ${mm} mm at ${at} of the drawing.`,
  twice: (what: string, where: string): string => `Used once, though there twice: ${what} (${where}).`,
  tiny: (n: number): string => `Left out ${n} segments shorter than 0.001 mm.`,
  flattened: (n: number, mm: number): string => `${n} curves became short lines, at most ${mm} mm off.`,
  deck: (width: number, depth: number, openings: number, holes: number): string =>
    `${width} × ${depth} mm, ${count(openings, 'opening')}, ${count(holes, 'hole')}`,
}
