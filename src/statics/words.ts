/**
 * All sentences of statics: findings, and what the limits ask of a layout. Plain functions of ids, degrees, mm and shares; whoever calls
 * them decides nothing about wording. Another language is another file of the same functions.
 */
import type { Access } from '../../solver/index.ts'
import { roundUp, trimmed } from '../model/rounding.ts'
import { figures } from './figures.ts'

/** From and to, degrees. */
type Span = readonly [number, number]

/** What stands in the way: a part, a plate, or what is stacked on a part. */
type InTheWay = 'body' | 'deck' | 'stack'

/** A figure for a sentence: at most `places` decimals, no trailing zeros. */
export const say = trimmed

const sayUp = (value: number): string => say(roundUp(value, 1))

/** `a`, `a and b`, `a, b and c`. */
export const names = (ids: readonly string[]): string =>
  ids.length < 2 ? (ids[0] ?? 'nothing') : `${ids.slice(0, -1).join(', ')} and ${ids[ids.length - 1]}`

/** Below zero, above it, and at it. */
const WAYS = {
  pan: ['right', 'left', 'straight ahead'],
  across: ['left', 'right', 'straight ahead'],
  tilt: ['down', 'up', 'level'],
} as const

/** Degrees as one looks: pan counts to the left, across a view to the right, tilt upwards. `degrees` as text that is rounded already. */
const looking = (degrees: string, of: keyof typeof WAYS): string => {
  const [below, above, at] = WAYS[of]
  return Number(degrees) === 0 ? at : degrees.startsWith('-') ? `${degrees.slice(1)}° ${below}` : `${degrees}° ${above}`
}

/** `80° right to 53.6° right`, one for each span. */
const spans = (
  list: readonly Span[],
  of: keyof typeof WAYS,
  text: (span: Span) => readonly [string, string],
): string[] => list.map(text).map(([a, b]) => `${looking(a, of)} to ${looking(b, of)}`)

/** What is free of a range, for lists: no more than there is. */
export const freeSpans = (list: readonly Span[], of: keyof typeof WAYS): string =>
  list.length === 0 ? 'none' : names(spans(list, of, figures.free))

/** Where to turn a head: any angle in any of the spans will do. */
export const anywhereIn = (list: readonly Span[]): string =>
  `anywhere from ${spans(list, 'pan', figures.free).join(', or from ')}`

const free = (list: readonly Span[]): string =>
  list.length === 0
    ? 'in no direction is it free at every tilt'
    : `it is free at every tilt from ${names(spans(list, 'pan', figures.free))}`

/** Parts that are in the way themselves, then those of which only the stack is. */
const inTheWay = (by: readonly string[], stacked: readonly string[]): string[] => [
  ...by,
  ...stacked.map((id) => `what is stacked on ${id}`),
]

/** One of them, to begin a sentence; a deck as `deckCalled` calls it. */
const inTheWayFirst = ({ called, kind }: { readonly called: string; readonly kind: InTheWay }): string =>
  kind === 'deck'
    ? called.charAt(0).toUpperCase() + called.slice(1)
    : kind === 'stack'
      ? `What is stacked on ${called}`
      : called

const REACHED: Readonly<Record<Access, string>> = {
  cells: 'The cells of',
  program: 'The program plug of',
  reset: 'The reset button of',
  switch: 'The switch of',
}

const SIDES = { left: 'left', right: 'right' } as const

/** Findings. */
export const found = {
  laterUnused: (item: string, fields: readonly string[]): string =>
    `${item} says ${names(fields)} and is not a later item: ${fields.length === 1 ? 'it counts' : 'they count'} for nothing. Give it "later": true, or take ${fields.length === 1 ? 'it' : 'them'} out.`,
  doesNotStand: (): string =>
    `The robot does not stand on level ground: its centre of gravity can lie outside the tracks' contact.`,
  tipsEarly: (tip: number, asked: number): string =>
    `The robot tips on a slope of ${figures.tipShort(tip, asked)}° at worst, and must stand on ${figures.given(asked)}°.`,
  tipsOnSlope: (slope: number, outside: number): string =>
    `On the slope of ${figures.given(slope)}° the robot tips: the vertical through its centre of gravity meets the ground ${figures.outside(outside)} mm outside the tracks' contact.`,
  trackOverloaded: (side: 'left' | 'right', share: number, most: number): string =>
    `The ${SIDES[side]} track carries ${figures.shareOver(share, most)} % of the weight at worst, and may carry ${figures.givenShare(most)} %.`,

  /** `pan`: where it is blocked; `clear`: what all that stands about it leaves, stacks at their full height. */
  headBlocked: (
    what: { readonly called: string; readonly kind: InTheWay },
    parts: readonly string[],
    head: string,
    pan: readonly Span[],
    clear: readonly Span[],
  ): string => {
    const which = inTheWayFirst(what)
    const blocked = names(spans(pan, 'pan', figures.blocked))
    return `${which} stands in the way of the ${names(parts)} of ${head} from ${blocked}; ${free(clear)}.`
  },
  headRange: (head: string, tilts: readonly number[]): string =>
    `${head} has its whole pan range when it looks ${names(tilts.map((t) => looking(say(t), 'tilt')))}, of the tilts tried.`,
  /** mm beyond the sweep that is stated; what is undefined is not beyond it. */
  headBeyondSweep: (
    head: string,
    beyond: {
      readonly farther: number | undefined
      readonly lower: number | undefined
      readonly higher: number | undefined
    },
  ): string => {
    const all = [
      ...(beyond.farther === undefined ? [] : [`${sayUp(beyond.farther)} mm farther`]),
      ...(beyond.lower === undefined ? [] : [`${sayUp(beyond.lower)} mm lower`]),
      ...(beyond.higher === undefined ? [] : [`${sayUp(beyond.higher)} mm higher`]),
    ]
    return `What ${head} carries reaches ${names(all)} than the sweep that its footprint states, which is what the layout was made with.`
  },

  /** Degrees of the view that are hidden, and all of it; `pose` of a part that moves. */
  viewHidden: (
    what: { readonly called: string; readonly kind: InTheWay },
    hidden: { readonly across: number; readonly up: number; readonly share: number },
    view: { readonly width: number; readonly height: number },
    item: string,
    pose: { readonly pan: number; readonly tilt: number } | undefined,
  ): string => {
    const which = inTheWayFirst(what)
    const of = `${figures.hidden(hidden.across, view.width)}° of ${figures.given(view.width)}° across and ${figures.hidden(hidden.up, view.height)}° of ${figures.given(view.height)}° up`
    const where = pose ? ` as it looks ${looking(say(pose.pan), 'pan')}, ${looking(say(pose.tilt), 'tilt')}` : ''
    const nearer = what.kind === 'deck' ? `; nearer to the edge it looks over, or higher, ${item} sees more` : ''
    return `${which} hides ${of} from ${item}${where}, ${figures.share(hidden.share, 1)} % of its view${nearer}.`
  },

  outOfReach: (access: Access, item: string, by: readonly string[], stacked: readonly string[]): string => {
    const all = inTheWay(by, stacked)
    return `${REACHED[access]} ${item} cannot be reached with nothing taken off: ${names(all)} ${all.length === 1 ? 'stands' : 'stand'} in the way.`
  },
  lightHidden: (light: string, item: string, by: readonly string[], stacked: readonly string[]): string => {
    const all = inTheWay(by, stacked)
    return `The light ${light} of ${item} is out of sight from above and from every side: ${names(all)} ${all.length === 1 ? 'hides' : 'hide'} it.`
  },

  serviceKnot: (items: readonly string[]): string =>
    `${names(items)} each wait for another to come off first: none can be taken off.`,
  serviceDeep: (item: string, first: readonly string[]): string =>
    `Before ${item} comes off, ${say(first.length)} others must: ${names(first)}.`,
}

/** The limits as rules of layouts: what each asks, and how a layout breaks it. */
export const asked = {
  slope: (least: number): string =>
    `the robot must stand on a slope of ${figures.given(least)}°, whichever way it goes down`,
  doesNotStand: (): string => `The robot does not stand: its centre of gravity lies outside the tracks' contact.`,
  tips: (angle: number, least: number): string =>
    `The robot tips on a slope of ${figures.tipShort(angle, least)}°, and must stand on ${figures.given(least)}°.`,
  share: (most: number): string => `each track must carry at most ${figures.givenShare(most)} % of the weight`,
  overloaded: (side: 'left' | 'right', share: number, most: number): string =>
    `The ${SIDES[side]} track carries ${figures.shareOver(share, most)} % of the weight, and may carry ${figures.givenShare(most)} %.`,
}
