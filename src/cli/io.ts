/** Where a command speaks: results on stdout, everything else on stderr. */
import { type FileProblem, formatProblem } from '../model/index.ts'

export interface Io {
  /** Text, or the bytes of a file. */
  readonly out: (result: string | Uint8Array) => void
  readonly err: (line: string) => void
}

/** The two streams of the process. A reader that has gone away (`| head`) ends the program without a word. */
export function processIo(): Io {
  for (const stream of [process.stdout, process.stderr]) {
    stream.on('error', (error: NodeJS.ErrnoException) => {
      if (error.code !== 'EPIPE') {
        if (stream === process.stdout) process.stderr.write(`deckwright: cannot write the result: ${error.code}\n`)
        process.exitCode = 2
      }
      process.exit()
    })
  }
  return {
    out: (result) => void process.stdout.write(result),
    err: (line) => void process.stderr.write(`${line}\n`),
  }
}

/** Warnings as sentences, or as lines of JSON where the other lines are. */
export const warner =
  (io: Io, json: boolean) =>
  (w: FileProblem): void =>
    io.err(json ? JSON.stringify({ warning: w }) : `warning: ${formatProblem(w)}`)
