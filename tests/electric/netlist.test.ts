import { describe, expect, it } from 'vitest'
import { TERMINAL_KINDS } from '../../solver/index.ts'
import { netlistOf } from '../../src/electric/netlist.ts'
import { padsOf } from '../../src/electric/netlist-pads.ts'
import { pinTable } from '../../src/electric/pins.ts'
import { ALLOWED, refused } from '../../src/electric/pins-kinds.ts'
import { formatProblem, readProject, toProblem, writeProject } from '../../src/model/index.ts'
import { type Any, end, findings, robot } from './netlist-kit.ts'

const checks = (change?: (p: Any) => void) => findings(change).map((f) => `${f.topic}: ${f.weight}`)
const net = (p: Any, id: string): Any => p.nets.find((n: Any) => n.id === id)

describe('a netlist in a project file', () => {
  it('is read back as it was written, and a project without one has none', () => {
    const { project } = robot()
    const again = readProject(writeProject(project), 'x.json', new Map())
    expect(again).toMatchObject({ ok: true, value: project, warnings: [] })
    expect(robot((p) => delete p.nets).problem.nets).toBeUndefined()
  })

  it.each([
    ['an item', (n: Any) => (n.ends[1].item = 'drive'), 'nets[3].ends[1].item'],
    ['a pin', (n: Any) => (n.ends[1].terminal = '9'), 'nets[3].ends[1].terminal'],
    ['an exit', (n: Any) => (n.ends[0] = { exit: 'right' }), 'nets[3].ends[0].exit'],
    ['a switch', (n: Any) => (n.switch = 'knob'), 'nets[3].switch'],
    ['a kind', (n: Any) => (n.ends[0].any = 'digitl'), 'nets[3].ends[0].any'],
    ['one end only', (n: Any) => n.ends.pop(), 'nets[3].ends'],
    ['both a pin and any', (n: Any) => (n.ends[0].terminal = 'd2'), 'nets[3].ends[0]'],
  ])('refuses %s that is wrong, by its path', (_, spoil, path) => {
    expect(() => robot((p) => spoil(net(p, 'forward')))).toThrow(path)
  })

  it('takes the first copy of an item that is counted and named without a number, and says so', () => {
    const { project, problem } = robot((p) => (p.items[0].count = 2))
    const first = problem.items.findIndex((i) => i.id === 'brain#1')
    const battery = problem.nets!.find((n) => n.id === 'battery')!
    expect(battery.ends[1]).toEqual({ kind: 'terminal', item: first, terminal: 'vin' })
    const { warnings } = readProject(writeProject(project), 'x.json', new Map())
    const told = warnings.find((w) => w.path === 'nets[0].ends[1].item')
    expect(told?.expected).toBe('one of its copies, brain#1 to brain#2; the first is taken')
  })

  it('lets a variant omit what a net names', () => {
    const { project } = robot((p) => (p.variants = [{ id: 'base', omit: ['driver'] }]))
    const problem = toProblem(project, 'base', new Map())
    expect(problem.nets!.find((n) => n.id === 'logic')!.ends.length).toBe(1)
    expect(problem.nets!.find((n) => n.id === 'battery')!.ends.length).toBe(2)
  })

  it('refuses a rail that is joined with what is no rail', () => {
    const r = readProject(
      JSON.stringify({
        ...robot().project,
        footprints: [
          {
            ...(robot().project.footprints![1] as Any),
            breadboard: { blocks: [{ at: [1, 1], columns: 2, rows: 2, strip: 'column' }], joined: [[0, 3]] },
          },
        ],
        items: [],
        nets: [],
      }),
      'x.json',
      new Map(),
    )
    expect(r.ok ? [] : r.problems.map(formatProblem).join(' ')).toMatch(/joined\[0\]\[0\].*joined\[0\]\[1\]/s)
  })
})

describe('ends', () => {
  it('at one spot are one: a terminal over a pin is that pin', () => {
    const { problem } = robot((p) => p.footprints[2].terminals.push({ id: 'vcc', at: [1.27, 1], name: 'logic supply' }))
    const pads = padsOf(problem.items[2]!.footprint)
    expect(pads.length).toBe(8)
    expect(pads[0]).toMatchObject({ ids: ['1', 'vcc'], name: 'logic supply', kind: 'logic-in', conductors: 1 })
    expect(pads[5]).toMatchObject({ id: 'motor', conductors: 2 })
  })

  it('that any pin serves get pins of their own, shortest in all', () => {
    const { problem, placements } = robot()
    const { assigned, nets } = netlistOf(problem, placements)
    // The right-hand digital pins are nearest to the board, by hand: d7 at x 35, d6 at 32; in 2 is right of in 1 by one pitch,
    // so both ways to share them are equally long; 'tx' and 'rx' at y 2 are farther off in x.
    expect(assigned.map((a) => a.pad.id).sort()).toEqual(['d6', 'd7'])
    const at = (x: number, y: number, i: number) => Math.abs(65 + (1 + i) * 2.54 - x) + Math.abs(11 + 4 * 2.54 - y)
    expect(assigned.reduce((s, a) => s + a.length, 0) / 1000).toBeCloseTo(at(35, 28, 2) + at(32, 28, 3), 6)
    expect(nets.find((n) => n.id === 'forward')!.nodes.length).toBe(2)
  })

  it('take the pins over which the controller is programmed last, however near', () => {
    const near = (p: Any): Any[] => {
      const terminals: Any[] = p.footprints[0].terminals
      for (const t of terminals) if (t.program) t.at = [49, t.id === 'tx' ? 20 : 22]
      return terminals
    }
    const chosen = (change: (p: Any) => void) => {
      const { problem, placements } = robot(change)
      return netlistOf(problem, placements).assigned
    }
    expect(chosen(near).map((a) => a.pad.id)).not.toContain('tx')
    const last = chosen((p) => {
      p.footprints[0].terminals = near(p).filter((t: Any) => t.program || t.kind !== 'digital')
      for (const t of p.footprints[0].terminals) if (t.kind === 'analog-in') delete t.also
    })
    expect(last.map((a) => a.pad.id).sort()).toEqual(['rx', 'tx'])
    // as R7 measures, whatever the choice cost
    expect(Math.max(...last.map((a) => a.length))).toBeLessThan(60_000)
  })

  it('never get a pin that another net names, and are told where none is left', () => {
    const { problem, placements } = robot((p) =>
      p.nets.push({ id: 'lamp', ends: [end('brain', 'd7'), { exit: 'left' }] }),
    )
    expect(netlistOf(problem, placements).assigned.map((a) => a.pad.id)).not.toContain('d7')
    const few = findings((p) => {
      for (const n of [2, 3, 4, 5, 6]) p.footprints[0].terminals.find((t: Any) => t.id === `d${n}`).kind = 'analog-in'
      for (const t of p.footprints[0].terminals) delete t.also
    })
    expect(few.filter((f) => f.topic === 'pins').map((f) => f.text)).toEqual([
      'Net backward asks for any pin of brain for a digital signal, and none is left: 1 free, 2 asked for.',
    ])
    // brain is placed: that nothing else of the net is would be false
    expect(few.filter((f) => f.topic === 'open net')).toEqual([])
  })

  it('have one end only where what else they name is not placed', () => {
    const open = findings((p) => {
      p.items.push({ id: 'spare', footprint: 'brain', required: false })
      net(p, 'backward').ends[0].item = 'spare'
    }).filter((f) => f.topic === 'open net')
    expect(open.map((f) => f.text)).toEqual([
      'Net backward has one end only, driver, 4 (in 2): nothing else that it names is placed.',
    ])
  })
})

describe('the table of kinds', () => {
  it('says each pair once, and gives a reason for every no', () => {
    const keys = ALLOWED.map((r) => [...r.kinds].sort().join(' '))
    expect(new Set(keys).size).toBe(keys.length)
    for (const a of TERMINAL_KINDS)
      for (const b of TERMINAL_KINDS) {
        expect(refused(a, b) === undefined).toBe(refused(b, a) === undefined)
        if (refused(a, b) !== undefined) expect(refused(a, b)!.length).toBeGreaterThan(20)
      }
    expect(refused('serial-out', 'serial-out')).toMatch(/cross/)
    expect(refused('passive', 'supply-out')).toBeUndefined()
  })
})

describe('a netlist is checked', () => {
  it('and the robot of the tests is sound but for an open pin', () => {
    expect(findings().map((f) => f.text)).toEqual(['driver, 5 (serial data, received) is open.'])
  })

  const bad: [string, (p: Any) => void, string][] = [
    ['kinds that do not go together', (p) => net(p, 'logic').ends.push(end('driver', '2')), 'kinds: stops'],
    ['supplies that meet', (p) => net(p, 'battery').ends.push(end('brain', '5v')), 'supplies meet: stops'],
    ['a pin in two nets', (p) => net(p, 'motor-a').ends.push(end('driver', '3')), 'pin twice: stops'],
    [
      'a third lead on a pair of screws',
      (p) => p.nets.push({ id: 'motor-c', ends: [{ exit: 'left' }, end('driver', 'motor')] }),
      'pin twice: stops',
    ],
    ['too many volts', (p) => (p.footprints[3].terminals[0].volts = [6, 12.6]), 'voltage: stops'],
    ['too few volts', (p) => (p.footprints[3].terminals[0].volts = [3, 4.2]), 'voltage: stops'],
    [
      'no common return',
      (p) => (net(p, 'return').ends = [end('pack', 'minus'), end('brain', 'gnd')]),
      'common return: stops',
    ],
    ['a part without supply', (p) => (p.nets = p.nets.filter((n: Any) => n.id !== 'battery')), 'open pin: stops'],
    [
      'a listener on the programming line',
      (p) => p.nets.push({ id: 'talk', ends: [end('brain', 'tx'), end('driver', '5')] }),
      'programming line: stops',
    ],
    [
      'a net with one end',
      (p) => p.nets.push({ id: 'lone', ends: [end('brain', 'd2'), end('brain', 'd2')] }),
      'open net: worth-knowing',
    ],
  ]
  it.each(bad)('%s', (_, spoil, expected) => {
    expect(checks()).not.toContain(expected)
    expect(checks(spoil)).toContain(expected)
  })

  it('a driver whose logic alone is fed is told that its motors get nothing', () => {
    const told = findings((p) => {
      net(p, 'battery').ends = [end('pack', 'plus'), end('brain', 'vin')]
    })
    expect(told.filter((f) => f.weight === 'stops').map((f) => f.text)).toEqual([
      'driver has no supply for its motors: nothing goes to supply.',
    ])
  })

  it('what wires join is not open either, with its return where the wire is a pair', () => {
    const told = (conductors: number) =>
      findings((p) => {
        net(p, 'battery').ends = [end('pack', 'plus'), end('brain', 'vin')]
        net(p, 'return').ends = [end('brain', 'gnd'), end('driver', '2'), end('driver', 'supply-return')]
        p.wires = [{ id: 'feed', from: end('pack', 'plus'), to: end('driver', 'supply'), conductors }]
      })
        .filter((f) => f.weight === 'stops')
        .map((f) => f.text)
    expect(told(2)).toEqual([])
    expect(told(1)).toEqual(['pack has no return: nothing goes to minus.'])
  })

  it('a wire that joins what must be apart is told, and one that says what a net says is not', () => {
    const told = (from: Any, to: Any, conductors = 1) =>
      findings((p) => (p.wires = [{ id: 'w', from, to, conductors }]))
        .filter((f) => f.items[0] === 'w')
        .map((f) => f.text)
    expect(told(end('pack', 'plus'), end('brain', 'vin'))).toEqual([])
    expect(told(end('pack', 'plus'), end('brain', 'gnd-2'))).toEqual([
      'The lead w joins a supply, given, at pack, plus, and the common return at brain, gnd-2: that is a short circuit.',
    ])
    expect(told(end('pack', 'minus'), end('driver', 'supply'))).toEqual([
      'The lead w joins the common return at pack, minus, and a supply, taken, at driver, supply: nothing lets the common return and a supply, taken, share a wire.',
    ])
    expect(told(end('brain', '5v'), end('driver', 'supply'))).toEqual([
      'The lead w joins brain, 5v, of net logic, and driver, supply, of net battery, which would become one.',
    ])
    expect(told(end('pack', 'minus'), end('brain', 'd7'), 2)).toEqual([])
    expect(told({ exit: 'left' }, end('brain', 'd7'))).toEqual([])
  })

  it('a pin is not in two nets while one of them has no other end', () => {
    const twice = (other: Any) =>
      checks((p) => p.nets.push({ id: 'more', ends: [end('driver', '3'), other] })).includes('pin twice: stops')
    expect(twice(end('brain', 'd2'))).toBe(true)
    expect(twice(end('driver', '3'))).toBe(false)
  })

  it('volts at the very limit are fine, a hundredth more is not', () => {
    const volts = (hi: number) =>
      checks((p) => (p.footprints[3].terminals[0].volts = [6, hi])).includes('voltage: stops')
    expect([volts(12), volts(12.01)]).toEqual([false, true])
  })

  it('a switch in the programming line turns the stop into a reminder, where the line can be led through it', () => {
    const told = (terminals: Any[]) =>
      findings((p) => {
        p.footprints.push({
          id: 'knob',
          body: { width: 5, depth: 5, height: 5 },
          mount: { kind: 'adhesive' },
          terminals,
        })
        p.items.push({ id: 'knob', footprint: 'knob' })
        p.at = { knob: [200, 100] }
        p.nets.push({ id: 'talk', switch: 'knob', ends: [end('brain', 'tx'), end('driver', '5')] })
      }).filter((f) => f.topic === 'programming line')
    const one = { id: 'a', at: [1, 1] }
    const led = told([one, { id: 'b', at: [4, 1] }])
    expect(led.map((f) => f.weight)).toEqual(['worth-knowing'])
    expect(led[0]!.items).toContain('knob')
    expect(told([one]).map((f) => f.kind)).toEqual(['program-line-bare'])
  })

  it('two parts neither of whose returns goes anywhere have no common one', () => {
    expect(checks((p) => (p.nets = p.nets.filter((n: Any) => n.id !== 'return')))).toContain('common return: stops')
  })

  it('returns count as common through a third part', () => {
    const told = checks((p) => {
      net(p, 'return').ends = [end('pack', 'minus'), end('brain', 'gnd')]
      p.nets.push({ id: 'second', ends: [end('brain', 'gnd-2'), end('driver', '2')] })
    })
    expect(told).not.toContain('common return: stops')
  })
})

describe('the pin table', () => {
  it('has a row for each end of each net, with the far ends', () => {
    const { problem, placements } = robot()
    const netlist = netlistOf(problem, placements)
    const rows = pinTable(problem, netlist)
    expect(rows.length).toBe(netlist.nets.flatMap((n) => n.nodes.filter((e) => e.kind === 'pad')).length)
    expect(rows.find((r) => r.net === 'logic' && r.item === 'brain')).toEqual({
      item: 'brain',
      pin: '5v',
      name: '5v',
      as: 'logic-out',
      net: 'logic',
      to: ['driver, 1'],
      chosen: false,
    })
    expect(rows.filter((r) => r.chosen).map((r) => r.item)).toEqual(['brain', 'brain'])
    expect(rows.find((r) => r.net === 'motor-a')!.to).toEqual(['lead at left'])
  })
})
