import { describe, expect, it } from 'vitest'
import { emptyProject } from '../../src/model/edit.ts'
import {
  faultOf,
  firstLaid,
  levelled,
  matrixOf,
  type Pixel,
  scaleOf,
  type Underlay,
  underlayOf,
  withUnderlay,
} from '../../src/model/underlay.ts'
import fc from '../seeded.ts'

const project = emptyProject(100, 60)
const photo: Underlay = {
  picture: 'p1',
  file: 'plate.jpg',
  size: [800, 600],
  points: [
    [100, 500],
    [500, 500],
  ],
  distance: 80,
  at: [10, 5],
  angle: 0,
}
/** Where a pixel lies in the decks' frame, mm: its matrix as SVG applies it. */
function onDeck(u: Underlay, [x, y]: Pixel): readonly [number, number] {
  const [a, b, c, d, e, f] = matrixOf(u)
  return [a * x + c * y + e, b * x + d * y + f]
}
const near = (a: readonly [number, number], b: readonly [number, number]): void => {
  expect(Math.hypot(a[0] - b[0], a[1] - b[1])).toBeLessThan(1e-9)
}

describe('a photo under the plan', () => {
  it('lies with its first point where it is put, to the measured scale, its upper edge to the front', () => {
    expect(scaleOf(photo)).toBe(0.2)
    near(onDeck(photo, [100, 500]), [10, 5])
    near(onDeck(photo, [500, 500]), [90, 5])
    near(onDeck(photo, [100, 400]), [10, 25])
  })

  it('turns anticlockwise about its first point', () => {
    near(onDeck({ ...photo, angle: 90 }, [500, 500]), [10, 85])
    near(onDeck({ ...photo, angle: 90 }, [100, 400]), [-10, 5])
  })

  it('keeps the measured distance between the two points, however it lies', () => {
    const pixel = fc.tuple(fc.integer({ min: 0, max: 4000 }), fc.integer({ min: 0, max: 4000 }))
    fc.assert(
      fc.property(
        pixel,
        pixel,
        fc.integer({ min: 1, max: 900 }),
        fc.integer({ min: -180, max: 180 }),
        (a, b, distance, angle) => {
          fc.pre(Math.hypot(a[0] - b[0], a[1] - b[1]) >= 1)
          const u: Underlay = { ...photo, points: [a, b], distance, angle }
          const [p, q] = [onDeck(u, a), onDeck(u, b)]
          expect(Math.hypot(p[0] - q[0], p[1] - q[1])).toBeCloseTo(distance, 6)
          // a mirror image would have the other sign
          const [m0, m1, m2, m3] = matrixOf(u)
          expect(m0 * m3 - m1 * m2).toBeLessThan(0)
          const level = onDeck({ ...u, angle: levelled(u) }, b)
          expect(Math.min(Math.abs(level[0] - u.at[0]), Math.abs(level[1] - u.at[1]))).toBeLessThan(distance * 2e-5)
        },
      ),
    )
  })

  it('stands in the project under page, beside what else stands there, and goes again', () => {
    const noted = { ...project, page: { holds: { base: ['x'] }, mine: 1 } } as typeof project
    const laid = withUnderlay(noted, 'main', photo)
    expect(underlayOf(laid, 'main')).toEqual(photo)
    expect(underlayOf(laid, 'other')).toBeUndefined()
    expect(withUnderlay(laid, 'main', undefined)).toEqual(noted)
    expect(JSON.stringify(laid).length).toBeLessThan(1000)
  })

  it('passes over what it does not understand', () => {
    for (const strange of [
      null,
      3,
      {},
      { ...photo, points: [[1, 2]] },
      { ...photo, distance: 0 },
      { ...photo, size: ['a', 1] },
    ])
      expect(
        underlayOf({ ...project, page: { underlays: { main: strange } } } as typeof project, 'main'),
      ).toBeUndefined()
    expect(
      faultOf({
        ...photo,
        points: [
          [5, 5],
          [5, 5],
        ],
      }),
    ).toBe('points')
    expect(faultOf({ ...photo, distance: 0.01 })).toBe('distance')
  })

  it('first lies in the middle of the deck', () => {
    const laid = firstLaid('p', 'f', [900, 600], 100, [50, 30])
    near(onDeck(laid, [450, 300]), [50, 30])
    expect(faultOf(firstLaid('p', 'f', [1, 1], 100, [50, 30]))).toBeUndefined()
  })
})
