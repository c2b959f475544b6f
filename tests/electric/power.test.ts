/** Power of small robots, reckoned by hand beside each; sources in tests/fixtures/electric-values.json, trade figures in POWER. */
import { describe, expect, it } from 'vitest'
import { mm } from '../../solver/index.ts'
import { ohmsPerMetre } from '../../src/electric/gauge.ts'
import { inspectPower } from '../../src/electric/power-inspect.ts'
import { part, problemOf, project } from './kit.ts'
import { PACK, seen, topics } from './power-kit.ts'

describe('volts along the leads', () => {
  it('are those of the reference: 22 AWG, half a metre, one ampere, out and back', () => {
    const s = seen({
      parts: { pack: [PACK, [0, 0]], lamp: [{ load: { running: 1 } }, [500, 0]] },
      wires: [['pack', 'lamp', 'pack']],
    })
    const { running } = s.supplies[0]!.states
    // 6 V less 4 · 0.15 Ω · 1 A, less 52.96 mV; not less 26.48 mV, the return forgotten
    expect(running.volts).toBeCloseTo(5.4, 9)
    expect(running.volts - running.loads[0]!.volts).toBeCloseTo(0.052_96, 5)
    expect(running.leads[0]).toMatchObject({ wire: 'pack-lamp', awg: 22, length: 500, amps: 1 })
    expect(running.leads[0]!.drop).toBeCloseTo(0.052_96, 5)
    expect(s.supplies[0]!.hours.running).toBeCloseTo(2, 9)
    expect(s.findings).toEqual([])
    expect(s.cautions.length).toBeGreaterThan(0)
  })

  it('are the same with a lead out and a lead back, and told where none leads back', () => {
    const parts = { pack: [PACK, [0, 0]], lamp: [{ load: { running: 1 } }, [500, 0]] } as const
    const both = seen({
      parts,
      wires: [
        ['pack', 'lamp', 'pack', { path: 'out', conductors: 1 }],
        ['lamp', 'pack', 'pack', { path: 'back', conductors: 1 }],
      ],
    })
    const { running } = both.supplies[0]!.states
    expect(running.volts - running.loads[0]!.volts).toBeCloseTo(0.052_96, 5)
    const half = seen({ parts, wires: [['pack', 'lamp', 'pack', { path: 'out' }]] })
    expect(half.supplies[0]!.states.running.loads[0]!.volts).toBeCloseTo(running.loads[0]!.volts, 9)
    expect(half.findings[0]!.text).toContain('No lead of pack leads back from lamp')
  })

  it('add up through a switch to several loads, contacts and warm stranded copper included', () => {
    const s = seen({
      parts: {
        pack: [PACK, [0, 0]],
        switch: [{ part: 'switch' }, [200, 0]],
        lamp: [{ load: { idle: 0.1, running: 0.5 } }, [200, 100]],
        horn: [{ load: { running: 0.4 } }, [600, 0]],
      },
      wires: [
        ['pack', 'switch', 'pack'],
        ['switch', 'lamp', 'pack', { stranded: true }],
        ['switch', 'horn', 'pack', { gauge: '20 AWG', loop: 50 }],
      ],
      settings: { power: { temperature: 60 } },
    })
    const r = (awg: number, stranded = false) => ohmsPerMetre(awg, { temperature: 60, stranded })
    const { running, idle } = s.supplies[0]!.states
    const trunk = 2 * 0.2 * r(22) * 0.9
    expect(running.amps).toBeCloseTo(0.9, 9)
    expect(running.loads.find((l) => l.name === 'lamp')!.volts).toBeCloseTo(
      6 - 0.54 - trunk - 2 * 0.1 * r(22, true) * 0.5,
      9,
    )
    expect(running.loads.find((l) => l.name === 'horn')!.volts).toBeCloseTo(
      6 - 0.54 - trunk - 2 * 0.45 * r(20) * 0.4,
      9,
    )
    expect(idle.amps).toBeCloseTo(0.5, 9)
  })

  it('name a supply by its volts where just one has them', () => {
    const parts = { pack: [PACK, [0, 0]], lamp: [{ load: { running: 1 } }, [500, 0]] } as const
    expect(seen({ parts, wires: [['pack', 'lamp', 6]] }).supplies[0]!.states.running.amps).toBe(1)
    const other = seen({ parts, wires: [['pack', 'lamp', 5]] })
    expect(other.supplies[0]!.states.running.amps).toBe(0)
    expect(other.findings.map((f) => f.text)).toContain('No lead that names a supply reaches lamp.')
    expect(other.findings.map((f) => f.text)).toContain(
      'The lead pack-lamp names the supply 5, which is no placed pack or regulator of its own voltage.',
    )
  })

  it('warn where the leads lose too much', () => {
    const s = seen({
      parts: { pack: [PACK, [0, 0]], lamp: [{ load: { running: 1 } }, [800, 400]] },
      wires: [['pack', 'lamp', 'pack', { gauge: 26 }]],
    })
    // 2 · 1.2 m · 0.1339 Ω/m · 1 A = 0.3214 V of 6 V
    expect(s.findings.map((f) => f.text)).toContain('The leads from pack to lamp lose 0.32 V, 5.4 % of 6 V.')
  })
})

describe('currents', () => {
  const lamp = (running: number, more: object, wire: object = {}) =>
    seen({
      parts: { pack: [PACK, [0, 0]], lamp: [{ load: { running, stall: 1.2 } }, [50, 0], more] },
      wires: [['pack', 'lamp', 'pack', wire]],
    })

  it('are held against the gauge', () => {
    // 28 AWG: 0.081 mm² · 6 A/mm² = 0.49 A
    expect(topics(lamp(0.4, {}, { gauge: 28 }))).toContain('current worth-knowing')
    const s = lamp(0.6, {}, { gauge: 28 })
    expect(s.findings.map((f) => f.text)).toContain('0.6 A run through the lead pack-lamp; 28 AWG is good for 0.49 A.')
    expect(topics(lamp(0.6, {}, { gauge: 22 }))).toEqual([])
  })

  it('are held against the gauge where the file states them and less is reckoned, or nothing', () => {
    const parts = { lamp: [{}, [0, 0]], hall: [{}, [100, 0]] } as const
    const found = (more: object) =>
      seen({ parts, wires: [['lamp', 'hall', 'nobody', { supply: undefined, ...more }]] }).findings
    // 22 AWG is 0.3255 mm² (ASTM B258), at 6 A/mm² 1.95 A
    expect(found({ current: 1.9 })).toEqual([])
    expect(found({ current: 2 }).map((f) => [f.kind, f.weight, f.text])).toEqual([
      ['lead-overloaded', 'stops', '2 A are stated for the lead lamp-hall; 22 AWG is good for 1.95 A.'],
    ])
    const unknown = found({ current: 2, gauge: undefined })[0]!.text
    expect(unknown).toContain('its gauge is not given, and 22 AWG is good for 1.95 A')
    // where the supply is known, the larger of the two counts: nothing says that it draws here
    const fed = (current: number, load: object = {}) =>
      seen({
        parts: { ...parts, hall: [load, [100, 0]], pack: [PACK, [50, 0]] },
        wires: [['pack', 'hall', 'pack', { current }]],
      })
        .findings.filter((f) => f.topic === 'current')
        .map((f) => f.text)
    const lead = { parts: { pack: [PACK, [0, 0]], hall: [{ load: { running: 1 } }, [50, 0]] } } as const
    const by = (supply: string) => seen({ ...lead, wires: [['pack', 'hall', supply]] }).findings.map((f) => f.kind)
    expect(by('pack#1')).toEqual(by('pack'))
    expect(by('pack#2')).toContain('lead-astray')
    expect(fed(9)).toEqual(['9 A are stated for the lead pack-hall; 22 AWG is good for 1.95 A.'])
    expect(fed(1.9)).toEqual([])
    expect(fed(2, { load: { running: 3 } })).toEqual(['3 A run through the lead pack-hall; 22 AWG is good for 1.95 A.'])
    expect(fed(4, { load: { running: 3 } })).toEqual([
      '4 A are stated for the lead pack-hall; 22 AWG is good for 1.95 A.',
    ])
  })

  it('are held against a contact where a lead ends on a pin, and not at the screws of a plug-in part', () => {
    const board = {
      kind: 'breadboard',
      breadboard: { blocks: [{ at: [1, 1], columns: 1, rows: 1, strip: 'column' }] },
    }
    const plug = (terminal: readonly number[]) => ({
      mount: { kind: 'plug-in' },
      terminals: [{ id: 't', at: terminal }],
      plug: { pins: [{ id: '1', at: [1, 1] }] },
    })
    const found = (terminal: readonly number[]) =>
      seen({
        parts: {
          board: [{}, [200, 0], board],
          pack: [PACK, [0, 0]],
          lamp: [{ load: { running: 1.1 } }, [200, 0], plug(terminal)],
        },
        wires: [['pack', 'lamp', 'pack']],
      }).findings.map((f) => f.kind)
    expect(found([1, 1])).toContain('contact-overloaded')
    expect(found([0, 0])).not.toContain('contact-overloaded')
  })

  it('are held against a breadboard contact', () => {
    const board = {
      kind: 'breadboard',
      breadboard: { blocks: [{ at: [0, 0], columns: 1, rows: 1, strip: 'column' }] },
    }
    const s = lamp(1.1, board, { gauge: 20 })
    expect(s.findings.find((f) => f.topic === 'current')).toMatchObject({
      weight: 'stops',
      text: '1.1 A run through the lead pack-lamp; a breadboard contact is good for 1 A.',
    })
    // one contact each way: 2 · 30 mΩ · 1.1 A more than the copper
    const plain = lamp(1.1, {}, { gauge: 20 }).supplies[0]!.states.running.loads[0]!.volts
    expect(plain - s.supplies[0]!.states.running.loads[0]!.volts).toBeCloseTo(0.066, 9)
    expect(lamp(0.9, board, { gauge: 20 }).findings.find((f) => f.topic === 'current')!.weight).toBe('worth-knowing')
  })
})

describe('when motors stall', () => {
  const robot = (ohms: number, min = 4.5) =>
    seen({
      parts: {
        pack: [{ supply: { ...PACK.supply, ohms, fuse: 4 } }, [0, 0]],
        brain: [{ part: 'controller', load: { running: 0.1, min, max: 12 } }, [60, 0]],
        driver: [{ part: 'driver', load: { running: 0.02 } }, [0, 60]],
      },
      exits: {
        left: [{ running: 0.3, stall: 1.5 }, [0, 120]],
        right: [{ running: 0.3, stall: 1.5 }, [60, 60]],
      },
      wires: [
        ['pack', 'brain', 'pack'],
        ['pack', 'driver', 'pack', { gauge: 18 }],
        ['driver', 'left', 'pack', { gauge: 20 }],
        ['driver', 'right', 'pack', { gauge: 20 }],
      ],
    })

  it('the controller browns out on weak cells and not on strong ones', () => {
    const weak = robot(0.15)
    // 6 V − 4 · 0.15 Ω · (0.12 + 3) A = 4.128 V at the pack, then 2 · 60 mm of 22 AWG with 0.1 A
    const { stall } = weak.supplies[0]!.states
    expect(stall.volts).toBeCloseTo(4.128, 9)
    const f = weak.findings.find((x) => x.topic === 'brown-out')!
    expect(f).toMatchObject({ weight: 'stops', items: ['brain', 'pack', 'left', 'right'] })
    expect(f.text).toBe(
      'brain gets 4.13 V from pack when left and right stall, as at every start; it needs 4.5 V, and may start again by itself.',
    )
    expect(robot(0.05).findings.filter((x) => x.topic === 'brown-out')).toEqual([])
    expect(robot(0.15, 6).findings.find((x) => x.topic === 'brown-out')!.text).toContain('it needs 6 V.')
  })

  it('the motor current runs through the lead to the driver', () => {
    const { running, stall } = robot(0.05).supplies[0]!.states
    expect(running.leads.find((l) => l.wire === 'pack-driver')!.amps).toBeCloseTo(0.62, 9)
    expect(stall.leads.find((l) => l.wire === 'pack-driver')!.amps).toBeCloseTo(3.02, 9)
  })

  it('too many volts are told', () => {
    const s = seen({
      parts: { pack: [PACK, [0, 0]], brain: [{ load: { running: 0.1, max: 5.5 } }, [60, 0]] },
      wires: [['pack', 'brain', 'pack']],
    })
    expect(topics(s)).toContain('power stops')
  })
})

describe('regulators', () => {
  const fed = (output: object) =>
    seen({
      parts: {
        pack: [{ supply: { cells: 6, volts: 1.5, ohms: 0, capacity: 2, fuse: 2, switched: true } }, [0, 0]],
        reg: [{ part: 'regulator', output }, [100, 0]],
        brain: [{ load: { running: 0.5, min: 4.8 } }, [100, 50]],
      },
      wires: [
        ['pack', 'reg', 'pack'],
        ['reg', 'brain', 'reg'],
      ],
    })

  it('linear ones draw what they give and turn the rest into heat', () => {
    const [pack, reg] = fed({ volts: 5 }).supplies
    expect(pack!.states.running.amps).toBeCloseTo(0.5, 9)
    const input = 9 - 2 * 0.1 * ohmsPerMetre(22) * 0.5
    expect(pack!.states.running.regulators[0]!.watts).toBeCloseTo((input - 5) * 0.5, 9)
    expect(reg!.states.running.loads[0]!.volts).toBeCloseTo(5 - 2 * 0.05 * ohmsPerMetre(22) * 0.5, 9)
    expect(pack!.hours.running).toBeCloseTo(4, 9)
  })

  it('switching ones draw the power over their efficiency', () => {
    const [pack] = fed({ volts: 5, efficiency: 0.8 }).supplies
    const { amps, regulators } = pack!.states.running
    // U·I at the input is 5 V · 0.5 A / 0.8, and U = 9 V − R·I: the root of R·I² − 9·I + 3.125 = 0
    const r = 2 * 0.1 * ohmsPerMetre(22)
    expect(amps).toBeCloseTo((9 - Math.sqrt(81 - 4 * r * 3.125)) / (2 * r), 9)
    expect(regulators[0]!.watts).toBeCloseTo(3.125 - 2.5, 6)
  })

  it('of which a supply has not the power are told so, and no current is made up', () => {
    const starved = (ohms: number, running: number) =>
      seen({
        parts: {
          pack: [{ supply: { cells: 4, volts: 1.5, ohms: ohms / 4, capacity: 2, fuse: 5, switched: true } }, [0, 0]],
          reg: [{ part: 'regulator', output: { volts: 5, efficiency: 0.9 } }, [0, 0]],
          brain: [{ load: { running } }, [0, 0]],
        },
        wires: [
          ['pack', 'reg', 'pack'],
          ['reg', 'brain', 'reg'],
        ],
      })
    // a source of U volts and R ohms gives U²/4R at most (maximum power transfer): 6²/3.2 = 11.25 W, and 5 V · I / 0.9 is 11.25 W at 2.025 A
    const enough = starved(0.8, 2.024).supplies[0]!.states.running
    expect(enough.volts).toBeCloseTo(3 + Math.sqrt(9 - (0.8 * 5 * 2.024) / 0.9), 3)
    expect(enough.volts).toBeGreaterThan(3)
    const s = starved(0.8, 2.026)
    expect(s.supplies[0]!.states.running.amps).toBeCloseTo(2.026, 9)
    expect(s.findings.map((f) => f.text)).toContain(
      'pack cannot give the power that reg asks for: cells and leads take too much of it. Figures are as if it drew no more than it gives.',
    )
    // the fold is where nothing else is wrong: 5 V can still be made at the current that it gives
    expect(starved(0.4, 4).supplies[0]!.states.running.amps).toBeLessThan(6 / 0.4)
  })

  it('are told with as many decimals as it takes to see what is wrong', () => {
    const s = seen({
      parts: {
        pack: [{ supply: { cells: 4, volts: 1.251, ohms: 0, fuse: 2, switched: true } }, [0, 0]],
        brain: [{ load: { running: 0.5, max: 5.0039 } }, [0, 0]],
      },
      wires: [['pack', 'brain', 'pack']],
    })
    expect(s.findings.map((f) => f.text)).toContain('brain gets 5.004 V from pack; it stands 5.0039 V.')
  })

  it('are told where they get less than they make', () => {
    expect(topics(fed({ volts: 9 }))).toContain('brown-out stops')
    expect(topics(fed({ volts: 12, efficiency: 0.8 }))).not.toContain('brown-out stops')
  })
})

describe('fuse and master switch', () => {
  const bare = { supply: { cells: 4, volts: 1.5 } }
  const load = { load: { running: 0.5 } }
  const texts = (s: ReturnType<typeof seen>) => s.findings.filter((f) => f.topic === 'protection').map((f) => f.text)

  it('are asked for', () => {
    const s = seen({ parts: { pack: [bare, [0, 0]], lamp: [load, [50, 0]] }, wires: [['pack', 'lamp', 'pack']] })
    expect(topics(s)).toEqual(['protection stops', 'protection worth-knowing'])
  })

  it('count where everything is behind them, and not beside', () => {
    const parts = {
      pack: [bare, [0, 0]],
      fuse: [{ part: 'fuse', rating: 1 }, [20, 0]],
      switch: [{ part: 'switch' }, [40, 0]],
      lamp: [load, [60, 0]],
      horn: [load, [0, 50]],
    } as const
    const row = [
      ['pack', 'fuse', 'pack'],
      ['fuse', 'switch', 'pack'],
      ['switch', 'lamp', 'pack'],
    ] as const
    expect(texts(seen({ parts, wires: [...row, ['switch', 'horn', 'pack']] }))).toEqual([])
    expect(texts(seen({ parts, wires: [...row, ['fuse', 'horn', 'pack']] }))).toEqual([
      'pack has no master switch that everything is behind.',
    ])
    expect(texts(seen({ parts, wires: [...row, ['pack', 'horn', 'pack']] }))).toHaveLength(2)
  })

  it('a fuse suits its leads and its load', () => {
    const s = (fuse: number) =>
      texts(
        seen({
          parts: { pack: [{ supply: { ...bare.supply, fuse, switched: true } }, [0, 0]], lamp: [load, [50, 0]] },
          wires: [['pack', 'lamp', 'pack', { gauge: 24 }]],
        }),
      )
    // 24 AWG: 0.2047 mm² · 6 A/mm² = 1.23 A
    expect(s(1)).toEqual([])
    expect(s(2)).toEqual(['The fuse of pack lets 2 A through; the lead pack-lamp of 24 AWG is good for 1.23 A.'])
    expect(s(0.4)).toEqual(['0.5 A are drawn from pack; its fuse of 0.4 A would blow.'])
  })
})

describe('heat and radio', () => {
  it('keep their distance', () => {
    const s = (x: number, settings: object = {}) =>
      seen({
        parts: {
          driver: [{ part: 'driver' }, [0, 0]],
          radio: [{ part: 'radio' }, [x, 0]],
        },
        exits: { motor: [{ running: 1 }, [x, 40]] },
        wires: [],
        settings,
      }).findings.map((f) => f.text)
    expect(s(5)).toEqual([
      'radio is 3 mm from driver, which gets warm; leave 5 mm for air.',
      'The radio radio is 3 mm from driver; keep 30 mm between them.',
    ])
    expect(s(32)).toEqual([])
    expect(s(5, { power: { radio: 2, heat: 2 } })).toEqual([])
    expect(s(32, { power: { radio: 39 } })).toEqual([
      'The radio radio is 30 mm from driver; keep 39 mm between them.',
      'The radio radio is 38 mm from motor; keep 39 mm between them.',
    ])
  })

  it('ask for fields that make sense', () => {
    const bad = (power: object) => () => project({ items: [], footprints: [part('p', 5, 5, { power })] })
    expect(bad({ supply: { volts: -1 } })).toThrow(/footprints\[0\]\.power\.supply\.volts/)
    expect(bad({ load: { stall: 'much' } })).toThrow(/power\.load\.stall/)
    expect(bad({ part: 'engine' })).toThrow(/one of/)
    expect(bad({ output: { volts: 5, efficiency: 80 } })).toThrow(/an efficiency from 0.01 to 1/)
  })

  it('say nothing of a project that tells nothing of power', () => {
    const p = project({ items: [{ id: 'a', footprint: 'a' }], footprints: [part('a', 5, 5)] })
    const problem = problemOf(p)
    expect(inspectPower(p, new Map(), problem, [{ item: 0, deck: 0, at: { x: mm(0), y: mm(0) }, turn: 0 }])).toEqual({
      supplies: [],
      findings: [],
      cautions: [],
    })
  })
})
