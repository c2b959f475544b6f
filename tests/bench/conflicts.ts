/** Infeasible decks of 12 items: how long until an irreducible conflict is told. */
import { solve } from '../../solver/index.ts'
import { problemOf } from '../published/project.ts'
import { impossibleDecks } from './impossible.ts'
import { median, ms, type Section, table, yes } from './timing.ts'

const SECONDS = 20

export const conflicts: Section = {
  name: 'conflicts',
  run: async ({ quick, unit }, say) => {
    const rows: string[][] = []
    for (const { name, text } of impossibleDecks()) {
      const p = problemOf(text)
      const once = () => {
        const t = performance.now()
        const r = solve(p, { time: SECONDS * 1000 })
        return { r, took: performance.now() - t }
      }
      const first = once()
      if (first.r.status === 'optimal' || first.r.status === 'feasible') throw new Error(`${name}: a layout was found`)
      const warm = median(Array.from({ length: quick || first.took > 5000 ? 1 : 3 }, () => once().took))
      const infeasible = first.r.status === 'infeasible' ? first.r : undefined
      rows.push([
        name,
        `${p.items.length}`,
        infeasible ? `${infeasible.conflict.length} rules` : first.r.status,
        infeasible ? yes(infeasible.conflictIrreducible) : '–',
        ms(first.took),
        ms(warm),
        (warm / unit).toFixed(1),
        yes(infeasible?.conflictIrreducible === true && warm < 1000),
      ])
      say(rows.at(-1)!.join(' | '))
    }
    const head = ['deck', 'items', 'conflict', 'irreducible', 'first, ms', 'warm, ms', '÷ yardstick', 'under 1 s']
    return `## Infeasible decks of 12 items: irreducible conflict\n\nWhether conflicts are irreducible is tested, member by member, in tests/solver.\n\n${table(head, rows)}`
  },
}
