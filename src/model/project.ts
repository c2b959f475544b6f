/** Project files in and out. */
import { issuesOf } from '../../footprints/fields.ts'
import { type Issue, MOST_LISTED, type Path, type Read } from '../../footprints/problems.ts'
import { type FootprintFile, footprintIssues } from '../../footprints/schema.ts'
import { cutInto } from './cut-into.ts'
import { type Checked, readFile, withoutFaults } from './door.ts'
import { offDeck } from './off-deck.ts'
import { platesOf } from './plates.ts'
import { referenceIssues } from './references.ts'
import { type Project, projectSchema } from './schema.ts'

/** Pieces of outlines: no robot comes near it, and a file made to hurt is not looked at to its end. */
const MOST_LOOKED = 10_000_000

/**
 * A project file's text to the document in it, as it stands: mm, no defaults filled in, unknown fields kept (a warning names
 * each). `file` is only for the messages. Never throws; all problems come at once.
 */
export function readProject(
  text: string | Uint8Array,
  file: string,
  library: ReadonlyMap<string, FootprintFile>,
): Read<Project> {
  return readFile<Project>(text, file, 'deckwright-project', (document): Checked => {
    const { problems, warnings } = issuesOf(projectSchema, document)
    // The report is full; what names what can wait.
    if (problems.length >= MOST_LISTED) return { problems, warnings }
    const sound = withoutFaults(known(document as object), problems, unknownCount) as Project
    const footprints = (sound.footprints ?? []).flatMap((f, i) => (f ? footprintIssues(f, ['footprints', i]) : []))
    const names = referenceIssues(sound, library)
    const all = [...problems, ...footprints, ...names.problems]
    return { problems: all, warnings: [...warnings, ...names.warnings, ...(all.length > 0 ? [] : notAsDrawn(sound))] }
  })
}

/** What cannot be made as it is drawn, of a project that is sound. */
function notAsDrawn(project: Project): Issue[] {
  const plates = platesOf(project)
  const effort = { left: MOST_LOOKED }
  return [...offDeck(plates, effort), ...cutInto(plates, effort)].slice(0, MOST_LISTED + 1)
}

/** The document's own fields: any number of others may stand beside them. */
const known = (document: object) =>
  Object.fromEntries(
    Object.entries(projectSchema._zod.def.shape).flatMap(([f]) =>
      Object.hasOwn(document, f) ? [[f, document[f as never]]] : [],
    ),
  )

/** A wrong count is no reason to complain of every copy that is named. */
const unknownCount = (path: Path) => (path.at(-1) === 'count' ? Number.NaN : undefined)

/** The document as JSON text: two spaces, one line feed at the end. Reading it gives an equal document. */
export const writeProject = (project: Project): string => `${JSON.stringify(project, null, 2)}\n`
