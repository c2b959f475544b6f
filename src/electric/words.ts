/**
 * All sentences about wires, nets and power; those of the preparation list are in words-prepare.ts. Plain functions of ids, micrometres,
 * volts, amperes and the like; whoever calls them decides nothing about wording. Another language is another file of the same functions.
 */
import type { TerminalKind } from '../../solver/index.ts'
import { areaOf } from '../model/awg.ts'
import { beside, exactly, fixed, placesApart, placesOfNeed, roundDown, roundUp, trimmed } from '../model/rounding.ts'

/** A figure for a sentence: at most `places` decimals, no trailing zeros. */
export const say = trimmed

/** What is asked for, Um: as it was given, or it could read as if less were enough. */
export const sayMm = (um: number): string => `${exactly(um / 1000)} mm`

/** `a`, `a and b`, `a, b and c`. */
export const names = (ids: readonly string[]): string =>
  ids.length < 2 ? (ids[0] ?? 'nothing') : `${ids.slice(0, -1).join(', ')} and ${ids[ids.length - 1]}`

const capital = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}`

const amperes = (a: number, beside = a): string => `${say(a, placesApart(a, beside, 2))} A`
const volts = (v: number, beside = v): string => `${say(v, placesApart(v, beside, 2))} V`
/** A gap, Um, beside the one that is asked for. */
const gapMm = (um: number, keep: number): string => `${say(um / 1000, placesApart(um / 1000, keep / 1000, 1))} mm`
/** What a lead needs and what there is of it, mm, in tables and sentences alike. */
export function need(needed: number, there: number): readonly [needed: string, there: string] {
  const n = placesOfNeed(needed, there)
  return [fixed(roundUp(needed, n), n), fixed(roundDown(there, n), n)]
}
/** Hours that a supply lasts: rounded down. */
export const lasting = (hours: number): string => beside('down', hours, 0)
/** To cut, Um: rounded up. */
const cutMm = (um: number): string => `${say(roundUp(um / 1000, 1))} mm`

/** What a gauge is called: by its size of AWG, or by its area where that is between two sizes, as one given in mm² is. */
export const sized = (awg: number): string =>
  Number.isInteger(awg) ? `${awg} AWG` : `${exactly(Number(areaOf(awg).toPrecision(4)))} mm²`

/** What a pin carries, in the words in which the page asks for it. */
export const carried: Readonly<Record<TerminalKind, string>> = {
  'supply-out': 'a supply, given',
  'supply-in': 'a supply, taken',
  'logic-out': 'the logic supply, given',
  'logic-in': 'the logic supply, taken',
  return: 'the common return',
  'serial-out': 'serial data, sent',
  'serial-in': 'serial data, received',
  'bus-data': 'a bus’s data',
  'bus-clock': 'a bus’s clock',
  digital: 'a digital signal',
  'analog-out': 'an analogue signal, given',
  'analog-in': 'an analogue signal, taken',
  'servo-signal': 'a servo’s signal',
  'motor-pair': 'a motor’s pair',
  reset: 'a reset',
  passive: 'a passive part',
}

/** In the middle of a sentence: `the logic supply, given,` */
const within = (kind: TerminalKind): string => (carried[kind].includes(',') ? `${carried[kind]},` : carried[kind])
/** `a digital signal at brain, d2`, which a comma follows. */
const at = (kind: TerminalKind, end: string): string => `${within(kind)} at ${end}`

/** What things are called in lists and sentences. */
export const called = {
  /** `driver, in1 (left)`; the name only where it is another than the id. */
  pin: (item: string, id: string, name: string | undefined): string =>
    `${item}, ${id}${name === undefined || name === id ? '' : ` (${name})`}`,
  exit: (exit: string): string => `lead at ${exit}`,
  /** A board's contact on a rail, and on any other strip: a letter and a number. */
  rail: (rail: number, place: number): string => `rail ${rail}, ${place}`,
  contact: (board: string, contact: string): string => `${contact} of ${board}`,
  /** The part of a net that lies behind its switch. */
  behindSwitch: (net: string, by: string): string => `${net} after ${by}`,
}

/** Why two kinds of terminals may not be one conductor. */
export const refusal = {
  supplies: 'supplies that meet drive current into each other',
  regulators: 'regulators that meet drive current into each other',
  outputs: 'two outputs would drive one line; cross them: out goes to in',
  short: 'that is a short circuit',
  /** A plus and the return of another part. */
  turned: 'that is the wrong way round, or a short circuit',
  motor: 'a pin cannot carry a motor, whose currents and sparks would destroy it',
  unknown: (a: TerminalKind, b: TerminalKind): string => `nothing lets ${within(a)} and ${within(b)} share a wire`,
}

/** Routes and lengths of leads. Lengths in Um. */
export const leads = {
  rule: 'each lead must be long enough round what stands in its way',
  tooShort: (lead: string, needed: number, round: readonly string[], there: number): string => {
    const [needs, has] = need(needed / 1000, there / 1000)
    return `The lead ${lead} needs ${needs} mm or more${round.length === 0 ? '' : ` round ${names(round)}`}; there are ${has} mm of it.`
  },
  /** The same where none is open at all: what these alone would ask for. */
  tooShortAndShut: (lead: string, needed: number, round: readonly string[], there: number): string => {
    const [needs, has] = need(needed / 1000, there / 1000)
    return `No way on the deck is open for the lead ${lead}; ${round.length === 0 ? 'even straight' : `round ${names(round)} alone`} it would need ${needs} mm, and there are ${has} mm of it.`
  },
  shutIn: (lead: string, by: readonly string[]): string =>
    `No way on the deck is open for the lead ${lead}: ${names(by)} shut it in.`,
  noPass: (lead: string): string => `No pass leads from deck to deck for the lead ${lead}.`,
  noWay: (lead: string, by: readonly string[]): string =>
    `The lead ${lead} finds no way along the deck: ${names(by)} shut it in. It has to be led over them, and be longer.`,
  byTrack: (lead: string, gap: number, track: string, end: string, keep: number): string =>
    `The lead ${lead} is ${gapMm(gap, keep)} from the moving track ${track} at ${end}; keep ${sayMm(keep)}, and tie it down on both sides of the plate.`,
  bend: (lead: string, after: number, exit: string, straight: number): string =>
    `The lead ${lead} has to bend ${gapMm(after, straight)} after the exit ${exit}; leave ${sayMm(straight)} straight there, or tie it down.`,
  cutTooShort: (
    lead: string,
    cut: number,
    variant: string,
    variants: readonly { readonly variant: string; readonly cut: number }[],
    /** With their variant where there are several: what is on another board in one may be on it already in the other. */
    moves: readonly {
      readonly item: string
      readonly to: string
      readonly least: number
      readonly variant?: string
    }[],
    keep: number,
  ): string => {
    const what = [
      ...variants.map((v) => `the variant ${v.variant} (${cutMm(v.cut)})`),
      ...moves.map(
        (m) =>
          `${m.item} on ${m.to}${m.variant === undefined ? '' : ` in the variant ${m.variant}`} (${cutMm(m.least)} or more)`,
      ),
    ]
    return `Cut to ${cutMm(cut)} for the variant ${variant}, the lead ${lead} no longer reaches for ${names(what)}. Keep ${cutMm(keep)} of it.`
  },
}

/** What a lead or its end may carry, in the middle of a sentence. */
const good = {
  lead: (awg: number, assumed: boolean): string =>
    `${assumed ? 'its gauge is not given, and ' : ''}${sized(awg)} is good for`,
  contact: (): string => 'a breadboard contact is good for',
}

/** What is good for so much: a gauge, taken where none is given, or a contact. */
export type Carrier = { readonly awg: number; readonly assumed: boolean } | 'contact'

const goodFor = (c: Carrier): string => (c === 'contact' ? good.contact() : good.lead(c.awg, c.assumed))

/** Currents, voltages, protection, heat and radio. V, A, Um. */
export const power = {
  overloaded: (lead: string, amps: number, by: Carrier, limit: number): string =>
    `${amperes(amps, limit)} run through the lead ${lead}; ${goodFor(by)} ${amperes(limit, amps)}.`,
  overloadedInStall: (lead: string, amps: number, by: Carrier, limit: number): string =>
    `${amperes(amps, limit)} run through the lead ${lead} while motors stall; ${goodFor(by)} ${amperes(limit, amps)}.`,
  statedTooMuch: (lead: string, amps: number, by: Carrier, limit: number): string =>
    `${amperes(amps, limit)} are stated for the lead ${lead}; ${goodFor(by)} ${amperes(limit, amps)}.`,
  lowVolts: (load: string, gets: number, supply: string, needs: number): string =>
    `${load} gets ${volts(gets, needs)} from ${supply}; it needs ${volts(needs, gets)}.`,
  brownOut: (load: string, gets: number, supply: string, stalling: readonly string[], needs: number): string => {
    const who = stalling.length > 0 ? ` when ${names(stalling)} stall${stalling.length === 1 ? 's' : ''}` : ''
    return `${load} gets ${volts(gets, needs)} from ${supply}${who}, as at every start; it needs ${volts(needs, gets)}, and may start again by itself.`
  },
  overVolts: (load: string, gets: number, supply: string, stands: number): string =>
    `${load} gets ${volts(gets, stands)} from ${supply}; it stands ${volts(stands, gets)}.`,
  voltsLost: (supply: string, load: string, lost: number, of: number): string =>
    `The leads from ${supply} to ${load} lose ${volts(lost)}, ${say((100 * lost) / of)} % of ${volts(of)}.`,
  regulatorStarved: (regulator: string, gets: number, supply: string, inStall: boolean, makes: number): string =>
    `${regulator} gets ${volts(gets, makes)} from ${supply}${inStall ? ' when motors stall' : ''}; to make ${volts(makes, gets)} it needs more.`,
  regulatorUnfed: (regulator: string, supply: string, inStall: boolean): string =>
    `${supply} cannot give the power that ${regulator} asks for${inStall ? ' when motors stall' : ''}: cells and leads take too much of it. Figures are as if it drew no more than it gives.`,
  returnAssumed: (supply: string, loads: readonly string[]): string =>
    `No lead of ${supply} leads back from ${names(loads)}; reckoned as if the way back were like the way out.`,
  noFuse: (supply: string): string =>
    `${supply} has no fuse that everything is behind. A short circuit of its leads can start a fire: fuse it near its plus lead.`,
  /** `fuses`: in each branch one, and none before them all. */
  fuseEach: (supply: string, fuses: readonly string[]): string =>
    `${supply} has no one fuse that everything is behind: ${names(fuses)} are in its branches, and nothing fuses the leads before them. A short circuit of these can start a fire: fuse it near its plus lead.`,
  noMasterSwitch: (supply: string): string => `${supply} has no master switch that everything is behind.`,
  /** `fuse`: a part; none for the supply's own. */
  fuseTooLarge: (
    supply: string,
    fuse: string | undefined,
    rating: number,
    lead: string,
    awg: number,
    limit: number,
  ): string =>
    `The fuse ${fuse ?? `of ${supply}`} lets ${amperes(rating, limit)} through; the lead ${lead} of ${sized(awg)} is good for ${amperes(limit, rating)}.`,
  /** `fuses`: of branches. */
  fusesTooLarge: (fuses: readonly string[], together: number, lead: string, awg: number, limit: number): string =>
    `The fuses ${names(fuses)} together let ${amperes(together, limit)} through to what comes back by the lead ${lead}; that is of ${sized(awg)}, good for ${amperes(limit, together)}.`,
  fuseBlows: (amps: number, supply: string, fuse: string | undefined, rating: number): string =>
    fuse === undefined
      ? `${amperes(amps, rating)} are drawn from ${supply}; its fuse of ${amperes(rating, amps)} would blow.`
      : `${amperes(amps, rating)} run through the fuse ${fuse}; it is for ${amperes(rating, amps)} and would blow.`,
  fuseBlowsLater: (
    later: readonly string[],
    amps: number,
    supply: string,
    fuse: string | undefined,
    rating: number,
  ): string =>
    fuse === undefined
      ? `With ${names(later)} there, ${amperes(amps, rating)} will be drawn from ${supply}; its fuse of ${amperes(rating, amps)} would blow.`
      : `With ${names(later)} there, ${amperes(amps, rating)} will run through the fuse ${fuse}; it is for ${amperes(rating, amps)} and would blow.`,
  switchOverloaded: (amps: number, by: string, inStall: boolean, rating: number): string =>
    `${amperes(amps, rating)} run through the switch ${by}${inStall ? ' while motors stall' : ''}; it may carry ${amperes(rating, amps)}.`,
  unfed: (loads: readonly string[]): string => `No lead that names a supply reaches ${names(loads)}.`,
  /** `supply`: an item, or one of its voltages. */
  astray: (lead: string, supply: string | number): string =>
    `The lead ${lead} names the supply ${supply}, which is no placed pack or regulator${typeof supply === 'number' ? ' of its own voltage' : ''}.`,
  noAir: (item: string, gap: number, warm: string, keep: number): string =>
    `${item} is ${gapMm(gap, keep)} from ${warm}, which gets warm; leave ${sayMm(keep)} for air.`,
  radio: (radio: string, gap: number, noise: string, keep: number): string =>
    `The radio ${radio} is ${gapMm(gap, keep)} from ${noise}; keep ${sayMm(keep)} between them.`,
  /** Shown wherever power is: they come before any figure. */
  cautions: [
    'Disconnect every supply before you change a wire, and check polarity before you connect it again.',
    'A short circuit of cells can burn and start a fire: fuse the pack near its plus lead, insulate bare ends, and never charge or leave damaged cells unattended.',
    'Figures here are estimates: measure before you rely on them. The sheets of the cells and parts, local codes and licensed practice come first.',
  ] as readonly string[],
}

const farApart = (gives: readonly [number, number], takes: readonly [number, number]): string =>
  gives[1] > takes[1] ? `${gives[1]} V is more than its ${takes[1]} V` : `${gives[0]} V is less than its ${takes[0]} V`

/** Nets and pins. Ends are called as `called` does. */
export const nets = {
  oneEnd: (net: string, end: string): string =>
    `Net ${net} has one end only, ${end}: nothing else that it names is placed.`,
  noEnd: (net: string): string => `Net ${net} has no end that is placed.`,
  noPinLeft: (net: string, kind: TerminalKind, item: string, free: number, asked: number): string =>
    `Net ${net} asks for any pin of ${item} for ${carried[kind]}, and none is left: ${free} free, ${asked} asked for.`,
  kindsApart: (net: string, a: string, kindA: TerminalKind, b: string, kindB: TerminalKind, why: string): string =>
    `Net ${net} joins ${at(kindA, a)}, and ${at(kindB, b)}: ${why}.`,
  leadKindsApart: (lead: string, a: string, kindA: TerminalKind, b: string, kindB: TerminalKind, why: string): string =>
    `The lead ${lead} joins ${at(kindA, a)}, and ${at(kindB, b)}: ${why}.`,
  aNet: (net: string): string => `net ${net}`,
  aLead: (lead: string): string => `the lead ${lead}`,
  aFuse: (fuse: string): string => `the fuse ${fuse}`,
  aSwitch: (by: string): string => `the switch ${by}`,
  aPart: (item: string): string => `the returns of ${item}`,
  aPack: (pack: string): string => `the cells of ${pack}`,
  /** `by`: what makes them one conductor, as `aNet` and the like call it. `on`: the switches among it. */
  chainApart: (
    a: string,
    kindA: TerminalKind,
    b: string,
    kindB: TerminalKind,
    by: readonly string[],
    on: readonly string[],
    why: string,
  ): string => {
    const when = on.length === 0 ? '' : ` if ${names(on)} ${on.length === 1 ? 'is on' : 'are on at once'}`
    return `${capital(at(kindA, a))}, and ${at(kindB, b)}, are joined by ${names(by)}${when}: ${why}.`
  },
  /** Nothing says whether it is a selector. */
  poleEach: (a: string, b: string, by: string, why: string): string =>
    `${a} and ${b} meet behind ${by} if that has a pole for each: ${why}.`,
  leadJoins: (lead: string, a: string, netA: string, b: string, netB: string): string =>
    `The lead ${lead} joins ${a}, of net ${netA}, and ${b}, of net ${netB}, which would become one.`,
  /** An end that gives a supply; `under`: packs whose volts are in it too. */
  inSeries: (end: string, under: readonly string[]): string =>
    under.length === 0 ? end : `${end} (in series with ${names(under)})`,
  /** Least and most volts that one end gives and the other takes. */
  voltsApart: (
    net: string,
    from: string,
    gives: readonly [number, number],
    to: string,
    takes: readonly [number, number],
  ): string => {
    return `Net ${net}: ${from} gives ${gives[0]} to ${gives[1]} V, ${to} takes ${takes[0]} to ${takes[1]} V; ${farApart(gives, takes)}.`
  },
  /** The same where it is by more than one net that it goes there. `selectors`: they may join other terminals. */
  voltsApartBy: (
    by: readonly string[],
    from: string,
    gives: readonly [number, number],
    to: string,
    takes: readonly [number, number],
    selectors: readonly string[],
  ): string => {
    const may = selectors.length > 0 ? ` if ${names(selectors)} ${selectors.length === 1 ? 'joins' : 'join'} them` : ''
    return `${from} gives ${gives[0]} to ${gives[1]} V, and goes by ${names(by)} to ${to}, which takes ${takes[0]} to ${takes[1]} V${may}; ${farApart(gives, takes)}.`
  },
  programSwitched: (by: string, net: string, listeners: readonly string[]): string =>
    `Open switch ${by} in net ${net} before you load a program, and until the wheels are off the ground: ${listeners.join(' and ')} listens on the line over which the controller is programmed.`,
  programBare: (net: string, listeners: readonly string[], line: string): string =>
    `Net ${net}: ${listeners.join(' and ')} listens on the line over which the controller is programmed, ${line}. Put a switch in that line: the program's bytes would be read as commands, and the wheels may start by themselves (common practice, no source).`,
  pinTwice: (pin: string, conductors: number, ids: readonly string[]): string =>
    `${pin} has room for ${conductors === 1 ? 'one conductor' : `${conductors} conductors`}, and is in nets ${ids.join(', ')}, which would become one there.`,
  noCommonReturn: (parts: readonly string[], signal: string): string =>
    `${parts.join(' and ')} share the signal ${signal} and have no common return: the signal means nothing between them. Join their returns.`,
  noSupply: (item: string, pins: readonly string[]): string =>
    `${item} has no supply: nothing goes to ${pins.join(', ')}.`,
  noMotorSupply: (item: string, pins: readonly string[]): string =>
    `${item} has no supply for its motors: nothing goes to ${pins.join(', ')}.`,
  noReturn: (item: string, pins: readonly string[]): string =>
    `${item} has no return: nothing goes to ${pins.join(', ')}.`,
  pinOpen: (item: string, pin: string, kind: TerminalKind | undefined): string =>
    `${item}, ${pin}${kind === undefined ? '' : ` (${carried[kind]})`} is open.`,
  switchStuck: (net: string, by: string): string =>
    `Net ${net} cannot be led through switch ${by}: ${by} has no two free terminals. Its contacts are planned without it.`,
  switchOneSided: (net: string, by: string): string =>
    `Net ${net} cannot be led through switch ${by}: all its ends are on one side. Its contacts are planned without it.`,
}

/** The plan of contacts. Contacts are called as `called.contact` does. */
export const strips = {
  rule: 'on the strip of each pin that has to be joined a contact must be free',
  plugApart: (plug: string, item: string, pins: number): string =>
    `The plug ${plug} of ${item} has ${pins} pins side by side, and no board has so many free strips beside one another: take its pins apart, or make room.`,
  netsMeet: (a: string, b: string, at: string, pins: readonly string[]): string =>
    `Nets ${a} and ${b} meet on the strip of ${at}, where ${pins.join(', ')} sits: that is a short circuit.`,
  netsOnRail: (a: string, b: string, at: string, and: string): string =>
    `Nets ${a} and ${b} are on one rail, at ${at} and ${and}. In most boards its groups are one conductor: look at yours, or that is a short circuit.`,
  strangePin: (
    item: string,
    pin: string,
    kind: TerminalKind | undefined,
    net: string,
    pins: readonly string[],
  ): string =>
    `${item}, ${pin}${kind === undefined ? '' : ` (${carried[kind]})`} is in no net, and sits on a strip of net ${net}, with ${pins.join(', ')}.`,
  full: (net: string, pins: readonly string[], at: string): string =>
    `Net ${net}: no contact is free on the strip of ${pins.join(' and ')}, at ${at}, so nothing can be joined to it.`,
  fullForWires: (wires: readonly string[], pins: readonly string[], at: string, free: number): string =>
    `${wires.length === 1 ? 'Lead' : 'Leads'} ${names(wires)}: ${free === 0 ? 'no contact is' : `only ${free} contact${free === 1 ? ' is' : 's are'}`} free on the strip of ${pins.join(' and ')}, at ${at}.`,
  noStrip: (net: string, parts: number): string =>
    `Net ${net} cannot be joined: ${parts} parts of it are left, and no free strip that all reach.`,
}
