/**
 * The rule `joined`: what the plan of contacts finds shut in is what a solve learns. What the plan says of a layout (planStrips) is the
 * reference here; the geometry of the hand-made cases stands beside them. Random ones: strips-learned.test.ts.
 */
import { describe, expect, it } from 'vitest'
import { check, type LazyFinding, mm, type Placement, type Problem, solve } from '../../solver/index.ts'
import { joinedRule } from '../../src/electric/strips-rule.ts'
import { seatsOf } from '../../src/electric/strips-seats.ts'
import { part } from './kit.ts'
import { board, brain, cap, driver, fullIn, index, plugged, robot, sensor, standing } from './strips-rule-kit.ts'

const one = (p: Problem, placements: readonly Placement[]): LazyFinding[] => [...joinedRule.find(p, placements)]

describe('the rule of strips', () => {
  const asked = {
    items: [
      { id: 'board', footprint: 'board', count: 2 },
      { id: 'driver', footprint: 'driver' },
      { id: 'cap', footprint: 'cap', required: false },
    ],
    nets: [{ id: 'go', ends: [{ item: 'driver', terminal: '2' }, { exit: 'lead' }] }],
  }
  const p = robot(asked)
  const on = standing(p, 'board#1', 10, 10)
  /** Pins in a row of the left half, counted from the back; 1.27 of the body is before its first column. */
  const inRow = (row: number, column = 0) => ({ u: mm(3.11 + 2.54 * column - 1.27), v: mm(3 + 2.54 * row - 1) })

  it('finds a part that covers the strips of its own pins, whatever board it is on and in whichever column', () => {
    const [f] = one(p, [on, plugged(p, 'driver', on, 0, inRow(0, 2))])
    expect(f!.text).toBe(
      'Net go: no contact is free on the strip of driver, 2, at a4 of board#1, so nothing can be joined to it.',
    )
    const item = index(p, 'driver')
    expect(f!.placements).toEqual([item])
    // the next row leaves one free at the back; there is no seat between, nor one behind the first row
    expect(f!.seated!.get(item)).toEqual({
      u: [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY],
      v: [Number.NEGATIVE_INFINITY, mm(3 + 2.54 - 1) - 1],
      anyHost: true,
    })
    expect(one(p, [on, plugged(p, 'driver', on, 0, inRow(1, 2))])).toEqual([])
  })

  it('finds what others cover too, and names all of them and nothing else', () => {
    // four rows from the second on are the driver's; the cap lies turned about over the first, and does not touch the pins' row
    const low = plugged(p, 'driver', on, 0, inRow(1, 2))
    const c = seatsOf(p, index(p, 'cap'), on.item, 2)
    const found = [...c.at.values()]
      .map((seat) => [on, low, plugged(p, 'cap', on, 2, seat)])
      .filter((all) => check(p, all).every((f) => f.rule !== 'R6' && f.rule !== 'R2') && one(p, all).length > 0)
    expect(found.length).toBeGreaterThan(0)
    for (const all of found) {
      const [f] = one(p, all)
      expect(f!.placements).toEqual([index(p, 'driver'), index(p, 'cap')])
      for (const s of f!.seated!.values()) expect(s.anyHost).toBe(false)
      expect(fullIn(p, all)).toContain(f!.text)
    }
  })

  it('says nothing of pins that nothing has to be joined to', () => {
    const shut = (nets: unknown[], more: object = {}) => {
      const q = robot({ ...asked, nets, ...more })
      const there = standing(q, 'board#1', 10, 10)
      return one(q, [there, plugged(q, 'driver', there, 0, inRow(0))]).length
    }
    expect(shut([])).toBe(0)
    // a screw beside the pins
    expect(shut([{ id: 'm', ends: [{ item: 'driver', terminal: 'screw' }, { exit: 'lead' }] }])).toBe(0)
    // its other end is left out
    expect(
      shut([
        {
          id: 'c',
          ends: [
            { item: 'driver', terminal: '1' },
            { item: 'cap', terminal: '1' },
          ],
        },
      ]),
    ).toBe(0)
    expect(
      shut([
        {
          id: 'd',
          ends: [
            { item: 'driver', terminal: '1' },
            { item: 'driver', terminal: '3' },
          ],
        },
      ]),
    ).toBe(1)
    // a lead of the file that no net speaks of
    const wires = [{ id: 'w', from: { exit: 'lead' }, to: { item: 'driver', terminal: 'p' } }]
    const pinned = { ...driver, terminals: [{ id: 'p', at: [1.27, 1] }] }
    const footprints = [board(), pinned, cap, brain, sensor]
    expect(shut([], { wires, footprints })).toBe(1)
  })

  it('asks for a contact for each of the leads that end on a pin', () => {
    const wires = ['v', 'w'].map((id) => ({ id, from: { exit: 'lead' }, to: { item: 'driver', terminal: 'p' } }))
    const pinned = { ...driver, terminals: [{ id: 'p', at: [1.27, 1] }] }
    const q = robot({ ...asked, nets: [], wires, footprints: [board(), pinned, cap, brain, sensor] })
    const there = standing(q, 'board#1', 10, 10)
    const at = (row: number) => one(q, [there, plugged(q, 'driver', there, 0, inRow(row))]).map((f) => f.text)
    expect(at(0)).toEqual(['Leads v and w: no contact is free on the strip of driver, 1, at a1 of board#1.'])
    expect(at(1)).toEqual(['Leads v and w: only 1 contact is free on the strip of driver, 1, at a1 of board#1.'])
    expect(at(2)).toEqual([])
  })

  it('takes another pin than one that is shut in, where any will do', () => {
    const ends = (k: number) => [
      { item: 'brain', any: 'digital' },
      { item: 'sensor', terminal: `o${k}` },
    ]
    const outs = part('sensor', 8, 8, { terminals: [0, 1, 2].map((k) => ({ id: `o${k}`, at: [1 + k, 4] })) })
    const ask = (count: number) =>
      robot({
        footprints: [board(), driver, cap, brain, outs],
        items: [
          { id: 'board', footprint: 'board' },
          { id: 'brain', footprint: 'brain' },
          { id: 'cap', footprint: 'cap' },
          { id: 'sensor', footprint: 'sensor' },
        ],
        nets: Array.from({ length: count }, (_, k) => ({ id: `n${k}`, ends: ends(k) })),
      })
    const q = ask(2)
    const there = standing(q, 'board', 10, 10)
    const mid = seatsOf(q, index(q, 'brain'), there.item, 0)
    const seat = [...mid.at.values()][2]!
    const rest = [there, plugged(q, 'brain', there, 0, seat), standing(q, 'sensor', 60, 60)]
    // the cap over one column of the brain's digital pins, or two
    const caps = [...seatsOf(q, index(q, 'cap'), there.item, 0).at.values()]
      .map((s) => [...rest, plugged(q, 'cap', there, 0, s)])
      .filter((all) => check(q, all).every((f) => f.rule !== 'R6' && f.rule !== 'R2'))
    const shutIn = (all: readonly Placement[]) => {
      const three = ask(3)
      return fullIn(three, all).length
    }
    const single = caps.filter((all) => shutIn(all) === 1)
    expect(single.length).toBeGreaterThan(0)
    for (const all of single) expect(fullIn(q, all)).toEqual([])
  })

  it('makes a solve take the best place that can be joined, as every seat tried by hand does', () => {
    // the objective wants the driver's screw at the front of the left half, where its body covers its strips
    const more = {
      decks: [{ id: 'main', z: 10, thickness: 3, outline: { rect: [0, 0, 46, 50] } }],
      exits: [
        { id: 'lead', deck: 'main', at: [38, 2] },
        { id: 'pull', deck: 'main', at: [19, 19] },
      ],
      items: [
        { id: 'board', footprint: 'board', place: [{ kind: 'at', deck: 'main', at: [8, 6], turn: 0 }] },
        { id: 'driver', footprint: 'driver', turns: [0, 2] },
      ],
      wires: [{ id: 'pull', from: { exit: 'pull' }, to: { item: 'driver', terminal: 'screw' } }],
      objective: ['wire-length'],
    }
    const q = robot({ ...asked, ...more })
    const best = (lazy: boolean) => {
      const r = solve(q, lazy ? { lazy: [joinedRule] } : {})
      if (r.status !== 'optimal') throw new Error(r.status)
      return { value: r.objectives[0]!.value, placements: r.placements }
    }
    const by = { free: Number.POSITIVE_INFINITY, joined: Number.POSITIVE_INFINITY }
    const there = standing(q, 'board', 8, 6)
    for (const t of [0, 2] as const)
      for (const seat of seatsOf(q, index(q, 'driver'), there.item, t).at.values()) {
        const all = [there, plugged(q, 'driver', there, t, seat)]
        if (check(q, all).length > 0) continue
        const r = solve(q, { pins: all.map((a) => ({ item: a.item, deck: 0, at: a.at, turn: a.turn })) })
        if (r.status !== 'optimal') throw new Error(r.status)
        const { value } = r.objectives[0]!
        by.free = Math.min(by.free, value)
        if (fullIn(q, all).length === 0) by.joined = Math.min(by.joined, value)
      }
    const [free, joined] = [best(false), best(true)]
    // or this shows nothing
    expect(by.joined).toBeGreaterThan(by.free)
    expect([free.value, joined.value]).toEqual([by.free, by.joined])
    expect(fullIn(q, free.placements)).not.toEqual([])
    expect(fullIn(q, joined.placements)).toEqual([])
  })
})
