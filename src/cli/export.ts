import { groupIds } from '../export/svg.ts'
import { TAB_WIDTH } from '../export/tabs.ts'
import { type Form, readArgs } from './args.ts'
import type { Io } from './io.ts'

export const form: Form = {
  command: 'export',
  about:
    'Writes the files that a legal layout is made from, any of them in one go. Exit code 0: written; 1: the layout breaks\na rule, and nothing is written; 2: bad input. One file may be - for standard output.',
  operands: ['FILE', 'LAYOUT'],
  options: {
    svg: {
      value: 'F',
      about: 'template as SVG, one file a deck; with several decks, -<deck> is put before its ending',
    },
    dxf: { value: 'F', about: 'template as DXF, named in the same way; layers CUT, DRILL, EXISTING, MARK, NOTES' },
    pdf: {
      value: 'F',
      about:
        'to print: templates at 1:1 over sheets to join, the assembly sheet, the check list before power, parts of paper',
    },
    drill: {
      value: 'F',
      about: 'drill table as CSV, one file a deck; where it measures from goes to standard error too',
    },
    hardware: { value: 'F', about: 'screws, nuts, washers, stand-offs, straps and adhesive as CSV' },
    wires: { value: 'F', about: 'wire cut list as CSV' },
    bill: { value: 'F', about: 'bill of items as CSV' },
    headers: { value: 'F', about: 'header pins to snap off, as CSV' },
    gltf: { value: 'F', about: 'the robot in 3D as glTF: text where F ends in .gltf, otherwise binary' },
    png: { value: 'F', about: 'picture of the plan, all decks in one' },
    'png-3d': { value: 'F', about: 'picture of the robot in 3D' },
    deck: { value: 'ID', about: 'only this deck in what shows decks, and each to exactly its file' },
    sheet: { about: 'SVG and DXF: all decks side by side in one file' },
    kerf: {
      value: 'MM',
      about: 'SVG and DXF: full width of the cut, 0 to 10; outline moves out by half of it, all else in; default 0',
    },
    'as-made': { about: 'the plate exists: only new holes, slots and cut-outs are to be made' },
    'laser-holes': { about: 'SVG and DXF: new holes are cut like openings, kerf and all, instead of drilled' },
    'marks-as-paths': {
      about: 'SVG and DXF: labels as single-stroke lines among the marks, for machines that have no fonts',
    },
    tabs: {
      value: 'N[,WIDTH]',
      about: `SVG and DXF: leave N gaps of WIDTH mm (default ${TAB_WIDTH}) in every larger cut line, so that parts stay in the sheet`,
    },
    stroke: {
      value: 'GROUP=COLOUR,WIDTH',
      many: true,
      about: `SVG: another colour and width in mm for a group: ${groupIds.join(', ')}`,
    },
    'dxf-version': { value: 'r2000|r12', about: 'for programs that read old DXF alone: r12; default r2000' },
    paper: { value: 'a4|letter', about: 'PDF: the paper in the printer, default a4' },
    'pdf-parts': { value: 'a,b', about: 'PDF: only these of template, assembly, before-power, dummies' },
    with: {
      value: 'LAYOUT',
      many: true,
      about: 'layout of another variant: wire list and PDF then say the longest cut over all',
    },
  },
}

/** `export FILE LAYOUT --svg F`: 0 written, 1 the layout is not legal. */
export async function run(args: readonly string[], io: Io): Promise<number> {
  const given = readArgs(form, args)
  // The writers are fetched when somebody asks for a file, so that the other commands start quickly.
  return (await import('./export-files.ts')).exportFiles(given, io)
}
