/**
 * Paper dummies at 1:1: every part of a layout as seen from above, to cut out and to try on the deck by hand. Corridors and sweeps
 * are dashed around the body, as far as REACH from it.
 */
import {
  deckCalled,
  type Footprint,
  mountCuts,
  mountHoles,
  type Placement,
  type Problem,
  type Turn,
} from '../../solver/index.ts'
import { type Box, type Contour, circle, contourOf, rectContour } from './contour.ts'
import { cross } from './drawing.ts'
import { around, boxContour, boxOfInk, colours, grown, type Ink, type Look, type Page, touch } from './pdf-ink.ts'
import { frame, type Paper, windowOf } from './pdf-paper.ts'
import type { Press } from './pdf-press.ts'
import { type Drawing, PdfError, tilePages, tilingOf } from './pdf-tiles.ts'
import { shorten, wrapTo } from './pdf-words.ts'
import { called } from './words.ts'
import { pages, dummies as words } from './words-sheets.ts'

/** Room is drawn up to so many mm from the body: more would only cost paper. */
const REACH = 60
const MOST_PAGES = 200
const GAP = 4
const CAPTION = 2.2
const MOST_NAMES = 200

const pens = {
  body: { colour: colours.ink, width: 0.25 },
  hole: { colour: colours.drill, width: 0.15 },
  room: { colour: colours.mark, width: 0.15, dash: [2, 1] },
  sweep: { colour: colours.register, width: 0.15, dash: [3, 1, 0.5, 1] },
  point: { colour: colours.cut, width: 0.15 },
} as const satisfies Record<string, Look>

interface Dummy {
  readonly name: string
  readonly inks: readonly Ink[]
  readonly box: Box
}

/** Sheets of dummies; a part larger than a sheet comes in tiles of its own. Throws PdfError for more sheets than anybody prints. */
export function dummyPages(
  press: Press,
  problem: Problem,
  placements: readonly Placement[],
  paper: Paper,
  overlap: number,
): Page[] {
  const title = called.variant(problem.name, problem.variant)
  const room = windowOf(paper)
  const [wide, high] = [room.x1 - room.x0, room.y1 - room.y0]
  const fits = (w: number, h: number): boolean => w <= wide && h <= high
  const small: { dummy: Dummy; turned: boolean; w: number; h: number }[] = []
  const large: Drawing[] = []
  for (const p of placements) {
    const dummy = dummyOf(press, problem, p)
    const [w, h] = [dummy.box.x1 - dummy.box.x0, dummy.box.y1 - dummy.box.y0]
    if (fits(w, h)) small.push({ dummy, turned: false, w, h })
    else if (fits(h, w)) small.push({ dummy, turned: true, w: h, h: w })
    else large.push({ ...dummy, sketch: dummy.inks.slice(0, 1) })
  }
  // Tall ones first, side by side along shelves (next fit, decreasing height: Coffman et al. 1980).
  const sheets: Ink[][] = []
  let [x, y, shelf] = [wide, 0, 0]
  for (const { dummy, turned, w, h } of [...small].sort((a, b) => b.h - a.h)) {
    if (x + w > wide) {
      x = 0
      y -= shelf
      shelf = h + GAP
    }
    if (sheets.length === 0 || y - h < -high) {
      sheets.push([])
      y = 0
    }
    const [left, top] = [room.x0 + x, room.y1 + y]
    sheets[sheets.length - 1]!.push({
      kind: 'group',
      at: turned ? [left + dummy.box.y1, top - h - dummy.box.x0] : [left - dummy.box.x0, top - dummy.box.y1],
      scale: 1,
      turned,
      inks: dummy.inks,
    })
    x += w + GAP
  }
  const tiled = large.map((drawing) => ({ drawing, tiling: tilingOf(drawing, paper, overlap) }))
  const count = sheets.length + tiled.reduce((sum, t) => sum + t.tiling.tiles.length, 0)
  if (count > MOST_PAGES) {
    throw new PdfError(pages.tooManyDummies(count, MOST_PAGES))
  }
  return [
    ...sheets.map((inks, i) => ({
      width: paper.width,
      height: paper.height,
      inks: [...frame(press, paper, { title, label: words.label(i + 1, sheets.length), foot: words.foot }), ...inks],
    })),
    ...tiled.flatMap(({ drawing, tiling }) => tilePages(press, drawing, tiling, overlap, title)),
  ]
}

/** In the footprint's own frame: a part is cut out and turned by hand. The first ink is the body. */
export function dummyOf(press: Press, problem: Problem, p: Placement): Dummy {
  const item = problem.items[p.item]!
  const f = item.footprint
  const body = { x0: 0, y0: 0, x1: f.width / 1000, y1: f.depth / 1000 }
  const reach = grown(body, REACH)
  const room: Ink[] = [
    ...f.corridors.map((c): Ink => ({ kind: 'contour', contour: contourOf(c.shape), look: pens.room })),
    ...sweeps(f).map((contour): Ink => ({ kind: 'contour', contour, look: pens.sweep })),
  ]
  const own = holes(f)
  // Slots of a strap lie beside the body.
  const seen = around([body, ...[...own, ...room].map((ink) => clipped(boxOfInk(ink), reach))])!
  const caption = wrapTo(press, captionOf(problem, p), CAPTION, Math.max(seen.x1 - seen.x0, 45), 6)
  const long = Math.max(...caption.map((line) => press.width(line, CAPTION)))
  const arrow = frontArrow(body, p.turn)
  const name = nameOn(press, item.id, body, p.turn)
  const inks: Ink[] = [
    { kind: 'contour', contour: boxContour(body), look: pens.body },
    { kind: 'group', at: [0, 0], scale: 1, clip: grown(seen, 0.2), inks: [...room, ...own] },
    ...terminals(press, f, body, [...arrow.map(boxOfInk), wordBox(press, name)]),
    ...pins(f),
    ...arrow,
    name,
    ...caption.map(
      (text, i): Ink => ({ kind: 'text', x: seen.x0, y: seen.y0 - 3 - i * CAPTION * 1.3, size: CAPTION, text }),
    ),
  ]
  const box = {
    x0: seen.x0 - 0.5,
    y0: seen.y0 - 4 - caption.length * CAPTION * 1.3,
    x1: Math.max(seen.x1, seen.x0 + long) + 0.5,
    y1: seen.y1 + 0.5,
  }
  return { name: words.name(item.id), inks, box }
}

/** At most as far as `to` reaches; what lies wholly beyond shrinks to its edge. */
const clipped = (b: Box, to: Box): Box => ({
  x0: Math.min(Math.max(b.x0, to.x0), to.x1),
  y0: Math.min(Math.max(b.y0, to.y0), to.y1),
  x1: Math.max(Math.min(b.x1, to.x1), to.x0),
  y1: Math.max(Math.min(b.y1, to.y1), to.y0),
})

function captionOf(problem: Problem, p: Placement): string {
  const item = problem.items[p.item]!
  const { width, depth, height } = item.footprint
  const name = item.later ? called.later(item.id) : item.id
  const at = { x: p.at.x / 1000, y: p.at.y / 1000, turn: p.turn }
  const size = [width / 1000, depth / 1000, height / 1000] as const
  return words.caption(name, item.footprint.name, size, deckCalled(problem.decks[p.deck]!), at)
}

/** The moving parts of a head, seen from above (0° looks along +v, contract §2). */
function sweeps(f: Footprint): Contour[] {
  if (!f.head) return []
  const { pivot, pan, reach, tail } = f.head
  const shared = { cx: pivot.x, cy: pivot.y }
  return [
    contourOf({ kind: 'sector', ...shared, r: reach, from: pan[0] + 90, to: pan[1] + 90 }),
    ...(tail > 0 ? [contourOf({ kind: 'circle', ...shared, r: tail })] : []),
  ]
}

function holes(f: Footprint): Ink[] {
  return [
    ...mountCuts(f.mount).map((r): Ink => ({ kind: 'contour', contour: rectContour(r), look: pens.hole })),
    ...mountHoles(f.mount).flatMap((h): Ink[] => {
      const [x, y, r] = [h.at.x / 1000, h.at.y / 1000, h.diameter / 2000]
      return [
        { kind: 'contour', contour: circle(x, y, r), look: pens.hole },
        ...cross(x, y, r).map((line): Ink => ({ ...line, look: pens.hole })),
      ]
    }),
  ]
}

const NAME = 1.6
const DOT = 0.4

const square = (at: { readonly x: number; readonly y: number }, half: number): Box => {
  const [x, y] = [at.x / 1000, at.y / 1000]
  return { x0: x - half, y0: y - half, x1: x + half, y1: y + half }
}

/**
 * A dot each, and its name beside it, along or up, where that is on the body and over nothing else: neither what is `taken` nor another
 * dot or name. One that has no such place is left out.
 */
function terminals(press: Press, f: Footprint, body: Box, taken: readonly Box[]): Ink[] {
  const dots = [...f.terminals, ...(f.plug?.pins ?? [])].map((t) => square(t.at, DOT))
  const round = f.mount.kind === 'screw' || f.mount.kind === 'drop-in' ? f.mount.holes : []
  const full = [...taken, ...round.map((h) => square(h.at, h.diameter / 2000))]
  const names = f.terminals.slice(0, MOST_NAMES).flatMap((t): Ink[] => {
    const [x, y] = [t.at.x / 1000, t.at.y / 1000]
    const text = shorten(press, t.id, NAME, 20)
    const wide = press.width(text, NAME)
    const [off, low] = [DOT + 0.3, 0.55]
    const along = [x + off, x - off - wide].map((left) => ({
      ink: { kind: 'text', x: left, y: y - low, size: NAME, text, colour: colours.cut } as const,
      box: { x0: left, y0: y - 0.8, x1: left + wide, y1: y + 1 },
    }))
    const up = [y + off, y - off - wide].map((from) => ({
      ink: { kind: 'text', x: x + low, y: from, size: NAME, text, colour: colours.cut, up: true } as const,
      box: { x0: x - 1, y0: from, x1: x + 0.8, y1: from + wide },
    }))
    const others = dots.filter((d) => !(d.x0 < x && x < d.x1 && d.y0 < y && y < d.y1))
    const free = [...along, ...up].find(
      ({ box }) => within(box, body) && !full.some((other) => touch(other, box)) && !others.some((d) => touch(d, box)),
    )
    if (!free) return []
    full.push(free.box)
    return [free.ink]
  })
  return [...f.terminals.map((t): Ink => dot(t.at)), ...names]
}

const dot = ({ x, y }: { readonly x: number; readonly y: number }): Ink => ({
  kind: 'contour',
  contour: circle(x / 1000, y / 1000, DOT),
  fill: colours.cut,
})

const within = (a: Box, b: Box): boolean => a.x0 >= b.x0 && a.x1 <= b.x1 && a.y0 >= b.y0 && a.y1 <= b.y1

/** The first pin filled in a ring, as on the template; the others as points. */
function pins(f: Footprint): Ink[] {
  return (f.plug?.pins ?? []).flatMap((pin, i): Ink[] => {
    const [x, y] = [pin.at.x / 1000, pin.at.y / 1000]
    return i === 0
      ? [
          { kind: 'contour', contour: circle(x, y, 1), look: pens.body },
          { kind: 'contour', contour: circle(x, y, 0.5), fill: colours.ink },
        ]
      : [{ kind: 'contour', contour: circle(x, y, 0.3), look: pens.point }]
  })
}

/** Which way of the footprint looks to the robot's front once it is turned. */
const frontOf = (turn: Turn): readonly [number, number] =>
  (
    [
      [0, 1],
      [1, 0],
      [0, -1],
      [-1, 0],
    ] as const
  )[turn]

function frontArrow(body: Box, turn: Turn): Ink[] {
  const [dx, dy] = frontOf(turn)
  const [cx, cy] = [(body.x0 + body.x1) / 2, (body.y0 + body.y1) / 2]
  const across = dx === 0 ? body.y1 - body.y0 : body.x1 - body.x0
  const long = Math.min(12, across * 0.45)
  const tip = across / 2 - 0.6
  const head = Math.min(2, long / 2)
  const at = (along: number, side: number): [number, number] => [
    cx + dx * along - dy * side,
    cy + dy * along + dx * side,
  ]
  return [
    { kind: 'line', points: [at(tip - long, 0), at(tip, 0)], look: pens.body },
    { kind: 'line', points: [at(tip - head, head * 0.6), at(tip, 0), at(tip - head, -head * 0.6)], look: pens.body },
  ]
}

/** Below the middle, or above it where the arrow runs down. */
function nameOn(press: Press, id: string, body: Box, turn: Turn): Word {
  const [wide, high] = [body.x1 - body.x0, body.y1 - body.y0]
  const size = Math.max(1.2, Math.min(3.2, high * 0.4))
  const text = shorten(press, id, size, Math.max(wide - 1, 2))
  const x = (body.x0 + body.x1 - press.width(text, size)) / 2
  const rise = turn === 2 ? 0.3 : -0.9
  return { kind: 'text', x, y: (body.y0 + body.y1) / 2 + size * rise, size, text }
}

type Word = Extract<Ink, { kind: 'text' }>

/** Where a word leaves its mark, as wide as these letters are. */
const wordBox = (press: Press, { x, y, size, text }: Word): Box => ({
  x0: x,
  y0: y - size * 0.3,
  x1: x + press.width(text, size),
  y1: y + size,
})
