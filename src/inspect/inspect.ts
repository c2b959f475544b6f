/** The one report of a layout, each part worked out once. */
import type { FootprintFile } from '../../footprints/schema.ts'
import { type Finding as Broken, check, type Placement, type Problem } from '../../solver/index.ts'
import {
  inspectPins,
  inspectRoutes,
  leadLengths,
  netlistOf,
  powerModel,
  powerSeen,
  powerSettingsOf,
  type VariantLayout,
  wiringOf,
} from '../electric/index.ts'
import type { Project } from '../model/index.ts'
import { accessReport, balanceOf, type Ground, headReports, serviceOrder, viewReports } from '../statics/index.ts'
import { beforePower } from './before-power.ts'
import { powerFacts } from './facts.ts'
import { together } from './findings.ts'
import { leadsSeen } from './leads.ts'
import { missing } from './missing.ts'
import { onceCut } from './once-cut.ts'
import type { Finding, Report } from './report.ts'

export interface InspectOptions {
  /** Layouts of other variants, for lengths that serve them all. */
  readonly others?: readonly VariantLayout[]
  /** A slope to stand on besides level ground. */
  readonly ground?: Ground
  /** What the rules of a legal layout say to it, where that is known already. */
  readonly broken?: readonly Broken[]
}

/**
 * `problem` is a variant of `project`, `placements` its layout, legal or not. Throws a RangeError where `others` names no variant.
 *
 * `inspect(project, library, problem, placements).findings[0]` → `{ topic: 'protection', weight: 'stops', items: ['pack'], text: 'pack has no fuse …' }`
 */
export function inspect(
  project: Project,
  library: ReadonlyMap<string, FootprintFile>,
  problem: Problem,
  placements: readonly Placement[],
  options: InspectOptions = {},
): Report {
  const broken = options.broken ?? check(problem, placements)
  const wiring = wiringOf(project, problem.variant)
  const settings = powerSettingsOf(project, problem.variant)
  const routes = inspectRoutes(problem, placements, wiring)
  const lengths = leadLengths(project, library, [
    { variant: problem.variant, placements, known: { problem, routed: routes } },
    ...(options.others ?? []),
  ])
  const netlist = netlistOf(problem, placements)
  const model = powerModel(project, library, problem, placements, wiring, settings, routes, netlist)
  const pins = inspectPins(problem, placements, netlist, model.conductors)
  const power = powerSeen(model, settings)
  const level = balanceOf(problem, placements)
  const slope = options.ground && balanceOf(problem, placements, options.ground)
  const heads = headReports(problem, placements)
  const views = viewReports(problem, placements)
  const access = accessReport(problem, placements)
  const service = serviceOrder(problem, placements)
  const facts = powerFacts(model, netlist)
  const { preparation, ...contacts } = bare(pins)
  const stops = [...pins.findings, ...power.findings].filter((f) => f.weight === 'stops')
  const hasLeads = routes.routes.length + routes.blocked.length > 0
  const findings = together(broken, [
    onceCut(problem, placements),
    pins.findings,
    power.findings,
    routes.findings,
    lengths.findings,
    level?.findings ?? [],
    slope?.findings ?? [],
    heads.flatMap((h) => h.findings),
    access.findings,
    service.findings,
    views.flatMap((v) => v.findings),
  ])
  return {
    project: problem.name,
    variant: problem.variant,
    findings,
    missing: missing(model, netlist, { leads: hasLeads, balance: level !== undefined }, facts),
    ...(hasLeads ? { leads: leadsSeen(problem, wiring, routes, lengths) } : {}),
    ...(pins.nets > 0 ? { pins: contacts } : {}),
    preparation,
    ...(power.supplies.length > 0 ? { power: bare(power) } : {}),
    ...(level ? { balance: { level: bare(level), ...(slope ? { slope: bare(slope) } : {}) } } : {}),
    heads: heads.map(bare),
    views: views.map(bare),
    service: bare(service),
    access: bare(access),
    beforePower: beforePower(model, netlist, service, facts, stops),
  }
}

/** Without its findings, which stand in the one list. */
function bare<T extends { readonly findings: readonly Finding[] }>({ findings: _, ...rest }: T): Omit<T, 'findings'> {
  return rest
}
