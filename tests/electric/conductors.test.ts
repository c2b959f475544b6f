/** What is behind a fuse or switch, and where a plus meets a minus, terminal by terminal: by nets, by leads and by both. */
import { describe, expect, it } from 'vitest'
import fc from '../seeded.ts'
import { clashes, lacks, wiring } from './wiring-kit.ts'

const ALL = { fuse: [], listFuse: [], switch: [], listSwitch: [] }
const bare = (...what: ('fuse' | 'switch')[]) => ({
  ...ALL,
  ...(what.includes('fuse') ? { fuse: ['pack'], listFuse: ['pack'] } : {}),
  ...(what.includes('switch') ? { switch: ['pack'], listSwitch: ['pack'] } : {}),
})
const ROBOT = 'pack fuse switch lamp-1 lamp-2'
const BACK = 'pack.minus lamp-1.minus lamp-2.minus'
const text = (report: ReturnType<typeof wiring>, words: RegExp) =>
  report.beforePower.steps.find((s) => words.test(s.text))?.text

/** The same once by nets and once by leads of the pack. */
const both = (ids: string, joins: readonly string[]) => [
  lacks(wiring(ids, [...joins, BACK])),
  lacks(
    wiring(
      ids,
      [BACK],
      joins.flatMap((j) =>
        j
          .split(' ')
          .slice(1)
          .map((to) => `${j.split(' ')[0]} ${to} >`),
      ),
    ),
  ),
]

describe('what is behind a fuse and a switch', () => {
  it('is all where all goes through them, by nets alone as by leads', () => {
    const joins = ['pack.plus fuse.in', 'fuse.out switch.in', 'switch.out lamp-1.plus lamp-2.plus']
    expect(both(ROBOT, joins)).toEqual([bare(), bare()])
    expect(lacks(wiring('pack lamp-1 lamp-2', ['pack.plus lamp-1.plus lamp-2.plus', BACK]))).toEqual(
      bare('fuse', 'switch'),
    )
  })

  it('is not what is tapped at the terminal before it', () => {
    const rest = (tap: string) => [
      'pack.plus fuse.in',
      ...(tap === 'fuse.in' ? ['fuse.in lamp-2.plus', 'fuse.out switch.in'] : ['fuse.out switch.in lamp-2.plus']),
      'switch.out lamp-1.plus',
    ]
    expect(both(ROBOT, rest('fuse.in'))).toEqual([bare('fuse', 'switch'), bare('fuse', 'switch')])
    expect(both(ROBOT, rest('switch.in'))).toEqual([bare('switch'), bare('switch')])
  })

  it('is not what a net joins to the pack beside leads that go through them', () => {
    const leads = [
      'pack.plus fuse.in >',
      'fuse.out switch.in >',
      'switch.out lamp-1.plus >',
      'lamp-1.minus pack.minus <',
    ]
    expect(lacks(wiring(ROBOT, ['pack.plus lamp-2.plus', BACK], leads))).toEqual(bare('fuse', 'switch'))
    expect(lacks(wiring(ROBOT, ['switch.out lamp-2.plus', BACK], leads))).toEqual(bare())
  })

  it('in a net led through a switch is what is on the other side of it', () => {
    const led = (...ends: string[]) => lacks(wiring('pack switch lamp-1 lamp-2', [`${ends.join(' ')} @switch`, BACK]))
    expect(led('pack.plus', 'lamp-1.plus', 'lamp-2.plus')).toEqual(bare('fuse'))
    // what is named first is alone on its side
    expect(led('lamp-1.plus', 'pack.plus', 'lamp-2.plus')).toEqual(bare('fuse', 'switch'))
  })

  it('of a net led through a switch behind a fuse is said in list and findings alike', () => {
    const report = wiring(ROBOT, ['pack.plus fuse.in', 'fuse.out lamp-1.plus lamp-2.plus @switch', BACK])
    expect(lacks(report)).toEqual(bare())
    expect(text(report, /^Switch off/)).toMatch(/^Switch off: switch\./)
    // as is that of a regulator's net
    const more = ['pack.plus regulator.in', 'regulator.out lamp-1.plus @switch', 'pack.minus regulator.minus']
    expect(text(wiring('pack regulator switch lamp-1', more), /^Switch off/)).toMatch(/^Switch off: switch\./)
  })

  it('is told of a pack that says nothing of its cells too, in list and findings alike', () => {
    const nets = ['mute.plus lamp-1.plus', 'mute.minus lamp-1.minus']
    const report = wiring('mute lamp-1', nets)
    expect(lacks(report)).toEqual({ fuse: ['mute'], listFuse: ['mute'], switch: ['mute'], listSwitch: ['mute'] })
    // it may have a fuse inside
    expect(report.findings.filter((f) => f.weight === 'stops')).toEqual([])
    const fused = ['mute.plus fuse.in', 'fuse.out switch.in', 'switch.out lamp-1.plus']
    expect(lacks(wiring('mute fuse switch lamp-1', fused))).toEqual(bare())
  })

  it('is nothing where nothing is joined behind it', () => {
    expect(lacks(wiring(ROBOT, ['pack.plus fuse.in', BACK]))).toEqual(bare('fuse'))
    expect(lacks(wiring(ROBOT, ['pack.plus fuse.in lamp-1.plus', BACK])).fuse).toEqual(['pack'])
  })

  it('may be what a lead of two conductors goes on to from a fuse, though nobody says on which', () => {
    const leads = ['pack.plus fuse.in 2', 'fuse.out switch.in 2', 'switch.out lamp-1.plus 2']
    expect(lacks(wiring(ROBOT, [], leads))).toEqual(bare())
    // nothing goes on from it
    expect(lacks(wiring(ROBOT, [], leads.slice(0, 1)))).toEqual(bare('fuse'))
  })

  it('goes by a switch in the way back where all comes back through it', () => {
    const nets = (...back: string[]) => ['pack.plus fuse.in', 'fuse.out lamp-1.plus lamp-2.plus', ...back]
    const through = (...back: string[]) => lacks(wiring(ROBOT, nets('pack.minus switch.in', ...back)))
    expect(through('switch.out lamp-1.minus lamp-2.minus')).toEqual(bare())
    expect(through('switch.out lamp-1.minus', 'pack.minus lamp-2.minus')).toEqual(bare('switch'))
    // how the second comes back nobody says
    expect(through('switch.out lamp-1.minus')).toEqual(bare('switch'))
    expect(lacks(wiring(ROBOT, nets(`${BACK} @switch`)))).toEqual(bare())
  })

  it('goes by one of which the terminals say that they are returns', () => {
    const nets = ['pack.plus fuse.in', 'fuse.out lamp-1.plus', 'pack.minus negative.in', 'negative.out lamp-1.minus']
    expect(lacks(wiring('pack fuse negative lamp-1', nets))).toEqual(bare())
    const leads = nets.map((net, i) => `${net} ${i < 2 ? '>' : '<'}`)
    expect(lacks(wiring('pack fuse negative lamp-1', [], leads))).toEqual(bare())
  })

  it('goes by one with a lamp inside that leads to the return, and not by that lamp', () => {
    const nets = ['pack.plus rocker.in', 'pack.minus lamp-1.minus lamp-2.minus rocker.led', 'fuse.out lamp-1.plus']
    const lit = (...more: string[]) => wiring('pack fuse rocker lamp-1 lamp-2', [...nets, ...more])
    expect(lacks(lit('rocker.out fuse.in'))).toEqual(bare())
    expect(lacks(lit('rocker.out fuse.in lamp-2.plus'))).toEqual(bare('fuse'))
    const turned = ['pack.plus rocker.in', 'rocker.out lamp-1.minus', 'pack.minus rocker.led lamp-1.plus']
    expect(clashes(wiring('pack rocker lamp-1', turned))).toContainEqual(expect.stringMatching(/ if rocker is on: /))
    expect(
      clashes(wiring('pack rocker lamp-1', ['pack.plus rocker.in', 'pack.minus rocker.led lamp-1.minus'])),
    ).toEqual([])
  })

  it('goes by both poles of a switch with two', () => {
    const nets = ['pack.plus double.in', 'double.out fuse.in', 'fuse.out lamp-1.plus']
    const back = ['pack.minus double.in-2', 'double.out-2 lamp-1.minus']
    expect(lacks(wiring('pack fuse double lamp-1', [...nets, ...back]))).toEqual(bare())
  })

  it('goes by the pole of a switch at which its leads end, and a net by the other', () => {
    const leads = [
      'pack.plus double.in >',
      'double.out fuse.in >',
      'fuse.out logic-1.plus >',
      'logic-1.minus pack.minus <',
    ]
    const more = ['logic-1.minus logic-2.minus', 'logic-1.plus logic-2.plus']
    const talk = 'logic-1.tx logic-2.rx @double'
    expect(lacks(wiring('pack fuse double logic-1 logic-2', [talk], [...leads, ...more]))).toEqual(bare())
  })

  it('goes by a fuse of its own behind a switch that two packs share', () => {
    const PACKS = 'pack-1 pack-2 fuse-1 fuse-2 double lamp-1 lamp-2'
    const back = 'pack-1.minus pack-2.minus lamp-1.minus lamp-2.minus'
    const joins = ['pack-1.plus double.in', 'pack-2.plus double.in-2']
    const fused = (one: string) => [
      ...joins,
      'double.out fuse-1.in',
      'fuse-1.out lamp-1.plus',
      ...one.split(', '),
      back,
    ]
    // a pole for each
    expect(lacks(wiring(PACKS, fused('double.out-2 fuse-2.in, fuse-2.out lamp-2.plus')))).toEqual(ALL)
    // a selector: they never are joined, so the one fuse is both's
    expect(lacks(wiring(PACKS, fused('fuse-1.out lamp-2.plus')))).toEqual(ALL)
    // a fuse before the other's terminal is none of it, whatever the switch joins
    const bareOne = ['pack-1.plus double.in', 'pack-2.plus fuse-2.in', 'fuse-2.out double.in-2']
    const lamps = ['double.out lamp-1.plus', 'double.out-2 lamp-2.plus', back]
    expect(lacks(wiring(PACKS, [...bareOne, ...lamps])).fuse).toEqual(['pack-1'])
    // which of them it goes out at is known where leads say whose they are
    const said = wiring(
      PACKS,
      [...bareOne, 'double.out-2 fuse-1.in', 'fuse-1.out lamp-2.plus', back],
      ['double.out lamp-1.plus >'],
      'pack-1',
    )
    expect(lacks(said).fuse).toEqual(['pack-1'])
  })

  it('is turned off by one switch where packs meet before it, and by none where they meet behind', () => {
    const PACKS = 'pack-1 pack-2 fuse-1 fuse-2 switch lamp-1'
    const nets = ['pack-1.plus fuse-1.in', 'pack-2.plus fuse-2.in', 'pack-1.minus pack-2.minus lamp-1.minus']
    const meet = (...rest: string[]) => lacks(wiring(PACKS, [...nets, ...rest])).switch
    expect(meet('fuse-1.out fuse-2.out switch.in', 'switch.out lamp-1.plus')).toEqual([])
    expect(meet('fuse-1.out switch.in', 'switch.out lamp-1.plus fuse-2.out')).toEqual(['pack-2'])
  })

  it('goes by a part that only keeps room for the hand that switches it, by nets as by leads', () => {
    const joins = ['pack.plus fuse.in', 'fuse.out toggle.in', 'toggle.out lamp-1.plus lamp-2.plus']
    expect(both(ROBOT.replace('switch', 'toggle'), joins)).toEqual([bare(), bare()])
  })

  it('with a fuse in each branch is told as it is', () => {
    const joins = [
      'pack.plus switch.in',
      'switch.out fuse-1.in fuse-2.in',
      'fuse-1.out lamp-1.plus',
      'fuse-2.out lamp-2.plus',
    ]
    const report = wiring('pack switch fuse-1 fuse-2 lamp-1 lamp-2', [...joins, BACK])
    expect(report.findings.find((f) => f.kind === 'no-fuse')?.text).toMatch(
      /^pack has no one fuse that everything is behind: fuse-1 and fuse-2 are in its branches,/,
    )
  })
})

describe('what flows through a fuse', () => {
  it('is not what is tapped at the terminal before it', () => {
    // 1 A each: a fuse of 2 A stands two of three lamps
    const blows = (...from: string[]) => {
      const leads = ['pack.plus fuse.in >', ...from.map((at, i) => `${at} lamp-${i + 1}.plus >`)]
      const { findings } = wiring('pack fuse lamp-1 lamp-2 lamp-3', [], leads)
      return findings.flatMap((f) => (f.kind === 'fuse-blows' ? [f.text] : []))
    }
    expect(blows('fuse.in', 'fuse.out', 'fuse.out')).toEqual([])
    expect(blows('fuse.out', 'fuse.out', 'fuse.out')).toEqual([
      '3 A run through the fuse fuse; it is for 2 A and would blow.',
    ])
  })
})

describe('what comes back past a fuse', () => {
  // 1 A each, through a fuse of 1 A
  const blows = (...leads: string[]) =>
    wiring('pack weak lamp-1 lamp-2', [], leads).findings.flatMap((f) => (f.kind === 'fuse-blows' ? [f.text] : []))
  const pairs = ['pack.plus weak.in =', 'weak.out lamp-1.plus =']

  it('by the other conductor of a pair does not flow through it', () => {
    expect(blows(...pairs, 'pack.plus lamp-2.plus >', 'lamp-2.minus lamp-1.minus <')).toEqual([])
    expect(blows(...pairs, 'lamp-1.plus lamp-2.plus =')).toHaveLength(1)
  })

  it('does where it is in the way back', () => {
    const back = ['pack.minus weak.in =', 'weak.out lamp-1.minus =']
    expect(blows(...back, 'lamp-1.minus lamp-2.minus <', 'pack.plus lamp-2.plus >')).toHaveLength(1)
    expect(blows(...back, 'lamp-1.plus lamp-2.plus >', 'pack.minus lamp-2.minus <')).toEqual([])
  })
})

describe('a fuse and a switch drawn with a side that takes and one that gives', () => {
  it('give nothing of their own', () => {
    const joins = ['pack.plus through.in', 'through.out passing.in', 'passing.out lamp-1.plus']
    expect(clashes(wiring('pack through passing lamp-1', [...joins, 'pack.minus lamp-1.minus']))).toEqual([])
    expect(lacks(wiring('pack through passing lamp-1', joins))).toEqual(bare())
    // another pack behind them does
    const two = ['pack-1.plus through.in', 'through.out block.a', 'block.a pack-2.plus']
    expect(clashes(wiring('pack-1 pack-2 block through', two))).toEqual([
      expect.stringMatching(
        /^stops: .* at pack-1, plus, and .* at pack-2, plus, .* by net n1, the fuse through, net n2 and net n3:/,
      ),
    ])
  })
})

describe('the wrong way round', () => {
  const turned = [
    'stops: A supply, given, at pack, plus, and the common return at lamp-1, minus',
    'stops: The common return at pack, minus, and a supply, taken, at lamp-1, plus',
  ]
  const begins = (report: ReturnType<typeof wiring>) => clashes(report).map((c) => c.split(', are joined')[0])

  it('is found behind a fuse and a switch too', () => {
    const joins = ['pack.plus fuse.in', 'fuse.out lamp-1.minus', 'pack.minus switch.in', 'switch.out lamp-1.plus']
    expect(begins(wiring('pack fuse switch lamp-1', joins))).toEqual(turned)
    const marks = ['>', '>', '<', '<']
    expect(
      begins(
        wiring(
          'pack fuse switch lamp-1',
          [],
          joins.map((j, i) => `${j} ${marks[i]}`),
        ),
      ),
    ).toEqual(turned)
    // the right way round
    expect(
      clashes(
        wiring('pack fuse switch lamp-1', [
          'pack.plus fuse.in',
          'fuse.out lamp-1.plus',
          'pack.minus switch.in',
          'switch.out lamp-1.minus',
        ]),
      ),
    ).toEqual([])
  })

  it('is found behind a fuse that says nothing of its terminals, by leads of two conductors', () => {
    const by = (fuse: string) =>
      begins(wiring(`pack ${fuse} lamp-1`, [], [`pack.plus ${fuse}.in =`, `${fuse}.out lamp-1.minus =`]))
    expect(by('plain')).toEqual(by('fuse').map((c) => c?.replace('fuse', 'plain')))
    expect(by('plain').length).toBeGreaterThan(0)
  })

  it('is a short circuit where a pair leads both conductors to the same part', () => {
    expect(
      clashes(wiring('pack fuse lamp-1', ['pack.plus fuse.in', 'fuse.out lamp-1.minus'], ['pack.plus lamp-1.plus ='])),
    ).toEqual([
      'stops: A supply, given, at pack, plus, and the common return at pack, minus, are joined by net n1, the fuse fuse, net n2 and the lead w1: that is a short circuit.',
    ])
    // also where the pair goes on from a fuse to a switch, neither of which says what it carries
    const pairs = ['pack.plus fuse.in =', 'fuse.out switch.in =', 'switch.out lamp-1.plus =']
    expect(clashes(wiring('pack fuse switch lamp-1', ['pack.plus lamp-1.minus'], pairs))).toHaveLength(2)
  })

  it('is told once, however many returns are one', () => {
    const nets = ['pack.plus fuse.in', 'fuse.out lamp-1.minus', 'lamp-1.minus lamp-2.minus block.a']
    expect(clashes(wiring('pack fuse block lamp-1 lamp-2', nets))).toHaveLength(1)
  })
})

/** Buses, each a net or leads from one of its ends; loads, packs, fuses and switches at them by chance. */
const robots = fc
  .record({
    packs: fc.integer({ min: 1, max: 2 }),
    plus: fc.array(fc.nat(3), { minLength: 2, maxLength: 2 }),
    fuses: fc.array(fc.tuple(fc.nat(3), fc.nat(3)), { maxLength: 2 }),
    switches: fc.array(fc.tuple(fc.nat(3), fc.nat(3)), { maxLength: 2 }),
    lamps: fc.array(fc.nat(3), { minLength: 1, maxLength: 3 }),
    byLeads: fc.array(fc.boolean(), { minLength: 4, maxLength: 4 }),
    said: fc.boolean(),
  })
  .map(({ packs, plus, fuses, switches, lamps, byLeads, said }) => {
    const buses: string[][] = [[], [], [], []]
    const ids: string[] = []
    const put = (kind: string, i: number, at: Record<string, number>) => {
      ids.push(`${kind}-${i + 1}`)
      for (const [end, bus] of Object.entries(at)) buses[bus]!.push(`${kind}-${i + 1}.${end}`)
    }
    for (let i = 0; i < packs; i++) put('pack', i, { plus: plus[i]! })
    const edges = (list: readonly (readonly [number, number])[]) =>
      list.map(([a, b]): [number, number] => [a, a === b ? (b + 1) % 4 : b])
    for (const [i, [a, b]] of edges(fuses).entries()) put('fuse', i, { in: a, out: b })
    for (const [i, [a, b]] of edges(switches).entries()) put('switch', i, { in: a, out: b })
    for (const [i, bus] of lamps.entries()) put('lamp', i, { plus: bus })
    const back = ids.filter((id) => /pack|lamp/.test(id)).map((id) => `${id}.minus`)
    const joined = buses.map((ends, i) => ({ ends, lead: byLeads[i]! })).filter(({ ends }) => ends.length > 1)
    const nets = [...joined.flatMap((b) => (b.lead ? [] : [b.ends.join(' ')])), back.join(' ')]
    const mark = said ? ' >' : ''
    const leads = joined.flatMap((b) => (b.lead ? b.ends.slice(1).map((to) => `${b.ends[0]} ${to}${mark}`) : []))
    return { packs, plus, fuses: edges(fuses), switches: edges(switches), lamps, ids, nets, leads }
  })

describe('robots by chance', () => {
  it('lack what a plain walk from bus to bus says that they lack', () => {
    fc.assert(
      fc.property(robots, ({ packs, plus, fuses, switches, lamps, ids, nets, leads }) => {
        const report = wiring(ids.join(' '), nets, leads, 'pack-1')
        const walk = (from: number, open: readonly (readonly [number, number])[]) => {
          const seen = new Set([from])
          for (let n = 0; n < 4; n++)
            for (const edge of [...fuses, ...switches])
              if (!open.includes(edge) && edge.some((b) => seen.has(b))) for (const b of edge) seen.add(b)
          return seen
        }
        const others = (p: number) => plus.slice(0, packs).filter((_, i) => i !== p)
        const draws = (p: number, open: readonly (readonly [number, number])[]) =>
          [...lamps, ...others(p)].some((bus) => walk(plus[p]!, open).has(bus))
        // one of which nobody says whom it feeds may have any fuse: of that the tests above speak
        const asked = Array.from({ length: packs }, (_, p) => p).filter((p) => draws(p, []))
        const want = (guards: typeof fuses) =>
          asked.filter((p) => guards.every((g) => draws(p, [g]))).map((p) => `pack-${p + 1}`)
        const told = lacks(report)
        const of = (list: readonly string[]) => list.filter((id) => asked.some((p) => id === `pack-${p + 1}`))
        expect([of(told.fuse), of(told.listFuse)]).toEqual([want(fuses), want(fuses)])
        // with the load off, that packs meet is no matter of a switch
        const isOff = (p: number, g: (typeof switches)[number]) =>
          lamps.some((bus) => walk(plus[p]!, []).has(bus)) && !lamps.some((bus) => walk(plus[p]!, [g]).has(bus))
        const unswitched = asked.filter((p) => switches.every((g) => draws(p, [g]) && !isOff(p, g)))
        expect(of(told.switch)).toEqual(unswitched.map((p) => `pack-${p + 1}`))
        const meet = packs === 2 && walk(plus[0]!, switches).has(plus[1]!)
        const softly = packs === 2 && walk(plus[0]!, []).has(plus[1]!)
        const said = clashes(report).map((c) => c.split(':')[0])
        expect(said).toEqual(meet ? ['stops'] : softly ? ['worth-knowing'] : [])
      }),
      { numRuns: process.env.DECKWRIGHT_LONG === '1' ? 1000 : 8 },
    )
  })
})
