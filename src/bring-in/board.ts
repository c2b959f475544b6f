/**
 * A circuit board's files to a footprint (contract §2): body from the outline, screw mount from the mounting holes. What the files
 * do not say is asked for, what is not used is listed, what had to be assumed is told. Nothing here throws.
 */
import { clip, type FileProblem, MOST_LISTED, snippet } from '../../footprints/problems.ts'
import { type FootprintFile, readFootprintValue } from '../../footprints/schema.ts'
import { mm, toMm } from '../../solver/units.ts'
import { areaOf, boxOf, type Contour, chain, GAP, type Pt, roundOf, type Segment } from './board-contour.ts'
import { type BoardFile, Findings, Stop } from './board-findings.ts'
import { type BoardHole, sortHoles } from './board-holes.ts'
import { evened } from './deck-text.ts'
import { looksLikeExcellon, readExcellon } from './excellon.ts'
import type { DrillAnswers } from './excellon-number.ts'
import { type GerberLayer, looksLikeGerber, readGerber } from './gerber.ts'
import { type IdfBoard, type IdfLibrary, looksLikeIdf, partKey, readIdf } from './idf.ts'
import { board } from './words-boards.ts'

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
    if (files.length === 0) own.problem(1, '', board.noFile, board.files)
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
    const file = { ...given, text: evened(given.text) }
    const findings = new Findings(clip(file.name, 400))
    read.all.push(findings)
    if (looksLikeIdf(file.text)) takeIdf(file, findings, read)
    else if (looksLikeExcellon(file.text)) {
      const drill = readExcellon(file, options.answers ?? {}, findings)
      read.sources.add(board.drillFiles)
      for (const h of drill?.holes ?? []) read.holes.push({ ...h, findings })
      for (const s of drill?.slots ?? []) findings.skip(s.line, board.slot(s.diameter))
    } else if (looksLikeGerber(file.text)) {
      layers.push({ file, findings, says: FUNCTION.exec(file.text.slice(0, 100_000))?.[1]?.trim() })
    } else {
      const start = snippet(file.text.trimStart().split('\n')[0]?.trim() ?? '')
      findings.problem(1, '', start, board.anyFile)
    }
  }
  takeLayers(layers, options, read)
}

function takeIdf(file: BoardFile, findings: Findings, read: Read): void {
  const idf = readIdf(file, findings)
  if (idf?.kind === 'library') read.library = idf
  if (idf?.kind !== 'board') return
  if (read.idf !== undefined) findings.problem(1, '', board.secondBoardFile, board.filesOneBoard)
  read.idf = idf
  read.sources.add(board.idfFile)
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
    if (drilled === undefined) l.findings.skip(1, board.layerUnused(l.says))
    else takeDrillLayer(readGerber(l.file, options.answers?.units, l.findings), drilled === 'plated', l.findings, read)
  }
  if (outlines.length > 1) {
    const found = board.manyOutlines(outlines.map((l) => l.file.name))
    outlines[1]!.findings.problem(1, 'FileFunction', found, board.oneProfile)
    return
  }
  const one = outlines[0]
  if (one === undefined) return
  if (read.outline !== undefined) {
    one.findings.problem(1, '', board.secondOutline, board.oneOutline)
    return
  }
  const layer = readGerber(one.file, options.answers?.units, one.findings)
  if (layer === undefined) return
  if (profiles.length === 0) one.findings.assume(board.onlyLayer(one.findings.file))
  read.sources.add(board.gerberOutline)
  takeOutline(layer, one.findings, read)
}

function takeDrillLayer(layer: GerberLayer | undefined, plated: boolean, findings: Findings, read: Read): void {
  if (layer === undefined) return
  read.sources.add(board.drillLayers)
  for (const f of layer.flashes) {
    if (f.diameter > 0) read.holes.push({ diameter: f.diameter, at: f.at, plated, line: f.line, findings })
    else findings.skip(f.line, board.flashNotRound)
  }
  for (const s of layer.strokes) findings.skip(s.line, board.slotAsStroke)
  for (const r of layer.regions) findings.skip(r[0]?.line ?? 1, board.region)
}

function takeOutline(layer: GerberLayer, findings: Findings, read: Read): void {
  const chained = chain(layer.strokes)
  const contours = [...layer.regions, ...chained.closed]
  const widest = Math.max(0, ...layer.widths)
  if (chained.tangled) findings.problem(1, '', board.tangled, board.plainOutline)
  if (widest > 0) findings.assume(board.wideOutline(findings.file, widest))
  if (chained.gaps.length > 0) {
    const most = chained.gaps.reduce((a, b) => Math.max(a, b))
    findings.assume(board.gapsClosed(findings.file, chained.gaps.length, most))
  }
  if (chained.twice > 0) findings.skip(1, board.strokesTwice(chained.twice))
  for (const f of layer.flashes) findings.skip(f.line, board.flashInOutline)
  for (const o of chained.open) findings.skip(o[0]!.line, board.openLine(o.length))
  const line = chained.open[0]?.[0]?.line ?? 1
  if (contours.length === 0) {
    const found = chained.open.length === 0 ? board.nothingDrawn : openEnds(chained.open[0]!)
    findings.problem(line, 'Profile', found, board.closedUpTo(GAP))
  }
  read.outline = { contours, findings, line }
}

const openEnds = (path: readonly Segment[]): string => {
  return board.openBetween(path[0]!.from, path[path.length - 1]!.to)
}

function make(read: Read, options: BoardOptions, own: Findings): unknown {
  const { outline } = read
  if (outline === undefined) {
    own.problem(1, 'outline', board.noOutline, board.outlineFile)
    return undefined
  }
  const boxes = outline.contours.map((c) => boxOf(c))
  const size = boxes.map((b) => (b.x1 - b.x0) * (b.y1 - b.y0))
  // IDF says which is the outline; else it is the largest.
  const outer = read.idf === undefined ? size.reduce((best, s, i) => (s > size[best]! ? i : best), 0) : 0
  const box = boxes[outer]
  if (box === undefined || !(size[outer]! > 0)) {
    outline.findings.problem(outline.line, 'outline', board.noArea, board.closedOutline)
    return undefined
  }
  const place = (p: Pt): [number, number] => [toMm(mm(p.x - box.x0)), toMm(mm(p.y - box.y0))]
  outline.contours.forEach((c, i) => {
    if (i === outer || !differs(boxes[i]!, box)) return
    const b = boxes[i]!
    const line = c[0]?.line ?? outline.line
    const inside = b.x0 >= box.x0 - GAP && b.x1 <= box.x1 + GAP && b.y0 >= box.y0 - GAP && b.y1 <= box.y1 + GAP
    if (!inside) outline.findings.problem(line, 'outline', board.secondContour, board.outlineOneBoard)
    else outline.findings.skip(line, cutOut(c, place))
  })
  const contour = outline.contours[outer]!
  const share = areaOf(contour) / size[outer]!
  if (share < 0.9999) {
    outline.findings.assume(board.noRectangle(outline.findings.file, share * 100))
  }
  const least = options.mount?.least ?? LEAST
  const holes = sortHoles(read.holes, { least, plated: options.mount?.plated ?? false, box }, own)
  if (holes.length > MOST_MOUNTS) {
    own.problem(1, 'mount.least', board.holesFrom(holes.length, least), board.atMostMounts(MOST_MOUNTS))
  }
  const height = options.height ?? heightOf(read, own)
  const standoff = options.mount?.standoff ?? STANDOFF
  if (options.mount?.standoff === undefined) own.assume(board.standoff(STANDOFF))
  if (holes.length > 0) own.assume(board.deckHoles)
  if (options.mount?.land === undefined) own.assume(board.noLand)
  own.assume(board.noMass)
  const { land, screw } = options.mount ?? {}
  return {
    format: 'deckwright-footprint',
    version: 1,
    id: options.id,
    name: options.name ?? (read.idf?.name || options.id),
    source: board.source([...read.sources].sort()),
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

function cutOut(c: Contour, place: (p: Pt) => [number, number]): string {
  const round = roundOf(c)
  if (round !== undefined) return board.roundCutOut(round.diameter, place(round.at))
  const b = boxOf(c)
  return board.cutOut(b.x1 - b.x0, b.y1 - b.y0, place({ x: b.x0, y: b.y0 }))
}

/** Thickness and the tallest part of each face; asked for where a part's height is not known. mm */
function heightOf(read: Read, own: Findings): number | undefined {
  const ask = (found: string): undefined => own.problem(1, 'height', found, board.height) as undefined
  const { idf, library } = read
  if (idf === undefined || library === undefined) return ask(board.noHeight)
  let [top, bottom] = [0, 0]
  let unknown = 0
  for (const p of idf.parts) {
    const h = library.heights.get(partKey(p.package, p.number))
    if (h === undefined) unknown++
    else if (p.side === 'TOP') top = Math.max(top, p.lift + h)
    else bottom = Math.max(bottom, p.lift + h)
  }
  if (unknown > 0) return ask(board.heightsUnknown(unknown, idf.parts.length))
  if (idf.parts.length === 0) return ask(board.noParts)
  own.assume(board.heightOf(idf.thickness, top, bottom))
  return idf.thickness + top + bottom
}
