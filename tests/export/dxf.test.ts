/**
 * DXF read back by a parser that is not ours and compared, entity by entity, with the drawing it was written from; and the
 * raw pairs looked at for what a parser does not mind. Group codes and header values: fixtures/dxf-values.json, with sources.
 */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import DxfParser, {
  type IArcEntity,
  type ICircleEntity,
  type IEntity,
  type ILineEntity,
  type ILwpolylineEntity,
  type IPolylineEntity,
  type ITextEntity,
} from 'dxf-parser'
import { describe, expect, it } from 'vitest'
import { mm } from '../../solver/index.ts'
import { contourOf, type Line, segmentsOfOpen } from '../../src/export/contour.ts'
import type { Stroke, Template, TemplateOptions } from '../../src/export/drawing.ts'
import { type DxfVersion, dxf, words } from '../../src/export/dxf.ts'
import { sheet } from '../../src/export/sheet.ts'
import { template } from '../../src/export/template.ts'
import fc from '../seeded.ts'
import { full, placements, tower, towered } from './workshop.ts'

const facts = new Map(
  (
    JSON.parse(readFileSync(join(import.meta.dirname, '../fixtures/dxf-values.json'), 'utf8')) as {
      id: string
      value: unknown
    }[]
  ).map((f) => [f.id, f.value]),
)
const codes = (id: string): Record<string, number> => facts.get(id) as Record<string, number>

interface Plain {
  readonly kind: string
  readonly layer: string
  readonly numbers: readonly number[]
  readonly text?: string
}

/** What the drawing asks for, in the file's order. */
function wanted(t: Template): Plain[] {
  const line = (c: Line, layer: string): Plain => {
    if (c.kind === 'circle') return { kind: 'CIRCLE', layer, numbers: [c.cx, c.cy, c.r] }
    if (c.kind === 'path') return { kind: 'closed', layer, numbers: c.points.flatMap((p) => [p.x, p.y, p.bulge]) }
    const [only, ...more] = segmentsOfOpen(c.points)
    if (only && more.length === 0) {
      if (!only.arc) return { kind: 'LINE', layer, numbers: [only.a.x, only.a.y, only.b.x, only.b.y] }
      const [from, to] = only.arc.sweep > 0 ? [only.a, only.b] : [only.b, only.a]
      return { kind: 'ARC', layer, numbers: [only.arc.cx, only.arc.cy, only.arc.r, from.x, from.y, to.x, to.y] }
    }
    return {
      kind: 'open',
      layer,
      numbers: c.points.flatMap((p, i) => [p.x, p.y, i < c.points.length - 1 ? p.bulge : 0]),
    }
  }
  const stroke = (s: Stroke, layer: string): Plain => {
    if (s.kind === 'contour') return line(s.contour, layer)
    if (s.kind === 'open') return line(s, layer)
    return line({ kind: 'open', points: s.points.map(([x, y]) => ({ x, y, bulge: 0 })) }, layer)
  }
  return [
    ...t.cut.map((c) => line(c, 'CUT')),
    ...t.drill.map((c) => line(c, 'DRILL')),
    ...t.existing.map((c) => line(c, 'EXISTING')),
    ...t.mark.map((s) => stroke(s, 'MARK')),
    ...t.notes.strokes.map((s) => stroke(s, 'NOTES')),
    ...t.notes.texts.map((x) => ({ kind: 'TEXT', layer: 'NOTES', numbers: [x.x, x.y, x.size * 0.7], text: x.text })),
  ]
}

/** The same of what the parser found. */
function found(e: IEntity): Plain {
  const layer = e.layer
  switch (e.type) {
    case 'CIRCLE': {
      const c = e as ICircleEntity
      return { kind: 'CIRCLE', layer, numbers: [c.center.x, c.center.y, c.radius] }
    }
    case 'ARC': {
      const a = e as IArcEntity
      const on = (angle: number): number[] => [
        a.center.x + a.radius * Math.cos(angle),
        a.center.y + a.radius * Math.sin(angle),
      ]
      // The parser hands out radians.
      return { kind: 'ARC', layer, numbers: [a.center.x, a.center.y, a.radius, ...on(a.startAngle), ...on(a.endAngle)] }
    }
    case 'LINE':
      return { kind: 'LINE', layer, numbers: (e as ILineEntity).vertices.flatMap((v) => [v.x, v.y]) }
    case 'LWPOLYLINE':
    case 'POLYLINE': {
      const p = e as ILwpolylineEntity | IPolylineEntity
      return {
        kind: p.shape ? 'closed' : 'open',
        layer,
        numbers: p.vertices.flatMap((v) => [v.x, v.y, (v as { bulge?: number }).bulge ?? 0]),
      }
    }
    case 'TEXT': {
      const t = e as ITextEntity
      return { kind: 'TEXT', layer, numbers: [t.startPoint.x, t.startPoint.y, t.textHeight], text: t.text }
    }
  }
  throw new Error(`the file holds ${e.type}`)
}

/** The file as pairs of code and value. */
function pairs(text: string): [number, string][] {
  const lines = text.trimEnd().split('\n')
  expect(lines.length % 2).toBe(0)
  return Array.from({ length: lines.length / 2 }, (_, i) => [Number(lines[2 * i]), lines[2 * i + 1]!])
}

const header = (text: string, name: string): string =>
  pairs(text)[pairs(text).findIndex(([code, value]) => code === 9 && value === name) + 1]![1]

function compare(t: Template, version: DxfVersion): void {
  const text = dxf(t, { version })
  const read = new DxfParser().parseSync(text)!
  const expected = wanted(t)
  expect(read.entities).toHaveLength(expected.length)
  read.entities.forEach((e, i) => {
    const [a, b] = [found(e), expected[i]!]
    expect([a.kind, a.layer]).toEqual([b.kind, b.layer])
    expect(a.numbers).toHaveLength(b.numbers.length)
    a.numbers.forEach((n, k) => {
      // Files hold a nanometre; the ends of an arc come from an angle to 1e-9 degrees.
      expect(Math.abs(n - b.numbers[k]!), `${a.kind} ${i}, number ${k}`).toBeLessThan(2e-6)
    })
    if (b.text !== undefined) expect(a.text).toBe(words(b.text, version))
  })
  if (version === 'r2000') {
    expect(new Set(read.entities.map((e) => e.handle)).size).toBe(read.entities.length)
  }
}

const versions: DxfVersion[] = ['r2000', 'r12']
const cases: Record<string, TemplateOptions> = {
  plain: {},
  'as made': { asMade: true },
  kerf: { kerf: mm(0.2) },
  'laser holes with kerf': { laserHoles: true, kerf: mm(0.2) },
  'marks as paths': { marksAsPaths: true },
  tabs: { tabs: { count: 3, width: mm(1.5) } },
  everything: { asMade: true, kerf: mm(0.15), laserHoles: true, marksAsPaths: true, tabs: { count: 2, width: mm(1) } },
}

describe('DXF, read by a parser that is not ours', () => {
  for (const version of versions) {
    for (const [name, options] of Object.entries(cases)) {
      it(`holds what the drawing holds, ${version}, ${name}`, () => {
        compare(template(full, placements, 0, options), version)
        compare(sheet(tower, towered, options), version)
      })
    }
  }

  it('has true arcs where a tab leaves one of a round line', () => {
    const t = template(
      { ...full, decks: [{ ...full.decks[0]!, outline: { kind: 'circle', cx: mm(40), cy: mm(50), r: mm(60) } }] },
      [],
      0,
      { tabs: { count: 3, width: mm(2) } },
    )
    const read = new DxfParser().parseSync(dxf(t))!
    expect(read.entities.filter((e) => e.type === 'ARC' && e.layer === 'CUT')).toHaveLength(3)
    for (const version of versions) compare(t, version)
  })

  it('keeps random outlines with arcs', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.record({
            r: fc.integer({ min: 8000, max: 4000000 }),
            bulge: fc.double({ min: -0.3, max: 0.9, noNaN: true }),
          }),
          { minLength: 3, maxLength: 12 },
        ),
        fc.constantFrom(...versions),
        (corners, version) => {
          const outline = contourOf({
            kind: 'polygon',
            points: corners.map(({ r, bulge }, i) => {
              const angle = (2 * Math.PI * i) / corners.length
              return { x: mm((r * Math.cos(angle)) / 1000), y: mm((r * Math.sin(angle)) / 1000), bulge }
            }),
          })
          compare({ ...template(full, [], 0), cut: [outline] }, version)
        },
      ),
      { numRuns: 40 },
    )
  })
})

describe('the pairs of a DXF', () => {
  const t = template(full, placements, 0, { marksAsPaths: true, tabs: { count: 2, width: mm(1) } })
  const [modern, old] = versions.map((version) => dxf(t, { version })) as [string, string]

  it('state version, millimetres and metric', () => {
    const acad = codes('dxf-acadver-codes') as unknown as Record<string, string>
    expect(header(modern, '$ACADVER')).toBe(acad['2000'])
    expect(header(old, '$ACADVER')).toBe(acad.R12)
    for (const text of [modern, old]) {
      expect(header(text, '$INSUNITS')).toBe(String(facts.get('dxf-insunits-mm')))
      expect(header(text, '$MEASUREMENT')).toBe('1')
      expect(text.endsWith('  0\nEOF\n')).toBe(true)
    }
  })

  it('hold each handle once, point at handles that exist, and leave the seed above them all', () => {
    const all = pairs(modern)
    const sections = all.findIndex(([code, value]) => code === 2 && value === 'TABLES')
    const own = all
      .slice(sections)
      .filter(([code]) => code === 5 || code === 105)
      .map(([, h]) => h)
    expect(own.length).toBeGreaterThan(60)
    expect(new Set(own).size).toBe(own.length)
    for (const [code, handle] of all.slice(sections)) {
      if ((code === 330 || code === 340 || code === 350) && handle !== '0') expect(own).toContain(handle)
    }
    const seed = Number.parseInt(header(modern, '$HANDSEED'), 16)
    expect(Math.max(...own.map((h) => Number.parseInt(h, 16)))).toBeLessThan(seed)
  })

  it('use the layers and line types that the tables define', () => {
    for (const text of [modern, old]) {
      const read = new DxfParser().parseSync(text)!
      const layers = Object.keys(read.tables.layer.layers)
      expect(layers.sort()).toEqual(['0', 'CUT', 'DRILL', 'EXISTING', 'MARK', 'NOTES'])
      for (const e of read.entities) expect(layers).toContain(e.layer)
      const types = Object.keys(read.tables.lineType.lineTypes)
      for (const e of read.entities) if (e.lineType) expect(types).toContain(e.lineType)
    }
  })

  it('hold in R12 nothing that came later', () => {
    expect(facts.get('dxf-r12-lwpolyline')).toBe(false)
    expect(old).not.toContain('LWPOLYLINE')
    expect(pairs(old).filter(([code]) => code === 5 || code === 100 || code === 330)).toEqual([])
    expect(old.match(/^POLYLINE$/gm)!.length).toBe(old.match(/^SEQEND$/gm)!.length)
  })

  it('write a circle by its radius and a quarter turn by its bulge', () => {
    const circle = codes('dxf-circle')
    const at = pairs(modern)
    const first = at.findIndex(([code, value]) => code === 0 && value === 'CIRCLE')
    expect(at.slice(first, first + 12).filter(([code]) => code === circle.radius)).toHaveLength(1)
    const polyline = codes('dxf-lwpolyline')
    const corner = at.filter(([code]) => code === polyline.bulge).map(([, v]) => Number(v))
    expect(corner.some((b) => Math.abs(b - (facts.get('dxf-bulge-90') as number)) < 1e-8)).toBe(true)
    // A corner of 3 mm: chord and bulge give the radius back, r = c (1 + b²) / (4 b).
    const rounded = contourOf({ kind: 'rect', x: mm(0), y: mm(0), w: mm(20), h: mm(10), radius: mm(3) })
    const read = new DxfParser().parseSync(dxf({ ...t, cut: [rounded] }))!
    const { vertices } = read.entities[0] as ILwpolylineEntity
    const k = vertices.findIndex((v) => v.bulge > 0)
    const chord = Math.hypot(vertices[k + 1]!.x - vertices[k]!.x, vertices[k + 1]!.y - vertices[k]!.y)
    const b = vertices[k]!.bulge
    expect((chord * (1 + b * b)) / (4 * b)).toBeCloseTo(facts.get('dxf-bulge-radius') as number, 6)
  })

  it('are ASCII, one line a value, and no number has an exponent', () => {
    const odd = { ...full, name: 'Ärger\n0\nEOF %%u ^J \\U+0041 ⌀ 🤖', variant: '' }
    for (const version of versions) {
      const text = dxf(template(odd, placements, 0), { version })
      expect(text).toMatch(/^[\x20-\x7e\n]*$/)
      for (const [code, value] of pairs(text)) {
        if (code >= 10 && code < 60) expect(value).toMatch(/^-?\d+\.\d+$/)
      }
      expect(new DxfParser().parseSync(text)!.entities.length).toBe(wanted(template(odd, placements, 0)).length)
      expect(text).not.toContain('%%u')
      expect(text).not.toContain('^J')
    }
  })

  it('write signs as each version can', () => {
    expect(words('⌀3.4 × Ä', 'r2000')).toBe('%%c3.4 x \\U+00C4')
    expect(words('板🤖', 'r2000')).toBe('\\U+677F\\U+D83E\\U+DD16')
    expect(words('⌀3.4 × Ä 板', 'r12')).toBe('%%c3.4 x A ?')
    expect(words('100 %, a\\b', 'r2000')).toBe('100 %, a\\U+005Cb')
    expect(words('%%%', 'r12')).toBe('% % %')
  })
})
