/** The demo robots with the layouts kept for tests, read through the ordinary doors; no search. */
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { loadLibrary } from '../../footprints/load.ts'
import type { Placement, Problem } from '../../solver/index.ts'
import { placementsOf, readLayout, readProject, toProblem } from '../../src/model/index.ts'

export interface Demo {
  readonly name: string
  readonly problem: Problem
  readonly placements: readonly Placement[]
}

export function demos(): Demo[] {
  const root = join(import.meta.dirname, '../..')
  const folder = join(root, 'tests/fixtures/demos')
  const library = loadLibrary()
  return readdirSync(folder).map((file) => {
    const [robot, variant] = file.split('.') as [string, string]
    const project = readProject(readFileSync(join(root, 'demo-data', `${robot}.json`)), robot, library)
    const layout = readLayout(readFileSync(join(folder, file)), file)
    if (!project.ok || !layout.ok) throw new Error(`${file} cannot be read`)
    const problem = toProblem(project.value, variant, library)
    return { name: `${robot} ${variant}`, problem, placements: placementsOf(problem, layout.value).placements }
  })
}
