/**
 * The demo robots. The layouts in tests/fixtures/demos were found by a separate method (CP-SAT through or-tools-wasm, a model of
 * its own in which corridors and sweeps are boxes, so stricter than the rules): each is legal, and what it reaches is a floor
 * for what the solver must reach.
 */
import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import { check, figures, type Placement, type Problem } from '../../solver/index.ts'
import { type Project, placementsOf, readLayout, readProject, toProblem, variantsOf } from '../../src/model/index.ts'

const bytes = (path: string) => readFileSync(fileURLToPath(new URL(`../../${path}`, import.meta.url)))

function demo(id: string): Project {
  const read = readProject(bytes(`demo-data/${id}.json`), id, loadLibrary())
  if (!read.ok) throw new Error(JSON.stringify(read.problems, null, 1))
  expect(read.warnings).toEqual([])
  return read.value
}

function laid(id: string, variant: string): { problem: Problem; placements: readonly Placement[] } {
  const problem = toProblem(demo(id), variant, loadLibrary())
  const file = readLayout(bytes(`tests/fixtures/demos/${id}.${variant}.layout.json`), id)
  if (!file.ok) throw new Error(JSON.stringify(file.problems))
  const { placements, findings } = placementsOf(problem, file.value)
  expect(findings).toEqual([])
  return { problem, placements }
}

const layouts = [
  ['greenhouse-scout', 'centred', 319],
  ['greenhouse-scout', 'beside', 714],
  ['duct-inspector', 'arm-later', 498],
  ['duct-inspector', 'no-arm', 668],
  ['shelf-reader', 'new-leads', 333],
] as const

describe('demo robots', () => {
  it.each([
    ['greenhouse-scout', ['centred', 'beside']],
    ['duct-inspector', ['arm-later', 'no-arm']],
    ['shelf-reader', ['as-found', 'new-leads']],
  ])('%s opens without a warning, 8 to 12 bodies on a 1 mm grid', (id, ids) => {
    const project = demo(id)
    expect(variantsOf(project).map((v) => v.id)).toEqual(ids)
    for (const variant of ids) {
      const problem = toProblem(project, variant, loadLibrary())
      expect(problem.items.length).toBeGreaterThanOrEqual(8)
      expect(problem.items.length).toBeLessThanOrEqual(12)
      expect(problem.grid).toBe(1000)
      expect(problem.wires.length).toBeGreaterThanOrEqual(8)
      expect(problem.chassis).toBeDefined()
    }
  })

  it.each(layouts)('%s, %s: the found layout is legal and leaves %i tie points free', (id, variant, free) => {
    const { problem, placements } = laid(id, variant)
    expect(check(problem, placements)).toEqual([])
    expect(figures(problem, placements).freeTiePoints).toBe(free)
  })

  it.each(layouts)('%s, %s: no required item can be missing from it', (id, variant) => {
    const { problem, placements } = laid(id, variant)
    const required = placements.filter((p) => problem.items[p.item]!.required)
    expect(required.length).toBeGreaterThanOrEqual(6)
    for (const gone of required) {
      const findings = check(
        problem,
        placements.filter((p) => p !== gone),
      )
      expect(findings.some((f) => f.rule === 'R10')).toBe(true)
    }
  })
})

describe('the duct inspector', () => {
  it('has motor leads that bind: with either 12 mm shorter, the found layout breaks R7', () => {
    const { problem, placements } = laid('duct-inspector', 'arm-later')
    const shorter = problem.exits.map((e) => ({ ...e, free: ((e.free ?? 0) - 12_000) as typeof problem.grid }))
    const broken = check({ ...problem, exits: shorter }, placements).filter((f) => f.rule === 'R7')
    expect(broken.length).toBeGreaterThan(0)
  })

  it('keeps the arm later: placed, but without mass and without holes to drill', () => {
    const { problem } = laid('duct-inspector', 'arm-later')
    expect(problem.items.find((i) => i.id === 'arm')?.later).toBe(true)
    expect(laid('duct-inspector', 'no-arm').problem.items.some((i) => i.id === 'arm')).toBe(false)
  })
})
