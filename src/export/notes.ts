/** The words on a template: scale bar, datum, how to print it, what the kerf did, which drills, and the cautions. */
import type { Deck, Placement, Problem } from '../../solver/index.ts'
import { turnedSize } from '../../solver/index.ts'
import { cautions } from './cautions.ts'
import { type Box, boxOf, type Contour, contourOf } from './contour.ts'
import type { Stroke, TemplateOptions, Text } from './drawing.ts'
import type { NewHole } from './made.ts'
import { TABS_FROM } from './tabs.ts'
import type { Part } from './template.ts'

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
    return cross(x0 + shift, y0)
  })
  return { strokes: [...bar.strokes, ...crosses], texts, bottom: y + SIZE }
}

function linesOf({ problem, parts, options }: About): string[] {
  const kerf = options.kerf ?? 0
  const { tabs } = options
  const whole = `${problem.name}, variant ${problem.variant}`
  const one = parts.length === 1 ? parts[0] : undefined
  return [
    one ? `${whole}, ${named(one)}` : `${whole}, ${parts.length} decks side by side`,
    'Use at 100 %, not fit to page: measure the bar before anything is cut or drilled.',
    ...(one ? [`Datum (cross): ${datum(one)}; x to the right, y to the front.`] : parts.map((p) => ofMany(p, options))),
    ...(differ(parts.map(({ deck }) => deck.thickness)) || differ(parts.flatMap(({ deck }) => deck.material ?? []))
      ? ['These decks are not of one thickness or material: cut each from its own stock.']
      : []),
    kerf > 0
      ? `Kerf ${number(kerf / 1000)} mm (full width) is allowed for in the cut lines alone: outline out by half of it, all else in.`
      : 'Kerf: none allowed for.',
    ...(options.asMade ? ['The plate exists already: make only the new holes, slots and cut-outs.'] : []),
    ...(one ? [holesOf(one.holes, options)] : []),
    ...(tabs
      ? [
          `Tabs: up to ${tabs.count} of ${number(tabs.width / 1000)} mm stand in every cut line that is ${TABS_FROM} mm or more both ways, whose lines are open there on purpose; cut them by hand and file them flush.`,
        ]
      : []),
    ...cautions,
  ]
}

const differ = (all: readonly (number | string)[]): boolean => new Set(all).size > 1

const named = ({ deck }: About['parts'][number]): string =>
  `${deckName(deck)}${deck.material ? `, ${deck.material}` : ''}`

function datum({ deck }: About['parts'][number]): string {
  const corner = boxOf(contourOf(deck.outline))
  return `lower left of the outline's box, x ${number(corner.x0)} y ${number(corner.y0)} mm`
}

/** What is to be known of one deck among several on a sheet. */
function ofMany(part: About['parts'][number], options: TemplateOptions): string {
  const shift = part.shift === 0 ? 'in its own place' : `${number(part.shift)} mm to the right of its own place`
  const name = named(part)
  const thick = `${number(part.deck.thickness / 1000)} mm thick`
  return `${name.slice(0, 1).toUpperCase()}${name.slice(1)}, ${thick}. Datum (cross): ${datum(part)}; drawn ${shift}. ${holesOf(part.holes, options)}`
}

/** `Drill 4 × 3.2 mm (M3), 2 × 2.7 mm.` */
function holesOf(holes: readonly NewHole[], options: TemplateOptions): string {
  const count = new Map<string, number>()
  for (const hole of [...holes].sort((a, b) => b.diameter - a.diameter)) {
    const what = `${number(hole.diameter / 1000)} mm${hole.screw ? ` (${hole.screw})` : ''}`
    count.set(what, (count.get(what) ?? 0) + 1)
  }
  if (count.size === 0) return 'Drill: no new hole.'
  const list = [...count].map(([what, n]) => `${n} × ${what}`).join(', ')
  return options.laserHoles ? `New holes are cut, not drilled: ${list}.` : `Drill ${list}.`
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
  return { strokes, texts: [{ x, y: y - SIZE - 0.8, size: SIZE, text: `${length} mm` }] }
}

/** A cross over a point. */
function cross(x: number, y: number): Stroke[] {
  return [
    {
      kind: 'line',
      points: [
        [x - 4, y],
        [x + 4, y],
      ],
    },
    {
      kind: 'line',
      points: [
        [x, y - 4],
        [x, y + 4],
      ],
    },
  ]
}

/** `deck lid`, or the name as it stands where it says that it is a deck. */
export const deckName = (deck: Deck): string => {
  const name = deck.name || deck.id
  return /deck/i.test(name) ? name : `deck ${name}`
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
    const text = item.later ? `${item.id} (later)` : item.id
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
  return [{ x: drawn.x0 - 9, y: drawn.y1 + 2, size: SIZE, text: 'front' }, ...names]
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

const number = (value: number): string => String(Math.round(value * 1000) / 1000 || 0)
