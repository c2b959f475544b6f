/** Members of a conflict (words.ts says what files of texts are): what each rule asks of the things it names. */

import { mountHoles } from './mount.ts'
import type { Deck, Mount, Place, Placement, Shape, Side, Zone } from './problem.ts'
import { bounds, prepare } from './shapes.ts'
import { toMm, type Um } from './units.ts'
import { BEYOND, deckCalled, EDGES, len, listed, MIDDLE, why } from './words.ts'

/** What a mount makes in the deck, all of it together. */
function madeBy(mount: Mount): string {
  if (mount.kind === 'strap') return 'strap slots'
  if (mount.kind === 'drop-in') return mount.holes.length > 0 ? 'cut-out and holes' : 'cut-out'
  return 'holes'
}

/** Lands that need solid deck under them; none where nothing does. */
const landsOf = (mount: Mount): number[] => mountHoles(mount).flatMap((h) => (h.land > 0 ? [h.land] : []))

/** A zone with its kind, why it is there, and the heights over the deck that it is about. */
function zoneCalled({ id, kind, why: reason, z }: Zone): string {
  const name = `the ${{ reserved: 'reserved zone', 'keep-out': 'keep-out zone', view: 'view', underside: 'underside zone' }[kind]} ${id}`
  const from = z?.[0] ?? 0
  if (kind === 'view')
    return `${name}${why(reason)}${from > 0 ? `, or reach no higher than ${len(from)} over the deck` : ''}`
  return `${name}${why(reason)}${z && kind !== 'underside' ? ` from ${len(z[0])} to ${len(z[1])} over the deck` : ''}`
}

/** So many openings are told by their names. */
const MANY = 3

type Position = Pick<Placement, 'at' | 'deck'> & Partial<Pick<Placement, 'turn'>>

/** Whose corridors an item must stay out of. */
export interface Corridors {
  readonly item: string
  readonly owner: string
  readonly corridors: readonly { readonly id: string; readonly why: string }[]
}

/** On which decks a body lies, and how far it keeps from their edges and openings. */
export interface Inside {
  readonly decks: readonly string[]
  readonly edge: Um
  /** Those that it may not cover, and how far it keeps from each. */
  readonly openings: readonly { readonly id: string; readonly far: Um }[]
  /** How far it may pass each edge. */
  readonly over: Readonly<Record<Side, Um>>
}

/** What is asked, in the project's own ids, but for decks, which come as `deckCalled` calls them. Whole, so that they can be told apart by their text. */
export const asked = {
  inside: (item: string, { decks, edge, openings, over }: Inside): string => {
    const some = (list: Inside['openings']) =>
      list.length > MANY
        ? `the ${list.length} openings that it may not cover`
        : `the ${list.length > 1 ? 'openings' : 'opening'} ${listed(list.map((o) => o.id))}`
    const [near, far] = [openings.filter((o) => o.far === 0), openings.filter((o) => o.far > 0)]
    const from = far.length > 0 ? ` and from ${some(far)}` : ''
    const clear = near.length > 0 ? `${edge > 0 ? ',' : ''} and clear of ${some(near)}` : ''
    const past = (Object.keys(over) as Side[])
      .filter((s) => over[s] > 0)
      .map((s) => `${len(over[s])} at the ${EDGES[s]}`)
    const lie =
      edge > 0
        ? `lie on ${listed(decks, 'or')}, at least ${len(edge)} from the edge`
        : `lie wholly on ${listed(decks, 'or')}`
    return `${item} must ${lie}${from}${clear}${past.length > 0 ? `, though it may pass the edge by ${listed(past)}` : ''}`
  },
  /** `gap`: 0 where they may touch. */
  apart: (a: string, b: string, gap: Um): string =>
    `${a} and ${b} must ${gap > 0 ? `stand at least ${len(gap)} apart` : 'not overlap'}`,
  corridors: (duties: readonly Corridors[]): string =>
    duties
      .map(({ item, owner, corridors }) => {
        const names = corridors.map((c) => `${c.id}${why(c.why)}`)
        return `${item} must stay out of the ${names.length > 1 ? 'corridors' : 'corridor'} ${listed(names)} of ${owner}`
      })
      .join(', and '),
  zone: (item: string, zone: Zone): string => `${item} must stay out of ${zoneCalled(zone)}`,
  /** Of what the mount makes in the deck; `zones` are under it. */
  holes: (item: string, mount: Mount, web: Um, zones: readonly Zone[]): string => {
    const lands = landsOf(mount)
    const wide = [...new Set(lands)].sort((a, b) => a - b).map(len)
    const duties = [
      web > 0 ? `keep ${len(web)} of deck all around` : 'lie wholly on deck',
      ...(lands.length > 0 ? [`have lands of ${listed(wide)} on solid deck`] : []),
      ...(lands.length > 1 ? ['have these clear of one another'] : []),
      ...(zones.length > 0 ? [`stay out of ${listed(zones.map(zoneCalled))}`] : []),
    ]
    return `the ${madeBy(mount)} of ${item} must ${listed(duties)}`
  },
  holesApart: (a: string, mountA: Mount, b: string, mountB: Mount, web: Um): string => {
    const [p, q] = [madeBy(mountA), madeBy(mountB)]
    const both = p === q ? p.replace(/^cut-out\b/, 'cut-outs') : p
    const lands = landsOf(mountA).length > 0 && landsOf(mountB).length > 0
    const duties = [
      ...(web > 0 ? [`keep ${len(web)} of deck between them`] : ['not meet']),
      ...(lands ? ['have lands that do not overlap'] : []),
    ]
    return `the ${both} of ${a} and ${p === q ? '' : `the ${q} of `}${b} must ${listed(duties)}`
  },
  plugIn: (item: string): string => `${item} must sit on the contacts of a breadboard`,
  /** `most` less than 0: its loop alone is longer than it may be. */
  wireReach: (wire: string, from: string, to: string, most: Um, passes: boolean): string =>
    most < 0
      ? `wire ${wire} must reach from ${from} to ${to}, though its loop alone takes ${len(-most)} more than it may be long`
      : `wire ${wire} must reach from ${from} to ${to} with at most ${len(most)} between its ends${
          passes ? ', from deck to deck through a pass' : ''
        }`,
  wireWay: (wire: string, from: string, to: string): string =>
    `wire ${wire} must find a way from the deck of ${from} to that of ${to}`,
  openAbove: (item: string, deck: string): string => `nothing may hang over ${item}, so it cannot stand under ${deck}`,
  /** Where it lacks least. */
  tooHigh: (item: string, lacking: Um, deck: string): string =>
    `${item} lacks at least ${len(lacking)} of height to stand under ${deck}`,
  swing: (head: string, other: string, reach: Um): string =>
    `${head} must swing free of ${other} within ${len(reach)} of its pivot`,
  swingBoth: (a: string, reachA: Um, b: string, reachB: Um): string =>
    `${a} and ${b} must swing free of each other, ${
      reachA === reachB ? `each within ${len(reachA)}` : `within ${len(reachA)} and ${len(reachB)}`
    } of its pivot`,
  placed: (item: string): string => `${item} must be placed`,
  heldOffGrid: (item: string, grid: Um): string => `${item} is held off the grid of ${toMm(grid)} mm`,
  at: (item: string, { at, deck, turn }: Position, decks: readonly Deck[]): string =>
    `${item} must stand at ${len(at.x)}, ${len(at.y)} on ${deckCalled(decks[deck]!)}${
      turn === undefined ? '' : turn === 0 ? ', not turned' : `, turned by ${turn * 90}°`
    }`,
  centred: (item: string, axis: 'x' | 'y'): string => `${item} must stand in the middle ${MIDDLE[axis]}`,
  edge: (item: string, within: Um, edge: Side): string =>
    `${item} must be within ${toMm(within)} mm of the ${EDGES[edge]} edge`,
  insideArea: (item: string, shape: Shape): string => {
    const { x, y, w, h } = bounds(prepare(shape))
    const box = `${len(x)}, ${len(y)} to ${len(x + w)}, ${len(y + h)}`
    const whole = shape.kind === 'rect' && shape.radius === 0
    return `${item} must lie inside the area given for it, ${whole ? `from ${box}` : `which is not all of the box from ${box}`}`
  },
  near: (item: string, within: Um, other: string): string =>
    `${item} must be within ${toMm(within)} mm of ${other} between centres`,
  beyond: (item: string, side: Side, other: string): string => `${item} must be ${BEYOND[side]} ${other}`,
  host: (item: string, host: string): string => `${item} must be plugged into ${host}`,
  /** One `place` entry of an item. */
  place: (item: string, p: Place, decks: readonly Deck[]): string => {
    switch (p.kind) {
      case 'at':
        return asked.at(item, p, decks)
      case 'centred':
        return asked.centred(item, p.axis)
      case 'edge':
        return asked.edge(item, p.within, p.edge)
      case 'inside':
        return asked.insideArea(item, p.shape)
      case 'near':
        return asked.near(item, p.within, p.item.name)
      case 'beyond':
        return asked.beyond(item, p.side, p.item.name)
      case 'host':
        return asked.host(item, p.item.name)
    }
  },
}

/** Whether a member asks for nothing but that an item is there. */
export const asksPlaced = ({ items, text }: { readonly items: readonly string[]; readonly text: string }): boolean =>
  text === asked.placed(items[0]!)

/**
 * Members of a conflict that ask the same of several items, as one sentence. `text`: what `asked` says of them, with `sign` in place of
 * the name that differs; `names`: all of them, listed. Undefined where there is no such sentence: then each stands as it is.
 */
export const gathered = {
  /** Of texts with one name. */
  each: (text: string, sign: string, names: string): string | undefined => {
    const [before, after, more] = text.split(sign)
    if (before === undefined || after === undefined || more !== undefined) return undefined
    return after.startsWith(' must ') ? `${before}${names} must each ${after.slice(' must '.length)}` : undefined
  },
  /** Of texts with two names, of which one is the same in all and stands there as it is. */
  eachWith: (text: string, sign: string, names: string): string | undefined => {
    const [before, after, more] = text.split(sign)
    if (before === undefined || after === undefined || more !== undefined) return undefined
    if (before === '')
      return after.startsWith(' must ') ? `${names} must each ${after.slice(' must '.length)}` : undefined
    if (before.includes(' must ')) return `${before}${names}${after}`
    // that two are apart says nothing of the others
    return / and (the [a-z -]+ of )?$/.test(before) ? `${before}each of ${names}${after}` : undefined
  },
  /** Of texts with two names. */
  anyTwo: (text: string, sign: string, names: string): string | undefined => {
    const [before, after, more] = text.split(`${sign} and ${sign}`)
    return before !== undefined && after?.startsWith(' must ') && more === undefined
      ? `${before === '' ? 'Any' : `${before}any`} two of ${names}${after}`
      : undefined
  },
}
