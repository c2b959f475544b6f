/**
 * A DXF file's text as what it is made of: pairs of a group code and a value, gathered into entities. Our own reader instead of
 * a package's, because a package we tried knows no line numbers, takes half a number for a number, leaves out spline weights,
 * and drops what it does not know without a word.
 */
import { clip, snippet } from '../../footprints/problems.ts'
import { Refused } from './contours.ts'
import { dxf } from './words-drawings.ts'

export interface Group {
  readonly code: number
  readonly value: string
  readonly line: number
}

/** One thing that begins with group code 0, and its groups. */
export interface Entity {
  readonly type: string
  readonly line: number
  readonly groups: readonly Group[]
}

/** The pairs of a text. Throws Refused, with the line, where there is no pair. */
export function* groupsOf(text: string): Generator<Group> {
  let at = 0
  let line = 0
  const next = (): string | undefined => {
    if (at >= text.length) return undefined
    const end = text.indexOf('\n', at)
    const part = text.slice(at, end < 0 ? text.length : end)
    at = end < 0 ? text.length : end + 1
    line += 1
    return part
  }
  for (;;) {
    const code = next()
    if (code === undefined) return
    if (code.trim() === '' && text.slice(at).trim() === '') return
    if (!/^\s*-?\d{1,4}\s*$/.test(code)) {
      throw new Refused(snippet(code.trim()), dxf.groupCode, line)
    }
    const value = next()
    if (value === undefined) throw new Refused(dxf.fileEnd, dxf.valueFor(code.trim()), line)
    yield { code: Number(code), value, line }
  }
}

export interface DxfFile {
  /** Header variables, each with its groups. */
  readonly header: ReadonlyMap<string, readonly Group[]>
  readonly layers: readonly Entity[]
  /** Blocks by name, in capitals. */
  readonly blocks: ReadonlyMap<string, Block>
  readonly entities: readonly Entity[]
}

export interface Block {
  readonly name: string
  readonly head: Entity
  readonly entities: readonly Entity[]
}

/** Sections, and in them entities. Throws Refused where the file's frame is broken. */
export function dxfFile(text: string): DxfFile {
  const header = new Map<string, Group[]>()
  const layers: Entity[] = []
  const blocks = new Map<string, Block>()
  const entities: Entity[] = []
  let section: string | undefined
  let naming = false
  let variable: Group[] = []
  let ended = false
  let open: { type: string; line: number; groups: Group[] } | undefined
  let block: { name: string; head: Entity; entities: Entity[] } | undefined

  const put = (): undefined => {
    if (!open) return
    const whole = open
    open = undefined
    if (section === 'TABLES' && whole.type === 'LAYER') layers.push(whole)
    if (section === 'ENTITIES') entities.push(whole)
    if (section !== 'BLOCKS') return
    if (whole.type === 'BLOCK') {
      if (block) throw new Refused('BLOCK', dxf.endBlockFirst(clip(block.name, 60)), whole.line)
      block = { name: text2(whole, 2) ?? '', head: whole, entities: [] }
    } else if (whole.type === 'ENDBLK') {
      if (block) blocks.set(block.name.toUpperCase(), block)
      block = undefined
    } else block?.entities.push(whole)
  }

  for (const group of groupsOf(text)) {
    if (ended) throw new Refused(snippet(group.value), dxf.noMore, group.line)
    const { code, line } = group
    const value = group.value.trim()
    if (code === 0) {
      put()
      naming = false
      if (value === 'EOF') {
        if (section !== undefined) throw new Refused(dxf.endInside(section), dxf.endSectionFirst, line)
        ended = true
      } else if (value === 'SECTION') {
        if (section !== undefined) throw new Refused(dxf.sectionInside(section), dxf.endSectionFirst, line)
        section = ''
        naming = true
      } else if (value === 'ENDSEC') {
        if (section === undefined) throw new Refused('ENDSEC', dxf.sectionFirst, line)
        if (block) throw new Refused('ENDSEC', dxf.endBlockFirst(clip(block.name, 60)), line)
        section = undefined
      } else if (section === undefined) {
        throw new Refused(snippet(value), dxf.sectionOrEnd, line)
      } else if (/^[\w$*-]{1,64}$/.test(value)) {
        open = { type: value.toUpperCase(), line, groups: [] }
      } else throw new Refused(snippet(value), dxf.entityName, line)
    } else if (naming && code === 2) {
      section = value.toUpperCase()
      naming = false
    } else if (section === 'HEADER' && code === 9) {
      variable = []
      header.set(value.toUpperCase(), variable)
    } else if (section === 'HEADER') variable.push(group)
    else if (open) open.groups.push(group)
    else if (section === undefined && code !== 999) {
      throw new Refused(dxf.codeFound(code), dxf.sections, line)
    }
  }
  if (!ended) throw new Refused(dxf.fileEnd, dxf.cutShort)
  return { header, layers, blocks, entities }
}

const text2 = (e: Entity, code: number): string | undefined => e.groups.find((g) => g.code === code)?.value.trim()

/** Text of the first group with this code. */
export const textOf = text2

/** Number of one group. Throws Refused where it is none. */
export function numberOf(group: Group, type: string): number {
  const text = group.value.trim()
  const value = /^[+-]?(\d+\.?\d*|\.\d+)([eEdD][+-]?\d+)?$/.test(text) ? Number(text.replace(/d/i, 'e')) : Number.NaN
  if (Number.isFinite(value)) return value
  throw new Refused(snippet(text), dxf.numberFor(group.code, type), group.line)
}

/** Number of the first group with this code, or `otherwise`. Throws Refused for what is no number. */
export function first(e: Entity, code: number, otherwise: number): number {
  const group = e.groups.find((g) => g.code === code)
  return group ? numberOf(group, e.type) : otherwise
}

/** Number that must be there. Throws Refused. */
export function need(e: Entity, code: number): number {
  const group = e.groups.find((g) => g.code === code)
  if (!group) throw new Refused(dxf.without(e.type, code), dxf.allNumbers, e.line)
  return numberOf(group, e.type)
}

/** All numbers with this code, in their order. */
export const all = (e: Entity, code: number): number[] =>
  e.groups.filter((g) => g.code === code).map((g) => numberOf(g, e.type))
