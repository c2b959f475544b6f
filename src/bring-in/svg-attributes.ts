/** Transforms, lengths, view boxes and the few styles that decide whether something is drawn. */
import { snippet } from '../../footprints/problems.ts'
import { Refused } from './contours.ts'
import { after, type Matrix } from './flatten.ts'
import type { Node } from './svg-tree.ts'
import { isUnit, readLength, UNITS } from './units.ts'
import { svg } from './words-drawings.ts'

export const IDENTITY: Matrix = [1, 0, 0, 1, 0, 0]

/** The element's transform (SVG 2, §8.5; CSS Transforms 1, §13). Throws Refused where it is none. */
export function transformOf(node: Node): Matrix {
  const text = node.attributes.get('transform')
  if (text === undefined) return IDENTITY
  const refuse = (): never => {
    throw new Refused(snippet(text), svg.transform, node.line, 'transform')
  }
  const step = /[\s,]*(translate|scale|rotate|skewX|skewY|matrix)\s*\(([^()]*)\)/y
  let matrix = IDENTITY
  let at = 0
  while (/\S/.test(text.slice(at).replace(/^[\s,]+/, ''))) {
    step.lastIndex = at
    const found = step.exec(text)
    if (!found) return refuse()
    at = step.lastIndex
    const numbers = numbersIn(found[2]!)
    const one = numbers && oneTransform(found[1]!, numbers)
    matrix = after(matrix, one ?? refuse())
  }
  return matrix
}

/** One or more numbers, with a comma, a space or nothing between them (`0-0`, `.5.5`) where they can be told apart: the grammar of CSS Transforms 1, §12. */
function numbersIn(text: string): number[] | undefined {
  const rest = text.trim()
  const form = /(\s*,?\s*)([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)(?:deg)?/y
  const numbers: number[] = []
  for (let at = 0; at < rest.length || at === 0; at = form.lastIndex) {
    form.lastIndex = at
    const found = form.exec(rest)
    const number = Number(found?.[2])
    if (!found || !Number.isFinite(number) || (at === 0 && found[1] !== '')) return undefined
    numbers.push(number)
  }
  return numbers
}

function oneTransform(name: string, n: readonly number[]): Matrix | undefined {
  const [a = 0, b, c] = n
  switch (name) {
    case 'translate':
      return n.length <= 2 ? [1, 0, 0, 1, a, b ?? 0] : undefined
    case 'scale':
      return n.length <= 2 ? [a, 0, 0, b ?? a, 0, 0] : undefined
    case 'rotate': {
      if (n.length !== 1 && n.length !== 3) return undefined
      const [cos, sin] = turned(a)
      const [x, y] = [b ?? 0, c ?? 0]
      return [cos, sin, -sin, cos, x - cos * x + sin * y, y - sin * x - cos * y]
    }
    case 'skewX':
      return n.length === 1 ? [1, 0, Math.tan((a * Math.PI) / 180), 1, 0, 0] : undefined
    case 'skewY':
      return n.length === 1 ? [1, Math.tan((a * Math.PI) / 180), 0, 1, 0, 0] : undefined
    default:
      return n.length === 6 ? (n as unknown as Matrix) : undefined
  }
}

/** Cosine and sine, exact at quarter turns. */
function turned(degrees: number): [number, number] {
  const quarter = ((((degrees / 90) % 4) + 4) % 4) as number
  if (quarter === 0) return [1, 0]
  if (quarter === 1) return [0, 1]
  if (quarter === 2) return [-1, 0]
  if (quarter === 3) return [0, -1]
  return [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)]
}

/** A length in user units; `undefined` for a share in per cent, which has no size of its own. Throws Refused for no length. */
export function lengthOf(node: Node, name: string, otherwise: number): number | undefined {
  const text = node.attributes.get(name)
  if (text === undefined || text === 'auto') return otherwise
  const length = readLength(text)
  if (length && length.unit === '') return length.value
  if (length && isUnit(length.unit)) return (length.value * UNITS[length.unit]) / UNITS.px
  if (length && length.unit === '%') return undefined
  throw new Refused(snippet(text), svg.length, node.line, name)
}

/** [x, y, width, height]. Throws Refused. */
export function viewBoxOf(node: Node): readonly [number, number, number, number] | undefined {
  const text = node.attributes.get('viewBox')
  if (text === undefined) return undefined
  const n = text
    .trim()
    .split(/[\s,]+/)
    .map((v) => readLength(v))
  const [x, y, w, h] = n.map((v) => (v?.unit === '' ? v.value : Number.NaN))
  if (n.length === 4 && w! > 0 && h! > 0 && Number.isFinite(x! + y!)) return [x!, y!, w!, h!]
  throw new Refused(snippet(text), svg.viewBox, node.line, 'viewBox')
}

/** From a view box into a width and height (SVG 2, §8.2 and §8.6). */
export function fitted(
  node: Node,
  [x, y, w, h]: readonly [number, number, number, number],
  width: number,
  height: number,
): Matrix {
  const [align = '', meet] = (node.attributes.get('preserveAspectRatio') ?? 'xMidYMid').trim().split(/\s+/)
  let [sx, sy] = [width / w, height / h]
  if (align !== 'none') {
    sx = meet === 'slice' ? Math.max(sx, sy) : Math.min(sx, sy)
    // Not to let a rounded height shrink the width: they differ by less than a part in a million.
    if (Math.abs(width / w - height / h) < 1e-6 * sx) sx = width / w
    sy = sx
  }
  const share = (axis: string): number => {
    const found = new RegExp(`${axis}(Min|Mid|Max)`).exec(align)?.[1]
    return found === 'Max' ? 1 : found === 'Mid' ? 0.5 : 0
  }
  const [left, top] = align === 'none' ? [0, 0] : [share('x') * (width - w * sx), share('Y') * (height - h * sy)]
  return [sx, 0, 0, sy, left - x * sx, top - y * sy]
}

/** By a property's name, in small letters, what the element itself says: key words in small letters too. */
export type Styles = (name: string) => string | undefined

/**
 * The declarations of the style attribute, else the attribute of that name. Comments are nothing, names and key words may be in capitals
 * (CSS Syntax 3, CSS Values 4); of several declarations the last holds, or the last of those marked as important (CSS Cascade 4,
 * §6), and an attribute marked so is none (SVG 2, §6.6). From memory, checked in a renderer and a browser.
 */
export function stylesOf(node: Node): Styles {
  const own = declarations(node)
  return (name) => {
    const attribute = node.attributes.get(name)?.trim().toLowerCase()
    return own.get(name)?.value ?? (attribute !== undefined && isValue(name, attribute) ? attribute : undefined)
  }
}

const WIDE = 'inherit|initial|unset|revert|revert-layer'
const INNER = 'flow|flow-root|table|flex|grid|ruby|math'
const SHOWN = new RegExp(
  `^(${WIDE}|none|contents|list-item|run-in|compact|marker|inline-(block|table|flex|grid)|table-(row|cell|column|caption|(row|header|footer|column)-group)|ruby-(base|text)(-container)?|(block|inline)?( ?(${INNER}))?)$`,
)
const SEEN = new RegExp(`^(${WIDE}|visible|hidden|collapse)$`)

/** A declaration whose value is none is dropped, and what stood before it holds (CSS Syntax 3; the key words of CSS Display 3). */
const isValue = (name: string, value: string): boolean =>
  !value.includes('!') &&
  value !== '' &&
  (name === 'display' ? SHOWN.test(value.replace(/\s+/g, ' ')) : name === 'visibility' ? SEEN.test(value) : true)

function declarations(node: Node): Map<string, { readonly value: string; readonly important: boolean }> {
  const own = new Map<string, { readonly value: string; readonly important: boolean }>()
  const style = (node.attributes.get('style') ?? '').replace(/\/\*[\s\S]*?(?:\*\/|$)/g, ' ')
  for (const part of style.split(';')) {
    const colon = part.indexOf(':')
    if (colon < 1) continue
    const name = part.slice(0, colon).trim().toLowerCase()
    const said = part.slice(colon + 1).toLowerCase()
    const mark = /!\s*important\s*$/.exec(said)
    const value = said.slice(0, mark?.index).trim()
    if (isValue(name, value) && (mark || !own.get(name)?.important)) own.set(name, { value, important: mark !== null })
  }
  return own
}

/** What moves an element, and what sizes a shape or a frame. As attributes these are read; in a style (CSS Transforms 1 and 2; SVG 2, §7) they are not followed. */
const MOVES = /^(transform[a-z-]*|translate|rotate|scale)$/
const SIZES = /^(x|y|cx|cy|r|rx|ry|width|height|d)$/

/** The first property of the style attribute that would change where the element is or, where it has a size of its own, how large. */
export const geometrySetBy = (node: Node, sized: boolean): string | undefined =>
  node.attributes.has('style')
    ? [...declarations(node).keys()].find((name) => MOVES.test(name) || (sized && SIZES.test(name)))
    : undefined
