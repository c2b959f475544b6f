/** R7: no wire is longer than it may be. */
import type { Wire } from '../problem.ts'
import type { Finding } from '../result.ts'
import type { Layout } from './layout.ts'
import { len, say } from './say.ts'
import { type End, runOf } from './wire-length.ts'

export function wires(layout: Layout): Finding[] {
  return layout.problem.wires.flatMap((wire) => wireFindings(layout, wire))
}

function wireFindings(layout: Layout, wire: Wire): Finding[] {
  const run = runOf(layout, wire)
  if (!run) return []
  const { problem } = layout
  const idOf = (end: End): string =>
    end.exit === undefined ? problem.items[end.item!]!.id : problem.exits[end.exit]!.id
  const items = [...new Set([wire.id, idOf(run.from), idOf(run.to)])]
  if (run.length === Number.POSITIVE_INFINITY) {
    const text = `No pass takes wire ${say(wire.id)} from the deck of ${say(idOf(run.from))} to the deck of ${say(idOf(run.to))}.`
    return [{ rule: 'R7', items, text, by: 0 }]
  }
  const cut = run.length + wire.loop
  const limits = [
    ...(wire.maxLength === undefined ? [] : [{ most: wire.maxLength as number, what: 'it may have' }]),
    ...[wire.from, wire.to].flatMap((end) => {
      const exit = end.kind === 'exit' ? problem.exits[end.exit] : undefined
      return exit?.free === undefined ? [] : [{ most: exit.free as number, what: `the lead at ${say(exit.id)} has` }]
    }),
  ]
  return limits
    .filter(({ most }) => cut > most)
    .map(({ most, what }) => ({
      rule: 'R7',
      items,
      text: `Wire ${say(wire.id)} needs ${len(cut)}, ${len(cut - most)} more than the ${len(most)} ${what}.`,
      by: cut - most,
    }))
}
