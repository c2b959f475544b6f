/** R7: no wire is longer than it may be. */
import type { Wire } from '../problem.ts'
import type { Finding } from '../result.ts'
import { found, say } from '../words.ts'
import type { Layout } from './layout.ts'
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
    const text = found.noPass(say(wire.id), say(idOf(run.from)), say(idOf(run.to)))
    return [{ rule: 'R7', items, text, by: 0 }]
  }
  const cut = run.length + wire.loop
  const limits = [
    ...(wire.maxLength === undefined ? [] : [{ most: wire.maxLength as number, exit: undefined }]),
    ...[wire.from, wire.to].flatMap((end) => {
      const exit = end.kind === 'exit' ? problem.exits[end.exit] : undefined
      return exit?.free === undefined ? [] : [{ most: exit.free as number, exit: say(exit.id) }]
    }),
  ]
  return limits
    .filter(({ most }) => cut > most)
    .map(({ most, exit }) => ({
      rule: 'R7',
      items,
      text:
        exit === undefined
          ? found.wireTooLong(say(wire.id), cut, most)
          : found.leadTooShort(say(wire.id), cut, most, exit),
      by: cut - most,
    }))
}
