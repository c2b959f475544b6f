/** From where the 3D views look: one stand for all views that share it, so that they turn together. Plain numbers, no 3D library. */
import { createStore, type StoreApi } from 'zustand/vanilla'

export type Vector = readonly [number, number, number]

export interface Stand {
  /** From what is looked at to the eye, of length 1; x to the right, y to the front, z up. */
  readonly direction: Vector
  /** How far off the eye is, 1 = so far that the whole fits. */
  readonly far: number
  /** From the middle of the decks to the point that is looked at, mm. */
  readonly target: Vector
}

const length = ([x, y, z]: Vector): number => Math.hypot(x, y, z)

function unit(v: Vector): Vector | undefined {
  const l = length(v)
  return l > 0 && Number.isFinite(l) ? [v[0] / l, v[1] / l, v[2] / l] : undefined
}

/** From behind, from the left and from above, with a little air. */
export const FIRST: Stand = { direction: unit([-0.42, -0.72, 0.66])!, far: 1.06, target: [0, 0, 0] }

/** The stand of an eye (mm) that looks at a point, in a view whose middle and whole distance are known; undefined for no direction. */
export function standOf(eye: Vector, target: Vector, middle: Vector, whole: number): Stand | undefined {
  const arm: Vector = [eye[0] - target[0], eye[1] - target[1], eye[2] - target[2]]
  const direction = unit(arm)
  if (!direction || !(whole > 0)) return undefined
  return {
    direction,
    far: length(arm) / whole,
    target: [target[0] - middle[0], target[1] - middle[1], target[2] - middle[2]],
  }
}

/** Eye and target (mm) of that stand in a view of its own middle and distance. */
export function eyeOf(stand: Stand, middle: Vector, whole: number): { readonly eye: Vector; readonly target: Vector } {
  const { direction: d, far, target: t } = stand
  const target: Vector = [middle[0] + t[0], middle[1] + t[1], middle[2] + t[2]]
  const arm = far * whole
  return { eye: [target[0] + d[0] * arm, target[1] + d[1] * arm, target[2] + d[2] * arm], target }
}

/** A thousandth of a degree, of the distance, and of a millimetre: what rounding alone can make. */
const NEAR = 1e-5

const close = (a: Vector, b: Vector, by: number): boolean => a.every((v, i) => Math.abs(v - b[i]!) <= by)

export const sameStand = (a: Stand, b: Stand): boolean =>
  close(a.direction, b.direction, NEAR) && Math.abs(a.far - b.far) <= NEAR && close(a.target, b.target, 1e-3)

/** Straight from above (front at the top, as in the plan), from the front and from the right; the whole fits. */
export const STANDS = {
  // not quite upright, so that the front stays at the top
  above: { direction: unit([0, -1e-4, 1])!, far: 1.06, target: [0, 0, 0] },
  front: { direction: unit([0, 1, 0.12])!, far: 1.06, target: [0, 0, 0] },
  side: { direction: unit([1, 0, 0.12])!, far: 1.06, target: [0, 0, 0] },
} as const satisfies Record<string, Stand>

/** Of the view, top to bottom, degrees. */
export const FOV = 32

const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]

/**
 * How far off (mm) an eye must at least stand so that a box is seen whole from where the views begin and from every stand above, in a
 * picture as wide as high. `low` and `high` are the box's corners as seen from the point that is looked at, mm.
 */
export function wholeDistance(low: Vector, high: Vector): number {
  const slope = Math.tan((FOV * Math.PI) / 360)
  let whole = 0
  for (const { direction: d, far } of [FIRST, ...Object.values(STANDS)]) {
    const right = unit([-d[1], d[0], 0])!
    const up: Vector = [-d[2] * right[1], d[2] * right[0], d[0] * right[1] - d[1] * right[0]]
    for (const x of [low[0], high[0]])
      for (const y of [low[1], high[1]])
        for (const z of [low[2], high[2]]) {
          const corner: Vector = [x, y, z]
          const aside = Math.max(Math.abs(dot(corner, right)), Math.abs(dot(corner, up)))
          whole = Math.max(whole, (dot(corner, d) + aside / slope) / far)
        }
  }
  return whole
}

/** One press of a key or button: degrees, and the factor of the distance. */
export const TURN = 15
export const NEARER = 1 / 1.25
/** As near, as far and as low as a view goes; `far`: 1 = the whole fits. */
export const NEAREST = 1 / 6
export const FARTHEST = 3
export const LOWEST = 0.52 * Math.PI

/** The eye goes round what it looks at: `around` degrees anticlockwise from above, `up` degrees up. */
export function turnedBy(stand: Stand, around: number, up: number): Stand {
  const [x, y, z] = stand.direction
  const round = Math.atan2(y, x) + (around * Math.PI) / 180
  const polar = Math.min(LOWEST, Math.max(1e-4, Math.acos(Math.max(-1, Math.min(1, z))) - (up * Math.PI) / 180))
  const flat = Math.sin(polar)
  return { ...stand, direction: [flat * Math.cos(round), flat * Math.sin(round), Math.cos(polar)] }
}

/** `factor` under 1 is nearer. */
export const nearer = (stand: Stand, factor: number): Stand => ({
  ...stand,
  far: Math.min(FARTHEST, Math.max(NEAREST, stand.far * factor)),
})

export interface Camera {
  readonly store: StoreApi<Stand>
  /** A view that was turned by hand tells the others; what says the same again is not passed on, so no two views answer each other. */
  readonly turn: (stand: Stand | undefined) => void
  readonly whole: () => void
}

export function createCamera(): Camera {
  const store = createStore<Stand>(() => FIRST)
  return {
    store,
    turn: (stand) => {
      if (stand && !sameStand(stand, store.getState())) store.setState(stand)
    },
    whole: () => store.setState(FIRST),
  }
}
