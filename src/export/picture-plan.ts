/** One deck of the plan as marks: what lies under the bodies, the bodies, their contacts, wires and names. Deck's frame, mm. */

import {
  type Body,
  cutoutOn,
  deckCalled,
  holesOn,
  type Layout,
  type Point,
  pinsOn,
  type Shape,
  shapeOn,
  slotsOn,
  tiePointsOn,
  type Zone,
} from '../../solver/index.ts'
import { called } from '../model/called.ts'
import { dashed } from '../model/dashed.ts'
import type { WireRoute } from '../model/index.ts'
import { circle, contourOf, rectContour } from './contour.ts'
import { type Point2, type Ring, ringOf } from './gltf-flat.ts'
import { freePoints, sweepRing } from './gltf-parts.ts'
import type { PlanColours } from './picture-colours.ts'
import { area, around, type Group, hatched, lines, type Mark } from './picture-marks.ts'
import { type Frame, framesMeet, type Name, nameIn, nameMarks, numberMarks } from './picture-words.ts'
import { leftOf } from './plate.ts'
import { picture as says } from './words.ts'

export interface Pen {
  readonly colours: PlanColours
  /** How much larger than on a 200 mm sheet strokes, hatches and words are, mm by mm. */
  readonly unit: number
}

export const shapeRing = (shape: Shape): Ring => ringOf(contourOf(shape))
const disc = (at: Point, diameter: number): Ring => ringOf(circle(at.x / 1000, at.y / 1000, diameter / 2000))
const point = (p: Point): Point2 => [p.x / 1000, p.y / 1000]
const bodyRing = (b: Body): Ring => ringOf(rectContour(b.rect))

/** Outline with openings, zones, holes that are there, exits and passes. */
export function groundOf(layout: Layout, index: number, pen: Pen): Group[] {
  const { problem } = layout
  const deck = problem.decks[index]!
  const { colours, unit } = pen
  const left = leftOf(
    deck.outline,
    deck.openings.map((o) => o.shape),
  )
  const plate = left.flatMap(({ outline, holes }) => [outline, ...holes]).map(shapeRing)
  const zones = problem.zones.filter((z) => z.deck === index)
  const leads = [
    ...problem.exits.filter((e) => e.deck === index),
    ...problem.passes.filter((p) => p.decks.includes(index)),
  ]
  const ring = (at: Point, diameter: number, colour: string, width: number): Mark[] => {
    const hole = disc(at, diameter)
    return [area([hole], colours.paper), lines([around(hole)], colour, width * unit)]
  }
  return [
    {
      title: deckCalled(deck),
      marks: [
        area(plate, colours.deckFill),
        lines(plate.map(around), colours.deckLine, 0.4 * unit),
        ...deck.holes.flatMap((h) => ring(h.at, h.diameter, colours.deckLine, 0.3)),
        // Without a diameter it asks for no hole, and is a mark on the plate.
        ...leads.flatMap((l) => ring(l.at, l.diameter ?? 3000, colours.ink, 0.5).slice(l.diameter ? 0 : 1)),
      ],
    },
    ...zones.map(
      (z): Group => ({ title: says.zone(z.kind, z.id, z.why), marks: zoneMarks(z.kind, shapeRing(z.shape), pen) }),
    ),
  ]
}

/** Every kind of zone by a hatch of its own. */
export function zoneMarks(kind: Zone['kind'], ring: Ring, { colours, unit }: Pen): Mark[] {
  const ink = colours.reserved
  const thin = 0.2 * unit
  const rim = around(ring)
  switch (kind) {
    case 'keep-out':
      return [
        lines([...hatched([ring], 45, 2 * unit), ...hatched([ring], -45, 2 * unit)], ink, thin, 0.7),
        lines([rim], ink, 0.3 * unit),
      ]
    case 'reserved':
      return [
        lines(hatched([ring], -45, 2 * unit), ink, thin, 0.7),
        lines(dashed(rim, 2.4 * unit, 1.4 * unit), ink, 0.3 * unit),
      ]
    case 'view':
      return [
        lines(
          hatched([ring], 90, 2.4 * unit).flatMap((l) => dashed(l, 0.6 * unit, 1.8 * unit)),
          ink,
          0.3 * unit,
          0.7,
        ),
        lines(dashed(rim, 0.01, 1.2 * unit), ink, 0.45 * unit),
      ]
    case 'underside':
      return [lines(hatched([ring], 0, 2 * unit), ink, thin, 0.6)]
  }
}

/** Room that plugs and hands need, and what a head sweeps. */
export function roomsOf(bodies: readonly Body[], pen: Pen): Group[] {
  return bodies.flatMap((b): Group[] => {
    const f = b.item.footprint
    return [
      ...f.corridors.map((c) => ({
        title: says.corridor(c.id, b.item.id, c.why),
        marks: corridorMarks(shapeRing(shapeOn(f, b.placement, c.shape)), pen),
      })),
      ...(f.head ? [{ title: says.sweep(b.item.id), marks: sweepMarks(sweepRing(b), pen) }] : []),
    ]
  })
}

export const corridorMarks = (ring: Ring, { colours, unit }: Pen): Mark[] => [
  lines(hatched([ring], 45, 1.7 * unit), colours.corridor, 0.2 * unit, 0.55),
  lines(dashed(around(ring), 1.5 * unit, 1.1 * unit), colours.corridor, 0.35 * unit),
]

export const sweepMarks = (ring: Ring, { colours, unit }: Pen): Mark[] => [
  lines(
    hatched([ring], 90, 3 * unit).flatMap((l) => dashed(l, 1.4 * unit, 1.8 * unit)),
    colours.sweep,
    0.3 * unit,
    0.7,
  ),
  lines(dashed(around(ring), 0.8 * unit, 1.3 * unit), colours.sweep, 0.45 * unit),
]

/** Bodies with their holes, slots and first pins; what is plugged in lies on its board. */
export function bodiesIn(bodies: readonly Body[], pen: Pen): Group[] {
  return bodies.map((b) => {
    const f = b.item.footprint
    return { title: `${b.item.id}: ${f.name}`, marks: bodyMarks(b, pen) }
  })
}

function bodyMarks(b: Body, pen: Pen): Mark[] {
  const { colours, unit } = pen
  const f = b.item.footprint
  const board = f.breadboard !== undefined
  const cutout = cutoutOn(f, b.placement)
  const slots = [...slotsOn(f, b.placement), ...(cutout ? [cutout] : [])].map((r) => ringOf(rectContour(r)))
  const holes = holesOn(f, b.placement).map(({ hole, at }) => disc(at, hole.diameter))
  const first = pinsOn(f, b.placement)[0]
  return [
    ...boxMarks(bodyRing(b), board ? 'board' : b.item.later ? 'later' : 'body', pen),
    area(slots, colours.deckFill),
    lines(slots.map(around), colours.bodyLine, 0.25 * unit),
    area(holes, colours.paper),
    lines(holes.map(around), colours.deckLine, 0.25 * unit),
    ...(first ? [lines([[point(first)]], colours.ink, 1.4)] : []),
  ].filter((m) => (m.kind === 'area' ? m.rings : m.lines).length > 0)
}

export function boxMarks(ring: Ring, role: 'body' | 'board' | 'later', { colours, unit }: Pen): Mark[] {
  const rim = around(ring)
  switch (role) {
    case 'body':
      return [area([ring], colours.bodyFill), lines([rim], colours.bodyLine, 0.4 * unit)]
    case 'board':
      return [area([ring], colours.boardFill), lines([rim], colours.quiet, 0.4 * unit)]
    case 'later':
      return [
        area([ring], colours.bodyFill, 0.4),
        lines(dashed(rim, 2.2 * unit, 1.4 * unit), colours.bodyLine, 0.4 * unit),
      ]
  }
}

/** Every free contact as a dot, every covered one struck through. */
export function contactsOf(layout: Layout, bodies: readonly Body[], pen: Pen): Group[] {
  return bodies.flatMap((b): Group[] => {
    if (!b.item.footprint.breadboard || b.item.footprint.mount.kind === 'plug-in') return []
    const free = freePoints(layout.bodies, b).map(point)
    const open = new Set(free.map(String))
    const covered = tiePointsOn(b.item.footprint, b.placement)
      .map((t) => point(t.at))
      .filter((p) => !open.has(String(p)))
    const title = says.contacts(b.item.id, free.length, covered.length)
    return [{ title, marks: contactMarks(free, covered, pen) }]
  })
}

export const contactMarks = (free: readonly Point2[], covered: readonly Point2[], { colours }: Pen): Mark[] => [
  lines(
    free.map((p) => [p]),
    colours.free,
    1.2,
  ),
  lines(
    covered.map(([x, y]) => [
      [x - 0.6, y - 0.6],
      [x + 0.6, y + 0.6],
    ]),
    colours.covered,
    0.35,
  ),
]

/** Names in the middle of their bodies, clear of parts that are plugged in and of one another where there is room. */
export function namesIn(bodies: readonly Body[], { unit }: Pen): readonly (Name & { readonly body: Body })[] {
  const frame = ({ rect }: Body): Frame => ({
    x: rect.x / 1000,
    y: rect.y / 1000,
    w: rect.w / 1000,
    h: rect.h / 1000,
  })
  const taken: Frame[] = []
  // Small bodies first: they have the least choice.
  return [...bodies]
    .sort((a, b) => a.rect.w * a.rect.h - b.rect.w * b.rect.h)
    .map((body) => {
      const guests = bodies.filter((b) => b.host === body.index).map(frame)
      const name = nameIn(called(body.item.id), frame(body), [...guests, ...taken], unit)
      taken.push(name.frame)
      return { ...name, body }
    })
}

export const namesOf = (names: ReturnType<typeof namesIn>, { colours }: Pen): Group[] => [
  {
    marks: names.flatMap((name) =>
      nameMarks(name, name.body.item.footprint.breadboard ? colours.boardFill : colours.bodyFill, colours),
    ),
  },
]

/** Numbered strokes; the numbers are those of the wires' list, and keep clear of `taken`. */
export function wiresOf(
  layout: Layout,
  routes: readonly WireRoute[],
  deck: number,
  taken: readonly Frame[],
  pen: Pen,
): Group[] {
  const { colours, unit } = pen
  const full = [...taken]
  const strokes = routes.flatMap((r) =>
    r.strokes
      .filter((s) => s.deck === deck)
      .map((s) => ({ wire: r.wire, barred: r.barred, line: s.points.map(point) })),
  )
  return [
    ...strokes.map(({ wire, barred, line }): Group => {
      const { id } = layout.problem.wires[wire]!
      if (barred) return { title: says.wireBarred(wire + 1, id), marks: [barredMark(line, pen)] }
      return { title: says.wire(wire + 1, id), marks: [lines([line], colours.wire, 0.3 * unit, 0.6)] }
    }),
    {
      marks: strokes.flatMap(({ wire, line }) => {
        const frames = spotsOn(line).map(([x, y]): Frame => {
          const half = 2.2 * unit
          return { x: x - half, y: y - half, w: 2 * half, h: 2 * half }
        })
        const frame = frames.find((f) => !full.some((t) => framesMeet(f, t))) ?? frames[0]!
        full.push(frame)
        return numberMarks(String(wire + 1), [frame.x + frame.w / 2, frame.y + frame.h / 2], pen)
      }),
    },
  ]
}

/** A lead that cannot be laid like this: what it joins, in dashes. */
export const barredMark = (line: readonly Point2[], { colours, unit }: Pen): Mark =>
  lines(dashed(line, 1.2 * unit, 1.4 * unit), colours.wire, 0.3 * unit, 0.9)

/** Points along the pieces of a line, the middle of the longest first. */
function spotsOn(line: readonly Point2[]): Point2[] {
  const pieces = line.slice(1).map((b, i) => {
    const a = line[i]!
    return { a, b, length: Math.abs(a[0] - b[0]) + Math.abs(a[1] - b[1]) }
  })
  return pieces
    .sort((p, q) => q.length - p.length)
    .flatMap(({ a, b }) =>
      [0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82, 0.1, 0.9, 0.02, 0.98].map(
        (t): Point2 => [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t],
      ),
    )
}
