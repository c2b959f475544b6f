import { solve } from './solver/index.ts'
import { problemOf } from './tests/published/project.ts'
import { benchDecks } from './tests/bench/decks.ts'
import { growing } from './tests/bench/growing.ts'
import { aiming } from './tests/bench/problems.ts'
const decks = [...benchDecks(), ...[1, 2, 3].map((s) => ({ name: `grow 28 ${s}`, text: growing(28, 3, 1, s) })), ...[1, 2].map((s) => ({ name: `grow 40 ${s}`, text: growing(40, 3, 1, s) }))]
let sum = 0
for (const { name, text } of decks) {
  const p = aiming(problemOf(text), ['free-tie-points'] as any)
  const c = process.cpuUsage()
  let steps = 0
  const r = solve(p, { steps: 300_000, time: 90_000, onProgress: (q) => { steps = q.steps } }) as any
  const q = process.cpuUsage(c); const cpu = (q.user + q.system) / 1e6; sum += cpu
  console.log(name.padEnd(12), r.status, r.objectives[0].value, r.objectives[0].bound, 'steps', steps, 'cpu', cpu.toFixed(2))
}
console.log('sum', sum.toFixed(1))
