/**
 * What readers of project and layout files, and edits, say beside footprints/words.ts. `wanted` is what would be right, `got` what
 * stands there; both go on after “expected” and “found”. Ids and values come in quotes, ready to be read.
 */

export const wanted = {
  // the text of a file
  atMostBytes: (most: number): string => `at most ${most} bytes (10 MB)`,
  utf8: 'UTF-8 text',
  fileWithout: 'a file without them',
  end: 'the end of the file after the value',
  atMostValues: (most: number): string => `at most ${most} values in one file`,
  atMostLevels: (most: number): string => `at most ${most} levels of lists and objects`,
  fieldName: 'a field name in double quotes',
  colon: (field: string): string => `":" after the field name ${field}`,
  fieldOnce: 'each field once',
  commaInObject: '"," or "}" after the value',
  anotherField: 'another field after the ","',
  commaInList: '"," or "]" after the value',
  anotherValue: 'another value after the ","',
  escape: 'one of \\" \\\\ \\/ \\b \\f \\n \\r \\t \\uXXXX',
  quoteAtEnd: '" at the end of the text',
  quoteInLine: '" before the end of the line',
  value: 'a value: {…}, […], "text", a number like 12.5, true, false or null',

  // which file it is
  objectOf: (format: string): string => `an object with "format": "${format}"`,
  otherKind: (format: string): string => `"${format}": this is another kind of file`,
  olderVersion: (present: number): string =>
    `at most ${present}: the file is of a newer version than this program reads`,

  // fields of a project
  share: 'a share of the weight',
  flatCorners: 'corners [x, y] without a bulge',
  twoDecks: 'two deck ids [a, b]',
  differentDecks: 'two different decks',
  ofValue: 'a value',
  someTurns: 'one turn or more',
  masses: 'masses [lightest, heaviest] in grams',
  massesInOrder: 'masses [lightest, heaviest] with lightest not above heaviest',
  wireEnd: 'exactly one of {"exit": id} and {"item": id, "terminal": id}',
  netEnd: 'exactly one of {"exit": id}, {"item": id, "terminal": id} and {"item": id, "any": kind}',
  twoEnds: 'two ends or more',
  gauge: 'a gauge, as a number or text',
  awg: 'a size of AWG, a whole number from 0 to 50, or a text in square millimetres such as "0.5 mm²", up to 53; as it is, no gauge is read of it',
  supply: 'a supply, as a number of volts or text',
  objectivesOnce: 'each objective once',
  someDecks: 'one deck or more',
  density: 'amperes for a square millimetre',
  ohms: 'a resistance in ohms',
  part: 'a part from 0 to 1',
  celsius: 'a temperature in degrees Celsius',
  ends: 'how both ends are fixed, [from, to]',

  // what names something else
  /** `id` itself, or a copy of it where there are several. */
  itemOrCopy: (quoted: string, id: string, count: number): string =>
    `${quoted}${count === 1 ? '' : `, or one of its copies ${id}#1 to ${id}#${count}`}`,
  oneCopy: (id: string, count: number): string => `one of its copies, ${id}#1 to ${id}#${count}; the first is taken`,
  deckLeft: 'one deck left or more',
  overDeck: (deck: string): string => `a place over deck ${deck}, within its outline; it is taken as it stands`,
  circleOverDeck: (deck: string, radius: number): string =>
    `a place over deck ${deck}, ${radius} mm or more inside its outline; it is taken as it stands`,
  shapeOverDeck: (deck: string): string => `all of it over deck ${deck}, within its outline; it is taken as it stands`,
  clearOfIt: 'a hole wholly clear of it, or wholly within it; it is taken as it stands',
  breadboard: 'a breadboard',
  bodies: (most: number): string => `at most ${most} in all`,
  deckKept: 'a deck that is not dropped, or the item omitted',
  noTerminals: (footprint: string): string => `a terminal of footprint ${footprint}, which has none`,
  /** `oneOf`: those that it has. */
  terminal: (oneOf: string, footprint: string): string => `${oneOf}, a terminal of footprint ${footprint}`,
  variants: (most: number): string => `at most ${most}, with as many entries as this file has`,
  inVariant: (expected: string, variant: string): string => `${expected}, in variant ${variant}`,
  wholeItem: (item: string): string => `${item}: a variant speaks of all copies of an item`,
  lostWire: (wire: string): string => `null for ${wire} in that variant's "wires" where this is meant`,

  // layouts
  number: 'a number',
  idOfProject: 'an id of the project',
  turnTaken: 'one of 0, 1, 2, 3 (quarter turns); 0 is taken',
  recomputed: (expected: string): string => `${expected}; it is recomputed`,
  variantOf: (oneOf: string): string => `${oneOf}, a variant of the project`,

  // what the page keeps
  placedItem: (page: string, variant: string): string => `an item that has a place in ${page}.placements.${variant}`,
  underlay:
    'a photo: "picture", "file", "size", two "points" a pixel apart or more, their "distance" of 0.1 to 10000 mm, "at" and "angle"',

  // edits
  coordinate: 'a number of mm from -10000 to 10000',
  cutOnDeck: (deck: string): string =>
    `a place on deck ${deck} with both numbers from -10000 to 10000: a project file has no holes and openings beyond`,
  diameter: 'a length in mm from 0.001 to 10000',
  onDeck: (deck: string): string => `a place on deck ${deck}, within its outline`,
  source: 'where the numbers are from, such as “measured by hand”',

  // typed lengths
  lengthLike: 'a length such as 165, 16.5 cm, 6.5 in or 6 1/2"',
  unitBehind: 'mm, cm, m, in or " behind the number',
  overSomething: 'a fraction over something else than 0',
  smallFraction: 'a fraction smaller than 1 behind a whole number',
  oneSign: 'one decimal sign, comma or dot, and none between thousands',
  /** Limits in mm, and in inches where those were typed. */
  range: (least: string, most: string, inches?: readonly [least: string, most: string]): string =>
    `${least} to ${most} mm${inches === undefined ? '' : ` (${inches[0]} to ${inches[1]} in)`}`,
}

export const got = {
  nothing: 'nothing',
  moreLikeThese: (n: number): string => `${n} more like these`,
  bytes: (n: number): string => `${n} bytes or more`,
  utf16: 'UTF-16 text',
  notUtf8: 'bytes that are not UTF-8',
  end: 'the end of the file',
  more: 'more',
  deeper: 'a deeper one',
  sameField: 'the same field again',
  unknownEscape: 'an unknown escape',
  lineBreak: 'a line break or control sign in a text',
  noTiePoints: (item: string): string => `${item}, which has no tie points`,
  bodies: (n: number): string => `${n} bodies`,
  variants: (n: number): string => `${n} variants`,
  lostWire: (exit: string, variant: string): string =>
    `a wire to exit ${exit}, whose deck variant ${variant} drops; it is left out there`,
  typed: (text: string): string => `“${text}”`,
  circle: (at: string, diameter: number): string => `${at} with a diameter of ${diameter}`,
  /** mm; `over`: over the edge of its plate, and else wholly beside it. */
  opening: (x: readonly [number, number], y: readonly [number, number], over: boolean): string =>
    `x ${x.join(' to ')}, y ${y.join(' to ')}, ${over ? 'over the edge of' : 'wholly beside'} the plate`,
  across: (hole: string, kind: string, id: string): string => `${hole}, across the edge of ${kind} ${id}`,
}

/** A layout file beside the project, and beside what is worked out again. */
export const laid = {
  /** `oneOf`: those that may be meant; undefined where nobody looked. */
  unknown: (what: 'item' | 'deck' | 'host', name: string, variant: string, oneOf: string | undefined): string =>
    `The layout names the ${what} ${name}, which variant ${variant} does not have${oneOf === undefined ? '' : `; expected ${oneOf}`}.`,
  named: (what: 'item' | 'deck' | 'host', name: string): string => `the ${what} ${name}`,
  /** `field`: of the placement. */
  hostOfNone: (field: string, host: string, item: string): string =>
    `${field} is ${host} in the layout file, and ${item} is no part that plugs in: expected no host, and none is taken`,
  differs: (figure: string, stated: number, right: number): string =>
    `${figure} is ${stated} in the layout file, and ${right} when worked out again`,
  objective: (name: string): string => `objective ${name}`,
  wireLength: (wire: string): string => `length of wire ${wire}`,
  cutLength: (wire: string): string => `cut length of wire ${wire}`,
  ofProject: (stated: string, right: string): string => `the layout file is of project ${stated}, this is ${right}`,
  leftOut: (stated: readonly string[], right: readonly string[]): string =>
    `leftOut is ${names(stated)} in the layout file, and ${names(right)} when worked out again`,
  noSuchWire: (wire: string): string => `the layout file gives a length for ${wire}, which is no wire of it`,
  missing: (figures: readonly string[]): string =>
    `missing in the layout file, and worked out again: ${figures.join(', ')}`,
}

const names = (ids: readonly string[]): string => (ids.length === 0 ? got.nothing : ids.join(', '))

/** Names that are given to what is made anew, until the user gives another. */
export const fresh = {
  /** `n`: how many of that name there are already. */
  project: (n: number): string => (n === 0 ? 'A new deck' : `A new deck ${n + 1}`),
  deck: 'main deck',
  anotherDeck: (n: number): string => `deck ${n}`,
  /** Why a zone is kept free. */
  pillar: 'a pillar stands here',
  /** Of decks of one name. */
  sameName: (name: string, id: string): string => `${name} (${id})`,
  copy: (of: string): string => `copy of ${of}`,
  part: 'a new part',
}
