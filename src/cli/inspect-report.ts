/** The files of `inspect` read, and its report written; fetched when it runs, so that the other commands start quickly. */
import { loadLibrary } from '../../footprints/load.ts'
import { snippet } from '../../footprints/problems.ts'
import type { VariantLayout } from '../electric/index.ts'
import { inspect, type Report } from '../inspect/index.ts'
import { DIRECTIONS, type Direction, type Ground } from '../statics/index.ts'
import type { Given } from './args.ts'
import { BadInput, one, together } from './bad-input.ts'
import { laidOn, layoutFrom, projectFrom } from './input.ts'
import { checkListText, reportText } from './inspect-text.ts'
import { type Io, warner } from './io.ts'
import { checkWritable, writeWhole } from './output.ts'

/** Downhill, by the side of the robot that is lower. */
const TOWARDS: Readonly<Record<string, Direction>> = { front: 'forward', back: 'back', left: 'left', right: 'right' }

/** What `inspect` does once its arguments are read. */
export function inspectFiles(given: Given, io: Io): number {
  const [file, layoutFile] = [given.operands[0]!, given.operands[1]!]
  const warn = warner(io, false)
  const say = (w: string) => io.err(`warning: ${w}`)
  const list = given.text('checklist')
  const more = given.texts('with')
  const [ground, project, layout, others] = together(
    () => groundOf(given.number('slope', 'degrees', 0, 80), given.text('toward')),
    () => projectFrom(file, warn),
    () => layoutFrom(layoutFile, warn),
    () => more.map((f) => ({ file: f, layout: layoutFrom(f, warn) })),
    () => list !== undefined && checkWritable('--checklist', list, [file, layoutFile, ...more]),
  )
  const { problem, placements, findings } = laidOn(project, layout, layoutFile, warn, say)
  const seen = new Map([[problem.variant, layoutFile]])
  const beside = others.map(({ file: f, layout: l }): VariantLayout => {
    const laid = laidOn(project, l, f, warn, say)
    const { variant } = laid.problem
    const before = seen.get(variant)
    if (before !== undefined)
      throw new BadInput([
        `--with ${f}: found a layout of the variant ${variant}, as ${before} is, expected another variant's`,
      ])
    seen.set(variant, f)
    return { variant, placements: laid.placements }
  })
  const report = inspect(project, loadLibrary(), problem, placements, {
    broken: findings,
    others: beside,
    ...(ground ? { ground } : {}),
  })
  if (list !== undefined) writeWhole([{ file: list, text: checkListText(report) }])
  io.out(given.has('json') ? `${JSON.stringify(report, null, 2)}\n` : reportText(report, problem))
  return stops(report) ? 1 : 0
}

const stops = (report: Report): boolean => report.findings.some((f) => f.weight === 'stops')

function groundOf(slope: number | undefined, toward: string | undefined): Ground | undefined {
  if (toward !== undefined) one(Object.keys(TOWARDS), toward, '--toward')
  if (slope === undefined) {
    if (toward === undefined) return undefined
    throw new BadInput([`--toward: found ${snippet(toward)} without a slope, expected --slope DEG beside it`])
  }
  return { slope, towards: DIRECTIONS[TOWARDS[toward ?? 'front']!] }
}
