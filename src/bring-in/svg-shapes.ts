/** Basic shapes of SVG (SVG 2, §10). */
import { snippet } from '../../footprints/problems.ts'
import { type Draft, Refused, type Where } from './contours.ts'
import { ellipse, type Matrix, Pen } from './flatten.ts'
import { lengthOf } from './svg-attributes.ts'
import type { Node } from './svg-tree.ts'
import { svg } from './words-drawings.ts'

export const SHAPES: ReadonlySet<string> = new Set(['rect', 'circle', 'ellipse', 'line', 'polyline', 'polygon'])

/** Draws one, or lists it. Throws Refused for lengths that are none. */
export function drawShape(node: Node, draft: Draft, matrix: Matrix, where: Where): undefined {
  const lengths = (...names: readonly string[]): number[] | undefined => {
    const all = names.map((n) => lengthOf(node, n, 0))
    return all.every((v) => v !== undefined) ? (all as number[]) : undefined
  }
  const percent = (): undefined => draft.cannot(where, svg.percent)
  switch (node.name) {
    case 'rect':
      return rect(node, draft, matrix, where)
    case 'circle':
    case 'ellipse': {
      const [a, b] = node.name === 'circle' ? ['r', 'r'] : ['rx', 'ry']
      const known = lengths('cx', 'cy', a!, b!)
      if (!known) return percent()
      const [cx, cy, rx, ry] = known as [number, number, number, number]
      if (!(rx > 0 && ry > 0)) return draft.cannot(where, svg.radius(Math.min(rx, ry)))
      return ellipse(draft, matrix, where, [cx, cy], [rx, 0], [0, ry])
    }
    case 'line': {
      const known = lengths('x1', 'y1', 'x2', 'y2')
      if (!known) return percent()
      const pen = new Pen(draft, matrix, where)
      pen.moveTo(known[0]!, known[1]!)
      pen.lineTo(known[2]!, known[3]!)
      return pen.end(false)
    }
    default:
      return corners(node, draft, matrix, where)
  }
}

function corners(node: Node, draft: Draft, matrix: Matrix, where: Where): undefined {
  const text = (node.attributes.get('points') ?? '').trim()
  const form = /[\s,]*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)/y
  const numbers: number[] = []
  for (let at = 0; at < text.length; at = form.lastIndex) {
    form.lastIndex = at
    const found = form.exec(text)
    if (!found) throw new Refused(snippet(text.slice(at, at + 20)), svg.number, node.line, svg.pointsSign(at + 1))
    numbers.push(Number(found[1]))
  }
  if (numbers.length % 2 !== 0) {
    throw new Refused(svg.numbers(numbers.length), svg.pairs, node.line, 'points')
  }
  if (numbers.length < 4) return draft.cannot(where, svg.fewCorners)
  const pen = new Pen(draft, matrix, where)
  pen.moveTo(numbers[0]!, numbers[1]!)
  for (let i = 2; i < numbers.length; i += 2) pen.lineTo(numbers[i]!, numbers[i + 1]!)
  if (node.name === 'polygon') pen.close()
  else pen.end(false)
}

function rect(node: Node, draft: Draft, matrix: Matrix, where: Where): undefined {
  const side = (name: string): number | undefined => lengthOf(node, name, 0)
  const [x, y, w, h] = [side('x'), side('y'), side('width'), side('height')]
  const [rx0, ry0] = [lengthOf(node, 'rx', Number.NaN), lengthOf(node, 'ry', Number.NaN)]
  if ([x, y, w, h, rx0, ry0].includes(undefined)) return draft.cannot(where, svg.percent)
  if (!(w! > 0 && h! > 0)) return draft.cannot(where, svg.size(w!, h!))
  // One radius that is not given is as large as the other; none may pass half its side.
  const [a, b] = [rx0!, ry0!].map((r) => (r < 0 ? Number.NaN : r)) as [number, number]
  const rx = Math.min(Number.isNaN(a) ? (Number.isNaN(b) ? 0 : b) : a, w! / 2)
  const ry = Math.min(Number.isNaN(b) ? (Number.isNaN(a) ? 0 : a) : b, h! / 2)
  const [X, Y] = [x! + w!, y! + h!]
  const pen = new Pen(draft, matrix, where)
  if (rx === 0 || ry === 0) {
    pen.moveTo(x!, y!)
    pen.lineTo(X, y!)
    pen.lineTo(X, Y)
    pen.lineTo(x!, Y)
    return pen.close()
  }
  const quarter = Math.PI / 2
  const round = (cx: number, cy: number, k: number, to: readonly [number, number]): void =>
    pen.ellipseTo([cx, cy], [rx, 0], [0, ry], k * quarter, (k + 1) * quarter, to)
  const lineTo = (to: number, from: number, px: number, py: number): undefined => {
    if (to !== from) pen.lineTo(px, py)
  }
  pen.moveTo(x! + rx, y!)
  lineTo(X - rx, x! + rx, X - rx, y!)
  round(X - rx, y! + ry, 3, [X, y! + ry])
  lineTo(Y - ry, y! + ry, X, Y - ry)
  round(X - rx, Y - ry, 0, [X - rx, Y])
  lineTo(x! + rx, X - rx, x! + rx, Y)
  round(x! + rx, Y - ry, 1, [x!, Y - ry])
  lineTo(y! + ry, Y - ry, x!, y! + ry)
  round(x! + rx, y! + ry, 2, [x! + rx, y!])
  pen.close()
}
