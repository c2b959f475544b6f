/** The plan's picture as SVG, 1:1 in millimetres, so that a renderer that is not ours can draw the same marks. */
import type { Placement, Problem } from '../../solver/index.ts'
import type { Point2 } from '../../src/export/gltf-flat.ts'
import { type PlanOptions, planPicture } from '../../src/export/picture.ts'
import type { Mark, Picture } from '../../src/export/picture-marks.ts'

export const planSvg = (problem: Problem, placements: readonly Placement[], options?: PlanOptions): string =>
  pictureSvg(planPicture(problem, placements, options))

function pictureSvg(picture: Picture): string {
  const [w, h] = [digits(picture.width), digits(picture.height)]
  const line = (points: readonly Point2[]): string =>
    points.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${digits(x)} ${digits(picture.height - y)}`).join('')
  const drawn = (mark: Mark): string => {
    const opacity = mark.opacity < 1 ? ` opacity="${digits(mark.opacity)}"` : ''
    if (mark.kind === 'area') {
      const d = mark.rings.map((r) => `${line(r)}Z`).join('')
      return `<path fill="${mark.colour}" fill-rule="evenodd"${opacity} d="${d}"/>`
    }
    const d = mark.lines.map((l) => (l.length === 1 ? `${line(l)}h0` : line(l))).join('')
    return `<path fill="none" stroke="${mark.colour}" stroke-width="${digits(mark.width)}"${opacity} d="${d}"/>`
  }
  const groups = picture.groups.map((g) => {
    const title = g.title === undefined ? '' : `<title>${xml(g.title)}</title>`
    return `<g>${title}${g.marks.map(drawn).join('\n')}</g>`
  })
  return `${[
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" width="${w}mm" height="${h}mm" viewBox="0 0 ${w} ${h}" stroke-linecap="round" stroke-linejoin="round">`,
    `<title>${xml(picture.title)}</title>`,
    `<rect width="${w}" height="${h}" fill="${picture.paper}"/>`,
    ...groups,
    '</svg>',
  ].join('\n')}\n`
}

/** Millimetres to 0.001, no exponent, no negative zero. */
function digits(value: number): string {
  const text = value.toFixed(3).replace(/\.?0+$/, '')
  return text === '-0' ? '0' : text
}

/** Text for XML; characters that XML has no place for become a question mark. */
const xml = (text: string): string =>
  text
    .replace(/[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu, '?')
    .replace(/[&<>"]/g, (c) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' })[c]!)
