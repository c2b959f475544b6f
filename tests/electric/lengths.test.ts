/** Bundles, strain relief and lengths to cut. Hand-made cases; the lengths are added up beside them. */
import { describe, expect, it } from 'vitest'
import { mm } from '../../solver/index.ts'
import { cutRows, cutTable } from '../../src/cli/cut-table.ts'
import { laidLeads } from '../../src/electric/cuts.ts'
import { leadLengths } from '../../src/electric/lengths.ts'
import { inspectRoutes } from '../../src/electric/routes-findings.ts'
import { WIRING } from '../../src/electric/routes-settings.ts'
import { wireCutList } from '../../src/export/tables.ts'
import { part, placed, problemOf, project } from './kit.ts'

describe('leads as they run', () => {
  const exits = (list: readonly (readonly [string, number, number])[]) =>
    list.map(([id, x, y]) => ({ id, deck: 'main', at: [x, y] }))

  it('are bundles where they run side by side', () => {
    const p = problemOf(
      project({
        items: [],
        exits: exits([
          ['a', 10, 10],
          ['b', 80, 10],
          ['c', 20, 12],
          ['d', 90, 12],
          ['e', 10, 50],
          ['f', 90, 50],
        ]),
        wires: [
          { id: 'ab', from: { exit: 'a' }, to: { exit: 'b' } },
          { id: 'cd', from: { exit: 'c' }, to: { exit: 'd' } },
          { id: 'ef', from: { exit: 'e' }, to: { exit: 'f' } },
        ],
      }),
    )
    // from x = 20 to 80, 2 mm apart; the third runs 38 mm away
    expect(inspectRoutes(p, [], WIRING).bundles).toEqual([{ wires: ['ab', 'cd'], deck: 0, together: mm(60) }])
    expect(inspectRoutes(p, [], { ...WIRING, bundle: mm(1) }).bundles).toEqual([])
  })

  it('are told where they have to bend at once after an exit', () => {
    const p = problemOf(
      project({
        items: [{ id: 'wall', footprint: 'wall', count: 2 }],
        footprints: [part('wall', 10, 40)],
        exits: exits([
          ['a', 3, 3],
          ['b', 90, 40],
        ]),
        wires: [{ id: 'ab', from: { exit: 'a' }, to: { exit: 'b' } }],
      }),
    )
    // 3 mm to the deck's left and back edges, 2 mm to one wall, and another `gap` over it
    const at = (gap: number) => placed(p, { 'wall#1': [5, 0], 'wall#2': [0, 40 + gap] })
    expect(inspectRoutes(p, at(5), WIRING).findings).toEqual([])
    const narrow = placed(p, { 'wall#1': [6, 4], 'wall#2': [16, 50] })
    // room to the right under the wall
    expect(inspectRoutes(p, narrow, { ...WIRING, clearance: mm(0.5) }).findings).toEqual([])
    const over = placed(p, { 'wall#1': [5, 0], 'wall#2': [-6, 7, 0] })
    const [f] = inspectRoutes(p, over, { ...WIRING, clearance: mm(0.5) }).findings
    expect(f).toMatchObject({ topic: 'strain', items: ['ab', 'a'] })
    expect(f!.text).toContain('after the exit a; leave 5 mm')
  })

  it('are told where they are too short, or have no way at all', () => {
    const make = (maxLength?: number) =>
      problemOf(
        project({
          items: [{ id: 'wall', footprint: 'wall' }],
          footprints: [part('wall', 10, 79.5)],
          exits: exits([
            ['a', 10, 40],
            ['b', 90, 40],
          ]),
          wires: [{ id: 'ab', from: { exit: 'a' }, to: { exit: 'b' }, ...(maxLength ? { maxLength } : {}) }],
        }),
      )
    const open = make()
    const at = placed(open, { wall: [46, 0] })
    expect(inspectRoutes(open, at, WIRING).findings).toMatchObject([
      { topic: 'route', weight: 'worth-knowing', items: expect.arrayContaining(['ab', 'wall']) },
    ])
    const limited = inspectRoutes(make(100), at, WIRING).findings
    expect(limited).toMatchObject([{ topic: 'route', weight: 'stops', items: ['ab', 'wall'] }])
  })
})

describe('lengths to cut', () => {
  const pin = { mount: { kind: 'plug-in' }, plug: { pins: [{ id: '1', at: [1, 1] }] } }
  const board = part('board', 20, 20, {
    kind: 'breadboard',
    breadboard: { blocks: [{ at: [1, 1], columns: 7, rows: 7, strip: 'column' }] },
  })
  const asked = (more: object = {}) =>
    project({
      decks: [
        { id: 'low', z: 10, thickness: 3, outline: { rect: [0, 0, 100, 80] } },
        { id: 'top', z: 60, thickness: 3, outline: { rect: [0, 0, 100, 80] } },
      ],
      exits: [{ id: 'out', deck: 'low', at: [0, 0] }],
      passes: [{ id: 'up', decks: ['low', 'top'], at: [0, 80] }],
      footprints: [board, part('chip', 4, 4, { ...pin, terminals: [{ id: 't', at: [0, 0] }] })],
      items: [
        { id: 'near', footprint: 'board', decks: ['low', 'top'] },
        { id: 'far', footprint: 'board', decks: ['low'] },
        { id: 'chip', footprint: 'chip' },
      ],
      wires: [{ id: 'lead', from: { exit: 'out' }, to: { item: 'chip', terminal: 't' }, loop: 5 }],
      variants: [{ id: 'one' }, { id: 'two' }],
      ...more,
    })

  it('reach every variant, another breadboard and an upper deck', () => {
    const p = asked()
    const at = (variant: string, chip: readonly [number, number]) => ({
      variant,
      placements: placed(problemOf(p, variant), { near: [10, 10], far: [70, 10], chip: [...chip] }),
    })
    const { leads, findings } = leadLengths(p, new Map(), [at('one', [10, 10]), at('two', [70, 10])])
    const [lead] = leads
    // 10 + 10 + loop; 70 + 10 + loop
    expect(lead!.variants).toEqual([
      { variant: 'one', cut: mm(25) },
      { variant: 'two', cut: mm(85) },
    ])
    // from (0,0): the far board's nearest corner (70,10), its farthest (90,30); on the upper deck the same place by the pass at
    // (0,80): 80 up, 10 + 70 on top, 50 high
    expect(lead!.later).toEqual([
      { variant: 'one', item: 'chip', to: 'far', least: mm(85), most: mm(125) },
      { variant: 'one', item: 'chip', to: 'deck top', least: mm(215), most: mm(215) },
      { variant: 'two', item: 'chip', to: 'near', least: mm(25), most: mm(65) },
    ])
    expect(lead!.keep).toBe(mm(215))
    expect(findings).toHaveLength(1)
    expect(findings[0]!.text).toBe(
      'Cut to 25 mm for the variant one, the lead lead no longer reaches for the variant two (85 mm), chip on far in the variant one (85 mm or more) and chip on deck top in the variant one (215 mm or more). Keep 215 mm of it.',
    )
  })

  it('say of a move in which variant, for there it may stand on another board', () => {
    const p = asked({ passes: [] })
    const at = (variant: string, near: readonly [number, number], chip: readonly [number, number]) => ({
      variant,
      placements: placed(problemOf(p, variant), { near: [...near], far: [70, 10], chip: [...chip] }),
    })
    // In one it is on the near board already, at 25 mm; in two that board is at (40, 50), and its nearest corner 90 mm and the loop away.
    const { findings } = leadLengths(p, new Map(), [at('one', [10, 10], [10, 10]), at('two', [40, 50], [70, 10])])
    expect(findings[0]!.text).toContain('chip on near in the variant two (95 mm or more)')
    expect(findings[0]!.text).toContain('chip on far in the variant one (85 mm or more)')
  })

  it('are kept for the same in the wire list and the table of compare as in the report', () => {
    const p = asked()
    const of = (variant: string, x: number) => {
      const problem = problemOf(p, variant)
      const placements = placed(problem, { near: [10, 10], far: [70, 10], chip: [x, 10] })
      return { id: variant, problem, placements, laid: laidLeads(problem, placements, WIRING) }
    }
    const [one, two] = [of('one', 10), of('two', 70)]
    const least = leadLengths(p, new Map(), [
      { variant: 'one', placements: one.placements },
      { variant: 'two', placements: two.placements },
    ]).leads[0]!.keep
    const row = { longest: 85, keep: least / 1000, keepFor: 'chip on deck top, from variant one' }
    expect(wireCutList(one.problem, one.placements, [two], one.laid)).toMatchObject([row])
    // 25 to 65 mm in two: less than its own 85, and nothing beyond that to keep it for
    expect(wireCutList(two.problem, two.placements, [], two.laid)).toMatchObject([
      { longest: 85, keep: 85, keepFor: '' },
    ])
    // straight: what is not known is not said
    expect(wireCutList(one.problem, one.placements)).toMatchObject([{ keep: null, keepFor: '' }])
    const answers = [one, two].map(({ id, problem }) => ({
      id,
      name: id,
      problem,
      result: { status: 'unknown' } as never,
    }))
    const { cells } = cutTable(
      cutRows(answers, (a) => (a.id === 'one' ? one : two).laid),
      true,
    )
    expect(cells).toEqual([['  lead', '85.0 mm', 'keep at least 215.0 mm, enough also for chip on deck top']])
  })

  it('do not ask for more than there is of a lead', () => {
    const p = asked({
      exits: [{ id: 'out', deck: 'low', at: [0, 0], free: 90 }],
      passes: [],
      items: [
        { id: 'near', footprint: 'board', decks: ['low'] },
        { id: 'far', footprint: 'board', decks: ['low'] },
        { id: 'chip', footprint: 'chip' },
      ],
    })
    const one = problemOf(p, 'one')
    const { leads, findings } = leadLengths(p, new Map(), [
      { variant: 'one', placements: placed(one, { near: [10, 10], far: [70, 10], chip: [10, 10] }) },
    ])
    expect(leads[0]!.keep).toBe(mm(90))
    expect(findings[0]!.text).toContain('chip on far (85 mm or more)')
    const farther = placed(one, { near: [10, 10], far: [70, 40], chip: [10, 10] })
    expect(leadLengths(p, new Map(), [{ variant: 'one', placements: farther }]).findings).toEqual([])
  })

  it('go from the copy that the lead runs to, at either end', () => {
    const hub = part('hub', 4, 4, { terminals: [{ id: 't', at: [2, 2] }] })
    const p = (from: string, to: string) =>
      asked({
        passes: [],
        footprints: [board, hub, part('chip', 4, 4, { ...pin, terminals: [{ id: 't', at: [0, 0] }] })],
        items: [
          { id: 'board', footprint: 'board', decks: ['low'], count: 2 },
          { id: 'hub', footprint: 'hub', decks: ['low'], count: 2 },
          { id: 'chip', footprint: 'chip', count: 2 },
        ],
        wires: [{ id: 'lead', from: { item: from, terminal: 't' }, to: { item: to, terminal: 't' } }],
      })
    const of = (from: string, to: string) => {
      const project = p(from, to)
      const problem = problemOf(project, 'one')
      const index = (id: string) => problem.items.findIndex((i) => i.id === id)
      const at = { 'board#1': [10, 10], 'board#2': [70, 10], 'hub#1': [94, 74], 'hub#2': [20, 40] } as const
      const chips = { 'chip#1': [70, 14], 'chip#2': [14, 20] } as const
      const placements = placed(problem, { ...at, ...chips }).map((q) =>
        problem.items[q.item]!.base === 'chip' ? { ...q, host: index(q.at.x > mm(50) ? 'board#2' : 'board#1') } : q,
      )
      return leadLengths(project, new Map(), [{ variant: 'one', placements }]).leads[0]
    }
    // hub#2 has its terminal at (22, 42), chip#2 at (14, 20), both nearest: 8 + 22 mm. On board#2, from (70, 10) to (90, 30), the
    // nearest place from there is (70, 30), the farthest (90, 10): 48 + 12 and 68 + 32 mm.
    const told = {
      variants: [{ variant: 'one', cut: mm(30) }],
      later: [{ item: 'chip#2', to: 'board#2', least: mm(60), most: mm(100) }],
    }
    expect(of('hub', 'chip')).toMatchObject(told)
    expect(of('chip', 'hub')).toMatchObject(told)
  })

  it('say nothing where there is nothing to lose', () => {
    const p = asked({
      passes: [],
      items: [
        { id: 'near', footprint: 'board' },
        { id: 'chip', footprint: 'chip' },
      ],
    })
    const { leads, findings } = leadLengths(p, new Map(), [
      { variant: 'one', placements: placed(problemOf(p, 'one'), { near: [10, 10], chip: [10, 10] }) },
    ])
    expect(leads[0]).toMatchObject({ keep: mm(25), later: [] })
    expect(findings).toEqual([])
  })
})
