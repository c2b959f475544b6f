/** Dashes of a line in the plane or in space, for what is drawn as not there. */

/** A line in pieces: `on` drawn, `off` not, and so on. Where the last piece of a closed line is cut off does not matter. */
export function dashed<P extends readonly number[]>(line: readonly P[], on: number, off: number): P[][] {
  const between = (a: P, b: P, t: number): P => a.map((v, k) => v + (b[k]! - v) * t) as readonly number[] as P
  const pieces: P[][] = []
  let drawing = true
  let left = on
  let piece: P[] = line[0] ? [line[0]] : []
  for (let i = 0; i + 1 < line.length; i++) {
    let a = line[i]!
    const b = line[i + 1]!
    let rest = Math.hypot(...b.map((v, k) => v - a[k]!))
    while (rest > left) {
      a = between(a, b, left / rest)
      rest -= left
      if (drawing) pieces.push([...piece, a])
      drawing = !drawing
      left = drawing ? on : off
      piece = [a]
    }
    left -= rest
    piece.push(b)
  }
  if (drawing && piece.length > 1) pieces.push(piece)
  return pieces
}
