import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { netlistOf } from '../../src/electric/netlist.ts'
import { mirrored, prepareList } from '../../src/electric/prepare.ts'
import { CONTACT_GAUGE, fitOf } from '../../src/electric/prepare-wires.ts'
import { planStrips } from '../../src/electric/strips.ts'
import { type Any, end, robot } from './netlist-kit.ts'

const P = 2.54
function list(change?: (p: Any) => void) {
  const { problem, placements } = robot(change)
  const netlist = netlistOf(problem, placements)
  const plan = planStrips(problem, placements, netlist)
  return { problem, placements, plan, list: prepareList(problem, placements, plan) }
}

const wire = (gauge: number | string | undefined, from: Any, to: Any, conductors = 1): Any => ({
  id: 'w',
  from,
  to,
  conductors,
  ...(gauge === undefined ? {} : { gauge }),
})

describe('what a contact holds', () => {
  const values: { id: string; value: number[]; status: string }[] = JSON.parse(
    readFileSync(new URL('../fixtures/breadboard-values.json', import.meta.url), 'utf8'),
  )
  const value = (id: string) => values.find((v) => v.id === id)!.value

  it('is the range of the textbook (read), and the widest quoted one (memory) is doubtful beyond it', () => {
    expect([CONTACT_GAUGE.thickest, CONTACT_GAUGE.thinnest]).toEqual(value('bb-wire-textbook'))
    expect([CONTACT_GAUGE.thickest, CONTACT_GAUGE.doubtful]).toEqual(value('bb-wire-wide'))
    expect([19, 20, 26, 27, 29, 30, undefined].map(fitOf)).toEqual([
      'too thick',
      'fits',
      'fits',
      'doubtful',
      'doubtful',
      'too thin',
      'unknown',
    ])
  })

  it('agrees with the other textbook, which gives diameters (read), by the gauge formula of ASTM B258', () => {
    const diameter = (awg: number) => 0.127 * 92 ** ((36 - awg) / 39)
    const [thin, thick] = value('bb-wire-diameter') as [number, number]
    const fits = Array.from({ length: 20 }, (_, i) => 14 + i).filter(
      (awg) => diameter(awg) >= thin - 0.01 && diameter(awg) <= thick + 0.01,
    )
    expect(fits.map(fitOf)).toEqual(fits.map(() => 'fits'))
    expect([fits[0], fits.at(-1)]).toEqual([20, 26])
  })
})

describe('leads', () => {
  it.each([
    [22, 'fits', 0, []],
    ['AWG 28', 'doubtful', 1, ['gauge: worth-knowing']],
    [32, 'too thin', 1, ['gauge: stops']],
    [16, 'too thick', 1, ['gauge: stops']],
    [undefined, 'unknown', 0, []],
  ] as const)('of gauge %s into a strip: %s', (gauge, fit, pins, told) => {
    const { list: l } = list((p) => {
      p.footprints[2].terminals.push({ id: 'vcc', at: [P / 2, 1] })
      p.wires = [wire(gauge, end('brain', '5v'), end('driver', 'vcc'))]
    })
    expect(l.leads.filter((r) => r.gauge !== undefined).length).toBe(gauge === undefined ? 0 : 1)
    expect(l.leads.find((r) => r.id === 'w')).toMatchObject({ fit, end: 'brain, 5v' })
    expect(l.headers.filter((h) => h.why === 'lead that a contact does not hold').length).toBe(pins)
    expect(l.findings.map((f) => `${f.topic}: ${f.weight}`)).toEqual(told)
  })

  it('of wires that no net covers are looked at too, with all their conductors', () => {
    const { list: l } = list((p) => {
      p.nets = []
      p.footprints[1].terminals = [{ id: 'a12', at: [5 + 11 * P, 11] }]
      p.wires = [wire(30, { exit: 'left' }, end('board', 'a12'), 2)]
    })
    expect(l.leads).toMatchObject([
      { id: 'w', end: 'board, a12', contact: 'board, a12', conductors: 2, fit: 'too thin' },
    ])
    expect(l.headers.find((h) => h.why === 'lead that a contact does not hold')).toEqual({
      pins: 2,
      count: 1,
      for: ['w'],
      why: 'lead that a contact does not hold',
    })
  })
})

describe('headers', () => {
  it('one strip of five for the driver, soldered on its back, pins in the order of the drawing', () => {
    const { list: l } = list()
    expect(l.headers).toEqual([{ pins: 5, count: 1, for: ['driver'], why: 'part to plug in' }])
    expect(l.soldering).toEqual([
      { item: 'driver', pieces: [5], face: 'back', rows: [['1', '2', '3', '4', '5']], note: '' },
    ])
    expect(l.findings).toEqual([])
  })

  it('a part whose lamps lie down is turned over, which mirrors its pins', () => {
    const { list: l, problem } = list((p) => (p.footprints[2].plug.lamps = 'back'))
    expect(l.soldering[0]).toMatchObject({ face: 'front', rows: [['5', '4', '3', '2', '1']] })
    expect(l.findings.map((f) => [f.topic, f.weight, f.items])).toEqual([['lamps', 'stops', ['driver']]])
    expect(l.findings[0]!.text).toContain('its pins fit the same contacts, in another order')
    const f = problem.items.find((i) => i.id === 'driver')!.footprint
    expect(mirrored(mirrored(f))).toEqual(f)
  })

  it('and where the mirrored pins fall elsewhere, that is said', () => {
    const { list: l } = list((p) => {
      p.footprints[2].plug.lamps = 'back'
      p.footprints[2].plug.pins[4].at[0] += P
      p.footprints[2].body.width = 7 * P
    })
    expect(l.findings[0]!.text).toContain('its pins need other contacts')
    expect(l.soldering[0]!.pieces).toEqual([4])
  })

  it('a servo beside the board gets three pins', () => {
    const { list: l } = list((p) => {
      p.footprints.push({
        id: 'servo',
        body: { width: 20, depth: 10, height: 20 },
        mount: { kind: 'adhesive' },
        terminals: [
          { id: 'signal', at: [1, 1], kind: 'servo-signal' },
          { id: 'plus', at: [3, 1], kind: 'supply-in' },
        ],
      })
      p.items.push({ id: 'servo', footprint: 'servo' })
      p.at = { servo: [160, 10] }
      p.nets.find((n: Any) => n.id === 'forward').ends.push(end('servo', 'signal'))
    })
    expect(l.headers.find((h) => h.why === 'servo plug')).toMatchObject({ pins: 3, for: ['servo'] })
  })
})

describe('jumpers', () => {
  /** One net on columns 2 and 9 of the lower block, by two headers of one pin. */
  const two = (more: (p: Any) => void = () => {}) =>
    list((p) => {
      p.footprints.push({
        id: 'pin',
        body: { width: P, depth: P, height: 3 },
        mount: { kind: 'plug-in' },
        plug: { pins: [{ id: '1', at: [P / 2, P / 2], kind: 'digital' }] },
      })
      p.items = [p.items[1], { id: 'x', footprint: 'pin' }, { id: 'y', footprint: 'pin' }]
      p.at = { x: [65 + P - P / 2, 11 - P / 2], y: [65 + 8 * P - P / 2, 11 - P / 2] }
      p.nets = [{ id: 'n', ends: [end('x', '1'), end('y', '1')] }]
      more(p)
    })
  const head = (z: [number, number], reach: number) => (p: Any) => {
    p.footprints.push({
      id: 'head',
      body: { width: 10, depth: 10, height: 5 },
      mount: { kind: 'adhesive' },
      head: { pivot: [5, 5], pan: [-90, 90], reach, tail: 5, z },
    })
    p.items.push({ id: 'head', footprint: 'head' })
    p.at.head = [70, -20]
  }

  it('are as many steps of 2.54 mm as columns lie between', () => {
    const { list: l } = two()
    expect(l.jumpers).toMatchObject([{ net: 'n', steps: 7, length: 17.78, flexible: '' }])
    expect(l.tools.map((t) => t.tool)).toContain('long-nosed pliers and a rule')
  })

  it('are flexible where they cross a sweep, and not below or beside it', () => {
    // The pivot is at (75, −15); the contacts used are in row b (y 13.54): 28.54 away, and the span from x 67.54 to 85.32.
    const flexible = (z: [number, number], reach: number) => two(head(z, reach)).list.jumpers[0]!.flexible
    expect(flexible([5, 30], 60)).toContain('crosses the sweep of head')
    expect(flexible([5, 30], 28)).toBe('')
    // The board's top is 8.5 over the deck; a jumper may stand 10 over it.
    expect(flexible([18.5, 30], 60)).toBe('')
    expect(flexible([18.4, 30], 60)).toContain('crosses')
  })

  it('are flexible where a part stands in the way, whichever way they turn', () => {
    const { list: l } = two((p) => {
      p.footprints.push({
        id: 'wall',
        body: { width: P, depth: 5 * P, height: 9 },
        mount: { kind: 'plug-in' },
        plug: { pins: [{ id: '1', at: [P / 2, P / 2], kind: 'passive' }] },
      })
      p.items.push({ id: 'wall', footprint: 'wall' })
      p.at.wall = [65 + 4 * P - P / 2, 11 - P / 2]
    })
    expect(l.jumpers[0]!.flexible).toBe('wall stands in its way: lay it round')
    expect(l.tools.map((t) => t.tool)).not.toContain('long-nosed pliers and a rule')
  })
})

describe('the rest of the list', () => {
  it('names the tools by what there is to do, and always the cautions', () => {
    const { list: l } = list((p) => {
      p.footprints[0].mount.holes = [{ id: 'h', at: [3, 15], diameter: 3.4, screw: 'M3' }]
    })
    expect(l.tools.map((t) => t.tool)).toContain('screwdriver for M3')
    const nothing = list((p) => {
      p.items = [p.items[0]]
      p.nets = []
    }).list
    expect(nothing.tools).toEqual([])
    expect(nothing.headers).toEqual([])
    expect(nothing.cautions[0]).toMatch(/^Local codes/)
  })
})
