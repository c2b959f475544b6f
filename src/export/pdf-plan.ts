/** The plan of one deck on the assembly sheet: numbered items, which way each is turned, first pins, and wires as numbered strokes. */
import type { Point, Problem } from '../../solver/index.ts'
import { layoutOf, turnedSize, turnPoint } from '../../solver/index.ts'
import { type LaidLead, wireRoutes } from '../model/index.ts'
import type { Numbered } from './assembly-order.ts'
import { type Box, boxOf, circle, contourOf, rectContour } from './contour.ts'
import { around, colours, grown, type Ink, type Look } from './pdf-ink.ts'
import type { Press } from './pdf-press.ts'
import { template } from './template.ts'

/** The reductions of ISO 5455 (1 : 2, 5, 10, …), and some between them, since paper is small (common practice, no source). */
const SCALES = [1, 1.5, 2, 2.5, 3, 4, 5, 7.5, 10, 15, 20, 30, 50, 75, 100]

const pens = {
  plate: { colour: colours.existing, width: 0.15 },
  body: { colour: colours.ink, width: 0.25 },
  later: { colour: colours.ink, width: 0.15, dash: [2, 1] },
  turn: { colour: colours.mark, width: 0.3 },
  wire: { colour: colours.cut, width: 0.2 },
  barred: { colour: colours.cut, width: 0.2, dash: [1, 1.2] },
} as const satisfies Record<string, Look>

export interface Plan {
  /** 2 for 1 : 2. */
  readonly scale: number
  /** mm on the paper. */
  readonly height: number
  readonly draw: (room: Box) => readonly Ink[]
}

/** As large as a usual scale allows in a room of `wide` × `high` mm. `wires`: number of each wire, by its index in the problem; `laid`: how leads lie. */
export function planOf(
  press: Press,
  problem: Problem,
  items: readonly Numbered[],
  wires: ReadonlyMap<number, number>,
  laid: readonly LaidLead[] | undefined,
  deck: number,
  wide: number,
  high: number,
): Plan {
  const here = items.filter((n) => n.placement.deck === deck)
  const t = template(
    problem,
    here.map((n) => n.placement),
    deck,
    { asMade: true },
  )
  const plate: Ink[] = [...t.existing, ...t.cut].map((contour) => ({ kind: 'contour', contour, look: pens.plate }))
  const bodies = here.map(({ placement, item }) => {
    const size = turnedSize(item.footprint.width, item.footprint.depth, placement.turn)
    return boxOf(rectContour({ ...placement.at, ...size }))
  })
  const box = grown(around([boxOf(contourOf(problem.decks[deck]!.outline)), ...bodies])!, 2)
  const [w, h] = [box.x1 - box.x0, box.y1 - box.y0]
  const scale = SCALES.find((s) => w / s <= wide && h / s <= high) ?? Math.max(w / wide, h / high)
  const layout = layoutOf(
    problem,
    items.map((n) => n.placement),
  )
  const strokes = wireRoutes(layout, laid).flatMap((route) => {
    const number = wires.get(route.wire)
    return number === undefined
      ? []
      : route.strokes
          .filter((s) => s.deck === deck)
          .map(
            ({ points }): WireStroke => ({
              number,
              look: route.barred ? pens.barred : pens.wire,
              points: points.map(inMm),
            }),
          )
  })
  return {
    scale,
    height: h / scale,
    draw: (room) => {
      const at = [room.x0 - box.x0 / scale, room.y1 - box.y1 / scale] as const
      const paper = (x: number, y: number): [number, number] => [at[0] + x / scale, at[1] + y / scale]
      return [
        {
          kind: 'group',
          at,
          scale: 1 / scale,
          inks: [...plate, ...here.flatMap((n, i) => bodyInk(n, bodies[i]!, scale))],
        },
        ...here.flatMap((n) => pinInk(n, paper)),
        ...strokes.map((s): Ink => ({ kind: 'line', points: s.points.map(([x, y]) => paper(x, y)), look: s.look })),
        ...wireNumbers(press, strokes, paper),
        ...here.flatMap((n, i) => numberInk(press, n, bodies[i]!, paper)),
      ]
    },
  }
}

/** The body, and an arrow along its left edge towards its own back edge at turn 0 (+v), wherever that has been turned to. */
function bodyInk({ placement, item }: Numbered, b: Box, scale: number): Ink[] {
  const body: Ink = {
    kind: 'contour',
    contour: rectContour({
      ...placement.at,
      ...turnedSize(item.footprint.width, item.footprint.depth, placement.turn),
    }),
    look: item.later ? pens.later : pens.body,
  }
  const [dx, dy] = (
    [
      [0, 1],
      [-1, 0],
      [0, -1],
      [1, 0],
    ] as const
  )[placement.turn]
  const [cx, cy] = [(b.x0 + b.x1) / 2, (b.y0 + b.y1) / 2]
  const half = (dx === 0 ? b.y1 - b.y0 : b.x1 - b.x0) / 2
  // Short of the number in the middle.
  const long = Math.max(1.5, Math.min(9, half - 2.6 * scale))
  const head = Math.min(2.4, long / 2)
  const at = (along: number, side: number): [number, number] => [
    cx + dx * along - dy * side,
    cy + dy * along + dx * side,
  ]
  const tip = half - Math.min(0.8, half / 8)
  return [
    body,
    { kind: 'line', points: [at(tip - long, 0), at(tip, 0)], look: pens.turn },
    { kind: 'line', points: [at(tip - head, head * 0.6), at(tip, 0), at(tip - head, -head * 0.6)], look: pens.turn },
  ]
}

function pinInk({ placement: p, item }: Numbered, paper: (x: number, y: number) => [number, number]): Ink[] {
  const { width, depth, plug } = item.footprint
  const pin = plug?.pins[0]
  if (!pin) return []
  const at = turnPoint(pin.at, width, depth, p.turn)
  const [x, y] = paper((p.at.x + at.x) / 1000, (p.at.y + at.y) / 1000)
  return [{ kind: 'contour', contour: circle(x, y, 0.8), fill: colours.ink }]
}

/** A balloon in the body's middle; a plug-in part's at its edge, since its host's stands there. */
function numberInk(press: Press, n: Numbered, b: Box, paper: (x: number, y: number) => [number, number]): Ink[] {
  const host = n.item.footprint.breadboard !== undefined
  const middle = paper(host ? b.x0 : (b.x0 + b.x1) / 2, host ? b.y0 : (b.y0 + b.y1) / 2)
  const at: [number, number] = host ? [middle[0] + 2.8, middle[1] + 2.8] : middle
  return n.number === undefined
    ? [{ kind: 'text', x: at[0] - 3, y: at[1] - 0.8, size: 2.2, text: 'later' }]
    : balloon(press, `${n.number}`, at, 2.6, colours.ink)
}

function balloon(press: Press, text: string, [x, y]: [number, number], size: number, colour: Look['colour']): Ink[] {
  const wide = press.width(text, size)
  const r = Math.max(size * 0.85, wide / 2 + 0.5)
  return [
    { kind: 'contour', contour: circle(x, y, r), look: { colour, width: 0.2 }, fill: colours.paper },
    { kind: 'text', x: x - wide / 2, y: y - size * 0.36, size, text, colour },
  ]
}

interface WireStroke {
  readonly number: number
  readonly look: Look
  readonly points: readonly (readonly [number, number])[]
}

/** Each wire's number somewhere on its longest piece, away from the numbers before it; else on another. */
function wireNumbers(
  press: Press,
  strokes: readonly WireStroke[],
  paper: (x: number, y: number) => [number, number],
): Ink[] {
  const taken: Spot[] = []
  return strokes.flatMap(({ number, points }) => {
    const corners = points.map(([x, y]) => paper(x, y))
    const pieces = corners.slice(1).map((b, i) => [corners[i]!, b] as const)
    pieces.sort((p, q) => distance(...q) - distance(...p))
    const all = pieces.flatMap(([a, b], i) => (i === 0 ? ALONG : BESIDE).map((t) => between(a, b, t)))
    const room = all.map((s) => Math.min(...taken.slice(-200).map((o) => distance(o, s)), 4.2))
    const best = all[room.indexOf(Math.max(...room))]!
    taken.push(best)
    return balloon(press, `w${number}`, best, 1.8, colours.cut)
  })
}

/** Where a number may stand on the longest piece of a stroke, and on the others, as parts of it. */
const ALONG = [0.5, 0.35, 0.65, 0.2, 0.8, 0.95, 0.05]
const BESIDE = [0.5, 0.8]

type Spot = [number, number]

const inMm = (p: Point): Spot => [p.x / 1000, p.y / 1000]

const distance = (a: Spot, b: Spot): number => Math.hypot(a[0] - b[0], a[1] - b[1])

const between = (a: Spot, b: Spot, t: number): Spot => [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t]
