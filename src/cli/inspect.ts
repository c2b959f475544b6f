import { type Form, readArgs } from './args.ts'
import type { Io } from './io.ts'

export const form: Form = {
  command: 'inspect',
  about:
    'Says everything that must hold besides room: how leads run and how long to cut them, which contact each jumper goes\ninto, what to prepare, power, balance, head and views, what comes off before what, and the check list before power is\non. Exit code 0: nothing stops the job; 1: something does, a broken rule too, and the report is complete all the same;\n2: bad input.',
  operands: ['FILE', 'LAYOUT'],
  options: {
    json: { about: 'the whole report as JSON (mm, degrees, grams, volts, amperes) instead of text' },
    with: {
      value: 'LAYOUT',
      many: true,
      about: 'layout of another variant: lengths to keep then serve that too',
    },
    slope: { value: 'DEG', about: 'balance on a slope of so many degrees as well, 0 to 80' },
    toward: { value: 'front|back|left|right', about: 'where that slope goes down; default front' },
    checklist: { value: 'F', about: 'the check list before power is on, as a text file of its own' },
  },
}

/** `inspect FILE LAYOUT`: 0 nothing stops the job, 1 something does. */
export async function run(args: readonly string[], io: Io): Promise<number> {
  const given = readArgs(form, args)
  return (await import('./inspect-report.ts')).inspectFiles(given, io)
}
