/// <reference types="vite/client" />
/**
 * The footprint library: every JSON file of the folders beside this one, checked once, when first asked for.
 */
import { formatProblem } from './problems.ts'
import { type FootprintFile, readFootprintValue } from './schema.ts'

// Vite reads the folders when it builds; a function, so that nothing is done at import.
const files = (): Record<string, unknown> => import.meta.glob('./*/*.json', { eager: true, import: 'default' })

let library: ReadonlyMap<string, FootprintFile> | undefined

/** Footprints by id. Throws where a part of ours is broken or an id stands twice: that is a bug, and a test looks for it. */
export function loadLibrary(): ReadonlyMap<string, FootprintFile> {
  if (library !== undefined) return library
  const parts = new Map<string, FootprintFile>()
  const broken: string[] = []
  for (const [file, value] of Object.entries(files())) {
    const read = readFootprintValue(value, `footprints/${file.slice(2)}`)
    if (!read.ok) broken.push(...read.problems.map(formatProblem))
    else if (parts.has(read.value.id)) broken.push(`${file}: the id ${read.value.id} stands in another file already`)
    else parts.set(read.value.id, read.value)
  }
  if (broken.length > 0) throw new Error(`The footprint library is broken:\n${broken.join('\n')}`)
  library = parts
  return parts
}
