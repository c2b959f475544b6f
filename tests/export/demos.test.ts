/**
 * Every demo, solved, drawn, and measured on the drawn page: each hole that the project file and the footprint files ask
 * for stands within 0.05 mm of where the layout puts it. The holes are worked out here from the raw JSON.
 */
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { beforeAll, describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import { mm, type Problem, type Solved, solve } from '../../solver/index.ts'
import { contourKey } from '../../src/export/contour.ts'
import { svg, template } from '../../src/export/index.ts'
import { sharing } from '../../src/export/merge.ts'
import { applyVariant, layoutOf, type Project, readProject, toProblem, variantsOf } from '../../src/model/index.ts'
import { blobs, two } from './raster.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'
const root = join(import.meta.dirname, '../..')
type RawHole = { at: [number, number]; diameter: number }
type RawPart = { id: string; body: { width: number; depth: number }; mount: { holes?: RawHole[] } }

const parts = new Map<string, RawPart>()
for (const folder of readdirSync(join(root, 'footprints'), { withFileTypes: true })) {
  if (!folder.isDirectory()) continue
  for (const file of readdirSync(join(root, 'footprints', folder.name))) {
    const part = JSON.parse(readFileSync(join(root, 'footprints', folder.name, file), 'utf8')) as RawPart
    parts.set(part.id, part)
  }
}

interface Case {
  name: string
  project: Project
  problem: Problem
  solved: Solved
}

const cases: Case[] = []

beforeAll(() => {
  for (const file of readdirSync(join(root, 'demo-data')).filter((f) => f.endsWith('.json'))) {
    const read = readProject(readFileSync(join(root, 'demo-data', file)), file, loadLibrary())
    if (!read.ok) throw new Error(`${file} cannot be read`)
    for (const { id } of variantsOf(read.value)) {
      const problem = toProblem(read.value, id, loadLibrary())
      // Any layout will do, so nothing is asked to be best.
      const result = solve({ ...problem, objective: [] }, { time: 20_000 })
      if (result.status === 'infeasible') continue
      if (result.status === 'unknown') throw new Error(`${file}, ${id}: no layout in 20 s`)
      cases.push({ name: `${file} ${id}`, project: applyVariant(read.value, id), problem, solved: result })
    }
  }
}, 120_000)

/** Holes to be drilled in a deck, mm in the file's frame. */
function holesOf({ project, problem, solved }: Case, deck: string): { x: number; y: number; d: number }[] {
  const own = new Map((project.footprints ?? []).map((f) => [f.id, f as unknown as RawPart]))
  const existing = project.decks.find((d) => d.id === deck)!.holes ?? []
  return layoutOf(problem, solved, 0).placements.flatMap((p) => {
    const item = project.items.find((i) => i.id === p.item.split('#')[0])!
    if (p.deck !== deck || item.later) return []
    const part = own.get(item.footprint) ?? parts.get(item.footprint)!
    const { width: w, depth: d } = part.body
    return (part.mount.holes ?? []).flatMap((hole) => {
      const [u, v] = hole.at
      const [tu, tv] = [
        [u, v],
        [d - v, u],
        [w - u, d - v],
        [v, w - u],
      ][p.turn ?? 0]!
      const [x, y] = [p.at[0] + tu!, p.at[1] + tv!]
      const there = existing.some(
        (e) =>
          Math.hypot(e.at[0] - x, e.at[1] - y) <= 0.1 &&
          e.diameter >= hole.diameter &&
          e.diameter <= hole.diameter + 0.5,
      )
      return there ? [] : [{ x, y, d: hole.diameter }]
    })
  })
}

/** Corner and size of an outline of the demos: rectangles, and polygons whose arcs bulge to no side that counts. */
function boxOf(outline: Project['decks'][number]['outline']): [number, number, number, number] {
  if ('rect' in outline) return outline.rect as [number, number, number, number]
  if (!('polygon' in outline)) throw new Error('a demo with another outline needs its box worked out here')
  const [xs, ys] = [outline.polygon.map((p) => p[0]), outline.polygon.map((p) => p[1])]
  const [x, y] = [Math.min(...xs), Math.min(...ys)]
  return [x, y, Math.max(...xs) - x, Math.max(...ys) - y]
}

describe('the demos as templates', () => {
  it('are drawn with every hole where it belongs', () => {
    let measured = 0
    // of a robot's variants the first in the short run: a page takes long to draw
    const first = (c: Case) => cases.find((o) => o.project.name === c.project.name) === c
    for (const c of cases.filter((c) => LONG || first(c))) {
      c.problem.decks.forEach((deck, index) => {
        const text = svg(template(c.problem, c.solved.placements, index))
        const outline = c.project.decks.find((d) => d.id === deck.id)!.outline
        const [x, y, w, h] = boxOf(outline)
        // Ten pixels a millimetre, on which the demos' edges fall: finer pictures take longer and measure no better.
        const [lines, holes] = two(text, 'cut', 'drill', 254)
        const cut = blobs(lines).sort((a, b) => b.width * b.height - a.width * a.height)[0]!
        expect(Math.abs(cut.width - w - 0.1), c.name).toBeLessThan(0.05)
        expect(Math.abs(cut.height - h - 0.1), c.name).toBeLessThan(0.05)
        const found = blobs(holes)
        const wanted = holesOf(c, deck.id)
        expect(found.length, c.name).toBe(wanted.length)
        for (const hole of wanted) {
          const [dx, dy] = [hole.x - (x + w / 2), hole.y - (y + h / 2)]
          const off = (b: { x: number; y: number }): number =>
            Math.hypot(b.x - cut.middle.x - dx, b.y - cut.middle.y - dy)
          const near = found.reduce((a, b) => (off(a) < off(b) ? a : b))
          expect(off(near), `${c.name}: hole at ${hole.x}, ${hole.y}`).toBeLessThan(0.05)
          expect(Math.abs(near.width - hole.d - 0.1), c.name).toBeLessThan(0.05)
          measured++
        }
      })
    }
    expect(cases.length).toBeGreaterThanOrEqual(4)
    expect(measured).toBeGreaterThan(20)
  }, 120_000)

  it('repeat no contour, and have room for a kerf of 0.2 mm', () => {
    for (const c of cases) {
      c.problem.decks.forEach((_, index) => {
        const t = template(c.problem, c.solved.placements, index)
        for (const options of [{}, { laserHoles: true }, { kerf: mm(0.2), laserHoles: true }]) {
          const cut = template(c.problem, c.solved.placements, index, options).cut.filter((l) => l.kind !== 'open')
          expect(sharing(cut), c.name).toEqual([])
        }
        const keys = [...t.cut, ...t.drill, ...t.existing].map(contourKey)
        expect(new Set(keys).size, c.name).toBe(keys.length)
        const kerfed = template(c.problem, c.solved.placements, index, { kerf: mm(0.2) })
        expect(kerfed.cut.length, c.name).toBe(t.cut.length)
        expect(kerfed.drill.map(contourKey), c.name).toEqual(t.drill.map(contourKey))
      })
    }
  })
})
