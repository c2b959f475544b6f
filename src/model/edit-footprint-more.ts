/** Describing a part further: the outline of a room for hands and plugs in another form, and which blocks of contacts are one conductor. */
import { type ShapeFile, shapeToSolver } from '../../footprints/fields.ts'
import type { FootprintFile } from '../../footprints/schema.ts'
import { bounds, mm, prepare, toMm } from '../../solver/index.ts'

export const FORMS = ['rect', 'circle', 'sector', 'polygon'] as const
export type Form = (typeof FORMS)[number]

export const formOf = (shape: ShapeFile): Form => FORMS.find((f) => f in shape) ?? 'rect'

const round = (value: number): number => toMm(mm(value))

/** The same place in another form: what the old one's box holds; a sector looks to the front from the middle of its near side. */
export function shapeAs(shape: ShapeFile, form: Form): ShapeFile {
  if (form === formOf(shape)) return shape
  const box = bounds(prepare(shapeToSolver(shape)))
  const [x, y, w, h] = [toMm(box.x), toMm(box.y), toMm(box.w), toMm(box.h)]
  switch (form) {
    case 'rect':
      return { rect: [x, y, w, h] }
    case 'circle':
      return { circle: [round(x + w / 2), round(y + h / 2), round(Math.min(w, h) / 2)] }
    case 'sector':
      return { sector: [round(x + w / 2), y, h, 45, 135] }
    case 'polygon':
      return {
        polygon: [
          [x, y],
          [round(x + w), y],
          [round(x + w), round(y + h)],
          [x, round(y + h)],
        ],
      }
  }
}

type Joined = readonly (readonly number[])[]

/** `3 and 4; 5 and 6`: blocks counted from 1, as people do. */
export const joinedText = (joined: Joined | undefined): string =>
  (joined ?? []).map((group) => group.map((b) => b + 1).join(' and ')).join('; ')

/** The groups that were typed; undefined where they are none, or name a block that is not there or one twice. */
export function readJoined(typed: string, blocks: number): number[][] | undefined {
  const groups = typed
    .split(/[;\n]/)
    .map((g) => g.trim())
    .filter((g) => g !== '')
    .map((g) => g.split(/\s*(?:,|\+|&|\band\b|\s)\s*/).filter((b) => b !== ''))
  const numbers = groups.map((g) => g.map((b) => (/^\d+$/.test(b) ? Number(b) - 1 : -1)))
  const all = numbers.flat()
  const sound = all.every((b) => b >= 0 && b < blocks) && new Set(all).size === all.length
  return sound && numbers.every((g) => g.length > 1) ? numbers : undefined
}

/** The contacts without one block: the others count on, and keep what they are joined with. */
export function withoutBlock(
  contacts: NonNullable<FootprintFile['breadboard']>,
  index: number,
): NonNullable<FootprintFile['breadboard']> {
  const { joined, ...rest } = contacts
  const blocks = contacts.blocks.filter((_, k) => k !== index)
  const left = (joined ?? [])
    .map((group) => group.filter((b) => b !== index).map((b) => (b > index ? b - 1 : b)))
    .filter((group) => group.length > 1)
  return { ...rest, blocks, ...(left.length > 0 ? { joined: left } : {}) }
}
