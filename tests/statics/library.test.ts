/** The library's heads and arms carry nothing beyond the sweep that the rules know, and the demos' layouts are told of in sentences. */
import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import { layoutOf, type Problem, solve } from '../../solver/index.ts'
import { readProject, toProblem, variantsOf } from '../../src/model/index.ts'
import { headParts } from '../../src/statics/head-parts.ts'
import { sweptBy } from '../../src/statics/head-sweep.ts'
import { accessReport, balanceOf, headReports, serviceOrder, viewReports } from '../../src/statics/index.ts'
import { placed } from './kit.ts'

const library = loadLibrary()

function demo(id: string, variant?: string): Problem {
  const file = fileURLToPath(new URL(`../../demo-data/${id}.json`, import.meta.url))
  const read = readProject(readFileSync(file), id, library)
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return toProblem(read.value, variant ?? variantsOf(read.value)[0]!.id, library)
}

describe('the library’s heads and arms', () => {
  const ids = [...library.values()].filter((f) => f.head !== undefined).map((f) => f.id)
  it.each(ids)('%s: what it carries stays in the sweep that the layout is made with', (id) => {
    const project = {
      format: 'deckwright-project',
      version: 1,
      units: 'mm',
      name: id,
      decks: [{ id: 'd', z: 100, thickness: 3, outline: { rect: [0, 0, 200, 200] } }],
      items: [{ id: 'neck', footprint: id }],
    }
    const read = readProject(JSON.stringify(project), id, library)
    if (!read.ok) throw new Error(JSON.stringify(read.problems))
    const p = toProblem(read.value, 'base', library)
    const at = placed(p, { neck: ['d', 60, 60] })
    const h = headParts(p, layoutOf(p, at).bodies[0]!)!
    const head = p.items[0]!.footprint.head!
    const swept = sweptBy(h)
    expect(swept.reach).toBeLessThanOrEqual(head.reach / 1000)
    expect(swept.z[0]).toBeGreaterThanOrEqual(100 + head.z[0] / 1000 - 1e-9)
    expect(swept.z[1]).toBeLessThanOrEqual(100 + head.z[1] / 1000 + 1e-9)
    // the yoke turns all about the pivot, so it must stay in the round part of the sweep
    const yoke = sweptBy({ ...h, parts: h.parts.filter((part) => !part.tilts) })
    expect(yoke.reach).toBeLessThanOrEqual(head.tail / 1000)
    expect(headReports(p, at)[0]!.findings).toEqual([])
  })
})

describe('a demo’s layout', () => {
  it('is told of: balance, head, view, order, reach; every finding names what is there', { timeout: 60_000 }, () => {
    let told = 0
    for (const id of ['greenhouse-scout', 'duct-inspector', 'shelf-reader']) {
      const p = demo(id, id === 'shelf-reader' ? 'new-leads' : undefined)
      const r = solve({ ...p, objective: [] }, { time: 20_000 })
      if (r.status !== 'optimal' && r.status !== 'feasible') throw new Error(`${id}: ${r.status}`)
      const at = r.placements
      const balance = balanceOf(p, at)!
      expect(balance.worstTip).toBeGreaterThan(0)
      const order = serviceOrder(p, at)
      expect(order.cycles).toEqual([])
      expect(
        order.steps
          .filter((s) => s.kind === 'item')
          .map((s) => s.id)
          .sort(),
      ).toEqual(at.flatMap((q) => (p.items[q.item]!.later ? [] : [p.items[q.item]!.id])).sort())
      const all = [
        ...balance.findings,
        ...order.findings,
        ...accessReport(p, at).findings,
        ...headReports(p, at).flatMap((h) => h.findings),
        ...viewReports(p, at).flatMap((v) => v.findings),
      ]
      const known = new Set([...p.items.map((i) => i.id), ...p.decks.map((d) => d.id)])
      for (const f of all) {
        told++
        expect(f.text).toMatch(/^\S.*\.$/)
        expect(f.text).not.toMatch(/NaN|undefined|Infinity/)
        expect(f.items.filter((i) => !known.has(i))).toEqual([])
      }
      if (process.env.DECKWRIGHT_TELL) console.log(id, all.map((f) => `\n  ${f.weight}: ${f.text}`).join(''))
    }
    expect(told).toBeGreaterThan(0)
  })
})
