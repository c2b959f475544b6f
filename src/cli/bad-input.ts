import { oneOf, snippet } from '../../footprints/problems.ts'

/** Input that cannot be used: ends a command with exit code 2 and these lines on stderr, and with nothing written. */
export class BadInput extends Error {
  constructor(readonly lines: readonly string[]) {
    super(lines.join('\n'))
  }
}

/** What an option gives, where it is one of those that it may be. Throws BadInput. */
export function one<T extends string>(allowed: readonly T[], given: string, option: string): T {
  const found = allowed.find((a) => a === given)
  if (found === undefined) throw new BadInput([`${option}: found ${snippet(given)}, expected ${oneOf(allowed, given)}`])
  return found
}

/** What all of the reads give; where some cannot be used, one BadInput with the lines of each. */
export function together<const T extends readonly (() => unknown)[]>(
  ...reads: T
): { [K in keyof T]: ReturnType<T[K]> } {
  const lines: string[] = []
  const values = reads.map((read) => {
    try {
      return read()
    } catch (error) {
      if (!(error instanceof BadInput)) throw error
      for (const line of error.lines) lines.push(line)
      return undefined
    }
  })
  if (lines.length > 0) throw new BadInput(lines)
  return values as { [K in keyof T]: ReturnType<T[K]> }
}
