import { describe, expect, it } from 'vitest'
import { layoutOf } from '../../solver/index.ts'
import { netlistOf } from '../../src/electric/netlist.ts'
import { planStrips } from '../../src/electric/strips.ts'
import { boardsOf } from '../../src/electric/strips-boards.ts'
import fc from '../seeded.ts'
import { type Any, board, end, robot } from './netlist-kit.ts'
import { plan, sound, stops } from './strips-kit.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'
const P = 2.54

describe('a plan of contacts', () => {
  it('joins the robot of the tests, and no strip is shorted', () => {
    const { problem, placements, plan: p } = plan()
    expect(p.findings).toEqual([])
    sound(problem, placements, p)
    // A pair of screws takes the motor's two leads directly; one signal goes straight to the strip of its pin.
    expect(p.links.filter((l) => l.net.startsWith('motor')).map((l) => l.kind)).toEqual(['direct', 'direct'])
    expect(p.links.filter((l) => l.net === 'forward').map((l) => l.kind)).toEqual(['lead'])
    // By hand: in 1 is pin 3, on column 4 of the lower block; its row e is the pin, d is under the body, a to c are free.
    const at = p.links.find((l) => l.net === 'forward')!
    const name = [at.from, at.to].find((e) => e.contact)!.name
    expect(name).toMatch(/^[a-d]4$/)
  })

  it('gives a return of four ends a rail', () => {
    const { plan: p } = plan()
    const back = p.links.filter((l) => l.net === 'return')
    // Four ends, two of them the driver's (its screw goes to the strip of its pin, which is nearest), and the rail between.
    expect(back.length).toBe(4)
    const onRail = back.filter((l) => [l.from, l.to].some((e) => e.name.startsWith('rail')))
    expect(onRail.map((l) => l.kind).sort()).toEqual(['jumper', 'lead', 'lead'])
  })

  it('names contacts as people count them', () => {
    const { problem, placements } = robot()
    const { strips } = boardsOf(layoutOf(problem, placements))
    const names = strips.flatMap((s) => s.contacts.map((c) => c.name))
    expect(new Set(names).size).toBe(12 * 10 + 20)
    expect(strips[0]!.contacts.map((c) => c.name)).toEqual(['a1', 'b1', 'c1', 'd1', 'e1'])
    expect(strips.filter((s) => s.rail).map((s) => s.contacts.length)).toEqual([10, 10])
    expect(names).toContain('rail 2, 10')
  })

  it('keeps two nets off one rail where nobody says whether its groups are one', () => {
    const { problem, placements, plan: p } = plan((r) => (r.footprints[1] = board(12, false)))
    const { nets } = netlistOf(problem, placements)
    expect(nets.length).toBe(7)
    sound(problem, placements, p)
  })
})

/** A second driver whose pin 1 sits on the column of the first one's pin `on`, in the upper rows; nets as asked. */
const second =
  (column: number, nets: Any[], rows = 0) =>
  (p: Any) => {
    p.footprints.push({
      id: 'aid',
      body: { width: 2 * P, depth: P, height: 5 },
      mount: { kind: 'plug-in' },
      plug: {
        pins: [
          { id: '1', at: [P / 2, P / 2], kind: 'digital' },
          { id: '2', at: [P / 2 + P, P / 2], kind: 'return' },
        ],
      },
    })
    p.items.push({ id: 'aid', footprint: 'aid' })
    p.at = { aid: [65 + (column - 1) * P - P / 2, 11 + rows * P - P / 2] }
    p.nets.push(...nets)
  }

describe('strips on which parts meet', () => {
  it('are shared where the net is the same, and save the jumper', () => {
    // 'aid' 1 on column 4 (with in 1), 2 on column 5 (with in 2, an open return of 'aid': a stop of its own).
    const { plan: p } = plan((r) => {
      second(4, [])(r)
      r.nets.find((n: Any) => n.id === 'forward').ends.push(end('aid', '1'))
      r.nets.find((n: Any) => n.id === 'backward').ends.push(end('aid', '2'))
    })
    expect(p.shared).toEqual([
      { net: 'forward', pins: ['driver, 3 (in 1)', 'aid, 1'] },
      { net: 'backward', pins: ['driver, 4 (in 2)', 'aid, 2'] },
    ])
    expect(stops(p)).toEqual([])
    expect(p.links.filter((l) => l.net === 'forward').length).toBe(1)
  })

  it('are a short circuit where the nets differ', () => {
    const { plan: p } = plan(second(4, [{ id: 'other', ends: [end('aid', '1'), end('brain', 'a0')] }]))
    const short = p.findings.filter((f) => f.topic === 'short')
    expect(short.map((f) => f.weight)).toEqual(['stops', 'stops'])
    expect(short.some((f) => f.items.includes('forward') && f.items.includes('other'))).toBe(true)
    // The other is the aid's return, in no net, on the strip of in 2.
    expect(short.some((f) => f.text.startsWith('aid, 2 (the common return) is in no net'))).toBe(true)
  })

  it('one column farther there is none', () => {
    const { plan: p } = plan(second(8, [{ id: 'other', ends: [end('aid', '1'), end('brain', 'a0')] }]))
    expect(stops(p)).toEqual([])
  })

  it('are never given to a net that only a stranger’s open pin sits on', () => {
    const loose = (pin: boolean) => (r: Any) => {
      r.footprints.push(
        {
          id: 'pad',
          body: { width: 5, depth: 5, height: 5 },
          mount: { kind: 'adhesive' },
          terminals: [{ id: 'a', at: [1, 1] }],
        },
        {
          id: 'post',
          body: { width: P, depth: P, height: 5 },
          mount: { kind: 'plug-in' },
          plug: { pins: [{ id: '1', at: [P / 2, P / 2] }] },
        },
      )
      r.items = [r.items[1], ...['u', 'v', 'w'].map((id) => ({ id, footprint: 'pad' }))]
      if (pin) r.items.push({ id: 'post', footprint: 'post' })
      // All three lie left of the board, so that column 1 of the lower block is nearest; the post takes its lowest contact.
      r.at = { u: [30, 10], v: [40, 12], w: [40, 20], post: [65 - P / 2, 11 - P / 2] }
      r.nets = [{ id: 'n', ends: ['u', 'v', 'w'].map((id) => end(id, 'a')) }]
    }
    const columns = (pin: boolean) =>
      new Set(plan(loose(pin)).plan.links.flatMap((l) => [l.from, l.to].flatMap((e) => e.contact?.name.slice(1) ?? [])))
    expect([...columns(false)]).toEqual(['1'])
    expect([...columns(true)]).not.toContain('1')
  })

  it('a pin whose strip has no contact left is open', () => {
    const { plan: p } = plan((r) => {
      r.footprints[2].body.depth = 6 * P
      for (const pin of r.footprints[2].plug.pins) pin.at[1] = 5.5 * P
      r.at = { driver: [65 + P - P / 2, 11 + 4 * P - 5.5 * P] }
    })
    expect(stops(p)).toContain('open pin')
  })
})

describe('boards', () => {
  it('a rail goes on from board to board', () => {
    const {
      problem,
      placements,
      plan: p,
    } = plan((r) => {
      r.items.splice(2, 0, { id: 'board-2', footprint: 'board' })
      for (const k of [1, 2]) {
        r.footprints.push({
          id: `sense-${k}`,
          body: { width: 3 * P, depth: P, height: 5 },
          mount: { kind: 'plug-in' },
          plug: { pins: [0, 2].map((i) => ({ id: `${i}`, at: [P / 2 + i * P, P / 2], kind: 'return' })) },
        })
        r.items.push({ id: `sense-${k}`, footprint: `sense-${k}` })
      }
      r.at = {
        'sense-1': [65 + 8 * P - P / 2, 11 + P - P / 2],
        'sense-2': [65 + 3 * P - P / 2, 55 + 11 + P - P / 2],
      }
      r.nets
        .find((n: Any) => n.id === 'return')
        .ends.push(...['sense-1', 'sense-2'].flatMap((s) => [end(s, '0'), end(s, '2')]))
    })
    expect(p.findings).toEqual([])
    sound(problem, placements, p)
    const rails = p.links.filter((l) => l.net === 'return' && [l.from, l.to].every((e) => e.name.startsWith('rail')))
    expect(rails.map((l) => [l.from.of, l.to.of].sort())).toEqual([['board', 'board-2']])
  })

  it('without a free strip, what cannot be joined is said', () => {
    const { plan: p } = plan((r) => {
      r.items = r.items.filter((i: Any) => i.id !== 'board')
    })
    expect(stops(p)).toContain('no strip')
  })
})

describe('random netlists', () => {
  it('are joined without a short, or it is said why not', () => {
    let joined = 0
    const seeds = fc.record({
      gaps: fc.array(fc.integer({ min: 0, max: 2 }), { minLength: 2, maxLength: 4 }),
      pins: fc.array(fc.integer({ min: 2, max: 5 }), { minLength: 4, maxLength: 4 }),
      row: fc.array(fc.integer({ min: 0, max: 4 }), { minLength: 4, maxLength: 4 }),
      loose: fc.integer({ min: 0, max: 4 }),
      net: fc.array(fc.integer({ min: 0, max: 6 }), { minLength: 30, maxLength: 30 }),
      power: fc.array(fc.boolean(), { minLength: 7, maxLength: 7 }),
      known: fc.boolean(),
    })
    fc.assert(
      fc.property(seeds, (s) => {
        const { problem, placements } = robot((r) => {
          r.footprints = [
            board(
              20,
              s.known
                ? [
                    [2, 3],
                    [4, 5],
                  ]
                : false,
            ),
          ]
          r.footprints[0].body.width = 70
          r.items = [{ id: 'board', footprint: 'board' }]
          r.nets = s.power.map((_, k) => ({ id: `n${k}`, ends: [] as Any[] }))
          r.at = {}
          let pad = 0
          const give = (): [Any, string] => {
            const k = s.net[pad++]!
            return [r.nets[k], s.power[k] ? 'return' : 'digital']
          }
          let column = 0
          s.gaps.forEach((gap, h) => {
            const pins = Array.from({ length: s.pins[h]! }, (_, i): Any => {
              const [net, kind] = give()
              net.ends.push(end(`h${h}`, `${i}`))
              return { id: `${i}`, at: [P / 2 + i * P, P / 2], kind }
            })
            const width = pins.length * P
            r.footprints.push({
              id: `h${h}`,
              body: { width, depth: P, height: 5 },
              mount: { kind: 'plug-in' },
              plug: { pins },
            })
            r.items.push({ id: `h${h}`, footprint: `h${h}` })
            // The second half goes into the upper block, so that some stand over others.
            const upper = h % 2 === 1
            r.at[`h${h}`] = [65 + column * P - P / 2, 11 + ((upper ? 7 : 0) + s.row[h]!) * P - P / 2]
            if (upper) column += Math.max(s.pins[h]!, s.pins[h - 1]!) + gap
          })
          for (let k = 0; k < s.loose; k++) {
            const [net, kind] = give()
            net.ends.push(end(`t${k}`, 'a'))
            r.footprints.push({
              id: `t${k}`,
              body: { width: 5, depth: 5, height: 5 },
              mount: { kind: 'adhesive' },
              terminals: [{ id: 'a', at: [2, 2], kind }],
            })
            r.items.push({ id: `t${k}`, footprint: `t${k}` })
            r.at[`t${k}`] = [150 + 10 * k, 10]
          }
          r.nets = r.nets.filter((n: Any) => n.ends.length > 1)
        })
        const p = planStrips(problem, placements, netlistOf(problem, placements))
        if (p.findings.length > 0) return
        joined++
        sound(problem, placements, p)
      }),
      { numRuns: LONG ? 3000 : 60 },
    )
    expect(joined).toBeGreaterThan(LONG ? 1500 : 30)
  })
})
