/** How a lead lies round what stands in its way. R7 measures wires straight; what is cut by that may be too short. */
import type { End, Um } from '../../solver/index.ts'
import type { Stroke } from './wire-route.ts'

export interface LaidLead {
  /** Index into the problem's wires. */
  readonly wire: number
  /** Along its way, what to cut it to, the ends that it joins, and where it runs; missing where no way is open. Neither is ever below R7's. */
  readonly way?: {
    readonly length: Um
    readonly cut: Um
    readonly from: End
    readonly to: End
    readonly strokes: readonly Stroke[]
  }
  /** What there is of it, where it is less than what is to cut. */
  readonly there?: Um
  /** Not to be cut shorter than `least`, or an end reaches no more what it may move to later: at the farthest `item` on `to`; missing where none may. */
  readonly keep?: { readonly least: Um; readonly item: string; readonly to: string }
  /** What shuts it in, where no way is open; nothing where no pass joins the decks. */
  readonly by: readonly string[]
}
