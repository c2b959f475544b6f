/** Project text to a problem through the public reader, as a user's file goes. */
import { loadLibrary } from '../../footprints/load.ts'
import type { Problem } from '../../solver/index.ts'
import { formatProblem, readProject, toProblem } from '../../src/model/index.ts'

/** Throws with the reader's own words where the text is not a sound project. */
export function problemOf(text: string, variant = 'base'): Problem {
  const library = loadLibrary()
  const read = readProject(text, 'test.json', library)
  if (!read.ok) throw new Error(read.problems.map(formatProblem).join('\n'))
  return toProblem(read.value, variant, library)
}
