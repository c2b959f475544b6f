/** The rule of strips in the solves that commands and page ask for: only where the file asks for wiring, and never in silence. */
import { describe, expect, it } from 'vitest'
import { check, solve } from '../../solver/index.ts'
import { tooShort, wiringRules } from '../../src/worker/rules.ts'
import { rulesOf } from '../../src/worker/rules-of.ts'
import { part, problemOf, project } from '../electric/kit.ts'
import { board, driver, driverOf } from '../electric/strips-rule-kit.ts'
import { ruled } from './ruled-kit.ts'

const BOARD = { id: 'board', footprint: 'board', place: [{ kind: 'at', deck: 'main', at: [8, 6], turn: 0 }] }
const DRIVER = { id: 'driver', footprint: 'driver', turns: [0, 2] }

/** The lead to its screw draws the driver to where its body covers the strips of its pins. */
const robot = (settings: object, more: object = {}) =>
  project({
    decks: [{ id: 'main', z: 10, thickness: 3, outline: { rect: [0, 0, 60, 50] } }],
    settings,
    footprints: [board(), driver],
    exits: [
      { id: 'lead', deck: 'main', at: [52, 2] },
      { id: 'pull', deck: 'main', at: [19, 19] },
    ],
    items: [BOARD, DRIVER],
    wires: [{ id: 'pull', from: { exit: 'pull' }, to: { item: 'driver', terminal: 'screw' } }],
    nets: [{ id: 'go', ends: [{ item: 'driver', terminal: '2' }, { exit: 'lead' }] }],
    objective: ['wire-length'],
    ...more,
  })

describe('strips in a solve', () => {
  const asked = robot({ wiring: {} })
  const rules = rulesOf(asked, 'base')
  const p = problemOf(asked)

  it('make it find another layout, proven best of those that can be joined', () => {
    const free = solve(p)
    const { result, short } = ruled(p, rules)
    if (free.status !== 'optimal' || result.status !== 'optimal') throw new Error(`${free.status} ${result.status}`)
    // or this shows nothing; every seat tried by hand: tests/electric/strips-rule.test.ts
    expect(tooShort(p, free.placements, rules)).toEqual([
      'Net go: no contact is free on the strip of driver, 2, at a4 of board, so nothing can be joined to it.',
    ])
    expect(short).toEqual([])
    expect(check(p, result.placements)).toEqual([])
    expect(tooShort(p, result.placements, rules)).toEqual([])
    expect(result.objectives[0]!.value).toBeGreaterThan(free.objectives[0]!.value)
    expect(result.objectives[0]!.bound).toBe(result.objectives[0]!.value)
  })

  it('change nothing in a file that does not ask for wiring, to the byte', () => {
    const file = robot({})
    const plain = problemOf(file)
    expect(ruled(plain, rulesOf(file, 'base'))).toEqual({ result: solve(plain), short: [] })
  })

  it('ask nothing where nothing is plugged in, or no lead ends anywhere', () => {
    const names = (more: object) => wiringRules(problemOf(robot({ wiring: {} }, more)), rules).map((r) => r.name)
    expect(names({})).toEqual(['joined'])
    expect(names({ wires: [], nets: [] })).toEqual([])
    expect(
      names({
        items: [BOARD, { id: 'driver', footprint: 'box' }],
        footprints: [board(), part('box', 5, 5, { terminals: driver.terminals })],
        nets: [],
      }),
    ).toEqual([])
  })

  it.each([
    [
      'where the file holds the part there',
      { items: [BOARD, { ...DRIVER, turns: [0], place: [{ kind: 'inside', shape: { rect: [8, 6, 36, 14.5] } }] }] },
    ],
    [
      'where no seat would do',
      {
        footprints: [board(), driverOf(26, 13)],
      },
    ],
  ])('never make a legal layout infeasible, %s: it is handed out with the reason, and not called best', (_, more) => {
    const file = robot({ wiring: {} }, more)
    const q = problemOf(file)
    const free = solve(q)
    const { result, short } = ruled(q, rulesOf(file, 'base'))
    if (free.status !== 'optimal' || result.status !== 'feasible') throw new Error(`${free.status} ${result.status}`)
    expect(result.placements).toEqual(free.placements)
    expect(short).toEqual([
      expect.stringMatching(/^Net go: no contact is free on the strip of driver, 2, at \w+ of board/),
    ])
  })
})
