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

/**
 * What all of the reads give; where some cannot be used, one BadInput with the lines of each, once. Whatever a command reads, values,
 * names and files, belongs into one of these, so that nobody is told of one mistake after the other.
 */
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
  if (lines.length > 0) throw new BadInput([...new Set(lines)])
  return values as { [K in keyof T]: ReturnType<T[K]> }
}

/** A read that is done once, whoever asks for it, so that others may build on it: its problems stay one. */
export function once<T>(read: () => T): () => T {
  let done: (() => T) | undefined
  return () => {
    if (!done) {
      try {
        const value = read()
        done = () => value
      } catch (error) {
        done = () => {
          throw error
        }
      }
    }
    return done()
  }
}

/** What a read gives; undefined where it cannot be used, for which whoever reads it is told elsewhere. */
export function known<T>(read: () => T): T | undefined {
  try {
    return read()
  } catch (error) {
    if (error instanceof BadInput) return undefined
    throw error
  }
}
