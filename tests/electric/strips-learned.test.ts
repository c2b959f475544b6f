/** What a search learns of strips, against the plan of contacts itself: all that it says, and wherever the finding says it holds. */
import { describe, expect, it } from 'vitest'
import { check, type Placement, type Problem, type Turn } from '../../solver/index.ts'
import { unjoined } from '../../src/electric/strips-rule.ts'
import { type Seat, seatsOf } from '../../src/electric/strips-seats.ts'
import fc from '../seeded.ts'
import {
  board,
  brain,
  cap,
  driver,
  findingsIn,
  fullIn,
  index,
  plugged,
  robot,
  sensor,
  standing,
} from './strips-rule-kit.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'

const to = (net: string, terminal: string, end: object) => ({ id: net, ends: [{ item: 'driver', terminal }, end] })
const footprints = (columns: number) => [
  board(columns),
  { ...driver, terminals: [{ id: '3', at: [6.35, 1] }] },
  cap,
  brain,
  sensor,
]
const wires = [{ id: 'w', from: { exit: 'lead' }, to: { item: 'driver', terminal: '3' } }]
const boards = { id: 'board', footprint: 'board', count: 2 }
const caps = { id: 'cap', footprint: 'cap', count: 2, required: false }

/** A controller of which any pin will do, and a part that may be left out. */
const crowd = robot({
  footprints: footprints(12),
  wires,
  items: [
    boards,
    { id: 'driver', footprint: 'driver' },
    { id: 'brain', footprint: 'brain' },
    caps,
    { id: 'sensor', footprint: 'sensor', required: false },
  ],
  nets: [
    to('go', '1', { item: 'brain', any: 'digital' }),
    to('stop', '2', { item: 'brain', any: 'digital' }),
    {
      id: 'see',
      ends: [
        { item: 'brain', terminal: 'gnd' },
        { item: 'sensor', terminal: 'out' },
      ],
    },
  ],
})
/** Boards so narrow that caps mostly lie over the driver's strips, of which it covers two contacts and they three each. */
const tight = robot({
  footprints: footprints(3).map((f) => ({
    ...f,
    body: { ...f.body, ...{ driver: { depth: 5 }, cap: { depth: 7.2 } }[f.id] },
  })),
  wires,
  items: [boards, { id: 'driver', footprint: 'driver' }, { ...caps, count: 4 }, { id: 'sensor', footprint: 'sensor' }],
  nets: [to('go', '1', { item: 'sensor', terminal: 'out' }), to('stop', '2', { exit: 'lead' })],
})

interface Draw {
  readonly boards: readonly (readonly [number, number, number])[]
  readonly plugs: readonly {
    readonly on: number
    readonly turn: number
    readonly seat: number
    readonly there: boolean
  }[]
  readonly sensor: boolean
}

const whole = (max: number) => fc.integer({ min: 0, max })
// not a double: of these nearly all are next to 0
const part = whole(999).map((k) => k / 1000)
const draw: fc.Arbitrary<Draw> = fc.record({
  boards: fc.array(fc.tuple(whole(30), whole(40), whole(3)), { minLength: 2, maxLength: 2 }),
  plugs: fc.array(
    fc.record({
      on: fc.constantFrom(0, 0, 1),
      turn: fc.constantFrom(0, 0, 2),
      seat: part,
      there: fc.constantFrom(true, true, true, false),
    }),
    { minLength: 5, maxLength: 5 },
  ),
  sensor: fc.boolean(),
})

/** Draws as layouts. What a pin may not meet (R6) is kept; where boards lie over one another nobody asks here. */
function layer(p: Problem) {
  const plugs = p.items.flatMap((i) => (i.footprint.mount.kind === 'plug-in' ? [i.id] : []))
  const needed = (id: string) => p.items[index(p, id)]!.required
  const seats = (id: string, turn: Turn): Seat[] => [...seatsOf(p, index(p, id), 0, turn).at.values()]
  const bare = (d: Draw): Placement[] =>
    d.boards.map(([x, y, turn], k) => standing(p, `board#${k + 1}`, x, y, turn as Turn))
  const lay = (d: Draw, hold: readonly Placement[] = [], sure = false): Placement[] => {
    const out = [...bare(d), ...hold]
    plugs.forEach((id, k) => {
      const { on, turn, seat, there } = d.plugs[k]!
      if (out.some((o) => o.item === index(p, id)) || (!there && !needed(id))) return
      const all = seats(id, turn as Turn)
      // a few seats, so that there mostly is one that is free
      for (let t = 0; t < 12; t++) {
        const at = all[Math.floor(((seat + 0.19 * t) % 1) * all.length)]!
        const next = plugged(p, id, out[p === tight ? 0 : on]!, turn as Turn, at)
        if (check(p, [...out, next]).some((f) => f.rule === 'R6')) continue
        out.push(next)
        return
      }
    })
    if (d.sensor || sure || needed('sensor')) out.push(standing(p, 'sensor', 80, 60))
    return out
  }
  const isWhole = (all: readonly Placement[]): boolean =>
    plugs.every((id) => !needed(id) || all.some((a) => a.item === index(p, id)))
  return { bare, lay, isWhole }
}

describe.each([
  { name: 'a crowd', p: crowd, runs: 100 },
  { name: 'narrow boards', p: tight, runs: 200 },
])('what a search learns of strips, $name', ({ p, runs }) => {
  const { bare, lay, isWhole } = layer(p)

  it('is what the plan says, and all that it says of these', { timeout: 600_000 }, () => {
    const told = { all: 0, others: 0 }
    fc.assert(
      fc.property(draw, (d) => {
        const all = lay(d)
        if (!isWhole(all)) return
        const found = [...unjoined(p, all)]
        const said = findingsIn(p, all)
        const full = said.flatMap((f) => (f.kind === 'strip-full' ? [f.text] : []))
        const texts = found.map((f) => f.text)
        // where a stranger's pin sits in the strip, it may be the other end in another layout, so that nothing is sure
        if (said.some((f) => f.topic === 'short')) for (const t of texts) expect(full).toContain(t)
        else expect([...texts].sort()).toEqual([...full].sort())
        if (found.length > 0) told.all++
        if (found.some((f) => f.seated!.size > 1)) told.others++
      }),
      { numRuns: LONG ? 4000 : runs },
    )
    expect(told.all).toBeGreaterThan(10)
    expect(told.others).toBeGreaterThan(0)
  })

  it('holds wherever those that it names sit in their ranges, whatever else is moved', { timeout: 600_000 }, () => {
    const told = { found: 0, moved: 0, boards: 0, several: 0 }
    fc.assert(
      fc.property(draw, draw, fc.infiniteStream(part), (d, e, dice) => {
        const all = lay(d)
        if (!isWhole(all)) return
        for (const f of unjoined(p, all)) {
          const there = bare(e)
          const other = dice.next().value! < 0.5
          const held = [...f.seated!].map(([item, range]) => {
            const was = all.find((a) => a.item === item)!
            const host = all.find((a) => a.item === was.host)!
            const turn = ((was.turn - host.turn + 4) & 3) as Turn
            const inside = [...seatsOf(p, item, host.item, turn).at.values()].filter(
              ({ u, v }) => u >= range.u[0] && u <= range.u[1] && v >= range.v[0] && v <= range.v[1],
            )
            if (inside.length > 1) told.moved++
            const on = range.anyHost && other ? 1 - host.item : host.item
            if (on !== host.item) told.boards++
            return plugged(
              p,
              p.items[item]!.id,
              there[on]!,
              turn,
              inside[Math.floor(dice.next().value! * inside.length)]!,
            )
          })
          const moved = lay(e, held, f.anywhere!.size > 0)
          if (!isWhole(moved) || check(p, moved).some((x) => x.rule === 'R6')) continue
          told.found++
          if (held.length > 1) told.several++
          // where several pins would do another may be chosen, and the sentence is then another
          const [line] = /^\w+ \w+:/.exec(f.text)!
          const said = fullIn(p, moved).filter((t) => p === crowd || t.startsWith(line))
          expect(said.length, f.text).toBeGreaterThan(0)
        }
      }),
      { numRuns: LONG ? 6000 : runs },
    )
    expect(told.found).toBeGreaterThan(20)
    expect(told.moved).toBeGreaterThan(20)
    expect(told.boards).toBeGreaterThan(p === tight ? -1 : 5)
    expect(told.several).toBeGreaterThan(p === tight ? 10 : 0)
  })
})
