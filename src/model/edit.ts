/** Edits of a project as pure functions: one to begin with, and one more item. */
import type { Project } from './schema.ts'
import { fresh } from './words.ts'

/** A project with one empty deck of that size in mm, 4 mm thick and 60 mm over the ground; its leads are to be long enough round what is there. */
function freeName(taken: readonly string[]): string {
  for (let n = 0; ; n++) if (!taken.includes(fresh.project(n))) return fresh.project(n)
}

/** `taken`: names of other works, from which it is to be told apart. */
export const emptyProject = (width: number, depth: number, taken: readonly string[] = []): Project => ({
  format: 'deckwright-project',
  version: 1,
  units: 'mm',
  name: freeName(taken),
  settings: { grid: 1, edgeClearance: 1, itemClearance: 1, minWeb: 2, wiring: {} },
  decks: [{ id: 'main', name: fresh.deck, z: 60, thickness: 4, outline: { rect: [0, 0, width, depth] } }],
  items: [],
})

/** `board`, or `board-2` and so on where that id is taken. */
function freeId(project: Project, wish: string): string {
  const taken = new Set(project.items.map((item) => item.id))
  for (let k = 1; ; k++) {
    const id = k === 1 ? wish : `${wish}-${k}`
    if (!taken.has(id)) return id
  }
}

/** One more required item of that footprint, in all variants. */
export const addItem = (project: Project, footprint: string): Project => ({
  ...project,
  items: [...project.items, { id: freeId(project, footprint), footprint }],
})
