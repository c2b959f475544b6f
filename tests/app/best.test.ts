/** What was heard of a solve that was cut off. */
import { expect, it } from 'vitest'
import { type Figures, isProven } from '../../solver/index.ts'
import { bestSoFar } from '../../src/worker/best.ts'
import { files, text } from './store-sample.ts'

it('is proven by the one rule for it: balance as files have it, in whole micrometres', () => {
  const opened = files.open(text(), 'sample.json')
  if (opened.kind !== 'opened') throw new Error('no sample')
  const problem = {
    ...opened.doc.sheets[0]!.problem,
    objective: ['balance' as const],
    chassis: { contact: [], mass: 1, centre: { x: 0, y: 0, z: 0 } } as never,
  }
  for (const [balance, bound, proven] of [
    [10.6, 0.7, false],
    [10.4, 0.7, true],
    [10.4, -0.3, false],
  ] as const) {
    const known = { balance } as Figures
    const result = bestSoFar(problem, { best: [], bounds: new Map([['balance', bound]]) }, known)
    if (!('objectives' in result)) throw new Error(result.status)
    expect(result.objectives[0]).toMatchObject({ value: balance, bound, proven })
    expect(isProven(result.objectives[0]!)).toBe(proven)
    expect(result.status).toBe(proven ? 'optimal' : 'feasible')
  }
})
