/**
 * Writes a template as DXF, R2000 or R12: millimetres, y to the front as in the project's frame (no flip), one layer a
 * group. A writer of our own, because the one at hand knows later versions alone, leaves text beyond ASCII unescaped, and
 * names a maker in the file's head.
 *
 * Sources: DXF reference (group codes of CIRCLE, ARC, LINE, LWPOLYLINE, POLYLINE, VERTEX, TEXT; header variables).
 * Circles are CIRCLE, a single open arc is ARC, everything else closed is a polyline with bulges: LWPOLYLINE, which R12
 * does not know, or POLYLINE there.
 */
import { type Line, segmentsOfOpen } from './contour.ts'
import type { Stroke, Template, Text } from './drawing.ts'
import { after, before, type DxfVersion } from './dxf-frame.ts'
import { plainLetters } from './letters.ts'
import type { GroupId } from './svg.ts'

export type { DxfVersion } from './dxf-frame.ts'

export const dxfVersions: readonly DxfVersion[] = ['r2000', 'r12']

export interface DxfOptions {
  /** Default `r2000`. */
  readonly version?: DxfVersion
}

/** Layers in the order of the groups, with their colour index (1 red, 5 blue, 8 grey, 3 green, 7 black or white). */
const dxfLayers: Readonly<Record<GroupId, { readonly name: string; readonly colour: number }>> = {
  cut: { name: 'CUT', colour: 1 },
  drill: { name: 'DRILL', colour: 5 },
  existing: { name: 'EXISTING', colour: 8 },
  mark: { name: 'MARK', colour: 3 },
  notes: { name: 'NOTES', colour: 7 },
}

/** Capitals of common fonts stand 0.7 of the font's height; DXF asks for the capitals' height. */
const CAPITALS = 0.7

/** One DXF document, plain ASCII. */
export function dxf(t: Template, options: DxfOptions = {}): string {
  const version = options.version ?? 'r2000'
  const out = new Entities(version)
  for (const c of t.cut) out.line(c, dxfLayers.cut.name)
  for (const c of t.drill) out.line(c, dxfLayers.drill.name)
  for (const c of t.existing) out.line(c, dxfLayers.existing.name)
  for (const s of t.mark) out.stroke(s, dxfLayers.mark.name)
  for (const s of t.notes.strokes) out.stroke(s, dxfLayers.notes.name)
  for (const text of t.notes.texts) out.text(text, dxfLayers.notes.name)
  const layers = Object.values(dxfLayers)
  return `${[...before(version, layers, t.view, out.next), ...out.lines, ...after(version)].join('\n')}\n`
}

type Point = { readonly x: number; readonly y: number; readonly bulge: number }

/** Collects entities as lines of the file. */
class Entities {
  readonly lines: string[] = []
  /** The next free handle; those below stand in the frame around the entities. */
  next = 0x100
  private readonly version: DxfVersion

  constructor(version: DxfVersion) {
    this.version = version
  }

  line(c: Line, layer: string, dashed = false): void {
    if (c.kind === 'circle') {
      this.start('CIRCLE', layer, 'AcDbCircle', dashed)
      this.point(c.cx, c.cy)
      this.put(40, digits(c.r))
    } else if (c.kind === 'path') this.polyline(c.points, true, layer, dashed)
    else this.open(c.points, layer)
  }

  stroke(s: Stroke, layer: string): void {
    if (s.kind === 'contour') this.line(s.contour, layer, s.dashed)
    else if (s.kind === 'open') this.open(s.points, layer)
    else
      this.open(
        s.points.map(([x, y]) => ({ x, y, bulge: 0 })),
        layer,
      )
  }

  text(t: Text, layer: string): void {
    this.start('TEXT', layer, 'AcDbText')
    this.point(t.x, t.y)
    this.put(40, digits(t.size * CAPITALS))
    this.put(1, words(t.text, this.version))
    if (this.version === 'r2000') {
      this.put(7, 'Standard')
      this.put(100, 'AcDbText')
    }
  }

  /** One segment as LINE or ARC, more as an open polyline. */
  private open(points: readonly Point[], layer: string): void {
    const segments = segmentsOfOpen(points)
    const [only] = segments
    if (segments.length !== 1 || !only) {
      this.polyline(points, false, layer)
      return
    }
    if (!only.arc) {
      this.start('LINE', layer, 'AcDbLine')
      this.point(only.a.x, only.a.y)
      this.point(only.b.x, only.b.y, 1)
      return
    }
    // ARC runs anticlockwise.
    const { cx, cy, r, sweep } = only.arc
    const degrees = (p: Point): string => angle((Math.atan2(p.y - cy, p.x - cx) * 180) / Math.PI)
    this.start('ARC', layer, 'AcDbCircle')
    this.point(cx, cy)
    this.put(40, digits(r))
    if (this.version === 'r2000') this.put(100, 'AcDbArc')
    this.put(50, degrees(sweep > 0 ? only.a : only.b))
    this.put(51, degrees(sweep > 0 ? only.b : only.a))
  }

  private polyline(points: readonly Point[], closed: boolean, layer: string, dashed = false): void {
    if (this.version === 'r2000') {
      this.start('LWPOLYLINE', layer, 'AcDbPolyline', dashed)
      this.put(90, points.length)
      this.put(70, closed ? 1 : 0)
      points.forEach((p, i) => {
        this.put(10, digits(p.x))
        this.put(20, digits(p.y))
        if (p.bulge !== 0 && (closed || i < points.length - 1)) this.put(42, bulge(p.bulge))
      })
      return
    }
    this.start('POLYLINE', layer, '', dashed)
    this.put(66, 1)
    this.point(0, 0)
    this.put(70, closed ? 1 : 0)
    points.forEach((p, i) => {
      this.start('VERTEX', layer, '')
      this.point(p.x, p.y)
      if (p.bulge !== 0 && (closed || i < points.length - 1)) this.put(42, bulge(p.bulge))
    })
    this.start('SEQEND', layer, '')
  }

  private start(kind: string, layer: string, marker: string, dashed = false): void {
    this.put(0, kind)
    if (this.version === 'r2000') {
      this.put(5, (this.next++).toString(16).toUpperCase())
      this.put(100, 'AcDbEntity')
    }
    this.put(8, layer)
    if (dashed) this.put(6, 'DASHED')
    if (this.version === 'r2000') this.put(100, marker)
  }

  private point(x: number, y: number, which = 0): void {
    this.put(10 + which, digits(x))
    this.put(20 + which, digits(y))
    this.put(30 + which, '0.0')
  }

  private put(code: number, value: string | number): void {
    this.lines.push(String(code).padStart(3), String(value))
  }
}

/** Millimetres to a nanometre, always with a point, no exponent, no negative zero. */
export function digits(value: number, places = 6): string {
  const text = value.toFixed(places).replace(/0+$/, '').replace(/\.$/, '.0')
  return text === '-0.0' ? '0.0' : text
}

const bulge = (value: number): string => digits(value, 12)
const angle = (degrees: number): string => digits(degrees < 0 ? degrees + 360 : degrees, 9)

/**
 * Text of one line, in ASCII. What has a control sequence or a plain look-alike takes it, because not every reader knows
 * `\U+hhhh`, which R2000 writes for all other signs; in R12, which has no such thing, accents fall away. Signs that DXF
 * would take for a command are made harmless.
 */
export function words(text: string, version: DxfVersion): string {
  // `%%` starts a control sequence in every version, so a blank goes between.
  const calm = text.replace(/\p{Cc}/gu, ' ').replace(/%(?=%)/g, '% ')
  return [...(version === 'r12' ? plainLetters(calm) : calm)]
    .map((sign) => {
      if (/[\u0020-\u007e]/.test(sign) && sign !== '^' && (sign !== '\\' || version === 'r12')) return sign
      const known = plain[sign]
      if (known !== undefined) return known
      return version === 'r12' ? '?' : coded(sign)
    })
    .join('')
}

/** Signs beyond four digits go in two halves, as in UTF-16. */
const coded = (sign: string): string =>
  [...Array(sign.length).keys()]
    .map((i) => `\\U+${sign.charCodeAt(i).toString(16).toUpperCase().padStart(4, '0')}`)
    .join('')

const plain: Readonly<Record<string, string>> = {
  '⌀': '%%c',
  '°': '%%d',
  '±': '%%p',
  '×': 'x',
  '–': '-',
  '·': '.',
  µ: 'u',
  Ω: 'Ohm',
  '→': '->',
  '^': '^ ',
}
