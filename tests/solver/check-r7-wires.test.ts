/** R7 and the figures of wires, value and balance. Manhattan length 70 for (0,0)–(30,40): reference value manhattan-length (definition). */
import { describe, expect, it } from 'vitest'
import { figures } from '../../solver/check/figures.ts'
import type { Exit, Item, Pass, Problem, Wire } from '../../solver/problem.ts'
import { mm } from '../../solver/units.ts'
import { broken, deck, item, of, part, problem, pt, put, rect, UM, wire } from './check-kit.ts'

const plate = rect(-200, -200, 400, 400)
const decks = [0, 1, 2].map((i) =>
  deck(plate, { id: ['low', 'mid', 'top'][i]!, name: ['low', 'mid', 'top'][i]!, z: mm(50 + 60 * i) }),
)
const brain = part(30, 20, 10, { terminals: { t: [5, 10] } })
const exit = (x: number, y: number, free?: number, on = 0): Exit => ({
  id: 'motor',
  deck: on,
  at: pt(x, y),
  ...(free === undefined ? {} : { free: mm(free) }),
})
const at = (...items: number[]): Wire['to'] => ({
  kind: 'item',
  ref: { name: 'brain', items },
  terminal: 't',
  at: pt(5, 10),
})
const motor: Wire['from'] = { kind: 'exit', exit: 0 }
const make = (
  more: Partial<Wire>,
  exits: Exit[],
  passes: Pass[] = [],
  items: Item[] = [item('brain', brain)],
): Problem => problem(items, { decks, exits, passes, wires: [wire(motor, at(...items.map((_, i) => i)), more)] })
const length = (p: Problem, ...where: ReturnType<typeof put>[]) => figures(p, where).wires.map((w) => w.length / 1000)

describe('R7: length on one deck', () => {
  it('is |dx| + |dy|, at every turn', () => {
    const p = make({}, [exit(0, 0)])
    expect(length(p, put(0, 25, 30))).toEqual([70])
    // Terminal (5,10) of 30 × 20 turned: (10,5), (25,10), (10,25).
    expect(length(p, put(0, 25, 30, 1))).toEqual([35 + 35])
    expect(length(p, put(0, 25, 30, 2))).toEqual([50 + 40])
    expect(length(p, put(0, 25, 30, 3))).toEqual([35 + 55])
    expect(length(p, put(0, -35, -50))).toEqual([70])
  })
  it('cut length = length + loop, against maxLength and the exit’s free length', () => {
    expect(broken(make({ maxLength: mm(90), loop: mm(20) }, [exit(0, 0)]), [put(0, 25, 30)])).toEqual([])
    expect(of('R7', make({ maxLength: mm(90 - UM), loop: mm(20) }, [exit(0, 0)]), [put(0, 25, 30)])).toMatchObject([
      { items: ['w', 'motor', 'brain'], by: 1 },
    ])
    expect(broken(make({ loop: mm(20) }, [exit(0, 0, 90)]), [put(0, 25, 30)])).toEqual([])
    expect(of('R7', make({ loop: mm(20) }, [exit(0, 0, 90)]), [put(0, 25, 30 + UM)])).toMatchObject([{ by: 1 }])
    expect(of('R7', make({ maxLength: mm(60) }, [exit(0, 0, 50)]), [put(0, 25, 30)]).map((f) => f.by)).toEqual([
      10000, 20000,
    ])
    const { cut } = figures(make({ loop: mm(20) }, [exit(0, 0)]), [put(0, 25, 30)]).wires[0]!
    expect(cut).toBe(90000)
  })
  it('an end on a counted item is at the nearest copy that is placed', () => {
    const p = make({ maxLength: mm(70) }, [exit(0, 0)], [], [item('brain#1', brain), item('brain#2', brain)])
    expect(length(p, put(0, 80, 30), put(1, 25, 30))).toEqual([70])
    expect(broken(p, [put(0, 80, 30), put(1, 25, 30)])).toEqual([])
    expect(of('R7', p, [put(0, 80, 30), put(1, 25, 30 + UM)])).toMatchObject([{ items: ['w', 'motor', 'brain#2'] }])
    expect(length(p, put(0, 80, 30))).toEqual([125])
  })
  it('a wire with an end left out does not count', () => {
    const p = make({ maxLength: mm(1) }, [exit(0, 0)], [], [item('brain', brain, { required: false })])
    expect(broken(p, [])).toEqual([])
    expect(figures(p, []).wires).toEqual([])
  })
})

describe('R7: across decks', () => {
  const pass = (id: string, a: number, b: number, x: number, y: number): Pass => ({ id, decks: [a, b], at: pt(x, y) })
  it('takes the best pass and adds the difference of heights', () => {
    const p = make({}, [exit(0, 0)], [pass('far', 0, 1, -50, 0), pass('near', 1, 0, 10, 10)])
    // (0,0)–(10,10): 20; (10,10)–(30,40): 50; 60 up.
    expect(length(p, put(0, 25, 30, 0, 1))).toEqual([130])
    const q = { ...p, wires: [{ ...p.wires[0]!, maxLength: mm(130) }] }
    expect(broken(q, [put(0, 25, 30, 0, 1)])).toEqual([])
    expect(of('R7', q, [put(0, 25, 30 + UM, 0, 1)])).toMatchObject([{ by: 1 }])
  })
  it('goes through three decks, and round by another deck where that is shorter', () => {
    const through = [pass('a', 0, 1, 10, 0), pass('b', 1, 2, 10, 40)]
    // 10 + 40 + (10,40)–(30,40) 20, and 120 up.
    expect(length(make({}, [exit(0, 0)], through), put(0, 25, 30, 0, 2))).toEqual([190])
    // A direct pass far away is longer; one on the way is shorter. Straight through 0–2 at (40,0): 40 + 50.
    const direct = [...through, pass('c', 0, 2, 40, 0)]
    expect(length(make({}, [exit(0, 0)], direct), put(0, 25, 30, 0, 2))).toEqual([190])
    expect(length(make({}, [exit(0, 0)], [...through, pass('c', 2, 0, 30, 0)]), put(0, 25, 30, 0, 2))).toEqual([190])
    // Up to mid by way of top: 0–2 at (20,0), 2–1 at (20,40): 20 + 40 + 10, and only 60 of height.
    const round = [pass('c', 0, 2, 20, 0), pass('d', 2, 1, 20, 40), pass('far', 0, 1, -100, 0)]
    expect(length(make({}, [exit(0, 0)], round), put(0, 25, 30, 0, 1))).toEqual([130])
  })
  it('no chain of passes: broken, by nothing, without a length', () => {
    const p = make({}, [exit(0, 0)], [pass('a', 0, 1, 10, 0)])
    expect(of('R7', p, [put(0, 25, 30, 0, 2)])).toMatchObject([{ items: ['w', 'motor', 'brain'], by: 0 }])
    expect(figures(p, [put(0, 25, 30, 0, 2)])).toMatchObject({ wires: [], wireLength: 0 })
  })
})

describe('figures', () => {
  it('wire length is weighted by conductors; value counts optional items', () => {
    const p = make(
      { conductors: 3 },
      [exit(0, 0)],
      [],
      [
        item('brain', brain),
        item('lamp', part(10, 10), { required: false, value: 2.5 }),
        item('horn', part(10, 10), { required: false }),
      ],
    )
    const q = { ...p, wires: [wire(motor, at(0), { conductors: 3 })] }
    expect(figures(q, [put(0, 25, 30), put(1, 100, 100)])).toMatchObject({ wireLength: 210000, optionalValue: 2.5 })
    expect(figures(q, [put(0, 25, 30), put(1, 100, 100), put(2, 150, 100)]).optionalValue).toBe(3.5)
  })
  it('balance: masses at body centres and the chassis, against the centroid of the contact polygon', () => {
    const heavy = part(20, 10, 10, { mass: 300 })
    const base = problem([item('pack', heavy), item('arm', part(10, 10, 10, { mass: 900 }), { later: true })], {
      decks,
    })
    expect(figures(base, [put(0, 0, 0)]).balance).toBeUndefined()
    const chassis = {
      contact: [pt(0, 0), pt(100, 0), pt(100, 60), pt(0, 60)],
      mass: 700,
      centre: { x: mm(50), y: mm(30), z: mm(20) },
    }
    // Centre of gravity = (0.7·50 + 0.3·x, 0.7·30 + 0.3·y); the pack's centre at (60,70): off by 0.3·(10,40).
    const b = figures({ ...base, chassis }, [put(0, 50, 65), put(1, -50, -50)]).balance!
    expect(b).toBeCloseTo(Math.hypot(3000, 12000), 6)
    expect(figures({ ...base, chassis }, [put(0, 40, 25)]).balance).toBeCloseTo(0, 9)
    // A triangle's centroid is the mean of its corners: (40,20).
    const tri = { ...chassis, contact: [pt(0, 0), pt(120, 0), pt(0, 60)] }
    expect(figures({ ...base, chassis: tri }, []).balance).toBeCloseTo(Math.hypot(10000, 10000), 6)
  })
})
