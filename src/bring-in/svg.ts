/** SVG to runs: every shape, through all transforms, groups and uses, in mm with y to the front. */
import { clip, snippet } from '../../footprints/problems.ts'
import { type Draft, Refused, type Run, type Where } from './contours.ts'
import { after, type Matrix } from './flatten.ts'
import { fitted, geometrySetBy, lengthOf, type Styles, stylesOf, transformOf, viewBoxOf } from './svg-attributes.ts'
import { type Frame, reachesOut } from './svg-frame.ts'
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
  /** Of which it is told already that a frame would cut them. */
  readonly cut: Set<Run>
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
  const side = (name: string): number | undefined => {
    const length = lengthOf(root, name, Number.NaN)
    return Number.isNaN(length) ? undefined : length
  }
  const size = box ? ([box[2], box[3]] as const) : ([side('width'), side('height')] as const)
  const styles = stylesOf(root)
  const where: Where = { line: root.line, what: '<svg>', layers: [] }
  if (styles('display') === 'none') return draft.cannot(where, svg.notDisplayed)
  walkAll({ draft, byId, cut: new Set() }, root, {
    matrix,
    layers: [],
    uses: [],
    hidden: isHidden(styles, false),
    size,
  })
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

/** What an element has from those around it. */
interface Around {
  readonly matrix: Matrix
  readonly layers: readonly string[]
  /** Ids of the uses that it is brought in by. */
  readonly uses: readonly string[]
  /** Whether what says nothing else is hidden: that is inherited, and may be taken back. */
  readonly hidden: boolean
  /** Width and height of the frame that it is in, in user units: what 100 % are. */
  readonly size: readonly [number | undefined, number | undefined]
  /** That frame, where it is of a nested svg or a symbol and its size is known. */
  readonly frame?: Frame
}

/** Visibility is inherited, and may be taken back. */
function isHidden(styles: Styles, around: boolean): boolean {
  const visibility = styles('visibility') ?? ''
  return /^(hidden|collapse)$/.test(visibility) || (around && !/^(visible|initial)$/.test(visibility))
}

function walkAll(c: Context, parent: Node, around: Around): undefined {
  for (const child of parent.children) walk(c, child, around)
}

/** `sized`: the use that brings it in, whose width and height count for those of a nested svg. */
function walk(c: Context, node: Node, around: Around, sized: Node = node): undefined {
  if (node.name === '') return
  c.draft.step(around.uses.length > 0)
  const own = [node.attributes.get('label'), node.attributes.get('id')].filter((l) => l !== undefined)
  const layers = [...around.layers, ...own]
  const where: Where = { line: node.line, what: `<${clip(node.name, 40)}>`, layers }
  if (node.name === 'style') {
    if (/display|visibility|transform/i.test(node.text)) {
      c.draft.cannot(where, svg.styleRules)
    }
    return
  }
  if (SILENT.has(node.name)) return
  for (const l of own) c.draft.named.add(l)
  const styles = stylesOf(node)
  if (styles('display') === 'none') return c.draft.cannot(where, svg.notDisplayed)
  const hidden = isHidden(styles, around.hidden)
  const container = GROUPS.has(node.name) || node.name === 'use'
  if (hidden && !container) return c.draft.cannot(where, svg.hidden)
  const sizes = node.name === 'svg' || !GROUPS.has(node.name)
  const set = geometrySetBy(node, sizes) ?? (node.attributes.has('transform-origin') ? 'transform-origin' : undefined)
  if (set !== undefined) return c.draft.cannot(where, svg.styleSets(set))
  const clipped = ['clip-path', 'mask'].find((p) => !/^(none)?$/.test(styles(p) ?? ''))
  if (clipped !== undefined) c.draft.cannot({ ...where, what: clipped }, svg.clipped)
  const inside: Around = { ...around, matrix: after(around.matrix, transformOf(node)), layers, hidden }
  const { matrix } = inside
  if (GROUPS.has(node.name)) {
    if (node.name === 'switch') c.draft.cannot(where, svg.switched)
    return node.name === 'svg' ? framed(c, node, sized, inside, where) : walkAll(c, node, inside)
  }
  if (node.name === 'use') return use(c, node, inside, where)
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

/** What is in a nested svg or a used symbol, and told of each shape that its frame would cut. */
function framed(c: Context, node: Node, sized: Node, around: Around, where: Where): undefined {
  const { runs, tolerance } = c.draft
  const before = runs.length
  const inner = viewport(c, node, sized, around, where)
  if (!inner) return
  walkAll(c, node, inner)
  const { frame } = inner
  if (!frame || /^(visible|auto)$/.test(stylesOf(node)('overflow') ?? '')) return
  for (const run of runs.slice(before)) {
    if (c.cut.has(run) || !reachesOut(run, frame, tolerance)) continue
    c.cut.add(run)
    c.draft.cannot(run.where, svg.cutOff)
  }
}

/**
 * The frame inside a nested svg or a used symbol. `sized`: the use that brings it in, or the svg itself; what it does not say of width
 * and height the svg or symbol does, and what neither says is all of the frame around (SVG 2, §5.6 and §8.2).
 */
function viewport(c: Context, node: Node, sized: Node, around: Around, where: Where): Around | undefined {
  const at = node.name === 'svg' ? [lengthOf(node, 'x', 0), lengthOf(node, 'y', 0)] : [0, 0]
  const box = viewBoxOf(node)
  if (at[0] === undefined || at[1] === undefined) return percent(c, where)
  const placed = after(around.matrix, [1, 0, 0, 1, at[0], at[1]])
  const side = (name: string, all: number | undefined): number | undefined => {
    const from = [sized, node].find((n) => (n.attributes.get(name) ?? 'auto') !== 'auto')
    if (!from) return all
    const share = readLength(from.attributes.get(name)!)
    return share?.unit === '%' ? all && (share.value * all) / 100 : lengthOf(from, name, 0)
  }
  const size = [side('width', around.size[0]), side('height', around.size[1])] as const
  if (size.includes(0)) {
    c.draft.cannot(where, svg.notDisplayed)
    return undefined
  }
  const [width, height] = size
  if (width === undefined || height === undefined) return box ? percent(c, where) : { ...around, matrix: placed, size }
  const frame: Frame = { matrix: placed, width, height }
  if (!box) return { ...around, matrix: placed, size, frame }
  return { ...around, matrix: after(placed, fitted(node, box, width, height)), size: [box[2], box[3]], frame }
}

function percent(c: Context, where: Where): undefined {
  c.draft.cannot(where, svg.percent)
}

function use(c: Context, node: Node, around: Around, where: Where): undefined {
  const { uses } = around
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
  const placed: Around = { ...around, matrix: after(around.matrix, [1, 0, 0, 1, x, y]), uses: [...uses, id] }
  if (target.name !== 'symbol') return walk(c, target, placed, target.name === 'svg' ? node : target)
  framed(c, target, node, { ...placed, matrix: after(placed.matrix, transformOf(target)) }, where)
}
