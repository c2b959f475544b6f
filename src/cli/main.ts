/** Hands the command line to its command and turns what comes back into an exit code. */
import { nearest, snippet } from '../../footprints/problems.ts'
import { type Form, helpOf, usageOf } from './args.ts'
import { BadInput } from './bad-input.ts'
import * as bringIn from './bring-in.ts'
import * as built from './built.ts'
import * as check from './check.ts'
import * as compare from './compare.ts'
import * as exporting from './export.ts'
import * as inspecting from './inspect.ts'
import { type Io, processIo } from './io.ts'
import * as solve from './solve.ts'
import * as whatIf from './what-if.ts'

interface Command {
  readonly form: Form
  readonly run: (args: readonly string[], io: Io) => Promise<number>
}

const commands: Readonly<Record<string, Command>> = {
  solve,
  compare,
  'what-if': whatIf,
  check,
  inspect: inspecting,
  export: exporting,
  'bring-in': bringIn,
  built,
}

/** 0 done · 1 the answer is no · 2 bad input · 3 time ran out with nothing to show (contract §7) · 70 a bug of ours. */
export async function main(args: readonly string[], io: Io = processIo()): Promise<number> {
  const [name, ...rest] = args
  if (name === '--help' || name === '-h' || name === 'help') {
    io.out(overview())
    return 0
  }
  const command = name !== undefined && Object.hasOwn(commands, name) ? commands[name] : undefined
  if (!command) {
    const near = name === undefined ? undefined : nearest(name, Object.keys(commands))
    const guess = near === undefined ? '' : ` (did you mean ${near}?)`
    const found = name === undefined ? 'no command' : snippet(name)
    io.err(`deckwright: found ${found}, expected one of ${Object.keys(commands).join(', ')}${guess}`)
    io.err(overview().trimEnd())
    return 2
  }
  if (rest.includes('--help') || rest.includes('-h')) {
    io.out(helpOf(command.form))
    return 0
  }
  try {
    return await command.run(rest, io)
  } catch (error) {
    if (error instanceof BadInput) {
      for (const line of error.lines) io.err(line)
      return 2
    }
    // Not 1, which would say that the answer is no.
    io.err(`deckwright: a mistake of the program, not of the input: ${error instanceof Error ? error.stack : error}`)
    return 70
  }
}

const overview = (): string =>
  `usage:\n${Object.values(commands)
    .map((c) => `  ${usageOf(c.form)}\n`)
    .join('')}deckwright COMMAND --help says more about one.\n`
