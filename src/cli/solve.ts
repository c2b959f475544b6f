import type { Placement, Problem } from '../../solver/index.ts'
import { layoutOf, newHoles, writeLayout } from '../model/index.ts'
import { limitsOf as limitRules } from '../worker/rules.ts'
import { rulesOf } from '../worker/rules-of.ts'
import { type Form, readArgs } from './args.ts'
import { known, once, together } from './bad-input.ts'
import { problemOf, variantFrom } from './input.ts'
import { type Io, warner } from './io.ts'
import { loosened } from './loosened.ts'
import { checkWritable, writeWhole } from './output.ts'
import { countLines } from './reuse.ts'
import { interrupts, limitsOf, progressLine, solveOn, solvers } from './slices.ts'

export const form: Form = {
  command: 'solve',
  about:
    'Lays out one variant of a project and writes the layout as JSON. Exit code 0: a layout; 1: proven that there\nis none; 2: bad input; 3: the time ran out with nothing to show.',
  operands: ['FILE'],
  options: {
    variant: { value: 'ID', about: 'which variant; default the first' },
    time: { value: 'S', about: 'seconds to take at most; default 10' },
    steps: { value: 'N', about: 'steps of the search to take at most, instead of time: the same answer every time' },
    out: { value: 'F', about: 'write the layout to this file instead of standard output' },
    loosen: { about: 'where nothing fits, add up to three smallest changes that make it fit' },
    progress: { about: 'say on standard error how the search goes, a line of JSON each' },
  },
}

export const seconds = 'a number of seconds'
export const MOST_SECONDS = 1_000_000

/** `solve FILE`: 0 a layout, 1 proven that there is none, 3 neither in time. */
export async function run(args: readonly string[], io: Io): Promise<number> {
  const given = readArgs(form, args)
  const file = given.operands[0]!
  const out = given.text('out') === '-' ? undefined : given.text('out')
  const limits = once(() =>
    together(
      () => given.number('time', seconds, 0, MOST_SECONDS),
      () => given.number('steps', 'a whole number', 1, Number.MAX_SAFE_INTEGER, true),
    ),
  )
  const pool = solvers(1)
  try {
    const since = performance.now()
    if (known(limits)) pool.warm(1)
    const [[time, steps], [project, variant]] = together(
      limits,
      () => variantFrom(file, given.text('variant'), warner(io, given.has('progress'))),
      () => out !== undefined && checkWritable('--out', out, [file]),
    )
    // not before: what waits for standard input must end at Ctrl-C at once
    const stop = interrupts()
    const problem = problemOf(project, variant)
    const { result, short } = await solveOn(
      pool,
      {
        problem,
        options: limitsOf({ time, steps }, since, 10),
        rules: rulesOf(project, variant),
        ...(given.has('progress') ? { onProgress: (p) => io.err(progressLine(p, since)) } : {}),
      },
      stop,
    )
    const more =
      given.has('loosen') && result.status === 'infeasible'
        ? await loosened(
            project,
            problem,
            result.conflict,
            { ...limitsOf({ time, steps }, since, 10), lazy: limitRules(problem) },
            stop,
          )
        : {}
    stop.stop()
    const layout = { ...layoutOf(problem, result, Math.round(performance.now() - since) / 1000), ...more }
    const text = writeLayout(layout)
    for (const text of short) io.err(shortWarning(text, given.has('progress')))
    if ('placements' in result && result.placements) {
      tellOfReuse(problem, result.placements, given.has('progress'), io)
    }
    if (out === undefined) io.out(text)
    else writeWhole([{ file: out, text }])
    switch (result.status) {
      case 'optimal':
      case 'feasible':
        return 0
      case 'infeasible':
        return 1
      case 'unknown':
        return 3
    }
  } finally {
    pool.end()
  }
}

/** Legal by R1–R10, but not as the file asks for its leads: said, not hidden. */
function shortWarning(text: string, json: boolean): string {
  const found = `${text} No layout was found in which every lead is long enough round what stands in its way and finds a free contact.`
  return json ? JSON.stringify({ warning: { found } }) : `warning: ${found}`
}

/** On a deck in which a layout was built before, how much of it serves again. Nothing is said where none of it does. */
function tellOfReuse(problem: Problem, placements: readonly Placement[], json: boolean, io: Io): void {
  const counts = newHoles(problem, placements)
  if (counts.every((c) => c.reused + c.reusedCuts === 0)) return
  if (json) io.err(JSON.stringify({ holes: counts }))
  else for (const line of countLines(problem, counts)) io.err(line)
}
