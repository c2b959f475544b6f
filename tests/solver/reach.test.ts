/** Where a board may stand so that the leads of all motors reach what is plugged into it: against the checker, place by place. */
import { describe, expect, it } from 'vitest'
import { compile } from '../../solver/compile.ts'
import { check, type Placement, type Problem, solve } from '../../solver/index.ts'
import { onTurnedHost, sameOnDeck } from '../../solver/search/parts.ts'
import { seatsOn } from '../../solver/search/seats.ts'
import { type Turn, turnedSize, um } from '../../solver/units.ts'
import { benchDecks } from '../bench/decks.ts'
import { type Dice, dice } from '../bench/random.ts'
import { problemOf, problemWith } from '../published/project.ts'
import { LONG } from './oracle/mixes.ts'

const [BOARD, DRIVER] = [0, 1]

/** A board with a driver on it, two decks, two motors' leads that are about as long as they must be. */
function robot(d: Dice): Problem {
  const [w, h] = [d.whole(90, 130), d.whole(70, 100)]
  const grid = d.pick([1, 2])
  const lead = (id: string, x: number) => ({ id, deck: 'low', at: [x, d.whole(10, h - 10)], free: d.whole(60, 170) })
  const deck = (id: string, z: number) => ({ id, z, thickness: 3, outline: { rect: [0, 0, w, h], radius: 8 } })
  return problemWith({
    settings: { grid, edgeClearance: 1, itemClearance: 1 },
    decks: [deck('low', 40), deck('high', 40 + d.whole(25, 45))],
    exits: [lead('left', d.whole(3, 15)), lead('right', w - d.whole(3, 15))],
    passes: [4, w - 6].map((x, k) => ({ id: `pass-${k}`, decks: ['low', 'high'], at: [x, d.whole(10, h - 10)] })),
    items: [
      { id: 'board', footprint: d.pick(['breadboard-170', 'breadboard-400']) },
      { id: 'driver', footprint: 'driver-7-in-line', place: [{ kind: 'host', item: 'board' }] },
    ],
    wires: ['left', 'right'].map((side) => ({
      id: `drive-${side}`,
      from: { exit: side },
      to: { item: 'driver', terminal: `${side}-motor` },
      conductors: 2,
      loop: d.whole(0, 10),
    })),
  })
}

/** By the checker: is there a seat for the driver that both leads reach? */
function reached(problem: Problem, board: Placement): boolean {
  const [host, part] = [problem.items[BOARD]!.footprint, problem.items[DRIVER]!.footprint]
  return seatsOn(part, host).some((seat) => {
    const size = turnedSize(part.width, part.depth, seat.turn)
    const p = onTurnedHost(host, seat.u, seat.v, size.w, size.h, board.turn)
    const at = { x: um(board.at.x + p.x), y: um(board.at.y + p.y) }
    const turn = ((seat.turn + board.turn) & 3) as Turn
    const driver = { item: DRIVER, deck: board.deck, at, turn, host: BOARD }
    return !check(problem, [board, driver]).some((f) => f.rule === 'R7')
  })
}

/** Some places of the board on each deck: what the model leaves of them, and what the checker says. */
function places(problem: Problem, d: Dice): { readonly left: boolean; readonly right: boolean }[] {
  const board = compile(problem).bodies[BOARD]!
  const { x, y, modes, maps, footprint } = board
  const onlyBoard = { ...problem, items: [problem.items[BOARD]!], wires: [] }
  return modes.flatMap((mode, k) =>
    Array.from({ length: 5 }, () => {
      const [i, j] = [d.whole(0, x.values.length - 1), d.whole(0, y.values.length - 1)]
      const at = { x: um(x.values[i]!), y: um(y.values[j]!) }
      const put = (turn: Turn): Placement => ({ item: BOARD, deck: mode.deck, at, turn })
      const turns = modes.filter((m) => m.deck === mode.deck && sameOnDeck(footprint, m.turn, mode.turn))
      const stands = check(onlyBoard, [put(mode.turn)]).length === 0
      return {
        left: maps![k]!.at(i, j),
        right: stands && turns.some((m) => reached(problem, put(m.turn))),
      }
    }),
  )
}

describe('places that the leads reach', () => {
  it('are those where the checker finds a seat for the driver', () => {
    const all = Array.from({ length: LONG ? 300 : 4 }, (_, seed) => {
      const d = dice(seed + 1)
      return places(robot(d), d)
    }).flat()
    for (const { left, right } of all) expect(left).toBe(right)
    expect(all.some((p) => p.right)).toBe(true)
    expect(all.some((p) => !p.right)).toBe(true)
  })

  it('are not on the top deck of a robot whose two leads do not come together there: no search is needed to know', () => {
    const problem = problemOf(benchDecks().find((b) => b.name === '30 on 3, 3')!.text)
    const model = compile(problem)
    const bench = model.bodies.find((b) => b.item.id === 'bench')!
    const left = bench.modes.map((m, k) => ({ deck: m.deck, places: bench.maps![k]!.total }))
    expect(left.filter((m) => m.deck === 2).map((m) => m.places)).toEqual(left.filter((m) => m.deck === 2).map(() => 0))
    expect(left.some((m) => m.deck === 1 && m.places > 0)).toBe(true)
    // with one of the leads there is room on the top deck
    const one = compile({ ...problem, wires: problem.wires.filter((w) => w.id !== 'drive-right') })
    const there = one.bodies[bench.index]!
    expect(there.modes.some((m, k) => m.deck === 2 && there.maps![k]!.total > 0)).toBe(true)
  })

  it('are nowhere: still the conflict names the wires', () => {
    const d = dice(3)
    const problem = robot(d)
    const short = { ...problem, exits: problem.exits.map((e) => ({ ...e, free: um(20_000) })) }
    const result = solve(short)
    if (result.status !== 'infeasible') throw new Error(result.status)
    expect(result.conflictIrreducible).toBe(true)
    expect(result.conflict.filter((c) => c.rule === 'R7').map((c) => c.items[0])).toContain('drive-left')
  })
})
