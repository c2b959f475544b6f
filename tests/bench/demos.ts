/** The demo decks: free tie points to proof, and wire length after them. */
import { byDeckModel } from './deck-model.ts'
import { aiming, demoProblems } from './problems.ts'
import { ms, type Section, table, timed, yes } from './timing.ts'

const SECONDS = 20

export const demos: Section = {
  name: 'demos',
  run: async ({ quick, unit }, say) => {
    const rows: string[][] = []
    for (const { name, problem } of demoProblems()) {
      const points = timed(name, aiming(problem, ['free-tie-points']), { time: SECONDS * 1000 })
      const both = timed(name, aiming(problem, ['free-tie-points', 'wire-length']), { time: SECONDS * 1000 })
      const [o, wires] = 'objectives' in both.result ? both.result.objectives : []
      const proven = points.result.status === 'optimal' || points.result.status === 'infeasible'
      const provenBoth = both.result.status === 'optimal' || both.result.status === 'infeasible'
      const answer = o
        ? `${o.value} contacts, ${wires ? `${(wires.value / 1000).toFixed(1)} mm, at least ${(wires.bound / 1000).toFixed(1)}` : ''}`
        : both.result.status
      const reference = await byDeckModel(name, problem, points.result, quick ? 5 : 15, !quick)
      rows.push([
        name,
        `${problem.items.length}`,
        answer,
        ms(points.cold),
        proven ? ms(points.warm) : `not in ${SECONDS} s`,
        (points.warm / unit).toFixed(2),
        yes(proven && points.warm < 100),
        provenBoth ? ms(both.warm) : `not in ${SECONDS} s`,
        yes(provenBoth && both.warm < 1000),
        ...reference,
      ])
      say(rows.at(-1)!.join(' | '))
    }
    const head = [
      'demo',
      'items',
      'answer',
      'tie points, first, ms',
      'tie points, warm, ms',
      '÷ yardstick',
      'under 100 ms',
      'tie points and wires, warm, ms',
      'under 1 s',
      'CP-SAT, ms',
      'MILP, ms',
    ]
    const note = `What CP-SAT and the MILP are asked is the tie points of a model that asks for less (deck-model.ts): an easier question, whose best, in brackets, is never worse than ours.`
    return `## Demo decks, 1 mm grid: free tie points, and wire length, to proof\n\n${note}\n\n${table(head, rows)}`
  },
}
