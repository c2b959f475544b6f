/** What a head meets, against turned boxes tried pose by pose; its swept volume against corners followed; its range in sentences. */
import { describe, expect, it } from 'vitest'
import { layoutOf } from '../../solver/index.ts'
import { freeTilts, headReports } from '../../src/statics/head.ts'
import { headParts } from '../../src/statics/head-parts.ts'
import { blockedPans, blockedTilts, sweptBy } from '../../src/statics/head-sweep.ts'
import { obstaclesOf } from '../../src/statics/obstacles.ts'
import type { Interval } from '../../src/statics/plane.ts'
import fc from '../seeded.ts'
import { overlap, posed, still } from './boxes.ts'
import { box, placed, problemOf } from './kit.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'

interface Head {
  readonly payload: readonly number[]
  readonly bracket: readonly number[]
  readonly axis: readonly [number, number]
  readonly pan: readonly [number, number]
  readonly tilt: readonly [number, number]
}

const headPart = (h: Head, more: Record<string, unknown> = {}) => ({
  id: 'eye',
  kind: 'head',
  body: { width: 30, depth: 30, height: 40 },
  mount: { kind: 'adhesive' },
  head: {
    pivot: [15, 15],
    pan: h.pan,
    reach: 60,
    tail: 20,
    z: [10, 90],
    tilt: h.tilt,
    tiltAxis: h.axis,
    payload: [{ id: 'camera', box: h.payload }],
    bracket: [{ id: 'yoke', box: h.bracket }],
    ...more,
  },
})

const room = (h: Head, brick: readonly [number, number, number], stack = 0, more = {}) =>
  problemOf({
    decks: [{ id: 'd', z: 20, thickness: 3, outline: { rect: [0, 0, 300, 300] } }],
    footprints: [headPart(h, more), box('brick', brick[0], brick[1], brick[2])],
    items: [
      { id: 'eye', footprint: 'eye' },
      { id: 'brick', footprint: 'brick', stack },
    ],
  })

const inSome = (list: readonly Interval[], v: number) => list.some(([a, b]) => v > a && v < b)
const nearEnd = (list: readonly Interval[], v: number) =>
  list.some(([a, b]) => Math.abs(v - a) < 0.05 || Math.abs(v - b) < 0.05)

const payload = fc
  .tuple(
    fc.integer({ min: -25, max: 5 }),
    fc.integer({ min: -20, max: 15 }),
    fc.integer({ min: -20, max: 10 }),
    fc.integer({ min: 4, max: 40 }),
    fc.integer({ min: 4, max: 40 }),
    fc.integer({ min: 4, max: 30 }),
  )
  .map((v) => [...v])
const heads = fc.record<Head>({
  payload,
  bracket: fc
    .tuple(
      fc.integer({ min: -20, max: 0 }),
      fc.integer({ min: -15, max: 5 }),
      fc.integer({ min: 5, max: 30 }),
      fc.integer({ min: 4, max: 30 }),
      fc.integer({ min: 4, max: 25 }),
      fc.integer({ min: 4, max: 40 }),
    )
    .map((v) => [...v]),
  axis: fc.tuple(fc.integer({ min: -10, max: 25 }), fc.integer({ min: 20, max: 60 })),
  pan: fc.tuple(fc.integer({ min: -180, max: -10 }), fc.integer({ min: 10, max: 180 })),
  tilt: fc.tuple(fc.integer({ min: -90, max: 0 }), fc.integer({ min: 0, max: 90 })),
})
const scenes = fc.record({
  head: heads,
  turn: fc.nat(3),
  brick: fc.tuple(fc.integer({ min: 5, max: 80 }), fc.integer({ min: 5, max: 80 }), fc.integer({ min: 5, max: 100 })),
  at: fc.tuple(fc.integer({ min: 60, max: 200 }), fc.integer({ min: 60, max: 200 })),
})

/** The scene as the code under test sees it, and as turned boxes. */
function made({
  head,
  turn,
  brick,
  at,
}: {
  head: Head
  turn: number
  brick: readonly [number, number, number]
  at: readonly [number, number]
}) {
  const p = room(head, brick)
  const where = placed(p, { eye: ['d', 135, 135, turn], brick: ['d', at[0], at[1]] })
  const layout = layoutOf(p, where)
  const h = headParts(p, layout.bodies[0]!)!
  const obstacle = obstaclesOf(layout).find((o) => o.id === 'brick')!
  const block = still(at[0], at[1], 20, at[0] + brick[0], at[1] + brick[1], 20 + brick[2])
  const axis = { pivot: [150, 150] as const, ahead: head.axis[0], height: 20 + head.axis[1] }
  const deep = (pan: number, tilt: number): number => {
    const turned = pan + 90 * turn
    const yoke = posed(head.bracket, { pivot: [150, 150], ahead: 0, height: 20 }, turned, 0)
    return Math.max(overlap(posed(head.payload, axis, turned, tilt), block), overlap(yoke, block))
  }
  return { p, where, h, obstacle, deep }
}

const spread = ([lo, hi]: readonly [number, number], n: number) =>
  Array.from({ length: n }, (_, i) => lo + ((hi - lo) * (i + 0.5)) / n)

describe('what a head meets', () => {
  it('is what turned boxes meet, at every pan of a tilt and every tilt of a pan', () => {
    const seen = { hit: 0, clear: 0 }
    fc.assert(
      fc.property(scenes, (scene) => {
        const { h, obstacle, deep } = made(scene)
        for (const tilt of spread(scene.head.tilt, 3)) {
          const pans = blockedPans(h, obstacle, [tilt, tilt])
          for (const pan of spread(scene.head.pan, 24)) {
            const d = deep(pan, tilt)
            // within a hair of touching neither method need agree
            if (Math.abs(d) < 0.01 || nearEnd(pans, pan)) continue
            seen[d > 0 ? 'hit' : 'clear']++
            expect(inSome(pans, pan)).toBe(d > 0)
          }
        }
        for (const pan of spread(scene.head.pan, 3)) {
          const tilts = blockedTilts(h, obstacle, pan)
          for (const tilt of spread(scene.head.tilt, 24)) {
            const d = deep(pan, tilt)
            if (Math.abs(d) < 0.01 || nearEnd(tilts, tilt)) continue
            expect(inSome(tilts, tilt)).toBe(d > 0)
          }
        }
      }),
      { numRuns: LONG ? 3000 : 90 },
    )
    expect(Math.min(seen.hit, seen.clear)).toBeGreaterThan(300)
  })

  it('at any tilt is the union over all tilts, tried finely', () => {
    const seen = { hit: 0, clear: 0 }
    fc.assert(
      fc.property(scenes, (scene) => {
        const { h, obstacle, deep } = made(scene)
        const any = blockedPans(h, obstacle)
        const tilts = spread(scene.head.tilt, 180)
        for (const pan of spread(scene.head.pan, 12)) {
          if (nearEnd(any, pan)) continue
          const deepest = Math.max(...tilts.map((t) => deep(pan, t)))
          // between two of the tilts tried, a corner moves by 0.5 mm at most
          if (Math.abs(deepest) < 0.5) continue
          seen[deepest > 0 ? 'hit' : 'clear']++
          expect(inSome(any, pan)).toBe(deepest > 0)
        }
      }),
      { numRuns: LONG ? 600 : 30 },
    )
    expect(Math.min(seen.hit, seen.clear)).toBeGreaterThan(30)
  })
})

describe('the swept volume', () => {
  it('reaches as far, as low and as high as the corners do, followed through the tilts', () => {
    fc.assert(
      fc.property(heads, (head) => {
        const p = room(head, [5, 5, 5])
        const { h } = { h: headParts(p, layoutOf(p, placed(p, { eye: ['d', 135, 135] })).bodies[0]!)! }
        const swept = sweptBy(h)
        let reach = 0
        let low = Number.POSITIVE_INFINITY
        let high = 0
        const follow = (b: readonly number[], ahead: number, height: number, tilt: number) => {
          const t = (tilt * Math.PI) / 180
          for (let k = 0; k < 8; k++) {
            const [x, y, z] = [b[0]! + (k & 1) * b[3]!, b[1]! + ((k >> 1) & 1) * b[4]!, b[2]! + (k >> 2) * b[5]!]
            const [Y, Z] = [y * Math.cos(t) - z * Math.sin(t) + ahead, y * Math.sin(t) + z * Math.cos(t) + height]
            reach = Math.max(reach, Math.hypot(x, Y))
            low = Math.min(low, Z)
            high = Math.max(high, Z)
          }
        }
        follow(head.bracket, 0, 20, 0)
        for (let i = 0; i <= 600; i++) {
          const tilt = head.tilt[0] + ((head.tilt[1] - head.tilt[0]) * i) / 600
          follow(head.payload, head.axis[0], 20 + head.axis[1], tilt)
        }
        for (const [exact, tried] of [
          [swept.reach, reach],
          [swept.z[1], high],
          [-swept.z[0], -low],
        ] as const) {
          expect(exact).toBeGreaterThan(tried - 1e-5)
          expect(exact).toBeLessThan(tried + 0.01)
        }
        expect(Math.max(...swept.profile.map((b) => b.reach))).toBeCloseTo(swept.reach, 5)
      }),
      { numRuns: 25 },
    )
  })

  it('is no cylinder: a bar that tilts from level up reaches less where it is high', () => {
    // a bar 40 long from the axis, no height to speak of, tilted from 0 to 90: at a height z it reaches sqrt(40² − z²)
    const bar: Head = {
      payload: [-1, 0, 0, 2, 40, 0.001],
      bracket: [-1, -1, 30, 2, 2, 1],
      axis: [0, 30],
      pan: [-90, 90],
      tilt: [0, 90],
    }
    const p = room(bar, [5, 5, 5])
    const h = headParts(p, layoutOf(p, placed(p, { eye: ['d', 135, 135] })).bodies[0]!)!
    for (const { z, reach } of sweptBy(h).profile) {
      const up = z[0] - 50
      expect(reach).toBeCloseTo(Math.hypot(1, Math.sqrt(Math.max(0, 1600 - up * up))), 1)
    }
  })
})

const plain: Head = {
  payload: [-10, 0, -8, 20, 40, 16],
  bracket: [-12, -6, 12, 24, 12, 30],
  axis: [0, 40],
  pan: [-90, 90],
  tilt: [-30, 60],
}

describe('the range that is left', () => {
  it('is the whole range where nothing stands in the way', () => {
    const p = room(plain, [20, 20, 20])
    const [r] = headReports(p, placed(p, { eye: ['d', 135, 135], brick: ['d', 10, 10] }))
    expect(r!.hits).toEqual([])
    expect(r!.freePan).toEqual([[-90, 90]])
    expect(r!.findings).toEqual([])
    expect(r!.byTilt.map((t) => t.tilt)).toEqual([
      -30, -25, -20, -15, -10, -5, 0, 5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60,
    ])
  })

  it('is what a wall beside it leaves, worked by hand', () => {
    // level only: a bar 20 wide and 40 long; a wall 30 to the right, far to both ends: corner (10,40) meets x = 30
    const level = { ...plain, tilt: [0, 0] as const }
    const p = room(level, [20, 200, 60])
    const [r] = headReports(p, placed(p, { eye: ['d', 135, 135], brick: ['d', 180, 50] }))
    // corner (10,40) is at 75.96° and 41.23 from the pivot; it comes to x = 30 at acos(30 / 41.23) = 43.31°
    const corner = Math.atan2(40, 10) - Math.acos(30 / Math.hypot(10, 40))
    expect(r!.hits.map((x) => [x.id, x.kind])).toEqual([['brick', 'body']])
    expect(r!.hits[0]!.pan[0]![1]).toBeCloseTo((-corner * 180) / Math.PI, 6)
    expect(r!.freePan[0]![0]).toBeCloseTo((-corner * 180) / Math.PI, 6)
    expect(r!.findings[0]).toMatchObject({ topic: 'head', weight: 'stops', items: ['eye', 'brick'] })
    expect(r!.findings[0]!.text).toBe(
      'brick stands in the way of the camera of eye from 90° right to 32.6° right; it is free at every tilt from 32.6° right to 90° left.',
    )
  })

  it('says the same of what is left, whichever thing it tells of, with all stacks full', () => {
    const p = problemOf({
      decks: [{ id: 'd', z: 20, thickness: 3, outline: { rect: [0, 0, 300, 300] } }],
      footprints: [headPart({ ...plain, tilt: [0, 0] }), box('brick', 20, 60, 60), box('low', 20, 60, 5)],
      items: [
        { id: 'eye', footprint: 'eye' },
        { id: 'mast', footprint: 'brick' },
        { id: 'low', footprint: 'low', stack: 55 },
      ],
    })
    const [r] = headReports(p, placed(p, { eye: ['d', 135, 135], mast: ['d', 180, 120], low: ['d', 100, 120] }))
    expect(r!.findings.map((f) => f.kind)).toEqual(['head-blocked', 'head-blocked-by-stack'])
    const left = r!.findings.map((f) => f.text.slice(f.text.indexOf(';')))
    expect(left[0]).toBe(left[1])
    expect(left[0]).toMatch(/^; it is free at every tilt from [\d.]+° right to [\d.]+° left\.$/)
    expect(r!.freePan).not.toEqual(r!.freePanBare)
  })

  it('tells what only the stack blocks from what the body does', () => {
    const p = room(plain, [60, 20, 5], 60)
    const [r] = headReports(p, placed(p, { eye: ['d', 135, 135], brick: ['d', 120, 180] }))
    expect(r!.hits.map((x) => x.kind)).toEqual(['stack'])
    expect(r!.freePanBare).toEqual([[-90, 90]])
    expect(r!.freePan.length).toBeGreaterThan(0)
    expect(r!.findings[0]).toMatchObject({ weight: 'worth-knowing' })
    expect(r!.findings[0]!.text).toMatch(/^What is stacked on brick stands in the way/)
    // the brick ends 25 over the ground, its stack at 85; the payload comes down to 20 + 40 − 40.8·sin(30° + 11.3°) = 33.1
    const at = placed(p, { eye: ['d', 135, 135], brick: ['d', 120, 180] })
    expect(headReports(p, at, { stacked: 0 })[0]!.hits).toEqual([])
    expect(headReports(p, at, { stacked: (33 - 25) / 60 })[0]!.hits).toEqual([])
    expect(headReports(p, at, { stacked: (33.3 - 25) / 60 })[0]!.hits.map((x) => x.kind)).toEqual(['stack'])
  })

  it('meets its own deck when it looks down too far, and the slider is told which tilts are left', () => {
    const low: Head = { ...plain, axis: [0, 25], tilt: [-80, 60] }
    const p = room(low, [20, 20, 20])
    const at = placed(p, { eye: ['d', 135, 135], brick: ['d', 10, 10] })
    const [r] = headReports(p, at)
    expect(r!.hits.map((x) => [x.id, x.kind, x.parts])).toEqual([['d', 'deck', ['camera']]])
    expect(r!.freePan).toEqual([])
    // corner (40,−8) of the side view comes down to −25: its own angle −11.31°, and asin(25 / 40.79) = 37.80°
    const left = freeTilts(p, at, 0, 0)!
    expect(left).toHaveLength(1)
    expect(left[0]![0]).toBeCloseTo((-(Math.asin(25 / Math.hypot(40, 8)) - Math.atan2(8, 40)) * 180) / Math.PI, 6)
    expect(freeTilts(p, at, 1, 0)).toBeUndefined()
  })

  it('says when what it carries is more than its stated sweep', () => {
    const long = room({ ...plain, payload: [-10, 0, -8, 20, 70, 16] }, [5, 5, 5])
    const [r] = headReports(long, placed(long, { eye: ['d', 135, 135], brick: ['d', 10, 10] }))
    expect(r!.findings.map((f) => f.text).join()).toMatch(
      /reaches .*mm farther.* than the sweep that its footprint states/,
    )
  })

  it('turns with its deck: the same angles whichever way the head is mounted', () => {
    const far = room(plain, [20, 20, 60])
    const right = headReports(far, placed(far, { eye: ['d', 135, 135, 0], brick: ['d', 180, 140] }))[0]!
    // a quarter turn more: what was right of it is ahead now, so the brick goes from the right to the front
    const front = headReports(far, placed(far, { eye: ['d', 135, 135, 1], brick: ['d', 140, 180] }))[0]!
    expect(front.freePan.map((i) => i.map((v) => v.toFixed(6)))).toEqual(
      right.freePan.map((i) => i.map((v) => v.toFixed(6))),
    )
  })
})
