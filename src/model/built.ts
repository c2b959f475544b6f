/**
 * What was drilled and cut becomes part of the plate: an edit of the project, done in one step and undone in one. A plate is one
 * thing whatever is asked of it, so the edit goes into the deck and into every list of holes or openings that a variant keeps
 * for that deck.
 */

import { FARTHEST, shapeToSolver } from '../../footprints/fields.ts'
import { oneOf, type Path, pathText, snippet } from '../../footprints/problems.ts'
import {
  type Cut,
  coincides,
  containsPoint,
  cutsOf,
  layoutOf,
  mm,
  type Placement,
  type Problem,
  prepare,
  serves,
  toMm,
} from '../../solver/index.ts'
import type { Project, ProjectDeck } from './schema.ts'
import { wanted } from './words.ts'

type FileHole = NonNullable<ProjectDeck['holes']>[number]
type FileOpening = NonNullable<ProjectDeck['openings']>[number]

/** What an edit came to; `problems` say where in the project, what was found and what would be right. */
export type Edited<T extends object> =
  | ({ readonly ok: true; readonly project: Project } & T)
  | { readonly ok: false; readonly problems: readonly EditProblem[] }

export interface EditProblem {
  /** A field of the project, like `decks[0].holes`, or the argument that is wrong. */
  readonly path: string
  readonly found: string
  readonly expected: string
}

/** The ids that a deck got. */
export interface Added {
  readonly deck: string
  readonly holes: readonly string[]
  readonly openings: readonly string[]
}

/**
 * The project with what the layout asks to be made in its decks (or in `deck` alone) as holes `built-1` …, and openings
 * `built-slot-1` … and `built-cutout-1` …; what is there already is not added again, so twice is once. `problem` is the variant
 * that was built, `placements` its layout. Nothing is added for items marked `later`, or where the layout reuses what is there: nothing
 * was made. Whether a variant that lists its own holes has the reused one is the user's say.
 *
 * The next layout reuses all of it where that costs no contacts and no value: the objective `new-holes` (ours; as few as can be) is put
 * before wire length and balance, where the project does not name it already. Slots come out as openings that may be covered, with the optional field `strap`, by
 * which a strap's slot may be one of them.
 *
 * `built(project, problem, placements)` → `{ ok: true, project, added: [{ deck: 'main', holes: ['built-1', 'built-2'], openings: [] }] }`
 */
export function built(
  project: Project,
  problem: Problem,
  placements: readonly Placement[],
  deck?: string,
): Edited<{ readonly added: readonly Added[] }> {
  const ids = project.decks.map((d) => d.id)
  const asked = deck === undefined ? problem.decks.map((d) => d.id) : [deck]
  const unknown = asked.filter((id) => !ids.includes(id) || !problem.decks.some((d) => d.id === id))
  if (unknown.length > 0) return refused(unknown.map((id) => ({ path: ['deck'], ...noSuch(id, ids) })))
  const deckOf = (c: Cut): string => problem.decks[c.body.deck]!.id
  const cuts = cutsOf(layoutOf(problem, placements)).filter(
    (c) => c.made && !c.body.item.later && asked.includes(deckOf(c)),
  )
  // A deck may reach farther out than a file's numbers do; a layout's places go there, a project's holes do not.
  const beyond = cuts.filter((c) => !placeOf(c).every(isCoordinate))
  if (beyond.length > 0)
    return refused(
      beyond.map((c) => ({ path: ['at'], found: snippet(placeOf(c)), expected: wanted.cutOnDeck(snippet(deckOf(c))) })),
    )
  let now = project
  const added: Added[] = []
  for (const id of asked) {
    const here = cuts.filter((c) => deckOf(c) === id).sort(byPlace)
    const done = builtInto(now, id, here)
    now = done.project
    if (done.holes.length + done.openings.length > 0)
      added.push({ deck: id, holes: done.holes, openings: done.openings })
  }
  return { ok: true, project: added.length > 0 ? fewestNew(now, problem.objective) : now, added }
}

/** Whether taking in what was made changes what the project counts: it asks for few new holes from then on. */
export const addsFewest = (objective: Problem['objective']): boolean => !objective.includes('new-holes')

/** Of layouts as good in contacts and value, the next one is to be one with few new holes, and only then with short wires. */
function fewestNew(project: Project, objective: Problem['objective']): Project {
  if (!addsFewest(objective)) return project
  const at = objective.findIndex((o) => o === 'wire-length' || o === 'balance')
  const k = at < 0 ? objective.length : at
  return { ...project, objective: [...objective.slice(0, k), 'new-holes', ...objective.slice(k)] }
}

/** mm: a hole's centre, the lower left corner of what is cut out. */
function placeOf({ form }: Cut): [number, number] {
  const { x, y } = 'at' in form ? form.at : form
  return [toMm(x), toMm(y)]
}

/** Narrow holes first, then by x and by y: the order of the drill table. */
function byPlace(a: Cut, b: Cut): number {
  const size = (c: Cut) => ('at' in c.form ? c.form.r : 0)
  const at = (c: Cut) => ('at' in c.form ? c.form.at : c.form)
  return size(a) - size(b) || at(a).x - at(b).x || at(a).y - at(b).y
}

/** The two lists of a deck, or of a variant's patch of it; undefined where a patch leaves the deck's own. */
interface Lists {
  readonly holes?: FileHole[] | undefined
  readonly openings?: FileOpening[] | undefined
}

interface Ids {
  readonly holes: readonly string[]
  readonly openings: readonly string[]
}

function builtInto(project: Project, deck: string, cuts: readonly Cut[]): Ids & { readonly project: Project } {
  const places = placesOf(project, deck)
  const taken = new Set(places.flatMap((d) => [...(d.holes ?? []), ...(d.openings ?? [])].map((e) => e.id)))
  const free = (stem: string): string => {
    for (let k = 1; ; k++) {
      const id = `${stem}-${k}`
      if (!taken.has(id)) {
        taken.add(id)
        return id
      }
    }
  }
  const holes: FileHole[] = []
  const openings: FileOpening[] = []
  for (const cut of cuts) {
    if ('at' in cut.form) {
      const hole = { at: placeOf(cut), diameter: toMm(cut.hole!.diameter) }
      if (places.some((d) => d.holes !== undefined && !d.holes.some((h) => isHole(h, hole))))
        holes.push({ id: free('built'), ...hole })
    } else {
      const { w, h } = cut.form
      const rect: [number, number, number, number] = [...placeOf(cut), toMm(w), toMm(h)]
      const strap = cut.body.item.footprint.mount.kind === 'strap'
      if (places.some((d) => d.openings !== undefined && !d.openings.some((o) => isOpening(o, { rect })))) {
        // A slot lies under its own body; an empty cut-out is a hole to fall through.
        openings.push({
          id: free(strap ? 'built-slot' : 'built-cutout'),
          shape: { rect },
          ...(strap ? { mayCover: true, strap: true } : {}),
        })
      }
    }
  }
  const ids = { holes: holes.map((h) => h.id), openings: openings.map((o) => o.id) }
  if (holes.length + openings.length === 0) return { project, ...ids }
  const edited = mapDeck(project, deck, (d) => ({
    ...grown('holes', d.holes, holes, (h) => !d.holes!.some((there) => isHole(there, h))),
    ...grown('openings', d.openings, openings, (o) => !d.openings!.some((there) => isOpening(there, o.shape))),
  }))
  return { project: edited, ...ids }
}

const grown = <K extends 'holes' | 'openings', T>(
  key: K,
  list: readonly T[] | undefined,
  more: readonly T[],
  missing: (one: T) => boolean,
) => {
  const fresh = list === undefined ? [] : more.filter(missing)
  return fresh.length === 0 ? {} : { [key]: [...list!, ...fresh] }
}

const isHole = (there: FileHole, hole: Pick<FileHole, 'at' | 'diameter'>): boolean => {
  const { at, diameter } = holeToSolver(hole)
  return serves(holeToSolver(there), at, diameter)
}

const holeToSolver = ({ at: [x, y], diameter }: Pick<FileHole, 'at' | 'diameter'>) => ({
  at: { x: mm(x), y: mm(y) },
  diameter: mm(diameter),
})

function isOpening(there: FileOpening, made: FileOpening['shape']): boolean {
  const cut = shapeToSolver(made)
  return cut.kind === 'rect' && coincides(cut, shapeToSolver(there.shape))
}

/** The deck, with its lists, and each variant's patch of it. */
function placesOf(project: Project, deck: string): Lists[] {
  const base = project.decks.find((d) => d.id === deck)!
  const patches = (project.variants ?? []).flatMap((v) => {
    const own = v.decks
    return own && Object.hasOwn(own, deck) ? [own[deck]!] : []
  })
  return [{ holes: base.holes ?? [], openings: base.openings ?? [] }, ...patches]
}

/** The project with fields of one deck replaced, in the deck and in each variant's patch of it. */
function mapDeck(project: Project, deck: string, edit: (d: Lists) => Pick<ProjectDeck, 'holes' | 'openings'>): Project {
  const variants = project.variants?.map((v) => {
    if (!v.decks || !Object.hasOwn(v.decks, deck)) return v
    const own = v.decks[deck]!
    const entries = Object.entries(v.decks).map(([id, d]) => [id, id === deck ? { ...own, ...edit(own) } : d] as const)
    return { ...v, decks: Object.fromEntries(entries) }
  })
  return {
    ...project,
    decks: project.decks.map((d) =>
      d.id === deck ? { ...d, ...edit({ holes: d.holes ?? [], openings: d.openings ?? [] }) } : d,
    ),
    ...(variants === undefined ? {} : { variants }),
  }
}

/**
 * The project with one hole of a deck where it was really drilled, in mm, and as wide as it really came out where `diameter` says so.
 * Layouts read the new place; one that counted on the old place may need a hole of its own.
 *
 * `moveHole(project, 'main', 'built-3', [40.2, 19.9])` → `{ ok: true, project }`; with `'built-33'` →
 * `{ ok: false, problems: [{ path: 'hole', found: '"built-33"', expected: 'one of "built-1", …' }] }`
 */
export function moveHole(
  project: Project,
  deck: string,
  hole: string,
  at: readonly [number, number],
  diameter?: number,
): Edited<object> {
  const base = project.decks.find((d) => d.id === deck)
  if (!base)
    return refused([
      {
        path: ['deck'],
        ...noSuch(
          deck,
          project.decks.map((d) => d.id),
        ),
      },
    ])
  const ids = [...new Set(placesOf(project, deck).flatMap((d) => (d.holes ?? []).map((h) => h.id)))]
  const problems: { path: Path; found: string; expected: string }[] = []
  if (!ids.includes(hole)) problems.push({ path: ['hole'], ...noSuch(hole, ids) })
  at.forEach((v, k) => {
    if (!isCoordinate(v)) problems.push({ path: ['at', k], found: snippet(v), expected: wanted.coordinate })
  })
  if (diameter !== undefined && !(diameter >= 0.001 && diameter <= FARTHEST))
    problems.push({ path: ['diameter'], found: snippet(diameter), expected: wanted.diameter })
  if (problems.length > 0) return refused(problems)
  if (!containsPoint(prepare(shapeToSolver(base.outline)), mm(at[0]), mm(at[1]))) {
    return refused([{ path: ['at'], found: snippet(at), expected: wanted.onDeck(snippet(deck)) }])
  }
  const place: [number, number] = [toMm(mm(at[0])), toMm(mm(at[1]))]
  const more = diameter === undefined ? {} : { diameter: toMm(mm(diameter)) }
  const edited = mapDeck(project, deck, (d) =>
    d.holes?.some((h) => h.id === hole)
      ? { holes: d.holes.map((h) => (h.id === hole ? { ...h, at: place, ...more } : h)) }
      : {},
  )
  return { ok: true, project: edited }
}

const isCoordinate = (v: unknown): boolean => typeof v === 'number' && Math.abs(v) <= FARTHEST

const noSuch = (id: string, ids: readonly string[]) => ({
  found: snippet(id),
  expected: oneOf(ids, id),
})

const refused = (problems: readonly { path: Path; found: string; expected: string }[]) => ({
  ok: false as const,
  problems: problems.map((p) => ({ ...p, path: pathText(p.path) })),
})

/** How much of a layout is in one deck already. */
export interface NewHoles {
  readonly deck: string
  /** Mounting holes that are there and those to be drilled. */
  readonly reused: number
  readonly new: number
  /** Strap slots and cut-outs, likewise. */
  readonly reusedCuts: number
  readonly newCuts: number
}

/**
 * How many holes and cuts of a layout are there already, and how many are to be made, deck by deck; items marked `later` are not counted.
 *
 * `newHoles(problem, placements)` → `[{ deck: 'main', reused: 12, new: 2, reusedCuts: 1, newCuts: 0 }]`
 */
export function newHoles(problem: Problem, placements: readonly Placement[]): NewHoles[] {
  const cuts = cutsOf(layoutOf(problem, placements)).filter((c) => !c.body.item.later)
  return problem.decks.map((deck, d) => {
    const count = (hole: boolean, made: boolean) =>
      cuts.filter((c) => c.body.deck === d && 'at' in c.form === hole && c.made === made).length
    return {
      deck: deck.id,
      reused: count(true, false),
      new: count(true, true),
      reusedCuts: count(false, false),
      newCuts: count(false, true),
    }
  })
}
