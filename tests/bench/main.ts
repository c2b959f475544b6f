/**
 * `npm run bench`: every answer checked first, then timed warm, beside a reference run in the same process. `-- --write` writes the
 * tables to tests/bench/RESULTS.md as well; `-- --quick` leaves the slow references out.
 */
import { writeFileSync } from 'node:fs'
import { cpus } from 'node:os'
import duct from '../../demo-data/duct-inspector.json'
import scout from '../../demo-data/greenhouse-scout.json'
import shelf from '../../demo-data/shelf-reader.json'
import { check, figures, type Problem, type SolveResult, solve } from '../../solver/index.ts'
import { variantsOf } from '../../src/model/index.ts'
import { instances, projectText, publishedOptima } from '../published/packing.ts'
import { problemOf, projectOf } from '../published/project.ts'
import { byCpSat, byMilp, type Reference } from './reference.ts'

const REPEATS = 5
const SECONDS = 60
const LIMIT = 0.5

/** A fixed piece of arithmetic, about 50 ms: what this machine does at this moment, so that tables of two days can be compared. */
function yardstick(): number {
  const t = performance.now()
  let x = 1
  for (let k = 0; k < 20_000_000; k++) x = (Math.imul(x, 1664525) + 1013904223) | 0
  if (x === 42) throw new Error('never')
  return performance.now() - t
}

const median = (v: readonly number[]): number => [...v].sort((a, b) => a - b)[Math.floor(v.length / 2)]!
const ms = (v: number): string => (v < 10 ? v.toFixed(2) : v.toFixed(0))

interface Timed {
  readonly result: SolveResult
  /** Warm, median, ms. */
  readonly warm: number
  readonly cold: number
}

function timed(p: Problem): Timed {
  const t = performance.now()
  const result = solve(p, { time: SECONDS * 1000 })
  const cold = performance.now() - t
  const runs = cold > 10_000 ? 1 : REPEATS
  const times = Array.from({ length: runs }, () => {
    const s = performance.now()
    solve(p, { time: SECONDS * 1000 })
    return performance.now() - s
  })
  return { result, cold, warm: median(times) }
}

/** Throws where an answer is not what it says. */
function checked(name: string, p: Problem, r: SolveResult): void {
  if (r.status !== 'optimal' && r.status !== 'feasible') return
  const findings = check(p, r.placements)
  if (findings.length > 0) throw new Error(`${name}: the layout breaks ${findings[0]!.rule}: ${findings[0]!.text}`)
  const f = figures(p, r.placements)
  const said = r.objectives.find((o) => o.name === 'free-tie-points')
  if (said && said.value !== f.freeTiePoints)
    throw new Error(`${name}: ${said.value} contacts said, ${f.freeTiePoints} counted`)
}

const table = (head: readonly string[], rows: readonly (readonly string[])[]): string =>
  [head, head.map(() => '---'), ...rows].map((r) => `| ${r.join(' | ')} |`).join('\n')

function demos(unit: number): string {
  const rows: string[][] = []
  for (const [file, document] of [
    ['greenhouse-scout', scout],
    ['duct-inspector', duct],
    ['shelf-reader', shelf],
  ] as const) {
    const text = JSON.stringify(document)
    for (const { id } of variantsOf(projectOf(text))) {
      // Proof of free tie points: nothing is optimised after them.
      const p: Problem = { ...problemOf(text, id), objective: ['free-tie-points'] }
      const { result, warm, cold } = timed(p)
      checked(`${file} ${id}`, p, result)
      const says = result.status === 'optimal' ? `${result.objectives[0]!.value} contacts, proven` : result.status
      rows.push([
        file,
        id,
        `${p.items.length}`,
        says,
        ms(cold),
        ms(warm),
        (warm / unit).toFixed(2),
        warm < LIMIT * 1000 ? 'yes' : 'no',
      ])
    }
  }
  const head = ['demo', 'variant', 'items', 'answer', 'first, ms', 'warm, ms', '÷ yardstick', `under ${LIMIT} s`]
  return `## Demo decks: proof of free tie points, 1 mm grid\n\n${table(head, rows)}`
}

async function packing(unit: number, quick: boolean): Promise<string> {
  const optima = publishedOptima()
  const rows: string[][] = []
  for (const instance of instances.filter((i) => i.name.startsWith('ngcut'))) {
    const { optimum } = optima.get(instance.name)!
    const p = problemOf(projectText(instance))
    const { result, warm, cold } = timed(p)
    checked(instance.name, p, result)
    const value = result.status === 'optimal' ? result.objectives[0]!.value : undefined
    if (value !== optimum) throw new Error(`${instance.name}: ${result.status} ${value}, published ${optimum}`)
    const none: Reference = { value: undefined, ms: Number.NaN }
    const cp = await warmed(() => byCpSat(instance, SECONDS))
    const milp = quick ? none : await warmed(() => byMilp(instance, SECONDS))
    for (const [who, r] of [
      ['CP-SAT', cp],
      ['the MILP', milp],
    ] as const)
      if (r.value !== undefined && r.value !== optimum)
        throw new Error(`${instance.name}: ${who} says ${r.value}, published ${optimum}`)
    const ratio = (r: Reference): string =>
      r.value === undefined ? `not in ${SECONDS} s` : `${ms(r.ms)} (${(r.ms / warm).toFixed(1)}×)`
    rows.push([
      instance.name,
      `${optimum}`,
      ms(cold),
      ms(warm),
      (warm / unit).toFixed(2),
      warm < LIMIT * 1000 ? 'yes' : 'no',
      ratio(cp),
      quick ? 'left out' : ratio(milp),
    ])
  }
  const head = [
    'instance',
    'optimum',
    'first, ms',
    'warm, ms',
    '÷ yardstick',
    `under ${LIMIT} s`,
    'CP-SAT, ms (× ours)',
    'MILP, ms (× ours)',
  ]
  return `## Packing (Beasley 1985): published optimum, proven\n\n${table(head, rows)}`
}

/** The second of two runs, or the first where that was slow already. */
async function warmed(run: () => Promise<Reference>): Promise<Reference> {
  const first = await run()
  return first.ms > 5000 ? first : run()
}

async function main(): Promise<void> {
  const args = new Set(process.argv.slice(2))
  yardstick()
  const unit = median([yardstick(), yardstick(), yardstick()])
  const about = `Node ${process.version}, ${cpus()[0]?.model.trim() ?? 'unknown processor'}, one core; yardstick ${unit.toFixed(0)} ms. Every answer is checked before it is timed; warm = median of ${REPEATS} runs after the first.`
  const parts = [`# Bench\n\n${about}`]
  console.log(parts[0])
  for (const part of [async () => demos(unit), () => packing(unit, args.has('--quick'))]) {
    const text = await part()
    parts.push(text)
    console.log(`\n${text}`)
  }
  if (args.has('--write')) {
    writeFileSync('tests/bench/RESULTS.md', `${parts.join('\n\n')}\n`)
    console.log('\nWritten to tests/bench/RESULTS.md')
  }
}

// The reference's threads would keep the process alive.
main().then(
  () => process.exit(0),
  (e: unknown) => {
    console.error(e instanceof Error ? e.message : e)
    process.exit(1)
  },
)
