/** Files and standard input to bytes, and bytes to documents. What cannot be used becomes BadInput with every problem. */
import { closeSync, openSync, readSync, statSync } from 'node:fs'
import { loadLibrary } from '../../footprints/load.ts'
import { oneOf, snippet } from '../../footprints/problems.ts'
import { check, type Finding, type Placement, type Problem } from '../../solver/index.ts'
import { MOST_BYTES } from '../model/door.ts'
import {
  type FileProblem,
  formatProblem,
  type LayoutFile,
  layoutVariant,
  type Project,
  placementsOf,
  type Read,
  readLayout,
  readProject,
  toProblem,
  variantsOf,
  writeProject,
} from '../model/index.ts'
import { BadInput, known, once, together } from './bad-input.ts'
import { reason } from './output.ts'

/** One byte more than a file may have, so that the reader sees that it has too many. */
const ENOUGH = MOST_BYTES + 1

/** The file's bytes, `-` = standard input; not more of them than it takes to see that they are too many. */
export function bytesOf(file: string): Uint8Array {
  let handle: number | undefined
  try {
    if (file !== '-' && statSync(file).isDirectory()) {
      throw new BadInput([`${snippet(file)}: found a folder, expected a file`])
    }
    handle = file === '-' ? 0 : openSync(file, 'r')
    const parts: Uint8Array[] = []
    let total = 0
    while (total < ENOUGH) {
      const part = new Uint8Array(Math.min(1 << 16, ENOUGH - total))
      const read = readPart(handle, part)
      if (read === 0) break
      parts.push(part.subarray(0, read))
      total += read
    }
    return Buffer.concat(parts)
  } catch (error) {
    if (error instanceof BadInput) throw error
    throw new BadInput([`${file === '-' ? 'standard input' : file}: cannot be read: ${reason(error)}`])
  } finally {
    if (handle) closeSync(handle)
  }
}

/** A terminal or a slow pipe may have nothing yet, and says so by an error. */
function readPart(handle: number, part: Uint8Array): number {
  for (;;) {
    try {
      return readSync(handle, part)
    } catch (error) {
      const code = (error as NodeJS.ErrnoException).code
      if (code === 'EOF') return 0
      if (code !== 'EAGAIN') throw error
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 10)
    }
  }
}

export const nameOf = (file: string): string => (file === '-' ? 'standard input' : file)

/** The value of a read; its warnings go to `warn`, its problems into BadInput. */
export function taken<T>(read: Read<T>, warn: (w: FileProblem) => void): T {
  read.warnings.forEach(warn)
  if (!read.ok) throw new BadInput(read.problems.map(formatProblem))
  return read.value
}

export function projectFrom(file: string, warn: (w: FileProblem) => void): Project {
  return taken(readProject(bytesOf(file), nameOf(file), loadLibrary()), warn)
}

/** Throws BadInput where more than one of the files is standard input. To be asked before any is read. */
export function inputOnce(files: readonly (string | undefined)[]): void {
  if (files.filter((f) => f === '-').length > 1) {
    throw new BadInput(['found - twice, expected it once: there is one standard input'])
  }
}

/** The variants asked for by id, in that order; all when none is. Throws BadInput naming those that are not there. */
export function variantsAsked(
  project: Project,
  asked: readonly string[] | undefined,
  option: string,
): { id: string; name: string }[] {
  const all = variantsOf(project)
  if (asked === undefined) return all
  const ids = all.map((v) => v.id)
  const unknown = asked.filter((id) => !ids.includes(id))
  if (unknown.length > 0) {
    throw new BadInput(unknown.map((id) => `${option}: found ${snippet(id)}, expected ${oneOf(ids, id)}`))
  }
  return [...new Set(asked)].map((id) => all.find((v) => v.id === id)!)
}

/** A project, and the id of the variant of it that `--variant` asks for, the first where it does not. */
export function variantFrom(
  file: string,
  asked: string | undefined,
  warn: (w: FileProblem) => void,
): [project: Project, variant: string] {
  const project = projectFrom(file, warn)
  return [project, variantsAsked(project, asked === undefined ? undefined : [asked], '--variant')[0]!.id]
}

export const problemOf = (project: Project, variant: string): Problem => toProblem(project, variant, loadLibrary())

export interface Laid {
  readonly problem: Problem
  readonly placements: readonly Placement[]
  /** What the rules say to the layout; none = legal. */
  readonly findings: readonly Finding[]
}

/** A project and layouts of it, each laid over it and checked: to be read in one `together` with all else. */
export interface Files {
  readonly project: () => Project
  readonly laid: readonly [() => Laid, ...(() => Laid)[]]
}

/** What is warned of a further layout is said with its name before it. */
export function filesFrom(
  file: string,
  [layoutFile, ...more]: readonly [string, ...string[]],
  warn: (w: FileProblem) => void,
  say: (warning: string) => void,
): Files {
  const whole = () => inputOnce([file, layoutFile, ...more])
  const project = once(() => {
    whole()
    return projectFrom(file, warn)
  })
  const laid = (f: string, told: (warning: string) => void) =>
    once((): Laid => {
      const [over, layout] = together(project, () => {
        whole()
        return taken(readLayout(bytesOf(f), nameOf(f), known(project)), warn)
      })
      return laidOn(over, layout, told)
    })
  return { project, laid: [laid(layoutFile, say), ...more.map((f) => laid(f, (text) => say(`${nameOf(f)}: ${text}`)))] }
}

/** A layout on the variant that it names, checked. */
function laidOn(project: Project, layout: LayoutFile, say: (warning: string) => void): Laid {
  const problem = problemOf(project, layoutVariant(project, layout))
  const laid = placementsOf(problem, layout)
  laid.warnings.forEach(say)
  return {
    problem,
    placements: laid.placements,
    findings: [...laid.findings, ...check(problem, laid.placements)],
  }
}

/** Findings as lines for people. */
export const findingLines = (findings: readonly Finding[]): string[] =>
  findings.map((f) => `  ${f.text} (${f.rule}: ${f.items.join(', ')})`)

/** A changed project as the text of its file, which is read back as any other would be before anyone gets it. */
export function projectText(project: Project, file: string, warn: (w: FileProblem) => void): string {
  const text = writeProject(project)
  taken(readProject(text, `${nameOf(file)}, changed`, loadLibrary()), warn)
  return text
}
