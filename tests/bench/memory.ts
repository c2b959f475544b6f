/** Peak memory: each case in a process of its own, which does nothing else. */
import { spawnSync } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { type Problem, Session, solve } from '../../solver/index.ts'
import { builtLookAlikes } from '../published/look-alikes.ts'
import { instances, projectText } from '../published/packing.ts'
import { problemOf } from '../published/project.ts'
import { benchDecks } from './decks.ts'
import { growing } from './growing.ts'
import { demoProblems } from './problems.ts'
import { ms, type Section, table, yes } from './timing.ts'

const MOST = 500
const SECONDS = 10

const packed = (name: string): Problem => problemOf(projectText(instances.find((i) => i.name === name)!))
const built = (name: string): Problem =>
  problemOf(projectText(builtLookAlikes().find((b) => b.instance.name === name)!.instance))
const robot = (name: string): Problem => problemOf(benchDecks().find((d) => d.name === name)!.text)
const demo = (k: number): Problem => demoProblems()[k]!.problem

/** Each makes its own problem, so that a child holds no other. */
const CASES: Readonly<Record<string, () => Problem | undefined>> = {
  'nothing: the program itself': () => undefined,
  'greenhouse-scout, first variant': () => demo(0),
  ngcut6: () => packed('ngcut6'),
  gcut2: () => packed('gcut2'),
  'look-alike, 60 kinds on 500': () => built('dissected-500'),
  'look-alike, 100 kinds on 1000': () => built('dissected-1000'),
  '20 on 2, 1': () => robot('20 on 2, 1'),
  '30 on 3, 1': () => robot('30 on 3, 1'),
  '30 on 3, 2': () => robot('30 on 3, 2'),
  '30 on 3, 3': () => robot('30 on 3, 3'),
  '40 items on 3 decks': () => problemOf(growing(40, 3, 1, 1)),
  '20 items on 2 decks, grid 0.5': () => problemOf(growing(20, 2, 0.5, 1)),
}
const DRAG = 'drags on 20 on 2, 1'

interface Said {
  readonly status: string
  readonly ms: number
  readonly peak: number
}

/**
 * Greatest resident set so far, MB. Linux hands `maxRSS` of a parent on to its children, so there the high-water mark of this program alone
 * is read.
 */
function peak(): number {
  try {
    const kb = /^VmHWM:\s+(\d+) kB/m.exec(readFileSync('/proc/self/status', 'utf8'))?.[1]
    if (kb !== undefined) return Number(kb) / 1024
  } catch {
    // No such file on other systems.
  }
  return process.resourceUsage().maxRSS / 1024
}

/** In the child: one case; prints what it took as one line of JSON. */
export function oneCase(name: string, seconds: number): void {
  const t = performance.now()
  let status = '–'
  if (name === DRAG) {
    const p = robot('20 on 2, 1')
    const session = new Session(p)
    let layout = session.next([], [])
    for (let k = 0; k < 60 && layout; k++) layout = session.next([], layout)
    status = layout ? 'layouts' : 'none'
  } else {
    const p = CASES[name]?.()
    if (p) status = solve(p, { time: seconds * 1000 }).status
  }
  const said: Said = { status, ms: performance.now() - t, peak: peak() }
  console.log(JSON.stringify(said))
}

export const memory: Section = {
  name: 'memory',
  run: async ({ quick }, say) => {
    const seconds = quick ? 5 : SECONDS
    const names = [...Object.keys(CASES), DRAG].filter((_, k) => !quick || k % 3 === 0)
    let most = 0
    const rows = names.map((name) => {
      const child = spawnSync(process.execPath, [process.argv[1]!, '--case', name, '--seconds', `${seconds}`], {
        encoding: 'utf8',
      })
      if (child.status !== 0) throw new Error(`${name}: ${child.stderr}`)
      const said = JSON.parse(child.stdout) as Said
      most = Math.max(most, said.peak)
      const row = [name, said.status, ms(said.ms), said.peak.toFixed(0), yes(said.peak < MOST)]
      say(row.join(' | '))
      return row
    })
    const note = `Greatest resident set of a process that solves one case for up to ${seconds} s, as the system counts it; Node itself is in it. Most: ${most.toFixed(0)} MB.`
    return `## Memory\n\n${note}\n\n${table(['case', 'status', 'ms', 'peak, MB', `under ${MOST} MB`], rows)}`
  },
}
