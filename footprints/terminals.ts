/** What terminals and pins carry (all optional, ours): the fields that terminals, pins and exits share, and their way to the solver. */
import * as z from 'zod/mini'
import { type Carries, TERMINAL_KINDS } from '../solver/terminals.ts'
import { choice, flag, list, range, text, whole } from './fields.ts'
import { wanted } from './words.ts'

export const terminalKind = choice(TERMINAL_KINDS)

const volt = range(-1000, 1000, wanted.ofVolts)
export const carries = {
  name: z.optional(text),
  kind: z.optional(terminalKind),
  also: z.optional(list(terminalKind)),
  volts: z.optional(
    z
      .tuple([volt, volt], { error: wanted.voltsPair })
      .check(z.refine(([lo, hi]) => lo <= hi, { error: wanted.voltsInOrder })),
  ),
  program: z.optional(flag),
  conductors: z.optional(whole(1, 100)),
  plug: z.optional(text),
}

type CarriesFile = { readonly [K in keyof Carries]?: Carries[K] | undefined } & { readonly name?: string | undefined }

/** What the file says, fields that it lacks left out. */
export function carriesToSolver(f: CarriesFile): Carries & { readonly name?: string } {
  return {
    ...(f.name === undefined ? {} : { name: f.name }),
    ...(f.kind === undefined ? {} : { kind: f.kind }),
    ...(f.also === undefined ? {} : { also: [...f.also] }),
    ...(f.volts === undefined ? {} : { volts: [f.volts[0], f.volts[1]] as const }),
    ...(f.program === undefined ? {} : { program: f.program }),
    ...(f.conductors === undefined ? {} : { conductors: f.conductors }),
    ...(f.plug === undefined ? {} : { plug: f.plug }),
  }
}
