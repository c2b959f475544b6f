/** Power that goes by nets, pack → fuse → master → loads; only the motors' leads are `wires`. Findings and check list say the same of it. */
import { describe, expect, it } from 'vitest'
import { type Any, reportOf, robot } from './kit.ts'

const end = (item: string, terminal: string): Any => ({ item, terminal })
const net = (p: Any, id: string): Any => p.nets.find((n: Any) => n.id === id)

/** What is found, and what the list asks for: a fuse to be fitted, a plug to be kept in hand. */
function said(change: (p: Any) => void) {
  const { findings, beforePower } = reportOf(
    robot(
      (p) => {
        p.wires = p.wires.filter((w: Any) => w.from.exit)
        change(p)
      },
      { fuse: ['main', 120, 10] } as Any,
    ),
  )
  const has = (kind: string) => findings.some((f) => f.kind === kind)
  const asks = (words: RegExp) => beforePower.steps.some((s) => words.test(s.text))
  return {
    bare: [has('no-fuse'), asks(/^Fit a fuse/)],
    unswitched: [has('no-master-switch'), asks(/^Keep the plug|names no master switch/)],
  }
}

/** The pack has no fuse of its own, but a part in the net between it and the master. */
function withFuse(p: Any): void {
  delete p.footprints.find((f: Any) => f.id === 'pack').power.supply.fuse
  p.footprints.push({ ...p.footprints.find((f: Any) => f.id === 'toggle'), id: 'holder', corridors: [] })
  p.items.push({ id: 'fuse', footprint: 'holder', power: { part: 'fuse', rating: 3 } })
  net(p, 'battery').ends = [end('pack', 'plus'), end('fuse', 'in')]
  p.nets.push({ id: 'fused', ends: [end('fuse', 'out'), end('master', 'in')] })
}

/** One net from the pack to all, led through the master. */
function ledThrough(p: Any): void {
  p.nets = p.nets.filter((n: Any) => n.id !== 'battery')
  net(p, 'fed').ends[0] = end('pack', 'plus')
  net(p, 'fed').switch = 'master'
}

describe('power by nets', () => {
  it('is behind a fuse and a switch that the nets lead it through', () => {
    const nothing = { bare: [false, false], unswitched: [false, false] }
    expect(said(withFuse)).toEqual(nothing)
    expect(said(() => {})).toEqual(nothing)
    expect(said(ledThrough)).toEqual(nothing)
  })

  it('that goes round them is told, in findings and list alike', () => {
    const round = (id: string) => (p: Any) => {
      withFuse(p)
      net(p, id).ends.push(end('brain', 'vin'))
      net(p, 'fed').ends = net(p, 'fed').ends.filter((e: Any) => e.item !== 'brain')
    }
    expect(said(round('battery'))).toEqual({ bare: [true, true], unswitched: [true, true] })
    expect(said(round('fused'))).toEqual({ bare: [false, false], unswitched: [true, true] })
  })

  it('goes on by nets where the one lead from the pack ends at the fuse', () => {
    const lead = { gauge: 20, supply: 'pack', conductors: 1, path: 'out' }
    const mixed = (to: Any) => (p: Any) => {
      withFuse(p)
      p.nets = p.nets.filter((n: Any) => n.id !== 'battery')
      p.wires.push({ ...lead, id: 'first', from: end('pack', 'plus'), to })
    }
    expect(said(mixed(end('fuse', 'in')))).toEqual({ bare: [false, false], unswitched: [false, false] })
    expect(said(mixed(end('driver', 'supply')))).toEqual({ bare: [true, true], unswitched: [true, true] })
  })

  it('of which neither nets nor leads say where it goes may be behind any fuse and switch; with none in the project it is bare', () => {
    const untold = (p: Any) => {
      withFuse(p)
      p.nets = p.nets.filter((n: Any) => !['battery', 'fused'].includes(n.id))
    }
    expect(said(untold)).toEqual({ bare: [false, false], unswitched: [false, false] })
    const none = (p: Any) => {
      untold(p)
      for (const i of p.items) if (i.id === 'fuse' || i.id === 'master') delete i.power
      for (const f of p.footprints) if (f.id === 'toggle') f.corridors = []
    }
    expect(said(none)).toEqual({ bare: [true, true], unswitched: [true, true] })
  })
})
