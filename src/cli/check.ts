import { type Form, readArgs } from './args.ts'
import { filesFrom } from './input.ts'
import { type Io, warner } from './io.ts'

export const form: Form = {
  command: 'check',
  about:
    'Checks any layout, made by anyone, against every rule and prints {"legal", "findings"} as JSON, "by" = mm short.\nExit code 0: legal; 1: not; 2: bad input.',
  operands: ['FILE', 'LAYOUT'],
  options: {},
}

/** `check FILE LAYOUT`: 0 legal, 1 not. */
export async function run(args: readonly string[], io: Io): Promise<number> {
  const given = readArgs(form, args)
  const [file, layout] = given.operands as [string, string]
  const { laid } = filesFrom(file, [layout], warner(io, false), (w) => io.err(`warning: ${w}`))
  const { findings } = laid[0]()
  const told = findings.map((f) => ({ rule: f.rule, items: f.items, text: f.text, by: Math.round(f.by) / 1000 }))
  io.out(`${JSON.stringify({ legal: told.length === 0, findings: told }, null, 2)}\n`)
  return told.length === 0 ? 0 : 1
}
