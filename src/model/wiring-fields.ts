/** What a project says about laying its wires and about power (ours, optional). Defaults are in src/electric. */
import * as z from 'zod/mini'
import { box, choice, coordinate, flag, id, length, object, range } from '../../footprints/fields.ts'
import { wanted as common } from '../../footprints/words.ts'
import { wanted } from './words.ts'

export const wiringSettings = object({
  // between a lead and a body or keep-out zone beside it
  clearance: z.optional(length),
  // a body on stand-offs at least this high may be passed under
  under: z.optional(length),
  // more length for a soldered end, an end in a plug, an end in a contact or screw
  solder: z.optional(length),
  plug: z.optional(length),
  contact: z.optional(length),
  // spare length of every lead, over the wire's own loop
  service: z.optional(length),
  // straight piece that a lead needs after an exit
  straight: z.optional(length),
  // between a lead and a moving track (`chassis.tracks`)
  tracks: z.optional(length),
  // leads that run side by side no farther apart than this are a bundle
  bundle: z.optional(length),
})

/** A moving track of the chassis: where it runs in plan, and how high over the ground its top is. For leads only. */
export const track = object({ id, box, top: coordinate })

export const powerSettings = object({
  // gap between a radio and what makes noise
  radio: z.optional(length),
  // gap round drivers and regulators
  heat: z.optional(length),
  // amperes for each square millimetre of copper
  density: z.optional(range(0.1, 100, wanted.density)),
  // of one breadboard contact
  contactCurrent: z.optional(range(0.01, 100, common.amperes)),
  contactOhms: z.optional(range(0, 10, wanted.ohms)),
  // part of the supply's voltage that wires may lose
  drop: z.optional(range(0, 1, wanted.part)),
  // of the copper, degrees Celsius
  temperature: z.optional(range(-60, 200, wanted.celsius)),
})

export const END_KINDS = ['solder', 'plug', 'contact'] as const
/** How the two ends of a wire are fixed, and its conductors: `pair` out and back, `out` or `back` alone. */
export const wireFields = {
  ends: z.optional(z.tuple([choice(END_KINDS), choice(END_KINDS)], { error: wanted.ends })),
  path: z.optional(choice(['pair', 'out', 'back'])),
  stranded: z.optional(flag),
}
