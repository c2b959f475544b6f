/**
 * What the readers of board files share: how a file comes in, how big it may be, and what is told about it. A reader never
 * throws past its door; `Findings` ends one early where there is no sense in going on.
 */
import { clip, type FileProblem } from '../../footprints/problems.ts'
import { MOST_BYTES } from '../model/door.ts'
import { board } from './words-boards.ts'

/** A text file by its name; the name is for messages, and for the plating that drill files' names often tell. */
export interface BoardFile {
  readonly name: string
  readonly text: string
}

/** Segments, or holes, of one file. */
export const MOST_SEGMENTS = 1_000_000
const MOST_PROBLEMS = 100
const MOST_KINDS = 200

export class Stop extends Error {}

/** Collects what is wrong, what is not used and what was assumed while one file is read. */
export class Findings {
  readonly problems: FileProblem[] = []
  readonly assumptions: string[] = []
  private readonly kinds = new Map<string, { line: number; times: number }>()
  private more = 0

  constructor(readonly file: string) {}

  /** `path`: the section, command or setting that it is about. Ends the reading after `MOST_PROBLEMS`. */
  problem(line: number, path: string, found: string, expected: string): void {
    this.problems.push({ file: this.file, path, found: clip(found), expected, line })
    if (this.problems.length >= MOST_PROBLEMS) throw new Stop()
  }

  stop(line: number, path: string, found: string, expected: string): never {
    this.problem(line, path, found, expected)
    throw new Stop()
  }

  /** Something of the file that is not used; the same words are told once, with their number. */
  skip(line: number, what: string): void {
    const known = this.kinds.get(what)
    if (known !== undefined) known.times++
    else if (this.kinds.size < MOST_KINDS) this.kinds.set(what, { line, times: 1 })
    else this.more++
  }

  assume(text: string): void {
    if (!this.assumptions.includes(text)) this.assumptions.push(text)
  }

  unused(): string[] {
    const told = [...this.kinds].map(([what, { line, times }]) => board.unused(this.file, line, clip(what, 300), times))
    return this.more === 0 ? told : [...told, board.moreUnused(this.file, this.more)]
  }
}

/** Runs `read` on the text; undefined where a problem was found. */
export function guarded<T>(file: BoardFile, findings: Findings, read: (text: string) => T): T | undefined {
  try {
    const bytes = file.text.length * 3 <= MOST_BYTES ? 0 : new TextEncoder().encode(file.text).length
    if (bytes > MOST_BYTES) findings.stop(1, '', board.bytes(bytes), board.atMostBytes(MOST_BYTES))
    const nul = file.text.indexOf('\0')
    if (nul >= 0) findings.stop(lineOf(file.text, nul), '', board.zeroByte, board.textFile)
    const value = read(file.text)
    return findings.problems.length === 0 ? value : undefined
  } catch (e) {
    if (!(e instanceof Stop)) throw e
    return undefined
  }
}

function lineOf(text: string, offset: number): number {
  let line = 1
  for (let i = text.indexOf('\n'); i >= 0 && i < offset; i = text.indexOf('\n', i + 1)) line++
  return line
}

export const INCH = 25.4
