/** Below the plan: a scale bar, and every sign that stands in it with its meaning. */
import type { Problem } from '../../solver/index.ts'
import { circle, path } from './contour.ts'
import { type Point2, type Ring, ringOf } from './gltf-flat.ts'
import { area, around, type Group, lines, type Mark } from './picture-marks.ts'
import { barredMark, boxMarks, contactMarks, corridorMarks, type Pen, sweepMarks, zoneMarks } from './picture-plan.ts'
import { numberMarks, words, wordWidth } from './picture-words.ts'
import { picture as says, template } from './words.ts'

/** `barred`: that some wire has no way. `height`: of all lines, mm; the lower left corner is 0,0. Only what the problem has is explained. */
export function keyOf(
  problem: Problem,
  pen: Pen,
  width: number,
  barred: boolean,
): { readonly groups: Group[]; readonly height: number } {
  const { colours, unit } = pen
  const has = (kind: string): boolean => problem.zones.some((z) => z.kind === kind)
  const footprints = problem.items.map((i) => i.footprint)
  const boards = footprints.some((f) => f.breadboard)
  const signs: readonly (readonly [boolean, string, () => Mark[]])[] = [
    [true, says.signs.body, () => boxMarks(swatch(unit), 'body', pen)],
    [problem.items.some((i) => i.later), says.signs.later, () => boxMarks(swatch(unit), 'later', pen)],
    [boards, says.signs.free, () => contactMarks(dots(unit), [], pen)],
    [boards, says.signs.covered, () => contactMarks([], dots(unit), pen)],
    [footprints.some((f) => f.plug), says.signs.firstPin, () => [lines([[[4 * unit, 2.5 * unit]]], colours.ink, 1.4)]],
    [footprints.some((f) => f.corridors.length > 0), says.signs.corridor, () => corridorMarks(swatch(unit), pen)],
    [footprints.some((f) => f.head), says.signs.sweep, () => sweepMarks(fan(unit), pen)],
    [has('keep-out'), says.signs.zone['keep-out'], () => zoneMarks('keep-out', swatch(unit), pen)],
    [has('reserved'), says.signs.zone.reserved, () => zoneMarks('reserved', swatch(unit), pen)],
    [has('view'), says.signs.zone.view, () => zoneMarks('view', swatch(unit), pen)],
    [has('underside'), says.signs.zone.underside, () => zoneMarks('underside', swatch(unit), pen)],
    [problem.exits.length + problem.passes.length > 0, says.signs.exit, () => lead(pen)],
    [problem.wires.length > 0, says.signs.wire, () => wire(pen)],
    [barred, says.signs.barred, () => [barredMark(across(unit), pen)]],
  ]
  const shown = signs.filter(([there]) => there)
  const size = 3.4 * unit
  const column = 13 * unit + Math.max(...shown.map(([, text]) => wordWidth(text, size)))
  const columns = Math.max(1, Math.floor(width / column))
  const rows = Math.ceil(shown.length / columns)
  const line = 7 * unit
  const groups = shown.map(([, text, sample], i): Group => {
    const x = (i % columns) * column
    const y = (rows - 1 - Math.floor(i / columns)) * line
    const marks = sample().map((m): Mark => {
      const put = (all: readonly (readonly Point2[])[]) => all.map((l) => l.map(([u, v]): Point2 => [u + x, v + y]))
      return m.kind === 'area' ? { ...m, rings: put(m.rings) } : { ...m, lines: put(m.lines) }
    })
    return { title: says.key(text), marks: [...marks, words(text, x + 10 * unit, y + 1.4 * unit, size, colours.ink)] }
  })
  const bar = scaleBar(pen, width, rows * line + 3 * unit)
  return { groups: [...groups, bar], height: rows * line + 9 * unit }
}

const swatch = (u: number): Ring => [
  [0, 0],
  [8 * u, 0],
  [8 * u, 5 * u],
  [0, 5 * u],
]

const dots = (u: number): Point2[] => [1.5, 4, 6.5].flatMap((x) => [1.2, 3.8].map((y): Point2 => [x * u, y * u]))

const fan = (u: number): Ring =>
  ringOf(
    path([
      { x: 4 * u, y: 0, bulge: 0 },
      { x: 7.5 * u, y: 3.5 * u, bulge: Math.tan(Math.PI / 8) },
      { x: 0.5 * u, y: 3.5 * u, bulge: 0 },
    ]),
  )

function lead({ colours, unit }: Pen): Mark[] {
  const ring = ringOf(circle(4 * unit, 2.5 * unit, 1.6 * unit))
  return [area([ring], colours.paper), lines([around(ring)], colours.ink, 0.5 * unit)]
}

const across = (u: number): Point2[] => [
  [0, 2.5 * u],
  [8 * u, 2.5 * u],
]

function wire(pen: Pen): Mark[] {
  const { colours, unit } = pen
  return [lines([across(unit)], colours.wire, 0.3 * unit, 0.6), ...numberMarks('1', [4 * unit, 2.5 * unit], pen)]
}

/** A round length of about a third of the sheet, with a tick every tenth of it. */
function scaleBar({ colours, unit }: Pen, width: number, y: number): Group {
  const decade = 10 ** Math.floor(Math.log10(width / 2))
  const length = [5, 2, 1].map((k) => k * decade).find((l) => l <= width / 2)!
  const ticks = Array.from({ length: 11 }, (_, i): Point2[] => {
    const x = (length * i) / 10
    return [
      [x, y],
      [x, y + (i % 5 === 0 ? 2.4 : 1.4) * unit],
    ]
  })
  const base: Point2[] = [
    [0, y],
    [length, y],
  ]
  const label = words(template.length(length), length + 2 * unit, y, 3.4 * unit, colours.ink)
  return { title: says.scaleBar(length), marks: [lines([base, ...ticks], colours.ink, 0.3 * unit), label] }
}
