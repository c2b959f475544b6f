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
import { BadInput } from './bad-input.ts'

/** What is drawn into one file: a deck by its index, or all of them on one sheet. */
export interface Target {
  readonly deck: number | 'all'
  readonly file: string
}

/** One file for each deck that is asked for. Throws BadInput for a deck that is not there, or where two would get one name. */
export function targetsOf(
  problem: Problem,
  option: string,
  file: string,
  only: string | undefined,
  together: boolean,
): Target[] {
  if (together) return [{ deck: 'all', file }]
  const ids = problem.decks.map((d) => d.id)
  if (only !== undefined) {
    const deck = ids.indexOf(only)
    if (deck < 0) throw new BadInput([`--deck: found ${snippet(only)}, expected ${oneOf(ids, only)}`])
    return [{ deck, file }]
  }
  if (ids.length === 1) return [{ deck: 0, file }]
  if (file === '-')
    throw new BadInput([
      `--${option}: found -, expected a file, or one deck of ${ids.join(', ')} with --deck, or --sheet`,
    ])
  const dot = /[^/\\](\.[^./\\]*)$/.exec(file)
  const ending = dot ? dot[1]! : ''
  const stem = ending === '' ? file : file.slice(0, -ending.length)
  const targets = ids.map((id, deck) => ({ deck, file: `${stem}-${id.replace(/[^\p{L}\p{N}._ -]/gu, '_')}${ending}` }))
  if (new Set(targets.map((t) => t.file.toLowerCase())).size < targets.length) {
    throw new BadInput([
      `--${option}: the decks ${ids.join(', ')} would get the same file name, expected --deck for each`,
    ])
  }
  return targets
}

/** `cut=#ff0000,0.1` → a pen. The width may be left away. */
export function pensOf(texts: readonly string[]): Partial<Record<GroupId, Pen>> {
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

/** `4` or `4,1.5` → tabs; nothing where none are asked for. */
export function tabsOf(text: string | undefined): NonNullable<TemplateOptions['tabs']> | undefined {
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
export function versionOf(text: string | undefined, wanted: boolean): DxfVersion {
  if (text === undefined) return 'r2000'
  const version = dxfVersions.find((v) => v === text.toLowerCase())
  if (!version) throw new BadInput([`--dxf-version: found ${snippet(text)}, expected ${oneOf(dxfVersions, text)}`])
  if (!wanted) throw new BadInput([`--dxf-version: found without --dxf, expected --dxf F beside it`])
  return version
}
