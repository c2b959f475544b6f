/** `export`, once its command line is read: what goes into which file, checked before anything is written. */
import { resolve } from 'node:path'
import { deckCalled } from '../../solver/index.ts'
import { laidLeads, wiringOf } from '../electric/index.ts'
import { cautions, drillNotes, type OtherLayout } from '../export/index.ts'
import { newHoles, type Project } from '../model/index.ts'
import type { Given } from './args.ts'
import { BadInput } from './bad-input.ts'
import { askedOf, type Target, targetsOf } from './export-options.ts'
import { type Job, jobOf, writers } from './export-writers.ts'
import { findingLines, type Laid, laidOn, laidOut, layoutFrom } from './input.ts'
import { type Io, warner } from './io.ts'
import { checkWritable, writeWhole } from './output.ts'
import { countLines } from './reuse.ts'

/** What says how long leads are, or shows where they run. */
const LAID = new Set(['wires', 'pdf', 'png', 'png-3d', 'gltf'])

/** 0 written, 1 a layout is not legal and nothing is written. Throws BadInput. */
export async function exportFiles(given: Given, io: Io): Promise<number> {
  const asked = askedOf(given, writers)
  const [file, layoutFile] = given.operands as [string, string]
  const say = (w: string): void => io.err(`warning: ${w}`)
  const laid = laidOut(file, layoutFile, warner(io, false), say)
  const others = given.texts('with').map((f) => ({ file: f, laid: otherLaid(laid.project, f, io) }))
  const { problem, placements } = laid
  const targets = targetsOf(problem, asked, writers)
  for (const t of targets) {
    if (t.file !== '-') checkWritable(`--${t.option}`, t.file, [...given.operands, ...given.texts('with')])
  }
  noneTwice(targets)
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
    cuts ? { laid: laidLeads(of.problem, of.placements, wiringOf(laid.project, of.problem.variant)) } : {}
  const asOther = ({ laid: of }: { readonly laid: Laid }): OtherLayout => {
    const { problem, placements } = of
    return { id: problem.variant, problem, placements, ...leads(of) }
  }
  const checkList = async () => {
    const [{ checkListOf, inspect }, { loadLibrary }] = await Promise.all([
      import('../inspect/index.ts'),
      import('../../footprints/load.ts'),
    ])
    return checkListOf(inspect(laid.project, loadLibrary(), problem, placements, { broken: [] }))
  }
  const job = jobOf(given, asked, problem, placements, others.map(asOther), leads(laid).laid, checkList)
  const files: { file: string; text: string | Uint8Array }[] = []
  for (const t of targets) files.push({ file: t.file, text: await written(job, t) })
  writeWhole(files.filter((f) => f.file !== '-'))
  for (const f of files) if (f.file === '-') io.out(f.text)
  const drilled = targets.flatMap((t) => (t.option === 'drill' && t.deck !== 'all' ? [t.deck] : []))
  if (drilled.length > 0) tellOfDrilling(job, drilled, io)
  return 0
}

const otherLaid = (project: Project, file: string, io: Io): Laid =>
  laidOn(project, layoutFrom(file, warner(io, false)), file, warner(io, false), (w) => io.err(`warning: ${file}: ${w}`))

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
  if (drilled.length > 0) for (const line of cautions) io.err(line)
}
