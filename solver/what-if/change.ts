/** Changes to what is asked: each as data that a page can turn into a button, applied here to a problem and in src/model to a file. */
import type { Item, ItemRef, Place, Problem, Shape, WireEnd } from '../problem.ts'
import { toMm, type Um } from '../units.ts'
import type { Case } from './trial.ts'

export type Setting = 'edgeClearance' | 'itemClearance' | 'minWeb'

/** Names are ids of the project file: `item` stands for all copies, `hold` for one. Lengths in Um. `entry` counts from 0. */
export type Change =
  | { readonly kind: 'setting'; readonly setting: Setting; readonly from: Um; readonly to: Um }
  | { readonly kind: 'max-length'; readonly wire: string; readonly from: Um; readonly to: Um }
  | { readonly kind: 'free'; readonly exit: string; readonly from: Um; readonly to: Um }
  | {
      readonly kind: 'outline'
      readonly deck: string
      readonly longer: Um
      readonly wider: Um
      readonly outline: Shape
      /** Length and width that come of it. */
      readonly to: { readonly length: Um; readonly width: Um }
    }
  | { readonly kind: 'release'; readonly zone: string }
  /** A required item that becomes optional. */
  | { readonly kind: 'optional'; readonly item: string }
  | { readonly kind: 'count'; readonly item: string; readonly from: number; readonly to: number }
  | { readonly kind: 'no-place'; readonly item: string; readonly entry: number; readonly place: Place }
  | {
      readonly kind: 'within'
      readonly item: string
      readonly entry: number
      readonly place: Place
      readonly from: Um
      readonly to: Um
    }
  /** A held item let go. */
  | { readonly kind: 'let-go'; readonly item: string }

/** The case with the change made; everything else as it was. */
export function applyChange(asked: Case, change: Change): Case {
  const { problem, pins } = asked
  const same = (p: Problem): Case => ({ problem: p, pins })
  const each = (base: string, edit: (item: Item) => Item) =>
    same({ ...problem, items: problem.items.map((i) => (i.base === base ? edit(i) : i)) })
  switch (change.kind) {
    case 'setting':
      return same({ ...problem, [change.setting]: change.to })
    case 'max-length': {
      const wires = problem.wires.map((w) => (w.id === change.wire ? { ...w, maxLength: change.to } : w))
      return same({ ...problem, wires })
    }
    case 'free': {
      const exits = problem.exits.map((e) => (e.id === change.exit ? { ...e, free: change.to } : e))
      return same({ ...problem, exits })
    }
    case 'outline': {
      const decks = problem.decks.map((d) => (d.id === change.deck ? { ...d, outline: change.outline } : d))
      return same({ ...problem, decks })
    }
    case 'release':
      return same({ ...problem, zones: problem.zones.filter((z) => z.id !== change.zone) })
    case 'optional':
      return each(change.item, (i) => ({ ...i, required: false }))
    case 'count':
      return change.to < change.from ? oneFewer(asked, change.item) : oneMoreCopy(asked, change.item)
    case 'no-place':
      return each(change.item, (i) => ({ ...i, place: i.place.filter((_, k) => k !== change.entry) }))
    case 'within':
      return each(change.item, (i) => ({
        ...i,
        place: i.place.map((p, k) => (k === change.entry && 'within' in p ? { ...p, within: change.to } : p)),
      }))
    case 'let-go':
      return { problem, pins: pins.filter((p) => problem.items[p.item]!.id !== change.item) }
  }
}

export const applyChanges = (asked: Case, changes: readonly Change[]): Case => changes.reduce(applyChange, asked)

/** The item's copies, by index. */
export const copiesOf = (problem: Problem, base: string): number[] =>
  problem.items.flatMap((i, k) => (i.base === base ? [k] : []))

/** A copy that something asks for by its number cannot be dropped by counting one fewer. */
export function isNamedAlone(problem: Problem, item: number): boolean {
  const { id } = problem.items[item]!
  const names = [
    ...problem.items.flatMap((i) => i.place.flatMap((p) => ('item' in p ? [p.item.name] : []))),
    ...problem.wires.flatMap((w) => [w.from, w.to].flatMap((n) => (n.kind === 'item' ? [n.ref.name] : []))),
  ]
  const nets = (problem.nets ?? []).flatMap((n) => [
    n.switch,
    ...n.ends.map((e) => (e.kind === 'exit' ? undefined : e.item)),
  ])
  return id.includes('#') && (names.includes(id) || nets.includes(item))
}

/** Without the last copy. */
function oneFewer({ problem, pins }: Case, base: string): Case {
  const copies = copiesOf(problem, base)
  const gone = copies[copies.length - 1]!
  const now = (i: number) => (i > gone ? i - 1 : i)
  const items = problem.items.filter((_, i) => i !== gone)
  // a single copy goes by the item's own name
  const named = items.map((i) => (i.base === base && copies.length === 2 ? { ...i, id: base } : i))
  const held = pins.filter((p) => p.item !== gone).map((p) => ({ ...p, item: now(p.item) }))
  const refer = (r: ItemRef): ItemRef => ({ name: r.name, items: r.items.filter((i) => i !== gone).map(now) })
  return { problem: remapped({ ...problem, items: named }, refer, now), pins: held }
}

/** With one more copy after the last; whoever names the item without a number means the new one too. */
function oneMoreCopy({ problem, pins }: Case, base: string): Case {
  const copies = copiesOf(problem, base)
  const last = copies[copies.length - 1]!
  const item = problem.items[last]!
  const now = (i: number) => (i > last ? i + 1 : i)
  const items = problem.items.flatMap((i, k) => {
    const mine = i.base === base && copies.length === 1 ? { ...i, id: `${base}#1` } : i
    return k === last ? [mine, { ...item, id: `${base}#${copies.length + 1}` }] : [mine]
  })
  const refer = (r: ItemRef): ItemRef => {
    const moved = r.items.map(now)
    return { name: r.name, items: r.name === base ? [...moved, last + 1] : moved }
  }
  return { problem: remapped({ ...problem, items }, refer, now), pins: pins.map((p) => ({ ...p, item: now(p.item) })) }
}

function remapped(problem: Problem, refer: (r: ItemRef) => ItemRef, now: (item: number) => number): Problem {
  const place = (p: Place): Place => ('item' in p ? { ...p, item: refer(p.item) } : p)
  const end = (n: WireEnd): WireEnd => (n.kind === 'item' ? { ...n, ref: refer(n.ref) } : n)
  const nets = problem.nets?.map((n) => ({
    ...n,
    ends: n.ends.map((e) => (e.kind === 'exit' ? e : { ...e, item: now(e.item) })),
    ...(n.switch === undefined ? {} : { switch: now(n.switch) }),
  }))
  return {
    ...problem,
    items: problem.items.map((i) => ({ ...i, place: i.place.map(place) })),
    wires: problem.wires.map((w) => ({ ...w, from: end(w.from), to: end(w.to) })),
    ...(nets ? { nets } : {}),
  }
}

const words: Readonly<Record<Setting, string>> = {
  edgeClearance: 'edge clearance',
  itemClearance: 'item clearance',
  minWeb: 'least web around holes',
}

const more = (from: Um, to: Um, word: string): string =>
  `${toMm((to - from) as Um)} mm ${word} (${toMm(from)} → ${toMm(to)} mm)`

/** One change as a phrase: `edge clearance 2 → 1 mm`, `deck main 6 mm longer (100 → 106 mm)`, `one board fewer (3 → 2)`. */
export function changeText(change: Change): string {
  switch (change.kind) {
    case 'setting':
      return `${words[change.setting]} ${toMm(change.from)} → ${toMm(change.to)} mm`
    case 'max-length':
      return `wire ${change.wire} ${more(change.from, change.to, 'longer')}`
    case 'free':
      return `the lead at ${change.exit} ${more(change.from, change.to, 'longer')}`
    case 'outline': {
      const { longer, wider, to } = change
      const part = (by: Um, word: string, other: string, now: Um) =>
        by === 0
          ? []
          : [`${toMm(Math.abs(by) as Um)} mm ${by > 0 ? word : other} (${toMm((now - by) as Um)} → ${toMm(now)} mm)`]
      const parts = [...part(longer, 'longer', 'shorter', to.length), ...part(wider, 'wider', 'narrower', to.width)]
      return `deck ${change.deck} ${parts.join(' and ')}`
    }
    case 'release':
      return `zone ${change.zone} released`
    case 'optional':
      return `without ${change.item}`
    case 'count':
      return `one ${change.item} ${change.to < change.from ? 'fewer' : 'more'} (${change.from} → ${change.to})`
    case 'no-place':
      return `let ${change.item} stand ${placeText(change.place)}`
    case 'within': {
      const where =
        change.place.kind === 'edge'
          ? `the ${change.place.edge} edge`
          : 'item' in change.place
            ? change.place.item.name
            : ''
      return `let ${change.item} stand up to ${toMm(change.to)} mm from ${where} instead of ${toMm(change.from)} mm`
    }
    case 'let-go':
      return `let go of ${change.item}`
  }
}

const sides = { front: 'in front of', back: 'behind', left: 'left of', right: 'right of' } as const

function placeText(place: Place): string {
  switch (place.kind) {
    case 'at':
      return `anywhere, not only at ${toMm(place.at.x)}, ${toMm(place.at.y)}`
    case 'centred':
      return `not in the middle ${place.axis === 'x' ? 'from left to right' : 'from back to front'}`
    case 'edge':
      return `at any distance from the ${place.edge} edge`
    case 'inside':
      return 'outside the area given for it too'
    case 'near':
      return `at any distance from ${place.item.name}`
    case 'beyond':
      return `not only ${sides[place.side]} ${place.item.name}`
    case 'host':
      return `not only on ${place.item.name}`
  }
}

/** All changes as one sentence, with a capital and a full stop. */
export function changesText(changes: readonly Change[]): string {
  const text = changes.map(changeText).join(', and ')
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`
}
