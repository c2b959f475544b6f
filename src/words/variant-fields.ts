/** What a field of a project says, as a phrase: “may be left out”, “at most 150 mm long”. */

import { listed } from './listed.ts'
import { TURNED } from './turned.ts'

const SIDE: Readonly<Record<string, string>> = { front: 'front', back: 'back', left: 'left', right: 'right' }
const BEYOND: Readonly<Record<string, string>> = {
  front: 'ahead of',
  back: 'behind',
  left: 'left of',
  right: 'right of',
}

type Fields = Readonly<Record<string, unknown>>

const name = (id: unknown): string => String(id).replace('#', ' ')

function place(entry: Fields): string {
  switch (entry.kind) {
    case 'at': {
      const [x, y] = Array.isArray(entry.at) ? (entry.at as unknown[]) : []
      return `with its corner at ${x}, ${y} mm`
    }
    case 'centred':
      return entry.axis === 'x' ? 'in the middle from left to right' : 'in the middle from front to back'
    case 'edge':
      return `at most ${entry.within} mm from the ${SIDE[String(entry.edge)] ?? entry.edge} edge`
    case 'inside':
      return 'inside a region of the deck'
    case 'near':
      return `within ${entry.within} mm of ${name(entry.item)}`
    case 'beyond':
      return `${BEYOND[String(entry.side)] ?? entry.side} ${name(entry.item)}`
    case 'host':
      return `plugged into ${name(entry.item)}`
    default:
      return 'where a rule of its own says'
  }
}

const places = (value: unknown): string =>
  Array.isArray(value) && value.length > 0 ? listed((value as Fields[]).map(place)) : 'anywhere'

const turns = (value: unknown): string =>
  !Array.isArray(value) || value.length > 3
    ? 'turned any way'
    : listed(value.map((t) => TURNED[Number(t)] ?? String(t)))

function overhang(value: unknown): string {
  const sides = Object.entries((value ?? {}) as Fields).filter(([, mm]) => Number(mm) > 0)
  return sides.length === 0
    ? 'past no edge'
    : listed(sides.map(([side, mm]) => `up to ${mm} mm past the ${SIDE[side] ?? side} edge`))
}

const mm = (before: string, after: string, missing: string) => (value: unknown) =>
  value === undefined ? missing : `${before}${value} mm${after}`

type Phrase = (value: unknown) => string

const ITEM: Readonly<Record<string, Phrase>> = {
  footprint: (v) => `the part ${v}`,
  count: (v) => (Number(v ?? 1) === 1 ? 'one of it' : `${v} of it`),
  required: (v) => (v === false ? 'may be left out' : 'has to be there'),
  value: (v) => `worth ${v ?? 1}`,
  turns,
  decks: (v) => (Array.isArray(v) && v.length > 0 ? `on ${listed(v.map(String))}` : 'on any deck'),
  place: places,
  stack: (v) => (Number(v ?? 0) === 0 ? 'nothing stacked on it' : `${v} mm of height kept on top of it`),
  later: (v) => (v === true ? 'only its place is kept, for later' : 'mounted now'),
  overhang,
  laterMass: (v) => (v === undefined ? 'without a mass for later' : `${v} g later`),
}

const WIRE: Readonly<Record<string, Phrase>> = {
  maxLength: mm('cut to at most ', '', 'of any length'),
  loop: mm('with ', ' to spare', 'with nothing to spare'),
  conductors: (v) => (Number(v ?? 1) === 1 ? 'one conductor' : `${v} conductors`),
  gauge: (v) => (v === undefined ? 'of no stated gauge' : `of gauge ${v}`),
  current: (v) => (v === undefined ? 'of no stated current' : `for ${v} A`),
}

const DECK: Readonly<Record<string, Phrase>> = {
  z: mm('', ' over the ground', 'at no height'),
  thickness: mm('', ' thick', 'of no thickness'),
  material: (v) => (v === undefined ? 'of no stated material' : `of ${v}`),
}

const SETTING: Readonly<Record<string, Phrase>> = {
  grid: mm('positions every ', '', 'positions every 1 mm'),
  edgeClearance: mm('at least ', ' between a body and the edge', 'bodies up to the edge'),
  itemClearance: mm('at least ', ' between two bodies', 'bodies side by side'),
  minWeb: mm('at least ', ' of solid deck between holes', 'at least 2 mm of solid deck between holes'),
  leastTipAngle: (v) => (v === undefined ? 'any slope before it tips' : `tips only beyond a slope of ${v}°`),
}

const LIST = { items: ITEM, wires: WIRE, decks: DECK } as const

/** What a field is called where it has no phrase. */
const OTHER: Readonly<Record<string, string>> = {
  outline: 'its outline',
  openings: 'its openings',
  holes: 'its holes',
  power: 'what it draws',
  wiring: 'how wires are laid',
  from: 'where it begins',
  to: 'where it ends',
}

const otherwise = (field: string): string => `${OTHER[field] ?? `its field “${field}”`} differs`

export const variantFields = {
  /** “brain: may be left out here; otherwise it has to be there” is made of two phrases; without one, what differs is only named. */
  difference: (list: keyof typeof LIST, entry: string, field: string, is: unknown, was: unknown): string => {
    const phrase = LIST[list][field]
    if (phrase && phrase(is) === phrase(was)) return `${name(entry)}: ${phrase(is)}, said for this variant alone.`
    return phrase
      ? `${name(entry)}: ${phrase(is)} here, ${phrase(was)} otherwise.`
      : `${name(entry)}: ${otherwise(field)}.`
  },
  setting: (field: string, is: unknown, was: unknown): string => {
    const phrase = SETTING[field]
    return phrase ? `Here ${phrase(is)}; otherwise ${phrase(was)}.` : `Here ${otherwise(field)}.`
  },
}
