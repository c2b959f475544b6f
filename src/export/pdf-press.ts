/**
 * Turns pages into a PDF file (ISO 32000-1): one font, no dates, so that the same pages give the same bytes. A page's frame
 * has y upwards as ours has, so nothing is flipped. Arcs become Bézier curves of at most 30°, off by less than 4·10⁻⁷ of the
 * radius (the usual 4/3·tan(θ/4) construction; a test works the error out).
 */

import fontkit from '@pdf-lib/fontkit'
import { PDFDocument, type PDFFont, PDFName, type PDFPage, PrintScaling } from 'pdf-lib'
import { type Line, segmentsOf, segmentsOfOpen } from './contour.ts'
import { fontBytes, printable } from './pdf-font.ts'
import { boxContour, type Colour, colours, type Ink, type Look, type Page } from './pdf-ink.ts'

/** Points per millimetre: 1 pt = 1/72 in (ISO 32000-1, 8.3.2.3). */
export const PT = 72 / 25.4
const FINEST_ARC = Math.PI / 6

/** Measures words, and prints pages. */
export interface Press {
  /** Width in mm of a text set `size` mm high. */
  readonly width: (text: string, size: number) => number
  /** The text as it will be printed: copies by the names that people know, and what the font lacks as a box. */
  readonly clean: (text: string) => string
  /** The PDF's bytes. `title` is kept in the file. To be called once. */
  readonly print: (title: string, pages: readonly Page[]) => Promise<Uint8Array>
}

/** `named`: what names of copies in a text become. */
export async function openPress(named = (text: string): string => text): Promise<Press> {
  const document = await PDFDocument.create({ updateMetadata: false })
  document.registerFontkit(fontkit)
  const font = await document.embedFont(fontBytes(), { customName: 'DeckwrightSans' })
  const has = new Set(font.getCharacterSet())
  const clean = (text: string): string => printable(named(text), has)
  // Without kerning and ligatures, which this font has none of, a text is its letters one after the other.
  const widths = kept((letter) => font.widthOfTextAtSize(letter, 1))
  const codes = kept((letter) => font.encodeText(letter).toString().slice(1, -1))
  const words = (text: string): string => `<${Array.from(clean(text), codes).join('')}>`
  return {
    clean,
    width: (text, size) => Array.from(clean(text), widths).reduce((sum, w) => sum + w, 0) * size,
    print: async (title, pages) => {
      document.setTitle(clean(title))
      document.setCreator('Deckwright')
      // Readers that honour it offer 100 % first; the words and the bars on each page are for the others.
      const wishes = document.catalog.getOrCreateViewerPreferences()
      wishes.setPrintScaling(PrintScaling.None)
      wishes.setPickTrayByPDFSize(true)
      for (const p of pages) draw(document, document.addPage([p.width * PT, p.height * PT]), font, words, p)
      return document.save()
    },
  }
}

function kept<T>(of: (letter: string) => T): (letter: string) => T {
  const known = new Map<string, T>()
  return (letter) => {
    const value = known.get(letter) ?? of(letter)
    known.set(letter, value)
    return value
  }
}

type Words = (text: string) => string

function draw(document: PDFDocument, page: PDFPage, font: PDFFont, words: Words, { inks }: Page): void {
  const out: string[] = [`${n(PT)} 0 0 ${n(PT)} 0 0 cm`, '1 J 1 j']
  for (const ink of inks) put(out, ink, 1, words)
  page.node.setFontDictionary(PDFName.of('F'), font.ref)
  page.node.addContentStream(document.context.register(document.context.flateStream(out.join('\n'))))
}

/** `scale`: how many mm on the paper one unit of the current frame is. */
function put(out: string[], ink: Ink, scale: number, words: Words): void {
  switch (ink.kind) {
    case 'contour': {
      const { look, fill } = ink
      if (!look && !fill) return
      if (fill) out.push(`${rgb(fill)} rg`)
      if (look) out.push(...pen(look, scale))
      out.push(...outline(ink.contour), look && fill ? 'B' : look ? 'S' : 'f')
      return
    }
    case 'line':
      out.push(...pen(ink.look, scale))
      out.push(...ink.points.map(([x, y], i) => `${n(x)} ${n(y)} ${i === 0 ? 'm' : 'l'}`), 'S')
      return
    case 'text': {
      if (ink.text === '') return
      const turn = ink.up ? '0 1 -1 0' : '1 0 0 1'
      const place = `${turn} ${n(ink.x)} ${n(ink.y)} Tm`
      out.push(`${rgb(ink.colour ?? colours.ink)} rg`, `BT /F ${n(ink.size)} Tf ${place} ${words(ink.text)} Tj ET`)
      return
    }
    case 'group': {
      const s = n(ink.scale)
      const matrix = ink.turned ? `0 ${s} ${n(-ink.scale)} 0` : `${s} 0 0 ${s}`
      out.push('q', `${matrix} ${n(ink.at[0])} ${n(ink.at[1])} cm`)
      if (ink.clip) out.push(...outline(boxContour(ink.clip)), 'W n')
      for (const inner of ink.inks) put(out, inner, scale * ink.scale, words)
      out.push('Q')
    }
  }
}

function pen(look: Look, scale: number): string[] {
  const dash = (look.dash ?? []).map((d) => n(d / scale)).join(' ')
  return [`${rgb(look.colour)} RG`, `${n(look.width / scale)} w`, `[${dash}] 0 d`]
}

function outline(c: Line): string[] {
  if (c.kind === 'circle') {
    return [`${n(c.cx + c.r)} ${n(c.cy)} m`, ...curves(c.cx, c.cy, c.r, 0, 2 * Math.PI), 'h']
  }
  const [first] = c.points
  if (!first) return []
  const steps = [`${n(first.x)} ${n(first.y)} m`]
  for (const s of c.kind === 'open' ? segmentsOfOpen(c.points) : segmentsOf(c.points)) {
    if (!s.arc) steps.push(`${n(s.b.x)} ${n(s.b.y)} l`)
    else {
      const { cx, cy, r, sweep } = s.arc
      steps.push(...curves(cx, cy, r, Math.atan2(s.a.y - cy, s.a.x - cx), sweep))
    }
  }
  return c.kind === 'open' ? steps : [...steps, 'h']
}

const curves = (cx: number, cy: number, r: number, from: number, sweep: number): string[] =>
  arcCurves(cx, cy, r, from, sweep).map((c) => `${c.map(n).join(' ')} c`)

/**
 * An arc from angle `from` over `sweep` (radians, anticlockwise positive), from where the pen stands: two control points and the end
 * of each cubic curve, `[x1, y1, x2, y2, x3, y3]`.
 */
export function arcCurves(cx: number, cy: number, r: number, from: number, sweep: number): number[][] {
  const parts = Math.max(1, Math.ceil(Math.abs(sweep) / FINEST_ARC - 1e-9))
  const step = sweep / parts
  const k = (4 / 3) * Math.tan(step / 4) * r
  return Array.from({ length: parts }, (_, i) => {
    const [a, b] = [from + step * i, from + step * (i + 1)]
    const [ax, ay] = [cx + r * Math.cos(a), cy + r * Math.sin(a)]
    const [bx, by] = [cx + r * Math.cos(b), cy + r * Math.sin(b)]
    return [ax - k * Math.sin(a), ay + k * Math.cos(a), bx + k * Math.sin(b), by - k * Math.cos(b), bx, by]
  })
}

const rgb = (colour: Colour): string =>
  [1, 3, 5].map((i) => n(Number.parseInt(colour.slice(i, i + 2), 16) / 255)).join(' ')

/** A number as PDF wants it: no exponent, no negative zero; 0.00001 mm is finer than anything here. */
function n(value: number): string {
  const text = value.toFixed(5).replace(/\.?0+$/, '')
  return text === '-0' ? '0' : text
}
