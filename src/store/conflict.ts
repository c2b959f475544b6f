/** Rules that cannot hold together, told in as few sentences as say all: what is asked of several items alike is one sentence. */
import type { ConflictMember, Placement, Problem } from '../../solver/index.ts'
import { asked, gathered } from '../../solver/words-asked.ts'
import type { Sheet } from './document.ts'
import { asSpelt, called, listed, telling } from './sentences.ts'

export interface ConflictLine {
  readonly text: string
  /** Ids of items, zones, wires, decks and exits, each once. */
  readonly items: readonly string[]
}

/** A member's sentence with signs in place of the items that it names, in their order. */
interface Form {
  readonly form: string
  /** Of those that are alike, and of one rule. */
  readonly key: string
  readonly names: readonly string[]
}

/** The holds that have a part in a conflict: that an item stays where it is held is one of its members. */
export function holdsNamed(
  { problem, holds }: Sheet,
  placements: readonly Placement[],
  members: readonly ConflictMember[],
): string[] {
  const texts = new Set(members.map((m) => m.text))
  const there = placements.flatMap((p) => {
    const id = problem.items[p.item]?.id
    if (id === undefined) return []
    return texts.has(asked.at(id, p, problem.decks)) || texts.has(asked.heldOffGrid(id, problem.grid)) ? [id] : []
  })
  return holds.filter((id) => there.includes(id))
}

/** Stands for a name; no text has it otherwise. */
const SIGN = '\u0001'

function formOf(problem: Problem, { rule, items, text }: ConflictMember): Form {
  const spelt = asSpelt(problem, text)
  const ids = new Set(problem.items.map((item) => item.id))
  // The longest first: `board` is part of `board 2`.
  const names = items.filter((id) => ids.has(id)).sort((a, b) => b.length - a.length)
  const at: [number, string][] = []
  let left = spelt
  for (const id of names) {
    const name = called(id)
    // a whole word: an item may be called `in`
    const k = left.search(new RegExp(`(?<![\\w-])${name.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}(?![\\w-])`))
    if (k < 0) return { form: spelt, key: `${rule} ${spelt}`, names: [] }
    at.push([k, id])
    left = left.slice(0, k) + SIGN.repeat(name.length) + left.slice(k + name.length)
  }
  at.sort((a, b) => a[0] - b[0])
  const form = left.replace(new RegExp(`${SIGN}+`, 'g'), SIGN)
  return { form, key: `${rule} ${form}`, names: at.map(([, id]) => id) }
}

/** Items of which each two are a pair, as many as are found; none where they are fewer than three. */
function everyTwo(pairs: readonly (readonly [string, string])[]): string[] {
  const met = (a: string, b: string): boolean => pairs.some(([x, y]) => (x === a && y === b) || (x === b && y === a))
  let best: string[] = []
  const ids = [...new Set(pairs.flat())]
  for (const first of ids) {
    const group = [first]
    for (const id of ids) if (id !== first && group.every((other) => met(id, other))) group.push(id)
    if (group.length > best.length) best = ids.filter((id) => group.includes(id))
  }
  return best.length < 3 ? [] : best
}

/** Members whose sentences are alike but for the names in them. */
interface Kind {
  /** With signs in place of the names. */
  readonly form: string
  readonly lines: readonly (ConflictLine & { readonly names: readonly string[] })[]
}

const list = (ids: readonly string[]): string => listed(ids.map(called))

const itemsOf = ({ lines }: Kind): string[] => [...new Set(lines.flatMap(({ items }) => items))]

/** One sentence of all, where each names one item. */
function ofEach(kind: Kind): ConflictLine[] | undefined {
  const text = gathered.each(kind.form, SIGN, list(kind.lines.map(({ names }) => names[0]!)))
  return text === undefined ? undefined : [{ text, items: itemsOf(kind) }]
}

/** One sentence of those of which each two are a pair, where each names two items, and the others as they are. */
function ofAnyTwo({ form, lines }: Kind): ConflictLine[] | undefined {
  const all = everyTwo(lines.map(({ names }) => [names[0]!, names[1]!] as const))
  const text = all.length > 0 ? gathered.anyTwo(form, SIGN, list(all)) : undefined
  if (text === undefined) return undefined
  return [{ text, items: all }, ...lines.filter(({ names }) => !names.every((id) => all.includes(id)))]
}

/** One sentence of all, where each names two items and one of them, the first or the second, is the same in all. */
function ofOneWith(kind: Kind): ConflictLine[] | undefined {
  const [before, between, after] = kind.form.split(SIGN)
  for (const same of [0, 1]) {
    const id = kind.lines[0]!.names[same]!
    if (!kind.lines.every(({ names }) => names[same] === id)) continue
    const [start, end] = same === 0 ? [called(id), SIGN] : [SIGN, called(id)]
    const others = list(kind.lines.map(({ names }) => names[1 - same]!))
    const text = gathered.eachWith(`${before}${start}${between}${end}${after}`, SIGN, others)
    if (text !== undefined) return [{ text, items: itemsOf(kind) }]
  }
  return undefined
}

/** The sentences of a conflict, what says most first, else in the order of its members, each kind together where its first member stands. */
export function conflictLines(problem: Problem, members: readonly ConflictMember[]): ConflictLine[] {
  const kinds = new Map<string, Kind>()
  for (const member of telling(members)) {
    const { key, form, names } = formOf(problem, member)
    const line = { text: asSpelt(problem, member.text), items: member.items, names }
    kinds.set(key, { form, lines: [...(kinds.get(key)?.lines ?? []), line] })
  }
  return [...kinds.values()].flatMap((kind): ConflictLine[] => {
    const name = (count: number): boolean => kind.lines.length > 1 && kind.lines.every((l) => l.names.length === count)
    const told = (name(1) && ofEach(kind)) || (name(2) && (ofAnyTwo(kind) ?? ofOneWith(kind)))
    return (told || kind.lines).map(({ text, items }) => ({ text, items }))
  })
}
