/** The netlist of a project (ours, optional): who is to be joined with whom. Read by src/electric. */
import * as z from 'zod/mini'
import { id, list, object, ref } from '../../footprints/fields.ts'
import { terminalKind } from '../../footprints/terminals.ts'
import { wanted } from './words.ts'

const netEnd = object({
  exit: z.optional(ref),
  item: z.optional(ref),
  terminal: z.optional(ref),
  any: z.optional(terminalKind),
}).check(
  z.refine(
    (e) => {
      if (typeof e !== 'object' || e === null || Array.isArray(e)) return true
      const has = (field: string) => Object.hasOwn(e, field)
      if (has('exit')) return !has('item') && !has('terminal') && !has('any')
      return has('item') && has('terminal') !== has('any')
    },
    { error: wanted.netEnd, when: () => true },
  ),
)

// ours, optional: terminals that are to be one conductor; `switch` names the item that opens the line
export const net = object({
  id,
  ends: list(netEnd).check(z.refine((e) => e.length >= 2, { error: wanted.twoEnds })),
  switch: z.optional(ref),
})
