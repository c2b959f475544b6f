/**
 * One layer in the Gerber format ("The Gerber Layer Format Specification", revision 2021.02: §4.2 MO and FS, §4.3 AD, §4.7 G01,
 * G02, G03, G75, then operations, LP, regions, SR, and the file attribute .FileFunction; section numbers read in its contents,
 * the meaning of the commands from memory; G70, G71, G74, G90, G91 and zeros left out at the end are its deprecated elements).
 * Centre lines of draws and contours of regions come out; what they are drawn with does not matter to an outline.
 */
import { snippet } from '../../footprints/problems.ts'
import { circle, distance, type Pt, type Segment } from './board-contour.ts'
import { type BoardFile, type Findings, guarded, INCH, MOST_SEGMENTS } from './board-findings.ts'
import { arcTo } from './gerber-arc.ts'
import { commandsOf } from './gerber-words.ts'
import { gerber } from './words-boards.ts'

export interface GerberLayer {
  /** As in `Profile,NP`; undefined where the file does not say. */
  readonly fileFunction: string | undefined
  readonly strokes: readonly Segment[]
  /** Closed contours of regions. */
  readonly regions: readonly (readonly Segment[])[]
  /** Flashes of round apertures, as drill layers have them; `diameter` 0 where the aperture is not a plain circle. */
  readonly flashes: readonly { readonly at: Pt; readonly diameter: number; readonly line: number }[]
  /** Widths that strokes are drawn with, mm. */
  readonly widths: readonly number[]
}

/** True where the text has the commands that every such file begins with. */
export const looksLikeGerber = (text: string): boolean =>
  /%\s*(FS|MO|TF|AD|AM|LP)|^\s*G04[^*]*\*/.test(text.slice(0, 20_000))

export const readGerber = (
  file: BoardFile,
  units: 'mm' | 'inch' | undefined,
  findings: Findings,
): GerberLayer | undefined => guarded(file, findings, (text) => new Reader(text, units, findings).read())

class Reader {
  private readonly strokes: Segment[] = []
  private readonly regions: Segment[][] = []
  private readonly flashes: GerberLayer['flashes'][number][] = []
  private readonly widths = new Set<number>()
  private readonly apertures = new Map<number, number>()
  private fileFunction: string | undefined
  private unit: number | undefined
  private form: { whole: number; part: number; zeros: 'L' | 'T' | 'D' } | undefined
  private aperture: number | undefined
  private at: Pt = { x: 0, y: 0 }
  private mode: 1 | 2 | 3 = 1
  private single: boolean | undefined
  private operation = 0
  private contour: Segment[] | undefined
  private clear = false
  private block = 0
  private ended = false
  private segments = 0
  private readonly told = new Set<string>()

  constructor(
    private readonly text: string,
    private readonly units: 'mm' | 'inch' | undefined,
    private readonly findings: Findings,
  ) {}

  read(): GerberLayer {
    let line = 1
    for (const c of commandsOf(this.text, this.findings)) {
      line = c.line
      if (this.ended) {
        this.findings.skip(c.line, gerber.afterEnd)
        break
      }
      if (c.extended) this.extended(c.text, c.line)
      else this.word(c.text, c.line)
    }
    if (this.contour !== undefined) this.findings.problem(line, 'G36', gerber.regionWithoutEnd, 'G37')
    if (!this.ended) this.findings.problem(line, '', gerber.fileEnd, gerber.m02)
    const { fileFunction, strokes, regions, flashes } = this
    return { fileFunction, strokes, regions, flashes, widths: [...this.widths] }
  }

  private extended(code: string, line: number) {
    const name = code.slice(0, 2)
    const rest = code.slice(2)
    if (name === 'FS') this.format(rest, line)
    else if (name === 'MO') {
      if (rest !== 'MM' && rest !== 'IN') this.findings.stop(line, 'MO', snippet(rest), gerber.mmOrInch)
      this.setUnit(rest === 'MM' ? 1 : INCH, line)
    } else if (name === 'AD') this.define(rest, line)
    else if (name === 'AB') {
      if (rest === '' && this.block === 0) this.findings.problem(line, 'AB', gerber.end, gerber.blockFirst)
      this.block = Math.max(0, this.block + (rest === '' ? -1 : 1))
      const number = /^D(\d{2,9})$/.exec(rest)
      if (number !== null) this.apertures.set(Number(number[1]), 0)
      this.findings.skip(line, gerber.blockApertures)
    } else if (name === 'TF') this.attribute(rest)
    else if (name === 'LP') {
      if (rest !== 'C' && rest !== 'D') this.findings.problem(line, 'LP', snippet(rest), gerber.clearOrDark)
      this.clear = rest === 'C'
    } else if (name === 'SR') {
      if (rest !== '' && !/^X1Y1(I[\d.]+J[\d.]+)?$/.test(rest)) {
        this.findings.skip(line, gerber.repeat(snippet(rest)))
      }
    } else if (name === 'IF') this.findings.problem(line, 'IF', gerber.includedFile, gerber.wholeFile)
    else if (name === 'IP' && rest !== 'POS') this.findings.problem(line, 'IP', snippet(rest), gerber.positiveImage)
    else if (/^(MIA[01]B[01]|OFA.*|SFA.*|ASA.B.|IR\d+)$/.test(code)) {
      if (!/^(MIA0B0|OFA0*(\.0*)?B0*(\.0*)?|SFA1(\.0*)?B1(\.0*)?|ASAXBY|IR0)$/.test(code)) {
        this.findings.problem(line, name, snippet(code), gerber.plainImage)
      }
    } else if (!/^(AM|TA|TO|TD|LM|LR|LS|IN|LN|IP)/.test(name)) {
      this.findings.problem(line, '', snippet(code), gerber.extendedCommand)
    }
  }

  private setUnit(unit: number, line: number) {
    if (this.unit !== undefined && this.unit !== unit)
      this.findings.problem(line, 'MO', gerber.secondUnit, gerber.oneUnit)
    this.unit ??= unit
  }

  private format(rest: string, line: number) {
    const m = /^([LTD])?([AI])X([0-9])([0-9])Y([0-9])([0-9])$/.exec(rest)
    if (m === null || m[3] !== m[5] || m[4] !== m[6]) {
      this.findings.stop(line, 'FS', snippet(rest), gerber.format)
    }
    if (m![2] === 'I') this.findings.stop(line, 'FS', gerber.incremental, gerber.absoluteFormat)
    if (this.form !== undefined) this.findings.problem(line, 'FS', gerber.secondFormat, gerber.oneFormat)
    this.form = { whole: Number(m![3]), part: Number(m![4]), zeros: (m![1] ?? 'D') as 'L' | 'T' | 'D' }
  }

  private define(rest: string, line: number) {
    const m = /^D0*(\d{1,9})([A-Za-z_.$][\w.$]*)(?:,(.*))?$/.exec(rest)
    if (m === null || Number(m[1]) < 10) {
      return this.findings.problem(line, 'AD', snippet(rest), gerber.aperture)
    }
    const sizes = (m[3] ?? '').split('X').map(Number)
    if (m[2] === 'C' && !(sizes[0]! >= 0)) this.findings.problem(line, 'AD', snippet(rest), gerber.diameter)
    // NaN where it is not a circle: such a flash is no hole.
    this.apertures.set(Number(m[1]), m[2] === 'C' ? sizes[0]! * this.scale(line) : Number.NaN)
  }

  private attribute(text: string) {
    const m = /^\.FileFunction,(.*)$/.exec(text)
    if (m !== null) this.fileFunction = m[1]!.trim()
  }

  private word(code: string, line: number) {
    if (/^G0*4(?!\d)/.test(code)) {
      const standard = /#@!\s*TF(\..*)$/.exec(code)
      if (standard !== null) this.attribute(standard[1]!)
      return
    }
    if (/^M0*[012]$/.test(code)) {
      this.ended = code !== 'M01' && code !== 'M1'
      return
    }
    const m = /^(?:N\d+)?(?:G(\d{1,3}))?((?:[XYIJ][+-]?[\d.]*)*)(?:D(\d{1,9}))?$/.exec(code)
    if (m === null) return this.findings.problem(line, '', snippet(code), gerber.command)
    const [, g, words, d] = m
    if (g !== undefined) this.prepare(Number(g), line)
    const code_ = d === undefined ? undefined : Number(d)
    if (code_ !== undefined && code_ >= 10) {
      if (!this.apertures.has(code_)) this.findings.problem(line, `D${code_}`, gerber.apertureUnknown, gerber.adFirst)
      this.aperture = code_
      return
    }
    if (words === '' && (code_ === undefined || code_ !== 3)) {
      if (code_ !== undefined) this.operation = code_
      return
    }
    if (code_ !== undefined) this.operation = code_
    if (code_ === undefined) this.findings.assume(gerber.operationRepeats(this.findings.file))
    this.operate(words!, line)
  }

  private prepare(g: number, line: number) {
    if (g >= 1 && g <= 3) this.mode = g as 1 | 2 | 3
    else if (g === 36) {
      if (this.contour !== undefined) this.findings.problem(line, 'G36', gerber.regionInRegion, gerber.g37First)
      this.contour = []
    } else if (g === 37) {
      if (this.contour === undefined) this.findings.problem(line, 'G37', gerber.end, gerber.g36First)
      this.endContour(line)
      this.contour = undefined
    } else if (g === 70 || g === 71) this.setUnit(g === 71 ? 1 : INCH, line)
    else if (g === 74 || g === 75) this.single = g === 74
    else if (g === 91) this.findings.stop(line, 'G91', gerber.incremental, gerber.absolute)
    else if (![54, 55, 90].includes(g)) this.findings.problem(line, `G${g}`, `G${g}`, gerber.codes)
  }

  private operate(words: string, line: number) {
    const values = this.numbersOf(words, line)
    const to = { x: values.get('X') ?? this.at.x, y: values.get('Y') ?? this.at.y }
    const from = this.at
    this.at = to
    if (this.block > 0) return
    if (++this.segments > MOST_SEGMENTS) this.findings.stop(line, '', gerber.moreSegments, gerber.atMost(MOST_SEGMENTS))
    if (this.operation === 2) return this.endContour(line)
    if (this.operation === 3) return this.flash(line)
    if (this.operation !== 1) return this.findings.problem(line, '', snippet(words), gerber.operation)
    if (this.contour === undefined && this.clear) return this.findings.skip(line, gerber.clearStrokes)
    const segments = this.stroke(from, to, values, line)
    if (this.contour !== undefined) return void this.contour.push(...segments)
    this.strokes.push(...segments)
    const width = this.apertures.get(this.aperture ?? -1)
    if (width === undefined) this.once('D', line, gerber.strokeBeforeAperture, gerber.apertureFirst)
    else this.widths.add(Number.isNaN(width) ? 0 : width)
  }

  private stroke(from: Pt, to: Pt, values: ReadonlyMap<string, number>, line: number): Segment[] {
    if (this.mode === 1) return distance(from, to) > 0 ? [{ from, to, bulge: 0, line }] : []
    if (this.single === undefined) {
      this.findings.assume(gerber.arcsUnsaid(this.findings.file, line))
      this.single = false
    }
    const offset = { x: values.get('I') ?? 0, y: values.get('J') ?? 0 }
    const arc = arcTo(from, to, offset, this.mode === 3, this.single)
    if (typeof arc === 'string') {
      this.findings.problem(line, `G0${this.mode}`, arc, gerber.centre)
      return []
    }
    if (arc.kind === 'circle') return circle(arc.centre, arc.radius, line)
    return arc.parts.map((p) => ({ ...p, line }))
  }

  private endContour(line: number) {
    const contour = this.contour
    if (contour === undefined || contour.length === 0) return
    this.contour = []
    const gap = distance(contour[0]!.from, contour[contour.length - 1]!.to)
    if (gap > 0.001) this.findings.problem(line, 'G36', gerber.openContour(gap), gerber.closedContour)
    else if (this.clear) this.findings.skip(line, gerber.clearRegions)
    else this.regions.push(contour)
  }

  private flash(line: number) {
    const diameter = this.apertures.get(this.aperture ?? -1)
    if (this.contour !== undefined) return this.findings.problem(line, 'D03', gerber.flashInRegion, gerber.noFlash)
    if (diameter === undefined) return this.once('D', line, gerber.flashBeforeAperture, gerber.apertureFirst)
    this.flashes.push({ at: this.at, diameter: Number.isNaN(diameter) ? 0 : diameter, line })
  }

  private numbersOf(words: string, line: number): Map<string, number> {
    const values = new Map<string, number>()
    for (const m of words.matchAll(/([XYIJ])([+-]?)([\d.]*)/g)) {
      const [, axis, sign, digits] = m
      const { form } = this
      if (!/^\d{1,18}$/.test(digits!)) this.findings.problem(line, axis!, snippet(m[0]), gerber.wholeNumber)
      else if (form === undefined) this.once('FS', line, gerber.coordinateBeforeFormat, gerber.formatFirst)
      else if (digits!.length > form.whole + form.part) {
        this.findings.problem(line, axis!, snippet(m[0]), gerber.atMostDigits(form.whole + form.part))
      } else {
        const full = form.zeros === 'T' ? digits!.padEnd(form.whole + form.part, '0') : digits!
        values.set(axis!, (sign === '-' ? -1 : 1) * Number(full) * 10 ** -form.part * this.scale(line))
      }
    }
    return values
  }

  private scale(line: number): number {
    const unit = this.unit ?? (this.units === undefined ? undefined : this.units === 'mm' ? 1 : INCH)
    if (unit === undefined) this.once('MO', line, gerber.noUnit, gerber.sayUnit)
    return unit ?? 1
  }

  private once(path: string, line: number, found: string, expected: string): void {
    if (this.told.has(path)) return
    this.told.add(path)
    this.findings.problem(line, path, found, expected)
  }
}
