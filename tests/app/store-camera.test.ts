import * as fc from 'fast-check'
import { describe, expect, it, vi } from 'vitest'
import { createCamera, eyeOf, FIRST, type Stand, sameStand, standOf, type Vector } from '../../src/store/camera.ts'

const number = (least: number, most: number) => fc.double({ min: least, max: most, noNaN: true })
const vector = (most: number) => fc.tuple(number(-most, most), number(-most, most), number(-most, most))

describe('a stand of the eye', () => {
  it('is the same from eye and target as to them, in every view', () => {
    fc.assert(
      fc.property(vector(900), vector(500), vector(300), number(50, 2000), (arm, target, middle, whole) => {
        fc.pre(Math.hypot(...arm) > 1)
        const eye: Vector = [target[0] + arm[0], target[1] + arm[1], target[2] + arm[2]]
        const back = eyeOf(standOf(eye, target, middle, whole)!, middle, whole)
        for (const i of [0, 1, 2] as const) {
          expect(back.eye[i]).toBeCloseTo(eye[i], 6)
          expect(back.target[i]).toBeCloseTo(target[i], 6)
        }
      }),
      { numRuns: 200 },
    )
  })

  it('looks the same way at another deck, from as far as that deck needs', () => {
    const stand = standOf([0, -30, 40], [0, 0, 0], [0, 0, 0], 100)!
    expect(stand).toEqual({ direction: [0, -0.6, 0.8], far: 0.5, target: [0, 0, 0] })
    expect(eyeOf(stand, [10, 20, 5], 300)).toEqual({ eye: [10, 20 - 90, 5 + 120], target: [10, 20, 5] })
  })

  it('is none where the eye sits on what it looks at', () => {
    expect(standOf([1, 2, 3], [1, 2, 3], [0, 0, 0], 100)).toBeUndefined()
    expect(standOf([Number.NaN, 2, 3], [1, 2, 3], [0, 0, 0], 100)).toBeUndefined()
    expect(standOf([0, 0, 1], [0, 0, 0], [0, 0, 0], 0)).toBeUndefined()
  })

  it('starts at length 1', () => {
    expect(Math.hypot(...FIRST.direction)).toBeCloseTo(1, 12)
  })
})

describe('views that share a camera', () => {
  it('hear of a turn once, and an echo of it goes no further', () => {
    const camera = createCamera()
    const heard = vi.fn()
    camera.store.subscribe(heard)
    const turned: Stand = { direction: [0, 0, 1], far: 1.2, target: [3, 0, 0] }
    camera.turn(turned)
    camera.turn({ ...turned, direction: [1e-7, 0, 1], far: 1.2 + 1e-8 })
    camera.turn(undefined)
    expect(heard).toHaveBeenCalledTimes(1)
    expect(camera.store.getState()).toEqual(turned)
    expect(sameStand(turned, { ...turned, far: 1.21 })).toBe(false)
    camera.whole()
    expect(camera.store.getState()).toEqual(FIRST)
  })
})
