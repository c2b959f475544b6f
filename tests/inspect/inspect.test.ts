import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { check } from '../../solver/index.ts'
import { together } from '../../src/inspect/findings.ts'
import { DIRECTIONS } from '../../src/statics/index.ts'
import { type Any, reportOf, robot } from './kit.ts'

const RUNS = process.env.DECKWRIGHT_LONG === '1' ? 200 : 4

const texts = (change?: (p: Any) => void) => reportOf(robot(change)).findings.map((f) => f.text)

describe('one report of a layout', () => {
  it('is plain data, and finds nothing that stops a robot made to run', () => {
    const r = robot()
    expect(check(r.problem, r.placements)).toEqual([])
    const report = reportOf(r)
    expect(JSON.parse(JSON.stringify(report))).toEqual(report)
    expect(report.findings.filter((f) => f.weight === 'stops')).toEqual([])
    expect(report.missing).toEqual([])
    expect(report.leads?.routes.map((l) => l.wire)).toEqual([
      'battery',
      'to-brain',
      'to-driver',
      'motor-left',
      'motor-right',
    ])
    expect(report.pins?.table.length).toBeGreaterThan(10)
    expect(report.power?.supplies.map((s) => s.supply)).toEqual(['pack'])
    expect(report.heads.map((h) => h.item)).toEqual(['neck'])
    expect(report.views.map((v) => v.item)).toEqual(['neck', 'eye'])
    expect(report.access.reach.map((a) => `${a.item} ${a.access}`)).toEqual([
      'pack cells',
      'brain program',
      'master switch',
      'line switch',
    ])
  })

  it('measures leads in mm: straight as the rules do, never longer than routed, with loop to cut', () => {
    // Hand count on the drawing: pack's plus lead at (68, 30), the switch's at (24, 72), on one deck: 44 + 42 mm; loop 10.
    const battery = reportOf(robot()).leads!.routes[0]!
    expect(battery).toMatchObject({ from: 'pack', to: 'master', straight: 86, length: 86, cut: 96 })
    // Across decks: from (36, 72) over the pass at (152, 40) to (72, 12), and 70 mm up.
    expect(reportOf(robot()).leads!.routes[1]).toMatchObject({ straight: 116 + 32 + 80 + 28 + 70, cut: 336 })
  })

  it('puts broken rules first, then what stops the job, then what is worth knowing, and says nothing twice', () => {
    const r = robot(
      (p) => {
        p.footprints[0].power.supply.fuse = undefined
        p.exits[0].free = 100
        p.settings.leastTipAngle = 60
        p.nets.find((n: Any) => n.id === 'talk').switch = undefined
      },
      { eye: ['main', 40, 100] },
    )
    const report = reportOf(r, { ground: { slope: 5, towards: DIRECTIONS.left } })
    const weights = report.findings.map((f) => (f.topic === 'layout' ? 0 : f.weight === 'stops' ? 1 : 2))
    expect(weights).toEqual([...weights].sort())
    expect(new Set(weights)).toEqual(new Set([0, 1, 2]))
    const said = report.findings.map((f) => f.text)
    expect(new Set(said).size).toBe(said.length)
    // The lead of 100 mm is short as the crow flies: the rule says so, and routing does not say it again.
    expect(
      report.findings.filter((f) => f.items.includes('motor-left') && f.weight === 'stops').map((f) => f.kind),
    ).toEqual(['R7'])
    // Asked about level ground and a slope, the limit is told once.
    expect(report.findings.filter((f) => f.kind === 'tips-early')).toHaveLength(1)
    expect(report.findings.map((f) => f.kind)).toEqual(expect.arrayContaining(['R2', 'no-fuse', 'program-line-bare']))
  })

  it('takes what the rules say from whoever knows it already', () => {
    const broken = [{ rule: 'R2' as const, items: ['pack', 'brain'], text: 'told before', by: 1 }]
    expect(reportOf(robot(), { broken }).findings[0]).toEqual({
      topic: 'layout',
      kind: 'R2',
      weight: 'stops',
      items: ['pack', 'brain'],
      text: 'told before',
    })
  })

  it('tells a head in the way once, by the rule where that has told it', () => {
    const f = { topic: 'head', kind: 'head-blocked', weight: 'stops' as const, items: ['neck', 'tower'], text: 'a' }
    const rule = { rule: 'R9' as const, items: ['tower', 'neck'], text: 'b', by: 1 }
    expect(together([rule], [[f]]).map((x) => x.text)).toEqual(['b'])
    expect(together([{ ...rule, items: ['other', 'neck'] }], [[f]]).map((x) => x.text)).toEqual(['b', 'a'])
    expect(together([], [[f, f]]).map((x) => x.text)).toEqual(['a'])
  })

  it('keeps leads for other variants: longest over the layouts given', () => {
    const change = (p: Any) => {
      p.variants = [{ id: 'near' }, { id: 'far' }]
    }
    const near = robot(change)
    const far = robot(change, { master: ['main', 130, 5] })
    const keep = (others: boolean) =>
      reportOf(near, others ? { others: [{ variant: 'far', placements: far.placements }] } : {}).leads!.keep.find(
        (k) => k.wire === 'battery',
      )!
    // Pack's lead at (68, 30), the switch's then at (134, 11): 66 + 19 mm, loop 10.
    expect(keep(true).variants).toEqual([
      { variant: 'near', cut: 96 },
      { variant: 'far', cut: 95 },
    ])
    expect(keep(false).variants).toHaveLength(1)
    expect(() => reportOf(near, { others: [{ variant: 'none', placements: [] }] })).toThrow(RangeError)
  })

  it('stands on a slope only where one is asked about', () => {
    expect(reportOf(robot()).balance).not.toHaveProperty('slope')
    const { balance } = reportOf(robot(), { ground: { slope: 10, towards: DIRECTIONS.left } })
    expect(balance!.slope!.ground.slope).toBe(10)
    expect(balance!.slope!.loadings[0]!.tracks.left).toBeGreaterThan(balance!.level.loadings[0]!.tracks.left)
  })
})

describe('what the files do not say', () => {
  const missing = (change: (p: Any) => void) => reportOf(robot(change))
  const strip = (p: Any, ...fields: string[]) => {
    for (const f of p.footprints) for (const field of fields) delete f[field]
  }

  it.each([
    ['pins', (p: Any) => delete p.nets, /`nets`/],
    ['balance', (p: Any) => delete p.chassis, /`chassis`/],
    ['power', (p: Any) => strip(p, 'power'), /`power\.supply`/],
    ['leads', (p: Any) => delete p.wires, /`wires`/],
    ['views', (p: Any) => [strip(p, 'view'), delete p.footprints[5].head.view], /`view`/],
    ['access', (p: Any) => strip(p, 'corridors'), /`access`/],
    ['heads', (p: Any) => [delete p.footprints[5].head.payload, delete p.footprints[5].head.bracket], /`payload`/],
  ] as const)('leaves %s out, and says which field would be needed', (part, change, field) => {
    const report = missing(change as (p: Any) => void)
    expect(report.missing.find((m) => m.part === part)?.field).toMatch(field)
    // people on the page know nothing of files
    for (const m of report.missing) expect(m.text).not.toContain('`')
    const parts: Any = { ...report, heads: report.heads.length || undefined, views: report.views.length || undefined }
    if (part === 'access') expect(report.access.reach).toEqual([])
    else expect(parts[part]).toBeUndefined()
  })

  it('never makes up a run time, a current or a mass', () => {
    const report = missing((p) => {
      delete p.footprints[4].power.load
      delete p.footprints[0].power.supply.capacity
      delete p.footprints[2].mass
      p.chassis.mass = 0
    })
    expect(report.power!.supplies[0]!.hours).toEqual({})
    expect(report.missing.map((m) => m.text)).toEqual([
      'No run time of pack: the charge of its cells is not given.',
      'driver draws nothing here: no current is given for it.',
      'The balance takes the chassis to weigh nothing: its mass without the parts is 0.',
      'The balance takes brain to weigh nothing: no mass is given.',
    ])
  })
})

describe('what must change with what', () => {
  // Ohm's law: more length, more resistance, less at the load (`wire-drop` in the reference values).
  it('a longer wire loses more, at every load behind it', () => {
    const volts = (loop: number) =>
      reportOf(
        robot((p) => {
          p.wires[0].loop = loop
        }),
      ).power!.supplies[0]!.states.running.loads.map((l) => l.volts)
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 2000 }), fc.integer({ min: 1, max: 2000 }), (loop, more) => {
        const [a, b] = [volts(loop), volts(loop + more)]
        expect(a).toHaveLength(4)
        expect(a.every((v, i) => v > b[i]!)).toBe(true)
      }),
      { numRuns: RUNS },
    )
  })

  // tan(angle) = distance to the edge over height (`tip-box-tall` in tests/fixtures/statics-values.json).
  it('a wider track stands on a steeper slope to both sides, and as before to front and back', () => {
    const tip = (wider: number) =>
      reportOf(
        robot((p) => {
          p.chassis.contact = p.chassis.contact.map(([x, y]: number[]) => [x! < 80 ? x! - wider : x! + wider, y])
        }),
      ).balance!.level.loadings[0]!.tip
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 100 }), fc.integer({ min: 1, max: 100 }), (from, more) => {
        const [a, b] = [tip(from), tip(from + more)]
        expect(b.left).toBeGreaterThan(a.left)
        expect(b.right).toBeGreaterThan(a.right)
        expect(b.forward).toBeCloseTo(a.forward, 9)
        expect(b.back).toBeCloseTo(a.back, 9)
      }),
      { numRuns: RUNS },
    )
  })

  it('a stalled motor draws no less than a running one, anywhere', () => {
    const { states } = reportOf(robot()).power!.supplies[0]!
    expect(states.idle.amps).toBeLessThan(states.running.amps)
    expect(states.running.amps).toBeLessThan(states.stall.amps)
    expect(texts((p) => (p.exits[0].load.stall = 30)).some((t) => /while motors stall/.test(t))).toBe(true)
  })
})
