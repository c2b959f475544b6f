/** The deck workshop. */
import { listed } from './listed.ts'

const plural = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`

export const deck = {
  open: 'Deck…',
  loading: 'The deck workshop is on its way…',
  title: 'Decks: their plates and what is in them',
  close: 'Done',
  undo: 'Undo',
  redo: 'Redo',
  undoKeys: 'Ctrl-Z',
  redoKeys: 'Ctrl-Shift-Z',
  deckAt: (name: string, height: string): string => `${name} (${height} mm)`,
  introduction:
    'Type lengths in mm, cm or inches, with comma or dot: 165, 16,5 cm, 6.5 in, 6 1/2". All places are measured from 0, 0, by custom the left rear corner of the first deck; x to the right, y to the front.',
  /** It stands beside what it is about. */
  refused: (found: string, expected: string): string =>
    `This was not taken: there would be ${found}; right would be ${expected}. All is as it was.`,

  makeAndShape: 'New deck, and shape it…',

  // which deck
  which: 'The deck to work on',
  add: 'Add a deck over it',
  copy: 'Copy this deck',
  remove: 'Remove this deck…',
  removeAsk: (name: string): string => `Remove ${name}?`,
  removeWith: (zones: number, exits: number, passes: number, wires: number, items: number): string => {
    const gone = [
      zones > 0 ? plural(zones, 'zone') : '',
      exits > 0 ? plural(exits, 'place where a lead comes through', 'places where leads come through') : '',
      passes > 0 ? plural(passes, 'pass', 'passes') : '',
      wires > 0 ? plural(wires, 'wire') : '',
    ].filter((t) => t !== '')
    const with_ = gone.length > 0 ? `With it go ${gone.join(', ')}.` : 'Nothing else goes with it.'
    const free = items > 0 ? ` ${plural(items, 'part')} that had to stand on it may then stand on any deck.` : ''
    return `${with_}${free} Undo brings it all back.`
  },
  removeHeld: (items: string, one: boolean): string =>
    `${items} ${one ? 'is' : 'are'} held on it, and will no longer be held.`,
  removeYes: 'Remove it',
  removeNo: 'Keep it',

  // plan
  plan: 'Plan of the deck, seen from above, front at the top',
  front: 'front',
  measure: (length: string): string => `${length} mm`,
  tools: 'A drag or click on the plan',
  tool: {
    move: 'moves what is there',
    opening: 'makes an opening',
    slot: 'makes a slot',
    round: 'makes a round opening',
    hole: 'makes a hole',
    pillar: 'makes a pillar’s holes in two decks',
    lead: 'lets a lead through',
    pass: 'makes a pass between decks',
    zone: 'makes a zone',
  },
  toolHelp: {
    move: 'Drag a shape, or focus it and use the arrow keys: Enter puts it down, Escape takes it back, Delete removes it.',
    opening: 'Drag from corner to corner.',
    slot: 'Drag from one round end to the other.',
    round: 'Drag from the middle outwards.',
    hole: 'Click where its centre is. It is taken to be there already: templates show it grey, and on a new plate you make it first.',
    pillar:
      'Click where the pillar is to stand; both decks get its hole, taken to be there already: templates show it grey, and on a new plate you make it first. Parts keep out as far as the pillar is wide (0: they need not).',
    lead: 'Click where the lead comes up; the hole for it is typed in the list of leads.',
    pass: 'Click where wires are to go from deck to deck.',
    zone: 'Drag from corner to corner.',
  },
  step: 'Snaps to',
  diameter: 'Diameter',
  slotWidth: 'Slot width',
  pillarWidth: 'Pillar width',
  radius: 'Corner radius',
  otherDeck: 'The other deck',
  zoneKind: 'What the zone asks',
  needsTwo: 'For this there must be a second deck.',
  at: (x: string, y: string): string => `at ${x}, ${y} mm`,
  moved: (dx: string, dy: string): string => `moved by ${dx}, ${dy} mm`,
  sized: (w: string, d: string, x: string, y: string): string => `${w} × ${d} mm at ${x}, ${y}`,
  long: (length: string): string => `${length} mm from end to end`,
  across: (diameter: string, x: string, y: string): string => `⌀ ${diameter} mm about ${x}, ${y}`,
  called: (kind: string, id: string): string => `${kind} ${id}`,
  handle: (called: string, where: string): string => `${called}, ${where}`,

  // the plate
  plate: 'The plate',
  name: 'Name',
  width: 'Width',
  length: 'Length',
  thickness: 'Thickness',
  height: 'Top face over the ground',
  material: 'Material',
  origin: 'Its left rear corner lies at',
  x: 'x',
  y: 'y',
  freeOutline: (width: string, depth: string, corners: number): string =>
    `Its outline ${corners > 0 ? `has ${corners} corners` : 'is a part of a disc'} and is ${width} × ${depth} mm large.`,
  makeRect: 'Make it a rectangle of that size',
  drawing: 'Bring in its drawing (SVG, DXF)…',

  // parts
  openings: 'Openings and slots',
  holes: 'Holes',
  exits: 'Leads that come through',
  passes: 'Passes to another deck',
  zones: 'Zones',
  kind: {
    openings: 'Opening',
    slots: 'Slot',
    rounds: 'Round opening',
    holes: 'Hole',
    exits: 'Lead',
    passes: 'Pass',
    zones: 'Zone',
  },
  none: {
    openings: 'None yet. Drag one on the plan, or type its size.',
    holes:
      'None yet. Click on the plan, or type where it is. Holes of parts are made by the layout; these are there already.',
    exits: 'None yet: motors and sensors underneath send their leads up through these.',
    passes: 'None yet: wires from deck to deck go through these.',
    zones: 'None yet: where parts may not stand, or holes may not go.',
  },
  addRect: 'Add an opening',
  addSlot: 'Add a slot',
  addRound: 'Add a round opening',
  addHole: 'Add a hole',
  addPillar: 'Add a pillar to the other deck',
  addLead: 'Add a lead',
  addPass: 'Add a pass',
  addZone: 'Add a zone',
  removeOne: (id: string): string => `Remove ${id}`,
  removeShort: 'Remove',
  mayCover: 'Parts may stand over it',
  id: 'Called',
  nameWrong: {
    taken: (name: string): string => `${name} is the name of another one already: give this one a name of its own.`,
    empty: (): string => 'It needs a name: it is called as it was.',
    sign: (name: string): string =>
      `${name} has the sign # in it, by which copies are counted: choose a name without it. It is called as it was.`,
  },
  fromX: 'One end x',
  fromY: 'One end y',
  toX: 'Other end x',
  toY: 'Other end y',
  slotAcross: 'Width',
  freeShape: (width: string, depth: string): string => `A drawn shape, ${width} × ${depth} mm.`,
  round: 'Diameter',
  free: 'Free length above the plate',
  hole: 'Hole for it',
  noHoleForIt: 'Without a hole for it nothing is drilled or cut here.',
  leadsTo: 'Leads to',
  asks: 'It asks that',
  zoneKinds: {
    'keep-out': 'no part stands here',
    reserved: 'it stays free for a later part',
    view: 'nothing stands in a sensor’s view',
    underside: 'no hole goes through here',
  },
  why: 'Why',
  heights: 'Between heights over the deck',
  from: 'From',
  to: 'To',
  wiresHere: (wires: number): string =>
    `${wires === 1 ? '1 wire ends' : `${wires} wires end`} here; removing it takes ${wires === 1 ? 'it' : 'them'} along.`,
  overlaps: (id: string, others: readonly string[]): string =>
    `${id} overlaps ${listed(others)}: made like this they are one opening.`,
  outside: (id: string): string => `${id} lies outside the plate, or reaches over its edge.`,

  // chassis
  chassis: 'The chassis, for balance',
  noChassis:
    'Where its wheels or tracks touch the ground, its mass and its centre of gravity: with these, layouts are balanced.',
  addChassis: 'Say where it stands',
  removeChassis: 'Leave the chassis out',
  mass: 'Mass without the parts',
  grams: 'g',
  centre: 'Its centre of gravity',
  centreX: 'x',
  centreY: 'y',
  centreZ: 'Over the ground',
  contact: 'Corners of what stands on the ground, in order',
  corner: (n: number): string => `Corner ${n}`,
  addCorner: 'Add a corner',
  noMass: 'The mass is 0 g as yet: the chassis then counts for nothing in the balance.',

  // photo
  photo: 'A photo underneath',
  photoHelp:
    'A flat photo of the plate, taken from straight above, to trace holes on. Mark two points whose distance you measured; the farther apart, the better the scale. It stays in this browser: the project file keeps only where it lies, and no template shows it.',
  photoPick: 'Choose a photo',
  photoAnother: 'Choose another photo',
  photoRemove: 'Take the photo away',
  photoGone: (file: string): string =>
    `The photo ${file} is not in this browser. Choose it again; where it lies is still known.`,
  photoNotFetched: (file: string, why: string): string =>
    `The photo ${file} could not be fetched: ${why}. Choose it again; where it lies is still known.`,
  photoFailed: (file: string): string => `${file} could not be read as a picture.`,
  photoLarge: (file: string): string => `${file} is larger than 40 MB; a smaller copy of it will do.`,
  photoNotKept: (why: string): string => `The photo is here until the page is closed, but could not be kept: ${why}.`,
  photoPicture: 'The photo, with the two points. Click where the marked point is.',
  photoWhich: 'A click sets',
  point: ['the first point', 'the second point'] as const,
  pointName: ['First point', 'Second point'] as const,
  cross: (point: string, left: number, top: number): string =>
    `${point}, ${left} pixels from the left, ${top} from the top`,
  fromLeft: 'Pixels from the left',
  fromTop: 'Pixels from the top',
  px: 'px',
  distance: 'Distance between them, measured',
  lies: 'The first point lies at',
  angle: 'Turned by',
  degrees: '°',
  level: 'Turn it so that both lie level or upright',
  opacity: 'How strong it shows',
  scale: (perPixel: string): string => `One pixel is ${perPixel} mm.`,
  photoFault: 'The two points must lie at least 1 pixel apart. The photo lies as it was.',
  photoFile: 'Photo of the plate',

  // caliper
  caliper: 'From a caliper',
  caliperHelp:
    'Measure what is easy to reach, in any order; readings of one distance are kept apart by “;”. Where readings contradict one another, it is said which.',
  caliperBack: (ago: string): string => `These are your measures so far, kept in this browser ${ago}.`,
  caliperAnew: 'Begin anew',
  caliperAside: 'Your measures are put aside.',
  caliperBring: 'Bring them back',
  caliperNotKept: 'This browser does not keep these measures: a reload would lose them.',
  caliperHole: (id: string): string => `Hole ${id}`,
  caliperAddHole: 'Add a hole',
  caliperAddMeasure: 'Add a measure',
  caliperDiameter: 'Diameter, if known',
  caliperNearX: 'About at x',
  caliperNearY: 'About at y',
  caliperMeasure: (n: number): string => `Measure ${n}`,
  caliperFrom: 'From',
  caliperTo: 'To',
  caliperJaws: 'Jaws at',
  caliperReadings: 'Readings',
  caliperItself: 'its own diameter',
  caliperEnd: (hole: string): string => hole,
  caliperWrong: (path: string, found: string, expected: string): string =>
    `${path}: found ${found}; expected ${expected}`,
  caliperSeeRows: (n: number): string =>
    n === 1 ? 'One row above says what is wrong with it.' : `${n} rows above say what is wrong with them.`,
  caliperEdges: {
    left: 'the left edge',
    right: 'the right edge',
    front: 'the front edge',
    back: 'the rear edge',
    'front-left': 'the front left corner',
    'front-right': 'the front right corner',
    'back-left': 'the rear left corner',
    'back-right': 'the rear right corner',
  },
  caliperJawsAt: {
    centre: 'the hole’s centre',
    near: 'the hole’s near side',
    far: 'the hole’s far side',
    inner: 'the inner sides',
    outer: 'the outer sides',
  },
  caliperReading: (found: string, expected: string): string => `Found ${found}; expected ${expected}.`,
  caliperTake: (name: string): string => `Take it for ${name}`,
  caliperFaults: 'These measures do not make a plate yet:',
  caliperFile: 'The same from a measures file…',
}
