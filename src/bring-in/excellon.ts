/**
 * Drill files (IPC-NC-349, of which the Excellon formats are dialects and XNC, "XNC Format Specification", a strict subset):
 * header M48 … % or M95 with units and tools, then tools T, holes X Y, drilled slots G85, repeats R, routing G00–G03 with M15 and
 * M16. What the codes mean was read in public descriptions of the format; attributes in comments as in the X2 attributes.
 */
import { snippet } from '../../footprints/problems.ts'
import { type BoardFile, type Findings, guarded, INCH, MOST_SEGMENTS } from './board-findings.ts'
import { type DrillAnswers, DrillNumbers, lookAt } from './excellon-number.ts'
import { num } from './words.ts'
import { drill } from './words-boards.ts'

export interface DrilledHole {
  readonly diameter: number
  readonly at: { readonly x: number; readonly y: number }
  /** Undefined where the file does not say. */
  readonly plated: boolean | undefined
  readonly line: number
}

export interface DrillFile {
  readonly holes: readonly DrilledHole[]
  /** Drilled slots: both ends of their centre lines. */
  readonly slots: readonly (DrilledHole & { readonly to: { readonly x: number; readonly y: number } })[]
}

/** Widest tool that is believed, mm: a wider one was given in other units. */
const WIDEST = 50
const MOST_LENGTH = 1000

/** True where the text is such a file: a header, or tool and coordinates after a percent sign. */
export function looksLikeExcellon(text: string): boolean {
  const head = text.slice(0, 20_000)
  return /^[ \t]*M48[ \t]*$/m.test(head) || (/^[ \t]*%[ \t]*$/m.test(head) && /^[ \t]*T\d+/m.test(head))
}

export const readExcellon = (file: BoardFile, answers: DrillAnswers, findings: Findings): DrillFile | undefined =>
  guarded(file, findings, (text) => new Reader(file.name, text, answers, findings).read())

interface Tool {
  readonly diameter: number
  readonly plated: boolean | undefined
}

class Reader {
  readonly holes: DrillFile['holes'][number][] = []
  readonly slots: DrillFile['slots'][number][] = []
  private readonly tools = new Map<number, Tool>()
  private readonly numbers: DrillNumbers
  private tool: number | undefined
  private at = { x: 0, y: 0 }
  private incremental = false
  private routing = false
  private header = false
  private ended = false
  private plated: boolean | undefined
  private toolPlated: boolean | undefined
  private byName = false

  constructor(
    private readonly name: string,
    private readonly text: string,
    answers: DrillAnswers,
    private readonly findings: Findings,
  ) {
    this.numbers = new DrillNumbers(findings, answers, lookAt(text))
    // Common practice, no source: NPTH or PTH in the file's name.
    const word = /(?:^|[^a-z])(npth|pth|non.?plated|plated)(?![a-z])/i.exec(name)?.[1]?.toLowerCase()
    this.byName = word !== undefined
    if (word !== undefined) this.plated = !word.startsWith('n')
  }

  read(): DrillFile {
    let line = 0
    for (const raw of this.text.split('\n')) {
      line++
      const code = raw.trim()
      if (code === '') continue
      if (code.length > MOST_LENGTH)
        this.findings.stop(line, '', drill.longLine(code.length), drill.atMost(MOST_LENGTH))
      if (this.ended) {
        if (!code.startsWith(';') && code !== '%') this.findings.skip(line, drill.afterEnd)
      } else if (code.startsWith(';')) this.comment(code, line)
      else this.block(code.replace(/^N\d+\s*/, '').replace(/\s+/g, ''), line)
    }
    if (!this.ended) this.findings.problem(line, '', drill.fileEnd, drill.m30)
    if (this.byName && this.holes.length > 0) {
      this.findings.assume(drill.platedByName(this.name, this.plated === true))
    }
    return { holes: this.holes, slots: this.slots }
  }

  /** Comments that carry attributes: `#@! TF.FileFunction,…`, `#@! TA.AperFunction,…`, `#@! TD`, `TYPE=…`, `FILE_FORMAT=…`. */
  private comment(code: string, line: number) {
    const attribute = /^;\s*#@!\s*(T[FA])\.(\w+),?(.*)$/.exec(code)
    const plating = /^(NonPlated|Plated)\b/i
    if (attribute !== null) {
      const word = plating.exec(attribute[3]!)?.[1]?.toLowerCase()
      if (attribute[2] === 'FileFunction') this.byName = false
      if (attribute[1] === 'TF' && attribute[2] === 'FileFunction')
        this.plated = word === undefined ? undefined : word === 'plated'
      if (attribute[1] === 'TA' && attribute[2] === 'AperFunction')
        this.toolPlated = word === undefined ? undefined : word === 'plated'
      return
    }
    // What is said of tools holds for those that follow, until it is deleted; what is said of the file is never deleted.
    const deleted = /^;\s*#@!\s*TD(?:\.(\w+))?\s*$/.exec(code)
    if (deleted !== null) {
      if ((deleted[1] ?? 'AperFunction') === 'AperFunction') this.toolPlated = undefined
      return
    }
    const type = /^;\s*TYPE\s*=\s*(NON_PLATED|PLATED)\b/i.exec(code)
    if (type !== null) {
      this.byName = false
      this.plated = type[1]!.toUpperCase() === 'PLATED'
      return
    }
    const form = /^;\s*FILE_FORMAT\s*=\s*([1-6]):([1-6])\b/i.exec(code)
    if (form === null) return
    this.numbers.digits = [Number(form[1]), Number(form[2])]
    this.findings.assume(drill.formInComment(this.name, line, form[1]!, form[2]!))
  }

  private block(code: string, line: number) {
    if (code === 'M48') this.header = true
    else if (code === '%' || code === 'M95') this.header = false
    else if (/^(METRIC|INCH)\b/.test(code)) this.units(code, line)
    else if (code === 'M71' || code === 'M72') this.setUnit(code === 'M71' ? 1 : INCH, line)
    else if (/^T\d/.test(code)) this.toolBlock(code, line)
    else if (/^ICI(,?ON|,?OFF)?$/.test(code)) this.incremental = !code.endsWith('OFF')
    else if (code === 'FMAT,1') this.findings.problem(line, 'FMAT', code, drill.format2)
    else if (this.header) this.headerBlock(code, line)
    else if (code.startsWith('/')) this.findings.skip(line, drill.slashBlocks)
    else this.body(code, line)
  }

  private headerBlock(code: string, line: number) {
    if (/^(FMAT,2|VER,\d|R,.*|DETECT,.*|ATC,.*|G90|G05)$/.test(code)) return
    if (code === 'M30' || code === 'M00') this.findings.stop(line, 'M48', code, drill.headerEnd)
    if (code === 'G91') this.incremental = true
    else if (/^[XY]/.test(code)) this.findings.stop(line, 'M48', code, drill.headerEndBeforeHole)
    else this.findings.skip(line, drill.headerWord(snippet(code.slice(0, 40))))
  }

  private units(code: string, line: number) {
    const words = code.split(',')
    this.setUnit(words[0] === 'METRIC' ? 1 : words[0] === 'INCH' ? INCH : Number.NaN, line)
    for (const word of words.slice(1)) {
      const mask = /^(0{1,6})\.(0{1,6})$/.exec(word)
      if (word === 'LZ') this.numbers.suppressed = 'trailing'
      else if (word === 'TZ') this.numbers.suppressed = 'leading'
      else if (mask !== null) this.numbers.digits = [mask[1]!.length, mask[2]!.length]
      else this.findings.problem(line, words[0]!, snippet(word), drill.zerosOrMask)
    }
  }

  private setUnit(unit: number, line: number) {
    if (Number.isNaN(unit)) this.findings.problem(line, 'units', drill.neither, drill.metricOrInch)
    if (this.numbers.unit !== undefined && this.numbers.unit !== unit) {
      this.findings.problem(line, 'units', drill.secondUnit, drill.oneUnit)
    }
    this.numbers.unit ??= unit
  }

  /** `T1C0.8`, with feeds and speeds in between, defines; `T1` selects; `T0` puts the tool away. */
  private toolBlock(code: string, line: number) {
    const m = /^T(\d{1,6})((?:[A-Z][+-]?[\d.]*)*)$/.exec(code)
    if (m === null) return this.findings.problem(line, 'T', snippet(code), drill.tool)
    const number = Number(m[1])
    const size = /C([^A-Z]*)/.exec(m[2]!)?.[1]
    if (size !== undefined) {
      const diameter = /^(\d+\.?\d*|\.\d+)$/.test(size) ? Number(size) * this.numbers.scale(line) : Number.NaN
      if (!(diameter > 0 && diameter <= WIDEST)) {
        const found = Number.isNaN(diameter) ? snippet(size) : `${num(diameter)} mm`
        this.findings.problem(line, `T${number}`, found, drill.diameterUpTo(WIDEST))
      } else if (this.tools.has(number) && this.tools.get(number)!.diameter !== diameter) {
        this.findings.problem(line, `T${number}`, drill.secondDiameter, drill.toolOnce)
      } else this.tools.set(number, { diameter, plated: this.toolPlated ?? this.plated })
    }
    if (!this.header) this.tool = number
  }

  private body(code: string, line: number) {
    // Repeats, slots, then plain moves.
    const m = /^(R\d+)?(?:G(\d{1,3}))?((?:[XYIJAFSZ][+-]?[\d.]*)*)(?:G(85)((?:[XY][+-]?[\d.]*)*))?$/.exec(code)
    if (m === null) return this.other(code, line)
    const [, repeat, g] = m
    let [, , , words, slot, slotWords] = m
    if (g === '85' && slot === undefined) [words, slot, slotWords] = ['', g, words]
    if (g !== undefined && slot !== g) this.mode(Number(g), words!, line)
    if (g !== undefined && !['0', '1', '2', '3', '5', '81', '85', '90', '91'].includes(String(Number(g)))) return
    const moved = /[XY]/.test(words!)
    if (slot !== undefined) {
      if (moved) this.at = this.point(words!, line)
      const to = this.point(slotWords!, line)
      const hole = this.made(line)
      if (hole !== undefined) this.slots.push({ ...hole, to })
      this.at = to
      return
    }
    if (!moved) {
      if (words !== '' && g === undefined) this.findings.skip(line, drill.feedsSpeeds)
      return
    }
    if (repeat !== undefined) return this.repeated(Number(repeat.slice(1)), words!, line)
    const from = this.at
    this.at = this.point(words!, line)
    if (!this.routing) return this.drill(line)
    if (g === '0' || g === '00') return
    const tool = this.tools.get(this.tool ?? -1)
    if (from.x !== this.at.x || from.y !== this.at.y) this.findings.skip(line, drill.routed(this.tool, tool?.diameter))
  }

  private mode(g: number, words: string, line: number) {
    if (g <= 3) this.routing = true
    else if (g === 5 || g === 81) this.routing = false
    else if (g === 90 || g === 91) this.incremental = g === 91
    else if (g === 92 || g === 93) {
      const p = this.point(words, line)
      if (p.x !== 0 || p.y !== 0) this.findings.problem(line, `G${g}`, drill.zeroMovedAway, drill.oneZero)
    } else if ([4, 40, 7].includes(g)) return
    else if (g === 41 || g === 42) this.findings.skip(line, drill.compensation(g))
    else if (g !== 85) this.findings.problem(line, `G${g}`, `G${g}`, drill.codes)
  }

  private other(code: string, line: number) {
    if (/^M(30|00)\b/.test(code) || code === 'M02') this.ended = true
    else if (/^M(14|15|16|17|18|06|6|09)$/.test(code)) return
    else if (/^M(47|45|97|98|50|60)/.test(code)) this.findings.skip(line, drill.messagesText)
    else if (/^M(25|31|01|02|08|70|80|90)/.test(code) || /^R\d+M02/.test(code)) {
      this.findings.problem(line, code.slice(0, 3), snippet(code), drill.everyHole)
    } else this.findings.problem(line, '', snippet(code), drill.command)
  }

  /** The point that X and Y mean; one that is missing stays. */
  private point(words: string, line: number): { x: number; y: number } {
    const next = { ...this.at }
    for (const m of words.matchAll(/([XY])([+-]?)([\d.]*)/g)) {
      const text = m[2]! + m[3]!
      if (!/^[+-]?(\d+\.?\d*|\.\d+)$/.test(text) || text.length > 20) {
        this.findings.problem(line, m[1]!, snippet(m[0]), drill.numberAfter(m[1]!))
        continue
      }
      const axis = m[1] === 'X' ? 'x' : 'y'
      const value = this.numbers.coordinate(text, line)
      next[axis] = this.incremental ? this.at[axis] + value : value
    }
    return next
  }

  /** `R4X1.5`: four more holes, each one step further. */
  private repeated(times: number, words: string, line: number) {
    const before = this.at
    this.at = { x: 0, y: 0 }
    const step = this.point(words, line)
    this.at = before
    if (this.routing) return this.findings.problem(line, 'R', drill.repeatWhileRouting, drill.repeatedHoles)
    if (times + this.holes.length > MOST_SEGMENTS) {
      return this.findings.stop(line, 'R', drill.holesMore(times), drill.atMostHoles(MOST_SEGMENTS))
    }
    for (let k = 0; k < times; k++) {
      this.at = { x: this.at.x + step.x, y: this.at.y + step.y }
      this.drill(line)
    }
  }

  private drill(line: number) {
    const hole = this.made(line)
    if (hole === undefined) return
    this.holes.push(hole)
    if (this.holes.length > MOST_SEGMENTS)
      this.findings.stop(line, '', drill.moreHoles, drill.atMostHoles(MOST_SEGMENTS))
  }

  private made(line: number): DrilledHole | undefined {
    const tool = this.tools.get(this.tool ?? -1)
    if (tool !== undefined) return { diameter: tool.diameter, at: this.at, plated: tool.plated ?? this.plated, line }
    const found = this.tool === undefined ? drill.holeBeforeTool : drill.toolUnknown(this.tool)
    const expected = this.tool === undefined ? drill.toolFirst : drill.toolDiameter
    this.findings.problem(line, this.tool === undefined ? '' : `T${this.tool}`, found, expected)
    // One word about it is enough.
    this.tools.set(this.tool ?? -1, { diameter: 1, plated: undefined })
    return undefined
  }
}
