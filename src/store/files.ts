/** Documents from files and back: the one place where the store meets the file formats. */
import { pathText } from '../../footprints/problems.ts'
import type { FootprintFile } from '../../footprints/schema.ts'
import { mm, type Placement, type Problem, toMm } from '../../solver/index.ts'
import { emptyProject } from '../model/edit.ts'
import { type FileProblem, type Project, readProject, toProblem, variantsOf, writeProject } from '../model/index.ts'
import { type PageNotes, type PagePlacement, pageIssues, pageOf, withPage } from '../model/page-notes.ts'
import type { Doc, Sheet } from './document.ts'

export type Opened =
  | { readonly kind: 'opened'; readonly doc: Doc; readonly notices: readonly FileProblem[] }
  | { readonly kind: 'broken'; readonly problems: readonly FileProblem[]; readonly strange: readonly FileProblem[] }

export interface Files {
  readonly open: (text: string | Uint8Array, file: string) => Opened
  /** The document of a project that is known to be sound. */
  readonly of: (project: Project, file: string) => Doc
  readonly empty: (width: number, depth: number, taken?: readonly string[]) => Doc
  /** The project file's text with the holds, and with the layouts that `shown` gives for the sheets. */
  readonly text: (doc: Doc, shown: (sheet: Sheet) => readonly Placement[]) => string
}

/** Index of the item with that id; undefined where the variant has none. */
export function indexOfItem(problem: Problem, id: string): number | undefined {
  const index = problem.items.findIndex((item) => item.id === id)
  return index < 0 ? undefined : index
}

/** Those ids and the boards that they are plugged into, once each: a board that moves takes along what is on it. */
export function withHosts(problem: Problem, placements: readonly Placement[], ids: readonly string[]): string[] {
  const hosts = placements.flatMap((p) => {
    const host = p.host === undefined ? undefined : problem.items[p.host]?.id
    return host !== undefined && ids.includes(problem.items[p.item]?.id ?? '') ? [host] : []
  })
  return [...new Set([...ids, ...hosts])]
}

/** Placements by name; those of items and decks that the problem does not have are dropped. */
function fromNames(problem: Problem, named: readonly PagePlacement[]): Placement[] {
  return named.flatMap(({ item: id, deck: deckId, at, turn, host: hostId }) => {
    const item = indexOfItem(problem, id)
    const deck = problem.decks.findIndex((d) => d.id === deckId)
    const host = hostId === undefined ? undefined : indexOfItem(problem, hostId)
    if (item === undefined || deck < 0) return []
    return [{ item, deck, at: { x: mm(at[0]), y: mm(at[1]) }, turn, ...(host === undefined ? {} : { host }) }]
  })
}

function toNames(problem: Problem, placements: readonly Placement[]): PagePlacement[] {
  return placements.flatMap(({ item, deck, at, turn, host }) => {
    const id = problem.items[item]?.id
    const deckId = problem.decks[deck]?.id
    const hostId = host === undefined ? undefined : problem.items[host]?.id
    if (id === undefined || deckId === undefined) return []
    return [
      { item: id, deck: deckId, at: [toMm(at.x), toMm(at.y)], turn, ...(hostId === undefined ? {} : { host: hostId }) },
    ]
  })
}

/** A file like `robot.json` keeps its name; one without an ending gets it. */
const fileName = (file: string): string => (/\.json$/i.test(file) ? file : `${file || 'deck'}.json`)

export function filesWith(library: ReadonlyMap<string, FootprintFile>): Files {
  const of = (project: Project, file: string): Doc => {
    const page = pageOf(project)
    const sheets = variantsOf(project).map(({ id, name }): Sheet => {
      const problem = toProblem(project, id, library)
      const placements = fromNames(problem, page.placements[id] ?? [])
      const there = (held: string): boolean => placements.some((p) => problem.items[p.item]?.id === held)
      const built = withHosts(problem, placements, (page.built?.[id] ?? []).filter(there))
      const holds = [...new Set([...(page.holds[id] ?? []).filter(there), ...built])]
      const more = { ...(built.length > 0 ? { built } : {}), ...(placements.length > 0 ? { placements } : {}) }
      return { variant: id, name, problem, holds, ...more }
    })
    return { project, file: fileName(file), sheets }
  }
  return {
    of,
    open: (text, file) => {
      const read = readProject(text, file, library)
      if (!read.ok) return { kind: 'broken', problems: read.problems, strange: read.warnings }
      const doc = of(read.value, file)
      const page = pageIssues(doc.project, doc.sheets).map((i) => ({ ...i, file, path: pathText(i.path) }))
      return { kind: 'opened', doc, notices: [...read.warnings, ...page] }
    },
    empty: (width, depth, taken) => of(emptyProject(width, depth, taken), 'deck.json'),
    text: (doc, shown) => {
      const page: PageNotes = {
        holds: Object.fromEntries(doc.sheets.flatMap((s) => (s.holds.length > 0 ? [[s.variant, s.holds]] : []))),
        ...(doc.sheets.some((s) => s.built?.length)
          ? { built: Object.fromEntries(doc.sheets.flatMap((s) => (s.built?.length ? [[s.variant, s.built]] : []))) }
          : {}),
        placements: Object.fromEntries(
          doc.sheets.flatMap((s) => {
            const placements = shown(s)
            return placements.length > 0 ? [[s.variant, toNames(s.problem, placements)]] : []
          }),
        ),
      }
      return writeProject(withPage(doc.project, page))
    },
  }
}
