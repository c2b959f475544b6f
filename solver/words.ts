/**
 * All texts of the solver that people read: findings and loosenings here, members of a conflict in words-asked.ts. Plain functions of
 * names, lengths (Um) and the like; whoever calls them decides nothing about wording. Another language is other files of the same functions.
 */
import type { Place, Side } from './problem.ts'
import { toMm, type Um } from './units.ts'

/** Micrometres as a person reads them: "1.3 mm". */
export const len = (v: number): string => `${Number((v / 1000).toFixed(3))} mm`

/** "board#2" reads "board 2". */
export const say = (id: string): string => id.replace('#', ' ')

/** Sides as they stand before "edge". Front is +y. */
export const EDGES: Readonly<Record<Side, string>> = { front: 'front', back: 'back', left: 'left', right: 'right' }

export const why = (reason: string | undefined): string => (reason ? ` (${reason})` : '')

export const listed = (names: readonly string[], and = 'and'): string =>
  names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} ${and} ${names.at(-1)}`

/** A deck as a person knows it: "deck lid", or its name as it stands where it says that it is a deck; by its id where it has no name. */
export const deckCalled = ({ id, name }: Called): string =>
  /deck/i.test(name || id) ? name || id : `deck ${name || id}`

interface Called {
  readonly id: string
  readonly name?: string | undefined
}

/** What an id stands for, as a person knows it: a deck by its name, all else as it is. */
export const calledIn = (
  problem: { readonly items: readonly Called[]; readonly decks: readonly Called[] },
  id: string,
): string => {
  const deck = problem.items.some((i) => i.id === id) ? undefined : problem.decks.find((d) => d.id === id)
  return deck ? deckCalled(deck) : id
}

/** Findings of the checker (solver/check). Bodies, decks, zones … come by the names that people know them by. */
export const found = {
  // R1
  overEdgeAllowed: (body: string, over: number, side: Side, deck: string, allowed: number): string =>
    `${body} reaches ${len(over)} over the ${EDGES[side]} edge of ${deck}, where ${len(allowed)} is allowed.`,
  coversOpening: (body: string, opening: string, deck: string): string =>
    `${body} covers the opening ${opening} in ${deck}.`,
  nearOpening: (body: string, gap: number, opening: string, deck: string, asked: number): string =>
    `${body} is ${len(gap)} from the opening ${opening} in ${deck}, where ${len(asked)} is asked.`,
  overEdge: (body: string, over: number, side: Side, deck: string): string =>
    `${body} reaches ${len(over)} over the ${EDGES[side]} edge of ${deck}.`,
  nearEdge: (body: string, gap: number, side: Side, deck: string, asked: number): string =>
    `${body} is ${len(gap)} from the ${EDGES[side]} edge of ${deck}, where ${len(asked)} is asked.`,
  overOutline: (body: string, over: number, deck: string): string =>
    `${body} reaches ${len(over)} over the outline of ${deck}.`,
  nearOutline: (body: string, gap: number, deck: string, asked: number): string =>
    `${body} is ${len(gap)} from the outline of ${deck}, where ${len(asked)} is asked.`,

  // R2
  overlap: (a: string, b: string, by: number, deck: string): string =>
    `${a} and ${b} overlap by ${len(by)} on ${deck}.`,
  tooNear: (a: string, b: string, gap: number, deck: string, asked: number): string =>
    `${a} and ${b} are ${len(gap)} apart on ${deck}, where ${len(asked)} is asked.`,
  collide: (a: string, deckA: string, b: string, deckB: string, height: number): string =>
    `${a} on ${deckA} and ${b} on ${deckB} collide: they share ${len(height)} of height.`,

  // R3, R4
  inCorridor: (body: string, by: number, corridor: string, owner: string, reason: string | undefined): string =>
    `${body} reaches ${len(by)} into the corridor ${corridor} of ${owner}${why(reason)}.`,
  inView: (body: string, by: number, zone: string, reason: string | undefined): string =>
    `${body} stands ${len(by)} too high in the view ${zone}${why(reason)}.`,
  inReserved: (body: string, by: number, zone: string, reason: string | undefined): string =>
    `${body} reaches ${len(by)} into the reserved zone ${zone}${why(reason)}.`,
  inKeepOut: (body: string, by: number, zone: string, reason: string | undefined): string =>
    `${body} reaches ${len(by)} into the keep-out zone ${zone}${why(reason)}.`,

  // R5: cuts are named first, then what lies too near
  hole: (hole: string, body: string): string => `hole ${hole} of ${body}`,
  slot: (number: number, body: string): string => `strap slot ${number} of ${body}`,
  cutout: (body: string): string => `cut-out of ${body}`,
  cut: (cut: string): string => `the ${cut}`,
  outlineOf: (deck: string): string => `the outline of ${deck}`,
  openingOf: (opening: string, deck: string): string => `the opening ${opening} of ${deck}`,
  holeIn: (hole: string, deck: string): string => `the hole ${hole} that is in ${deck}`,
  underZone: (cut: string, by: number, zone: string, reason: string | undefined): string =>
    `The ${cut} reaches ${len(by)} into the underside zone ${zone}${why(reason)}.`,
  web: (cut: string, gap: number, web: number, to: string): string =>
    gap > 0
      ? `The ${cut} leaves ${len(gap)} of deck to ${to}, where ${len(web)} is asked.`
      : `The ${cut} leaves no deck to ${to}, where ${len(web)} is asked.`,
  landOverOutline: (cut: string, by: number, deck: string): string =>
    `The land of ${cut} reaches ${len(by)} over the outline of ${deck}.`,
  landInOpening: (cut: string, by: number, opening: string, deck: string): string =>
    `The land of ${cut} reaches ${len(by)} into the opening ${opening} of ${deck}.`,
  landsOverlap: (a: string, b: string, by: number): string => `The lands of ${a} and of ${b} overlap by ${len(by)}.`,

  // R6
  noHost: (part: string): string => `The pins of ${part} fit on no breadboard that is placed.`,
  hostUnknown: (part: string): string => `${part} is to sit on an item that does not exist.`,
  hostNotPlaced: (part: string, host: string): string => `${part} is to sit on ${host}, which is not placed.`,
  hostNoBoard: (part: string, host: string): string => `${part} is to sit on ${host}, which is no breadboard.`,
  hostOnOtherDeck: (part: string, deck: string, host: string, hostDeck: string): string =>
    `${part} is listed on ${deck}, but its host ${host} is on ${hostDeck}.`,
  firstPinOff: (pin: string, part: string, host: string, off: number): string =>
    `Pin ${pin} of ${part} is not exactly on a tie point of ${host}: the nearest is ${len(off)} away.`,
  pinOff: (pin: string, part: string, host: string, off: number, most: number): string =>
    `Pin ${pin} of ${part} is not on a tie point of ${host}: the nearest is ${len(off)} away, where ${len(most)} is the most.`,
  pinsOnStrip: (a: string, b: string, part: string, host: string): string =>
    `Pins ${a} and ${b} of ${part} are on one strip of ${host}.`,
  pinsCovered: (pins: number, part: string, host: string, other: string): string =>
    `${pins === 1 ? 'One pin' : `${pins} pins`} of ${part} would go into tie points of ${host} that ${other} covers.`,

  // R7
  noPass: (wire: string, from: string, to: string): string =>
    `No pass takes wire ${wire} from the deck of ${from} to the deck of ${to}.`,
  wireTooLong: (wire: string, cut: number, most: number): string =>
    `Wire ${wire} needs ${len(cut)}, ${len(cut - most)} more than the ${len(most)} it may have.`,
  leadTooShort: (wire: string, cut: number, most: number, exit: string): string =>
    `Wire ${wire} needs ${len(cut)}, ${len(cut - most)} more than the ${len(most)} the lead at ${exit} has.`,

  // R8, R9
  deckOverOpen: (body: string, deck: string): string => `${body} must stay open above, and ${deck} is over it.`,
  tooHigh: (body: string, lacking: number, deck: string): string =>
    `${body} lacks ${len(lacking)} of height under ${deck}.`,
  inSweep: (body: string, by: number, head: string): string => `${body} reaches ${len(by)} into the sweep of ${head}.`,
  sweepOverOpen: (body: string, head: string): string => `${body} must stay open above, and ${head} sweeps over it.`,
  sweepInDeck: (head: string, by: number, deck: string): string =>
    `The sweep of ${head} reaches ${len(by)} into the height of ${deck}.`,

  // R10
  itemUnknown: (number: number): string =>
    `The layout places an item that the project does not have (number ${number}).`,
  deckUnknown: (item: string): string => `${item} is placed on a deck that the project does not have.`,
  unusable: (item: string): string =>
    `${item} has no usable position: a turn is 0, 1, 2 or 3, and coordinates are whole micrometres.`,
  placedTwice: (item: string, times: number): string => `${item} is placed ${times} times.`,
  notPlaced: (item: string): string => `${item} is required, and is not placed.`,
  deckNotAllowed: (body: string, deck: string): string => `${body} may not be on ${deck}.`,
  /** Turns in quarters. */
  turnNotAllowed: (body: string, turn: number, allowed: readonly number[]): string =>
    `${body} is turned by ${turn * 90}°; allowed: ${allowed.map((t) => t * 90).join('°, ')}°.`,
  offGrid: (body: string, by: number, grid: number, axis: 'x' | 'y'): string =>
    `${body} is ${len(by)} off the ${len(grid)} grid along ${axis}.`,
  notAt: (body: string, x: number, y: number, deck: string, turn: number | undefined): string =>
    turn === undefined
      ? `${body} must be at ${len(x)}, ${len(y)} on ${deck}.`
      : `${body} must be at ${len(x)}, ${len(y)} on ${deck}, turned by ${turn * 90}°.`,
  offMiddle: (body: string, by: number, deck: string, axis: 'x' | 'y'): string =>
    `${body} is ${len(by)} off the middle of ${deck} along ${axis}.`,
  farFromEdge: (body: string, gap: number, edge: Side, deck: string, most: number): string =>
    `${body} is ${len(gap)} from the ${EDGES[edge]} edge of ${deck}, where ${len(most)} are the most.`,
  outOfArea: (body: string, by: number): string => `${body} reaches ${len(by)} out of the area it must stay in.`,
  farFrom: (body: string, gap: number, item: string, most: number): string =>
    `${body} is ${len(gap)} from ${item} between centres, where ${len(most)} are the most.`,
  nearMissing: (body: string, item: string): string => `${body} must be near ${item}, which is not placed.`,
  notBeyond: (body: string, by: number, side: Side, item: string): string =>
    `${body} lacks ${len(by)} to be wholly ${WHOLLY[side]} ${item}.`,
  beyondMissing: (body: string, side: Side, item: string): string =>
    `${body} must be ${WHOLLY[side]} ${item}, which is not placed.`,
  notOnHost: (body: string, host: string): string => `${body} must sit on ${host}.`,
}

const WHOLLY: Readonly<Record<Side, string>> = {
  front: 'ahead of',
  back: 'behind',
  left: 'left of',
  right: 'right of',
}

export const BEYOND: Readonly<Record<Side, string>> = {
  front: 'in front of',
  back: 'behind',
  left: 'left of',
  right: 'right of',
}

export const MIDDLE = { x: 'from left to right', y: 'from back to front' } as const

const longer = (from: Um, to: Um): string => `${toMm((to - from) as Um)} mm longer (${toMm(from)} → ${toMm(to)} mm)`

const resized = (by: Um, now: Um, more: string, less: string): string[] =>
  by === 0
    ? []
    : [`${toMm(Math.abs(by) as Um)} mm ${by > 0 ? more : less} (${toMm((now - by) as Um)} → ${toMm(now)} mm)`]

/** Loosenings (solver/what-if): each change a phrase, all of them one sentence. */
export const changed = {
  edgeClearance: (from: Um, to: Um): string => `edge clearance ${toMm(from)} → ${toMm(to)} mm`,
  itemClearance: (from: Um, to: Um): string => `item clearance ${toMm(from)} → ${toMm(to)} mm`,
  minWeb: (from: Um, to: Um): string => `least web around holes ${toMm(from)} → ${toMm(to)} mm`,
  wire: (wire: string, from: Um, to: Um): string => `wire ${wire} ${longer(from, to)}`,
  lead: (exit: string, from: Um, to: Um): string => `the lead at ${exit} ${longer(from, to)}`,
  /** By how much longer and wider (less than 0: shorter, narrower), and the length and width that come of it. */
  deck: (deck: string, more: { longer: Um; wider: Um }, now: { length: Um; width: Um }): string =>
    `${deck} ${[
      ...resized(more.longer, now.length, 'longer', 'shorter'),
      ...resized(more.wider, now.width, 'wider', 'narrower'),
    ].join(' and ')}`,
  released: (zone: string): string => `zone ${zone} released`,
  without: (item: string): string => `without ${item}`,
  fewer: (item: string, from: number, to: number): string => `one ${item} fewer (${from} → ${to})`,
  more: (item: string, from: number, to: number): string => `one ${item} more (${from} → ${to})`,
  anywhere: (item: string, x: Um, y: Um): string => `let ${item} stand anywhere, not only at ${toMm(x)}, ${toMm(y)}`,
  offMiddle: (item: string, axis: 'x' | 'y'): string => `let ${item} stand not in the middle ${MIDDLE[axis]}`,
  farFromEdge: (item: string, edge: Side): string => `let ${item} stand at any distance from the ${EDGES[edge]} edge`,
  outOfArea: (item: string): string => `let ${item} stand outside the area given for it too`,
  farFrom: (item: string, other: string): string => `let ${item} stand at any distance from ${other}`,
  notBeyond: (item: string, side: Side, other: string): string => `let ${item} stand not only ${BEYOND[side]} ${other}`,
  notOnHost: (item: string, host: string): string => `let ${item} stand not only on ${host}`,
  withinEdge: (item: string, edge: Side, from: Um, to: Um): string =>
    `let ${item} stand up to ${toMm(to)} mm from the ${EDGES[edge]} edge instead of ${toMm(from)} mm`,
  within: (item: string, other: string, from: Um, to: Um): string =>
    `let ${item} stand up to ${toMm(to)} mm from ${other} instead of ${toMm(from)} mm`,
  /** One `place` entry of an item let go. */
  place: (item: string, p: Place): string => {
    switch (p.kind) {
      case 'at':
        return changed.anywhere(item, p.at.x, p.at.y)
      case 'centred':
        return changed.offMiddle(item, p.axis)
      case 'edge':
        return changed.farFromEdge(item, p.edge)
      case 'inside':
        return changed.outOfArea(item)
      case 'near':
        return changed.farFrom(item, p.item.name)
      case 'beyond':
        return changed.notBeyond(item, p.side, p.item.name)
      case 'host':
        return changed.notOnHost(item, p.item.name)
    }
  },
  letGo: (item: string): string => `let go of ${item}`,
  /** What was proven of one step less, by the steps of the changes: between them nothing was tried. */
  smaller: (steps: readonly Um[]): string => `A change ${steps.map(toMm).join(' or ')} mm smaller does not do.`,
  /** All changes as one sentence, with a capital and a full stop. */
  sentence: (changes: readonly string[]): string => {
    const text = changes.join(', and ')
    return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`
  },
}
