/** Project text to a problem through the public reader, as a user's file goes. */
import { loadLibrary } from '../../footprints/load.ts'
import type { Problem } from '../../solver/index.ts'
import { formatProblem, type Project, readProject, toProblem } from '../../src/model/index.ts'

/** Throws with the reader's own words where the text is not a sound project. */
export function projectOf(text: string): Project {
  const read = readProject(text, 'test.json', loadLibrary())
  if (!read.ok) throw new Error(read.problems.map(formatProblem).join('\n'))
  return read.value
}

export const problemOf = (text: string, variant = 'base'): Problem => toProblem(projectOf(text), variant, loadLibrary())

/** Of a project file that has these fields. */
export const problemWith = (fields: object): Problem =>
  problemOf(JSON.stringify({ format: 'deckwright-project', version: 1, units: 'mm', name: 'invented', ...fields }))
