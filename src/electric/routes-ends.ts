/** Where a lead may end in a layout. */
import { type Layout, type Point, pointOn, type WireEnd } from '../../solver/index.ts'

export interface End {
  readonly deck: number
  readonly at: Point
  readonly item?: number
  readonly exit?: number
}

/** All places that an end stands for: the exit, or the terminal on each copy that is placed. */
export function endsOf(layout: Layout, end: WireEnd): End[] {
  if (end.kind === 'exit') {
    const exit = layout.problem.exits[end.exit]
    return exit ? [{ deck: exit.deck, at: exit.at, exit: end.exit }] : []
  }
  return end.ref.items.flatMap((item) => {
    const body = layout.bodyOf.get(item)
    return body ? [{ deck: body.deck, at: pointOn(body.item.footprint, body.placement, end.at), item }] : []
  })
}
