/** Holds when an edit leaves fewer bodies or decks: which copies of an item stay, and which holds go. */
import { bodiesOf } from '../model/edit-items.ts'
import { applyVariant, type Project } from '../model/index.ts'
import { baseOf } from '../model/variants.ts'
import type { Renaming } from './along.ts'
import type { Sheet } from './document.ts'
import { placementOf } from './moves.ts'
import { isBuilt } from './state.ts'

/** Whether something asks for the k-th copy: by its number, or as an end that names the item alone and so means the first. */
function namedIn(project: Project, id: string): (k: number) => boolean {
  const { page: _, ...rest } = project as Project & { page?: unknown }
  const text = JSON.stringify(rest)
  const ends = [
    ...(project.wires ?? []).flatMap((w) => ['item' in w.from && w.from.item, 'item' in w.to && w.to.item, w.supply]),
    ...(project.nets ?? []).flatMap((n) => [n.switch, ...n.ends.map((e) => 'item' in e && e.item)]),
  ]
  return (k) => text.includes(JSON.stringify(`${id}#${k + 1}`)) || (k === 0 && ends.includes(id))
}

/**
 * An item in another number: the copies that are least bound go, those without a place first, then the last ones, and the others keep
 * their places and holds. One that something names stays the one that is named.
 */
export const recounted =
  (id: string): Renaming =>
  (sheet, next) => {
    const asked = applyVariant(next, sheet.variant)
    const { problem, placements = [] } = sheet
    const copies = problem.items.flatMap((item, i) => (item.base === id ? [i] : []))
    const names = bodiesOf(id, asked.items.find((i) => i.id === id)?.count ?? 1)
    const isNamed = namedIn(asked, id)
    const bond = (k: number): number => {
      const item = copies[k]!
      const body = problem.items[item]!.id
      if (isNamed(k)) return 5
      if (isBuilt(sheet, body)) return 4
      if (sheet.holds.includes(body)) return 3
      if (placements.some((p) => p.host === item)) return 2
      return placementOf(placements, item) ? 1 : 0
    }
    const all = copies.map((_, k) => k)
    const stay = new Set([...all].sort((a, b) => bond(b) - bond(a) || a - b).slice(0, names.length))
    const free = all.filter((k) => k < names.length && !stay.has(k))
    let beyond = names.length
    return new Map(
      all.map((k) => {
        const to = !stay.has(k) ? undefined : k < names.length ? k : free.shift()
        return [problem.items[copies[k]!]!.id, to === undefined ? `${id}#${++beyond}` : names[to]!]
      }),
    )
  }

/** Items that were held and still are asked for, and no longer held: `old` before the edit, `named` the same by the names after it. */
export const holdsLost = (old: Sheet, named: Sheet, now: Sheet): string[] =>
  old.holds.filter(
    (held, k) => !now.holds.includes(named.holds[k]!) && now.problem.items.some((i) => i.base === baseOf(held)),
  )

/** Held items that stand on a deck, in any variant, each once. */
export function heldOn(sheets: readonly Sheet[], deck: string): string[] {
  const on = sheets.flatMap(({ problem, holds, placements = [] }) =>
    placements.flatMap((p) => {
      const id = problem.items[p.item]?.id
      return id !== undefined && holds.includes(id) && problem.decks[p.deck]?.id === deck ? [id] : []
    }),
  )
  return [...new Set(on)]
}
