import { oneOf, snippet } from '../../footprints/problems.ts'
import { mm, type Problem } from '../../solver/index.ts'
import { type GroupId, groupIds, OffsetError, type Pen, pens, svg, template } from '../export/index.ts'
import { type Form, readArgs } from './args.ts'
import { BadInput, together } from './bad-input.ts'
import { laidOut } from './input.ts'
import { type Io, warner } from './io.ts'
import { checkWritable, writeWhole } from './output.ts'

export const form: Form = {
  command: 'export',
  about:
    'Writes the template of a legal layout as SVG, one file a deck. Exit code 0: written; 1: the layout breaks a rule, and\nnothing is written; 2: bad input.',
  operands: ['FILE', 'LAYOUT'],
  options: {
    svg: {
      value: 'F',
      required: true,
      about: 'the file to write, - for standard output; with several decks, -<deck> is put before its ending',
    },
    deck: { value: 'ID', about: 'only this deck, to exactly that file' },
    kerf: {
      value: 'MM',
      about: 'full width of the cut, 0 to 10; outline moves out by half of it, all else in; default 0',
    },
    'as-made': { about: 'the plate exists: only new holes, slots and cut-outs are to be made' },
    stroke: {
      value: 'GROUP=COLOUR,WIDTH',
      many: true,
      about: `another colour and width in mm for a group: ${groupIds.join(', ')}`,
    },
  },
}

/** `export FILE LAYOUT --svg F`: 0 written, 1 the layout is not legal. */
export async function run(args: readonly string[], io: Io): Promise<number> {
  const given = readArgs(form, args)
  const file = given.text('svg')!
  const [width, settings] = together(
    () => given.number('kerf', 'a width in mm', 0, 10),
    () => pensOf(given.texts('stroke')),
  )
  const kerf = mm(width ?? 0)
  const { problem, placements, findings } = laidOut(given.operands[0]!, given.operands[1]!, warner(io, false), (w) =>
    io.err(`warning: ${w}`),
  )
  const targets = targetsOf(problem, file, given.text('deck'))
  const toScreen = file === '-'
  if (!toScreen) for (const t of targets) checkWritable('--svg', t.file, given.operands)
  if (findings.length > 0) {
    io.err('The layout breaks rules, so nothing is written:')
    for (const f of findings) io.err(`  ${f.text} (${f.rule}: ${f.items.join(', ')})`)
    return 1
  }
  const files = targets.map((t) => {
    try {
      const drawing = template(problem, placements, t.deck, { kerf, asMade: given.has('as-made') })
      return { file: t.file, text: svg(drawing, settings) }
    } catch (error) {
      if (!(error instanceof OffsetError)) throw error
      throw new BadInput([`--kerf: found ${given.text('kerf')}, expected less: ${error.message}`])
    }
  })
  if (toScreen) io.out(files[0]!.text)
  else writeWhole(files)
  return 0
}

/** One file for each deck that is asked for. Throws BadInput for a deck that is not there, or where two would get one name. */
function targetsOf(problem: Problem, file: string, only: string | undefined): { deck: number; file: string }[] {
  const ids = problem.decks.map((d) => d.id)
  if (only !== undefined) {
    const deck = ids.indexOf(only)
    if (deck < 0) throw new BadInput([`--deck: found ${snippet(only)}, expected ${oneOf(ids, only)}`])
    return [{ deck, file }]
  }
  if (ids.length === 1) return [{ deck: 0, file }]
  if (file === '-')
    throw new BadInput([`--svg: found -, expected a file, or one deck of ${ids.join(', ')} with --deck`])
  const dot = /[^/\\](\.[^./\\]*)$/.exec(file)
  const ending = dot ? dot[1]! : ''
  const stem = ending === '' ? file : file.slice(0, -ending.length)
  const targets = ids.map((id, deck) => ({ deck, file: `${stem}-${id.replace(/[^\p{L}\p{N}._ -]/gu, '_')}${ending}` }))
  if (new Set(targets.map((t) => t.file.toLowerCase())).size < targets.length) {
    throw new BadInput([`--svg: the decks ${ids.join(', ')} would get the same file name, expected --deck for each`])
  }
  return targets
}

/** `cut=#ff0000,0.1` → a pen. The width may be left away. */
function pensOf(texts: readonly string[]): Partial<Record<GroupId, Pen>> {
  const settings: Partial<Record<GroupId, Pen>> = {}
  for (const text of texts) {
    const parts = /^([\w-]+)=(#[0-9a-fA-F]{3}|#[0-9a-fA-F]{6}|[A-Za-z]+)(?:,(\d+\.?\d*|\.\d+))?$/.exec(text)
    const group = groupIds.find((g) => g === parts?.[1])
    const width = parts?.[3] === undefined ? undefined : Number(parts[3])
    if (!parts || !group || (width !== undefined && !(width > 0 && width <= 5))) {
      throw new BadInput([
        `--stroke: found ${snippet(text)}, expected GROUP=COLOUR or GROUP=COLOUR,WIDTH like cut=#ff0000,0.1, GROUP ${oneOf(groupIds, parts?.[1])}, WIDTH above 0 to 5 mm`,
      ])
    }
    settings[group] = { colour: parts[2]!, width: width ?? pens[group].width }
  }
  return settings
}
