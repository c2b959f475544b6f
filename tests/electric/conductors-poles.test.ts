/** Switches with more than one pole: what goes past them, what they join, and what more of them than can be looked through hide. */
import { describe, expect, it } from 'vitest'
import { clashes, connects, wiring } from './wiring-kit.ts'

describe('pairs of two packs through one switch with two poles', () => {
  const PACKS = 'pack-1 pack-2 double lamp-1 lamp-2'
  const pairs = (end: string, said = true) =>
    [1, 2].flatMap((i) => [
      `pack-${i}.${end} double.in${i > 1 ? '-2' : ''} ${said ? `=pack-${i}` : '2'}`,
      `double.out${i > 1 ? '-2' : ''} lamp-${i}.${end} ${said ? `=pack-${i}` : '2'}`,
    ])

  it('do not meet where they go past it', () => {
    expect(clashes(wiring(PACKS, [], pairs('minus')))).toEqual([])
    expect(clashes(wiring(PACKS, [], pairs('plus')))).toEqual([])
  })

  it('make no common return there', () => {
    const common = (leads: readonly string[], ...more: string[]) =>
      wiring(`${PACKS} logic-1 logic-2`, ['logic-1.tx logic-2.rx', ...more], leads).findings.filter(
        (f) => f.kind === 'no-common-return',
      )
    const to = (leads: readonly string[]) => leads.map((l) => l.replace('lamp', 'logic'))
    expect(common(to(pairs('plus')))).toHaveLength(1)
    expect(common(to(pairs('plus')), 'pack-1.minus pack-2.minus')).toEqual([])
    // where nobody says whose they are, they may be one
    expect(common(to(pairs('plus', false)))).toEqual([])
  })
})

describe('a switch with two poles, of which one is in the way back', () => {
  const IDS = 'pack-1 pack-2 double-1 double-2 lamp-1'
  const pack = (i: number) => [`pack-${i}.plus double-${i}.in`, `pack-${i}.minus double-${i}.in-2`]
  const behind = ['double-1.out double-2.out lamp-1.plus', 'double-1.out-2 double-2.out-2 lamp-1.minus']

  it('joins the packs behind it, each its own, and the list has one of them on at a time', () => {
    const byLeads = behind.flatMap((net) => {
      const [one, two, lamp] = net.split(' ')
      return [`${one} ${lamp}`, `${two} ${lamp}`]
    })
    const plain = [
      'pack-2.plus switch.in',
      'double-1.out switch.out lamp-1.plus',
      'double-1.out-2 pack-2.minus lamp-1.minus',
    ]
    // to another with two poles, where only the leads say which of them is in the way back
    const said = (i: number) =>
      [...pack(i), `double-${i}.out double-3.in`, `double-${i}.out-2 double-3.in-2`].map(
        (lead, k) => `${lead} ${'><'[k % 2]}pack-${i}`,
      )
    const robots: Parameters<typeof wiring>[] = [
      [IDS, [...pack(1), ...pack(2), ...behind]],
      [IDS, [], [...pack(1), ...pack(2), ...byLeads]],
      [IDS.replace('double-2', 'switch'), [...pack(1), ...plain]],
      // one minus of both before the switches
      [IDS, [...pack(1), ...pack(2), 'pack-1.minus pack-2.minus', ...behind]],
      [
        `${IDS} double-3`,
        [],
        [...[1, 2].flatMap(said), 'double-3.out lamp-1.plus >pack-1', 'double-3.out-2 lamp-1.minus <pack-1'],
      ],
    ]
    for (const robot of robots) {
      expect(clashes(wiring(...robot))).toEqual([
        expect.stringMatching(
          /^worth-knowing: .* at pack-1, plus, and .* at pack-2, plus, .* if double-1 and .* are on at once: /,
        ),
      ])
      expect(connects(...robot)).toEqual([
        expect.stringMatching(/^Connect pack-1 alone and switch on double-1/),
        expect.stringMatching(/^With double-1( and double-3)? off again, connect pack-2 as well and switch on /),
      ])
    }
  })

  it('joins a pack to what gives behind it', () => {
    const nets = [...pack(1), 'double-1.out regulator.out', 'double-1.out-2 regulator.back', 'regulator.in lamp-1.plus']
    expect(clashes(wiring('pack-1 double-1 regulator lamp-1', nets))).toHaveLength(1)
  })

  it('joins the returns before and behind it', () => {
    const nets = ['double-1.out logic-1.plus', 'double-1.out-2 logic-1.minus', 'pack-1.minus logic-2.minus']
    const { findings } = wiring('pack-1 double-1 logic-1 logic-2', ['logic-1.tx logic-2.rx', ...pack(1), ...nets])
    expect(findings.filter((f) => f.kind === 'no-common-return')).toEqual([])
  })

  it('may join two packs that come to it, where what is behind it is one: then each is on alone', () => {
    const ids = 'pack-1 pack-2 double fuse-1 fuse-2 lamp-1 lamp-2'
    const nets = ['pack-1.plus double.in', 'pack-2.plus double.in-2', 'pack-1.minus pack-2.minus lamp-1.minus']
    const one = [...nets, 'double.out fuse-1.in', 'double.out-2 fuse-2.in', 'fuse-1.out fuse-2.out lamp-1.plus']
    expect(clashes(wiring(ids, one))).toEqual([
      expect.stringMatching(
        /^worth-knowing: pack-1, plus and pack-2, plus meet behind double if that has a pole for each: /,
      ),
    ])
    expect(connects(ids, one)[1]).toBe(
      'With pack-1 disconnected and double off again, connect pack-2 and switch on double',
    )
    // apart, at one terminal of a selector, and what lies on the return
    const two = [...nets, 'double.out lamp-1.plus', 'double.out-2 lamp-2.plus']
    const lit = [...nets.slice(0, 2), 'lamp-1.minus double.out double.out-2']
    for (const apart of [two, [...nets, 'double.out lamp-1.plus'], lit]) {
      expect(clashes(wiring(ids, apart))).toEqual([])
      expect(connects(ids, apart)[1]).toMatch(/^With double off again, connect pack-2 as well/)
    }
  })

  it('is not told from a selector, nor from poles between packs in series', () => {
    const back = 'pack-1.minus lamp-1.minus'
    const ids = 'pack-1 pack-2 pack-3 double lamp-1'
    const two = ['pack-1.plus double.in', 'double.out pack-2.minus', 'pack-2.plus double.in-2']
    expect(clashes(wiring(ids, [...two, 'double.out-2 lamp-1.plus', back]))).toEqual([])
    const three = [...two, 'double.out-2 pack-3.minus lamp-2.minus', 'pack-3.plus lamp-1.plus lamp-2.plus', back]
    expect(clashes(wiring(`${ids} lamp-2`, three))).toEqual([])
    const selector = ['pack-1.plus double.in', 'pack-2.plus double.out', 'double.in-2 lamp-1.plus']
    expect(clashes(wiring(ids, [...selector, `${back} pack-2.minus double.out-2`]))).toEqual([])
  })
})

describe('packs that share more switches than can be looked through', () => {
  const shared = (n: number) => {
    const each = (end: (i: number) => string) => Array.from({ length: n }, (_, i) => end(i + 1))
    const nets = [
      ['pack-1.plus', ...each((i) => `double-${i}.in`)].join(' '),
      ['pack-2.plus', ...each((i) => `double-${i}.in-2`)].join(' '),
      ...each((i) => `double-${i}.out lamp-${i}.plus`),
      ...each((i) => `double-${i}.out-2 lamp-${i}0.plus`),
      'lamp-1.minus fuse.in',
    ]
    const items = each((i) => `double-${i} lamp-${i} lamp-${i}0`)
    return wiring(`pack-1 pack-2 fuse ${items.join(' ')}`, nets)
  }
  const unseen = (n: number) => shared(n).missing.flatMap((m) => m.text.match(/^Whether .* not known/) ?? [])

  it('are not known to have a fuse or a switch, which is said', () => {
    expect(unseen(2)).toEqual([])
    expect(unseen(7)).toEqual([
      'Whether everything that pack-1 and pack-2 feed is behind a fuse and a switch is not known',
    ])
  })
})
