/** The places of a part where a conductor ends: its terminals and its pins, those at one spot as one. */
import type { Carries, Footprint, Point, TerminalKind } from '../../solver/index.ts'

export interface Pad extends Carries {
  /** The id that lists show: the pin's where there is one. */
  readonly id: string
  /** All ids by which the project may call it. */
  readonly ids: readonly string[]
  readonly name: string
  /** In the footprint's frame. */
  readonly at: Point
  /** Index into the footprint's pins, where it is one. */
  readonly pin?: number
  /** Its place among the footprint's terminals; 0 of a pin. */
  readonly order: number
  /** How many conductors end here. */
  readonly conductors: number
}

/** A terminal this near to a pin, along u and along v, is that pin, Um (R6's reach of a pin). */
const SAME = 10

/** Pins first, in their order, then terminals that are no pins. What a terminal says of its pin goes before what the pin says. */
export function padsOf(f: Footprint): Pad[] {
  const left = new Set(f.terminals)
  const pins = (f.plug?.pins ?? []).map((pin, i): Pad => {
    const terminals = f.terminals.filter(
      (t) => Math.abs(t.at.x - pin.at.x) <= SAME && Math.abs(t.at.y - pin.at.y) <= SAME,
    )
    for (const t of terminals) left.delete(t)
    const said = { ...carried(pin), ...Object.assign({}, ...terminals.map(carried)) }
    const name = pin.name ?? terminals.find((t) => t.name !== undefined)?.name ?? pin.id
    const ids = [...new Set([pin.id, ...terminals.map((t) => t.id)])]
    return { ...said, id: pin.id, ids, name, at: pin.at, pin: i, order: 0, conductors: said.conductors ?? 1 }
  })
  const terminals = [...left].map((t): Pad => {
    const said = carried(t)
    const conductors = said.conductors ?? (t.kind === 'motor-pair' ? 2 : 1)
    return { ...said, id: t.id, ids: [t.id], name: t.name ?? t.id, at: t.at, order: f.terminals.indexOf(t), conductors }
  })
  return [...pins, ...terminals]
}

const carried = ({ kind, also, volts, program, conductors, plug }: Carries): Carries => ({
  ...(kind === undefined ? {} : { kind }),
  ...(also === undefined ? {} : { also }),
  ...(volts === undefined ? {} : { volts }),
  ...(program === undefined ? {} : { program }),
  ...(conductors === undefined ? {} : { conductors }),
  ...(plug === undefined ? {} : { plug }),
})

/** Whether a pad can serve as this kind. */
export const canBe = (pad: Pad, kind: TerminalKind): boolean => pad.kind === kind || (pad.also?.includes(kind) ?? false)

/** One pad of one item. */
export const padKey = (item: number, pad: Pad): string => `${item} ${pad.id}`
