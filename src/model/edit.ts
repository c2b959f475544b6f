/**
 * Edits of a project as pure functions. What the page keeps in a project file stands under `page`, an optional field of its own:
 * which items are held, and the layout that was on show, so that a file opens on the picture that it was saved with.
 */
import type { Project } from './schema.ts'
import { fresh } from './words.ts'

/** A placement as in a layout file (contract §6), mm. */
export interface PagePlacement {
  readonly item: string
  readonly deck: string
  readonly at: readonly [number, number]
  readonly turn: 0 | 1 | 2 | 3
  readonly host?: string
}

/** By variant. */
export interface PageNotes {
  readonly holds: Readonly<Record<string, readonly string[]>>
  /** Items that are built, and so never move: each is held too. */
  readonly built?: Readonly<Record<string, readonly string[]>>
  readonly placements: Readonly<Record<string, readonly PagePlacement[]>>
}

/** The name of the field that `pageOf` reads and `withPage` writes. */
export const PAGE = 'page'

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)

const isLength = (value: unknown): value is number => typeof value === 'number' && Math.abs(value) <= 10_000

function placementIn(value: unknown): PagePlacement[] {
  if (!isRecord(value)) return []
  const { item, deck, at, turn, host } = value
  if (typeof item !== 'string' || typeof deck !== 'string' || !Array.isArray(at)) return []
  if (turn !== 0 && turn !== 1 && turn !== 2 && turn !== 3) return []
  const [x, y] = at as unknown[]
  if (!isLength(x) || !isLength(y)) return []
  return [{ item, deck, at: [x, y], turn, ...(typeof host === 'string' ? { host } : {}) }]
}

/** What the page kept in the project. It only says what to show first, so what is not understood is passed over. */
export function pageOf(project: Project): PageNotes {
  const page: unknown = (project as Record<string, unknown>)[PAGE]
  const holds: Record<string, string[]> = {}
  const built: Record<string, string[]> = {}
  const placements: Record<string, PagePlacement[]> = {}
  if (isRecord(page)) {
    for (const [variant, list] of Object.entries(isRecord(page.holds) ? page.holds : {}))
      if (Array.isArray(list)) holds[variant] = list.filter((id): id is string => typeof id === 'string')
    for (const [variant, list] of Object.entries(isRecord(page.built) ? page.built : {}))
      if (Array.isArray(list)) built[variant] = list.filter((id): id is string => typeof id === 'string')
    for (const [variant, list] of Object.entries(isRecord(page.placements) ? page.placements : {}))
      if (Array.isArray(list)) placements[variant] = list.flatMap(placementIn)
  }
  return { holds, ...(Object.keys(built).length > 0 ? { built } : {}), placements }
}

/** The project with what the page wants to keep, in place of what it kept before; what else stands under `page` stays. */
export function withPage(project: Project, page: PageNotes): Project {
  const before: unknown = (project as Record<string, unknown>)[PAGE]
  const { built: _, ...others } = isRecord(before) ? before : {}
  return { ...project, [PAGE]: { ...others, ...page } } as Project
}

/** A project with one empty deck of that size in mm, 4 mm thick and 60 mm over the ground; its leads are to be long enough round what is there. */
export const emptyProject = (width: number, depth: number): Project => ({
  format: 'deckwright-project',
  version: 1,
  units: 'mm',
  name: fresh.project,
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
