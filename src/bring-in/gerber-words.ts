/** The words of a Gerber file (§3.3 of its specification): each ends with `*`; extended ones stand between percent signs. */
import { snippet } from '../../footprints/problems.ts'
import type { Findings } from './board-findings.ts'
import { gerber } from './words-boards.ts'

export interface Command {
  readonly text: string
  readonly line: number
  readonly extended: boolean
}

/** Longest word that is believed; aperture macros are the longest there are. */
const MOST_LENGTH = 100_000

export function* commandsOf(text: string, findings: Findings): Generator<Command> {
  let line = 1
  let start = 0
  let startLine = 1
  let extended = false
  let macro = false
  let empty = true
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i)
    if (c === 10) line++
    if (c === 10 || c === 32 || c === 9) {
      if (empty) start = i + 1
      continue
    }
    if (c === 37) {
      if (!empty && !macro) findings.stop(startLine, '', snippet(clean(text.slice(start, i))), gerber.starBeforePercent)
      extended = !extended
      macro = false
      empty = true
      start = i + 1
    } else if (c === 42) {
      const word: string = macro ? '' : clean(text.slice(start, i))
      if (word !== '') {
        // A macro's body has a * after each of its parts; none of it is a command.
        macro = extended && word.startsWith('AM')
        yield { text: word, line: startLine, extended }
      }
      empty = true
      start = i + 1
    } else {
      if (empty) {
        start = i
        startLine = line
        empty = false
      }
      if (i - start > MOST_LENGTH) findings.stop(startLine, '', gerber.longCommand(MOST_LENGTH), gerber.starAtEnd)
    }
  }
  if (!empty) findings.stop(startLine, '', snippet(clean(text.slice(start, start + 200))), gerber.starAfterCommand)
  if (extended) findings.stop(startLine, '', gerber.fileEnd, gerber.percentAtEnd)
}

const clean = (word: string): string => word.replaceAll('\n', '').trim()
