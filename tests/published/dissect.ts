/** Cuts a rectangle into pieces without waste, by straight cuts and by pinwheels that no straight cut can make. */
import type { Dice } from '../bench/random.ts'

export interface Rectangle {
  readonly x: number
  readonly y: number
  readonly w: number
  readonly h: number
}

/** Parts of `r`, none with a side under `least`; undefined where it is too small. */
function halves(d: Dice, r: Rectangle, least: number): Rectangle[] | undefined {
  const across = r.w > r.h || (r.w === r.h && d.whole(0, 1) === 0)
  const long = across ? r.w : r.h
  if (long < 2 * least) return undefined
  const at = d.whole(least, long - least)
  return across
    ? [
        { ...r, w: at },
        { ...r, x: r.x + at, w: r.w - at },
      ]
    : [
        { ...r, h: at },
        { ...r, y: r.y + at, h: r.h - at },
      ]
}

/** Four arms around a middle. */
function pinwheel(d: Dice, r: Rectangle, least: number): Rectangle[] | undefined {
  if (r.w < 3 * least || r.h < 3 * least) return undefined
  const x1 = d.whole(least, r.w - 2 * least)
  const x2 = d.whole(x1 + least, r.w - least)
  const y1 = d.whole(least, r.h - 2 * least)
  const y2 = d.whole(y1 + least, r.h - least)
  return [
    { x: 0, y: 0, w: x2, h: y1 },
    { x: x2, y: 0, w: r.w - x2, h: y2 },
    { x: x1, y: y2, w: r.w - x1, h: r.h - y2 },
    { x: 0, y: y1, w: x1, h: r.h - y1 },
    { x: x1, y: y1, w: x2 - x1, h: y2 - y1 },
  ].map((p) => ({ ...p, x: r.x + p.x, y: r.y + p.y }))
}

/** `n` pieces or as many as sides of `least` allow; the largest piece is cut next. */
export function dissect(d: Dice, sheet: Rectangle, n: number, least: number): Rectangle[] {
  const done: Rectangle[] = []
  const open = [sheet]
  while (open.length > 0 && done.length + open.length < n) {
    open.sort((a, b) => b.w * b.h - a.w * a.h)
    const r = open.shift()!
    const five = done.length + open.length + 5 <= n && d.whole(0, 2) === 0
    const parts = (five ? pinwheel(d, r, least) : undefined) ?? halves(d, r, least)
    if (parts) open.push(...parts)
    else done.push(r)
  }
  return [...done, ...open]
}
