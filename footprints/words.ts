/**
 * What reads of footprint files say, and what all readers have in common: `wanted` is what would be right, `got` what stands there.
 * Both are phrases that go on after “expected” and “found”.
 */

export const wanted = {
  /** `what`: one of the quantities below. */
  between: (what: string, lo: number, hi: number): string => `${what} from ${lo} to ${hi}`,
  whole: (lo: number, hi: number): string => `a whole number from ${lo} to ${hi}`,

  length: 'a length in mm',
  coordinate: 'a number of mm',
  degrees: 'an angle in degrees',
  grams: 'a mass in grams',
  bulge: 'a bulge (tan of a quarter of the sweep)',
  amperes: 'a current in amperes',
  volts: 'a voltage in volts',
  ohms: 'an internal resistance in ohms',
  ampereHours: 'a capacity in ampere-hours',
  efficiency: 'an efficiency',
  ofVolts: 'a number of volts',

  text: 'text',
  flag: 'true or false',
  id: 'an id: text, not empty, without #',
  ownId: 'an id of its own',
  /** `there`: what a field before has already, and where. */
  ownIdThan: (ownId: string, there: string, path: string): string => `${ownId}: ${there} stands at ${path} already`,
  ref: 'the id of something in this file',
  turn: 'one of 0, 1, 2, 3 (quarter turns)',
  object: 'an object',
  /** Names of fields in quotes. */
  objectWith: (fields: readonly string[]): string => `an object with ${fields.join(', ')}`,
  objectWithKind: 'an object with "kind"',
  byId: 'an object by id',
  list: 'a list',
  point: 'a point [x, y] in mm',
  pointInSpace: 'a point [x, y, z] in mm',
  box: '[x, y, width, height] in mm',
  solid: '[x, y, z, width, depth, height] in mm',
  circle: '[x, y, radius] in mm',
  sector: '[x, y, radius, fromDegrees, toDegrees]',
  sectorSweep: 'a sector of more than 0 and at most 360 degrees',
  heights: 'heights [lo, hi] in mm',
  heightsInOrder: 'heights [lo, hi] with lo not above hi',
  corner: 'a corner [x, y] or [x, y, bulge] in mm',
  corners: 'a list of corners [x, y, bulge?]',
  moreCorners: '3 corners or more, or 2 with a bulge',
  straightCorners: '3 corners or more',
  otherCorner: 'a corner away from the one before it (the contour closes by itself)',
  simpleContour: (edge: number, other: number): string =>
    `a simple contour: the edges that start at [${edge}] and [${other}] meet`,
  fewerCorners: 'fewer corners: too many to check for crossings',
  oneForm: 'exactly one of "rect", "circle", "polygon", "sector"',
  radius: 'a radius of at most half the smaller side of the "rect" beside it',

  pan: 'angles [fromDegrees, toDegrees]',
  panInOrder: 'angles [from, to] with from below to and at most 360 degrees between',
  tiltInOrder: 'angles [from, to] from -180 to 180, with from not above to',
  tiltAxis: '[ahead of the pivot, height over the deck] in mm',
  above: 'a clear height from 0 to 10000 (mm), or "open"',
  someBlocks: 'one block of tie points or more',
  tiePoints: (most: number): string => `at most ${most} tie points in all`,
  somePins: 'one pin or more',
  pins: 'the pins of a part whose mount is "plug-in"',
  noPins: 'nothing here, or the mount "plug-in"',
  contactsOnce:
    'each contact once, more than 0.02 mm from any other: where some are nearer, a pin is on the first of them',
  rowBlock: 'the number (from 0) of a block whose strip is "row"',
  voltsPair: 'volts [lowest, highest]',
  voltsInOrder: 'volts [lowest, highest] with lowest not above highest',

  /** `near`, in quotes: the field that may have been meant. */
  knownField: (near: string | undefined): string =>
    `a field of this format${near === undefined ? '' : ` (did you mean ${near}?)`}; it is kept and means nothing`,
  nothingToName: 'nothing here: there is none to name',
  /** Values in quotes, and how many more there are. */
  oneOf: (shown: readonly string[], more: number): string =>
    `one of ${shown.join(', ')}${more > 0 ? ` and ${more} more` : ''}`,
  didYouMean: (near: string): string => ` (did you mean ${near}?)`,
}

export const got = {
  nothing: 'nothing',
  unknownField: 'an unknown field',
  tooLarge: 'a number too large',
  listOf: (n: number): string => `a list of ${n}`,
  emptyObject: 'an empty object',
  objectWith: (fields: readonly string[]): string => `an object with ${fields.join(', ')}`,
  pinsOn: (mount: string): string => `pins on a part whose mount is ${mount}`,
}

/** One line about one problem: `at` is file, line and column, `path` the field, empty for the file as a whole. */
export const problemLine = (at: string, path: string, found: string, expected: string): string =>
  `${at}: ${path === '' ? '' : `${path}: `}found ${found}, expected ${expected}`
