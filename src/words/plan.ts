/** The plan: what is drawn, what is said at the pointer, its tools and keys. */
const layer = {
  contacts: 'Contacts, free and covered',
  strips: 'Whole free strips and the largest free block',
  rooms: 'Corridors and sweeps',
  zones: 'Zones',
  wires: 'Wires and what is to spare of each',
  currents: 'Current in each wire',
  loads: 'Load on tracks and decks',
  rulers: 'Rulers',
  distances: 'Distances of the item in hand',
}

const drive = {
  idle: 'motors at rest',
  running: 'motors running',
  stall: 'motors stalled',
}

const downhill = {
  front: 'its front',
  back: 'its back',
  left: 'its left',
  right: 'its right',
}

const deed = {
  left: 'Move the item to the left',
  right: 'Move the item to the right',
  front: 'Move the item to the front',
  back: 'Move the item to the back',
  turnLeft: 'Turn the item anticlockwise',
  turnRight: 'Turn the item clockwise',
  hold: 'Hold or free the item',
  open: 'Open the item',
  takeBack: 'Take back what is carried',
  planLeft: 'Look farther to the left',
  planRight: 'Look farther to the right',
  planFront: 'Look farther to the front',
  planBack: 'Look farther to the back',
  nearer: 'Look nearer',
  farther: 'Look from farther off',
  whole: 'Show the whole deck',
}

const KEY: Readonly<Record<string, string>> = {
  ArrowLeft: '←',
  ArrowRight: '→',
  ArrowUp: '↑',
  ArrowDown: '↓',
  Escape: 'Esc',
  PageUp: 'Page up',
  PageDown: 'Page down',
}
const key = (combo: string): string =>
  combo
    .split('+')
    .map((part) => KEY[part] ?? part)
    .join(' + ')

type Deed = keyof typeof deed
type Refusal =
  | { readonly why: 'taken'; readonly by: Deed }
  | { readonly why: 'letter' | 'browser' | 'history' | 'focus' }

export const plan = {
  title: 'Plan, seen from above, front at the top',
  how: 'Arrow keys look around, Page up and Page down look nearer and from farther off, Home shows the whole deck. Tab goes on to the items.',
  front: 'front',
  deckFront: (deck: string): string => `${deck}, front`,
  itemsOn: (deck: string): string => `Items on ${deck}`,
  item: (name: string, what: string, where: string, how: 'free' | 'held' | 'built'): string =>
    `${name}, ${what}: ${where}${how === 'free' ? '' : `, ${how} here`}`,

  free: (name: string): string => `Free ${name}`,
  heldHere: (name: string): string => `${name} is held here. Click to free it.`,
  /** `cost`: a whole sentence. */
  heldHereCosts: (name: string, cost: string): string => `${name}. ${cost} Click to free it.`,

  count: (free: number, more: number): string =>
    more === 0 ? `${free} free` : `${free} free, ${Math.abs(more)} ${more > 0 ? 'more' : 'fewer'}`,
  fits: 'It fits here.',
  others: (n: number): string =>
    n === 1 ? 'One other would make room, as outlined.' : `${n} others would make room, as outlined.`,
  moreReasons: (n: number): string => (n === 1 ? 'And one more.' : `And ${n} more.`),

  tools: 'Tools of the plan',
  nearer: 'Look nearer',
  farther: 'Look from farther off',
  whole: 'Whole deck',
  measure: 'Measure',
  measureHow:
    'Click two points; corners, middles and holes pull. By keyboard: arrows move the cross, Enter sets a point.',
  measured: (length: string, dx: string, dy: string): string => `${length} mm; ${dx} mm across, ${dy} mm along.`,
  firstPoint: (x: string, y: string): string => `First point at ${x}, ${y} mm.`,
  cross: (x: string, y: string): string => `${x}, ${y} mm`,
  shown: 'Shown…',
  layer,
  snapping: 'Carried items line up with others (not while Alt is held)',
  drive,
  driveLabel: 'Current with',
  slope: 'Slope in degrees',
  downhill,
  downhillLabel: 'Downhill towards',
  stack: { lightest: 'lightest stacks', heaviest: 'heaviest stacks' },
  stackLabel: 'Load with',

  stood: 'No layout. Outlined: the last one that fitted.',
  noneStood: 'No layout: nothing has a place.',

  datum: 'datum 0, 0',

  spare: (mm: number): string => (mm < 0 ? `−${-mm}` : `+${mm}`),
  spareAtMost: (mm: number): string => (mm < 0 ? `−${-mm}` : `≤ ${mm}`),
  block: (contacts: number): string => `${contacts} free in one block`,

  currentsTitle: 'Current in each wire, A',
  amps: (a: string): string => `${a} A`,
  noCurrents: 'No part on the deck says what it gives or takes, so that no current is known.',
  loadsTitle: 'Load, N',
  newtons: (n: string): string => `${n} N`,
  trackLoad: (which: 'left' | 'right', force: string, share: string): string => `${which} track ${force} N, ${share} %`,
  deckLoad: (deck: string, force: string): string => `${deck} carries ${force} N`,
  noLoads: 'The project does not say where the chassis touches the ground, so that no load is known.',
  centre: 'centre of gravity',
  tips: 'It tips on this slope.',

  legend: 'How to read the plan',
  role: {
    free: 'free contact',
    covered: 'covered contact',
    body: 'body',
    corridor: 'corridor',
    sweep: 'sweep',
    keepOut: 'kept out',
    reserved: 'reserved',
    underside: 'no holes',
    view: 'view',
    wrong: 'something wrong',
    strip: 'whole free strip',
    block: 'largest free block',
    wire: 'wire, number and mm to spare',
    tight: 'wire with under 10 mm to spare',
    barred: 'wire without a way on the deck',
    ghost: 'where another would make room',
    guide: 'lines up',
    stood: 'no place now: where it stood',
  },

  keys: 'Keys…',
  keysTitle: 'Keys',
  keysHow:
    'They act on the item, or on the plan, that has the focus, and on nothing else. Choose one and press the new key.',
  keysOfItem: 'With an item in the plan or in the list',
  keysOfPlan: 'With the plan itself',
  deed,
  key,
  keyButton: (what: string, combo: string): string => `${what}: ${key(combo)}. Change it`,
  pressNow: 'Press the new key, or Esc to leave it',
  keysReset: 'As at first',
  keysNotKept: 'This browser does not keep the keys: they are as before when the page is opened again.',
  close: 'Close',
  changed: (what: string, combo: string): string => `${what}: now ${key(combo)}.`,
  refused: (combo: string, refusal: Refusal): string => {
    switch (refusal.why) {
      case 'taken':
        return `${key(combo)} is taken: “${deed[refusal.by]}”. Give that another key first.`
      case 'letter':
        return `${key(combo)} alone is pressed too easily. Take it with Ctrl or Alt.`
      case 'browser':
        return `${key(combo)} belongs to the browser.`
      case 'history':
        return `${key(combo)} belongs to undo and redo.`
      case 'focus':
        return `${key(combo)} goes on to the next part of the page.`
    }
  },
  itemKeys: (map: Readonly<Record<Deed, string>>): string =>
    `${key(map.left)}, ${key(map.right)}, ${key(map.front)} and ${key(map.back)} move it, ${key(map.turnLeft)} and ` +
    `${key(map.turnRight)} turn it, ${key(map.hold)} holds or frees it, ${key(map.open)} opens it, ${key(map.takeBack)} takes back.`,
}
