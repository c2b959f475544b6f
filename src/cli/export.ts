import { resolve } from 'node:path'
import { mm } from '../../solver/index.ts'
import {
  dxf,
  groupIds,
  MergeError,
  OffsetError,
  sheet,
  svg,
  TAB_WIDTH,
  type Template,
  type TemplateOptions,
  template,
} from '../export/index.ts'
import { type Form, type Given, readArgs, usageOf } from './args.ts'
import { BadInput, together } from './bad-input.ts'
import { pensOf, type Target, tabsOf, targetsOf, versionOf } from './export-options.ts'
import { laidOut } from './input.ts'
import { type Io, warner } from './io.ts'
import { checkWritable, writeWhole } from './output.ts'

export const form: Form = {
  command: 'export',
  about:
    'Writes the template of a legal layout as SVG or DXF or both, one file a deck. Exit code 0: written; 1: the layout breaks a\nrule, and nothing is written; 2: bad input.',
  operands: ['FILE', 'LAYOUT'],
  options: {
    svg: {
      value: 'F',
      about: 'the SVG to write, - for standard output; with several decks, -<deck> is put before its ending',
    },
    dxf: {
      value: 'F',
      about: 'the DXF to write, named in the same way; layers CUT, DRILL, EXISTING, MARK, NOTES',
    },
    'dxf-version': { value: 'r2000|r12', about: 'for programs that read old DXF alone: r12; default r2000' },
    deck: { value: 'ID', about: 'only this deck, to exactly that file' },
    sheet: { about: 'all decks side by side in one file' },
    kerf: {
      value: 'MM',
      about: 'full width of the cut, 0 to 10; outline moves out by half of it, all else in; default 0',
    },
    'as-made': { about: 'the plate exists: only new holes, slots and cut-outs are to be made' },
    'laser-holes': { about: 'new holes are cut like openings, kerf and all, instead of drilled' },
    'marks-as-paths': { about: 'labels as single-stroke lines among the marks, for machines that have no fonts' },
    tabs: {
      value: 'N[,WIDTH]',
      about: `leave N gaps of WIDTH mm (default ${TAB_WIDTH}) in every larger cut line, so that parts stay in the sheet`,
    },
    stroke: {
      value: 'GROUP=COLOUR,WIDTH',
      many: true,
      about: `another colour and width in mm for a group of the SVG: ${groupIds.join(', ')}`,
    },
  },
}

/** A kind of file that is asked for, and how a drawing becomes one. */
interface Format {
  readonly option: string
  readonly file: string
  readonly write: (t: Template) => string
}

/** `export FILE LAYOUT --svg F`: 0 written, 1 the layout is not legal. */
export async function run(args: readonly string[], io: Io): Promise<number> {
  const given = readArgs(form, args)
  const { formats, options } = asked(given)
  const { problem, placements, findings } = laidOut(given.operands[0]!, given.operands[1]!, warner(io, false), (w) =>
    io.err(`warning: ${w}`),
  )
  const targets = formats.flatMap((format) =>
    targetsOf(problem, format.option, format.file, given.text('deck'), given.has('sheet')).map((t) => ({
      ...t,
      format,
    })),
  )
  for (const t of targets) if (t.file !== '-') checkWritable(`--${t.format.option}`, t.file, given.operands)
  noneTwice(targets)
  if (findings.length > 0) {
    io.err('The layout breaks rules, so nothing is written:')
    for (const f of findings) io.err(`  ${f.text} (${f.rule}: ${f.items.join(', ')})`)
    return 1
  }
  const drawings = new Map<Target['deck'], Template>()
  for (const { deck } of targets) {
    if (drawings.has(deck)) continue
    drawings.set(
      deck,
      drawn(given, () =>
        deck === 'all' ? sheet(problem, placements, options) : template(problem, placements, deck, options),
      ),
    )
  }
  const files = targets.map((t) => ({ file: t.file, text: t.format.write(drawings.get(t.deck)!) }))
  writeWhole(files.filter((f) => f.file !== '-'))
  for (const f of files) if (f.file === '-') io.out(f.text)
  return 0
}

/** What the options ask for. Throws BadInput with everything that is wrong with them. */
function asked(given: Given): { formats: Format[]; options: TemplateOptions } {
  const [kerf, pens, tabs, version] = together(
    () => given.number('kerf', 'a width in mm', 0, 10),
    () => pensOf(given.texts('stroke')),
    () => tabsOf(given.text('tabs')),
    () => versionOf(given.text('dxf-version'), given.has('dxf')),
    () => {
      if (given.has('sheet') && given.has('deck')) {
        throw new BadInput(['--sheet: found together with --deck, expected one of them'])
      }
    },
  )
  const writers: Readonly<Record<string, Format['write']>> = {
    svg: (t) => svg(t, pens),
    dxf: (t) => dxf(t, { version: version ?? 'r2000' }),
  }
  const formats = Object.entries(writers).flatMap(([option, write]): Format[] => {
    const file = given.text(option)
    return file === undefined ? [] : [{ option, file, write }]
  })
  if (formats.length === 0) {
    const names = Object.keys(writers).map((w) => `--${w} F`)
    throw new BadInput([
      `--svg: found nothing, expected at least one of ${names.join(', ')}: ${form.options.svg!.about}`,
      `usage: ${usageOf(form)}`,
    ])
  }
  if (formats.filter((f) => f.file === '-').length > 1) {
    throw new BadInput(['found - twice, expected it once: there is one standard output'])
  }
  return {
    formats,
    options: {
      kerf: mm(kerf ?? 0),
      asMade: given.has('as-made'),
      laserHoles: given.has('laser-holes'),
      marksAsPaths: given.has('marks-as-paths'),
      ...(tabs ? { tabs } : {}),
    },
  }
}

/** Throws BadInput where two drawings would go to one file. */
function noneTwice(targets: readonly (Target & { readonly format: Format })[]): void {
  const seen = new Map<string, string>()
  for (const { file, format } of targets) {
    const path = resolve(file)
    const before = seen.get(path)
    // Devices take what they are given, in turn.
    if (file !== '-' && before !== undefined && before !== format.option && !path.startsWith('/dev/')) {
      throw new BadInput([`--${format.option}: found ${file}, which --${before} writes, expected another file`])
    }
    seen.set(path, format.option)
  }
}

/** A drawing; where it cannot be made with the options given, BadInput says why. */
function drawn(given: Given, draw: () => Template): Template {
  try {
    return draw()
  } catch (error) {
    if (error instanceof OffsetError) {
      throw new BadInput([`--kerf: found ${given.text('kerf')}, expected less: ${error.message}`])
    }
    if (error instanceof MergeError) throw new BadInput([`${given.operands[0]}: ${error.message}, expected them apart`])
    throw error
  }
}
