/**
 * Path data of SVG (SVG 2, §9.3) to lines, arcs and curves. Our own reader: the package we tried takes time that grows with the
 * square of the path's length (104 s for 4 MB) and refuses numbers like 09.
 */
import { clip, snippet } from '../../footprints/problems.ts'
import { type Draft, Refused, type Where } from './contours.ts'
import { type Matrix, Pen } from './flatten.ts'
import { svg } from './words-drawings.ts'

const NUMBER = /[\s,]*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)/y
const FLAG = /[\s,]*([01])/y
const COMMAND = /[\s,]*([a-zA-Z])/y
const REST = /[\s,]*/y

const COUNTS: Readonly<Record<string, number>> = { m: 2, l: 2, h: 1, v: 1, c: 6, s: 4, q: 4, t: 2, a: 7, z: 0 }

type Xy = readonly [number, number]

/** Draws the path. Throws Refused where the data breaks off: half a path is none. */
export function drawPath(d: string, draft: Draft, matrix: Matrix, where: Where): undefined {
  new Path(d, new Pen(draft, matrix, where), where).draw()
}

interface Control {
  readonly kind: 'c' | 'q'
  readonly at: Xy
}

class Path {
  #i = 0
  #at: Xy = [0, 0]
  #start: Xy = [0, 0]
  /** The last control point, of a cubic or a quadratic curve, that a smooth one continues. */
  #control: Control | undefined

  constructor(
    readonly d: string,
    readonly pen: Pen,
    readonly where: Where,
  ) {}

  draw(): undefined {
    const { d } = this
    let begun = false
    for (;;) {
      REST.lastIndex = this.#i
      REST.exec(d)
      if (REST.lastIndex >= d.length) break
      const letter = this.#take(COMMAND, svg.command)
      const kind = letter.toLowerCase()
      const count = COUNTS[kind]
      if (count === undefined) this.#refuse(letter, svg.commandLetter)
      if (!begun && kind !== 'm') this.#refuse(letter, svg.moveFirst)
      begun = true
      this.pen.draft.step()
      if (kind === 'z') {
        this.pen.close()
        this.#at = this.#start
        this.#control = undefined
        continue
      }
      let now = kind
      do {
        this.#segment(now, letter !== kind)
        // Further pairs after a move are lines.
        if (now === 'm') now = 'l'
      } while (this.#more())
    }
    this.pen.end(false)
  }

  #more(): boolean {
    NUMBER.lastIndex = this.#i
    return NUMBER.test(this.d)
  }

  #segment(kind: string, absolute: boolean): undefined {
    const n = (): number => this.#number()
    const [x0, y0] = absolute ? [0, 0] : this.#at
    const pair = (): Xy => [n() + x0, n() + y0]
    const from = this.#at
    let control: Control | undefined
    switch (kind) {
      case 'm':
        this.#at = pair()
        this.#start = this.#at
        this.pen.moveTo(...this.#at)
        break
      case 'l':
        this.#lineTo(pair())
        break
      case 'h':
        this.#lineTo([n() + x0, from[1]])
        break
      case 'v':
        this.#lineTo([from[0], n() + y0])
        break
      case 'c':
      case 's': {
        const a = kind === 'c' ? pair() : this.#reflected('c')
        const b = pair()
        this.#at = pair()
        this.pen.curveTo([from, a, b, this.#at])
        control = { kind: 'c', at: b }
        break
      }
      case 'q':
      case 't': {
        const a = kind === 'q' ? pair() : this.#reflected('q')
        this.#at = pair()
        this.pen.curveTo([from, a, this.#at])
        control = { kind: 'q', at: a }
        break
      }
      default: {
        const [rx, ry, turn] = [n(), n(), n()]
        const large = this.#take(FLAG, svg.arcFlag) === '1'
        const sweep = this.#take(FLAG, svg.arcFlag) === '1'
        this.#at = pair()
        this.#arc(from, this.#at, Math.abs(rx), Math.abs(ry), (turn * Math.PI) / 180, large, sweep)
      }
    }
    this.#control = control
  }

  #lineTo(p: Xy): undefined {
    this.#at = p
    this.pen.lineTo(...p)
  }

  #reflected(kind: 'c' | 'q'): Xy {
    const [x, y] = this.#at
    if (this.#control?.kind !== kind) return [x, y]
    return [2 * x - this.#control.at[0], 2 * y - this.#control.at[1]]
  }

  /** From end points to centre (SVG 2, appendix B.2.4 and B.2.5). */
  #arc(p: Xy, q: Xy, rx0: number, ry0: number, turn: number, large: boolean, sweep: boolean): undefined {
    if (p[0] === q[0] && p[1] === q[1]) return
    if (rx0 === 0 || ry0 === 0) {
      this.pen.lineTo(...q)
      return
    }
    const [cos, sin] = [Math.cos(turn), Math.sin(turn)]
    const [hx, hy] = [(p[0] - q[0]) / 2, (p[1] - q[1]) / 2]
    const [x, y] = [cos * hx + sin * hy, -sin * hx + cos * hy]
    const over = Math.sqrt((x / rx0) ** 2 + (y / ry0) ** 2)
    // Radii that do not reach are made to.
    const [rx, ry] = over > 1 ? [rx0 * over, ry0 * over] : [rx0, ry0]
    const [ux, uy] = [x / rx, y / ry]
    const square = ux * ux + uy * uy
    const k = Math.sqrt(Math.max(0, 1 - square) / square) * (large === sweep ? -1 : 1)
    const [cx1, cy1] = [k * uy, -k * ux]
    const t0 = Math.atan2(uy - cy1, ux - cx1)
    const t1 = Math.atan2(-uy - cy1, -ux - cx1)
    const full = 2 * Math.PI
    let span = t1 - t0
    if (sweep && span <= 0) span += full
    if (!sweep && span >= 0) span -= full
    const [ex, ey] = [cx1 * rx, cy1 * ry]
    const c: Xy = [cos * ex - sin * ey + (p[0] + q[0]) / 2, sin * ex + cos * ey + (p[1] + q[1]) / 2]
    this.pen.ellipseTo(c, [rx * cos, rx * sin], [-ry * sin, ry * cos], t0, t0 + span, q)
  }

  #number(): number {
    const value = Number(this.#take(NUMBER, svg.pathNumber))
    if (Number.isFinite(value)) return value
    return this.#refuse(svg.hugeNumber, svg.finiteNumber)
  }

  #take(form: RegExp, expected: string): string {
    form.lastIndex = this.#i
    const found = form.exec(this.d)
    if (!found) return this.#refuse(this.d.slice(this.#i, this.#i + 20).trim(), expected)
    this.#i = form.lastIndex
    return found[1]!
  }

  #refuse(found: string, expected: string): never {
    const what = found === '' ? svg.pathEnd : snippet(clip(found, 40))
    throw new Refused(what, expected, this.where.line, svg.pathSign(this.#i + 1))
  }
}
