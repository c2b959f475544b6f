/** Where an item's name is written on the plan, and in how many lines: inside its body, and clear of what is plugged into it. */

export interface Box {
  readonly x: number
  readonly y: number
  readonly w: number
  readonly h: number
}

export interface Label {
  readonly lines: readonly string[]
  /** Middle of the text, in the units of the boxes. */
  readonly x: number
  readonly y: number
  readonly upright: boolean
  /** Pixels. */
  readonly size: number
}

/** Sizes to try, and how wide a letter and how high a line of that size is at most, in pixels: common practice, no source. */
const SIZES = [11, 9.5] as const
export const LETTER = 0.565
const LINE = 1.15

/** The name in `n` lines, broken at its signs as evenly as can be. */
function broken(name: string, n: number): readonly string[] {
  const bits = name.match(/[^-_ .]+[-_ .]*|[-_ .]+/g) ?? [name]
  if (n === 1 || bits.length < n) return [name]
  let best: readonly string[] = [name]
  const longest = (lines: readonly string[]): number => Math.max(...lines.map((l) => l.length))
  const cut = (from: number, left: number, lines: readonly string[]): void => {
    if (left === 1) {
      const all = [...lines, bits.slice(from).join('')]
      if (longest(all) < longest(best)) best = all
      return
    }
    for (let to = from + 1; to <= bits.length - left + 1; to++)
      cut(to, left - 1, [...lines, bits.slice(from, to).join('').trimEnd()])
  }
  cut(0, n, [])
  return best
}

/** The room of so many lines, the longest of so many letters. */
function roomOf(
  lines: readonly string[],
  size: number,
  upright: boolean,
  scale: number,
): readonly [w: number, h: number] {
  const along = Math.max(...lines.map((l) => l.length)) * size * LETTER * scale
  const across = lines.length * size * LINE * scale
  return upright ? [across, along] : [along, across]
}

export function boxOfLabel({ lines, x, y, upright, size }: Label, scale: number): Box {
  const [w, h] = roomOf(lines, size, upright, scale)
  return { x: x - w / 2, y: y - h / 2, w, h }
}

const meet = (a: Box, b: Box): boolean => a.x < b.x + b.w && b.x < a.x + a.w && a.y < b.y + b.h && b.y < a.y + a.h

/** The middle first, then nearer and nearer to the ends. */
const WHERE = [0.5, 0.32, 0.68, 0.2, 0.8]

/** `scale`: units of the boxes for a pixel. Undefined: there is no room for it. */
export function labelOf(name: string, body: Box, covered: readonly Box[], scale: number): Label | undefined {
  // What is written level is easier to read: upright only where it does not go in otherwise.
  for (const size of SIZES)
    for (const upright of [false, true])
      for (const n of [1, 2, 3]) {
        const lines = broken(name, n)
        if (lines.length !== n) continue
        const [w, h] = roomOf(lines, size, upright, scale)
        if (w > body.w || h > body.h) continue
        for (const fx of WHERE)
          for (const fy of WHERE) {
            const x = body.x + w / 2 + (body.w - w) * fx
            const y = body.y + h / 2 + (body.h - h) * fy
            if (!covered.some((c) => meet(c, { x: x - w / 2, y: y - h / 2, w, h })))
              return { lines, x, y, upright, size }
          }
      }
  return undefined
}
