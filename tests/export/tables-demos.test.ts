/** The tables of the demos, against what the raw JSON files ask for and against the template drawn from the same layout. */
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { parse } from 'csv-parse/sync'
import { describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import type { Placement, Problem } from '../../solver/index.ts'
import { circle, contourKey } from '../../src/export/contour.ts'
import { template } from '../../src/export/index.ts'
import { billOfItems, drillTable, hardwareList, headerPins, wireCutList } from '../../src/export/tables.ts'
import { billCsv, drillCsv, hardwareCsv, headerCsv, wireCsv } from '../../src/export/tables-columns.ts'
import { placementsOf, readLayout, readProject, toProblem } from '../../src/model/index.ts'

const root = join(import.meta.dirname, '../..')
interface RawProject {
  items: { id: string; footprint: string; later?: boolean }[]
  variants?: { id: string; items?: Record<string, { later?: boolean }> }[]
  footprints?: RawPart[]
}
interface RawPart {
  id: string
  mount: { kind: string; holes?: { screw?: string }[]; slots?: unknown[] }
  body: { width: number; depth: number }
  plug?: { pins: unknown[] }
}
const json = <T>(path: string): T => JSON.parse(readFileSync(path, 'utf8')) as T

const parts = new Map<string, RawPart>()
for (const folder of readdirSync(join(root, 'footprints'), { withFileTypes: true })) {
  if (!folder.isDirectory()) continue
  for (const file of readdirSync(join(root, 'footprints', folder.name))) {
    const part = json<RawPart>(join(root, 'footprints', folder.name, file))
    parts.set(part.id, part)
  }
}

interface Case {
  name: string
  raw: RawProject
  problem: Problem
  placements: readonly Placement[]
  /** Raw parts of the placed items that are not `later`. */
  placed: RawPart[]
}

const library = loadLibrary()
const folder = join(root, 'tests/fixtures/demos')
const cases = readdirSync(folder).map((name): Case => {
  const demo = join(root, 'demo-data', `${name.split('.')[0]}.json`)
  const read = readProject(readFileSync(demo), demo, library)
  const layout = readLayout(readFileSync(join(folder, name)), name)
  if (!read.ok || !layout.ok) throw new Error(`${name} cannot be read`)
  const variant = layout.value.variant!
  const problem = toProblem(read.value, variant, library)
  const raw = json<RawProject>(demo)
  const own = new Map((raw.footprints ?? []).map((f) => [f.id, f]))
  const patch = raw.variants?.find((v) => v.id === variant)?.items ?? {}
  const placed = layout.value.placements.flatMap((p) => {
    const base = p.item.split('#')[0]!
    const item = { ...raw.items.find((i) => i.id === base)!, ...patch[base] }
    return item.later ? [] : [own.get(item.footprint) ?? parts.get(item.footprint)!]
  })
  return { name, raw, problem, placements: placementsOf(problem, layout.value).placements, placed }
})

describe('the tables of the demos', () => {
  it('list the holes that the template draws, each once', () => {
    let holes = 0
    for (const { name, problem, placements } of cases) {
      problem.decks.forEach((_, d) => {
        const rows = drillTable(problem, placements, d)
        const drawn = template(problem, placements, d).drill.map(contourKey)
        expect(rows.map((r) => contourKey(circle(r.x, r.y, r.diameter / 2))).sort(), name).toEqual(drawn.sort())
        expect(rows.map((r) => r.number)).toEqual(rows.map((_, i) => i + 1))
        const text = (r: (typeof rows)[number]) => [r.tool!, r.x, r.y].map((v) => v.toFixed(3).padStart(10)).join(' ')
        expect(rows.map(text), name).toEqual(rows.map(text).sort())
        holes += rows.length
      })
    }
    expect(cases.length).toBeGreaterThanOrEqual(5)
    expect(holes).toBeGreaterThan(40)
  })

  it('ask for a screw, a nut and a washer a hole, a strap a pair of slots, and adhesive for every body stuck down', () => {
    for (const { name, problem, placements, placed } of cases) {
      const rows = hardwareList(problem, placements)
      const total = (kind: string) => rows.filter((r) => r.kind === kind).reduce((sum, r) => sum + r.amount, 0)
      const holes = placed.reduce((n, f) => n + (f.mount.holes ?? []).length, 0)
      for (const kind of ['screw', 'nut', 'washer']) expect(total(kind), `${name}: ${kind}`).toBe(holes)
      const slots = placed.reduce((n, f) => n + (f.mount.slots ?? []).length, 0)
      expect(total('strap'), name).toBe(slots / 2)
      const stuck = placed.filter((f) => f.mount.kind === 'adhesive')
      const area = stuck.reduce((a, f) => a + (f.body.width * f.body.depth) / 100, 0)
      expect(Math.abs(total('adhesive') - area), name).toBeLessThanOrEqual(0.05 * stuck.length + 1e-9)
      expect(total('drop-in'), name).toBe(placed.filter((f) => f.mount.kind === 'drop-in').length)
      for (const r of rows) expect(r.items.reduce((n, i) => n + i.amount, 0)).toBeCloseTo(r.amount, 6)
    }
  })

  it('count every placed item and every pin', () => {
    for (const { name, problem, placements, placed } of cases) {
      const bill = billOfItems(problem, placements).filter((r) => r.kind === 'item')
      expect(
        bill.reduce((n, r) => n + r.count, 0),
        name,
      ).toBe(placements.length)
      const pins = placed.reduce((n, f) => n + (f.plug?.pins.length ?? 0), 0)
      expect(
        headerPins(problem, placements).reduce((n, r) => n + r.pins * r.count, 0),
        name,
      ).toBe(pins)
    }
  })

  it('cut every wire, and each as long as its longest variant asks', () => {
    for (const { name, problem, placements } of cases) {
      const others = cases
        .filter((c) => c.problem.name === problem.name && c.name !== name)
        .map((c) => ({ id: c.problem.variant, problem: c.problem, placements: c.placements }))
      const rows = wireCutList(problem, placements, others)
      for (const r of rows) {
        const cuts = others.flatMap((o) => wireCutList(o.problem, o.placements).filter((w) => w.id === r.id))
        expect(r.longest, `${name} ${r.id}`).toBe(Math.max(r.cut ?? 0, ...cuts.map((c) => c.cut!)))
      }
      expect(rows.filter((r) => r.length !== null).length, name).toBe(problem.wires.length)
    }
  })

  it('read back from CSV row by row', () => {
    for (const { problem, placements } of cases) {
      const texts: [string, number][] = [
        [drillCsv(drillTable(problem, placements, 0)), drillTable(problem, placements, 0).length],
        [hardwareCsv(hardwareList(problem, placements)), hardwareList(problem, placements).length],
        [billCsv(billOfItems(problem, placements)), billOfItems(problem, placements).length],
        [wireCsv(wireCutList(problem, placements)), wireCutList(problem, placements).length],
        [headerCsv(headerPins(problem, placements)), headerPins(problem, placements).length],
      ]
      for (const [text, rows] of texts) {
        expect((parse(text, { columns: true }) as unknown[]).length).toBe(rows)
        expect(text).not.toMatch(/undefined|NaN|null|\[object/)
      }
    }
  })
})
