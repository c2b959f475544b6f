/**
 * Where texts stand on the plan, so that none lies on another: marks of holds and distances where they must be, names clear of both, and
 * wires' numbers along their wires clear of all. Boxes are in the deck's millimetres, y to the front; `scale` is millimetres for one pixel.
 */
import { type Placement, type Problem, turnedSize } from '../../solver/index.ts'
import { type Box, boxOfLabel, type Label, LETTER, labelOf } from './item-label.ts'
import type { Distance } from './measure.ts'
import { called, inMm } from './sentences.ts'

export const meetArea = (a: Box, b: Box): number =>
  Math.max(0, Math.min(a.x + a.w, b.x + b.w) - Math.max(a.x, b.x)) *
  Math.max(0, Math.min(a.y + a.h, b.y + b.h) - Math.max(a.y, b.y))

/** The first of these that lies on nothing that is taken, or the one that hides least of it. */
export function leastHiding<T>(places: readonly [T, ...T[]], boxAt: (place: T) => Box, taken: readonly Box[]): T {
  let best: { readonly place: T; readonly hides: number } | undefined
  for (const place of places) {
    const box = boxAt(place)
    const hides = taken.reduce((sum, other) => sum + meetArea(box, other), 0)
    if (!best || hides < best.hides) best = { place, hides }
    if (hides === 0) break
  }
  return best!.place
}

const bodyBox = (problem: Problem, p: Placement): Box | undefined => {
  const footprint = problem.items[p.item]?.footprint
  if (!footprint) return undefined
  const { w, h } = turnedSize(footprint.width, footprint.depth, p.turn)
  return { x: p.at.x / 1000, y: p.at.y / 1000, w: w / 1000, h: h / 1000 }
}

/** What is said of a hold beside its mark. Pixels from the mark's middle, y down, of the foot of its letters. */
export interface Said {
  readonly text: string
  readonly x: number
  readonly y: number
  readonly anchor: 'start' | 'middle' | 'end'
}

/** The mark of an item that is held, in its body's upper right corner. */
export interface HoldMark {
  readonly placement: Placement
  readonly id: string
  readonly x: number
  readonly y: number
  /** What the hold costs, where that stands beside it. */
  readonly said: Said | undefined
}

/** From left to right, in the deck's mm. */
export interface Span {
  readonly from: number
  readonly to: number
}

/** Pixels: of the mark's disc with its rim, where its sentence begins, and the size of that. */
const DISC = 10
const SAID = { at: 13, foot: 4, under: 22 } as const
export const SAID_SIZE = 11
const widthSaid = (text: string): number => text.length * SAID_SIZE * LETTER

/** To the side where there is more of the deck, or to the other, or under the mark: so that all of it is seen. */
function saidAt(text: string, x: number, left: boolean, seen: Span | undefined, scale: number): Said {
  const w = widthSaid(text)
  const end: Said = { text, x: -SAID.at, y: SAID.foot, anchor: 'end' }
  const start: Said = { text, x: SAID.at, y: SAID.foot, anchor: 'start' }
  const sides = left ? [end, start] : [start, end]
  if (!seen) return sides[0]!
  const [before, after] = [(x - seen.from) / scale, (seen.to - x) / scale]
  const fits = sides.find((s) => SAID.at + w <= (s === end ? before : after))
  return fits ?? { text, x: Math.max(Math.min(0, after - w / 2), w / 2 - before), y: SAID.under, anchor: 'middle' }
}

/** `middle`: of the deck, Um; `seen`: how much of it the window shows. */
export function holdMarks(
  problem: Problem,
  placements: readonly Placement[],
  deck: number,
  holds: readonly string[],
  scale: number,
  middle: number,
  selected: string | undefined,
  costs: ReadonlyMap<string, string> | undefined,
  seen?: Span,
): HoldMark[] {
  return placements.flatMap((placement): HoldMark[] => {
    const id = problem.items[placement.item]?.id
    const body = bodyBox(problem, placement)
    if (id === undefined || !body || placement.deck !== deck || !holds.includes(id)) return []
    const right = body.x + body.w
    const [x, y] = [right - 6 * scale, body.y + body.h - 6 * scale]
    const text = selected === id ? costs?.get(id) : undefined
    const said = text === undefined ? undefined : saidAt(text, x, right * 1000 > middle, seen, scale)
    return [{ placement, id, x, y, said }]
  })
}

export const holdBoxes = (marks: readonly HoldMark[], scale: number): Box[] =>
  marks.flatMap(({ x, y, said }): Box[] => {
    const disc = { x: x - DISC * scale, y: y - DISC * scale, w: 2 * DISC * scale, h: 2 * DISC * scale }
    if (said === undefined) return [disc]
    const w = widthSaid(said.text)
    const from = said.x - (said.anchor === 'start' ? 0 : said.anchor === 'end' ? w : w / 2)
    return [disc, { x: x + from * scale, y: y - (said.y + 3) * scale, w: w * scale, h: 14 * scale }]
  })

/** How far it is to a neighbour, as it is written over the middle of the way. */
export interface GapText {
  readonly text: string
  readonly x: number
  /** Of the foot of its letters. */
  readonly y: number
  readonly size: number
}

export function gapText({ from, to, gap }: Distance, scale: number): GapText {
  const size = 10.5 * scale
  const [x, y] = [(from.x + to.x) / 2000, (from.y + to.y) / 2000]
  return { text: inMm(gap).replace('-', '−'), x, y: y + size * (1 / 1.6 - 1 / 3), size }
}

export const gapBoxes = (distances: readonly Distance[], scale: number): Box[] =>
  distances
    .filter((d) => d.item !== undefined)
    .map((d) => {
      const { text, x, y, size } = gapText(d, scale)
      const w = text.length * size * 0.6
      return { x: x - w / 2, y: y - 0.1 * size, w, h: size }
    })

export interface NameText {
  readonly item: number
  readonly label: Label
  readonly box: Box
}

/** Names of a deck's items; one that has no room clear of `taken` and of what is plugged in is left away. */
export function nameTexts(
  problem: Problem,
  placements: readonly Placement[],
  deck: number,
  scale: number,
  taken: readonly Box[],
): NameText[] {
  const here = placements.filter((p) => p.deck === deck)
  return here.flatMap((p): NameText[] => {
    const id = problem.items[p.item]?.id
    const body = bodyBox(problem, p)
    const guests = here.filter((g) => g.host === p.item).flatMap((g) => bodyBox(problem, g) ?? [])
    const label = id !== undefined && body && labelOf(called(id), body, [...guests, ...taken], scale)
    return label ? [{ item: p.item, label, box: boxOfLabel(label, scale) }] : []
  })
}

/** Pixels from a deck's front edge to the foot of its caption, and the size of that. */
export const CAPTION = { over: 6, size: 11 } as const

/** `at`: the deck. */
export const captionBox = (text: string, at: Box, scale: number): Box => ({
  x: at.x,
  y: at.y + at.h,
  w: text.length * CAPTION.size * LETTER * scale,
  h: (CAPTION.over + CAPTION.size) * scale,
})

/** Pixels between an outline and a name beside it. */
const BESIDE = 3

/** Names of outlines that stand among the bodies, clear of what is `taken` and of one another: inside, or else beside them. */
export function outlineTexts(
  outlines: readonly { readonly name: string; readonly box: Box }[],
  taken: readonly Box[],
  scale: number,
): { readonly name: string; readonly label: Label }[] {
  const all = [...taken]
  return outlines.map(({ name, box }) => {
    const here: Label = { lines: [name], x: box.x + box.w / 2, y: box.y + box.h / 2, upright: false, size: 11 }
    const size = boxOfLabel(here, scale)
    const [dx, dy] = [(box.w + size.w) / 2 + BESIDE * scale, (box.h + size.h) / 2 + BESIDE * scale]
    const label =
      labelOf(name, box, all, scale) ??
      leastHiding(
        [
          { ...here, y: here.y + dy },
          { ...here, y: here.y - dy },
          { ...here, x: here.x + dx },
          { ...here, x: here.x - dx },
          here,
        ],
        (l) => boxOfLabel(l, scale),
        all,
      )
    all.push(boxOfLabel(label, scale))
    return { name, label }
  })
}

type Spot = { readonly x: number; readonly y: number }

/** Along a piece, as parts of it: its middle first. */
const ALONG = [0.5, 0.38, 0.62, 0.26, 0.74, 0.14, 0.86]

/** Places for a wire's number: the middle of its longest piece first, then others along its pieces. Um to mm. */
function spotsOn(points: readonly Spot[]): Spot[] {
  const mm = points.map(({ x, y }) => ({ x: x / 1000, y: y / 1000 }))
  const pieces = mm
    .slice(1)
    .map((b, i) => ({ a: mm[i]!, b, long: Math.abs(mm[i]!.x - b.x) + Math.abs(mm[i]!.y - b.y) }))
  return pieces
    .sort((p, q) => q.long - p.long)
    .flatMap(({ a, b }) => ALONG.map((t) => ({ x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t })))
}

/** Numbers on names hide less of what matters than on figures, or on one another. */
const NAMES_WEIGH = 0.25

/**
 * Where each wire's number stands, one for each of `strokes` (points in Um), with `wide` pixels from its circle's left to its tag's right:
 * clear of names, figures and one another, or where it hides least.
 */
export function numberSpots(
  strokes: readonly { readonly points: readonly Spot[]; readonly wide: number }[],
  fixed: readonly Box[],
  names: readonly Box[],
  scale: number,
): Spot[] {
  const taken = [...fixed]
  return strokes.map(({ points, wide }) => {
    const boxAt = ({ x, y }: Spot): Box => ({ x: x - 7 * scale, y: y - 7 * scale, w: wide * scale, h: 14 * scale })
    const sum = (box: Box, others: readonly Box[]): number => others.reduce((all, o) => all + meetArea(box, o), 0)
    let best: { readonly spot: Spot; readonly hides: number } | undefined
    for (const spot of spotsOn(points)) {
      const box = boxAt(spot)
      const hides = sum(box, taken) + NAMES_WEIGH * sum(box, names)
      if (!best || hides < best.hides) best = { spot, hides }
      if (hides === 0) break
    }
    const { spot } = best!
    taken.push(boxAt(spot))
    return spot
  })
}
