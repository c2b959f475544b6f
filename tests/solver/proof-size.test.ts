/**
 * What a proof costs: on the demo decks and on published packing instances, each proof is replayed; the table of
 * solver/proof/README.md is printed with `DECKWRIGHT_LONG=1 DECKWRIGHT_SAY=1 npx vitest run --project unit tests/solver/proof-size.test.ts`.
 */
import { afterAll, describe, expect, it } from 'vitest'
import duct from '../../demo-data/duct-inspector.json'
import scout from '../../demo-data/greenhouse-scout.json'
import shelf from '../../demo-data/shelf-reader.json'
import type { Problem } from '../../solver/problem.ts'
import { solve } from '../../solver/solve.ts'
import { variantsOf } from '../../src/model/index.ts'
import { instances, projectText } from '../published/packing.ts'
import { problemOf, projectOf } from '../published/project.ts'
import { proofOf, replayed, unproven } from './proof-kit.ts'

const SAY = process.env.DECKWRIGHT_SAY !== undefined
const rows: string[] = []

function fastest<T>(runs: number, one: () => T): { ms: number; value: T } {
  let best: { ms: number; value: T } | undefined
  for (let k = 0; k < runs; k++) {
    const t = performance.now()
    const value = one()
    const ms = performance.now() - t
    if (!best || ms < best.ms) best = { ms, value }
  }
  return best!
}

function measured(name: string, p: Problem, steps: number): void {
  const runs = SAY ? 5 : 1
  const options = { steps }
  if (SAY) solve(p, options)
  const bare = SAY ? fastest(runs, () => solve(p, options)).ms : Number.NaN
  const { ms, value: proof } = fastest(runs, () => proofOf(p, options))
  const { ms: again, value: r } = fastest(1, () => replayed(proof))
  expect(unproven(proof.result, r), name).toEqual([])
  const s = r.steps
  const trusted = [...r.trusted].map(([k, n]) => `${k} ${n}`).join(', ')
  const share = s.deduced === 0 ? 100 : (100 * [...r.judged.values()].reduce((a, b) => a + b, 0)) / s.deduced
  rows.push(
    `| ${[
      name,
      proof.result.status,
      s.given,
      s.deduced,
      s.learned,
      s.forgot,
      s.bound,
      (proof.bytes / 1000).toFixed(0),
      bare.toFixed(0),
      (ms / bare).toFixed(2),
      again.toFixed(0),
      `${Math.floor(share)} %`,
      trusted || '–',
    ].join(' | ')} |`,
  )
}

// Smaller proofs are replayed in every run (proof-replay.test.ts).
describe.runIf(process.env.DECKWRIGHT_LONG === '1')('proofs of larger decks stand when replayed', () => {
  afterAll(() => {
    if (!SAY) return
    const head =
      '| deck | status | given | deduced | learned | forgot | bounds | kB | solve ms | × with log | replay ms | judged | on trust |'
    console.log([head, `|${' --- |'.repeat(13)}`, ...rows].join('\n'))
  })

  for (const [file, document] of [
    ['greenhouse-scout', scout],
    ['duct-inspector', duct],
    ['shelf-reader', shelf],
  ] as const)
    it(file, { timeout: 120_000 }, () => {
      const text = JSON.stringify(document)
      for (const { id } of variantsOf(projectOf(text))) {
        const whole = problemOf(text, id)
        measured(`${file} ${id}, contacts`, { ...whole, objective: ['free-tie-points'] }, 20_000)
        measured(`${file} ${id}, all`, whole, SAY ? 20_000 : 2000)
      }
    })

  for (const i of instances.filter((n) => n.name.startsWith('ngcut')))
    it(i.name, { timeout: 120_000 }, () => measured(i.name, problemOf(projectText(i)), 1_000_000))
})
