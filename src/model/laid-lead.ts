/** How a lead lies round what stands in its way. R7 measures wires straight; what is cut by that may be too short. */
import type { End, Um } from '../../solver/index.ts'

export interface LaidLead {
  /** Index into the problem's wires. */
  readonly wire: number
  /** Along its way, what to cut it to, and the ends that it joins; missing where no way is open. Neither is ever below R7's. */
  readonly way?: { readonly length: Um; readonly cut: Um; readonly from: End; readonly to: End }
  /** What there is of it, where it is less than what is to cut. */
  readonly there?: Um
  /** What shuts it in, where no way is open; nothing where no pass joins the decks. */
  readonly by: readonly string[]
}
