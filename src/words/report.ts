/** What the inspection worked out, as sentences and tables: wires, pins, preparation, power, balance, head, service, first power. */
import { listed } from './listed.ts'

const count = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`
const part = {
  sliders: 'Layers and sliders',
  wires: 'Wires to cut',
  pins: 'Pins',
  prepare: 'To prepare',
  power: 'Power',
  balance: 'Balance',
  head: 'Head and views',
  service: 'Service',
  first: 'Before power is on',
}

const state = { idle: 'at rest', running: 'running', stall: 'every motor stalled' }
const side = { front: 'the front', back: 'the back', left: 'the left', right: 'the right', above: 'above' }
const access = { cells: 'cells', program: 'program plug', reset: 'reset', switch: 'switch' }

export const report = {
  title: 'Worked out from this layout',
  part,
  onTheWay: 'On its way…',
  nothingYet: 'There is nothing to work out until a layout is there.',
  copy: 'Copy as text',
  copied: 'Copied.',
  notCopied: 'The browser did not let it be copied: mark the text and copy it by hand.',
  print: 'Print',
  missing: 'Left out, for the project does not say enough',
  of: (project: string, variant: string): string => `${project}, variant ${variant}`,
  none: '–',
  names: listed,

  wires: {
    noWires: 'This variant has no wires.',
    table: 'Wires, lengths in mm',
    wire: 'wire',
    from: 'from',
    to: 'to',
    straight: 'straight',
    round: 'as laid',
    cut: 'cut to',
    keep: 'keep',
    there: 'there is',
    goesRound: 'goes round',
    enough: 'enough',
    keepAll: 'Keep is the longest over all variants with a layout and every later move of an end. Do not cut shorter.',
    keepOne:
      'Keep is the longest over this variant and every later move of an end to another breadboard or deck. Do not cut shorter.',
    blocked: (wire: string, by: readonly string[]): string =>
      by.length > 0
        ? `${wire} finds no way along the decks, shut in by ${listed(by)}.`
        : `${wire} finds no way along the decks.`,
    bundle: (wires: readonly string[], mm: string, deck: string): string =>
      `${listed(wires)} run side by side for ${mm} mm on ${deck}: tie them together.`,
    warnings: 'Do not cut too short',
  },

  pins: {
    none: 'The project lists no nets, so that no pin table can be made.',
    table: 'Pin table',
    item: 'item',
    pin: 'pin',
    as: 'used as',
    net: 'net',
    joined: 'joined to',
    chosen: (as: string): string => (as === '' ? 'chosen here' : `${as}, chosen here`),
    named: (pin: string, name: string): string => `${pin} (${name})`,
    plan: 'Contact plan',
    from: 'from',
    to: 'to',
    with: 'with a',
    length: 'mm',
    link: { jumper: 'jumper', lead: 'lead', direct: 'wire' },
    contact: (of: string, name: string): string => `${of}, ${name}`,
    shared: (net: string, pins: readonly string[]): string =>
      `${net}: ${listed(pins)} share a strip, no jumper is needed.`,
  },

  prepare: {
    none: 'Nothing has to be prepared.',
    headers: 'Header pins to snap off',
    header: (count: number, pins: number, why: string, items: readonly string[]): string =>
      `${count} × ${pins} header pins (${why}): ${listed(items)}.`,
    soldering: 'Headers to solder',
    solder: (item: string, face: string, rows: string, note: string): string =>
      `The header of ${item} on its ${face}; pins, seen from above: ${rows}${note === '' ? '' : `; ${note}`}.`,
    leads: 'Wires into contacts',
    lead: (id: string, gauge: string | undefined, contact: string, note: string): string =>
      `${id}${gauge === undefined ? '' : `, ${gauge}`}, into ${contact}: ${note}.`,
    relief: 'Where strain is taken',
    exit: (exit: string, leads: readonly string[], note: string): string => `Exit ${exit}, ${listed(leads)}: ${note}.`,
    jumpers: 'Jumpers',
    net: 'net',
    from: 'from',
    to: 'to',
    steps: 'steps of 2.54 mm',
    length: 'mm',
    wire: 'wire',
    stiff: 'stiff',
    flexible: (why: string): string => `flexible: ${why}`,
    tools: 'Tools',
    tool: (tool: string, why: string): string => `${tool}, ${why}`,
  },

  power: {
    none: 'No part says what it gives or takes, so that no power is known.',
    estimated: 'Estimated from what the parts and the project say.',
    supply: (supply: string, volts: string, lasts: readonly string[]): string =>
      lasts.length > 0
        ? `${supply}: ${volts} V with nothing drawn; lasts ${listed(lasts)}.`
        : `${supply}: ${volts} V with nothing drawn.`,
    hours: (hours: string, key: keyof typeof state): string => `${hours} h ${state[key]}`,
    later: (items: readonly string[], amps: string, hours: string | undefined): string =>
      `With ${listed(items)} later: ${amps} A running${hours === undefined ? '' : `, ${hours} h`}.`,
    table: (supply: string): string => `Of ${supply}`,
    figure: 'figure',
    state,
    drawn: 'drawn, A',
    terminals: 'at its terminals, V',
    loadAmps: (name: string): string => `${name}, A`,
    loadVolts: (name: string): string => `${name}, V`,
    lead: (wire: string, gauge: string, mm: string): string => `wire ${wire} (${gauge}, ${mm} mm), A`,
    heat: (name: string): string => `heat of ${name}, W`,
    cautions: 'To mind',
  },

  balance: {
    none: 'The project does not say where the chassis touches the ground or what the parts weigh, so that no balance is known.',
    what: 'Standing still. Degrees are the slope on which it tips that way.',
    table: 'On level ground',
    loading: 'loaded with',
    mass: 'mass, g',
    centre: 'centre x, y, z, mm',
    forward: 'forward',
    back: 'back',
    left: 'left',
    right: 'right',
    leftTrack: 'left track',
    rightTrack: 'right track',
    stacks: (which: 'lightest' | 'heaviest', later: boolean): string =>
      `${which} stacks${later ? ', later items there' : ''}`,
    track: (share: string, force: string): string => `${share} %, ${force} N`,
    /** `reaching`: later items that reach out at worst, and not in the table. */
    worst: (deg: string, which: 'left' | 'right', share: string, reaching: readonly string[]): string => {
      const out = reaching.length > 0 ? `, with ${listed(reaching)} reaching out to the side where it is worst,` : ''
      const folded = reaching.length > 0 ? ` In the table the tracks carry ${listed(reaching)} without its reach.` : ''
      return `At worst of all loadings${out} it tips on ${deg}°, and the ${which} track carries ${share} %.${folded} It tips sooner when it brakes, bumps or turns: leave room.`
    },
    slopeTable: (deg: string, towards: keyof typeof side): string => `On a slope of ${deg}°, ${side[towards]} downhill`,
    margin: 'to the edge, mm',
    now: (deg: number, towards: keyof typeof side, margin: string): string =>
      `On a slope of ${deg}° with ${side[towards]} downhill the vertical through its centre of gravity passes ${margin} mm inside what it stands on.`,
    tips: (deg: number, towards: keyof typeof side): string =>
      `On a slope of ${deg}° with ${side[towards]} downhill it tips.`,
  },

  head: {
    none: 'Nothing on the deck turns or looks anywhere.',
    sweeps: (item: string, reach: string, low: string, high: string): string =>
      `${item} sweeps ${reach} mm round its pivot, from ${low} to ${high} mm over the ground.`,
    freePan: (spans: string): string => `Pan that is free at every tilt: ${spans}.`,
    freeBare: (spans: string): string => `With nothing stacked: ${spans}.`,
    byTilt: (item: string): string => `Free range of ${item}`,
    tilt: 'tilt',
    free: 'pan that is free',
    from: (a: string, b: string): string => `${a} to ${b}`,
    /** `past` straight ahead: 1 to the left, -1 to the right. */
    pan: (deg: string, past: -1 | 0 | 1): string =>
      past === 0 ? 'straight ahead' : `${deg}° ${past > 0 ? 'left' : 'right'}`,
    tiltOf: (deg: string, past: -1 | 0 | 1): string => (past === 0 ? 'level' : `${deg}° ${past > 0 ? 'up' : 'down'}`),
    nowhere: 'none',
    view: (item: string, width: string, height: string, clear: string): string =>
      `${item} looks ${width}° wide and ${height}° high; clear across: ${clear}.`,
    inView: (things: readonly string[]): string => `In view: ${listed(things)}.`,
    blocker: (id: string, share: string): string => `${id} (${share} %)`,
    stackOf: (id: string): string => `what is stacked on ${id}`,
    clear: 'Its view is clear.',
    pose: (item: string, pan: string, tilt: string, fits: string, sees: string): string =>
      `${item}, ${pan}, ${tilt}: ${fits}${sees === '' ? '' : ` ${sees}`}`,
    fits: 'nothing is in its way.',
    hits: (tilts: string): string => `something is in its way; at this pan these tilts are free: ${tilts}.`,
    outOfRange: 'it does not go there.',
  },

  service: {
    what: 'Every supply is disconnected first.',
    table: 'What comes off before what',
    item: 'part',
    after: 'comes off after',
    leads: 'wires to take off',
    turn: 'turn first',
    /** Any angle in any of the spans will do. */
    turned: (head: string, spans: readonly string[]): string => `${head} to anywhere from ${spans.join(', or from ')}`,
    straight: (items: readonly string[]): string =>
      `${items.length === 1 ? 'Comes' : 'Come'} straight off: ${listed(items)}.`,
    reach: 'In reach with nothing taken off',
    reachable: (item: string, what: keyof typeof access, from: keyof typeof side | undefined): string =>
      from === undefined
        ? `${item}, ${access[what]}: out of reach.`
        : `${item}, ${access[what]}: in reach from ${side[from]}.`,
    sight: (item: string, light: string, seen: boolean): string =>
      `${item}, light ${light}: ${seen ? 'in sight' : 'out of sight'}.`,
    knots: (ids: readonly string[]): string => `${listed(ids)} wait for one another: none of them comes off first.`,
  },

  first: {
    cautions: 'First of all',
    steps: 'Step by step',
    why: (text: string, why: string): string => `${text} (${why}.)`,
    ticked: (n: number, all: number): string =>
      n === all ? 'All are ticked.' : `${n} of ${count(all, 'step')} ticked.`,
    untick: 'Take all ticks away',
    kept: 'Ticks stay in this browser, and hold for this layout alone: mark it as built, so that it stays. One that changed is to be looked at anew.',
    notKept: 'This browser does not keep the ticks: they are lost when the page is closed.',
    box: (done: boolean): string => (done ? '[x]' : '[ ]'),
  },

  sliders: {
    how: 'None of this changes the layout.',
    layers: 'Shown on the plan',
    layer: { wires: 'Wires', currents: 'Current', loads: 'Loads' },
    pan: 'Pan of the head',
    tilt: 'Tilt of the head',
    slope: 'Slope',
    toward: 'Downhill towards',
    side,
    stack: 'Stacks',
    stacks: { lightest: 'lightest', heaviest: 'heaviest' },
    panSaid: (deg: number): string =>
      deg === 0 ? 'straight ahead' : `${Math.abs(deg)}° to the ${deg > 0 ? 'left' : 'right'}`,
    tiltSaid: (deg: number): string => (deg === 0 ? 'level' : `${Math.abs(deg)}° ${deg > 0 ? 'up' : 'down'}`),
    slopeSaid: (deg: number): string => (deg === 0 ? 'level ground' : `${deg}° of slope`),
    drive: 'Motors',
    noHead: 'No head turns on this deck.',
  },
}
