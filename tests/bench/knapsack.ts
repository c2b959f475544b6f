/** Published packing instances, and look-alikes of the larger published sets: value to proof, beside CP-SAT and the MILP. */
import { type Problem, solve } from '../../solver/index.ts'
import { lookAlikeOptima, lookAlikes } from '../published/look-alikes.ts'
import { type Instance, instances, projectText, publishedOptima } from '../published/packing.ts'
import { problemOf } from '../published/project.ts'
import { byCpSat, byMilp, entries, type Reference } from './reference.ts'
import { geometric, ms, mustBeSound, type Section, SHORT, table, timed, WARM_UP, yes } from './timing.ts'

/** Beyond this the MILP's text alone takes longer than the others' proofs, and at last no string holds it. */
const MOST_ENTRIES = 2_000_000

/** The last of several runs, as warm as ours, or the first where that was slow already. */
async function warmed(run: () => Promise<Reference>): Promise<Reference> {
  const first = await run()
  if (first.ms > 2000) return first
  for (let k = 0; k < WARM_UP && first.ms <= SHORT; k++) await run()
  return run()
}

interface References {
  readonly cp: Reference
  readonly milp: Reference
  readonly note: string
}

async function references(instance: Instance, seconds: number, milpToo: boolean): Promise<References> {
  const cp = await warmed(() => byCpSat(instance, seconds))
  const none: Reference = { value: undefined, ms: Number.NaN }
  if (!milpToo) return { cp, milp: none, note: 'left out' }
  const n = entries(instance)
  if (n > MOST_ENTRIES) return { cp, milp: none, note: `${(n / 1e6).toFixed(0)} million entries, left out` }
  return { cp, milp: await warmed(() => byMilp(instance, seconds)), note: '' }
}

/** Throws where anybody's proof says another value than is known. */
function mustAgree(name: string, who: string, value: number | undefined, optimum: number | undefined): void {
  if (value !== undefined && optimum !== undefined && value !== optimum)
    throw new Error(`${name}: ${who} proves ${value}, known is ${optimum}`)
}

const ratio = (r: Reference, ours: number, seconds: number, note: string): string =>
  note !== '' ? note : r.value === undefined ? `not in ${seconds} s` : `${ms(r.ms)} (${(r.ms / ours).toFixed(1)}×)`

export const published: Section = {
  name: 'published',
  run: async ({ quick, unit }, say) => {
    const seconds = quick ? 10 : 20
    const optima = publishedOptima()
    const rows: string[][] = []
    const ratios: { ours: number; fastest: number }[] = []
    for (const instance of instances) {
      const { name } = instance
      const { optimum } = optima.get(name)!
      const { result, warm, cold } = timed(name, problemOf(projectText(instance)), { time: seconds * 1000 })
      const o = 'objectives' in result ? result.objectives[0]! : undefined
      mustAgree(name, 'our solver', o?.proven ? o.value : undefined, optimum)
      const { cp, milp, note } = await references(instance, seconds, !quick)
      mustAgree(name, 'CP-SAT', cp.value, optimum)
      mustAgree(name, 'the MILP', milp.value, optimum)
      ratios.push({ ours: warm, fastest: Math.min(cp.ms, Number.isNaN(milp.ms) ? Infinity : milp.ms) })
      rows.push([
        name,
        `${optimum}`,
        o?.proven ? 'proven' : o ? `${o.value} of at most ${o.bound}` : result.status,
        ms(cold),
        ms(warm),
        (warm / unit).toFixed(2),
        yes(o?.proven === true && warm < 200),
        ratio(cp, warm, seconds, ''),
        ratio(milp, warm, seconds, note),
      ])
      say(rows.at(-1)!.join(' | '))
    }
    const ours = geometric(ratios.map((r) => r.ours))
    const theirs = geometric(ratios.map((r) => r.fastest))
    const mean = `Geometric means: ours ${ms(ours)} ms, the faster of the two ${ms(theirs)} ms: ${(theirs / ours).toFixed(1)} × (wanted: 5). A run that was cut short counts as the time it had, which favours whoever was cut. The MILP has a 0–1 variable for each kind and normal position.`
    const head = ['instance', 'optimum', 'answer', 'first, ms', 'warm, ms', '÷ yardstick', 'under 0.2 s']
    return `## Published packing instances: value to proof\n\n${mean}\n\n${table([...head, 'CP-SAT, ms (× ours)', 'MILP, ms (× ours)'], rows)}`
  },
}

export const similar: Section = {
  name: 'look-alikes',
  run: async ({ quick }, say) => {
    const seconds = quick ? 2 : 6
    const optima = lookAlikeOptima()
    const all = lookAlikes().filter((_, k) => !quick || k % 4 === 1)
    const rows: string[][] = []
    const times = { ours: [] as number[], cp: [] as number[] }
    let soon = 0
    for (const instance of all) {
      const { name, sheet, items } = instance
      const known = optima.get(name)
      const p: Problem = problemOf(projectText(instance))
      const t = performance.now()
      const result = solve(p, { time: seconds * 1000 })
      const took = performance.now() - t
      mustBeSound(name, p, result)
      const o = 'objectives' in result ? result.objectives[0]! : undefined
      mustAgree(name, 'our solver', o?.proven ? o.value : undefined, known?.optimum)
      if (o && known?.optimum !== undefined && (o.value > known.optimum || o.bound < known.optimum))
        throw new Error(`${name}: ${o.value} … ${o.bound} leaves out the optimum ${known.optimum}`)
      const { cp, milp, note } = await references(instance, seconds, !quick)
      mustAgree(name, 'CP-SAT', cp.value, known?.optimum)
      mustAgree(name, 'the MILP', milp.value, known?.optimum)
      times.ours.push(took)
      times.cp.push(cp.ms)
      if (o?.proven && took < 5000) soon++
      const short = o && !o.proven ? `${(100 * (1 - o.value / o.bound)).toFixed(1)} %` : '0'
      rows.push([
        name,
        `${sheet.w} × ${sheet.h}`,
        `${items.length}, ${items.reduce((s, p) => s + p.copies, 0)}`,
        known?.optimum === undefined ? 'not known' : `${known.optimum}`,
        known?.kind ?? 'not known',
        o ? `${o.value} of at most ${o.bound}` : result.status,
        o ? short : '–',
        o?.proven ? ms(took) : `not in ${seconds} s`,
        ratio(cp, took, seconds, ''),
        ratio(milp, took, seconds, note),
      ])
      say(rows.at(-1)!.join(' | '))
    }
    const [a, b] = [geometric(times.ours), geometric(times.cp)]
    const mean = `${soon} of ${all.length} proven within 5 s. Geometric means: ours ${ms(a)} ms, CP-SAT ${ms(b)} ms (${(b / a).toFixed(1)} ×); each has ${seconds} s, and a run that was cut short counts as the time it had. First runs of each, not repeated.`
    const head = ['instance', 'sheet', 'kinds, pieces', 'optimum', 'known', 'our value', 'gap', 'ours, ms']
    return `## Look-alikes of larger published sets\n\n${mean}\n\n${table([...head, 'CP-SAT, ms (× ours)', 'MILP, ms (× ours)'], rows)}`
  },
}
