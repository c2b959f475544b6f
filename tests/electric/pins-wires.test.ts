/** What the project's own leads join, with its nets and by themselves. */
import { describe, expect, it } from 'vitest'
import { inspectPins } from '../../src/electric/pins-inspect.ts'
import { part, placed, problemOf, project } from './kit.ts'

const t = (id: string, kind: string, at: number, more: object = {}) => ({ id, at: [at, 0], kind, ...more })
const body = (id: string, terminals: object[]) => part(id, 20, 10, { terminals })
const PARTS = {
  pack: body('pack', [t('plus', 'supply-out', 0, { volts: [5, 6] }), t('minus', 'return', 4)]),
  other: body('other', [t('plus', 'supply-out', 0, { volts: [4, 5] }), t('minus', 'return', 4)]),
  twin: body('twin', [t('one', 'supply-out', 0), t('two', 'supply-out', 8), t('minus', 'return', 4)]),
  brain: body('brain', [
    t('vin', 'supply-in', 0, { volts: [4, 12], conductors: 3 }),
    t('gnd', 'return', 4, { conductors: 3 }),
    t('tx', 'serial-out', 8),
  ]),
  driver: body('driver', [
    t('vin', 'supply-in', 0, { volts: [4, 12] }),
    t('gnd', 'return', 4),
    t('rx', 'serial-in', 8),
  ]),
  block: body('block', [t('a', 'passive', 0, { conductors: 3 }), t('b', 'passive', 4, { conductors: 3 })]),
}

type Lead = readonly [id: string, from: string, to: string, conductors?: number]

/** What stops the job for one of these kinds; ends as `item.terminal`. */
function stops(kinds: readonly string[], leads: readonly Lead[], nets: Record<string, readonly string[]> = {}) {
  const end = (s: string) => ({ item: s.split('.')[0], terminal: s.split('.')[1] })
  const all = Object.keys(PARTS)
  const p = problemOf(
    project({
      decks: [{ id: 'main', z: 10, thickness: 3, outline: { rect: [0, 0, 300, 80] } }],
      items: all.map((id) => ({ id, footprint: id })),
      footprints: Object.values(PARTS),
      wires: leads.map(([id, a, b, conductors = 1]) => ({ id, from: end(a), to: end(b), conductors })),
      nets: Object.entries(nets).map(([id, ends]) => ({ id, ends: ends.map(end) })),
    }),
  )
  const { findings } = inspectPins(p, placed(p, Object.fromEntries(all.map((id, i) => [id, [40 * i, 10] as const]))))
  return findings.filter((f) => f.weight === 'stops' && kinds.includes(f.kind)).map((f) => f.text)
}

describe('supplies that meet', () => {
  const meet = (leads: readonly Lead[], nets = {}) => stops(['supplies-meet', 'kinds-apart'], leads, nets)
  const why = 'supplies that meet drive current into each other.'

  it('at one terminal, by two leads', () => {
    const told = [
      `A supply, given, at pack, plus, and a supply, given, at other, plus, are joined by the lead a and the lead c: ${why}`,
    ]
    expect(
      meet([
        ['a', 'pack.plus', 'brain.vin', 2],
        ['c', 'other.plus', 'brain.vin', 2],
      ]),
    ).toEqual(told)
    expect(
      meet([
        ['a', 'pack.plus', 'brain.vin'],
        ['c', 'other.plus', 'brain.vin'],
      ]),
    ).toEqual(told)
    expect(
      meet([
        ['a', 'pack.plus', 'block.a'],
        ['c', 'other.plus', 'block.a'],
      ]),
    ).toEqual(told)
    expect(
      meet([
        ['a', 'pack.plus', 'block.a'],
        ['c', 'other.plus', 'block.b'],
      ]),
    ).toEqual([])
    expect(
      meet([
        ['a', 'pack.plus', 'brain.vin'],
        ['c', 'other.plus', 'driver.vin'],
      ]),
    ).toEqual([])
  })

  it('by a net and a lead', () => {
    expect(meet([['c', 'other.plus', 'brain.vin']], { plus: ['pack.plus', 'brain.vin', 'driver.vin'] })).toEqual([
      `A supply, given, at pack, plus, and a supply, given, at other, plus, are joined by net plus and the lead c: ${why}`,
    ])
  })

  it('are told once where a net or a lead alone joins them', () => {
    expect(meet([], { plus: ['pack.plus', 'other.plus'] })).toHaveLength(1)
    expect(meet([['a', 'pack.plus', 'other.plus']])).toHaveLength(1)
  })

  it('are none where one part gives the same twice', () => {
    expect(
      meet([
        ['a', 'twin.one', 'brain.vin'],
        ['b', 'twin.two', 'brain.vin'],
      ]),
    ).toEqual([])
  })

  it('nor are returns, but a supply and a return are', () => {
    expect(
      meet([
        ['a', 'pack.minus', 'brain.gnd'],
        ['b', 'other.minus', 'brain.gnd'],
      ]),
    ).toEqual([])
    expect(
      meet([
        ['a', 'pack.plus', 'block.a'],
        ['b', 'pack.minus', 'block.a'],
      ]),
    ).toEqual([
      'A supply, given, at pack, plus, and the common return at pack, minus, are joined by the lead a and the lead b: that is a short circuit.',
    ])
    // a ribbon is named by one of its conductors only
    expect(
      meet([
        ['a', 'pack.plus', 'brain.tx', 3],
        ['c', 'other.plus', 'brain.tx', 3],
      ]),
    ).toEqual([])
  })
})

describe('a common return', () => {
  const returns = (leads: readonly Lead[], nets = {}) =>
    stops(['no-common-return'], leads, { signal: ['brain.tx', 'driver.rx'], ...nets })

  it('is one by nets, by leads, by pairs of a supply, and by all of them', () => {
    expect(
      returns([
        ['a', 'pack.minus', 'brain.gnd'],
        ['b', 'pack.minus', 'driver.gnd'],
      ]),
    ).toEqual([])
    expect(
      returns([
        ['a', 'pack.plus', 'brain.vin', 2],
        ['b', 'pack.plus', 'driver.vin', 2],
      ]),
    ).toEqual([])
    expect(
      returns([
        ['a', 'pack.minus', 'block.a'],
        ['b', 'block.a', 'brain.gnd'],
        ['c', 'block.a', 'driver.gnd'],
      ]),
    ).toEqual([])
    expect(
      returns([
        ['a', 'pack.plus', 'block.a', 2],
        ['b', 'block.b', 'brain.vin', 2],
        ['c', 'pack.minus', 'driver.gnd'],
      ]),
    ).toEqual([])
    expect(returns([['a', 'pack.plus', 'brain.vin', 2]], { ground: ['pack.minus', 'driver.gnd'] })).toEqual([])
  })

  it('is missed where nothing leads from the one to the other', () => {
    const told = [
      'brain and driver share the signal signal and have no common return: the signal means nothing between them. Join their returns.',
    ]
    expect(returns([])).toEqual(told)
    expect(returns([['a', 'pack.minus', 'brain.gnd']])).toEqual(told)
    expect(
      returns([
        ['a', 'pack.minus', 'brain.gnd'],
        ['b', 'other.minus', 'driver.gnd'],
      ]),
    ).toEqual(told)
    expect(
      returns([
        ['a', 'pack.plus', 'brain.vin', 2],
        ['b', 'other.plus', 'driver.vin', 2],
      ]),
    ).toEqual(told)
    // a lead out alone leads nothing back, and two terminals of a block are two conductors
    expect(
      returns([
        ['a', 'pack.plus', 'brain.vin'],
        ['b', 'pack.plus', 'driver.vin'],
      ]),
    ).toEqual(told)
    expect(
      returns([
        ['a', 'brain.gnd', 'block.a'],
        ['b', 'driver.gnd', 'block.b'],
      ]),
    ).toEqual(told)
  })
})
