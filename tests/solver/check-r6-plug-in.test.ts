/** R6 and the tie points that stay free. Board grids: 2.54 mm pitch, strips of five (common practice, reference value bb-pitch). */
import { describe, expect, it } from 'vitest'
import { figures } from '../../solver/check/figures.ts'
import type { Footprint, Item, Problem } from '../../solver/problem.ts'
import { solve } from '../../solver/solve.ts'
import { mm, type Turn } from '../../solver/units.ts'
import { broken, deck, item, of, part, problem, pt, put, rect, UM } from './check-kit.ts'

const P = 2.54
/** 17 columns of two strips of five, 7.62 mm between the two; the first point at (3,4). */
const board = part(47, 35, 8, {
  breadboard: {
    pitch: mm(P),
    blocks: [
      { at: pt(3, 4), columns: 17, rows: 5, strip: 'column' },
      { at: pt(3, 4 + 7 * P), columns: 17, rows: 5, strip: 'column' },
    ],
  },
})
/** Four pins in a row, pin 1 at (1,1), in a body of 9.62 × 2. */
const row = (pins: [number, number][] = [0, 1, 2, 3].map((i) => [1 + i * P, 1])): Footprint =>
  part(9.62, 2, 10, { mount: { kind: 'plug-in' }, pins })
const decks = [deck(rect(-200, -200, 400, 400))]
const make = (...parts: Footprint[]): Problem =>
  problem([item('board', board), ...parts.map((f, i) => item(`p${i + 1}`, f))], { decks })
/** Pin 1 of `row` at column c, row r of the board that stands at (0,0). */
const seat = (c: number, r: number): [number, number] => [3 + c * P - 1, 4 + r * P - 1]

describe('R6: pins on tie points', () => {
  it('the first exactly', () => {
    const p = make(row())
    const on = (dx: number, dy: number) => {
      const [x, y] = seat(2, 1)
      return [put(0, 0, 0), put(1, x + dx, y + dy, 0, 0, 0)]
    }
    expect(broken(p, on(0, 0))).toEqual([])
    for (const [dx, dy] of [
      [UM, 0],
      [-UM, 0],
      [0, UM],
      [0, -UM],
    ] as const)
      expect(of('R6', p, on(dx, dy))).toMatchObject([{ items: ['p1', 'board'], by: 1 }])
  })
  it('the others to 0.01 mm, whichever way they are off', () => {
    const second = (dx: number, dy: number) =>
      make(
        row([
          [1, 1],
          [1 + P + dx, 1 + dy],
        ]),
      )
    const at = [put(0, 0, 0), put(1, ...seat(2, 1), 0, 0, 0)]
    expect(broken(second(0.01, 0), at)).toEqual([])
    expect(broken(second(0.006, -0.008), at)).toEqual([]) // 3-4-5
    // 10.6 and 14.1 µm: said rounded up, and short is what is over 10
    const off = /the nearest is 0.015 mm away, where 0.01 mm is the most/
    expect(of('R6', second(0.007, -0.008), at)).toMatchObject([{ by: 1 }])
    expect(of('R6', second(0.01, 0.01), at)).toMatchObject([{ by: 5, text: expect.stringMatching(off) }])
    // the search has the same seats as the checker
    const status = ({ items }: Problem) =>
      solve(
        problem(
          items.map((i) => ({ ...i, decks: [0] })),
          { grid: mm(1) },
        ),
        { time: 5000 },
      ).status
    expect(status(second(0.006, -0.008))).toBe('optimal')
    expect(status(second(0.01, 0.01))).toBe('infeasible')
    expect(of('R6', second(0.01 + UM, 0), at)).toMatchObject([{ by: 1 }])
    expect(of('R6', second(0, -0.01 - UM), at)).toMatchObject([{ by: 1 }])
  })
  it('in all turns of part and board', () => {
    const p = make(row())
    // Board of 47 × 35 turned: its first tie point (3,4) goes to (31,3), (44,31), (4,44) (contract §1).
    const first: Record<Turn, [number, number]> = { 0: [3, 4], 1: [31, 3], 2: [44, 31], 3: [4, 44] }
    // Pin 1 of the 9.62 × 2 part turned: (1,1), (1,1), (8.62,1), (1,8.62).
    const pin: Record<Turn, [number, number]> = { 0: [1, 1], 1: [1, 1], 2: [8.62, 1], 3: [1, 8.62] }
    for (const turn of [0, 1, 2, 3] as Turn[]) {
      // The part turned with the board runs along the columns again.
      const at = [put(0, 0, 0, turn), put(1, first[turn][0] - pin[turn][0], first[turn][1] - pin[turn][1], turn, 0, 0)]
      expect(broken(p, at), `turn ${turn}`).toEqual([])
      const along = [put(0, 0, 0, turn), { ...at[1]!, turn: ((turn + 1) % 4) as Turn }]
      expect(of('R6', p, along).length, `turn ${turn}`).toBeGreaterThan(0)
    }
  })
  it('no two on one strip: four pins down a column fail three times, and a row strip the other way', () => {
    const p = make(row())
    const down = [put(0, 0, 0), put(1, 3 + 4 * P - 1, 4 - 1, 1, 0, 0)]
    expect(of('R6', p, down).map((f) => f.text)).toEqual(
      [2, 3, 4].map((k) => `Pins 1 and ${k} of p1 are on one strip of board.`),
    )
    const rail = part(47, 35, 8, {
      breadboard: { pitch: mm(P), blocks: [{ at: pt(3, 4), columns: 17, rows: 5, strip: 'row' }] },
    })
    const q: Problem = { ...p, items: [item('board', rail), p.items[1]!] }
    expect(broken(q, down)).toEqual([])
    expect(of('R6', q, [put(0, 0, 0), put(1, ...seat(2, 1), 0, 0, 0)])).toHaveLength(3)
  })
  it('a two-row part across the gap has all its pins on strips of their own, inside one block not', () => {
    const dip = part(9.62, 7.62 + 2, 5, {
      mount: { kind: 'plug-in' },
      pins: [0, 1, 2].flatMap((i) => [
        [1 + i * P, 1],
        [1 + i * P, 1 + 3 * P],
      ]) as [number, number][],
    })
    const p = make(dip)
    expect(broken(p, [put(0, 0, 0), put(1, ...seat(2, 4), 0, 0, 0)])).toEqual([])
    expect(of('R6', p, [put(0, 0, 0), put(1, ...seat(2, 0), 0, 0, 0)])).toHaveLength(3)
  })
})

describe('R6: points that another part covers', () => {
  /** A cover of width `w` whose one pin is 1 mm from its corner. */
  const cover = (w: number, d = 30) => part(w, d, 5, { mount: { kind: 'plug-in' }, pins: [[1, 1]] })
  /** A part with its one pin on its own lower-left corner. */
  const corner = part(2, 30, 5, { mount: { kind: 'plug-in' }, pins: [[0, 0]] })
  const at = [put(0, 0, 0), put(1, ...seat(0, 0), 0, 0, 0), put(2, 3 + 5 * P, 4 + 2 * P, 0, 0, 0)]
  it('under its body, edge included', () => {
    // The cover's right edge is on the points of column 5, where the corner part has its pin.
    expect(of('R6', make(cover(1 + 5 * P), corner), at)).toMatchObject([{ items: ['p2', 'p1'], by: 0 }])
    expect(broken(make(cover(1 + 5 * P - UM), corner), at)).toEqual([])
    // The points under the corner part's left edge are covered for the cover's pins as well.
    const [x, y] = [3 + 5 * P - 1, 4 + 3 * P - 1]
    expect(of('R6', make(cover(1, 1), corner), [at[0]!, put(1, x, y, 0, 0, 0), at[2]!])).toMatchObject([
      { items: ['p1', 'p2'] },
    ])
  })
  it('under its pins, where they are not under its body', () => {
    const far = part(2, 2, 5, {
      mount: { kind: 'plug-in' },
      pins: [
        [1, 1],
        [1 + 5 * P, 1],
      ],
    })
    const small = part(2, 1, 5, { mount: { kind: 'plug-in' }, pins: [[1, 1]] })
    const on = (c: number) => [put(0, 0, 0), put(1, ...seat(0, 2), 0, 0, 0), put(2, ...seat(c, 2), 0, 0, 0)]
    expect(of('R6', make(far, small), on(5)).map((f) => f.items)).toEqual([
      ['p1', 'p2'],
      ['p2', 'p1'],
    ])
    expect(broken(make(far, small), on(4))).toEqual([])
  })
  it('free tie points: all, less those under bodies and pins, each once', () => {
    // 170 points. The cover is 30 mm deep from y = 3: it reaches all ten rows (4 … 14.16 and 21.78 … 31.94) of columns 0–5.
    const p = make(cover(1 + 5 * P), corner)
    expect(figures(p, [at[0]!]).freeTiePoints).toBe(170)
    expect(figures(p, at.slice(0, 2)).freeTiePoints).toBe(170 - 6 * 10)
    expect(figures(make(cover(1 + 5 * P - UM)), at.slice(0, 2)).freeTiePoints).toBe(170 - 5 * 10)
    // The corner part (x from column 5 on, 2 mm wide) covers column 5 from row 2 up: 3 + 5 points, on the cover's edge.
    expect(figures(p, at).freeTiePoints).toBe(110)
    expect(figures(make(cover(1 + 5 * P - UM), corner), at).freeTiePoints).toBe(170 - 5 * 10 - 8)
  })
})

describe('R6: hosts', () => {
  const p: Problem = {
    ...make(row()),
    decks: [...decks, deck(rect(-200, -200, 400, 400), { id: 'upper', name: 'upper', z: mm(200) })],
    items: [item('board#1', board), item('p1', row()), item('board#2', board), item('brain', part(20, 20))],
  }
  const all = (host?: number, on = 0) => [
    put(0, 0, 0),
    put(2, 60, 0),
    put(3, 120, 0),
    put(1, 60 + seat(2, 1)[0], seat(2, 1)[1], 0, on, host),
  ]
  it('without a host it takes the board that its pins fit', () => {
    expect(broken(p, all())).toEqual([])
    expect(figures(p, all()).freeTiePoints).toBe(340 - 4)
    expect(figures(p, all(2)).freeTiePoints).toBe(340 - 4)
    const lost = all().map((q) => (q.item === 1 ? put(1, 0, 100) : q))
    expect(of('R6', p, lost)).toMatchObject([{ items: ['p1'], by: 0 }])
  })
  it('a host that is another board, no board, not placed or not there', () => {
    expect(broken(p, all(2))).toEqual([])
    expect(of('R6', p, all(0)).length).toBeGreaterThan(0)
    expect(of('R6', p, all(3))).toMatchObject([{ items: ['p1', 'brain'] }])
    expect(of('R6', p, all(99))).toMatchObject([{ items: ['p1'] }])
    expect(of('R6', p, all(1))).toMatchObject([{ items: ['p1', 'p1'] }])
    const without = all(2).filter((q) => q.item !== 2)
    expect(of('R6', p, without)).toMatchObject([{ items: ['p1', 'board#2'] }])
  })
  it('listed on another deck than its host', () => {
    expect(of('R6', p, all(2, 1))).toMatchObject([{ items: ['p1', 'board#2'] }])
  })
  it('a plug-in part never hosts', () => {
    const carrier: Item = item('carrier', {
      ...board,
      mount: { kind: 'plug-in' },
      plug: { pins: [{ id: '1', at: pt(3, 4) }] },
    })
    const q: Problem = { ...p, items: [item('board', board), carrier, item('p1', row())] }
    const stacked = [put(0, 0, 0), put(1, 0, 0, 0, 0, 0), put(2, ...seat(2, 1), 0, 0, 1)]
    expect(of('R6', q, stacked)).toMatchObject([{ items: ['p1', 'carrier'] }])
    expect(figures(q, stacked.slice(0, 2)).freeTiePoints).toBe(0)
  })
  it('its underside is its host’s top', () => {
    // Board 8 mm high on deck main at 50; the part's 10 mm end at 68; a plate 3 mm thick may be at 71.
    const low = (z: number): Problem => ({
      ...make(row()),
      decks: [...decks, deck(rect(-200, -200, 400, 400), { id: 'upper', name: 'upper', z: mm(z) })],
    })
    const at = [put(0, 0, 0), put(1, ...seat(2, 1), 0, 0, 0)]
    expect(broken(low(71), at)).toEqual([])
    expect(of('R8', low(71 - UM), at)).toMatchObject([{ items: ['p1', 'upper'], by: 1 }])
  })
})
