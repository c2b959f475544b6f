/** What gives a voltage and what takes it, wherever they are one conductor. */
import { describe, expect, it } from 'vitest'
import { wiring } from './wiring-kit.ts'

describe('volts', () => {
  const apart = (ids: string, nets: string[], leads: string[] = []) =>
    wiring(ids, nets, leads).findings.flatMap((f) => (f.kind === 'volts-apart' ? [f.text] : []))
  const far = 'regulator-1, out gives 5 to 5 V'

  it('are held against what takes them behind a fuse and a switch, and by leads', () => {
    const fused = ['regulator-1.out fuse.in', 'fuse.out switch.in', 'switch.out chip-1.plus']
    expect(apart('regulator-1 fuse switch chip-1', fused)).toEqual([
      `${far}, and goes by net n1, the fuse fuse, net n2, the switch switch and net n3 to chip-1, plus, which takes 3 to 3.6 V; 5 V is more than its 3.6 V.`,
    ])
    expect(apart('regulator-1 chip-1', [], ['regulator-1.out chip-1.plus'])).toHaveLength(1)
    expect(apart('regulator-1 fuse regulator-2', ['regulator-1.out fuse.in', 'fuse.out regulator-2.in'])).toEqual([])
  })

  it('are told once of one net, led through a switch or not', () => {
    expect(apart('regulator-1 chip-1', ['regulator-1.out chip-1.plus'])).toHaveLength(1)
    expect(apart('regulator-1 chip-1 switch', ['regulator-1.out chip-1.plus @switch'])).toHaveLength(1)
  })

  it('of packs in series are those of all that are under it, in one net too', () => {
    const joins = (last: string) => ['cell-1.plus cell-2.minus', last, 'cell-1.minus chip-1.minus']
    const three = ['cell-2.plus cell-3.minus', 'cell-3.plus chip-1.plus']
    const gives = (n: number, under: string) => `cell-${n}, plus (in series with ${under}) gives`
    expect(apart('cell-1 cell-2 chip-1', joins('cell-2.plus chip-1.plus'))).toEqual([])
    expect(apart('cell-1 cell-2 fuse chip-1', [...joins('cell-2.plus fuse.in'), 'fuse.out chip-1.plus'])).toEqual([])
    expect(apart('cell-3 cell-2 cell-1 chip-1', [...joins(three[0]!), three[1]!])).toEqual([
      `Net n4: ${gives(3, 'cell-1 and cell-2')} 4.5 to 4.5 V, chip-1, plus takes 3 to 3.6 V; 4.5 V is more than its 3.6 V.`,
    ])
    expect(apart('cell-1 cell-2 cell-3 chip-1', joins(three[0]!), [three[1]!])).toHaveLength(1)
    expect(apart('cell-1 fuse chip-1', ['cell-1.plus fuse.in', 'fuse.out chip-1.plus'])).toHaveLength(1)
  })

  it('of packs in series are less over a return that is led to between them, and unknown where one says none', () => {
    const joins = ['cell-1.plus cell-2.minus', 'cell-2.plus cell-3.minus', 'cell-3.plus chip-1.plus']
    expect(apart('cell-1 cell-2 cell-3 chip-1', [...joins, 'cell-1.plus chip-1.minus'])).toEqual([])
    const mute = joins.map((net) => net.replace('cell-2', 'pack'))
    expect(apart('cell-1 pack cell-3 chip-1', [...mute, 'cell-1.minus chip-1.minus'])).toEqual([])
  })

  it('are held against what takes them behind a selector or two poles, where one supply alone comes to it', () => {
    const poles = ['regulator.out double.in', 'double.out chip-1.plus']
    const back = ['regulator.back double.in-2', 'double.out-2 chip-1.minus']
    const ids = 'regulator double chip-1 chip-2 fuse'
    expect(apart(ids, [...poles, ...back])).toEqual([
      'regulator, out gives 5 to 5 V, and goes by net n1, the switch double and net n2 to chip-1, plus, which takes 3 to 3.6 V; 5 V is more than its 3.6 V.',
    ])
    expect(apart(ids, [...poles, 'double.out-2 chip-2.plus'])).toHaveLength(2)
    // another may come in where nobody says what is there, or does
    expect(apart(ids, [...poles, 'fuse.out double.in-2', 'double.out-2 chip-2.plus'])).toEqual([])
    const two = [...poles, 'cell.plus double.in-2', 'double.out-2 chip-2.plus']
    expect(apart(`${ids} cell`, two)).toEqual([])
  })

  it('behind a selector of several supplies are held against those of each, as worth knowing: it may be none', () => {
    const ids = 'regulator cell double chip-1 chip-2'
    const selector = ['regulator.out double.in', 'cell.plus double.out', 'double.in-2 chip-1.plus']
    const told = wiring(ids, selector).findings.filter((f) => f.kind === 'volts-apart')
    expect(told.map((f) => [f.weight, f.text])).toEqual([
      [
        'worth-knowing',
        'regulator, out gives 5 to 5 V, and goes by net n1, the switch double and net n3 to chip-1, plus, which takes 3 to 3.6 V if double joins them; 5 V is more than its 3.6 V.',
      ],
      [
        'worth-knowing',
        'cell, plus gives 1.5 to 1.5 V, and goes by net n2, the switch double and net n3 to chip-1, plus, which takes 3 to 3.6 V if double joins them; 1.5 V is less than its 3 V.',
      ],
    ])
    // a pole for each leads to another
    expect(apart(ids, [...selector, 'double.out-2 chip-2.plus'])).toEqual([])
  })
})
