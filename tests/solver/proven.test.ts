/** "Proven: bound = value (balance: to 0.01 mm)" (contract §5), also of what the time did not reach. */
import { describe, expect, it } from 'vitest'
import { solve } from '../../solver/solve.ts'
import { mm } from '../../solver/units.ts'
import { deck, item, part, problem, pt, rect } from './check-kit.ts'
import { layoutComplaints } from './oracle/compare.ts'
import { randomDeck } from './oracle/decks.ts'
import { tiny } from './oracle/mixes.ts'

describe('an objective is called proven exactly where its bound is its value', () => {
  it('balance, where nothing with a mass can move and the time ends before its turn', () => {
    const heavy = [37, 13.7, 0.31].map((mass, i) =>
      item(`heavy${i}`, part(7, 5, 4, { mass }), {
        decks: [0],
        place: [{ kind: 'at', deck: 0, at: pt(2.345 + 8 * i, 6.789 - i / 7), turn: 0 }],
      }),
    )
    const spare = Array.from({ length: 12 }, (_, i) =>
      item(`s${i}`, part(9, 8 + i / 10), { decks: [0], required: false }),
    )
    const p = problem([...heavy, ...spare], {
      decks: [deck(rect(0, 0, 31, 29))],
      grid: mm(1),
      objective: ['optional-value', 'balance'],
      chassis: { contact: [pt(0, 0), pt(31, 0), pt(29, 27)], mass: 211, centre: { ...pt(14.3, 13.1), z: mm(20) } },
    })
    for (const steps of [20, 40, 80]) {
      const r = solve(p, { steps })
      if (r.status !== 'feasible') throw new Error(r.status)
      expect(r.objectives.map((o) => [o.name, o.proven])).toEqual([
        ['optional-value', false],
        ['balance', true],
      ])
      expect(layoutComplaints(p, r)).toEqual([])
    }
  })
  it('balance, cut short anywhere, now and then within 0.01 mm of its bound', () => {
    const p = randomDeck(317, tiny)
    for (let steps = 1; steps <= 30; steps++)
      expect(layoutComplaints(p, solve(p, { steps })), `${steps} steps`).toEqual([])
  })
})
