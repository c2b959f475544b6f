/**
 * Where names of leads, passes and zones stand on the workshop's plan: those of leads beside them, on whichever side there is room, and a zone's
 * in its middle, or as near to that as it is neither cut nor on another text, a lead or a hole. Millimetres, y to the front; `scale` is millimetres for one pixel.
 */
import { shapeToSolver } from '../../footprints/fields.ts'
import { partsOf } from '../model/edit-deck.ts'
import type { Project } from '../model/index.ts'
import { DRAWN } from './deck-worries.ts'
import type { Box } from './item-label.ts'
import { boxOf } from './outline.ts'
import { leastHiding } from './plan-texts.ts'

export interface DeckText {
  readonly part: 'zones' | 'exits' | 'passes'
  readonly id: string
  readonly x: number
  /** Of the foot of its letters. */
  readonly y: number
  readonly anchor: 'start' | 'middle' | 'end'
}

/** Pixels. */
export const SIZE = 11
/** Pixels for one letter, about. */
const LETTER = 6.4
/** The same where each pixel more covers a neighbour. */
const NARROW = 5.6
/** Pixels over and under the foot of the letters, with a little air. */
const [OVER, UNDER] = [9.5, 3.5]
/** Pixels from the foot to the middle of the letters. */
const FOOT = 4
/** Pixels by which a zone's name may leave its middle: at least, where the zone is less high, and at most. */
const ASIDE = [26, 200] as const
const STEP = 2

function boxOfText({ id, x, y, anchor }: DeckText, scale: number): Box {
  const w = id.length * NARROW * scale
  const before = { start: 0, middle: w / 2, end: w }[anchor]
  return { x: x - before, y: y - UNDER * scale, w, h: (OVER + UNDER) * scale }
}

/**
 * `right`: the plate's right edge, a lead that has no room before it is named on its left; `room`: between what a zone's name is not cut. Those
 * of zones come first, to be drawn under the others.
 */
export function deckTexts(
  project: Project,
  deck: string,
  scale: number,
  right: number,
  room: readonly [left: number, right: number],
): DeckText[] {
  const all = (['exits', 'passes'] as const).flatMap((part) =>
    partsOf(project, part, deck).map(({ id, at, diameter }) => ({ part, id, at, r: (diameter ?? DRAWN) / 2 })),
  )
  const holes = partsOf(project, 'holes', deck).map(({ at, diameter }) => ({ at, r: diameter / 2 }))
  const taken: Box[] = [...all, ...holes].map(({ at, r }) => ({ x: at[0] - r, y: at[1] - r, w: 2 * r, h: 2 * r }))
  const put = (texts: readonly [DeckText, ...DeckText[]]): DeckText => {
    const text = leastHiding(texts, (t) => boxOfText(t, scale), taken)
    taken.push(boxOfText(text, scale))
    return text
  }
  const leads = all.map(({ part, id, at, r }) => {
    const off = r + 6 * scale
    const wide = off + id.length * LETTER * scale
    const y = at[1] - FOOT * scale
    const onRight: DeckText = { part, id, x: at[0] + off, y, anchor: 'start' }
    const onLeft: DeckText = { part, id, x: at[0] - off, y, anchor: 'end' }
    if (at[0] + wide > right) return put([onLeft])
    return put(at[0] - wide < room[0] ? [onRight] : [onRight, onLeft])
  })
  const zones = partsOf(project, 'zones', deck).map(({ id, shape }) => {
    const box = boxOf(shapeToSolver(shape))
    const x = between((box.x + box.w / 2) / 1000, (id.length * NARROW * scale) / 2, room)
    const y = (box.y + box.h / 2) / 1000 - FOOT * scale
    const far = Math.floor(Math.min(Math.max(box.h / 2000 / scale, ASIDE[0]), ASIDE[1]) / STEP)
    const aside = Array.from({ length: far }, (_, k) => (k + 1) * STEP * scale).flatMap((by) => [y - by, y + by])
    const at = (foot: number): DeckText => ({ part: 'zones', id, x, y: foot, anchor: 'middle' })
    return put([at(y), ...aside.map(at)])
  })
  return [...zones, ...leads]
}

const between = (middle: number, half: number, [least, most]: readonly [number, number]): number =>
  2 * half > most - least ? middle : Math.min(Math.max(middle, least + half), most - half)
