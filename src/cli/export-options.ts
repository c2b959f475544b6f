/** The options of `export` that are more than a switch or a number. */
import { oneOf, snippet } from '../../footprints/problems.ts'
import { mm, type Problem } from '../../solver/index.ts'
import {
  type DxfVersion,
  dxfVersions,
  type GroupId,
  groupIds,
  type Pen,
  pens,
  TAB_WIDTH,
  type TemplateOptions,
} from '../export/index.ts'
import type { PaperName } from '../export/pdf.ts'
import { type PdfPart, pdfParts } from '../export/pdf-parts.ts'
import type { Given } from './args.ts'
import { BadInput, one, together } from './bad-input.ts'

/** All that the options of `export` ask for. */
export interface Asked {
  readonly deck: string | undefined
  readonly sheet: boolean
  readonly options: TemplateOptions
  readonly pens: Partial<Record<GroupId, Pen>>
  readonly version: DxfVersion
  readonly paper: PaperName
  readonly parts: readonly PdfPart[] | undefined
}

type Each = Readonly<Record<string, { readonly each: 'sheet' | 'deck' | 'robot' }>>

/** Options that mean something to these files alone. */
const ONLY: Readonly<Record<string, readonly string[]>> = {
  deck: ['svg', 'dxf', 'pdf', 'drill', 'png'],
  sheet: ['svg', 'dxf'],
  kerf: ['svg', 'dxf'],
  'as-made': ['svg', 'dxf', 'pdf'],
  'laser-holes': ['svg', 'dxf'],
  'marks-as-paths': ['svg', 'dxf'],
  tabs: ['svg', 'dxf'],
  stroke: ['svg'],
  'dxf-version': ['dxf'],
  paper: ['pdf'],
  'pdf-parts': ['pdf'],
  with: ['wires', 'pdf'],
}

/** What the options ask for. Throws BadInput with everything that is wrong with them. */
export function askedOf(given: Given, writers: Each): Asked {
  const [kerf, pens, tabs, version, paper, parts] = together(
    () => given.number('kerf', 'a width in mm', 0, 10),
    () => pensOf(given.texts('stroke')),
    () => tabsOf(given.text('tabs')),
    () => versionOf(given.text('dxf-version')),
    () => paperOf(given.text('paper')),
    () => partsOf(given.text('pdf-parts')),
    () => {
      if (given.has('sheet') && given.has('deck')) {
        throw new BadInput(['--sheet: found together with --deck, expected one of them'])
      }
    },
    () => {
      if (filesOf(given, writers).filter((f) => f.file === '-').length > 1) {
        throw new BadInput(['found - twice, expected it once: there is one standard output'])
      }
    },
    () => refuseAlone(given, Object.keys(writers)),
  )
  return {
    deck: given.text('deck'),
    sheet: given.has('sheet'),
    pens,
    version,
    paper,
    parts,
    options: {
      kerf: mm(kerf ?? 0),
      asMade: given.has('as-made'),
      laserHoles: given.has('laser-holes'),
      marksAsPaths: given.has('marks-as-paths'),
      ...(tabs ? { tabs } : {}),
    },
  }
}

/** Files by the option that asks for them, in the order of the writers. */
export const filesOf = (given: Given, writers: Each): { readonly option: string; readonly file: string }[] =>
  Object.keys(writers).flatMap((option) => {
    const file = given.text(option)
    return file === undefined ? [] : [{ option, file }]
  })

/** Throws BadInput where no file is asked for, or an option stands without a file that heeds it. */
function refuseAlone(given: Given, writers: readonly string[]): void {
  if (!writers.some((w) => given.has(w))) {
    const names = writers.map((w) => `--${w} F`)
    throw new BadInput([
      `--svg: found nothing, expected at least one of ${names.join(', ')}`,
      'usage: deckwright export FILE LAYOUT --svg F …; deckwright export --help says more',
    ])
  }
  const lines = Object.entries(ONLY).flatMap(([option, files]) => {
    if (!given.has(option) || files.some((f) => given.has(f))) return []
    const names = files.map((f) => `--${f} F`)
    const last = names.pop()!
    const wanted = names.length === 0 ? last : `${names.join(', ')} or ${last}`
    return [`--${option}: found without ${wanted}, expected it beside`]
  })
  if (lines.length > 0) throw new BadInput(lines)
}

/** One file to write: a deck by its index, or what shows all of them. */
export interface Target {
  readonly option: string
  readonly deck: number | 'all'
  readonly file: string
}

/** The files, one for each deck where the writer makes one a deck. Throws BadInput with all that is wrong with their names. */
export function targetsOf(problem: Problem, given: Given, writers: Each): Target[] {
  const ids = problem.decks.map((d) => d.id)
  const deck = given.text('deck')
  const only = deck === undefined ? undefined : ids.indexOf(one(ids, deck, '--deck'))
  const lists = together(
    ...filesOf(given, writers).map(({ option, file }) => (): Target[] => {
      const { each } = writers[option]!
      if (each === 'robot' || (each === 'sheet' && given.has('sheet'))) return [{ option, deck: 'all', file }]
      if (only !== undefined) return [{ option, deck: only, file }]
      return eachDeck(ids, option, file, each === 'sheet')
    }),
  )
  return lists.flat()
}

function eachDeck(ids: readonly string[], option: string, file: string, sheet: boolean): Target[] {
  if (ids.length === 1) return [{ option, deck: 0, file }]
  if (file === '-')
    throw new BadInput([
      `--${option}: found -, expected a file, or one deck of ${ids.join(', ')} with --deck${sheet ? ', or --sheet' : ''}`,
    ])
  if (/[/\\]$/.test(file))
    throw new BadInput([`--${option}: found ${snippet(file)}, which is a folder, expected the name of a file`])
  const dot = /[^/\\](\.[^./\\]*)$/.exec(file)
  const ending = dot ? dot[1]! : ''
  const stem = ending === '' ? file : file.slice(0, -ending.length)
  const targets = ids.map((id, deck) => ({
    option,
    deck,
    file: `${stem}-${id.replace(/[^\p{L}\p{N}._ -]/gu, '_')}${ending}`,
  }))
  const names = targets.map((t) => t.file.toLowerCase())
  const twice = names.find((name, k) => names.indexOf(name) < k)
  if (twice !== undefined) {
    const named = ids.filter((_, deck) => names[deck] === twice)
    throw new BadInput([
      `--${option}: the decks ${named.join(', ')} would get the same file name, expected --deck for each`,
    ])
  }
  return targets
}

/** The colour words of CSS 2.1 (W3C, 4.3.6), and two that workshops use; a word that no reader knows draws nothing. */
const COLOURS =
  'aqua black blue cyan fuchsia gray green lime magenta maroon navy olive orange purple red silver teal white yellow'.split(
    ' ',
  )

/** `cut=#ff0000,0.1` → a pen. The width may be left away. */
function pensOf(texts: readonly string[]): Partial<Record<GroupId, Pen>> {
  const settings: Partial<Record<GroupId, Pen>> = {}
  for (const text of texts) {
    const parts = /^([\w-]+)=(#[0-9a-fA-F]{3}|#[0-9a-fA-F]{6}|[A-Za-z]+)(?:,(\d+\.?\d*|\.\d+))?$/.exec(text)
    const group = groupIds.find((g) => g === parts?.[1])
    const width = parts?.[3] === undefined ? undefined : Number(parts[3])
    const colour = parts?.[2]
    const known = colour?.startsWith('#') || COLOURS.includes(colour?.toLowerCase() ?? '')
    if (!colour || !known || !group || (width !== undefined && !(width > 0 && width <= 5))) {
      throw new BadInput([
        `--stroke: found ${snippet(text)}, expected GROUP=COLOUR or GROUP=COLOUR,WIDTH like cut=#ff0000,0.1, GROUP ${oneOf(groupIds, parts?.[1])}, COLOUR as #rrggbb or #rgb or one of ${COLOURS.join(', ')}, WIDTH above 0 to 5 mm`,
      ])
    }
    if (settings[group]) throw new BadInput([`--stroke: found ${snippet(group)} twice, expected each group once`])
    settings[group] = { colour, width: width ?? pens[group].width }
  }
  return settings
}

/** `4` or `4,1.5` → tabs; nothing where none are asked for. */
function tabsOf(text: string | undefined): NonNullable<TemplateOptions['tabs']> | undefined {
  if (text === undefined) return undefined
  const parts = /^(\d{1,2})(?:,(\d+\.?\d*|\.\d+))?$/.exec(text)
  const count = Number(parts?.[1])
  const width = parts?.[2] === undefined ? TAB_WIDTH : Number(parts[2])
  if (!parts || !(count >= 1 && count <= 20) || !(width >= 0.1 && width <= 10)) {
    throw new BadInput([
      `--tabs: found ${snippet(text)}, expected N or N,WIDTH like 4,1.5, N from 1 to 20, WIDTH from 0.1 to 10 mm`,
    ])
  }
  return { count, width: mm(width) }
}

/** `r12` or `r2000`, whichever way it is written. */
function versionOf(text: string | undefined): DxfVersion {
  if (text === undefined) return 'r2000'
  const version = dxfVersions.find((v) => v === text.toLowerCase())
  if (!version) throw new BadInput([`--dxf-version: found ${snippet(text)}, expected ${oneOf(dxfVersions, text)}`])
  return version
}

const PAPERS = { a4: 'A4', letter: 'Letter' } as const satisfies Readonly<Record<string, PaperName>>

function paperOf(text: string | undefined): PaperName {
  const name = (text ?? 'a4').toLowerCase()
  if (name === 'a4' || name === 'letter') return PAPERS[name]
  throw new BadInput([`--paper: found ${snippet(text)}, expected ${oneOf(Object.keys(PAPERS), name)}`])
}

/** `template,assembly` → both; undefined, which means all, where nothing is said. */
function partsOf(text: string | undefined): PdfPart[] | undefined {
  if (text === undefined) return undefined
  const names = text.split(',').map((t) => t.trim())
  const unknown = names.filter((n) => !pdfParts.some((p) => p === n))
  if (unknown.length > 0) {
    throw new BadInput(unknown.map((n) => `--pdf-parts: found ${snippet(n)}, expected ${oneOf(pdfParts, n)}`))
  }
  return pdfParts.filter((p) => names.includes(p))
}
