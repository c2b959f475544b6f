/** What a project file asks of its solves beside R1–R10. */
import { wiringOf } from '../electric/index.ts'
import { applyVariant, type Project } from '../model/index.ts'
import type { Rules } from './rules.ts'

/**
 * Routes are asked for by `settings.wiring` of the project or the variant, an empty one too, or by a wire's `ends`. Files without
 * these are judged by R1–R10 alone.
 */
export function rulesOf(project: Project, variant: string): Rules {
  const asked = applyVariant(project, variant)
  const told = asked.settings?.wiring !== undefined || (asked.wires ?? []).some((w) => w.ends !== undefined)
  return told ? { routes: wiringOf(project, variant) } : {}
}
