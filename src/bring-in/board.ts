/**
 * A circuit board's files to a footprint (contract §2): body from the outline, screw mount from the mounting holes. What the files
 * do not say is asked for, what is not used is listed, what had to be assumed is told. Nothing here throws.
 */
import { clip, type FileProblem, MOST_LISTED, snippet } from '../../footprints/problems.ts'
import { type FootprintFile, readFootprintValue } from '../../footprints/schema.ts'
import { mm, toMm } from '../../solver/units.ts'
import { areaOf, boxOf, type Contour, chain, GAP, type Pt, roundOf, type Segment } from './board-contour.ts'
import { type BoardFile, Findings, num, Stop } from './board-findings.ts'
import { type BoardHole, sortHoles } from './board-holes.ts'
import { looksLikeExcellon, readExcellon } from './excellon.ts'
import type { DrillAnswers } from './excellon-number.ts'
import { type GerberLayer, looksLikeGerber, readGerber } from './gerber.ts'
import { type IdfBoard, type IdfLibrary, looksLikeIdf, partKey, readIdf } from './idf.ts'

export type { BoardFile } from './board-findings.ts'

/** Lengths in mm. */
export interface BoardOptions {
  readonly id: string
  readonly name?: string | undefined
  /** Of the body: board and parts on both faces. Needed where no library file gives the parts' heights. */
  readonly height?: number | undefined
  readonly mount?:
    | {
        /** Holes from this diameter on are for mounting; default 2. */
        readonly least?: number | undefined
        /** Plated holes too. */
        readonly plated?: boolean | undefined
        readonly standoff?: number | undefined
        readonly land?: number | undefined
        readonly screw?: string | undefined
      }
    | undefined
  /** For files that do not say it themselves. */
  readonly answers?: DrillAnswers | undefined
}

export type BoardResult =
  | {
      readonly ok: true
      readonly footprint: FootprintFile
      readonly report: { readonly unused: readonly string[]; readonly assumptions: readonly string[] }
    }
  | { readonly ok: false; readonly problems: readonly FileProblem[] }

/** An M2 screw's close clearance hole is 2.2 mm (ISO 273); below that hardly anything is screwed down (common practice, no source). */
const LEAST = 2
/** Common practice, no source. */
const STANDOFF = 5
const MOST_MOUNTS = 100
const MOST_FILES = 100

interface Read {
  readonly all: Findings[]
  outline?: { contours: Contour[]; findings: Findings; line: number } | undefined
  idf?: IdfBoard | undefined
  library?: IdfLibrary | undefined
  readonly holes: BoardHole[]
  readonly sources: Set<string>
}

/** Files in any order: one IDF board file (and its library, for heights), or a Gerber outline and any drill files. */
export function bringInBoard(files: readonly BoardFile[], options: BoardOptions): BoardResult {
  const own = new Findings('')
  const read: Read = { all: [own], holes: [], sources: new Set() }
  let footprint: unknown
  try {
    if (files.length === 0) own.problem(1, '', 'no file', 'an IDF board file, or a Gerber outline with its drill files')
    readAll(files.slice(0, MOST_FILES), options, read)
    if (read.all.every((f) => f.problems.length === 0)) footprint = make(read, options, own)
  } catch (e) {
    if (!(e instanceof Stop)) throw e
  }
  const problems = read.all.flatMap((f) => f.problems)
  if (problems.length > 0) return { ok: false, problems: problems.slice(0, MOST_LISTED) }
  const checked = readFootprintValue(footprint, '')
  if (!checked.ok) return { ok: false, problems: checked.problems }
  const assumptions = read.all.flatMap((f) => f.assumptions)
  return { ok: true, footprint: checked.value, report: { unused: read.all.flatMap((f) => f.unused()), assumptions } }
}

const FUNCTION = /(?:%|#@!\s*)TF\.FileFunction,([^*%]{1,200})/

function readAll(files: readonly BoardFile[], options: BoardOptions, read: Read): void {
  const layers: { file: BoardFile; findings: Findings; says: string | undefined }[] = []
  for (const given of files) {
    const file = { ...given, text: given.text.replace(/^\ufeff/, '') }
    const findings = new Findings(clip(file.name, 400))
    read.all.push(findings)
    if (looksLikeIdf(file.text)) takeIdf(file, findings, read)
    else if (looksLikeExcellon(file.text)) {
      const drill = readExcellon(file, options.answers ?? {}, findings)
      read.sources.add('drill files')
      for (const h of drill?.holes ?? []) read.holes.push({ ...h, findings })
      for (const s of drill?.slots ?? []) findings.skip(s.line, `drilled slot ${num(s.diameter)} mm wide`)
    } else if (looksLikeGerber(file.text)) {
      layers.push({ file, findings, says: FUNCTION.exec(file.text.slice(0, 100_000))?.[1]?.trim() })
    } else {
      const start = snippet(file.text.trimStart().split('\n')[0]?.trim() ?? '')
      findings.problem(1, '', start, 'an IDF 3.0, drill (Excellon) or Gerber file')
    }
  }
  takeLayers(layers, options, read)
}

function takeIdf(file: BoardFile, findings: Findings, read: Read): void {
  const idf = readIdf(file, findings)
  if (idf?.kind === 'library') read.library = idf
  if (idf?.kind !== 'board') return
  if (read.idf !== undefined) findings.problem(1, '', 'a second board file', 'the files of one board')
  read.idf = idf
  read.sources.add('an IDF 3.0 board file')
  read.outline = { contours: [...idf.loops], findings, line: idf.loops[0]?.[0]?.line ?? 1 }
  for (const h of idf.holes) read.holes.push({ ...h, findings })
}

/** Drill layers give holes; the outline is the layer that says so, or the only one that says nothing. */
function takeLayers(
  layers: readonly { file: BoardFile; findings: Findings; says: string | undefined }[],
  options: BoardOptions,
  read: Read,
): void {
  const profiles = layers.filter((l) => /^Profile\b/i.test(l.says ?? ''))
  const silent = layers.filter((l) => l.says === undefined)
  const outlines = profiles.length > 0 ? profiles : silent
  for (const l of layers) {
    if (outlines.includes(l)) continue
    const drilled = /^(Plated|NonPlated)\b/i.exec(l.says ?? '')?.[1]?.toLowerCase()
    if (drilled === undefined) l.findings.skip(1, `layer ${snippet(l.says ?? 'without a function')} is not used`)
    else takeDrillLayer(readGerber(l.file, options.answers?.units, l.findings), drilled === 'plated', l.findings, read)
  }
  if (outlines.length > 1) {
    const names = outlines.map((l) => l.file.name).join(', ')
    const found = `${outlines.length} files that may be the outline: ${names}`
    outlines[1]!.findings.problem(1, 'FileFunction', found, 'one: the layer with %TF.FileFunction,Profile,NP*%')
    return
  }
  const one = outlines[0]
  if (one === undefined) return
  if (read.outline !== undefined) {
    one.findings.problem(1, '', 'a second outline, beside the IDF board file', 'one outline')
    return
  }
  const layer = readGerber(one.file, options.answers?.units, one.findings)
  if (layer === undefined) return
  if (profiles.length === 0)
    one.findings.assume(`${one.findings.file}: the only layer that does not say what it is; taken as the outline`)
  read.sources.add('a Gerber outline')
  takeOutline(layer, one.findings, read)
}

function takeDrillLayer(layer: GerberLayer | undefined, plated: boolean, findings: Findings, read: Read): void {
  if (layer === undefined) return
  read.sources.add('drill layers')
  for (const f of layer.flashes) {
    if (f.diameter > 0) read.holes.push({ diameter: f.diameter, at: f.at, plated, line: f.line, findings })
    else findings.skip(f.line, 'flash that is no circle')
  }
  for (const s of layer.strokes) findings.skip(s.line, 'slot drawn as a stroke')
  for (const r of layer.regions) findings.skip(r[0]?.line ?? 1, 'region')
}

function takeOutline(layer: GerberLayer, findings: Findings, read: Read): void {
  const chained = chain(layer.strokes)
  const contours = [...layer.regions, ...chained.closed]
  const widest = Math.max(0, ...layer.widths)
  if (chained.tangled)
    findings.problem(1, '', 'too many ends beside one another to join', 'an outline of plain lines and arcs')
  if (widest > 0)
    findings.assume(`${findings.file}: the outline is drawn ${num(widest)} mm wide; its centre line is taken`)
  if (chained.gaps.length > 0) {
    const most = num(chained.gaps.reduce((a, b) => Math.max(a, b)))
    findings.assume(`${findings.file}: ${chained.gaps.length} gaps of up to ${most} mm in the outline were closed`)
  }
  if (chained.twice > 0) findings.skip(1, `${chained.twice} strokes that stand there twice or have no length`)
  for (const f of layer.flashes) findings.skip(f.line, 'flash in the outline')
  for (const o of chained.open)
    findings.skip(o[0]!.line, `open line of ${o.length} segment${o.length === 1 ? '' : 's'}, not part of an outline`)
  const line = chained.open[0]?.[0]?.line ?? 1
  if (contours.length === 0) {
    const found = chained.open.length === 0 ? 'nothing drawn' : openEnds(chained.open[0]!)
    findings.problem(line, 'Profile', found, `a closed outline (gaps of up to ${GAP} mm are closed)`)
  }
  read.outline = { contours, findings, line }
}

const openEnds = (path: readonly Segment[]): string => {
  const [a, b] = [path[0]!.from, path[path.length - 1]!.to]
  return `an outline that is open between (${num(a.x)}, ${num(a.y)}) and (${num(b.x)}, ${num(b.y)})`
}

function make(read: Read, options: BoardOptions, own: Findings): unknown {
  const { outline } = read
  if (outline === undefined) {
    own.problem(1, 'outline', 'no outline', 'an IDF board file, or a Gerber layer with %TF.FileFunction,Profile,NP*%')
    return undefined
  }
  const boxes = outline.contours.map((c) => boxOf(c))
  const size = boxes.map((b) => (b.x1 - b.x0) * (b.y1 - b.y0))
  // IDF says which is the outline; else it is the largest.
  const outer = read.idf === undefined ? size.reduce((best, s, i) => (s > size[best]! ? i : best), 0) : 0
  const box = boxes[outer]
  if (box === undefined || !(size[outer]! > 0)) {
    outline.findings.problem(outline.line, 'outline', 'an outline without area', 'a closed outline')
    return undefined
  }
  const place = (p: Pt): [number, number] => [toMm(mm(p.x - box.x0)), toMm(mm(p.y - box.y0))]
  outline.contours.forEach((c, i) => {
    if (i === outer || !differs(boxes[i]!, box)) return
    const b = boxes[i]!
    const line = c[0]?.line ?? outline.line
    const inside = b.x0 >= box.x0 - GAP && b.x1 <= box.x1 + GAP && b.y0 >= box.y0 - GAP && b.y1 <= box.y1 + GAP
    if (!inside)
      outline.findings.problem(line, 'outline', 'a second contour beside the outline', 'the outline of one board')
    else outline.findings.skip(line, `cut-out ${where(c, place)}`)
  })
  const contour = outline.contours[outer]!
  const share = areaOf(contour) / size[outer]!
  if (share < 0.9999) {
    outline.findings.assume(
      `${outline.findings.file}: the outline is no rectangle; the body is its bounding box, of which it fills ${num(share * 100)} %`,
    )
  }
  const least = options.mount?.least ?? LEAST
  const holes = sortHoles(read.holes, { least, plated: options.mount?.plated ?? false, box }, own)
  if (holes.length > MOST_MOUNTS) {
    own.problem(
      1,
      'mount.least',
      `${holes.length} holes of ${num(least)} mm or more`,
      `at most ${MOST_MOUNTS} mounting holes; say from which diameter on`,
    )
  }
  const height = options.height ?? heightOf(read, own)
  const standoff = options.mount?.standoff ?? STANDOFF
  if (options.mount?.standoff === undefined) own.assume(`a stand-off of ${STANDOFF} mm (common practice, no source)`)
  if (holes.length > 0) own.assume("the deck's holes are made as wide as the board's own")
  if (options.mount?.land === undefined) own.assume('no land is known for heads, washers or stand-offs: 0')
  own.assume('no mass is known: 0 g')
  const { land, screw } = options.mount ?? {}
  return {
    format: 'deckwright-footprint',
    version: 1,
    id: options.id,
    name: options.name ?? (read.idf?.name || options.id),
    source: `brought in from ${[...read.sources].sort().join(', ')}`,
    kind: 'board',
    body: {
      width: toMm(mm(box.x1 - box.x0)),
      depth: toMm(mm(box.y1 - box.y0)),
      height: height === undefined ? 0 : toMm(mm(height)),
    },
    mount: {
      kind: 'screw',
      standoff: toMm(mm(standoff)),
      holes: holes.map((h, i) => ({
        id: `h${i + 1}`,
        at: place(h.at),
        diameter: toMm(mm(h.diameter)),
        ...(land === undefined ? {} : { land }),
        ...(screw === undefined ? {} : { screw }),
      })),
    },
  }
}

const differs = (a: { x0: number; y0: number; x1: number; y1: number }, b: typeof a): boolean =>
  Math.max(Math.abs(a.x0 - b.x0), Math.abs(a.y0 - b.y0), Math.abs(a.x1 - b.x1), Math.abs(a.y1 - b.y1)) > 0.001

function where(c: Contour, place: (p: Pt) => [number, number]): string {
  const round = roundOf(c)
  if (round !== undefined) return `round, ${num(round.diameter)} mm at [${place(round.at).join(', ')}]`
  const b = boxOf(c)
  return `${num(b.x1 - b.x0)} × ${num(b.y1 - b.y0)} mm at [${place({ x: b.x0, y: b.y0 }).join(', ')}]`
}

/** Thickness and the tallest part of each face; asked for where a part's height is not known. mm */
function heightOf(read: Read, own: Findings): number | undefined {
  const ask = (found: string): undefined =>
    own.problem(1, 'height', found, 'the height of the board with its parts, in mm') as undefined
  const { idf, library } = read
  if (idf === undefined || library === undefined) return ask('no height in the files')
  let [top, bottom] = [0, 0]
  let unknown = 0
  for (const p of idf.parts) {
    const h = library.heights.get(partKey(p.package, p.number))
    if (h === undefined) unknown++
    else if (p.side === 'TOP') top = Math.max(top, p.lift + h)
    else bottom = Math.max(bottom, p.lift + h)
  }
  if (unknown > 0) return ask(`${unknown} of ${idf.parts.length} parts without a height in the library file`)
  if (idf.parts.length === 0) return ask('no placed parts')
  own.assume(`the height is ${num(idf.thickness)} mm of board, ${num(top)} mm over and ${num(bottom)} mm under it`)
  return idf.thickness + top + bottom
}
