/** `export`, once its command line is read: what goes into which file, checked before anything is written. */
import { resolve } from 'node:path'
import { deckCalled, type Problem } from '../../solver/index.ts'
import { laidLeads, wiringOf } from '../electric/index.ts'
import { cautions, drillNotes, notDrilled, type OtherLayout } from '../export/index.ts'
import { newHoles } from '../model/index.ts'
import type { Given } from './args.ts'
import { BadInput, known, together } from './bad-input.ts'
import { askedOf, filesOf, type Target, targetsOf } from './export-options.ts'
import { type Job, jobOf, writers } from './export-writers.ts'
import { filesFrom, findingLines, type Laid } from './input.ts'
import { type Io, warner } from './io.ts'
import { checkFolder, checkWritable, writeWhole } from './output.ts'
import { countLines } from './reuse.ts'

/** What says how long leads are, or shows where they run. */
const LAID = new Set(['wires', 'pdf', 'png', 'png-3d', 'gltf'])

/** 0 written, 1 a layout is not legal and nothing is written. Throws BadInput. */
export async function exportFiles(given: Given, io: Io): Promise<number> {
  const [file, layoutFile] = given.operands as [string, string]
  const more = given.texts('with')
  const say = (w: string): void => io.err(`warning: ${w}`)
  const files = filesFrom(file, [layoutFile, ...more], warner(io, false), say)
  const [asked, project, [laid, ...rest], targets] = together(
    () => askedOf(given, writers),
    files.project,
    () => together(...files.laid),
    () => targetsFor(given, known(files.laid[0])?.problem),
  )
  const others = rest.map((of, i) => ({ file: more[i]!, laid: of }))
  const { problem, placements } = laid
  for (const one of [{ file: layoutFile, laid }, ...others]) {
    if (one.laid.findings.length === 0) continue
    const name = others.length === 0 ? 'The layout' : `The layout ${one.file}`
    io.err(`${name} breaks rules, so nothing is written:`)
    for (const line of findingLines(one.laid.findings)) io.err(line)
    return 1
  }
  // only what says how long to cut, or shows the way, asks how leads lie
  const cuts = targets.some((t) => LAID.has(t.option))
  const leads = (of: Laid) =>
    cuts ? { laid: laidLeads(of.problem, of.placements, wiringOf(project, of.problem.variant)) } : {}
  const asOther = ({ laid: of }: { readonly laid: Laid }): OtherLayout => {
    const { problem, placements } = of
    return { id: problem.variant, problem, placements, ...leads(of) }
  }
  const checkList = async () => {
    const [{ checkListOf, inspect }, { loadLibrary }] = await Promise.all([
      import('../inspect/index.ts'),
      import('../../footprints/load.ts'),
    ])
    return checkListOf(inspect(project, loadLibrary(), problem, placements, { broken: [] }))
  }
  const job = jobOf(given, asked, problem, placements, others.map(asOther), leads(laid).laid, checkList)
  const texts: { file: string; text: string | Uint8Array }[] = []
  for (const t of targets) texts.push({ file: t.file, text: await written(job, t) })
  writeWhole(texts.filter((f) => f.file !== '-'))
  for (const f of texts) if (f.file === '-') io.out(f.text)
  const drilled = targets.flatMap((t) => (t.option === 'drill' && t.deck !== 'all' ? [t.deck] : []))
  if (drilled.length > 0) tellOfDrilling(job, drilled, io)
  return 0
}

/** Where it all goes. Throws BadInput; without a problem, whose decks are in files' names, with what can be said of their folders. */
function targetsFor(given: Given, problem: Problem | undefined): readonly Target[] {
  const inputs = [...given.operands, ...given.texts('with')]
  const targets = problem ? targetsOf(problem, given, writers) : []
  const looked = (problem ? targets : filesOf(given, writers)).filter(({ file }) => file !== '-')
  together(
    ...looked.map(({ option, file }) => () => {
      if (problem || writers[option]!.each === 'robot') checkWritable(`--${option}`, file, inputs)
      else checkFolder(`--${option}`, file)
    }),
    () => noneTwice(targets),
  )
  return targets
}

/** What cannot be made with the options given becomes BadInput that says why. */
async function written(job: Job, { option, deck, file }: Target): Promise<string | Uint8Array> {
  try {
    return await writers[option]!.write(job, deck, file)
  } catch (error) {
    const said = job.refusal(option, error)
    if (said === undefined) throw error
    throw new BadInput([said])
  }
}

/** Throws BadInput where two results would go to one file. */
function noneTwice(targets: readonly Target[]): void {
  const seen = new Map<string, string>()
  for (const { file, option } of targets) {
    const path = resolve(file)
    const before = seen.get(path)
    // Devices take what they are given, in turn.
    if (file !== '-' && before !== undefined && before !== option && !path.startsWith('/dev/')) {
      throw new BadInput([`--${option}: found ${file}, which --${before} writes, expected another file`])
    }
    seen.set(path, option)
  }
}

/** A table of numbers has no room for what to know before drilling by it. */
function tellOfDrilling({ problem, placements }: Job, decks: readonly number[], io: Io): void {
  const counts = newHoles(problem, placements)
  for (const line of countLines(
    problem,
    counts.filter((_, d) => decks.includes(d)),
  ))
    io.err(line)
  const drilled = decks.filter((d) => counts[d]!.new > 0)
  for (const d of drilled) {
    if (decks.length > 1) io.err(`Drill table of ${deckCalled(problem.decks[d]!)}:`)
    for (const line of drillNotes(problem, d)) io.err(line)
  }
  for (const d of decks.filter((d) => !drilled.includes(d))) for (const line of notDrilled(problem, d)) io.err(line)
  if (drilled.length > 0) for (const line of cautions) io.err(line)
}
