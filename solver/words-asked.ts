/** Members of a conflict (words.ts says what files of texts are): what each rule asks of the things it names. */
import type { Mount, Place, Side, Zone } from './problem.ts'
import { holesOf } from './search/parts.ts'
import { bounds, prepare } from './shapes.ts'
import { type Rect, toMm, type Um } from './units.ts'
import { BEYOND, EDGES, len, listed, MIDDLE, why } from './words.ts'

/** What a mount makes in the deck, all of it together. */
function madeBy(mount: Mount): string {
  if (mount.kind === 'strap') return 'strap slots'
  if (mount.kind === 'drop-in') return mount.holes.length > 0 ? 'cut-out and holes' : 'cut-out'
  return 'holes'
}

/** The widest that needs solid deck under it; 0 where none does. */
const landOf = (mount: Mount): number => Math.max(0, ...holesOf(mount).map((h) => h.land))

/** A zone with its kind, why it is there, and the heights over the deck that it is about. */
function zoneCalled({ id, kind, why: reason, z }: Zone): string {
  const name = `the ${{ reserved: 'reserved zone', 'keep-out': 'keep-out zone', view: 'view', underside: 'underside zone' }[kind]} ${id}`
  const from = z?.[0] ?? 0
  if (kind === 'view')
    return `${name}${why(reason)}${from > 0 ? `, or reach no higher than ${len(from)} over the deck` : ''}`
  return `${name}${why(reason)}${z && kind !== 'underside' ? ` from ${len(z[0])} to ${len(z[1])} over the deck` : ''}`
}

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
  /** Missing where there is none that it must keep clear of. */
  readonly openings?: Um | undefined
  /** How far it may pass each edge. */
  readonly over: Readonly<Record<Side, Um>>
}

/** What is asked, in the project's own ids, but for decks, which come as `deckCalled` calls them. Whole, so that they can be told apart by their text. */
export const asked = {
  inside: (item: string, { decks, edge, openings, over }: Inside): string => {
    const off =
      openings === undefined
        ? ''
        : openings < edge
          ? ', and clear of the openings'
          : edge > 0
            ? ' and from the openings'
            : ' and clear of the openings'
    const past = (Object.keys(over) as Side[])
      .filter((s) => over[s] > 0)
      .map((s) => `${len(over[s])} at the ${EDGES[s]}`)
    const far =
      edge > 0
        ? `lie on ${listed(decks, 'or')}, at least ${len(edge)} from the edge`
        : `lie wholly on ${listed(decks, 'or')}`
    return `${item} must ${far}${off}${past.length > 0 ? `, though it may pass the edge by ${listed(past)}` : ''}`
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
    const land = landOf(mount)
    const duties = [
      web > 0 ? `keep ${len(web)} of deck all around` : 'lie wholly on deck',
      ...(land > 0 ? [`have lands of ${len(land)} on solid deck`] : []),
      ...(zones.length > 0 ? [`stay out of ${listed(zones.map(zoneCalled))}`] : []),
    ]
    return `the ${madeBy(mount)} of ${item} must ${listed(duties)}`
  },
  holesApart: (a: string, mountA: Mount, b: string, mountB: Mount, web: Um): string => {
    const [p, q] = [madeBy(mountA), madeBy(mountB)]
    const lands = landOf(mountA) > 0 && landOf(mountB) > 0
    const duties = [
      ...(web > 0 ? [`keep ${len(web)} of deck between them`] : ['not meet']),
      ...(lands ? ['have lands that do not overlap'] : []),
    ]
    return `the ${p} of ${a} and ${p === q ? '' : `the ${q} of `}${b} must ${listed(duties)}`
  },
  plugIn: (item: string): string => `${item} must sit on the contacts of a breadboard`,
  wireReach: (wire: string, from: string, to: string, most: Um): string =>
    `wire ${wire} must reach from ${from} to ${to} with at most ${len(most)} between its ends`,
  wireWay: (wire: string, from: string, to: string): string =>
    `wire ${wire} must find a way from the deck of ${from} to that of ${to}`,
  openAbove: (item: string, deck: string): string => `nothing may hang over ${item}, so it cannot stand under ${deck}`,
  /** Where it lacks least. */
  tooHigh: (item: string, lacking: Um, deck: string): string =>
    `${item} lacks at least ${len(lacking)} of height to stand under ${deck}`,
  swing: (head: string, other: string, reach: Um): string =>
    `${head} must swing free of ${other} within ${len(reach)} of its pivot`,
  swingBoth: (a: string, b: string): string => `${a} and ${b} must swing free of each other`,
  placed: (item: string): string => `${item} must be placed`,
  heldOffGrid: (item: string, grid: Um): string => `${item} is held off the grid of ${toMm(grid)} mm`,
  at: (item: string, x: Um, y: Um): string => `${item} must stand at ${len(x)}, ${len(y)}`,
  centred: (item: string, axis: 'x' | 'y'): string => `${item} must stand in the middle ${MIDDLE[axis]}`,
  edge: (item: string, within: Um, edge: Side): string =>
    `${item} must be within ${toMm(within)} mm of the ${EDGES[edge]} edge`,
  insideArea: (item: string, { x, y, w, h }: Rect): string =>
    `${item} must lie inside the area given for it, from ${len(x)}, ${len(y)} to ${len(x + w)}, ${len(y + h)}`,
  near: (item: string, within: Um, other: string): string => `${item} must be within ${toMm(within)} mm of ${other}`,
  beyond: (item: string, side: Side, other: string): string => `${item} must be ${BEYOND[side]} ${other}`,
  host: (item: string, host: string): string => `${item} must be plugged into ${host}`,
  /** One `place` entry of an item. */
  place: (item: string, p: Place): string => {
    switch (p.kind) {
      case 'at':
        return asked.at(item, p.at.x, p.at.y)
      case 'centred':
        return asked.centred(item, p.axis)
      case 'edge':
        return asked.edge(item, p.within, p.edge)
      case 'inside':
        return asked.insideArea(item, bounds(prepare(p.shape)))
      case 'near':
        return asked.near(item, p.within, p.item.name)
      case 'beyond':
        return asked.beyond(item, p.side, p.item.name)
      case 'host':
        return asked.host(item, p.item.name)
    }
  },
}

/**
 * Members of a conflict that ask the same of several items, as one sentence. `text`: what `asked` says of them, with `sign` in place of
 * the name that differs; `names`: all of them, listed. Undefined where there is no such sentence: then each stands as it is.
 */
export const gathered = {
  /** Of texts with one name, or with one that differs. */
  each: (text: string, sign: string, names: string): string | undefined => {
    const [before, after, more] = text.split(sign)
    if (before === undefined || after === undefined || more !== undefined) return undefined
    // that two are apart says nothing of others
    if (before.endsWith(' and ')) return `${before}each of ${names}${after}`
    if (after.startsWith(' and ')) return undefined
    if (after.startsWith(' must ') && !before.includes(' must '))
      return `${before}${names} must each ${after.slice(' must '.length)}`
    return before.includes(' must ') ? `${before}${names}${after}` : undefined
  },
  /** Of texts with two names. */
  anyTwo: (text: string, sign: string, names: string): string | undefined => {
    const [before, after, more] = text.split(`${sign} and ${sign}`)
    return before !== undefined && after?.startsWith(' must ') && more === undefined
      ? `${before === '' ? 'Any' : `${before}any`} two of ${names}${after}`
      : undefined
  },
}
