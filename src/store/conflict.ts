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
    if (k < 0) return { key: `${rule} ${spelt}`, names: [] }
    at.push([k, id])
    left = left.slice(0, k) + SIGN.repeat(name.length) + left.slice(k + name.length)
  }
  at.sort((a, b) => a[0] - b[0])
  return { key: `${rule} ${left.replace(new RegExp(`${SIGN}+`, 'g'), SIGN)}`, names: at.map(([, id]) => id) }
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

const everyOf = (alike: readonly { readonly member: ConflictMember }[]): string[] => [
  ...new Set(alike.flatMap(({ member }) => member.items)),
]

/** The sentences of a conflict, what says most first, else in the order of its members, each kind together where its first member stands. */
export function conflictLines(problem: Problem, members: readonly ConflictMember[]): ConflictLine[] {
  const kinds = new Map<string, { readonly member: ConflictMember; readonly names: readonly string[] }[]>()
  for (const member of telling(members)) {
    const { key, names } = formOf(problem, member)
    kinds.set(key, [...(kinds.get(key) ?? []), { member, names }])
  }
  return [...kinds].flatMap(([key, alike]): ConflictLine[] => {
    const alone = alike.map(({ member }) => ({ text: asSpelt(problem, member.text), items: member.items }))
    if (alike.length === 1) return alone
    const form = key.slice(key.indexOf(' ') + 1)
    const of = (ids: readonly string[]): string => listed(ids.map(called))
    const lists = alike.map(({ names }) => names)
    if (lists.every(({ length }) => length === 1)) {
      const text = gathered.each(form, SIGN, of(lists.map((names) => names[0]!)))
      if (text !== undefined) return [{ text, items: everyOf(alike) }]
    }
    if (lists.every(({ length }) => length === 2)) {
      const all = everyTwo(lists.map((names) => [names[0]!, names[1]!] as const))
      const text = all.length > 0 ? gathered.anyTwo(form, SIGN, of(all)) : undefined
      if (text !== undefined)
        return [{ text, items: all }, ...alone.filter((_, k) => !lists[k]!.every((id) => all.includes(id)))]
      for (const same of [0, 1]) {
        const id = lists[0]![same]!
        if (!lists.every((names) => names[same] === id)) continue
        const signs = form.split(SIGN)
        const [start, end] = same === 0 ? [called(id), SIGN] : [SIGN, called(id)]
        const text = gathered.eachWith(
          `${signs[0]}${start}${signs[1]}${end}${signs[2]}`,
          SIGN,
          of(lists.map((names) => names[1 - same]!)),
        )
        if (text !== undefined) return [{ text, items: everyOf(alike) }]
      }
    }
    return alone
  })
}
