/** Shapes as people type, drag and move them: rectangles, round openings and slots by their ends. All lengths mm, pure. */
import { type ShapeFile, shapeToSolver } from '../../footprints/fields.ts'
import { bounds, mm, moveShape, prepare, toMm } from '../../solver/index.ts'
import { shapeToFile } from './change.ts'
import { type Part, partsOf, setPart } from './edit-deck.ts'
import type { Project } from './schema.ts'

export type PointMm = readonly [number, number]

/** A shape as numbers to type. `free`: any other; only its place (the lower left of the box around it) can be typed. */
export type ShapeForm =
  | {
      readonly kind: 'rect'
      readonly x: number
      readonly y: number
      readonly width: number
      readonly depth: number
      readonly radius: number
    }
  | { readonly kind: 'round'; readonly x: number; readonly y: number; readonly diameter: number }
  | { readonly kind: 'slot'; readonly from: PointMm; readonly to: PointMm; readonly width: number }
  | {
      readonly kind: 'free'
      readonly x: number
      readonly y: number
      readonly width: number
      readonly depth: number
      readonly corners: number
    }

const round = (value: number): number => toMm(mm(value))
/** Half an angle's worth of bulge: a half circle. */
const HALF_CIRCLE = 1

export function formOf(shape: ShapeFile): ShapeForm {
  const exact = shapeToSolver(shape)
  if (exact.kind === 'rect') {
    const { x, y, w, h, radius } = exact
    return { kind: 'rect', x: toMm(x), y: toMm(y), width: toMm(w), depth: toMm(h), radius: toMm(radius) }
  }
  if ('circle' in shape) {
    const [x, y, r] = shape.circle
    return { kind: 'round', x, y, diameter: round(2 * r) }
  }
  const slot = 'polygon' in shape ? slotIn(shape.polygon) : undefined
  if (slot) return slot
  const { x, y, w, h } = bounds(prepare(exact))
  const corners = 'polygon' in shape ? shape.polygon.length : 0
  return { kind: 'free', x: toMm(x), y: toMm(y), width: toMm(w), depth: toMm(h), corners }
}

const hundredths = ([x, y]: PointMm): PointMm => [Math.round(x * 100) / 100, Math.round(y * 100) / 100]

function slotIn(points: readonly (readonly number[])[]): Extract<ShapeForm, { kind: 'slot' }> | undefined {
  const [a, b, c, d] = points as readonly (readonly [number, number, number?])[]
  if (points.length !== 4 || !a || !b || !c || !d) return undefined
  if (a[2] || c[2] || b[2] !== HALF_CIRCLE || d[2] !== HALF_CIRCLE) return undefined
  const middle = (p: typeof a, q: typeof a): PointMm => [round((p[0] + q[0]) / 2), round((p[1] + q[1]) / 2)]
  const read = { from: middle(d, a), to: middle(b, c), width: round(Math.hypot(c[0] - b[0], c[1] - b[1])) }
  // Corners are whole micrometres, so that a slot 4 mm wide may come out as 3.999: then it is the plain number that makes these corners.
  const plain = { from: hundredths(read.from), to: hundredths(read.to), width: Math.round(read.width * 100) / 100 }
  const made = slotShape(plain.from, plain.to, plain.width)
  const same = 'polygon' in made && made.polygon.every((p, i) => p[0] === points[i]?.[0] && p[1] === points[i]?.[1])
  return { kind: 'slot', ...(same ? plain : read) }
}

/** The form as it stands in a file; `free` has none and gives undefined. */
export function shapeOf(form: ShapeForm): ShapeFile | undefined {
  switch (form.kind) {
    case 'rect': {
      const { x, y, width, depth } = form
      const most = Math.floor(mm(Math.min(width, depth)) / 2) / 1000
      const radius = Math.min(round(form.radius), most)
      return { rect: [round(x), round(y), round(width), round(depth)], ...(radius > 0 ? { radius } : {}) }
    }
    case 'round':
      return { circle: [round(form.x), round(form.y), round(form.diameter / 2)] }
    case 'slot':
      return slotShape(form.from, form.to, form.width)
    case 'free':
      return undefined
  }
}

/** What one of a deck is called by: openings go by what they look like, whatever their names are. */
export type PartKind = Part | 'slots' | 'rounds'

export function kindOf(
  part: Part,
  one: { readonly id: string; readonly shape?: ShapeFile; readonly strap?: boolean | undefined },
): PartKind {
  if (part !== 'openings' || !one.shape) return part
  const form = formOf(one.shape)
  if (form.kind === 'round') return 'rounds'
  if (form.kind === 'slot' || one.strap) return 'slots'
  // Round ends are half circles but for half a micrometre that may have been rounded off.
  if (form.kind !== 'rect' || mm(Math.min(form.width, form.depth)) - 2 * mm(form.radius) > 1) return part
  return form.width === form.depth ? 'rounds' : 'slots'
}

/** A slot by the centres of its round ends. Along x or y it is a rectangle with round ends; without length a circle. */
export function slotShape(from: PointMm, to: PointMm, width: number): ShapeFile {
  const [dx, dy] = [round(to[0] - from[0]), round(to[1] - from[1])]
  const r = width / 2
  if (dx === 0 && dy === 0) return { circle: [round(from[0]), round(from[1]), round(r)] }
  if (dx === 0 || dy === 0) {
    const [x, y] = [Math.min(from[0], to[0]) - r, Math.min(from[1], to[1]) - r]
    const form = { x, y, width: Math.abs(dx) + width, depth: Math.abs(dy) + width, radius: r }
    return shapeOf({ kind: 'rect', ...form })!
  }
  const length = Math.hypot(dx, dy)
  const [nx, ny] = [(-dy / length) * r, (dx / length) * r]
  return {
    polygon: [
      [round(from[0] - nx), round(from[1] - ny)],
      [round(to[0] - nx), round(to[1] - ny), HALF_CIRCLE],
      [round(to[0] + nx), round(to[1] + ny)],
      [round(from[0] + nx), round(from[1] + ny), HALF_CIRCLE],
    ],
  }
}

/** The rectangle between two corners; undefined where it has no area. */
export function rectBetween(a: PointMm, b: PointMm, radius = 0): ShapeFile | undefined {
  const [width, depth] = [round(Math.abs(a[0] - b[0])), round(Math.abs(a[1] - b[1]))]
  if (width === 0 || depth === 0) return undefined
  return shapeOf({ kind: 'rect', x: Math.min(a[0], b[0]), y: Math.min(a[1], b[1]), width, depth, radius })
}

/** The upright rectangle around a shape. */
export function boxAround(shape: ShapeFile): { readonly rect: [number, number, number, number] } {
  const { x, y, w, h } = bounds(prepare(shapeToSolver(shape)))
  return { rect: [toMm(x), toMm(y), toMm(w), toMm(h)] }
}

export const movedShape = (shape: ShapeFile, dx: number, dy: number): ShapeFile => {
  if ('rect' in shape) {
    const [x, y, w, h] = shape.rect
    return { ...shape, rect: [round(x + dx), round(y + dy), w, h] }
  }
  // Four upright corners are a rectangle to the solver, but here stay what they are.
  if ('polygon' in shape) {
    const moved = shape.polygon.map(([x, y, ...bulge]) => [round(x + dx), round(y + dy), ...bulge])
    return { polygon: moved as typeof shape.polygon }
  }
  return shapeToFile(moveShape(shapeToSolver(shape), mm(dx), mm(dy)))
}

/** The point to the nearest whole multiple of `step` mm. */
export const snapped = ([x, y]: PointMm, step: number): PointMm =>
  step > 0 ? [round(Math.round(x / step) * step), round(Math.round(y / step) * step)] : [round(x), round(y)]

/** One of that kind so far to the right and to the front. */
export function movePart(project: Project, deck: string, part: Part, id: string, dx: number, dy: number): Project {
  const old = partsOf(project, part, deck).find((e) => e.id === id)
  if (!old || (dx === 0 && dy === 0)) return project
  if ('shape' in old) {
    const shape = movedShape(old.shape, dx, dy)
    return part === 'zones'
      ? setPart(project, deck, 'zones', id, { shape })
      : setPart(project, deck, 'openings', id, { shape })
  }
  const at: [number, number] = [round(old.at[0] + dx), round(old.at[1] + dy)]
  return setPart(project, deck, part as 'holes' | 'exits' | 'passes', id, { at })
}
