/**
 * Board files in the Intermediate Data Format: "Intermediate Data Format, Mechanical Data Exchange Specification for the Design
 * and Analysis of Printed Wiring Assemblies", version 3.0, revision 1 (1996): §3.1 header, §3.2 board outline, drilled holes,
 * component placement; library files for the heights of parts. Section numbers 3.1 and 3.2 were read in its contents; the
 * records' fields were checked against its sample file, the rest is from memory.
 */
import { snippet } from '../../footprints/problems.ts'
import { circle, distance, GAP, type Segment } from './board-contour.ts'
import { type BoardFile, type Findings, guarded, INCH, MOST_SEGMENTS } from './board-findings.ts'
import { num } from './words.ts'
import { idf } from './words-boards.ts'

export interface IdfHole {
  readonly diameter: number
  readonly at: { readonly x: number; readonly y: number }
  readonly plated: boolean
  /** PIN, VIA, MTG, TOOL or another word; upper case. */
  readonly type: string
  readonly line: number
}

/** A board file: mm. `loops`: the first is the outline, the others are cut-outs. */
export interface IdfBoard {
  readonly kind: 'board'
  readonly name: string
  readonly thickness: number
  readonly loops: readonly (readonly Segment[])[]
  readonly holes: readonly IdfHole[]
  readonly parts: readonly {
    readonly package: string
    readonly number: string
    readonly lift: number
    readonly side: string
  }[]
}

/** A library file: heights in mm over the board by package and part number. */
export interface IdfLibrary {
  readonly kind: 'library'
  readonly heights: ReadonlyMap<string, number>
}

interface Record_ {
  readonly fields: readonly string[]
  readonly line: number
}

interface Section {
  readonly name: string
  readonly line: number
  /** What stands after the section's name, e.g. the owner. */
  readonly head: readonly string[]
  readonly records: readonly Record_[]
}

export const partKey = (name: string, number: string): string => JSON.stringify([name, number])
const THOU = INCH / 1000
const NOT_USED =
  /^\.(OTHER_OUTLINE|ROUTE_OUTLINE|PLACE_OUTLINE|ROUTE_KEEPOUT|VIA_KEEPOUT|PLACE_KEEPOUT|PLACE_REGION|NOTES)$/

/** True where the text begins as such a file does. */
export const looksLikeIdf = (text: string): boolean =>
  /^(?:[ \t]*(?:#[^\n]*)?\n)*[ \t]*\.HEADER\b/i.test(text.slice(0, 20_000))

export const readIdf = (file: BoardFile, findings: Findings): IdfBoard | IdfLibrary | undefined =>
  guarded(file, findings, (text) => {
    const sections = split(text, findings)
    const header = sections[0]
    if (header?.name !== '.HEADER') return findings.stop(1, '.HEADER', header?.name ?? idf.nothing, idf.headerFirst)
    const [first, second] = header.records
    const kind = first?.fields[0]?.toUpperCase()
    if (kind === 'PANEL_FILE') {
      return findings.stop(first!.line, '.HEADER', idf.panel, idf.boardFile)
    }
    if (first === undefined || (kind !== 'BOARD_FILE' && kind !== 'LIBRARY_FILE')) {
      const line = first?.line ?? header.line
      return findings.stop(line, '.HEADER', snippet(first?.fields[0]), idf.boardOrLibrary)
    }
    if (Number(first.fields[1]) !== 3) {
      return findings.stop(first.line, '.HEADER', idf.version(snippet(first.fields[1])), idf.version3)
    }
    if (kind === 'LIBRARY_FILE') return library(sections.slice(1), findings)
    const scale = unitOf(second?.fields[1], second?.line ?? header.line, findings)
    return board(sections.slice(1), second?.fields[0] ?? '', scale, findings)
  })

function unitOf(word: string | undefined, line: number, findings: Findings): number {
  const unit = word?.toUpperCase()
  if (unit === 'MM') return 1
  if (unit === 'THOU') return THOU
  return findings.stop(line, '.HEADER', idf.unit(snippet(word)), idf.mmOrThou)
}

function split(text: string, findings: Findings): Section[] {
  const sections: Section[] = []
  let open: { name: string; line: number; head: string[]; records: Record_[] } | undefined
  let line = 0
  for (const raw of text.split('\n')) {
    line++
    const trimmed = raw.trim()
    if (trimmed === '' || trimmed.startsWith('#')) continue
    const fields = fieldsOf(trimmed, line, findings)
    const word = fields[0]!.toUpperCase()
    if (!/^\.[A-Z_]+$/.test(word)) {
      if (open === undefined) findings.problem(line, '', snippet(trimmed), idf.sectionStart)
      else open.records.push({ fields, line })
      continue
    }
    if (word.startsWith('.END_')) {
      const name = `.${word.slice(5)}`
      if (open?.name !== name)
        findings.stop(line, open?.name ?? '', word, open ? `.END_${open.name.slice(1)}` : idf.section)
      else sections.push(open)
      open = undefined
      continue
    }
    if (open !== undefined) findings.stop(line, open.name, word, idf.endFirst(open.name.slice(1)))
    open = { name: word, line, head: fields.slice(1), records: [] }
  }
  if (open !== undefined) findings.stop(line, open.name, idf.fileEnd, `.END_${open.name.slice(1)}`)
  return sections
}

/** Fields are separated by blanks; one with blanks in it stands in double quotes. */
function fieldsOf(text: string, line: number, findings: Findings): string[] {
  const fields: string[] = []
  const word = /\s*(?:"([^"]*)"|([^\s"]\S*))/y
  let end = 0
  while (end < text.length) {
    word.lastIndex = end
    const m = word.exec(text)
    if (m === null) findings.stop(line, '', snippet(text.slice(end)), idf.quoteAtEnd)
    fields.push(m![1] ?? m![2]!)
    end = word.lastIndex
  }
  return fields
}

function numberOf(field: string | undefined, what: string, line: number, section: string, findings: Findings): number {
  const value = field !== undefined && /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d{1,3})?$/.test(field) ? Number(field) : NaN
  if (!(Math.abs(value) <= 1e7)) {
    findings.problem(line, section, snippet(field), idf.number(what))
    return 0
  }
  return value
}

function board(sections: readonly Section[], name: string, scale: number, findings: Findings): IdfBoard {
  let outline: Section | undefined
  const holes: IdfHole[] = []
  const parts: IdfBoard['parts'][number][] = []
  for (const s of sections) {
    if (s.name === '.BOARD_OUTLINE') {
      if (outline !== undefined) findings.problem(s.line, s.name, idf.secondOutline, idf.oneOutline)
      outline ??= s
    } else if (s.name === '.DRILLED_HOLES') {
      for (const r of s.records) holes.push(hole(r, scale, findings))
      if (holes.length > MOST_SEGMENTS) findings.stop(s.line, s.name, idf.moreHoles, idf.atMostHoles(MOST_SEGMENTS))
    } else if (s.name === '.PLACEMENT') parts.push(...placed(s, scale, findings))
    else {
      findings.skip(s.line, NOT_USED.test(s.name) ? idf.sectionUnused(s.name) : idf.sectionUnknown(s.name))
    }
  }
  if (outline === undefined) return findings.stop(1, '.BOARD_OUTLINE', idf.nothing, idf.outlineSection)
  const [thick, ...points] = outline.records
  const line = thick?.line ?? outline.line
  if (thick === undefined || thick.fields.length !== 1) {
    return findings.stop(line, outline.name, snippet(thick?.fields.join(' ')), idf.thicknessAlone)
  }
  const thickness = numberOf(thick.fields[0], idf.thickness, line, outline.name, findings) * scale
  if (thickness < 0) findings.problem(line, outline.name, num(thickness), idf.thicknessFrom0)
  return { kind: 'board', name, thickness, loops: loops(points, scale, outline, findings), holes, parts }
}

function hole(r: Record_, scale: number, findings: Findings): IdfHole {
  const at = '.DRILLED_HOLES'
  const [d, x, y, plating, , type] = r.fields
  const diameter = numberOf(d, idf.diameter, r.line, at, findings) * scale
  if (diameter <= 0) findings.problem(r.line, at, snippet(d), idf.diameterAbove0)
  const style = plating?.toUpperCase()
  if (style !== 'PTH' && style !== 'NPTH') findings.problem(r.line, at, snippet(plating), idf.plating)
  if (type === undefined) findings.problem(r.line, at, idf.nothing, idf.holeType)
  const px = numberOf(x, 'x', r.line, at, findings) * scale
  const py = numberOf(y, 'y', r.line, at, findings) * scale
  return { diameter, at: { x: px, y: py }, plated: style === 'PTH', type: type?.toUpperCase() ?? '', line: r.line }
}

/** Two records a part: package, part number, name; then x, y, mounting offset, rotation, side, status. */
function placed(s: Section, scale: number, findings: Findings): IdfBoard['parts'][number][] {
  const parts: IdfBoard['parts'][number][] = []
  for (let i = 0; i < s.records.length; i += 2) {
    const [what, where] = [s.records[i]!, s.records[i + 1]]
    if (where === undefined || what.fields.length < 2 || where.fields.length < 5) {
      const line = where?.line ?? what.line
      findings.stop(line, s.name, snippet((where ?? what).fields.join(' ')), idf.twoLines)
    }
    const side = where!.fields[4]!.toUpperCase()
    if (side !== 'TOP' && side !== 'BOTTOM') findings.problem(where!.line, s.name, snippet(side), idf.side)
    const lift = numberOf(where!.fields[2], idf.mountingOffset, where!.line, s.name, findings) * scale
    parts.push({ package: what.fields[0]!, number: what.fields[1]!, lift, side })
  }
  return parts
}

/**
 * Points `label x y angle`: label 0 is the outline, others are cut-outs; the angle is that of the arc that ends there, positive
 * anticlockwise; 360 is a circle whose centre was the point before.
 */
function loops(points: readonly Record_[], scale: number, outline: Section, findings: Findings): Segment[][] {
  const at = outline.name
  const byLabel = new Map<string, { x: number; y: number; angle: number; line: number }[]>()
  for (const { fields, line } of points) {
    if (fields.length !== 4) findings.stop(line, at, snippet(fields.join(' ')), idf.loopFields)
    const label = fields[0]!
    if (!/^\d{1,6}$/.test(label)) findings.problem(line, at, snippet(label), idf.loopLabel)
    const [x, y] = [1, 2].map((i) => numberOf(fields[i], 'xy'[i - 1]!, line, at, findings) * scale)
    const angle = numberOf(fields[3], idf.includedAngle, line, at, findings)
    if (Math.abs(angle) > 360) findings.problem(line, at, snippet(fields[3]), idf.angle)
    const list = byLabel.get(label) ?? []
    byLabel.set(label, list)
    list.push({ x: x!, y: y!, angle, line })
  }
  if (points.length > MOST_SEGMENTS) findings.stop(outline.line, at, idf.morePoints, idf.atMost(MOST_SEGMENTS))
  if (!byLabel.has('0')) findings.stop(outline.line, at, idf.noLoop0, idf.loop0)
  const labels = [...byLabel.keys()].sort((a, b) => Number(a) - Number(b))
  return labels.map((label) => loop(label, byLabel.get(label)!, at, findings))
}

function loop(
  label: string,
  list: readonly { x: number; y: number; angle: number; line: number }[],
  at: string,
  findings: Findings,
): Segment[] {
  const first = list[0]!
  const segments: Segment[] = []
  for (let i = 1; i < list.length; i++) {
    const [from, to] = [list[i - 1]!, list[i]!]
    if (Math.abs(to.angle) === 360) {
      if (list.length !== 2) findings.problem(to.line, at, idf.circleWithMore(label), idf.circleAlone)
      else if (distance(from, to) <= 0) findings.problem(to.line, at, idf.noRadius, idf.circlePoints)
      return circle(from, distance(from, to), to.line)
    }
    segments.push({ from, to, bulge: Math.tan((to.angle * Math.PI) / 720), line: to.line })
  }
  if (segments.length < 2) {
    findings.problem(first.line, at, idf.shortLoop(label, list.length), idf.closedLoop)
    return []
  }
  const last = list[list.length - 1]!
  const gap = distance(first, last)
  if (gap > GAP) {
    const ends = idf.openLoop(label, gap)
    findings.problem(last.line, at, ends, idf.loopEnd)
  } else if (gap > 0.001) {
    findings.assume(idf.gapClosed(findings.file, last.line, gap, label))
    segments.push({ from: last, to: first, bulge: 0, line: last.line })
  }
  return segments
}

/** Parts of a library: a record with geometry name, part number, unit and height, then outlines and properties. */
function library(sections: readonly Section[], findings: Findings): IdfLibrary {
  const heights = new Map<string, number>()
  for (const s of sections) {
    if (s.name !== '.ELECTRICAL' && s.name !== '.MECHANICAL') {
      findings.skip(s.line, idf.sectionUnused(s.name))
      continue
    }
    const r = s.records[0]
    if (r === undefined || r.fields.length < 4) {
      findings.stop(r?.line ?? s.line, s.name, snippet(r?.fields.join(' ')), idf.partFields)
    }
    const [name, number, unit, height] = r!.fields
    const value = numberOf(height, idf.height, r!.line, s.name, findings) * unitOf(unit, r!.line, findings)
    heights.set(partKey(name!, number!), value)
  }
  return { kind: 'library', heights }
}
