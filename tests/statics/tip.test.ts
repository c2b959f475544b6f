/** Centre of gravity, tip-over and track load against published worked examples, and against methods of another kind. */
import { describe, expect, it } from 'vitest'
import { mm } from '../../solver/index.ts'
import {
  hull,
  inside,
  margin,
  onSlope,
  type Point2,
  standsOn,
  tipAngle,
  tipTowards,
  worstTip,
} from '../../src/statics/tip.ts'
import { GRAVITY, trackLoad } from '../../src/statics/tracks.ts'
import { centreOfGravity, type Gravity, LOADINGS } from '../../src/statics/weights.ts'
import { worstOfAll, worstShare } from '../../src/statics/worst.ts'
import fc from '../seeded.ts'
import { contact, gravity, published, weight } from './kit.ts'

const EMPTY = LOADINGS[0]!
const centre = (...w: ReturnType<typeof weight>[]) => centreOfGravity(w, EMPTY)!.centre

describe('the centre of gravity', () => {
  it('is where published examples have it', () => {
    const balls = centre(weight(0.4, 0.7, 0, 1.2), weight(-0.4, 0.7, 0, 2.1), weight(0.1, 0.2, 0, 1.7))
    const [x, y] = published<[number, number]>('cg-three-balls')
    expect([balls.x, balls.y]).toEqual([expect.closeTo(x, 6), expect.closeTo(y, 6)])

    const three = centre(weight(0, 0, 0, 3), weight(2, 1, 0, 4), weight(1, 2, 0, 8))
    const [a, b] = published<[number, number]>('cg-hrw-9-2')
    expect([three.x, three.y]).toEqual([expect.closeTo(a, 4), expect.closeTo(b, 4)])

    const apex = weight(0.5, Math.sqrt(3) / 2, 0, 3)
    const triangle = centre(weight(0, 0, 0, 1), weight(1, 0, 0, 2), apex)
    const [p, q] = published<[number, number]>('cg-triangle')
    expect([triangle.x, triangle.y]).toEqual([expect.closeTo(p, 4), expect.closeTo(q, 4)])

    const deck = centre(weight(0, 0, 10, 200), weight(60, 0, 30, 100), weight(0, 20, 30, 100))
    expect([deck.x, deck.y, deck.z]).toEqual(published('cg-deck-3d'))
  })
})

const square = (half: number) => standsOn(contact(-half, -half, half, half))

describe('tipping over', () => {
  it('takes the half base, as published examples do', () => {
    expect(tipTowards(square(1), gravity(0, 0, 1), { x: 1, y: 0 })).toBeCloseTo(published('tip-box-square'), 2)
    expect(tipTowards(square(1), gravity(0, 0, 4), { x: 1, y: 0 })).toBeCloseTo(published('tip-box-tall'), 2)
    // half width h/4, centre of gravity at h/2
    const incline = published<{ tip: number }>('tip-wolfson-12-48')
    expect(tipTowards(square(25), gravity(0, 0, 50), { x: 0, y: -1 })).toBeCloseTo(incline.tip, 2)
    // track 150, height 60: tan = SSF
    const { ssf, tip_deg } = published<{ ssf: number; tip_deg: number }>('ssf-example')
    const wide = tipTowards(standsOn(contact(0, 0, 150, 400)), gravity(75, 200, 60), { x: 1, y: 0 })
    expect(wide).toBeCloseTo(tip_deg, 3)
    expect(Math.tan((wide * Math.PI) / 180)).toBeCloseTo(ssf, 6)
  })

  it('has the margins of the examples, level and on a slope', () => {
    const edges = standsOn(contact(-100, -80, 100, 80))
    expect(margin(edges, { x: 20, y: -10 })).toBe(published('stability-margin-example'))
    const shifted = onSlope({ x: 0, y: 0, z: 60 }, 15, { x: 1, y: 0 })
    expect(shifted.x).toBeCloseTo(published('slope-shift-example'), 3)
    expect(margin(edges, shifted)).toBeCloseTo(80, 9)
    expect(margin(edges, { x: 130, y: 0 })).toBeCloseTo(-30, 9)
  })

  it('stands at the limit, and no longer just beyond it', () => {
    const edges = square(50)
    const g = gravity(10, 0, 70)
    const angle = tipTowards(edges, g, { x: 1, y: 0 })
    expect(margin(edges, onSlope(g.centre, angle - 0.01, { x: 1, y: 0 }))).toBeGreaterThan(0)
    expect(margin(edges, onSlope(g.centre, angle + 0.01, { x: 1, y: 0 }))).toBeLessThan(0)
  })

  it('says so where the centre of gravity is outside', () => {
    expect(worstTip(square(50), gravity(60, 0, 40))?.angle).toBeCloseTo((-Math.atan(10 / 40) * 180) / Math.PI, 9)
    expect(tipTowards(square(50), gravity(60, 0, 40), { x: 0, y: 1 })).toBeLessThan(0)
  })

  it('has no edge to tip about where the contact has no area', () => {
    expect(
      standsOn([
        { x: mm(0), y: mm(0) },
        { x: mm(9), y: mm(0) },
      ]),
    ).toEqual([])
    expect(worstTip([], gravity(0, 0, 1))).toBeUndefined()
  })
})

const coordinate = fc.integer({ min: -200, max: 200 })
const polygon = fc
  .array(fc.record({ x: coordinate, y: coordinate }), { minLength: 3, maxLength: 9 })
  .filter((points) => hull(points).length > 2)
const asContact = (points: readonly Point2[]) => points.map((p) => ({ x: mm(p.x), y: mm(p.y) }))

/** The second method: turn the rigid body about the edge bit by bit; it tips once its centre of gravity is at its highest. */
function tipByTurning(from: Point2, to: Point2, g: Gravity): number {
  const length = Math.hypot(to.x - from.x, to.y - from.y)
  const axis = { x: (to.x - from.x) / length, y: (to.y - from.y) / length }
  const height = (angle: number): number => {
    // Rodrigues' rotation of r about the axis, which lies in the ground; its z is the height
    const r = { x: g.centre.x - from.x, y: g.centre.y - from.y, z: g.centre.z }
    return r.z * Math.cos(angle) + (axis.x * r.y - axis.y * r.x) * Math.sin(angle)
  }
  let lo = -Math.PI / 2
  let hi = Math.PI / 2
  for (let i = 0; i < 100; i++) {
    const a = lo + (hi - lo) / 3
    const b = hi - (hi - lo) / 3
    if (height(a) < height(b)) lo = a
    else hi = b
  }
  return (lo * 180) / Math.PI
}

describe('tipping over, against other methods', () => {
  it('happens where turning about the edge lifts the centre of gravity to its highest', () => {
    fc.assert(
      fc.property(polygon, coordinate, coordinate, fc.integer({ min: 1, max: 300 }), (points, x, y, z) => {
        const g = gravity(x, y, z)
        for (const e of standsOn(asContact(points))) {
          expect(tipAngle(inside(e, g.centre), z)).toBeCloseTo(tipByTurning(e.from, e.to, g), 4)
        }
      }),
    )
  })

  it('is worst where a sweep through all directions has it, and the direction stands beside it', () => {
    fc.assert(
      fc.property(polygon, fc.integer({ min: 1, max: 300 }), (points, z) => {
        const edges = standsOn(asContact(points))
        const corners = edges.map((e) => e.from)
        const mean = (k: 'x' | 'y') => corners.reduce((s, p) => s + p[k], 0) / corners.length
        const g = gravity(mean('x'), mean('y'), z)
        const worst = worstTip(edges, g)!
        expect(tipTowards(edges, g, worst.towards)).toBeCloseTo(worst.angle, 6)
        for (let a = 0; a < 360; a += 3) {
          const u = { x: Math.cos((a * Math.PI) / 180), y: Math.sin((a * Math.PI) / 180) }
          expect(tipTowards(edges, g, u)).toBeGreaterThan(worst.angle - 1e-9)
        }
      }),
      { numRuns: 40 },
    )
  })

  it('does not change when the whole robot is turned, and grows with a wider track', () => {
    const masses = fc.array(fc.record({ x: coordinate, y: coordinate, z: fc.integer({ min: 1, max: 200 }) }), {
      minLength: 1,
      maxLength: 5,
    })
    fc.assert(
      fc.property(polygon, masses, fc.integer({ min: 1, max: 80 }), (points, at, wider) => {
        const w = at.map((p, i) => weight(p.x, p.y, p.z, 10 + i, 40 + 7 * i, i))
        const turn = (p: Point2) => ({ x: -p.y, y: p.x })
        const now = worstOfAll(standsOn(asContact(points)), w)!.angle
        const turned = worstOfAll(
          standsOn(asContact(points.map(turn))),
          w.map((q) => ({ ...q, at: { ...q.at, ...turn(q.at) } })),
        )!.angle
        expect(turned).toBeCloseTo(now, 9)
        const g = centreOfGravity(w, EMPTY)!
        const narrow = contact(-100, -60, 100, 60)
        const wide = contact(-100 - wider, -60, 100 + wider, 60)
        for (const u of [
          { x: 1, y: 0 },
          { x: -1, y: 0 },
        ]) {
          // over the back or front edge already, anywhere that it may be: no wider track helps
          if (margin(standsOn(narrow), g.centre) < g.spread) return
          expect(tipTowards(standsOn(wide), g, u)).toBeGreaterThan(tipTowards(standsOn(narrow), g, u))
        }
      }),
    )
  })
})

describe('the worst of all loadings', () => {
  const range = fc
    .tuple(coordinate, coordinate, fc.integer({ min: 1, max: 200 }), fc.nat(300), fc.nat(300), fc.nat(30))
    .map(([x, y, z, a, b, reach]) => weight(x, y, z, Math.min(a, b), Math.max(a, b), reach))

  it('is the worst of every choice of masses, tried one by one', () => {
    fc.assert(
      fc.property(fc.array(range, { minLength: 1, maxLength: 6 }), (ranges) => {
        const weights = [weight(3, -4, 30, 500), ...ranges]
        const edges = standsOn(contact(-90, -70, 90, 70))
        let tip = Number.POSITIVE_INFINITY
        let share = 0
        for (let bits = 0; bits < 1 << ranges.length; bits++) {
          const chosen = weights.map((w, i) => {
            const m = i > 0 && bits & (1 << (i - 1)) ? w.mass[1] : w.mass[0]
            return { ...w, mass: [m, m] as const }
          })
          const g = centreOfGravity(chosen, EMPTY)!
          tip = Math.min(tip, worstTip(edges, g)!.angle)
          share = Math.max(share, (90 + Math.abs(g.centre.x) + g.spread) / 180)
        }
        expect(worstOfAll(edges, weights)!.angle).toBeCloseTo(tip, 6)
        expect(worstShare(edges, weights)!.share).toBeCloseTo(share, 9)
      }),
    )
  })

  it('can be a mixed one, which neither all light nor all heavy shows', () => {
    const weights = [weight(0, 0, 20, 500), weight(80, 0, 90, 0, 300), weight(-80, 0, 90, 0, 300)]
    const edges = square(90)
    const even = LOADINGS.map((l) => worstTip(edges, centreOfGravity(weights, l)!)!.angle)
    expect(worstOfAll(edges, weights)!.angle).toBeLessThan(Math.min(...even) - 4)
  })
})

describe('the load on the tracks', () => {
  it('keeps the balance of forces and of moments about both tracks', () => {
    fc.assert(
      fc.property(
        coordinate,
        coordinate,
        fc.integer({ min: 1, max: 200 }),
        fc.integer({ min: 0, max: 40 }),
        (x, y, z, slope) => {
          const edges = standsOn(contact(-120, -90, 140, 90))
          const g = gravity(x, y, z, 1700)
          const load = trackLoad(edges, g, { slope, towards: { x: 1, y: 0 } })
          // forces across and along the surface, by components of the weight, moments about the left line of contact
          const weightForce = 1.7 * GRAVITY
          const across = weightForce * Math.cos((slope * Math.PI) / 180)
          const along = weightForce * Math.sin((slope * Math.PI) / 180)
          expect(load.leftForce + load.rightForce).toBeCloseTo(across, 9)
          expect(load.rightForce * 260).toBeCloseTo(across * (x + 120) + along * z, 6)
          expect(load.left + load.right).toBeCloseTo(1, 12)
          expect(load.front + load.back).toBeCloseTo(1, 12)
        },
      ),
    )
  })

  it('lifts a track where the robot tips sideways', () => {
    const edges = square(50)
    const g = gravity(0, 0, 100)
    const towards = { x: 1, y: 0 }
    const angle = tipTowards(edges, g, towards)
    expect(trackLoad(edges, g, { slope: angle, towards }).left).toBeCloseTo(0, 9)
    expect(trackLoad(edges, g, { slope: angle + 1, towards }).left).toBeLessThan(0)
  })
})
