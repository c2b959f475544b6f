/** A DXF file read back, so that what is shown of it is what stands in it. */
import { Draft, type Run } from '../bring-in/contours.ts'
import { boxOf } from '../bring-in/contours-shape.ts'
import { drawDxf, dxfUnit } from '../bring-in/dxf.ts'
import { dxfFile, type Entity, first, textOf } from '../bring-in/dxf-groups.ts'

export interface DxfView {
  /** By layer, in the file's order of first use. */
  readonly layers: readonly {
    readonly name: string
    readonly lines: readonly string[]
    readonly texts: readonly { readonly x: number; readonly y: number; readonly size: number; readonly text: string }[]
  }[]
  /** mm, y downwards. */
  readonly box: readonly [x: number, y: number, width: number, height: number]
  readonly unit: string
}

/** Capitals are so much of a letter's height (common practice, no source). */
const CAPITALS = 0.7

/** Throws where the text is no DXF: then the writer is wrong, and that must be seen. */
export function dxfView(text: string): DxfView {
  const file = dxfFile(text)
  const unit = dxfUnit(file)
  const draft = new Draft(0.01)
  drawDxf(file, draft, 1)
  const layers = new Map<string, { lines: string[]; texts: DxfView['layers'][number]['texts'][number][] }>()
  const on = (name: string) => {
    const known = layers.get(name) ?? { lines: [], texts: [] }
    layers.set(name, known)
    return known
  }
  const box = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity }
  const reach = (x: number, y: number): void => {
    box.x0 = Math.min(box.x0, x)
    box.y0 = Math.min(box.y0, y)
    box.x1 = Math.max(box.x1, x)
    box.y1 = Math.max(box.y1, y)
  }
  for (const run of draft.runs) {
    on(run.where.layers[0] ?? '0').lines.push(pathOf(run))
    // Arcs reach beyond their ends; of an open line, the way back from its end is no arc.
    const [around, last] = [run.points, run.points.at(-1)]
    const b = boxOf(run.closed || !last ? around : [...around, { ...last, bulge: 0 }])
    reach(b.x0, b.y0)
    reach(b.x1, b.y1)
  }
  for (const e of file.entities) {
    if (e.type !== 'TEXT') continue
    const t = { x: first(e, 10, 0), y: first(e, 20, 0), size: first(e, 40, 1) / CAPITALS, text: letters(e) }
    on(textOf(e, 8) ?? '0').texts.push({ ...t, y: -t.y })
    reach(t.x, t.y)
    reach(t.x + t.text.length * t.size * 0.5, t.y + t.size)
  }
  const pad = 4
  return {
    layers: [...layers].map(([name, drawn]) => ({ name, ...drawn })),
    box: [box.x0 - pad, -box.y1 - pad, box.x1 - box.x0 + 2 * pad, box.y1 - box.y0 + 2 * pad],
    unit: 'said' in unit ? unit.said : unit.name,
  }
}

/** `\U+2300` and `%%c` are how these files spell letters outside ASCII. */
const letters = (e: Entity): string =>
  (textOf(e, 1) ?? '')
    .replace(/\\U\+([0-9a-fA-F]{4})/g, (_, code: string) => String.fromCharCode(Number.parseInt(code, 16)))
    .replace(/%%c/gi, '⌀')
    .replace(/%%d/gi, '°')
    .replace(/%%p/gi, '±')

/** Arcs by their bulge, tan of a quarter of the sweep; y turned down. */
export function pathOf({ points, closed }: Pick<Run, 'points' | 'closed'>): string {
  const [start] = points
  if (!start) return ''
  const parts = [`M${start.x} ${-start.y}`]
  for (let i = 0; i < (closed ? points.length : points.length - 1); i++) {
    const a = points[i]!
    const b = points[(i + 1) % points.length]!
    if (a.bulge === 0) parts.push(`L${b.x} ${-b.y}`)
    else {
      const sweep = 4 * Math.atan(a.bulge)
      const r = Math.hypot(b.x - a.x, b.y - a.y) / 2 / Math.abs(Math.sin(sweep / 2))
      // Anticlockwise with y up is anticlockwise on the screen too: flag 0.
      parts.push(`A${r} ${r} 0 ${Math.abs(sweep) > Math.PI ? 1 : 0} ${sweep > 0 ? 0 : 1} ${b.x} ${-b.y}`)
    }
  }
  return parts.join('') + (closed ? 'Z' : '')
}
