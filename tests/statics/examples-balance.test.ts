/** Balance against worked examples of textbooks and course notes; sources in tests/fixtures/examples-statics.json. */
import { balanceOf, GRAVITY, type Ground, LEVEL } from '../../src/statics/index.ts'
import { hull, margin, standsOn } from '../../src/statics/tip.ts'
import { centreOfGravity, LOADINGS } from '../../src/statics/weights.ts'
import { type Example, hold } from '../examples.ts'
import file from '../fixtures/examples-statics.json'
import { box, contact, placed, problemOf, weight } from './kit.ts'

const all = file as unknown as readonly Example[]

type Spot = readonly [x: number, y: number, z: number]
/** Half of what a robot stands on, to a side on which nothing tips here, mm. */
const WIDE = 9000
/** Bodies are cubes this small, so that they are points, mm. */
const DOT = 2

/** A robot of points: the first is the chassis, each other a dot on a deck of its own. mm and grams. */
function robot(
  points: readonly (readonly [grams: number, at: Spot])[],
  [x0, y0, x1, y1]: readonly number[],
  later = 0,
  ground: Ground = LEVEL,
) {
  const [first, ...rest] = points
  const p = problemOf({
    decks: [[0, [0, 0, 1]] as const, ...rest].map(([, [, , z]], i) => ({
      id: `d${i}`,
      z: z - DOT / 2,
      thickness: 1,
      outline: { rect: [0, 0, 10, 10] },
    })),
    chassis: {
      contact: [
        [x0, y0],
        [x1, y0],
        [x1, y1],
        [x0, y1],
      ],
      mass: first![0],
      centre: first![1],
    },
    footprints: rest.map(([mass], i) => box(`f${i}`, DOT, DOT, DOT, { mass })),
    items: rest.map(([mass], i) => ({
      id: `i${i}`,
      footprint: `f${i}`,
      ...(i >= rest.length - later ? { later: true, laterMass: mass } : {}),
    })),
  })
  const at = rest.map(([, [x, y]], i) => [`i${i}`, [`d${i + 1}`, x - DOT / 2, y - DOT / 2]] as const)
  return balanceOf(p, placed(p, Object.fromEntries(at)), ground)!
}
const EMPTY = LOADINGS.findIndex((l) => l.stacks === 'lightest' && !l.later)

/** Metres as mm; a hole is a mass below nothing, which only the sum itself takes. */
hold<{ masses: readonly number[]; at: readonly Spot[] }>(all, 'gravity', ({ masses, at }) => {
  const mm = at.map(([x, y, z]): Spot => [1000 * x, 1000 * y, 1000 * z])
  const plain = centreOfGravity(
    masses.map((m, i) => weight(...mm[i]!, m)),
    LOADINGS[EMPTY]!,
  )!.centre
  const centre = masses.some((m) => m < 0)
    ? plain
    : robot(
        masses.map((m, i) => [m, mm[i]!]),
        [-WIDE, -WIDE, WIDE, WIDE],
      ).loadings[EMPTY]!.gravity.centre
  const same = Math.hypot(centre.x - plain.x, centre.y - plain.y, centre.z - plain.z) < 1e-6
  return { x: same ? centre.x / 1000 : Number.NaN, y: centre.y / 1000, z: centre.z / 1000 }
})

hold<{ half: number; height: number }>(all, 'tip', ({ half, height }) => {
  const b = 1000 * half
  const { loadings, worstTip } = robot([[500, [0, 0, 1000 * height]]], [-b, -b, b, b])
  const { forward, back, left, right } = loadings[EMPTY]!.tip
  const angles = [forward, back, left, right, loadings[EMPTY]!.worst.angle]
  return { degrees: angles.every((a) => Math.abs(a - worstTip) < 1e-9) ? worstTip : Number.NaN }
})

/** The line is the nearest edge of a wide triangle of contact that the point is inside of. */
hold<{ line: Spot; at: readonly [number, number] }>(all, 'margin', ({ line: [a, b, c], at: [x, y] }) => {
  const length = Math.hypot(a, b)
  const value = (a * x + b * y + c) / length
  const n = { x: (Math.sign(value) * a) / length, y: (Math.sign(value) * b) / length }
  const foot = { x: x - n.x * Math.abs(value), y: y - n.y * Math.abs(value) }
  const corners = [
    [foot.x - 3000 * n.y, foot.y + 3000 * n.x],
    [foot.x + 3000 * n.y, foot.y - 3000 * n.x],
    [foot.x + 3000 * n.x, foot.y + 3000 * n.y],
  ].map(([u, v]) => contact(u!, v!, 0, 0)[0]!)
  return { distance: margin(standsOn(corners), { x, y }) }
})

hold<{ points: readonly (readonly [number, number])[] }>(all, 'hull', ({ points }) => {
  const corners = hull(points.map(([x, y]) => ({ x, y }))).sort((p, q) => p.x - q.x || p.y - q.y)
  return { x: corners.map((p) => p.x), y: corners.map((p) => p.y) }
})

interface Stood {
  /** Of the weights, or in kg, which makes newtons of the answer. */
  readonly weights?: readonly number[]
  readonly kg?: readonly number[]
  /** Along the vehicle, from the back to the front. */
  readonly at: readonly number[]
  readonly height?: number
  readonly stands: readonly [back: number, front: number]
  readonly slope?: number
}
/** What rests on the front and on the back, nose uphill; and the same of a vehicle turned to stand across, on its tracks. */
function rests({ weights, kg, at, height = 0.5, stands: [b, f], slope = 0 }: Stood) {
  const masses = kg ?? weights ?? []
  // mm, so that everything fits into a file
  const scale = 1000 / Math.max(1, f - b)
  const along = robot(
    masses.map((m, i) => [m, [0, scale * at[i]!, scale * height]]),
    [-WIDE, scale * b, WIDE, scale * f],
    0,
    { slope, towards: { x: 0, y: -1 } },
  ).loadings[EMPTY]!
  const across = robot(
    masses.map((m, i) => [m, [scale * at[i]!, 0, scale * height]]),
    [scale * b, -WIDE, scale * f, WIDE],
    0,
    { slope, towards: { x: -1, y: 0 } },
  ).loadings[EMPTY]!
  const unit = kg ? 1000 : 1000 / GRAVITY
  const presses = unit * (along.tracks.leftForce + along.tracks.rightForce)
  const front = presses * along.tracks.front
  const same = Math.abs(unit * across.tracks.rightForce - front) < 1e-6 * presses
  return { front: same ? front : Number.NaN, back: presses * along.tracks.back }
}
hold<Stood>(all, 'level', rests)
hold<Stood>(all, 'slope', rests)

hold<{ kg: number; slope: number }>(all, 'press', ({ kg, slope }) => {
  const { front, back } = rests({ kg: [kg], at: [1], stands: [0, 2], slope })
  return { newtons: front + back }
})

interface Toppling {
  readonly stands: readonly [back: number, front: number]
  readonly weights: readonly (readonly [weight: number, at: number])[]
  /** One of the two; the other is asked for. */
  readonly load?: number
  readonly at?: number
}
/** The load, or how far out it is, at which the robot tips on level ground, by halving; the load is there or not (`later`). */
hold<Toppling>(all, 'topples', ({ stands: [b, f], weights, load, at }) => {
  const scale = 1000 / Math.max(1, f - b)
  const tips = (grams: number, y: number): boolean => {
    const points = [...weights, [grams, y] as const].map(([m, d]) => [m, [0, scale * d, 10] as Spot] as const)
    return robot(points, [-WIDE, scale * b, WIDE, scale * f], 1).worstTip < 0
  }
  let lo = load === undefined ? 0 : f
  let hi = load === undefined ? 1e5 : f + 5
  for (let i = 0; i < 40 && tips(load ?? hi, at ?? hi); i++) {
    const mid = (lo + hi) / 2
    if (tips(load ?? mid, at ?? mid)) hi = mid
    else lo = mid
  }
  return { load: hi, at: hi }
})
