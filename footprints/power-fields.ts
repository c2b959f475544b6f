/**
 * What a part says about power (ours, optional): amperes, volts, ohms, ampere-hours. Read by src/electric; the solver does
 * not look at it.
 */
import * as z from 'zod/mini'
import { choice, flag, object, range, whole } from './fields.ts'
import { wanted } from './words.ts'

const amperes = range(0, 1e4, wanted.amperes)
const volts = range(0, 1e4, wanted.volts)

/** Current drawn at idle, running and stalled, and the voltages between which the part works. */
export const loadSchema = object({
  idle: z.optional(amperes),
  running: z.optional(amperes),
  stall: z.optional(amperes),
  min: z.optional(volts),
  max: z.optional(volts),
})

/** `part` says how the checks treat it: `driver`, `motor` and `regulator` keep a radio away, `driver` and `regulator` get warm. */
export const POWER_PARTS = ['motor', 'driver', 'regulator', 'radio', 'controller', 'fuse', 'switch'] as const

export const powerSchema = object({
  part: z.optional(choice(POWER_PARTS)),
  // of one cell: volts, ohms, ampere-hours; `cells` in series, `parallel` such rows side by side
  supply: z.optional(
    object({
      cells: z.optional(whole(1, 1000)),
      parallel: z.optional(whole(1, 1000)),
      volts,
      ohms: z.optional(range(0, 1e4, wanted.ohms)),
      capacity: z.optional(range(0, 1e5, wanted.ampereHours)),
      // built into the pack
      fuse: z.optional(amperes),
      switched: z.optional(flag),
    }),
  ),
  // of a regulator: what it makes; without efficiency it is a linear one, whose input current is its output's
  output: z.optional(object({ volts, efficiency: z.optional(range(0.01, 1, wanted.efficiency)) })),
  load: z.optional(loadSchema),
  // of a fuse: its current; of a switch: what it may carry
  rating: z.optional(amperes),
})

export type PowerFile = z.infer<typeof powerSchema>
export type LoadFile = z.infer<typeof loadSchema>
