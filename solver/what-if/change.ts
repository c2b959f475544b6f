/** Changes to what is asked: each as data that a page can turn into a button, applied here to a problem and in src/model to a file. */
import type { Item, ItemRef, Place, Problem, Shape } from '../problem.ts'
import { withRefs } from '../refs.ts'
import { type Um, um } from '../units.ts'
import { changed, deckCalled } from '../words.ts'
import { resized, resizedDeck, sizeOf } from './outline.ts'
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
      /** What people call it, where it has a name. */
      readonly name?: string
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
      // longer and wider may be two changes: each is added to what the deck is by then
      const { longer, wider } = change
      const made = (o: Shape) => resized(o, longer, wider) ?? change.outline
      const decks = problem.decks.map((d) => (d.id === change.deck ? { ...d, outline: made(d.outline) } : d))
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

type Outline = Extract<Change, { kind: 'outline' }>

/**
 * Of changes to `problem`: those of one deck's outline as one, and of one lead, for which two wires may ask, the largest. Undefined where a
 * deck cannot be made longer and wider by as much.
 */
export function joined(problem: Problem, changes: readonly Change[]): Change[] | undefined {
  let possible = true
  const list = changes.flatMap((change, i): Change[] => {
    if (change.kind === 'free') {
      const more = (c: Change, k: number) =>
        c.kind === 'free' && c.exit === change.exit && (c.to > change.to || (c.to === change.to && k < i))
      return changes.some(more) ? [] : [change]
    }
    if (change.kind !== 'outline') return [change]
    const all = changes.filter((c): c is Outline => c.kind === 'outline' && c.deck === change.deck)
    if (all.length === 1 || changes.indexOf(all[0]!) !== i) return all.length === 1 ? [change] : []
    const sum = (by: (c: Outline) => Um) => um(all.reduce((n, c) => n + by(c), 0))
    const [longer, wider] = [sum((c) => c.longer), sum((c) => c.wider)]
    const deck = problem.decks.findIndex((d) => d.id === change.deck)
    const outline = resizedDeck(problem, deck, longer, wider)
    if (!outline) possible = false
    return outline ? [{ ...change, longer, wider, outline, to: sizeOf(outline) }] : []
  })
  return possible ? list : undefined
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
  return id.includes('#') && (names.includes(id) || nets.includes(item) || (problem.named ?? []).includes(id))
}

/** Without the last copy; where one stands that is held, one goes on standing. */
function oneFewer({ problem, pins }: Case, base: string): Case {
  const copies = copiesOf(problem, base)
  const gone = copies[copies.length - 1]!
  const now = (i: number) => (i > gone ? i - 1 : i)
  const items = problem.items.filter((_, i) => i !== gone)
  // a single copy goes by the item's own name
  const named = items.map((i) => (i.base === base && copies.length === 2 ? { ...i, id: base } : i))
  // where the last one is held and another is not, that one is left to stand there
  const free = copies.filter((i) => i !== gone && !pins.some((p) => p.item === i))
  const other = free.find((i) => !isNamedAlone(problem, i)) ?? free[0]
  const moved = other === undefined ? pins : pins.map((p) => (p.item === gone ? { ...p, item: other } : p))
  const held = moved.filter((p) => p.item !== gone).map((p) => ({ ...p, item: now(p.item) }))
  const refer = (r: ItemRef): ItemRef => {
    const items = r.items.filter((i) => i !== gone).map(now)
    const isOnly = copies.length === 2 && r.name !== base && items.length === 1 && r.items[0] === copies[0]
    return isOnly ? { name: base, items, numbered: true } : { ...r, items }
  }
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
    if (r.name !== base) return { ...r, items: moved }
    return r.numbered ? { name: `${base}#1`, items: moved } : { name: base, items: [...moved, last + 1] }
  }
  return { problem: remapped({ ...problem, items }, refer, now), pins: pins.map((p) => ({ ...p, item: now(p.item) })) }
}

function remapped(problem: Problem, refer: (r: ItemRef) => ItemRef, now: (item: number) => number): Problem {
  const nets = problem.nets?.map((n) => ({
    ...n,
    ends: n.ends.map((e) => (e.kind === 'exit' ? e : { ...e, item: now(e.item) })),
    ...(n.switch === undefined ? {} : { switch: now(n.switch) }),
  }))
  return { ...withRefs(problem, refer), ...(nets ? { nets } : {}) }
}

/** One change as a phrase: `edge clearance 2 → 1 mm`, `deck main 6 mm longer (100 → 106 mm)`, `one board fewer (3 → 2)`. */
export function changeText(change: Change): string {
  switch (change.kind) {
    case 'setting':
      return changed[change.setting](change.from, change.to)
    case 'max-length':
      return changed.wire(change.wire, change.from, change.to)
    case 'free':
      return changed.lead(change.exit, change.from, change.to)
    case 'outline':
      return changed.deck(deckCalled({ ...change, id: change.deck }), change, change.to)
    case 'release':
      return changed.released(change.zone)
    case 'optional':
      return changed.without(change.item)
    case 'count':
      return (change.to < change.from ? changed.fewer : changed.more)(change.item, change.from, change.to)
    case 'no-place':
      return changed.place(change.item, change.place)
    case 'within':
      return change.place.kind === 'edge'
        ? changed.withinEdge(change.item, change.place.edge, change.from, change.to)
        : changed.within(change.item, 'item' in change.place ? change.place.item.name : '', change.from, change.to)
    case 'let-go':
      return changed.letGo(change.item)
  }
}

/** Settings are loosened by tenths of a millimetre, all other lengths by whole ones. */
export const FINE = um(100)
export const COARSE = um(1000)

/** Undefined where there is no less of it: it is done or not. */
function stepOf({ kind }: Change): Um | undefined {
  switch (kind) {
    case 'setting':
      return FINE
    case 'max-length':
    case 'free':
    case 'outline':
    case 'within':
      return COARSE
    case 'release':
    case 'optional':
    case 'count':
    case 'no-place':
    case 'let-go':
      return undefined
  }
}

/** Of changes of which one step less does not do: that, as a sentence with the step in it; empty where there is no less of any. */
export function smallerText(changes: readonly Change[]): string {
  const steps = new Set(changes.flatMap((c) => stepOf(c) ?? []))
  return steps.size === 0 ? '' : changed.smaller([...steps].sort((a, b) => a - b))
}

/** All changes as one sentence, with a capital and a full stop. */
export const changesText = (changes: readonly Change[]): string => changed.sentence(changes.map(changeText))
