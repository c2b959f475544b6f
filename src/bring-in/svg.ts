/** SVG to runs: every shape, through all transforms, groups and uses, in mm with y to the front. */
import { clip, snippet } from '../../footprints/problems.ts'
import { type Draft, Refused, type Where } from './contours.ts'
import { after, type Matrix } from './flatten.ts'
import { fitted, lengthOf, styleOf, transformOf, viewBoxOf } from './svg-attributes.ts'
import { drawPath } from './svg-path.ts'
import { drawShape, SHAPES } from './svg-shapes.ts'
import type { Node } from './svg-tree.ts'
import { isUnit, readLength, UNITS } from './units.ts'
import { svg } from './words-drawings.ts'

const DEEPEST_USE = 32
/** Have nothing of their own to cut, or only what a use brings in. */
const SILENT = new Set([
  ...['', 'title', 'desc', 'metadata', 'defs', 'symbol', 'linearGradient', 'radialGradient', 'pattern', 'filter'],
  ...['clipPath', 'mask', 'marker', 'view', 'solidColor'],
])
const GROUPS = new Set(['g', 'a', 'svg', 'switch'])

/** mm in one unit of the drawing (of the view box, where there is one), where width and height say so. */
export function svgUnit(root: Node): { name: string; mm: number } | { said: string } {
  const box = viewBoxOf(root)
  for (const [name, side] of [
    ['width', 2],
    ['height', 3],
  ] as const) {
    const text = root.attributes.get(name)
    const length = text === undefined ? undefined : readLength(text)
    if (
      text !== undefined &&
      text !== 'auto' &&
      (!length || (length.unit !== '' && length.unit !== '%' && !isUnit(length.unit)))
    ) {
      throw new Refused(snippet(text), svg.lengthMm, root.line, name)
    }
    if (!length || !isUnit(length.unit)) continue
    if (!(length.value > 0)) throw new Refused(snippet(text), svg.lengthAbove0, root.line, name)
    const long = length.value * UNITS[length.unit]
    // Without a view box, the unit inside is the style sheets' px, whatever the page's size is given in.
    return box ? { name: length.unit, mm: long / box[side] } : { name: 'px', mm: UNITS.px }
  }
  const width = root.attributes.get('width')
  return { said: width === undefined ? svg.noWidth : svg.widthWithoutUnit(snippet(width)) }
}

interface Context {
  readonly draft: Draft
  readonly byId: ReadonlyMap<string, Node>
}

/**
 * Draws the tree. `scale`: mm in one unit of the drawing; `said`: the file itself gives its size, so that its width and height
 * may stretch the drawing. Throws Refused.
 */
export function drawSvg(root: Node, draft: Draft, scale: number, said: boolean): undefined {
  const box = viewBoxOf(root)
  const page = said && box ? pageOf(root, box) : undefined
  // y down to y up: the one flip, about the lower edge of the page.
  const top = page ? page.height : ((box?.[1] ?? 0) + (box?.[3] ?? pageHeight(root))) * scale
  const flip: Matrix = [1, 0, 0, -1, 0, top]
  const matrix = page ? after(flip, page.matrix) : after(flip, [scale, 0, 0, scale, 0, 0])
  const byId = new Map<string, Node>()
  index(root, byId)
  walkAll({ draft, byId }, root, matrix, [], [])
}

function pageHeight(root: Node): number {
  const length = readLength(root.attributes.get('height') ?? '')
  return length
    ? length.unit !== '' && isUnit(length.unit)
      ? (length.value * UNITS[length.unit]) / UNITS.px
      : length.value
    : 0
}

function pageOf(root: Node, box: readonly [number, number, number, number]): { matrix: Matrix; height: number } {
  const side = (name: string): number | undefined => {
    const length = readLength(root.attributes.get(name) ?? '')
    return length && isUnit(length.unit) ? length.value * UNITS[length.unit] : undefined
  }
  const [w, h] = [side('width'), side('height')]
  const width = w ?? (h! * box[2]) / box[3]
  const height = h ?? (w! * box[3]) / box[2]
  return { matrix: fitted(root, box, width, height), height }
}

function index(node: Node, byId: Map<string, Node>): undefined {
  const id = node.attributes.get('id')
  if (id !== undefined && !byId.has(id)) byId.set(id, node)
  for (const child of node.children) index(child, byId)
}

function walkAll(
  c: Context,
  parent: Node,
  matrix: Matrix,
  layers: readonly string[],
  uses: readonly string[],
): undefined {
  for (const child of parent.children) walk(c, child, matrix, layers, uses)
}

function walk(c: Context, node: Node, outer: Matrix, above: readonly string[], uses: readonly string[]): undefined {
  if (node.name === '') return
  c.draft.step(uses.length > 0)
  const layers = [...above, node.attributes.get('label'), node.attributes.get('id')].filter((l) => l !== undefined)
  const where: Where = { line: node.line, what: `<${clip(node.name, 40)}>`, layers }
  if (node.name === 'style') {
    if (/display|visibility|transform/.test(node.text)) {
      c.draft.cannot(where, svg.styleRules)
    }
    return
  }
  if (SILENT.has(node.name)) return
  if (styleOf(node, 'display') === 'none') return c.draft.cannot(where, svg.notDisplayed)
  if (/^(hidden|collapse)$/.test(styleOf(node, 'visibility') ?? '')) return c.draft.cannot(where, svg.hidden)
  const css = /(?:^|;)\s*(transform[\w-]*|translate|rotate|scale)\s*:/.exec(node.attributes.get('style') ?? '')?.[1]
  if (css !== undefined || node.attributes.has('transform-origin')) {
    return c.draft.cannot(where, svg.styleSets(css ?? 'transform-origin'))
  }
  const clipped = ['clip-path', 'mask'].find((p) => !/^(none)?$/.test(styleOf(node, p) ?? ''))
  if (clipped !== undefined) c.draft.cannot({ ...where, what: clipped }, svg.clipped)
  const matrix = after(outer, transformOf(node))
  if (GROUPS.has(node.name)) {
    if (node.name === 'switch') c.draft.cannot(where, svg.switched)
    const inner = node.name === 'svg' ? viewport(c, node, node, matrix, where) : matrix
    if (inner) walkAll(c, node, inner, layers, uses)
    return
  }
  if (node.name === 'use') return use(c, node, matrix, layers, uses, where)
  if (node.name === 'path') {
    const d = node.attributes.get('d') ?? ''
    return d.trim() === '' || d.trim() === 'none'
      ? c.draft.cannot(where, svg.noData)
      : drawPath(d, c.draft, matrix, where)
  }
  if (SHAPES.has(node.name)) return drawShape(node, c.draft, matrix, where)
  c.draft.cannot(where, WHY.get(node.name) ?? svg.notRead)
}

const WHY: ReadonlyMap<string, string> = new Map([
  ...['text', 'tspan', 'textPath'].map((t) => [t, svg.text] as const),
  ['image', svg.picture],
  ['foreignObject', svg.noDrawing],
  ['script', svg.scripts],
  ...['animate', 'animateTransform', 'animateMotion', 'set'].map((t) => [t, svg.moves] as const),
])

/** The frame inside a nested svg or a used symbol; `sized` is the element that gives width and height. */
function viewport(c: Context, node: Node, sized: Node, matrix: Matrix, where: Where): Matrix | undefined {
  const at = node === sized ? [lengthOf(node, 'x', 0), lengthOf(node, 'y', 0)] : [0, 0]
  const box = viewBoxOf(node)
  if (at[0] === undefined || at[1] === undefined) return percent(c, where)
  const placed = after(matrix, [1, 0, 0, 1, at[0], at[1]])
  if (!box) return placed
  const own = (name: string, otherwise: number): number | undefined =>
    lengthOf(sized.attributes.has(name) ? sized : node, name, otherwise)
  const [width, height] = [own('width', box[2]), own('height', box[3])]
  if (width === undefined || height === undefined) return percent(c, where)
  return after(placed, fitted(node, box, width, height))
}

function percent(c: Context, where: Where): undefined {
  c.draft.cannot(where, svg.percent)
}

function use(
  c: Context,
  node: Node,
  matrix: Matrix,
  layers: readonly string[],
  uses: readonly string[],
  where: Where,
): undefined {
  const href = node.attributes.get('href') ?? ''
  const id = href.startsWith('#') ? href.slice(1) : undefined
  const target = id === undefined ? undefined : c.byId.get(id)
  if (!target || id === undefined) {
    return c.draft.cannot(where, svg.usesNothing(snippet(href)))
  }
  if (uses.includes(id)) throw new Refused(svg.usedInItself(clip(id, 60)), svg.endingUses, node.line, 'href')
  if (uses.length >= DEEPEST_USE)
    throw new Refused(svg.usesDeep(uses.length + 1), svg.atMostUses(DEEPEST_USE), node.line)
  const [x, y] = [lengthOf(node, 'x', 0), lengthOf(node, 'y', 0)]
  if (x === undefined || y === undefined) return percent(c, where)
  const placed = after(matrix, [1, 0, 0, 1, x, y])
  if (target.name !== 'symbol') return walk(c, target, placed, layers, [...uses, id])
  const inner = viewport(c, target, node, after(placed, transformOf(target)), where)
  if (inner) walkAll(c, target, inner, layers, [...uses, id])
}
