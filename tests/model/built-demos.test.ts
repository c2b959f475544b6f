/** Round trip: a demo laid out, built, laid out again as it stands: nothing is left to drill. */
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import { check, solve } from '../../solver/index.ts'
import { template } from '../../src/export/index.ts'
import { drillTable } from '../../src/export/tables.ts'
import {
  built,
  newHoles,
  placementsOf,
  readLayout,
  readProject,
  toProblem,
  writeProject,
} from '../../src/model/index.ts'

const root = join(import.meta.dirname, '../..')
const folder = join(root, 'tests/fixtures/demos')
const library = loadLibrary()

const cases = readdirSync(folder).map((name) => {
  const demo = join(root, 'demo-data', `${name.split('.')[0]}.json`)
  const project = readProject(readFileSync(demo), demo, library)
  const layout = readLayout(readFileSync(join(folder, name)), name)
  if (!project.ok || !layout.ok) throw new Error(`${name} cannot be read`)
  const problem = toProblem(project.value, layout.value.variant!, library)
  return { name, project: project.value, problem, placements: placementsOf(problem, layout.value).placements }
})

describe('the demos, built', () => {
  it('have nothing left to drill, and hold again with every item where it stands', () => {
    let drilled = 0
    for (const { name, project, problem, placements } of cases) {
      expect(check(problem, placements), name).toEqual([])
      const before = newHoles(problem, placements)
      const done = built(project, problem, placements)
      if (!done.ok) throw new Error(name)
      const again = readProject(writeProject(done.project), name, library)
      if (!again.ok) throw new Error(`${name} cannot be read again`)
      const after = toProblem(again.value, problem.variant, library)
      before.forEach((count, d) => {
        const now = newHoles(after, placements)[d]!
        expect(now, name).toMatchObject({ reused: count.reused + count.new, new: 0, newCuts: 0 })
        expect(drillTable(after, placements, d), name).toEqual([])
        const drawn = template(after, placements, d, { asMade: true })
        expect(drawn.drill, name).toEqual([])
        drilled += count.new
      })
      expect(check(after, placements), name).toEqual([])
      const solved = solve(after, { pins: placements, steps: 200 })
      expect(solved.status === 'optimal' || solved.status === 'feasible', `${name}: ${solved.status}`).toBe(true)
      if (solved.status !== 'optimal' && solved.status !== 'feasible') continue
      expect(
        newHoles(after, solved.placements).map((c) => c.new + c.newCuts),
        name,
      ).toEqual(after.decks.map(() => 0))
    }
    expect(drilled).toBeGreaterThan(40)
  })
})
