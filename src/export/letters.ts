/** Words as lines that a laser or a plotter can follow, for shops whose machine has no fonts. */
import { boxOf, type Vertex } from './contour.ts'
import { letterShapes } from './letter-shapes.ts'

const bulges: Readonly<Record<string, number>> = {
  '(': Math.tan(Math.PI / 8),
  ')': -Math.tan(Math.PI / 8),
  '[': 1,
  ']': -1,
}

/** Room between letters and the width of a blank, grid units. */
const BETWEEN = 1.2
const BLANK = 2
/** Grid units to the height of the font: the widest letter with its room takes 0.6 of it, as the notes allow for. */
const UNIT = 0.6 / (4 + BETWEEN)

/** Signs that look enough like one that we have. */
const like: Readonly<Record<string, string>> = {
  ß: 'ss',
  ẞ: 'SS',
  æ: 'ae',
  Æ: 'AE',
  œ: 'oe',
  Œ: 'OE',
  ø: 'o',
  Ø: '⌀',
  đ: 'd',
  Đ: 'D',
  ł: 'l',
  Ł: 'L',
  ð: 'd',
  þ: 'th',
  ı: 'i',
  μ: 'µ',
  Ω: 'Ω',
  '∅': '⌀',
  '—': '–',
  '−': '-',
  '‐': '-',
  '‘': "'",
  '’': "'",
  '“': '"',
  '”': '"',
  '„': '"',
  '\u00a0': ' ',
  '\u202f': ' ',
}

/** Text in letters that we have: accents fall away (`ü` → `u`), look-alikes are taken; what is left over stays as it is. */
export function plainLetters(text: string): string {
  return [...text.normalize('NFC')]
    .map((sign) => {
      if (letterShapes[sign] !== undefined) return sign
      const known = like[sign]
      if (known !== undefined) return known
      const bare = sign.normalize('NFD').replace(/\p{M}/gu, '')
      return like[bare] ?? bare
    })
    .join('')
}

/** Whether every sign of a text can be drawn. */
export const drawable = (text: string): boolean =>
  [...plainLetters(text)].every((sign) => sign === ' ' || letterShapes[sign] !== undefined)

/** Strokes of one sign at the grid, each a list of points. */
function strokesOf(sign: string): Vertex[][] {
  const shape = letterShapes[sign]
  if (shape === undefined) return []
  return shape.split('|').map((stroke) =>
    stroke.split(' ').map((point) => {
      const [, x, y, bend] = /^(-?[\d.]+),(-?[\d.]+)([()[\]]?)$/.exec(point)!
      return { x: Number(x), y: Number(y), bulge: bulges[bend!] ?? 0 }
    }),
  )
}

const widthOf = (sign: string): number =>
  sign === ' ' ? BLANK : Math.max(0, ...strokesOf(sign).map((points) => boxOf({ kind: 'open', points }).x1))

/** Width of a line of text in letters `size` high (the font's height, as in `Text`), mm. */
export function lettersWidth(text: string, size: number): number {
  const signs = [...plainLetters(text)].filter((s) => s === ' ' || letterShapes[s] !== undefined)
  return size * UNIT * signs.reduce((sum, s, i) => sum + widthOf(s) + (i > 0 ? BETWEEN : 0), 0)
}

/** A line of text as open strokes, its baseline starting at (x, y), mm. Signs that we have not got are left out. */
export function letters(text: string, x: number, y: number, size: number): Vertex[][] {
  const unit = size * UNIT
  const strokes: Vertex[][] = []
  let at = 0
  for (const sign of plainLetters(text)) {
    if (sign !== ' ' && letterShapes[sign] === undefined) continue
    for (const stroke of strokesOf(sign)) {
      strokes.push(stroke.map((p) => ({ x: x + (at + p.x) * unit, y: y + p.y * unit, bulge: p.bulge })))
    }
    at += widthOf(sign) + BETWEEN
  }
  return strokes
}
