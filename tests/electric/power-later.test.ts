/** What a later item will draw, on top of what a pack gives today. */
import { describe, expect, it } from 'vitest'
import { inspectPower } from '../../src/electric/index.ts'
import { part, placed, problemOf, project } from './kit.ts'

const two = (extra: object) => part('two', 10, 10, { terminals: [{ id: 'plus', at: [2, 2] }], ...extra })

const robot = (load: object, more: object = {}) =>
  project({
    footprints: [
      { ...two({ power: { supply: { cells: 4, volts: 1.5, capacity: 2, fuse: 1.5, switched: true } } }), id: 'cells' },
      { ...two({ power: { load: { running: 1 } } }), id: 'lamp' },
      { ...two({}), id: 'arm' },
    ],
    items: [
      { id: 'cells', footprint: 'cells' },
      { id: 'lamp', footprint: 'lamp' },
      { id: 'arm', footprint: 'arm', later: true, power: { load }, ...more },
    ],
    wires: [
      {
        id: 'feed',
        from: { item: 'cells', terminal: 'plus' },
        to: { item: 'lamp', terminal: 'plus' },
        gauge: 22,
        supply: 'cells',
      },
    ],
  })

function seen(p: ReturnType<typeof robot>) {
  const problem = problemOf(p)
  return inspectPower(p, new Map(), problem, placed(problem, { cells: [0, 0], lamp: [50, 0], arm: [0, 50] }))
}

describe('a later item that says what it will draw', () => {
  it('is added to what runs: amperes and hours by hand', () => {
    const { supplies, findings } = seen(robot({ running: 0.25 }))
    expect(supplies[0]!.states.running.amps).toBe(1)
    expect(supplies[0]!.hours.running).toBe(2)
    expect(supplies[0]!.later).toEqual({ items: ['arm'], amps: 1.25, hours: 2 / 1.25 })
    expect(findings.filter((f) => f.kind === 'fuse-blows-later')).toEqual([])
  })

  it('is told where the fuse would not stand it', () => {
    const told = seen(robot({ running: 0.75 })).findings.filter((f) => f.kind === 'fuse-blows-later')
    expect(told.map((f) => f.text)).toEqual([
      'With arm there, 1.75 A will be drawn from cells; its fuse of 1.5 A would blow.',
    ])
  })

  it('counts with no pack whose volts it does not take, and not at all once it is no later item', () => {
    expect(seen(robot({ running: 0.75, min: 7 })).supplies[0]!.later).toBeUndefined()
    expect(seen(robot({ running: 0.75 }, { later: false })).supplies[0]!.later).toBeUndefined()
  })
})
