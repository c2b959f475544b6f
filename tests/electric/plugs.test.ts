/** Servo plugs: three pins side by side go on three strips side by side, whatever else is on the board. */
import { describe, expect, it } from 'vitest'
import { netlistOf } from '../../src/electric/netlist.ts'
import { prepareList } from '../../src/electric/prepare.ts'
import { planStrips } from '../../src/electric/strips.ts'
import { type Any, end, robot } from './netlist-kit.ts'

const neck = (): Any => ({
  id: 'neck',
  body: { width: 20, depth: 20, height: 30 },
  mount: { kind: 'adhesive' },
  terminals: [
    { id: 'pan', at: [5, 5], kind: 'servo-signal', plug: 'pan' },
    { id: 'pan-plus', at: [5, 7.54], kind: 'supply-in', volts: [4, 6], plug: 'pan' },
    { id: 'pan-minus', at: [5, 10.08], kind: 'return', plug: 'pan' },
  ],
})

const withNeck = (p: Any): void => {
  p.footprints.push(neck())
  p.items.push({ id: 'neck', footprint: 'neck' })
  p.at = { neck: [100, 90] }
  p.nets.push({ id: 'look', ends: [{ item: 'brain', any: 'digital' }, end('neck', 'pan')] })
  p.nets.find((n: Any) => n.id === 'logic').ends.push(end('neck', 'pan-plus'))
  p.nets.find((n: Any) => n.id === 'return').ends.push(end('neck', 'pan-minus'))
}

function planned(change: (p: Any) => void) {
  const { problem, placements } = robot(change)
  const plan = planStrips(problem, placements, netlistOf(problem, placements))
  return { problem, placements, plan }
}

describe('a servo plug', () => {
  it('goes on three strips side by side in its order, each its own net, none shared with another', () => {
    const { plan } = planned(withNeck)
    expect(plan.plugs).toHaveLength(1)
    const [{ contacts }] = plan.plugs as [(typeof plan.plugs)[number]]
    expect(contacts).toHaveLength(3)
    const [a, b, c] = contacts as [(typeof contacts)[number], (typeof contacts)[number], (typeof contacts)[number]]
    expect(b.own.y).toBe(a.own.y)
    expect(c.own.y).toBe(a.own.y)
    expect(Math.abs(b.own.x - a.own.x)).toBe(2540)
    expect(c.own.x - b.own.x).toBe(b.own.x - a.own.x)
    expect(new Set(contacts.map((k) => k.strip)).size).toBe(3)
    // its three leads, and each strip joined to the rest of its net by one jumper or lead more at least
    const nets = plan.links.filter((l) => l.from.of === 'neck').map((l) => l.net)
    expect(nets.sort()).toEqual(['logic', 'look', 'return'])
    for (const k of contacts)
      expect(
        plan.links.some((l) => l.from.of !== 'neck' && [l.from, l.to].some((e) => e.contact?.strip === k.strip)),
      ).toBe(true)
    expect(plan.findings).toEqual([])
  })

  it('is three header pins in the preparation list', () => {
    const { problem, placements, plan } = planned(withNeck)
    const { headers, leads } = prepareList(problem, placements, plan)
    expect(headers.find((h) => h.why === 'servo plug')).toEqual({
      pins: 3,
      count: 1,
      for: ['neck, pan'],
      why: 'servo plug',
    })
    expect(leads.filter((l) => l.end.startsWith('neck')).map((l) => l.fit)).toEqual(['fits', 'fits', 'fits'])
  })

  it('is told where no three strips beside one another are free', () => {
    const { plan } = planned((p) => {
      withNeck(p)
      // the driver takes five columns of seven in one block; of the other only every other column is left
      p.footprints[1].breadboard.blocks = p.footprints[1].breadboard.blocks.slice(0, 1)
      p.footprints[1].breadboard.blocks[0].columns = 7
      delete p.footprints[1].breadboard.joined
    })
    expect(plan.plugs).toEqual([])
    expect(plan.findings.filter((f) => f.kind === 'plug-apart').map((f) => f.items[0])).toEqual(['neck'])
  })
})

describe('a part fitted face down', () => {
  it('has its pins listed mirrored, and is told', () => {
    const { problem, placements, plan } = planned((p) => {
      p.footprints[2].plug.lamps = 'back'
    })
    const { soldering, findings } = prepareList(problem, placements, plan)
    expect(soldering.map((s) => [s.item, s.face, s.rows])).toEqual([['driver', 'front', [['5', '4', '3', '2', '1']]]])
    expect(findings.map((f) => f.kind)).toContain('lamps-down')
  })
})
