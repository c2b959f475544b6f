/**
 * The plan as a picture to look at, to scale, with a scale bar and the key to its signs. No file to make anything from;
 * that is the template.
 */
import { layoutOf, type Placement, type Problem } from '../../solver/index.ts'
import { type LaidLead, wireRoutes } from '../model/index.ts'
import { boxOf, contourOf } from './contour.ts'
import { type Look, planColours } from './picture-colours.ts'
import { keyOf } from './picture-key.ts'
import type { Group, Mark, Picture } from './picture-marks.ts'
import { bodiesIn, contactsOf, groundOf, namesIn, namesOf, type Pen, roomsOf, wiresOf } from './picture-plan.ts'
import { rasterised } from './picture-raster.ts'
import { words, wordWidth } from './picture-words.ts'
import { png } from './png.ts'
import { picture as says } from './words.ts'

export interface PlanOptions {
  /** Index of the only deck to draw; default all, to one scale. */
  readonly deck?: number
  readonly look?: Look
  /** How leads lie round what is in their way; missing = straight. */
  readonly laid?: readonly LaidLead[]
}

/** Most pixels of a PNG. */
const MOST = 8_000_000
/** Narrowest sheet that the key fits on, mm at unit 1. */
const NARROWEST = 150

/** `perMm`: pixels to the millimetre, default 8 (203 dpi); fewer where the picture would have over 8 million pixels. */
export function planPng(
  problem: Problem,
  placements: readonly Placement[],
  options: PlanOptions & { readonly perMm?: number } = {},
): Uint8Array {
  const picture = planPicture(problem, placements, options)
  const perMm = Math.min(options.perMm ?? 8, Math.sqrt(MOST / picture.width / picture.height))
  return png(rasterised(picture, perMm), perMm)
}

interface Room {
  readonly x0: number
  readonly y0: number
  readonly x1: number
  readonly y1: number
}

/** Decks side by side, or one over the other where that is less long; title above, key and scale bar below. */
export function planPicture(problem: Problem, placements: readonly Placement[], options: PlanOptions = {}): Picture {
  const colours = planColours[options.look ?? 'light']
  const layout = layoutOf(problem, placements)
  const routes = wireRoutes(layout, options.laid)
  if (options.deck !== undefined && !problem.decks[options.deck]) {
    throw new RangeError(`deck: found ${options.deck}, expected 0 to ${problem.decks.length - 1}`)
  }
  const decks = problem.decks.map((_, i) => i).filter((i) => options.deck === undefined || i === options.deck)
  const rooms = decks.map((i) => boxOf(contourOf(problem.decks[i]!.outline)))
  const widest = Math.max(...rooms.map((r) => Math.max(r.x1 - r.x0, r.y1 - r.y0)))
  const unit = Math.max(0.6, widest / 200)
  const pen: Pen = { colours, unit }
  const drawn = decks.map((index): { groups: Group[]; room: Room } => {
    const here = layout.bodies.filter((b) => b.deck === index)
    // What is plugged in lies on its board.
    const order = [...here.filter((b) => b.host === undefined), ...here.filter((b) => b.host !== undefined)]
    const names = namesIn(order, pen)
    const groups = [
      ...groundOf(layout, index, pen),
      ...roomsOf(order, pen),
      ...bodiesIn(order, pen),
      ...contactsOf(layout, order, pen),
      ...wiresOf(
        layout,
        routes,
        index,
        names.map((n) => n.frame),
        pen,
      ),
      ...namesOf(names, pen),
    ]
    return { groups, room: roomOf(groups) }
  })
  const [pad, gap, head] = [8 * unit, 12 * unit, 9 * unit]
  const size = (r: Room) => ({ w: r.x1 - r.x0, h: r.y1 - r.y0 })
  const across = drawn.reduce((w, d) => w + size(d.room).w + gap, -gap)
  const upright = across > 2 * Math.max(...drawn.map((d) => size(d.room).h + head))
  // The higher deck stands above or, side by side, at the right.
  const order = [...drawn.keys()].sort((a, b) => problem.decks[decks[a]!]!.z - problem.decks[decks[b]!]!.z)
  const left = Math.min(...drawn.map((d) => d.room.x0))
  const wide = upright ? Math.max(...drawn.map((d) => d.room.x1)) - left : across
  const width = Math.ceil(Math.max(wide, NARROWEST * unit) + 2 * pad)
  const barred = routes.some((r) => r.barred && r.strokes.some((s) => decks.includes(s.deck)))
  const key = keyOf(problem, pen, width - 2 * pad, barred)
  const floor = pad + key.height + 6 * unit
  let [x, y, top] = [(width - wide) / 2, floor, floor]
  const front = Math.max(...drawn.map((d) => d.room.y1))
  const low = Math.min(...drawn.map((d) => d.room.y0))
  const placed: Group[] = []
  for (const k of order) {
    const { groups, room } = drawn[k]!
    // What has one x or y on two decks stands in one line.
    const [dx, dy] = upright ? [x - left, y - room.y0] : [x - room.x0, floor - low]
    const deck = problem.decks[decks[k]!]!
    const box = rooms[k]!
    const label = says.above(problem.decks.length > 1 ? deck.name || deck.id : undefined)
    placed.push(...moved(groups, dx, dy), {
      marks: [words(label, box.x0 + dx, (upright ? room.y1 : front) + dy + 3 * unit, 3.6 * unit, colours.quiet)],
    })
    if (upright) y += size(room).h + head + gap / 2
    else x += size(room).w + gap
    top = Math.max(top, (upright ? room.y1 : front) + dy + head)
  }
  const title = says.title(problem.name, problem.variant)
  const large = Math.min(6 * unit, (width - 2 * pad) / wordWidth(title, 1))
  return {
    title: says.plan(title),
    width,
    height: Math.ceil(top + large + pad),
    paper: colours.paper,
    groups: [
      { marks: [words(title, pad, top + 2 * unit, large, colours.ink)] },
      ...placed,
      ...moved(key.groups, pad, pad),
    ],
  }
}

const moved = (groups: readonly Group[], dx: number, dy: number): Group[] =>
  groups.map((g) => ({
    ...g,
    marks: g.marks.map((m): Mark => {
      const shift = (all: readonly (readonly (readonly [number, number])[])[]) =>
        all.map((l) => l.map(([x, y]) => [x + dx, y + dy] as const))
      return m.kind === 'area' ? { ...m, rings: shift(m.rings) } : { ...m, lines: shift(m.lines) }
    }),
  }))

function roomOf(groups: readonly Group[]): Room {
  const room = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity }
  for (const m of groups.flatMap((g) => g.marks)) {
    const half = m.kind === 'area' ? 0 : m.width / 2
    for (const [x, y] of (m.kind === 'area' ? m.rings : m.lines).flat()) {
      room.x0 = Math.min(room.x0, x - half)
      room.y0 = Math.min(room.y0, y - half)
      room.x1 = Math.max(room.x1, x + half)
      room.y1 = Math.max(room.y1, y + half)
    }
  }
  return room
}
