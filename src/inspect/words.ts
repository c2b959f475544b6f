/**
 * All sentences of the report's own: the check list before power, and what files do not say. Plain functions of ids and figures; whoever
 * calls them decides nothing about wording. Another language is another file of the same functions.
 */
import { names, say } from '../electric/index.ts'
import { tenthsUp } from '../model/rounding.ts'

/** Names that have commas in them. */
const spelt = (list: readonly string[]): string => list.join('; ')

const capital = (text: string): string =>
  text.replace(
    /(^|\. )(plus|minus)/g,
    (_, before: string, word: string) => `${before}${word[0]!.toUpperCase()}${word.slice(1)}`,
  )

const NUMBERS = ['one', 'two', 'three', 'four', 'five', 'six']

const expected = (volts: number | undefined, sheet = 'its sheet says'): string =>
  volts === undefined ? `${sheet} how many volts to expect` : `the project expects about ${say(volts, 2)} V`

/** Where a motor's leads end, and which of the project's wires they are. */
interface End {
  readonly wire?: string
  readonly at: string
}

/** Both conductors of one lead, or two leads of one conductor each. */
function swapped(leads: readonly End[]): string {
  const [one] = leads
  if (!one) return 'its two conductors'
  const wires = leads.flatMap((l) => l.wire ?? [])
  if (leads.length === 2 && wires.length === 2 && leads.every((l) => l.at === one.at))
    return `the leads ${names(wires)} at ${one.at}`
  const ends = leads.map((l) => `${l.wire === undefined ? 'its lead' : `the lead ${l.wire}`} at ${l.at}`)
  return `the two conductors of ${names(ends)}`
}

/** A terminal as people read it; `name` only where it is another than its id. */
export const endAt = (item: string, terminal: string, name: string | undefined): string =>
  `${item}, ${terminal}${name === undefined ? '' : ` (${name})`}`

const andOn = (switches: readonly string[]): string => (switches.length > 0 ? ` and switch on ${names(switches)}` : '')

/** What a step turns on, and before that what it has off: packs that are disconnected again, and switches. */
interface Turned {
  readonly apart: readonly string[]
  readonly off: readonly string[]
  readonly on: readonly string[]
}

/** What feeds a regulator and was off: packs that are connected again, and switches. */
interface Fed {
  readonly again: readonly string[]
  readonly before: readonly string[]
}

/** A sentence that begins with what has to be off again, if anything. */
function again({ apart, off }: Turned, text: string): string {
  const all = [
    ...(apart.length > 0 ? [`${names(apart)} disconnected`] : []),
    ...(off.length > 0 ? [`${names(off)} off`] : []),
  ]
  return all.length > 0 ? `With ${all.join(' and ')} again, ${text}` : text[0]!.toUpperCase() + text.slice(1)
}

/** Steps of the check list, in their order; `why…` is the reason of the one above it. */
export const steps = {
  cautions: [
    "Local codes, the makers' sheets of cells and parts, and licensed practice come first. Where they say otherwise, they are right.",
    'Wear eye protection, take off rings and watches, and keep hair and sleeves away from whatever turns.',
    'A short circuit of cells can burn and start a fire. Keep a way clear to disconnect them, and never leave them alone while you test. Use no cells that are swollen, dented or hot.',
    'If anything smells, smokes or gets hot, disconnect the supply first and look for the reason afterwards.',
  ] as readonly string[],

  disconnect: (packs: readonly string[], controllers: readonly string[]): string => {
    const who = packs.length > 0 ? `: ${names(packs)}` : ''
    const data = controllers.length > 0 ? `, and the data lead of ${names(controllers)}` : ', and every data lead'
    return `Disconnect every supply${who}${data}.`
  },
  whyDisconnect: 'A data lead feeds the robot too. Nothing below is done with power on until it says so.',

  mendFirst: (findings: number): string =>
    findings === 1
      ? 'One finding about wires and power stops the job: leave everything disconnected until it is mended.'
      : `${findings} findings about wires and power stop the job: leave everything disconnected until all of them are mended.`,
  whyMendFirst:
    'With power on, each of them can destroy parts, start a motor, or make the robot fail in the middle of its work.',

  beforeDeck: (deck: string, under: readonly string[]): string =>
    `Before ${deck} goes on, look over what it hides: ${names(under)}. Every lead there is in place and held.`,
  whyBeforeDeck: 'It cannot be reached afterwards without taking the deck off.',

  looseParts: (near: readonly string[]): string =>
    `Look under every deck and turn the robot gently over: no loose screw, nut, washer, swarf or cut wire end${
      near.length > 0 ? `, and nothing touches ${names(near)}` : ''
    }.`,
  whyLooseParts: 'Loose metal finds two contacts sooner or later.',

  contacts: (boards: readonly string[], planned: boolean): string => {
    const table = planned ? ' Compare every jumper with the contact plan, row by row.' : ''
    return `Pull gently at every lead and jumper in ${names(boards)}: none comes out, no bare ends touch.${table}`
  },

  /** One end of a supply and where it goes: a net's other ends, or its name where the step on the common return spells it out. */
  toEnds: (end: string, others: readonly string[]): string => `${end} goes to ${spelt(others)}`,
  toNet: (end: string, net: string): string => `${end} goes to the net ${net}, listed below`,
  plus: (to: string): string => `plus: ${to}`,
  minus: (to: string): string => `minus: ${to}`,
  plusAndMinus: (to: string): string => `plus and minus: ${to}`,
  lead: (lead: string, to: string): string => `the lead ${lead} goes to ${to}`,
  /** `atOutput`: of what passes a supply on; `how`: what goes to plus and what to minus. */
  polarity: (item: string, atOutput: boolean, how: readonly string[]): string => {
    const where = atOutput ? 'at the output ' : ''
    const said = how.length > 0 ? ` ${capital(how.join('. '))}.` : ''
    return `Check the polarity ${where}of ${item} by eye and by the meter, up to the far end of each lead.${said}`
  },
  whyPolarity: 'The wrong way round, parts and cells are destroyed at once.',

  returnNet: (net: string, ends: readonly string[]): string =>
    `Common return: by the meter, these are one conductor (net ${net}): ${spelt(ends)}.`,
  returns: (items: readonly string[]): string =>
    `Common return: by the meter, the returns (minus) of ${names(items)} are one conductor, unless a part's sheet says that it must be apart.`,
  whyReturn: 'Without a common return a signal means nothing between two parts.',

  shorts: (items: readonly string[]): string =>
    `No short circuit: switches closed and cells still disconnected, the meter shows no continuity between plus and minus of the leads that go to ${names(items)}.`,
  whyShorts: 'Measure on the side of the robot, never across connected cells.',

  /** Fuses with their ratings, A, where they are known. */
  fuses: (list: readonly { readonly item: string; readonly rating: number | undefined }[]): string => {
    const all = list.map((f) => `${f.item}${f.rating === undefined ? '' : `: ${say(f.rating, 2)} A`}`)
    return `The right fuse is in (${all.join('; ')}), and a spare of the same rating at hand.`
  },
  noFuse: (items: readonly string[]): string =>
    `Fit a fuse near the plus lead of ${names(items)}: the project names none that everything is behind.`,
  whyFuse: 'It is what stops a short circuit from burning.',

  pullLead: (net: string, listeners: readonly string[]): string =>
    `Pull the lead of net ${net} off ${names(listeners)} before you load a program.`,
  openSwitch: (by: string, net: string): string =>
    `Open ${by}, the switch in net ${net}, before you load a program, and until the wheels are off the ground.`,
  whyProgramming: (listeners: readonly string[]): string =>
    `${names(listeners)} listens on that line: the bytes of a program would be read as commands, and the wheels may start by themselves.`,

  switchOf: (supply: string): string => `the switch of ${supply}`,
  switchOff: (all: readonly string[]): string =>
    `Switch off: ${names(all)}. You reach ${all.length === 1 ? 'it' : 'each'} without putting a hand near a wheel.`,
  /** Supplies with leads that go past the switches that the step above this one names. */
  pastSwitches: (supplies: readonly string[]): string =>
    `Keep the plug of ${names(supplies)} in one hand, ready to pull: no one switch turns off everything that ${supplies.length === 1 ? 'it feeds' : 'they feed'}.`,
  whyPastSwitches: 'As the leads and nets of the project go, parts have power also while any one switch is off.',
  noSwitch: 'The project names no master switch: keep the plug of the supply in one hand, ready to pull.',

  wheelsUp: (heads: readonly string[]): string => {
    const room = heads.length > 0 ? ` Keep hands and leads out of the way of ${names(heads)}.` : ''
    return `Stand the robot on a block so that wheels and tracks turn freely off the ground, and hold it there.${room}`
  },
  whyWheelsUp: 'A program or a wrong wire may start the motors at any moment.',

  /** The first supply goes on alone, by the switches. Volts where the project says them. */
  connectFirst: (supply: string, switches: readonly string[], measured: string): string =>
    `Connect ${supply} alone${andOn(switches)}. ${measured} Wait a minute: nothing gets warm, smells or hums.`,
  connectNext: (supply: string, turn: Turned, measured: string): string => {
    const also = turn.apart.length > 0 ? '' : ' as well'
    return `${again(turn, `connect ${supply}${also}${andOn(turn.on)}`)}. ${measured} Wait a minute: nothing gets warm, smells or hums.`
  },
  /** `supplies`: one, or packs in series. */
  measured: (supplies: readonly string[], volts: number | undefined): string =>
    supplies.length > 1
      ? `Measure across ${names(supplies)} in series, where their leads end: ${expected(volts, 'their sheets say')}.`
      : `Measure where its leads end: ${expected(volts)}.`,
  measure: (regulator: string, turn: Turned & Fed, volts: number | undefined): string => {
    const fed = [
      ...(turn.again.length > 0 ? [`connect ${names(turn.again)} again`] : []),
      ...(turn.before.length > 0 ? [`switch on ${names(turn.before)}`] : []),
    ]
    const all = names([...fed, `measure at the output of ${regulator}`])
    return `${again(turn, all)}: ${expected(volts)}. Only then connect what it feeds${andOn(turn.on)}.`
  },

  /** `index` counts from 0. */
  motor: (index: number, motor: string, off: readonly string[], leads: readonly End[]): string => {
    const stop = off.length > 0 ? `switch off at ${names(off)}` : 'disconnect the supply'
    return `Motor ${NUMBERS[index] ?? index + 1}, ${motor}: let it alone run slowly for a second. Does it drive the robot forward? If not, ${stop}, swap ${swapped(leads)}, and try again.`
  },
  /** Where a motor's lead ends when its other end is no item that is placed. */
  itsDriver: 'its driver',

  hot: (items: readonly string[]): string => {
    const who =
      items.length === 1
        ? `${items[0]} gets hot`
        : items.length > 1
          ? `one of ${names(items)} gets hot`
          : 'a driver or regulator gets hot'
    return `Stop if ${who}: disconnect, and find out why before you go on. Hold a hand near it, do not touch it.`
  },
  whyHot: 'A hot driver means a stalled or short-circuited motor, or one that is too strong for it.',

  heads: (heads: readonly string[]): string =>
    `Move ${names(heads)} slowly to each end of pan and tilt: nothing is hit, no lead gets tight.`,
  allMotors: (motors: readonly string[]): string =>
    `All motors together, still off the ground: ${names(motors)} turn the same way, and nothing starts again by itself.`,
  onTheGround: (switched: boolean): string =>
    `Then on the ground, slowly, in a clear place, one hand at the ${switched ? 'switch' : 'plug of the supply'}, fingers off the tracks.`,
}

/** What the files do not say, in the words of people, and by which field they would: for whoever writes files by hand. */
export interface Unsaid {
  readonly text: string
  readonly field: string
}

export const missing = {
  wires: {
    text: 'No wires are looked at: the project has none whose ends are placed.',
    field: '`wires`',
  },
  gauge: (leads: readonly string[]): Unsaid => ({
    text: `No gauge is given for ${names(leads)}: 22 AWG is taken, and named so.`,
    field: '`gauge` of a wire, in AWG or mm²',
  }),
  nets: {
    text: 'No pin table and no contact plan: the project does not list in nets what is joined to what.',
    field: '`nets`',
  },
  supplies: {
    text: 'No currents, voltages or run times: no placed part says that it is a pack of cells or what it makes of a supply.',
    field: '`power.supply` or `power.output` of a footprint',
  },
  capacity: (items: readonly string[]): Unsaid => ({
    text: `No run time of ${names(items)}: the charge of its cells is not given.`,
    field: '`power.supply.capacity` of a footprint',
  }),
  ohms: (items: readonly string[]): Unsaid => ({
    text: `The inner resistance of the cells of ${names(items)} is not given: what they themselves lose is not in the voltages.`,
    field: '`power.supply.ohms` of a footprint',
  }),
  supply: (items: readonly string[]): Unsaid => ({
    text: `Nothing is reckoned of what ${names(items)} could give: no wire says that it belongs to the supply of ${items.length === 1 ? 'it' : 'one of them'}.`,
    field: '`supply` of a wire',
  }),
  load: (items: readonly string[]): Unsaid => ({
    text: `${names(items)} ${items.length === 1 ? 'draws' : 'draw'} nothing here: no current is given for ${items.length === 1 ? 'it' : 'them'}.`,
    field: '`power.load` of a footprint',
  }),
  exitLoad: {
    text: 'The motors draw nothing here: no exit says what hangs on it draws.',
    field: '`load` of an exit',
  },
  unseen: (items: readonly string[]): Unsaid => ({
    text: `Whether everything that ${names(items)} ${items.length === 1 ? 'feeds' : 'feed'} is behind a fuse and a switch is not known: there are too many ways through the switches that packs share. Wires that say to which supply they belong leave fewer.`,
    field: '`supply` of a wire',
  }),
  motors: {
    text: 'The check list names no motor: no wire goes to an exit, and no part says that it is one.',
    field: '`power.part` of a footprint',
  },
  motorsGuessed: {
    text: "No exit says that it carries a motor's pair or what hangs on it draws: in the check list every lead that comes through a deck is taken for a motor's.",
    field: '`kind` ("motor-pair") or `load` of an exit',
  },
  contactArea: {
    text: 'No balance: the corners of what stands on the ground are around no area.',
    field: '`contact` of `chassis`',
  },
  chassis: {
    text: 'No balance: the project has no chassis that says where it touches the ground, its mass and its centre of gravity.',
    field: '`chassis` with `contact`, `mass` and `centre`',
  },
  chassisMass: {
    text: 'The balance takes the chassis to weigh nothing: its mass without the parts is 0.',
    field: '`mass` of `chassis`',
  },
  mass: (items: readonly string[]): Unsaid => ({
    text: `The balance takes ${names(items)} to weigh nothing: no mass is given.`,
    field: '`mass` of a footprint',
  }),
  stackMass: (items: readonly string[]): Unsaid => ({
    text: `The balance takes what is stacked on ${names(items)} to weigh nothing: no mass of it is given.`,
    field: '`stackMass` of an item',
  }),
  payload: (items: readonly string[]): Unsaid => ({
    text: `What ${names(items)} truly ${items.length === 1 ? 'sweeps' : 'sweep'} is not known: nothing says what pans and tilts with it, nor of a bracket.`,
    field: '`payload` or `bracket` of a footprint’s `head`',
  }),
  view: {
    text: 'No view is looked at: no placed part says what it looks at.',
    field: '`view` of a footprint',
  },
  access: {
    text: 'Nothing is known to need a hand: no room of a placed part says that it must stay in reach, for cells, program plug, reset or switch.',
    field: '`access` in `corridors` of a footprint',
  },
}

/** Of what stands on what a layout cuts. */
export const onceCut = {
  slotCovered: (item: string, slot: string): string =>
    `${item} is stuck down over ${slot}, so that no strap can be passed through it.`,
  cutOutCovered: (item: string, cutOut: string): string =>
    `${item} stands over the ${cutOut}: once that is cut, a part of it has nothing under it.`,
  landCut: (hole: string, cut: string, mm: number): string =>
    `The head or washer of ${hole} reaches ${tenthsUp(mm)} mm into the ${cut}, once that is cut: it bears on less.`,
}
