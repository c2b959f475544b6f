/** The files of `inspect` read, and its report written; fetched when it runs, so that the other commands start quickly. */
import { loadLibrary } from '../../footprints/load.ts'
import { snippet } from '../../footprints/problems.ts'
import type { VariantLayout } from '../electric/index.ts'
import { inspect, type Report } from '../inspect/index.ts'
import { DIRECTIONS, type Direction, type Ground } from '../statics/index.ts'
import type { Given } from './args.ts'
import { BadInput, one, together } from './bad-input.ts'
import { filesFrom, type Laid } from './input.ts'
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
  const files = filesFrom(file, [layoutFile, ...more], warn, say)
  const [ground, project, { problem, placements, findings }, beside] = together(
    () => groundOf(given),
    files.project,
    files.laid[0],
    () => besides(together(...files.laid), [layoutFile, ...more]),
    () => list !== undefined && checkWritable('--checklist', list, [file, layoutFile, ...more]),
  )
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

/** All layouts but the first, by their variants. Throws BadInput naming each that is of a variant that is there before. */
function besides(laid: readonly Laid[], files: readonly string[]): VariantLayout[] {
  const variants = laid.map((l) => l.problem.variant)
  const looked = laid.map(({ placements }, i) => (): VariantLayout => {
    const variant = variants[i]!
    const before = variants.indexOf(variant)
    if (before === i) return { variant, placements }
    throw new BadInput([
      `--with ${files[i]}: found a layout of the variant ${variant}, as ${files[before]} is, expected another variant's`,
    ])
  })
  return together(...looked).slice(1)
}

function groundOf(given: Given): Ground | undefined {
  const toward = given.text('toward')
  const [slope] = together(
    () => given.number('slope', 'degrees', 0, 80),
    () => toward !== undefined && one(Object.keys(TOWARDS), toward, '--toward'),
  )
  if (slope === undefined) {
    if (toward === undefined) return undefined
    throw new BadInput([`--toward: found ${snippet(toward)} without a slope, expected --slope DEG beside it`])
  }
  return { slope, towards: DIRECTIONS[TOWARDS[toward ?? 'front']!] }
}
