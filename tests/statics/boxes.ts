/** The second method: turned boxes in space and the separating axis test (Gottschalk, Lin & Manocha 1996). It shares nothing with src/statics. */

type V = readonly [number, number, number]

export interface Turned {
  readonly centre: V
  readonly axes: readonly [V, V, V]
  readonly half: V
}

const dot = (a: V, b: V): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
const cross = (a: V, b: V): V => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]

/** Positive: the boxes overlap, and how deep at least; negative: apart, and how far at least. */
export function overlap(a: Turned, b: Turned): number {
  const d: V = [b.centre[0] - a.centre[0], b.centre[1] - a.centre[1], b.centre[2] - a.centre[2]]
  let least = Number.POSITIVE_INFINITY
  const axes = [...a.axes, ...b.axes, ...a.axes.flatMap((p) => b.axes.map((q) => cross(p, q)))]
  for (const axis of axes) {
    const length = Math.sqrt(dot(axis, axis))
    if (length < 1e-9) continue
    const reach = (t: Turned) => t.axes.reduce((s, u, i) => s + t.half[i]! * Math.abs(dot(axis, u)), 0)
    least = Math.min(least, (reach(a) + reach(b) - Math.abs(dot(axis, d))) / length)
  }
  return least
}

export const still = (x0: number, y0: number, z0: number, x1: number, y1: number, z1: number): Turned => ({
  centre: [(x0 + x1) / 2, (y0 + y1) / 2, (z0 + z1) / 2],
  axes: [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  half: [(x1 - x0) / 2, (y1 - y0) / 2, (z1 - z0) / 2],
})

/** A payload box [x,y,z,w,d,h] tilted about the axis at (·, ahead, height), then panned about the pivot. */
export function posed(
  [x, y, z, w, d, h]: readonly number[],
  at: { pivot: readonly [number, number]; ahead: number; height: number },
  pan: number,
  tilt: number,
): Turned {
  const [c, s] = [Math.cos((tilt * Math.PI) / 180), Math.sin((tilt * Math.PI) / 180)]
  const [C, S] = [Math.cos((pan * Math.PI) / 180), Math.sin((pan * Math.PI) / 180)]
  const vector = (v: V): V => {
    const t: V = [v[0], v[1] * c - v[2] * s, v[1] * s + v[2] * c]
    return [t[0] * C - t[1] * S, t[0] * S + t[1] * C, t[2]]
  }
  const middle: V = [x! + w! / 2, y! + d! / 2, z! + h! / 2]
  const tilted: V = [middle[0], middle[1] * c - middle[2] * s + at.ahead, middle[1] * s + middle[2] * c + at.height]
  return {
    centre: [tilted[0] * C - tilted[1] * S + at.pivot[0], tilted[0] * S + tilted[1] * C + at.pivot[1], tilted[2]],
    axes: [vector([1, 0, 0]), vector([0, 1, 0]), vector([0, 0, 1])],
    half: [w! / 2, d! / 2, h! / 2],
  }
}
