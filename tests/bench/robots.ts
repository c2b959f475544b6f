/** Larger robots (decks.ts): 20 items on 2 decks, 30 items on 3. */
import { type Problem, type Progress, type SolveResult, solve } from '../../solver/index.ts'
import { problemOf } from '../published/project.ts'
import { byDeckModel } from './deck-model.ts'
import { benchDecks } from './decks.ts'
import { aiming } from './problems.ts'
import { ms, mustBeSound, type Section, table, timed, yes } from './timing.ts'

/** When what was first said, ms. */
interface Story {
  readonly result: SolveResult
  readonly legal: number
  readonly proven: number
  readonly ms: number
}

function told(name: string, p: Problem, seconds: number): Story {
  const t = performance.now()
  const seen = { legal: Number.NaN, wires: Number.NaN }
  const onProgress = (q: Progress): void => {
    const now = performance.now() - t
    if (Number.isNaN(seen.legal)) seen.legal = now
    // Whatever is said of wires is said when the tie points are settled.
    if (q.phase === 'wire-length' && Number.isNaN(seen.wires)) seen.wires = now
  }
  const result = solve(p, { time: seconds * 1000, onProgress })
  const all = performance.now() - t
  mustBeSound(name, p, result)
  const points = 'objectives' in result ? result.objectives.find((o) => o.name === 'free-tie-points') : undefined
  const proven = points?.proven ? (Number.isNaN(seen.wires) ? all : seen.wires) : Number.NaN
  return { result, legal: seen.legal, proven, ms: all }
}

const gap = (value: number, bound: number): number => (value === 0 ? 0 : (100 * (value - bound)) / value)

export const robots: Section = {
  name: 'robots',
  run: async ({ quick, unit }, say) => {
    const all = benchDecks().filter((_, k) => !quick || k % 4 === 0)
    const small: string[][] = []
    for (const { name, text } of all.filter((d) => d.name.startsWith('20'))) {
      const p = aiming(problemOf(text), ['free-tie-points'])
      const seconds = quick ? 10 : 20
      const { result, cold, warm } = timed(name, p, { time: seconds * 1000 })
      const o = 'objectives' in result ? result.objectives[0]! : undefined
      const proven = result.status === 'optimal'
      const reference = await byDeckModel(name, p, result, quick ? 5 : 10, !quick)
      small.push([
        name,
        o ? `${o.value} of at most ${o.bound}` : result.status,
        ms(cold),
        proven ? ms(warm) : `not in ${seconds} s`,
        (warm / unit).toFixed(1),
        yes(proven && warm < 2000),
        ...reference,
      ])
      say(small.at(-1)!.join(' | '))
    }
    const large: string[][] = []
    for (const { name, text } of all.filter((d) => d.name.startsWith('30'))) {
      const p = problemOf(text)
      const seconds = quick ? 15 : 60
      // with nothing to be best at, a solve ends with its first legal layout
      const first = timed(name, aiming(p, []), { time: 10_000 })
      const a = told(name, aiming(p, ['free-tie-points', 'wire-length']), seconds)
      const [points, wires] = 'objectives' in a.result ? a.result.objectives : []
      const reference = await byDeckModel(name, p, a.result, quick ? 5 : 10, !quick)
      const wide = wires ? gap(wires.value, wires.bound) : Number.NaN
      large.push([
        name,
        ms(a.legal),
        ms(first.warm),
        yes(first.warm < 200),
        points ? `${points.value} of at most ${points.bound}` : a.result.status,
        Number.isNaN(a.proven) ? `not in ${seconds} s` : ms(a.proven),
        yes(a.proven < 10_000),
        wires ? `${(wires.value / 1000).toFixed(0)} mm, at least ${(wires.bound / 1000).toFixed(0)}` : '–',
        Number.isNaN(wide) ? '–' : `${wide.toFixed(1)} %`,
        yes(points?.proven === true && wide <= 10),
        ...reference,
      ])
      say(large.at(-1)!.join(' | '))
    }
    const references = ['CP-SAT, ms', 'MILP, ms']
    const one = table(
      ['robot', 'free tie points', 'first, ms', 'warm, ms', '÷ yardstick', 'under 2 s', ...references],
      small,
    )
    const two = table(
      [
        'robot',
        'first legal layout, in the whole solve, ms',
        'alone, median, ms',
        'under 200 ms',
        'free tie points',
        'proven after, ms',
        'under 10 s',
        `wires after ${quick ? 15 : 60} s`,
        'gap',
        'at most 10 %',
        ...references,
      ],
      large,
    )
    const note =
      'What CP-SAT and the MILP are asked is the tie points of a model that asks for less (deck-model.ts), their best in brackets.'
    return `## 20 items on 2 decks: free tie points to proof\n\n${note}\n\n${one}\n\n## 30 items on 3 decks, tight: one solve of each\n\n${two}`
  },
}
