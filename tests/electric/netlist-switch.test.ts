/** Lines that a switch opens: two conductors, on terminals that nothing else uses. */
import { describe, expect, it } from 'vitest'
import { type Any, end } from './netlist-kit.ts'
import { plan, sound, stops } from './strips-kit.ts'

describe('a switch in a line', () => {
  const knob =
    (terminals: Any[], turned = false) =>
    (p: Any) => {
      p.footprints.push({ id: 'knob', body: { width: 9, depth: 5, height: 5 }, mount: { kind: 'adhesive' }, terminals })
      p.items.push({ id: 'knob', footprint: 'knob' })
      p.at = { knob: [20, 60] }
      const ends = [end('driver', '5'), end('brain', 'tx')]
      p.nets.push({ id: 'talk', switch: 'knob', ends: turned ? ends.reverse() : ends })
    }

  it.each([false, true])('makes two conductors of it, the listener behind, whichever is named first', (turned) => {
    const {
      problem,
      placements,
      netlist,
      plan: p,
    } = plan(
      knob(
        [
          { id: 'a', at: [1, 1], kind: 'passive' },
          { id: 'b', at: [8, 1], kind: 'passive' },
        ],
        turned,
      ),
    )
    expect([...netlist.findings, ...p.findings]).toEqual([])
    sound(problem, placements, p)
    const ends = (net: string) => p.links.filter((l) => l.net === net).map((l) => [l.from.of, l.to.of].sort())
    expect(ends('talk')).toEqual([['brain', 'knob']])
    expect(ends('talk after knob')).toEqual([['board', 'knob']])
  })

  it('needs two terminals that are free', () => {
    const { netlist, plan: p } = plan(knob([{ id: 'a', at: [1, 1] }]))
    expect(stops(netlist)).toEqual(['switch'])
    expect(netlist.nets.find((n) => n.id === 'talk')).not.toHaveProperty('switch')
    expect(stops(p)).toEqual([])
    expect(p.links.some((l) => l.net === 'talk')).toBe(true)
  })

  it('is asked for nothing by a net whose other ends are not placed', () => {
    const { netlist } = plan((r) => {
      knob([{ id: 'a', at: [1, 1] }])(r)
      r.nets.at(-1).ends = [end('brain', 'tx'), end('brain', 'tx')]
    })
    expect(stops(netlist)).toEqual([])
  })

  it('has none free where wires lead the battery through it, and all where they lead its own line', () => {
    const contacts = [
      { id: 'a', at: [1, 1], kind: 'passive' },
      { id: 'b', at: [8, 1], kind: 'passive' },
    ]
    const wired = (from: Any, to: Any) => {
      const { netlist } = plan((r) => {
        knob(contacts)(r)
        const [a, b] = contacts
        r.footprints.push({ ...r.footprints.at(-1), id: 'spare', terminals: [a, b] })
        r.items.push({ id: 'spare', footprint: 'spare' })
        r.at.spare = [40, 60]
        r.wires = [
          { id: 'in', from, to: end('knob', 'a') },
          { id: 'out', from: end('knob', 'b'), to },
        ]
      })
      return stops(netlist)
    }
    expect(wired(end('pack', 'plus'), end('brain', 'vin'))).toEqual(['switch'])
    // also of parts that no net speaks of
    expect(wired(end('spare', 'a'), end('spare', 'b'))).toEqual(['switch'])
    expect(wired(end('brain', 'tx'), end('brain', 'tx'))).toEqual([])
  })
})
