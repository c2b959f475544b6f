import { laidLeads, wiringOf } from '../electric/index.ts'
import { figuresInFile, layoutOf } from '../model/index.ts'
import { rulesOf } from '../worker/rules-of.ts'
import { type Answer, cutLengths, leftOut, verdict } from './answers.ts'
import { type Form, readArgs } from './args.ts'
import { known, once, together } from './bad-input.ts'
import { type CutRow, cutRows } from './cut-table.ts'
import { problemOf, projectFrom, variantsAsked } from './input.ts'
import { type Io, warner } from './io.ts'
import { interrupts, limitsOf, solveOn, solvers } from './slices.ts'
import { MOST_SECONDS, seconds } from './solve.ts'
import { comparison } from './table.ts'

export const form: Form = {
  command: 'compare',
  about:
    'Lays out the variants of a project, several at a time, and shows them side by side. Exit code 0: every variant has an\nanswer, a proof that nothing fits included; 2: bad input; 3: the time ran out on one.',
  operands: ['FILE'],
  options: {
    variants: { value: 'a,b', about: 'only these variants, in this order' },
    time: { value: 'S', about: 'seconds to take at most for each; default 10' },
    json: { about: 'JSON instead of a table' },
  },
}

/** `compare FILE`: 0 when every variant has an answer, 3 otherwise. */
export async function run(args: readonly string[], io: Io): Promise<number> {
  const given = readArgs(form, args)
  const limit = once(() => together(() => given.number('time', seconds, 0, MOST_SECONDS)))
  const pool = solvers()
  try {
    const opened = performance.now()
    if (known(limit)) pool.warm(pool.threads)
    const [[time], [project, variants]] = together(limit, () => {
      const project = projectFrom(given.operands[0]!, warner(io, false))
      return [project, variantsAsked(project, given.text('variants')?.split(','), '--variants')] as const
    })
    // not before: what waits for standard input must end at Ctrl-C at once
    const stop = interrupts()
    const reading = performance.now() - opened
    const solved = await Promise.all(
      variants.map(async ({ id, name }): Promise<{ answer: Answer; layout: unknown; short: readonly string[] }> => {
        // Each variant's time counts as if it had been read alone.
        let since = performance.now() - reading
        const problem = problemOf(project, id)
        const spent = performance.now() - since
        const onStart = () => {
          since = performance.now() - spent
        }
        const options = limitsOf({ time, steps: undefined }, since, 10)
        const rules = rulesOf(project, id)
        const { result, short } = await solveOn(pool, { problem, options, rules, onStart }, stop)
        const layout = layoutOf(problem, result, Math.round(performance.now() - since) / 1000)
        return { answer: { id, name, problem, result }, layout, short }
      }),
    )
    stop.stop()
    for (const s of solved) for (const text of s.short) io.err(`warning: ${s.answer.name}: ${text}`)
    const answers = solved.map((s) => s.answer)
    const fitting = answers.filter((a) => 'placements' in a.result)
    const cuts = cutRows(fitting, ({ id, problem, result }) =>
      'placements' in result ? laidLeads(problem, result.placements, wiringOf(project, id)) : [],
    )
    const layouts = solved.map((s) => s.layout)
    io.out(given.has('json') ? json(answers, layouts, cuts) : comparison(answers, cuts))
    return answers.some((a) => a.result.status === 'unknown') ? 3 : 0
  } finally {
    pool.end()
  }
}

/**
 * `cutLengths` are the contract's, for straight ways. `laidCutLengths`, beside them, go round what is in the way: null where no length
 * serves every variant.
 */
function json(answers: readonly Answer[], layouts: readonly unknown[], rows: readonly CutRow[]): string {
  const variants = answers.map((a, i) => {
    const { result } = a
    const figures = 'figures' in result ? result.figures : undefined
    return {
      id: a.id,
      name: a.name,
      verdict: verdict(a),
      ...(figures === undefined
        ? {}
        : {
            ...figuresInFile(figures),
            leftOut: leftOut(a),
          }),
      layout: layouts[i],
    }
  })
  const cuts = Object.fromEntries([...cutLengths(answers)].map(([id, cut]) => [id, cut / 1000]))
  const laid = Object.fromEntries(
    rows.map((r) => [r.wire, r.cut === undefined || r.wrong.length > 0 ? null : r.cut / 1000]),
  )
  return `${JSON.stringify({ variants, cutLengths: cuts, laidCutLengths: laid }, null, 2)}\n`
}
