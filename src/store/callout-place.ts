/** Where the note on what is carried stands: beside the carried body, never on it. Pixels, y downwards, from the picture's upper left. */

export interface Pixels {
  readonly x: number
  readonly y: number
  readonly w: number
  readonly h: number
}

export interface Side {
  /** The note's upper left corner; with `above` its lower left, for how high it becomes is not known before. */
  readonly x: number
  readonly y: number
  readonly above: boolean
}

/** As wide as the note may become, and as high as it mostly is. */
export const NOTE = { w: 216, h: 72 } as const
const AIR = 10

/**
 * Under the body where the picture has room there, else over it, else beside it; where it has room on no side, under it and out of the
 * picture. The picture is as large as `room` says.
 */
export function besideBody(body: Pixels, room: { readonly w: number; readonly h: number }): Side {
  // A body that hangs out of the picture is kept clear of all the same.
  const x = Math.max(0, Math.min(body.x, room.w - NOTE.w))
  const y = Math.max(0, Math.min(body.y, room.h - NOTE.h))
  const under = Math.max(0, body.y + body.h + AIR)
  const over = Math.min(room.h, body.y - AIR)
  const right = Math.max(0, body.x + body.w + AIR)
  const left = Math.min(room.w, body.x - AIR) - NOTE.w
  if (under + NOTE.h <= room.h) return { x, y: under, above: false }
  if (over - NOTE.h >= 0) return { x, y: over, above: true }
  if (right + NOTE.w <= room.w) return { x: right, y, above: false }
  if (left >= 0) return { x: left, y, above: false }
  return { x, y: under, above: false }
}
