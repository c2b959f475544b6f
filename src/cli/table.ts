/** The comparison for people: aligned columns, then what each variant's answer means, then how long to cut the wires. */
import { figureOf, type ObjectiveName } from '../../solver/index.ts'
import { type Answer, amount, figureText, leftOut, list, verdict } from './answers.ts'
import { type CutRow, cutTable } from './cut-table.ts'

const figures: readonly { name: ObjectiveName; head: string }[] = [
  { name: 'free-tie-points', head: 'free contacts' },
  { name: 'optional-value', head: 'optional value' },
  { name: 'new-holes', head: 'new holes' },
  { name: 'wire-length', head: 'conductor' },
  { name: 'balance', head: 'off balance' },
]

export function comparison(answers: readonly Answer[], cuts: readonly CutRow[]): string {
  const shown = figures.filter((f) => answers.some((a) => cell(a, f.name) !== undefined))
  const rows = [
    ['variant', ...shown.map((f) => f.head), 'left out'],
    ...answers.map((a) => [a.name, ...shown.map((f) => cell(a, f.name) ?? '–'), solved(a) ? list(leftOut(a)) : '–']),
  ]
  const lines = aligned(rows)
  for (const a of answers) lines.push('', `${a.name}: ${verdict(a)}`)
  if (cuts.length > 0) {
    const { heading, cells } = cutTable(cuts, answers.filter(solved).length > 1)
    lines.push('', heading, ...aligned(cells))
  }
  return `${lines.join('\n')}\n`
}

const solved = (a: Answer): boolean => a.result.status === 'optimal' || a.result.status === 'feasible'

/** A figure with how good it is known to be; undefined where the variant has none. */
function cell({ result, problem }: Answer, name: ObjectiveName): string | undefined {
  if (result.status !== 'optimal' && result.status !== 'feasible') return undefined
  if (name === 'optional-value' && problem.items.every((i) => i.required)) return undefined
  const objective = result.objectives.find((o) => o.name === name)
  if (objective) return figureText(objective)
  if (name === 'new-holes' || (name === 'balance' && result.figures.balance === undefined)) return undefined
  return amount(name, figureOf(name, result.figures))
}

/** Columns two spaces apart, as wide as their widest cell. */
export function aligned(rows: readonly (readonly string[])[]): string[] {
  const wide = rows[0]!.map((_, i) => Math.max(...rows.map((r) => [...r[i]!].length)))
  return rows.map((row) =>
    row
      .map((text, i) => text + ' '.repeat(wide[i]! - [...text].length))
      .join('  ')
      .trimEnd(),
  )
}
