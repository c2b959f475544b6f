/** What stands in a view, against rays sent through a picture, and by hand. */
import { describe, expect, it } from 'vitest'
import { viewAt, viewReports } from '../../src/statics/view.ts'
import fc from '../seeded.ts'
import { box, placed, problemOf } from './kit.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'

const room = (view: Record<string, unknown>, brick: readonly [number, number, number], stack = 0) =>
  problemOf({
    decks: [{ id: 'd', z: 0, thickness: 3, outline: { rect: [0, 0, 400, 400] } }],
    footprints: [
      { id: 'sonar', kind: 'sensor', body: { width: 20, depth: 10, height: 30 }, mount: { kind: 'adhesive' }, view },
      {
        id: 'eye',
        kind: 'head',
        body: { width: 20, depth: 20, height: 30 },
        mount: { kind: 'adhesive' },
        head: {
          pivot: [10, 10],
          pan: [-90, 90],
          reach: 30,
          tail: 15,
          z: [20, 70],
          tilt: [-45, 45],
          tiltAxis: [5, 50],
          payload: [{ id: 'camera', box: [-5, 0, -5, 10, 20, 10] }],
          view: { ...view, from: [1, 20, 2] },
        },
      },
      box('brick', brick[0], brick[1], brick[2]),
    ],
    items: [
      { id: 'sonar', footprint: 'sonar', required: false },
      { id: 'eye', footprint: 'eye', required: false },
      { id: 'brick', footprint: 'brick', stack },
    ],
  })

describe('a view', () => {
  it('is hidden by so many degrees, worked by hand', () => {
    // lens at (200,10,20) looking ahead; a brick 20 wide and 40 high, 90 ahead of it, its left side on the axis
    const p = room({ from: [10, 10, 20], width: 60, height: 40, range: 1000 }, [20, 20, 40])
    const [r] = viewReports(p, placed(p, { sonar: ['d', 190, 0], brick: ['d', 200, 100] }))
    const brick = r!.blockers.find((b) => b.id === 'brick')!
    expect(brick.across[0]).toBeCloseTo(0, 9)
    expect(brick.across[1]).toBeCloseTo((Math.atan(20 / 90) * 180) / Math.PI, 9)
    expect(brick.up[1]).toBeCloseTo((Math.atan(20 / 90) * 180) / Math.PI, 9)
    expect(r!.findings.find((f) => f.items.includes('brick'))!.text).toMatch(
      // atan(20 / 90) = 12.529°, and twice that up and down: 25.058°; what is hidden is rounded up
      /^brick hides 12.6° of 60° across and 25.1° of 40° up from sonar, /,
    )
    // its own deck, 20 under the lens, fills what is steeper than its far edge: 390 ahead
    const deck = r!.blockers.find((b) => b.kind === 'deck')!
    expect(deck.up[1]).toBeCloseTo((-Math.atan(20 / 390) * 180) / Math.PI, 6)
    expect(r!.findings.map((f) => f.text).join()).toMatch(/Deck d hides .* nearer to the edge/)
  })

  it('is free of what lies behind, beside, or farther than its range', () => {
    const p = room({ from: [10, 10, 20], width: 60, height: 10, range: 80 }, [20, 20, 60])
    for (const at of [
      [190, 95],
      [100, 20],
      [300, 10],
    ] as const) {
      const [r] = viewReports(p, placed(p, { sonar: ['d', 190, 0], brick: ['d', at[0], at[1]] }))
      expect(r!.blockers).toEqual([])
      expect(r!.clear).toEqual([[-30, 30]])
      expect(r!.findings).toEqual([])
    }
    const [near] = viewReports(p, placed(p, { sonar: ['d', 190, 0], brick: ['d', 190, 85] }))
    expect(near!.blockers.map((b) => b.id)).toEqual(['brick'])
  })

  it('tells the stack from the body, and is wholly hidden by what stands before the lens', () => {
    const p = room({ from: [10, 10, 20], width: 40, height: 10 }, [200, 20, 10], 50)
    const [r] = viewReports(p, placed(p, { sonar: ['d', 190, 0], brick: ['d', 100, 15] }))
    expect(r!.blockers.map((b) => b.kind)).toEqual(['stack', 'deck'])
    expect(r!.blockers[0]!.share).toBeCloseTo(1, 9)
    expect(r!.clear).toEqual([])
  })

  it('looks at a slider’s pose, and nowhere where there is no view', () => {
    const p = room({ from: [10, 10, 20], width: 30, height: 30 }, [40, 40, 90])
    const at = placed(p, { eye: ['d', 190, 190], brick: ['d', 300, 180] })
    expect(viewAt(p, at, 1, { pan: 0, tilt: 0 })!.blockers.map((b) => b.id)).not.toContain('brick')
    expect(viewAt(p, at, 1, { pan: -90, tilt: 0 })!.blockers.map((b) => b.id)).toContain('brick')
    expect(viewAt(p, at, 2, { pan: 0, tilt: 0 })).toBeUndefined()
  })

  it('is hidden where rays through the picture are, for heads and fixed parts at any turn', () => {
    let hidden = 0
    const n = 40
    fc.assert(
      fc.property(
        fc.record({
          width: fc.integer({ min: 10, max: 120 }),
          height: fc.integer({ min: 10, max: 120 }),
          brick: fc.tuple(
            fc.integer({ min: 10, max: 150 }),
            fc.integer({ min: 10, max: 150 }),
            fc.integer({ min: 10, max: 150 }),
          ),
          at: fc.tuple(fc.integer({ min: 0, max: 300 }), fc.integer({ min: 0, max: 300 })),
          turn: fc.nat(3),
          pan: fc.integer({ min: -90, max: 90 }),
          tilt: fc.integer({ min: -45, max: 45 }),
        }),
        ({ width, height, brick, at, turn, pan, tilt }) => {
          const p = room({ from: [10, 10, 20], width, height }, brick)
          const where = placed(p, { eye: ['d', 190, 190, turn], brick: ['d', at[0], at[1]] })
          const r = viewAt(p, where, 1, { pan, tilt })!
          // the lens by hand: (1,20,2) from the axis, which is 5 ahead of the pivot (200,200) and 50 up
          const [a, t] = [((pan + 90 * turn) * Math.PI) / 180, (tilt * Math.PI) / 180]
          const world = (x: number, y: number, z: number, ahead: number): [number, number, number] => {
            const Y = y * Math.cos(t) - z * Math.sin(t) + ahead
            return [
              x * Math.cos(a) - Y * Math.sin(a),
              x * Math.sin(a) + Y * Math.cos(a),
              y * Math.sin(t) + z * Math.cos(t),
            ]
          }
          const l = world(1, 20, 2, 5)
          const lens = [200 + l[0], 200 + l[1], 50 + l[2]]
          const lo = [at[0], at[1], 0]
          const hi = [at[0] + brick[0], at[1] + brick[1], brick[2]]
          // within the brick, or all but touching it, the near plane decides
          if (lens.every((v, k) => v > lo[k]! - 3 && v < hi[k]! + 3)) return
          let hits = 0
          const [tx, ty] = [Math.tan((width * Math.PI) / 360), Math.tan((height * Math.PI) / 360)]
          for (let i = 0; i < n; i++) {
            for (let j = 0; j < n; j++) {
              const d = world(tx * ((2 * i + 1) / n - 1), 1, ty * ((2 * j + 1) / n - 1), 0)
              let [from, to] = [1, Number.POSITIVE_INFINITY]
              for (let k = 0; k < 3; k++) {
                const [u, v] = [(lo[k]! - lens[k]!) / d[k]!, (hi[k]! - lens[k]!) / d[k]!]
                from = Math.max(from, Math.min(u, v))
                to = Math.min(to, Math.max(u, v))
              }
              if (from < to) hits++
            }
          }
          const share = r.blockers.find((b) => b.id === 'brick')?.share ?? 0
          // rays next to a border may fall on either side of it: its length in rays, twice the picture at most
          expect(Math.abs(share - hits / n ** 2)).toBeLessThan(2 / n)
          if (share > 0.02) hidden++
        },
      ),
      { numRuns: LONG ? 2000 : 120 },
    )
    expect(hidden).toBeGreaterThan(10)
  })
})
