/** Everything that an inspection says of one layout of 40 items: fast enough to follow a drag. */
import { readFileSync } from 'node:fs'
import { loadLibrary } from '../../footprints/load.ts'
import { check, figures, type Placement, type Problem } from '../../solver/index.ts'
import { inspect, type Report } from '../../src/inspect/index.ts'
import { formatProblem, type Project, placementsOf, readLayout } from '../../src/model/index.ts'
import { problemOf, projectOf } from '../published/project.ts'
import { inspectedRobot } from './inspect-deck.ts'
import { median, ms, quantile, type Section, table, yes } from './timing.ts'

const WANTED = 100
const REPEATS = 30

export const inspection: Section = {
  name: 'inspect',
  run: async ({ unit, quick }, say) => {
    const text = inspectedRobot()
    const project = projectOf(text)
    const problem = problemOf(text)
    const library = loadLibrary()
    const placements = laidOut(problem)
    const run = () => inspect(project, library, problem, placements)
    const started = cpu()
    const report = run()
    const cold = cpu() - started
    mustBeTrue(project, problem, placements, report)
    const times = Array.from({ length: quick ? REPEATS / 3 : REPEATS }, () => {
      const t = cpu()
      if (run().findings.length !== report.findings.length) throw new Error('inspect: another answer the second time')
      return cpu() - t
    })
    // what the engine has not yet made fast is no part of a drag
    const warm = times.slice(Math.floor(times.length / 3))
    const middle = median(warm)
    const row = [
      `inspect, ${problem.items.length} items`,
      `${problem.decks.length}, ${problem.wires.length}, ${problem.nets?.length ?? 0}, ${report.power?.supplies.length ?? 0}`,
      `${report.findings.length}`,
      ms(cold),
      ms(middle),
      ms(quantile(warm, 0.9)),
      (middle / unit).toFixed(2),
      yes(middle < WANTED),
    ]
    say(row.join(' | '))
    const head = [
      'what',
      'decks, leads, nets, supplies',
      'findings',
      'first, ms',
      'median, ms',
      '90 %, ms',
      '÷ yardstick',
      `under ${WANTED} ms`,
    ]
    return `## Inspection of one layout: leads, pins, power, balance, head, views, service, check list\n\nProcessor time of this process; the rules of a legal layout are checked in it too.\n\n${table(head, [row])}`
  },
}

/** A layout that `solve` found once; it is checked before anything is timed. */
function laidOut(problem: Problem): readonly Placement[] {
  const name = 'tests/bench/inspect-layout.json'
  const read = readLayout(readFileSync(name), name)
  if (!read.ok) throw new Error(read.problems.map(formatProblem).join('\n'))
  return placementsOf(problem, read.value).placements
}

/** Milliseconds of processor time. */
const cpu = (): number => {
  const { user, system } = process.cpuUsage()
  return (user + system) / 1000
}

/** Throws where the report says what the plain checker, or its own parts, do not bear out. */
function mustBeTrue(project: Project, problem: Problem, placements: readonly Placement[], report: Report): void {
  const wrong = (what: string): never => {
    throw new Error(`inspect, ${project.name}: ${what}`)
  }
  if (problem.items.length !== 40 || placements.length !== 40) wrong('not 40 items')
  const broken = check(problem, placements)
  if (broken.length > 0) wrong(`the layout breaks ${broken[0]!.rule}`)
  const straight = new Map(figures(problem, placements).wires.map((w) => [problem.wires[w.wire]!.id, w.length / 1000]))
  if (!report.leads || report.leads.routes.length + report.leads.blocked.length !== straight.size)
    wrong('leads are missing')
  for (const r of report.leads!.routes) {
    if (r.straight !== straight.get(r.wire))
      wrong(`${r.wire} is ${straight.get(r.wire)} mm straight, not ${r.straight}`)
    if (r.length < r.straight) wrong(`${r.wire} is shorter round things than straight`)
  }
  const weights = report.findings.map((f) => (f.weight === 'stops' ? 0 : 1))
  if (weights.some((w, i) => i > 0 && w < weights[i - 1]!)) wrong('what stops the job does not come first')
  if (new Set(report.findings.map((f) => f.text)).size !== report.findings.length) wrong('a finding is said twice')
  const there = [report.pins, report.power, report.balance, report.heads[0], report.views[0], report.access.reach[0]]
  if (there.some((p) => p === undefined)) wrong('a part of the report is missing')
  for (const s of report.power!.supplies) {
    const { amps, leads } = s.states.running
    if (leads.some((l) => l.amps > amps + 1e-9)) wrong(`a lead of ${s.supply} carries more than it gives`)
  }
}
