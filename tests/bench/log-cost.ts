/** What writing a proof costs: the same solve with and without a log. */
import { type Problem, type SolveResult, solving } from '../../solver/index.ts'
import { TextLog } from '../../solver/proof/text-log.ts'
import { instances, projectText } from '../published/packing.ts'
import { problemOf } from '../published/project.ts'
import { benchDecks } from './decks.ts'
import { aiming, demoProblems, type Named } from './problems.ts'
import { median, ms, mustBeSound, type Section, table } from './timing.ts'

/** By steps, not time, so that both runs do the same. */
const STEPS = 10_000

function run(p: Problem, log?: TextLog): SolveResult {
  const going = solving(p, { steps: STEPS }, log)
  for (;;) {
    const next = going.next()
    if (next.done) return next.value
  }
}

function clock<T>(runs: number, one: () => T): { readonly ms: number; readonly last: T } {
  const times: number[] = []
  let last!: T
  for (let k = 0; k < runs; k++) {
    const t = performance.now()
    last = one()
    times.push(performance.now() - t)
  }
  return { ms: median(times), last }
}

export const logCost: Section = {
  name: 'log',
  run: async ({ quick }, say) => {
    const points = (n: Named): Named => ({ ...n, problem: aiming(n.problem, ['free-tie-points']) })
    const robots = benchDecks().filter((d) => d.name === '20 on 2, 1')
    const all = [
      ...demoProblems().map(points),
      ...robots.map(({ name, text }) => points({ name, problem: problemOf(text) })),
      ...instances
        .filter((i) => i.name !== 'cgcut1')
        .map((i) => ({ name: i.name, problem: problemOf(projectText(i)) })),
    ].filter((_, k) => !quick || k % 4 === 0)
    const kinds = ['given', 'deduced', 'learned', 'forgot', 'bound']
    const rows = all.map(({ name, problem }) => {
      const runs = quick ? 1 : 3
      run(problem)
      const bare = clock(runs, () => run(problem))
      mustBeSound(name, problem, bare.last)
      const count = new Map<string, number>()
      const logged = clock(runs, () => {
        count.clear()
        const log = new TextLog((line) => count.set(line[0]!, (count.get(line[0]!) ?? 0) + 1))
        return { result: run(problem, log), bytes: log.bytes }
      })
      const { result, bytes } = logged.last
      if (result.status !== bare.last.status) throw new Error(`${name}: another status with a log`)
      const row = [
        name,
        result.status,
        ms(bare.ms),
        ms(logged.ms),
        `${(logged.ms / bare.ms).toFixed(2)} ×`,
        (bytes / 1000).toFixed(0),
        ...kinds.map((k) => `${count.get(k[0]!) ?? 0}`),
      ]
      say(row.join(' | '))
      return row
    })
    const head = ['deck', 'status', 'without, ms', 'with, ms', 'cost', 'kB', ...kinds]
    return `## Logging a proof\n\nUp to ${STEPS} steps each, so that both do the same work; the text is counted, not kept.\n\n${table(head, rows)}`
  },
}
