/** The half of `bring-in` that takes a measures file, and how a deck takes its place in a project. */
import { bringInMeasures } from '../bring-in/caliper-result.ts'
import { keptFrom } from '../bring-in/kept.ts'
import type { Project, ProjectDeck } from '../model/index.ts'
import { BadInput } from './bad-input.ts'
import { nameOf, taken } from './input.ts'
import { type Io, warner } from './io.ts'

/** The deck or the footprint, or the project with it. Throws BadInput, also where the measures leave something open. */
export function measuredFrom(file: string, bytes: Uint8Array, project: Project | undefined, io: Io): unknown {
  const { made, text } = taken(bringInMeasures(bytes, nameOf(file)), warner(io, false))
  if (!made) throw new BadInput(text.map((line) => `${nameOf(file)}: ${line}`))
  for (const line of text) io.err(line)
  if (made.kind === 'deck') {
    const old = project?.decks.find((d) => d.id === made.deck.id)
    return project ? { ...project, decks: merged(project.decks, old, made.deck) } : made.deck
  }
  if (!project) return made.footprint
  const others = (project.footprints ?? []).filter((f) => f.id !== made.footprint.id)
  return { ...project, footprints: [...others, made.footprint] }
}

/** In place of the old deck, with its other fields and those of what stands in the same place; or behind all. */
export function merged(decks: readonly ProjectDeck[], old: ProjectDeck | undefined, made: ProjectDeck): ProjectDeck[] {
  if (!old) return [...decks, made]
  const { openings: _, holes: __, ...rest } = old
  return decks.map((d) => (d === old ? { ...rest, ...keptFrom(old, made) } : d))
}
