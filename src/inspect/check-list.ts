/** The check list before power on its own, for whoever prints it. */
import type { Report } from './report.ts'
import type { Step } from './step.ts'

export interface CheckList {
  readonly cautions: readonly string[]
  readonly steps: readonly Pick<Step, 'text' | 'why'>[]
  /** What the files do not say, so that the list says nothing of it either. */
  readonly missing: readonly string[]
}

/** Undefined where nothing of the robot is electrical as far as its files say. */
export function checkListOf(report: Report): CheckList | undefined {
  if (!report.power && !report.pins && !report.leads) return undefined
  return {
    cautions: report.beforePower.cautions,
    steps: report.beforePower.steps.map(({ text, why }) => (why === undefined ? { text } : { text, why })),
    missing: report.missing.flatMap((m) => (m.part === 'before-power' ? [m.text] : [])),
  }
}
