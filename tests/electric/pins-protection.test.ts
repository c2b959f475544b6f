/** Packs and regulators that meet behind fuses and switches of their own: what is certain, what is so if switches are on, and what nobody knows. */
import { describe, expect, it } from 'vitest'
import { inspect } from '../../src/inspect/index.ts'
import { part, placed, problemOf, project } from './kit.ts'
import { clashes, wiring } from './wiring-kit.ts'

const t = (id: string, kind: string, at: number, more: object = {}) => ({ id, at: [at, 0], kind, ...more })
const body = (id: string, terminals: object[], power = {}) => part(id, 20, 10, { terminals, power })
const ends = (...ids: string[]) => ids.map((id, i) => t(id, 'passive', 4 * i, { conductors: 3 }))
const cells = { supply: { volts: 1.5, cells: 4 } }
const PARTS = [
  body('pack', [t('plus', 'supply-out', 0, { conductors: 2 }), t('minus', 'return', 4)], cells),
  body('other', [t('plus', 'supply-out', 0, { conductors: 2 }), t('minus', 'return', 4)], cells),
  ...['fuse-1', 'fuse-2'].map((id) => body(id, ends('in', 'out'), { part: 'fuse', rating: 2 })),
  ...['one', 'two'].map((id) => body(id, ends('in', 'out', 'out-2'), { part: 'switch' })),
  body('diode', ends('in', 'out')),
  body('block', ends('a', 'b')),
]

type Leads = readonly (readonly [string, string])[]
const told = (...leads: Leads) => toldWith([], ...leads)

/** What is said of supplies that meet and of short circuits, with its weight; leads from `item.terminal` to `item.terminal`. */
function toldWith(nets: readonly { id: string; ends: string[]; switch?: string }[], ...leads: Leads) {
  const end = (s: string) => ({ item: s.split('.')[0], terminal: s.split('.')[1] })
  const file = project({
    decks: [{ id: 'main', z: 10, thickness: 3, outline: { rect: [0, 0, 400, 80] } }],
    items: PARTS.map(({ id }) => ({ id, footprint: id })),
    footprints: PARTS,
    nets: nets.map((n) => ({ ...n, ends: n.ends.map(end) })),
    wires: leads.map(([a, b], i) => ({ id: `w${i + 1}`, from: end(a), to: end(b) })),
  })
  const p = problemOf(file)
  const places = placed(p, Object.fromEntries(PARTS.map(({ id }, i) => [id, [40 * i, 10] as const])))
  const { findings } = inspect(file, new Map(), p, places)
  return findings
    .filter((f) => ['supplies-meet', 'kinds-apart'].includes(f.kind))
    .map(
      (f) =>
        `${f.weight}: ${f.text.replace('A supply, given, at pack, plus, and a supply, given, at other, plus, are joined by ', '')}`,
    )
}

const why = 'supplies that meet drive current into each other.'

describe('packs that meet', () => {
  it('behind fuses of their own do so always', () => {
    expect(
      told(
        ['pack.plus', 'fuse-1.in'],
        ['fuse-1.out', 'block.a'],
        ['other.plus', 'fuse-2.in'],
        ['fuse-2.out', 'block.a'],
      ),
    ).toEqual([
      `stops: the lead w1, the fuse fuse-1, the lead w2, the lead w4, the fuse fuse-2 and the lead w3: ${why}`,
    ])
    expect(told(['pack.plus', 'fuse-1.in'], ['fuse-1.out', 'other.plus'])).toHaveLength(1)
  })

  it('behind switches do so if all of these are on', () => {
    const one = [['pack.plus', 'one.in'] as const, ['one.out', 'block.a'] as const]
    expect(told(...one, ['other.plus', 'block.a'])).toEqual([
      `worth-knowing: the lead w1, the switch one, the lead w2 and the lead w3 if one is on: ${why}`,
    ])
    expect(told(...one, ['other.plus', 'two.in'], ['two.out', 'block.a'])).toEqual([
      `worth-knowing: the lead w1, the switch one, the lead w2, the lead w4, the switch two and the lead w3 if one and two are on at once: ${why}`,
    ])
  })

  it('in a net, or by way of one, that is led through a switch do so if it is on', () => {
    const net = (...ends: string[]) => [{ id: 'fed', ends, switch: 'one' }]
    const on = `worth-knowing: net fed, the switch one`
    expect(toldWith(net('pack.plus', 'block.a'), ['other.plus', 'block.a'])).toEqual([
      `${on} and the lead w1 if one is on: ${why}`,
    ])
    expect(toldWith(net('pack.plus', 'other.plus'))).toEqual([
      `worth-knowing: net fed and the switch one if one is on: ${why}`,
    ])
    // both to one side of it they meet always
    expect(toldWith(net('block.a', 'pack.plus', 'other.plus'))).toEqual([
      `stops: Net fed joins a supply, given, at pack, plus, and a supply, given, at other, plus: ${why}`,
    ])
    expect(toldWith(net('block.a', 'pack.plus'), ['other.plus', 'pack.plus'])).toHaveLength(1)
  })

  it('are told the way that needs no switch, however long', () => {
    const long = [
      ['pack.plus', 'fuse-1.in'],
      ['fuse-1.out', 'fuse-2.in'],
      ['fuse-2.out', 'other.plus'],
    ] as const
    expect(told(['pack.plus', 'one.in'], ['one.out', 'other.plus'], ...long)).toEqual([
      `stops: the lead w3, the fuse fuse-1, the lead w4, the fuse fuse-2 and the lead w5: ${why}`,
    ])
  })

  it('rightly do so at a selector, and nothing is known of a diode and of a block with two screws', () => {
    expect(told(['pack.plus', 'one.out'], ['other.plus', 'one.out-2'], ['one.in', 'block.a'])).toEqual([])
    for (const [a, b] of [['diode.in', 'diode.out'] as const, ['block.a', 'block.b'] as const])
      expect(told(['pack.plus', a], [b, 'other.plus'])).toEqual([])
  })
})

describe('plus and minus', () => {
  it('of one pack are a short circuit behind a fuse or switch too, of two they are packs in series', () => {
    const short = 'A supply, given, at pack, plus, and the common return at pack, minus, are joined by'
    expect(told(['pack.plus', 'one.in'], ['one.out', 'pack.minus'])).toEqual([
      `stops: ${short} the lead w1, the switch one and the lead w2 if one is on: that is a short circuit.`,
    ])
    expect(told(['pack.plus', 'fuse-1.in'], ['fuse-1.out', 'pack.minus'])).toHaveLength(1)
    expect(told(['pack.plus', 'fuse-1.in'], ['fuse-1.out', 'other.minus'])).toEqual([])
    const led = (a: string, b: string) => toldWith([{ id: 'led', ends: [a, b], switch: 'one' }])
    expect(led('pack.plus', 'pack.minus')).toEqual([
      `stops: ${short} net led and the switch one if one is on: that is a short circuit.`,
    ])
    expect(led('pack.plus', 'other.minus')).toEqual([])
  })
})

describe('a pack at the output of a regulator, behind a switch', () => {
  const meet = (...rest: string[]) => {
    const nets = ['pack-1.plus switch-1.in', 'switch-1.out regulator.out', 'pack-1.minus regulator.minus', ...rest]
    return clashes(wiring('pack-1 pack-2 block switch-1 switch-2 regulator lamp-1', nets)).map((c) => c.split(':')[0])
  }

  it('stops the job where nothing else feeds that: its input and output are swapped', () => {
    expect(meet('regulator.in lamp-1.plus')).toEqual(['stops'])
    expect(meet('regulator.in switch-2.in', 'switch-2.out lamp-1.plus')).toEqual(['stops'])
  })

  it('is worth knowing where both may be on by turns, or nobody says what feeds the regulator', () => {
    expect(meet('regulator.in pack-2.plus')).toEqual(['worth-knowing'])
    expect(meet('regulator.in switch-2.in', 'switch-2.out pack-2.plus')).toEqual(['worth-knowing'])
    expect(meet('regulator.in switch-2.in', 'pack-1.plus switch-2.out')).toEqual(['worth-knowing'])
    expect(meet('regulator.in block.a')).toEqual(['worth-knowing'])
    expect(meet()).toEqual(['worth-knowing'])
  })
})
