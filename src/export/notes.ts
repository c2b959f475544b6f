/** The words on a template: scale bar, datum, how to print it, what the kerf did, which drills, and the cautions. */

import type { Deck, Placement, Problem } from '../../solver/index.ts'
import { deckCalled, turnedSize } from '../../solver/index.ts'
import { called as copyCalled } from '../model/called.ts'
import { cautions } from './cautions.ts'
import { type Box, boxOf, type Contour, contourOf } from './contour.ts'
import { cross, type Stroke, type TemplateOptions, type Text } from './drawing.ts'
import type { NewHole } from './made.ts'
import { thereAlready } from './own-cuts.ts'
import { TABS_FROM } from './tabs.ts'
import type { Part } from './template.ts'
import { called, template as words } from './words.ts'

interface About {
  readonly problem: Problem
  /** Each with how far it is moved to the right on the sheet, mm. */
  readonly parts: readonly (Pick<Part, 'deck' | 'holes'> & { readonly shift: number })[]
  readonly options: TemplateOptions
  readonly drawn: Box
  /** Millimetres that lines of text may take. */
  readonly width: number
}

const SIZE = 2.6
/** Widest that a letter of a common sans-serif comes out on average, per height: wide enough that no line is clipped. */
const LETTER = 0.6

/** Everything below the drawing, and where the lowest line stands. */
export function notesOf(about: About): { strokes: Stroke[]; texts: Text[]; bottom: number } {
  const { drawn, width } = about
  const x = drawn.x0
  const bar = scaleBar(x, drawn.y0 - 9, width >= 100 ? 100 : 50)
  const texts: Text[] = [...bar.texts]
  let y = drawn.y0 - 9 - SIZE - 4.5
  for (const line of linesOf(about)) {
    for (const part of wrap(line, Math.floor(width / (SIZE * LETTER)))) {
      texts.push({ x, y, size: SIZE, text: part })
      y -= SIZE * 1.4
    }
    y -= SIZE * 0.3
  }
  const crosses = about.parts.flatMap(({ deck, shift }) => {
    const { x0, y0 } = boxOf(contourOf(deck.outline))
    return cross(x0 + shift, y0, 4)
  })
  return { strokes: [...bar.strokes, ...crosses], texts, bottom: y + SIZE }
}

function linesOf({ problem, parts, options }: About): string[] {
  const kerf = options.kerf ?? 0
  const { tabs } = options
  const { name, variant } = problem
  const one = parts.length === 1 ? parts[0] : undefined
  return [
    one ? words.one(name, variant, deckCalled(one.deck), one.deck.material) : words.many(name, variant, parts.length),
    words.printAt,
    ...(one ? [words.datum(...datum(one))] : parts.map((p) => ofMany(p, options))),
    ...(differ(parts.map(({ deck }) => deck.thickness)) || differ(parts.flatMap(({ deck }) => deck.material ?? []))
      ? [words.differ]
      : []),
    kerf > 0 ? words.kerf(kerf / 1000) : words.noKerf,
    ...(options.asMade ? [words.asMade] : []),
    ...(one ? [holesOf(one.holes, options), ...there(one.deck, options)] : []),
    ...(tabs ? [words.tabs(tabs.count, tabs.width / 1000, TABS_FROM)] : []),
    ...cautions,
  ]
}

const differ = (all: readonly (number | string)[]): boolean => new Set(all).size > 1

/** Lower left corner of the outline's box, mm. */
function datum({ deck }: About['parts'][number]): [number, number] {
  const corner = boxOf(contourOf(deck.outline))
  return [corner.x0, corner.y0]
}

/** What is to be known of one deck among several on a sheet. */
function ofMany(part: About['parts'][number], options: TemplateOptions): string {
  const { deck, shift } = part
  const [x, y] = datum(part)
  const holes = [holesOf(part.holes, options), ...there(deck, options)].join(' ')
  return words.ofMany(deckCalled(deck), deck.material, deck.thickness / 1000, x, y, shift, holes)
}

/** What the grey circles are. */
function there(deck: Deck, options: TemplateOptions): string[] {
  const holes = thereAlready(deck)
  return holes.length === 0 ? [] : [words.thereAlready(holes, options.asMade === true)]
}

/** `Drill 4 × 3.2 mm (M3), 2 × 2.7 mm.` */
function holesOf(holes: readonly NewHole[], options: TemplateOptions): string {
  const alike = new Map<string, { count: number; diameter: number; screw: string | undefined }>()
  for (const { diameter, screw } of [...holes].sort((a, b) => b.diameter - a.diameter)) {
    const key = `${diameter} ${screw ?? ''}`
    const row = alike.get(key) ?? { count: 0, diameter: diameter / 1000, screw }
    row.count += 1
    alike.set(key, row)
  }
  return words.holes([...alike.values()], options.laserHoles === true)
}

function scaleBar(x: number, y: number, length: number): { strokes: Stroke[]; texts: Text[] } {
  const strokes: Stroke[] = [
    {
      kind: 'line',
      points: [
        [x, y],
        [x + length, y],
      ],
    },
  ]
  for (let k = 0; k <= length; k += 10) {
    const tall = k === 0 || k === length ? 3 : 1.5
    strokes.push({
      kind: 'line',
      points: [
        [x + k, y],
        [x + k, y + tall],
      ],
    })
  }
  return { strokes, texts: [{ x, y: y - SIZE - 0.8, size: SIZE, text: words.length(length) }] }
}

/**
 * `front` at its arrow, and each item's id on its body, as large as fits: at the lower left, or wherever the next place is
 * that is clear of first pins, holes and openings: `holes`.
 */
export function labelsOf(problem: Problem, here: readonly Placement[], drawn: Box, holes: readonly Contour[]): Text[] {
  // A circle is all that lies within its radius of a point; of anything else its box is enough.
  const kept = holes.map((c) =>
    c.kind === 'circle' ? { x0: c.cx, y0: c.cy, x1: c.cx, y1: c.cy, r: c.r } : { ...boxOf(c), r: 0 },
  )
  const names = here.map((p) => {
    const item = problem.items[p.item]!
    const body = turnedSize(item.footprint.width, item.footprint.depth, p.turn)
    const [x0, y0, w, h] = [p.at.x / 1000, p.at.y / 1000, body.w / 1000, body.h / 1000]
    const name = copyCalled(item.id)
    const text = item.later ? called.later(name) : name
    const long = LETTER * [...text].length
    const size = Math.max(0.8, Math.min(SIZE, (w - 1) / long, h - 1))
    const clear = (x: number, y: number): boolean =>
      kept.every((k) => {
        const dx = Math.max(x - k.x1, 0, k.x0 - x - long * size)
        // Tails of letters hang below the line.
        const dy = Math.max(y - size / 4 - k.y1, 0, k.y0 - y - size)
        return Math.hypot(dx, dy) > k.r
      })
    // Columns from the left, in each from below.
    const columns = 8
    const rows = Math.min(100, Math.ceil(h / size))
    for (let k = 0; k <= columns; k++) {
      const x = x0 + 0.5 + (k / columns) * Math.max(0, w - 1 - long * size)
      for (let i = 0; i <= rows; i++) {
        const y = y0 + 0.6 + (i / rows) * Math.max(0, h - 0.8 - size)
        if (clear(x, y)) return { x, y, size, text }
      }
    }
    return { x: x0 + 0.5, y: y0 + 0.6, size, text }
  })
  return [{ x: drawn.x0 - 9, y: drawn.y1 + 2, size: SIZE, text: words.front }, ...names]
}

/** Lines of at most `letters`; a word longer than that is cut. */
function wrap(text: string, letters: number): string[] {
  const lines: string[] = []
  let line = ''
  for (const word of text.split(' ').flatMap((w) => chunks(w, letters))) {
    if (line !== '' && [...line].length + 1 + [...word].length > letters) {
      lines.push(line)
      line = word
    } else line = line === '' ? word : `${line} ${word}`
  }
  return [...lines, line]
}

function chunks(word: string, letters: number): string[] {
  const all = [...word]
  const parts: string[] = []
  for (let i = 0; i < Math.max(1, all.length); i += letters) parts.push(all.slice(i, i + letters).join(''))
  return parts
}
