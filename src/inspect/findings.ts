/** One list of all that was found: what stops the job first, and nothing twice. */
import type { Finding as Broken } from '../../solver/index.ts'
import type { Finding } from './report.ts'

/** `parts` in the order in which the report has them; of equal weight that order stays. */
export function together(broken: readonly Broken[], parts: readonly (readonly Finding[])[]): Finding[] {
  const rules = broken.map(
    (f): Finding => ({ topic: 'layout', kind: f.rule, weight: 'stops', items: f.items, text: f.text }),
  )
  const said = new Set<string>()
  const all = [...rules, ...parts.flat().filter((f) => !toldByRule(f, broken))].filter((f) => {
    if (said.has(f.text)) return false
    said.add(f.text)
    return true
  })
  return [...all.filter((f) => f.weight === 'stops'), ...all.filter((f) => f.weight === 'worth-knowing')].map(
    ({ topic, kind, weight, items, text }) => ({ topic, kind, weight, items, text }),
  )
}

/**
 * A lead that is too short as the crow flies is too short round things as well, and what stands in a head's stated sweep mostly
 * meets what it carries: the rule has said it.
 */
function toldByRule(f: Finding, broken: readonly Broken[]): boolean {
  if (f.weight !== 'stops') return false
  if (f.topic === 'route') return broken.some((b) => b.rule === 'R7' && b.items.includes(f.items[0]!))
  if (f.topic === 'head') return broken.some((b) => b.rule === 'R9' && f.items.every((i) => b.items.includes(i)))
  return false
}
