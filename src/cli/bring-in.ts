import { ASKED as UNITS_ASKED } from '../bring-in/units.ts'
import { type Form, readArgs } from './args.ts'
import type { Io } from './io.ts'

export const form: Form = {
  command: 'bring-in',
  about:
    'Makes a deck from a drawing (DXF or SVG), a footprint from the files of a circuit board (IDF; Gerber outline and drill\nfiles), or either from measures taken with a caliper, and prints it as JSON. What was closed, flattened, assumed or left\nout is told on stderr. Exit code 0: done; 2: bad input.',
  operands: ['DRAWING'],
  options: {
    into: { value: 'PROJECT', about: 'print this project file with the deck or footprint in it' },
    deck: { value: 'ID', about: 'id of the deck; one that the project has keeps its place, height and name' },
    outline: { value: 'N', about: 'only the n-th outline of several side by side, from left to right' },
    layer: { value: 'NAME', many: true, about: 'only this layer, or group of that name' },
    unit: {
      value: 'UNIT',
      about: `what one unit of the drawing is, whatever the file says: ${UNITS_ASKED.join(', ')}`,
    },
    tolerance: { value: 'MM', about: 'how far a flattened curve may be off; default 0.01' },
    gap: { value: 'MM', about: 'how far apart line ends may be and still be joined; default 0.1' },
    z: { value: 'MM', about: 'height of the deck, default 0' },
    thickness: { value: 'MM', about: 'default 3' },
    'holes-up-to': {
      value: 'MM',
      about: 'circles up to this diameter are holes, larger ones openings; default all holes',
    },
    'as-drawn': { about: 'keep the coordinates of the drawing; without it the lower left corner goes to 0,0' },
    measures: { about: 'DRAWING is a measures file: what a caliper read of a plate or a part' },
    board: { value: 'ID', about: 'DRAWING is a circuit board; id of its footprint' },
    with: { value: 'F', many: true, about: 'a further file of the board: drill file, parts library' },
    height: { value: 'MM', about: 'of the board with its parts on both faces' },
    zeros: { value: 'leading|trailing', about: 'which zeros a drill file leaves out, where it does not say' },
    digits: { value: 'N,M', about: 'digits before and after the point in a drill file, where it does not say' },
    out: { value: 'F', about: 'the file to write instead of standard output' },
  },
}

/** `bring-in DRAWING`: 0 done. */
export async function run(args: readonly string[], io: Io): Promise<number> {
  const given = readArgs(form, args)
  // The readers are fetched when there is something to read, so that the other commands start quickly.
  return (await import('./bring-in-files.ts')).bringIn(given, io)
}
