/**
 * The demos show every finding: each kind that electric and statics can give (their two lists) is told of some demo's layout, and of a
 * legal one, so that none of it is what R1–R10 say already. A kind that is new, or that nothing gives any longer, fails here.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import { check, mm, type Placement, type Problem } from '../../solver/index.ts'
import {
  ELECTRIC_FINDINGS,
  inspectPins,
  inspectPower,
  inspectRoutes,
  leadLengths,
  wiringOf,
} from '../../src/electric/index.ts'
import { type Project, placementsOf, readLayout, readProject, toProblem, variantsOf } from '../../src/model/index.ts'
import { pageOf } from '../../src/model/page-notes.ts'
import {
  accessReport,
  balanceOf,
  headReports,
  STATICS_FINDINGS,
  serviceOrder,
  viewReports,
} from '../../src/statics/index.ts'

const root = fileURLToPath(new URL('../../', import.meta.url))
const library = loadLibrary()
const ids = readdirSync(`${root}demo-data`)
  .filter((f) => f.endsWith('.json'))
  .map((f) => f.slice(0, -5))

interface Laid {
  readonly project: Project
  readonly problem: Problem
  readonly placements: readonly Placement[]
}

function demo(id: string): Project {
  const read = readProject(readFileSync(`${root}demo-data/${id}.json`), id, library)
  if (!read.ok) throw new Error(JSON.stringify(read.problems, null, 1))
  expect(read.warnings).toEqual([])
  return read.value
}

/** The layout that the demo brings along for a variant, or the one of the fixtures. */
function layoutsOf(id: string): Laid[] {
  const project = demo(id)
  return variantsOf(project).flatMap(({ id: variant }): Laid[] => {
    const problem = toProblem(project, variant, library)
    const own = pageOf(project).placements[variant]
    if (own) {
      const item = (name: string) => problem.items.findIndex((i) => i.id === name)
      const placements = own.map(({ item: name, deck, at: [x, y], turn, host }) => ({
        item: item(name),
        deck: problem.decks.findIndex((d) => d.id === deck),
        at: { x: mm(x), y: mm(y) },
        turn,
        ...(host === undefined ? {} : { host: item(host) }),
      }))
      return [{ project, problem, placements }]
    }
    const path = `${root}tests/fixtures/demos/${id}.${variant}.layout.json`
    if (!existsSync(path)) return []
    const file = readLayout(readFileSync(path), id)
    if (!file.ok) throw new Error(JSON.stringify(file.problems))
    return [{ project, problem, placements: placementsOf(problem, file.value).placements }]
  })
}

/** A ramp, the robot driving down it backwards. */
const RAMP = { slope: 30, towards: { x: 0, y: -1 } }

function findingsOf(all: readonly Laid[]) {
  const lengths = leadLengths(
    all[0]!.project,
    library,
    all.map(({ problem, placements }) => ({ variant: problem.variant, placements })),
  )
  return all
    .flatMap(({ project, problem, placements }) => [
      ...inspectPins(problem, placements).findings,
      ...inspectPower(project, library, problem, placements).findings,
      ...inspectRoutes(problem, placements, wiringOf(project, problem.variant)).findings,
      ...(balanceOf(problem, placements)?.findings ?? []),
      ...(balanceOf(problem, placements, RAMP)?.findings ?? []),
      ...headReports(problem, placements).flatMap((h) => h.findings),
      ...viewReports(problem, placements).flatMap((v) => v.findings),
      ...accessReport(problem, placements).findings,
      ...serviceOrder(problem, placements).findings,
    ])
    .concat(lengths.findings)
}

const laid = new Map(ids.map((id) => [id, layoutsOf(id)]))
const told = new Map(ids.map((id) => [id, findingsOf(laid.get(id)!)]))

describe('the demos', () => {
  it.each(ids)('%s has a layout to inspect, and it is legal', (id) => {
    expect(laid.get(id)!.length).toBeGreaterThan(0)
    for (const { problem, placements } of laid.get(id)!) expect(check(problem, placements)).toEqual([])
  })

  it('show every kind of finding at least once', () => {
    const seen = new Set<string>([...told.values()].flatMap((all) => all.map((f) => f.kind)))
    const kinds = [...Object.keys(ELECTRIC_FINDINGS), ...Object.keys(STATICS_FINDINGS)]
    expect(kinds.filter((k) => !seen.has(k))).toEqual([])
  })

  it('name in each finding only what is there, and say it with a full stop', () => {
    for (const [id, all] of laid) {
      const there = new Set(
        all.flatMap(({ project, problem }) => [
          ...problem.items.flatMap((i) => [i.id, i.base]),
          ...(project.exits ?? []).map((e) => e.id),
          ...problem.decks.flatMap((d) => [d.id, ...d.openings.map((o) => o.id)]),
          ...problem.zones.map((z) => z.id),
          ...problem.wires.map((w) => w.id),
          ...(project.nets ?? []).map((n) => n.id),
        ]),
      )
      for (const f of told.get(id)!) {
        expect(
          f.items.filter((i) => !there.has(i.replace(/ after .*$/, ''))),
          f.text,
        ).toEqual([])
        expect(f.text.endsWith('.') || f.text.endsWith('.)'), f.text).toBe(true)
      }
    }
  })
})

describe('the hedge patrol', () => {
  it('has its own layouts beside it as layout files, for the commands', () => {
    for (const { project, problem, placements } of laid.get('hedge-patrol')!) {
      const path = `${root}demo-data/layouts/hedge-patrol.${problem.variant}.layout.json`
      const file = readLayout(readFileSync(path), path)
      if (!file.ok) throw new Error(JSON.stringify(file.problems))
      expect(placementsOf(problem, file.value).placements).toEqual(placements)
      expect(file.value).toMatchObject({ project: project.name, variant: problem.variant })
    }
  })

  it('is better for being asked: its own first evening breaks the limits that its file states', () => {
    const [first] = laid.get('hedge-patrol')!
    const kinds = balanceOf(first!.problem, first!.placements)!.findings.map((f) => f.kind)
    expect(kinds).toContain('tips-early')
    expect(kinds).toContain('track-overloaded')
  })
})
