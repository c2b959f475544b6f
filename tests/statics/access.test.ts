/** What is in reach and in sight with nothing taken off, by hand: in reach from above, from one side, not at all; stacks told from bodies. */
import { describe, expect, it } from 'vitest'
import { accessReport } from '../../src/statics/access.ts'
import { box, placed, problemOf } from './kit.ts'

const robot = (brain: Record<string, unknown> = {}) =>
  problemOf({
    decks: [
      { id: 'low', z: 20, thickness: 3, outline: { rect: [0, 0, 200, 150] } },
      {
        id: 'high',
        z: 80,
        thickness: 3,
        outline: { rect: [0, 0, 100, 150] },
        openings: [{ id: 'well', shape: { rect: [40, 100, 40, 40] } }],
      },
    ],
    footprints: [
      {
        id: 'pack',
        kind: 'pack',
        body: { width: 30, depth: 30, height: 16 },
        mount: { kind: 'adhesive' },
        corridors: [{ id: 'hand', shape: { rect: [2, 2, 26, 26] }, z: [16, 40], why: 'a hand', access: 'cells' }],
      },
      {
        id: 'brain',
        kind: 'board',
        body: { width: 40, depth: 30, height: 15 },
        mount: { kind: 'adhesive' },
        above: 'open',
        corridors: [
          { id: 'plug', shape: { rect: [-30, 8, 30, 12] }, z: [2, 12], access: 'program' },
          { id: 'reset', shape: { rect: [30, 20, 8, 8] }, z: [15, 30], access: 'reset' },
          { id: 'other', shape: { rect: [0, 0, 8, 8] }, z: [15, 30] },
        ],
        indicators: [{ id: 'on', at: [5, 25], name: 'power' }],
      },
      box('wall', 10, 150, 70),
      box('brick', 30, 30, 50),
    ],
    items: [
      { id: 'pack', footprint: 'pack', required: false },
      { id: 'brain', footprint: 'brain', required: false, ...brain },
      { id: 'wall', footprint: 'wall', count: 2, required: false },
      { id: 'brick', footprint: 'brick', required: false },
    ],
  })

describe('what must be in reach', () => {
  const p = robot()

  it('is reached from above in the open, and through a deck’s opening', () => {
    for (const at of [
      ['low', 150, 20],
      ['low', 45, 105],
    ] as const) {
      const r = accessReport(p, placed(p, { pack: at }))
      expect(r.reach).toEqual([{ item: 'pack', access: 'cells', reachable: true, from: 'above', by: [], stacked: [] }])
      expect(r.findings).toEqual([])
    }
  })

  it('is reached from a side under a deck, and no longer with walls all round', () => {
    // under the upper deck, whose underside is at 77; from the front nothing stands in the way
    const side = accessReport(p, placed(p, { pack: ['low', 20, 20] }))
    expect(side.reach[0]).toMatchObject({ reachable: true, from: 'front' })
    const walled = accessReport(
      p,
      placed(p, { pack: ['low', 20, 20], 'wall#1': ['low', 5, 0], 'wall#2': ['low', 55, 0], brick: ['low', 20, 60] }),
    )
    // the back is still open
    expect(walled.reach[0]).toMatchObject({ reachable: true, from: 'back' })
    const shut = accessReport(
      p,
      placed(p, {
        pack: ['low', 20, 60],
        'wall#1': ['low', 5, 0],
        'wall#2': ['low', 55, 0],
        brick: ['low', 20, 100],
        brain: ['low', 12, 20],
      }),
    )
    // the board is too low to be in the way of a hand at 36 and more: reached over it
    expect(shut.reach[0]).toMatchObject({ reachable: true, from: 'back' })
    const tall = robot({ stack: 40 })
    const stacked = accessReport(
      tall,
      placed(tall, {
        pack: ['low', 20, 60],
        'wall#1': ['low', 5, 0],
        'wall#2': ['low', 55, 0],
        brick: ['low', 20, 100],
        brain: ['low', 12, 20],
      }),
    )
    expect(stacked.reach[0]).toMatchObject({
      reachable: false,
      by: ['high', 'brick', 'wall#1', 'wall#2'],
      stacked: ['brain'],
    })
    expect(stacked.findings[0]).toMatchObject({ topic: 'access', weight: 'stops' })
    expect(stacked.findings[0]!.text).toBe(
      'The cells of pack cannot be reached with nothing taken off: deck high, brick, wall#1, wall#2 and what is stacked on brain stand in the way.',
    )
  })

  it('is told apart: the plug from its side, the reset button under a stack of its own board', () => {
    const open = accessReport(p, placed(p, { brain: ['low', 140, 20] }))
    expect(open.reach.map((r) => [r.access, r.reachable, r.from])).toEqual([
      ['program', true, 'above'],
      ['reset', true, 'above'],
    ])
    const tall = robot({ stack: 20 })
    const under = accessReport(tall, placed(tall, { brain: ['low', 140, 20] }))
    expect(under.reach.map((r) => [r.access, r.reachable])).toEqual([
      ['program', true],
      ['reset', false],
    ])
    expect(under.findings.filter((f) => f.text.includes('reset'))).toEqual([
      {
        kind: 'out-of-reach-by-stack',
        topic: 'access',
        weight: 'worth-knowing',
        items: ['brain'],
        text: 'The reset button of brain cannot be reached with nothing taken off: what is stacked on brain stands in the way.',
      },
    ])
  })

  it('is blocked by what stands in the corridor itself, a deck too', () => {
    const inside = accessReport(p, placed(p, { pack: ['low', 140, 20], brick: ['high', 150, 30] }))
    expect(inside.reach[0]!.reachable).toBe(true)
    const r = accessReport(p, placed(p, { brain: ['low', 140, 20], brick: ['low', 105, 20] }))
    expect(r.reach[0]).toMatchObject({ access: 'program', reachable: false, by: ['brick'] })
  })
})

describe('lights', () => {
  it('are seen from above, slanted past a deck’s edge, and not under a stack', () => {
    const p = robot()
    const seen = (at: readonly [string, number, number], q = p) => accessReport(q, placed(q, { brain: at })).sight[0]!
    expect(seen(['low', 140, 20])).toEqual({ item: 'brain', light: 'power', seen: true, by: [], stacked: [] })
    // 80 under the deck's right edge at 100, light at 85 and 35 high: 42 up, and the edge 15 away: a slanted look passes
    expect(seen(['low', 80, 60]).seen).toBe(true)
    expect(seen(['low', 5, 60])).toMatchObject({ seen: true })
    // 35 behind the well and 42 under it: through the well
    expect(seen(['low', 45, 40])).toMatchObject({ seen: true })
    expect(seen(['low', 45, 20])).toMatchObject({ seen: false, by: ['high'] })
    const tall = robot({ stack: 40 })
    const under = accessReport(tall, placed(tall, { brain: ['low', 140, 20] }))
    // 5 from the left edge and 5 from the front: at 45° the look leaves after 5 mm, but the stack starts at once
    expect(under.sight[0]).toMatchObject({ seen: false, by: [], stacked: ['brain'] })
    expect(under.findings.map((f) => f.text)).toContain(
      'The light power of brain is out of sight from above and from every side: what is stacked on brain hides it.',
    )
  })
})
