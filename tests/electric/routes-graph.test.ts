/** Ways against a plain search of every cell of a small grid: another method, and no line of the first. */
import { describe, expect, it } from 'vitest'
import { type Box, crosses, shortestWay } from '../../src/electric/routes-graph.ts'
import fc from '../seeded.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'
const SIZE = 12

/** Breadth first over the whole points of a square, never along a piece whose middle is inside a box. */
function bruteForce(
  boxes: readonly (readonly Box[])[],
  from: number[],
  to: number[],
  links: readonly number[][],
): number {
  const key = (p: number[]) => p.join()
  const best = new Map([[key(from), 0]])
  let front = [from]
  const inside = (d: number, x: number, y: number) =>
    boxes[d]!.some((b) => x > b.x0 && x < b.x1 && y > b.y0 && y < b.y1)
  for (let length = 0; front.length > 0; length++) {
    // links cost nothing, so they are followed at once
    for (let i = 0; i < front.length; i++) {
      const [d, x, y] = front[i]! as [number, number, number]
      for (const [a, b, lx, ly] of links as [number, number, number, number][]) {
        if (lx !== x || ly !== y || (d !== a && d !== b)) continue
        const other = [d === a ? b : a, x, y]
        if (!best.has(key(other))) {
          best.set(key(other), length)
          front.push(other)
        }
      }
    }
    const next: number[][] = []
    for (const [d, x, y] of front as [number, number, number][]) {
      for (const [dx, dy] of [
        [1, 0],
        [-1, 0],
        [0, 1],
        [0, -1],
      ] as const) {
        const there = [d, x + dx, y + dy]
        if (x + dx < 0 || y + dy < 0 || x + dx > SIZE || y + dy > SIZE || best.has(key(there))) continue
        if (inside(d, x + dx / 2, y + dy / 2)) continue
        best.set(key(there), length + 1)
        next.push(there)
      }
    }
    front = next
  }
  return best.get(key(to)) ?? Number.POSITIVE_INFINITY
}

const wall: Box[] = [
  { x0: -9, y0: -9, x1: 0, y1: 99 },
  { x0: SIZE, y0: -9, x1: 99, y1: 99 },
  { x0: 0, y0: -9, x1: SIZE, y1: 0 },
  { x0: 0, y0: SIZE, x1: SIZE, y1: 99 },
]
const at = fc.integer({ min: 0, max: SIZE })
const box = fc
  .tuple(
    fc.integer({ min: 0, max: SIZE - 1 }),
    fc.integer({ min: 0, max: SIZE - 1 }),
    fc.integer({ min: 1, max: 6 }),
    fc.integer({ min: 1, max: 6 }),
  )
  .map(([x, y, w, h]): Box => ({ x0: x, y0: y, x1: Math.min(SIZE, x + w), y1: Math.min(SIZE, y + h) }))

describe('shortest ways among boxes', () => {
  it('are as short as a search of every point finds, on one deck', () => {
    let round = 0
    fc.assert(
      fc.property(fc.array(box, { maxLength: 9 }), at, at, at, at, (boxes, x0, y0, x1, y1) => {
        const got = shortestWay([[...wall, ...boxes]], { deck: 0, x: x0, y: y0 }, { deck: 0, x: x1, y: y1 })
        const want = bruteForce([boxes], [0, x0, y0], [0, x1, y1], [])
        expect(got?.length ?? Number.POSITIVE_INFINITY).toBe(want)
        if (want > Math.abs(x0 - x1) + Math.abs(y0 - y1)) round++
        got?.spots.forEach((s, i) => {
          const before = got.spots[i - 1]
          if (before) expect(boxes.some((b) => crosses(before, s, b))).toBe(false)
        })
      }),
      { numRuns: LONG ? 20_000 : 400 },
    )
    // where nothing is ever in the way this would show nothing
    expect(round).toBeGreaterThan(40)
  })

  it('are so through passes too', () => {
    const link = fc.tuple(at, at)
    fc.assert(
      fc.property(
        fc.array(box, { maxLength: 5 }),
        fc.array(box, { maxLength: 5 }),
        fc.array(link, { maxLength: 3 }),
        fc.tuple(at, at, at, at),
        (lower, upper, passes, [x0, y0, x1, y1]) => {
          const links = passes.map(([x, y]) => ({ x, y, decks: [0, 1] as const }))
          const boxes = [
            [...wall, ...lower],
            [...wall, ...upper],
          ]
          const got = shortestWay(boxes, { deck: 0, x: x0, y: y0 }, { deck: 1, x: x1, y: y1 }, links)
          const want = bruteForce(
            [lower, upper],
            [0, x0, y0],
            [1, x1, y1],
            passes.map(([x, y]) => [0, 1, x, y]),
          )
          expect(got?.length ?? Number.POSITIVE_INFINITY).toBe(want)
        },
      ),
      { numRuns: LONG ? 10_000 : 200 },
    )
  })

  it('bend as little as they can', () => {
    const got = shortestWay(
      [
        [
          { x0: 4, y0: 1, x1: 6, y1: 3 },
          { x0: 8, y0: 5, x1: 9, y1: 7 },
        ],
      ],
      { deck: 0, x: 0, y: 0 },
      { deck: 0, x: 10, y: 10 },
    )
    expect(got?.spots.length).toBe(3)
  })
})
