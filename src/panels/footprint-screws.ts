/** The screws that a hole of a part can be for, and what each makes of the hole. */
import { CLEARANCE, THREADS, type Thread, WASHER } from '../export/hardware-data.ts'
import { words } from '../words/index.ts'

export const fitting = (thread: Thread): { diameter: number; land: number; screw: string } => ({
  diameter: CLEARANCE[thread].medium,
  land: WASHER[thread].diameter,
  screw: thread,
})

const isThread = (screw: string): screw is Thread => (THREADS as readonly string[]).includes(screw)

/** Each once, as value and label; a thread that is none of ours stays one to choose. */
export function screwChoices(own: string | undefined): (readonly [string, string])[] {
  const others = own === undefined || isThread(own) ? [] : [own]
  return [['', words.footprint.screwNone], ...[...others, ...THREADS].map((s) => [s, s] as const)]
}

/** The hole for this screw; of a thread that is none of ours nothing is known but its name. */
export function screwedBy<T extends { readonly screw?: string | undefined }>(hole: T, screw: string): T {
  const { screw: _, ...rest } = hole
  return (screw === '' ? rest : isThread(screw) ? { ...rest, ...fitting(screw) } : { ...rest, screw }) as T
}
