/** Writes a template as SVG: 1:1, millimetres, five groups (contract §8). The one flip of y of this writer is here. */
import { along, type Line, type Segment, segmentsOf, segmentsOfOpen } from './contour.ts'
import type { Stroke, Template } from './drawing.ts'

export const groupIds = ['cut', 'drill', 'existing', 'mark', 'notes'] as const
export type GroupId = (typeof groupIds)[number]

/** `colour`: any CSS colour; `width`: mm. */
export interface Pen {
  readonly colour: string
  readonly width: number
}

/** Okabe & Ito 2008, thin enough to aim at. */
export const pens: Readonly<Record<GroupId, Pen>> = {
  cut: { colour: '#d55e00', width: 0.1 },
  drill: { colour: '#0072b2', width: 0.1 },
  existing: { colour: '#767676', width: 0.1 },
  mark: { colour: '#009e73', width: 0.1 },
  notes: { colour: '#000000', width: 0.2 },
}

/** One SVG document. `settings` replaces the pens of the groups that it names. */
export function svg(t: Template, settings: Partial<Record<GroupId, Pen>> = {}): string {
  const width = t.view.x1 - t.view.x0
  const height = t.view.y1 - t.view.y0
  const place: Place = { x: (x) => x - t.view.x0, y: (y) => t.view.y1 - y }
  const pen = (id: GroupId): Pen => settings[id] ?? pens[id]
  const group = (id: GroupId, parts: readonly string[]): string[] => [
    `  <g id="${id}" stroke="${xml(pen(id).colour)}" stroke-width="${digits(pen(id).width)}">`,
    ...parts.map((part) => `    ${part}`),
    '  </g>',
  ]
  const texts = t.notes.texts.map(
    (text) =>
      `<text x="${digits(place.x(text.x))}" y="${digits(place.y(text.y))}" font-size="${digits(text.size)}">${xml(text.text)}</text>`,
  )
  const lines = [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}" fill="none">`,
    `  <title>${xml(t.title)}</title>`,
    ...group(
      'cut',
      t.cut.map((c) => contour(c, place)),
    ),
    ...group(
      'drill',
      t.drill.map((c) => contour(c, place)),
    ),
    ...group(
      'existing',
      t.existing.map((c) => contour(c, place)),
    ),
    ...group(
      'mark',
      t.mark.map((s) => stroke(s, place)),
    ),
    ...group('notes', [
      ...t.notes.strokes.map((s) => stroke(s, place)),
      `<g font-family="sans-serif" fill="${xml(pen('notes').colour)}" stroke="none">`,
      ...texts.map((text) => `  ${text}`),
      '</g>',
    ]),
    '</svg>',
  ]
  return `${lines.join('\n')}\n`
}

interface Place {
  readonly x: (x: number) => number
  readonly y: (y: number) => number
}

function stroke(s: Stroke, place: Place): string {
  if (s.kind === 'open') return contour(s, place)
  if (s.kind === 'contour') return contour(s.contour, place, s.dashed ? ' stroke-dasharray="2 1"' : '')
  const points = s.points.map(([x, y]) => `${digits(place.x(x))} ${digits(place.y(y))}`)
  return `<path d="M ${points.join(' L ')}"/>`
}

function contour(c: Line, place: Place, more = ''): string {
  if (c.kind === 'circle') {
    return `<circle cx="${digits(place.x(c.cx))}" cy="${digits(place.y(c.cy))}" r="${digits(c.r)}"${more}/>`
  }
  const at = (p: { x: number; y: number }): string => `${digits(place.x(p.x))} ${digits(place.y(p.y))}`
  const segments: Segment[] = c.kind === 'open' ? segmentsOfOpen(c.points) : segmentsOf(c.points)
  const steps = [`M ${at(c.points[0]!)}`]
  segments.forEach((s, i) => {
    if (!s.arc) {
      // Z draws the last line of a closed contour.
      if (c.kind === 'open' || i < segments.length - 1) steps.push(`L ${at(s.b)}`)
      return
    }
    // Anticlockwise with y up is sweep-flag 0 with y down. Arcs near half a turn and over go in two: every reader
    // draws those alike, and a rounded radius moves the middle of a half turn by tens of its own error.
    const halves = Math.abs(s.arc.sweep) > Math.PI * 0.75 ? [along(s, 0.5), s.b] : [s.b]
    const r = digits(s.arc.r)
    for (const to of halves) steps.push(`A ${r} ${r} 0 0 ${s.arc.sweep > 0 ? 0 : 1} ${at(to)}`)
  })
  return `<path d="${steps.join(' ')}${c.kind === 'open' ? '' : ' Z'}"${more}/>`
}

/** Millimetres to 0.0001, no exponent, no negative zero. */
function digits(value: number): string {
  const text = value.toFixed(4).replace(/\.?0+$/, '')
  return text === '-0' ? '0' : text
}

/** Text for XML; characters that XML has no place for become a question mark. */
const xml = (text: string): string =>
  text
    .replace(/[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu, '?')
    .replace(/[&<>"]/g, (c) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' })[c]!)
