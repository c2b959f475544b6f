/** What must come off first, against lifting parts one by one on a grid of points; and knots, by hand. */
import { describe, expect, it } from 'vitest'
import { type Body, check, layoutOf, type Placement, type Problem } from '../../solver/index.ts'
import { serviceOrder, unpile } from '../../src/statics/service.ts'
import fc from '../seeded.ts'
import { box, placed, problemOf } from './kit.ts'

const head = {
  id: 'eye',
  kind: 'head',
  body: { width: 20, depth: 20, height: 30 },
  mount: { kind: 'adhesive' },
  head: {
    pivot: [10, 10],
    pan: [-90, 90],
    reach: 60,
    tail: 12,
    z: [30, 60],
    tiltAxis: [0, 40],
    payload: [{ id: 'camera', box: [-8, 0, -5, 16, 55, 10] }],
  },
}

const robot = (more: Record<string, unknown> = {}): Problem =>
  problemOf({
    decks: [
      { id: 'low', z: 20, thickness: 3, outline: { rect: [0, 0, 200, 150] } },
      {
        id: 'high',
        z: 100,
        thickness: 3,
        outline: { rect: [0, 0, 120, 150] },
        openings: [{ id: 'well', shape: { rect: [60, 100, 50, 45] } }],
      },
    ],
    footprints: [
      box('brick', 30, 20, 15),
      box('mast', 20, 20, 120),
      {
        id: 'board',
        body: { width: 50, depth: 50, height: 8 },
        mount: { kind: 'adhesive' },
        breadboard: { blocks: [{ at: [5, 5], columns: 10, rows: 5, strip: 'column' }] },
      },
      {
        id: 'chip',
        body: { width: 10, depth: 5, height: 5 },
        mount: { kind: 'plug-in' },
        plug: { pins: [{ id: '1', at: [2.5, 2.5] }] },
      },
      head,
    ],
    items: [
      { id: 'pack', footprint: 'brick' },
      { id: 'mast', footprint: 'mast', required: false },
      { id: 'board', footprint: 'board', required: false },
      { id: 'chip', footprint: 'chip', required: false },
      { id: 'brain', footprint: 'brick', required: false },
      { id: 'eye', footprint: 'eye', required: false },
    ],
    ...more,
  })

const step = (p: Problem, at: Placement[], id: string) =>
  serviceOrder(p, at).steps.find((s) => s.id === id && s.kind === 'item')!

describe('what must come off first', () => {
  const p = robot()

  it('is the part that is plugged in, and the deck above, with whatever stands on that', () => {
    const at = placed(p, {
      board: ['low', 10, 10],
      chip: ['low', 12.5, 12.5, 0, 'board'],
      brain: ['high', 20, 20],
      pack: ['low', 130, 10],
    })
    expect(step(p, at, 'board').first).toEqual(['high', 'chip'])
    expect(step(p, at, 'board').all).toEqual(['high', 'chip'])
    expect(step(p, at, 'chip').all).toEqual(['high'])
    expect(step(p, at, 'pack').all).toEqual([])
    expect(step(p, at, 'brain').all).toEqual([])
  })

  it('is no deck that has an opening over the part, mast or not', () => {
    const at = placed(p, { pack: ['low', 62, 102], mast: ['low', 90, 125] })
    expect(step(p, at, 'pack').all).toEqual([])
    expect(step(p, at, 'mast').all).toEqual([])
  })

  it('turns a head away where it can, and takes it off where it cannot', () => {
    const near = placed(p, { eye: ['low', 150, 60], pack: ['low', 145, 90] })
    const ahead = step(p, near, 'pack')
    expect(ahead.first).toEqual([])
    expect(ahead.turn.map((t) => t.head)).toEqual(['eye'])
    // free at both ends, where it looks left and right
    expect(ahead.turn[0]!.pan.map(([a, b]) => [a === -90, b === 90])).toEqual([
      [true, false],
      [false, true],
    ])
    // a payload all round its pivot cannot be turned off what is under it
    const wide = robot({
      footprints: [
        box('brick', 30, 20, 15),
        { ...head, head: { ...head.head, payload: [{ id: 'disc', box: [-40, -40, -5, 80, 80, 10] }] } },
      ],
      items: [
        { id: 'pack', footprint: 'brick' },
        { id: 'eye', footprint: 'eye' },
      ],
    })
    expect(step(wide, placed(wide, { eye: ['low', 150, 60], pack: ['low', 145, 90] }), 'pack').first).toEqual(['eye'])
  })

  /** A head on the lower deck that stands up through an opening of the upper one, its arm over that plate or beside it. */
  const through = (opening: object, payload: readonly number[], upper: object = { rect: [0, 0, 120, 150] }): Problem =>
    robot({
      decks: [
        { id: 'low', z: 20, thickness: 3, outline: { rect: [0, 0, 200, 150] } },
        { id: 'high', z: 70, thickness: 3, outline: upper, openings: [{ id: 'well', shape: opening }] },
      ],
      footprints: [
        box('brick', 30, 20, 15),
        {
          ...head,
          body: { width: 20, depth: 20, height: 110 },
          head: {
            ...head.head,
            pan: [-60, 60],
            z: [80, 110],
            tilt: [0, 0],
            tiltAxis: [0, 95],
            payload: [{ id: 'camera', box: payload }],
          },
        },
      ],
      items: [
        { id: 'eye', footprint: 'eye', decks: ['low'] },
        { id: 'pack', footprint: 'brick', required: false },
      ],
    })
  const deck = (q: Problem, at: Placement[], id: string) =>
    serviceOrder(q, at).steps.find((s) => s.id === id && s.kind === 'deck')!

  it('is the head whose arm is over a plate at every pan, though it stands in an opening of it', () => {
    const q = through({ rect: [40, 40, 40, 40] }, [-10, 0, -5, 20, 58, 10])
    const at = placed(q, { eye: ['low', 50, 50] })
    expect(check(q, at)).toEqual([])
    expect(deck(q, at, 'high')).toMatchObject({ first: ['eye'], all: ['eye'], turn: [] })
    expect(deck(q, at, 'low')).toMatchObject({ first: ['high'], all: ['eye', 'high'] })
    expect(step(q, at, 'eye')).toMatchObject({ first: [], turn: [] })
  })

  it('lets a plate pass an arm that is over its opening alone', () => {
    const q = through({ rect: [40, 40, 40, 40] }, [-5, 0, -5, 10, 17, 10])
    const at = placed(q, { eye: ['low', 50, 50] })
    expect(deck(q, at, 'high')).toMatchObject({ first: [], turn: [] })
  })

  it('turns a head to where its arm is clear of a plate that comes off', () => {
    // The opening is wide ahead and to the right: its arm, 10 wide and 50 long, fits in straight ahead and up to some pan.
    const q = through({ rect: [45, 45, 75, 75] }, [-5, 0, -5, 10, 50, 10])
    const at = placed(q, { eye: ['low', 50, 50] })
    const { first, turn } = deck(q, at, 'high')
    expect(first).toEqual([])
    expect(turn.map((t) => t.head)).toEqual(['eye'])
    // Pose by pose, points of the arm 1 mm apart: none may be over the plate.
    for (let pan = -59.5; pan < 60; pan++) {
      const [c, s] = [Math.cos((pan * Math.PI) / 180), Math.sin((pan * Math.PI) / 180)]
      let over = false
      for (let u = -4.9; u < 5; u += 0.7)
        for (let v = 0.1; v < 50; v += 0.7) {
          const [x, y] = [60 + c * u - s * v, 60 + s * u + c * v]
          if (x > 0 && x < 120 && y > 0 && y < 150 && !(x > 45 && x < 120 && y > 45 && y < 120)) over = true
        }
      const clear = turn[0]!.pan.some(([a, b]) => pan >= a - 0.5 && pan <= b + 0.5)
      const clearly = turn[0]!.pan.some(([a, b]) => pan >= a + 0.5 && pan <= b - 0.5)
      if (over ? clearly : !clear) expect([pan, over]).toEqual([pan, !over])
    }
  })

  it('counts what stands on a deck: an arm over it is turned away, or its head comes off, before the deck does', () => {
    // The plate ends at y 62, just before the arm begins; what stands on it and passes its edge does not.
    const q = through({ rect: [1, 1, 2, 2] }, [-5, 15, -5, 10, 40, 10], { rect: [0, 0, 120, 62] })
    const far = (overhang: number): Problem => ({
      ...q,
      items: q.items.map((i) =>
        i.id === 'pack'
          ? { ...i, overhang: { ...i.overhang, front: (overhang * 1000) as typeof i.overhang.front } }
          : i,
      ),
    })
    const at = (p2: Problem, y: number) => placed(p2, { eye: ['low', 50, 60], pack: ['high', 45, y] })
    expect(deck(q, at(q, 40), 'high')).toMatchObject({ first: [], turn: [] })
    const out = far(60)
    expect(deck(out, at(out, 100), 'high').turn.map((t) => t.head)).toEqual(['eye'])
  })

  it('asks of a head that comes off itself that its arm is not under a plate or a part', () => {
    // The head stands beside the upper plate; its arm, at 115 to 125 over the ground, goes under a plate at 150.
    const q = (pan: readonly number[]) =>
      robot({
        decks: [
          { id: 'low', z: 20, thickness: 3, outline: { rect: [0, 0, 200, 150] } },
          { id: 'high', z: 150, thickness: 3, outline: { rect: [0, 60, 200, 90] } },
        ],
        footprints: [
          {
            ...head,
            body: { width: 20, depth: 20, height: 110 },
            head: { ...head.head, pan, z: [80, 110], tilt: [0, 0], tiltAxis: [0, 100] },
          },
        ],
        items: [{ id: 'eye', footprint: 'eye', decks: ['low'] }],
      })
    const at = (p2: Problem) => placed(p2, { eye: ['low', 90, 20] })
    const always = q([-20, 20])
    expect(step(always, at(always), 'eye')).toMatchObject({ first: ['high'], turn: [] })
    const away = q([-90, 90])
    expect(step(away, at(away), 'eye').first).toEqual([])
    expect(step(away, at(away), 'eye').turn.map((t) => t.head)).toEqual(['eye'])
  })

  it('names the wires that end at it', () => {
    const wired = robot({
      exits: [{ id: 'out', deck: 'low', at: [5, 5] }],
      footprints: [box('brick', 30, 20, 15, { terminals: [{ id: 't', at: [1, 1] }] })],
      items: [{ id: 'pack', footprint: 'brick' }],
      wires: [{ id: 'plus', from: { exit: 'out' }, to: { item: 'pack', terminal: 't' } }],
    })
    expect(step(wired, placed(wired, { pack: ['low', 30, 30] }), 'pack').wires).toEqual(['plus'])
  })

  it('names at a deck the wires that hold it: through its exits, to another deck, and over it on their way to one', () => {
    const end = (item: string) => ({ item, terminal: 't' })
    const wired = robot({
      decks: [20, 60, 100].map((z, i) => ({ id: `d${i}`, z, thickness: 3, outline: { rect: [0, 0, 200, 150] } })),
      exits: [{ id: 'out', deck: 'd0', at: [5, 5] }],
      passes: [
        { id: 'up', decks: ['d0', 'd1'], at: [150, 100] },
        { id: 'on', decks: ['d1', 'd2'], at: [160, 100] },
      ],
      footprints: [box('brick', 30, 20, 15, { terminals: [{ id: 't', at: [1, 1] }] })],
      items: ['pack', 'brain', 'top'].map((id) => ({ id, footprint: 'brick' })),
      wires: [
        { id: 'motor', from: { exit: 'out' }, to: end('pack') },
        { id: 'along', from: end('pack'), to: end('brain') },
        { id: 'far', from: end('pack'), to: end('top') },
      ],
    })
    const at = placed(wired, { pack: ['d0', 30, 30], brain: ['d0', 80, 30], top: ['d2', 30, 30] })
    expect(wired.decks.map(({ id }) => deck(wired, at, id).wires)).toEqual([['motor', 'far'], ['far'], ['far']])
  })

  it('has no step for what is not there yet, which others wait for all the same', () => {
    const items = [
      { id: 'pack', footprint: 'brick' },
      { id: 'eye', footprint: 'eye', later: true },
    ]
    const payload = [{ id: 'disc', box: [-40, -40, -5, 80, 80, 10] }]
    const q = robot({ footprints: [box('brick', 30, 20, 15), { ...head, head: { ...head.head, payload } }], items })
    const at = placed(q, { eye: ['low', 150, 60], pack: ['low', 145, 90] })
    expect(serviceOrder(q, at).steps.map((s) => s.id)).toEqual(['pack', 'low', 'high'])
    expect(step(q, at, 'pack').first).toEqual(['eye'])
  })
})

/** The second method: points 2.5 mm apart (all edges lie on multiples of 5), lifted one by one. */
const points = (x0: number, y0: number, x1: number, y1: number) => {
  const out: [number, number][] = []
  for (let x = x0 + 1.25; x < x1; x += 2.5) for (let y = y0 + 1.25; y < y1; y += 2.5) out.push([x, y])
  return out
}
const within = (r: readonly number[], [x, y]: readonly [number, number]) =>
  x > r[0]! && y > r[1]! && x < r[2]! && y < r[3]!
const rectOf = ({ rect: r }: Body) => [r.x / 1000, r.y / 1000, (r.x + r.w) / 1000, (r.y + r.h) / 1000] as const

/** Whether a thing can be lifted while the others are there. */
function free(p: Problem, bodies: readonly Body[], decks: readonly number[], lift: Body | number): boolean {
  const plate = (d: number, q: readonly [number, number]) =>
    d === 0 || (within([0, 0, 120, 150], q) && !within([60, 100, 110, 145], q))
  const parts = typeof lift === 'number' ? bodies.filter((b) => b.deck === lift) : [lift]
  const staying = bodies.filter((b) => !parts.includes(b))
  const rest = decks.filter((d) => d !== lift)
  const clear = (q: readonly [number, number], z: number, own: number) =>
    !rest.some((d) => d !== own && p.decks[d]!.z > z && plate(d, q)) &&
    !staying.some((b) => b.bottom >= z && within(rectOf(b), q))
  if (!parts.every((b) => points(...rectOf(b)).every((q) => clear(q, b.top, b.deck)))) return false
  if (typeof lift !== 'number') return true
  const [x1, z] = [lift === 0 ? 200 : 120, p.decks[lift]!.z]
  return points(0, 0, x1, 150).every((q) => !plate(lift, q) || clear(q, z, lift))
}

describe('the order, against lifting one by one', () => {
  const p = robot()
  const names = ['pack', 'mast', 'board', 'brain'] as const
  const pos = fc.tuple(fc.boolean(), fc.nat(30), fc.nat(20))

  it('works, each step of it, and no step of it is idle', () => {
    let needed = 0
    fc.assert(
      fc.property(fc.tuple(pos, pos, pos, pos), (all) => {
        const wanted = all.flatMap(([up, x, y], i) => placed(p, { [names[i]!]: [up ? 'high' : 'low', x * 5, y * 5] }))
        // what would stand in another body or plate is left out
        const at: Placement[] = []
        for (const q of wanted) {
          at.push(q)
          if (check(p, at).some((f) => f.rule === 'R1' || f.rule === 'R2' || f.rule === 'R8')) at.pop()
        }
        const layout = layoutOf(p, at)
        const works = (ids: readonly string[], goal: string): boolean => {
          let bodies = layout.bodies
          let decks = [0, 1]
          for (const id of [...ids, goal]) {
            const d = p.decks.findIndex((k) => k.id === id)
            if (d >= 0) {
              if (!free(p, bodies, decks, d)) return false
              decks = decks.filter((k) => k !== d)
              bodies = bodies.filter((b) => b.deck !== d)
            } else {
              const b = bodies.find((k) => k.item.id === id)
              if (b === undefined) continue
              if (!free(p, bodies, decks, b)) return false
              bodies = bodies.filter((k) => k !== b)
            }
          }
          return true
        }
        for (const s of serviceOrder(p, at).steps) {
          if (s.kind === 'deck') continue
          expect(works(s.all, s.id)).toBe(true)
          for (const idle of s.all) {
            needed++
            expect(
              works(
                s.all.filter((id) => id !== idle),
                s.id,
              ),
            ).toBe(false)
          }
        }
      }),
      { numRuns: 150 },
    )
    expect(needed).toBeGreaterThan(50)
  })
})

describe('a heap of needs', () => {
  it('is unpiled in an order that works, whatever it is', () => {
    // any heap without knots: each needs some that come later in the alphabet
    const heap = fc.array(fc.tuple(fc.nat(9), fc.nat(9)), { maxLength: 20 }).map((pairs) => {
      const needs = new Map<string, string[]>(Array.from({ length: 10 }, (_, i) => [String(i), []]))
      for (const [a, b] of pairs) if (a < b) needs.get(String(a))!.push(String(b))
      return needs
    })
    fc.assert(
      fc.property(heap, (needs) => {
        const { all, cycles } = unpile(needs)
        expect(cycles).toEqual([])
        for (const [id, list] of all) {
          list.forEach((n, i) => {
            for (const before of needs.get(n)!) expect(list.slice(0, i)).toContain(before)
          })
          for (const n of needs.get(id)!) expect(list).toContain(n)
        }
      }),
    )
  })

  it('has its knots found', () => {
    const needs = new Map([
      ['a', ['b']],
      ['b', ['c']],
      ['c', ['a']],
      ['d', ['a']],
      ['e', []],
    ])
    expect(unpile(needs).cycles.map((c) => [...c].sort())).toEqual([['a', 'b', 'c']])
  })
})
