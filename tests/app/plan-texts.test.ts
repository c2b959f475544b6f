/** No text of the plan lies on another where there is room beside it. */
import { describe, expect, it } from 'vitest'
import { type Box, boxOfLabel, labelOf } from '../../src/store/item-label.ts'
import {
  captionBox,
  gapBoxes,
  gapText,
  holdBoxes,
  holdMarks,
  meetArea,
  nameTexts,
  numberSpots,
  outlineTexts,
} from '../../src/store/plan-texts.ts'
import { part, placed, problemOf, project } from '../electric/kit.ts'

/** mm for a pixel. */
const scale = 0.5
const wide = (letters: number): number => 14 + (letters > 0 ? 4 + 5.2 * letters : 0)
const level = (y: number) => [
  { x: 10_000, y },
  { x: 110_000, y },
]
const tag = ({ x, y }: { x: number; y: number }, w: number): Box => ({
  x: x - 7 * scale,
  y: y - 7 * scale,
  w: w * scale,
  h: 14 * scale,
})

describe('numbers of wires', () => {
  it('stand in the middle of the longest piece, or beside what is written there', () => {
    const one = [{ points: level(40_000), wide: wide(4) }]
    expect(numberSpots(one, [], [], scale)).toEqual([{ x: 60, y: 40 }])
    const badge: Box = { x: 55, y: 35, w: 12, h: 10 }
    for (const [figures, names] of [
      [[badge], []],
      [[], [badge]],
    ] as const) {
      const [spot] = numberSpots(one, figures, names, scale)
      expect(meetArea(tag(spot!, wide(4)), badge)).toBe(0)
      expect(spot!.y).toBe(40)
    }
  })

  it('keep clear of one another, and rather hide a name than a figure', () => {
    const two = [level(40_000), level(41_000)].map((points) => ({ points, wide: wide(3) }))
    const [a, b] = numberSpots(two, [], [], scale)
    expect(meetArea(tag(a!, wide(3)), tag(b!, wide(3)))).toBe(0)
    // a name over the left half, figures over the right one
    const [left, right] = [
      { x: 0, y: 30, w: 65, h: 20 },
      { x: 65, y: 30, w: 60, h: 20 },
    ]
    const [spot] = numberSpots([two[0]!], [right!], [left!], scale)
    expect(meetArea(tag(spot!, wide(3)), right!)).toBe(0)
  })
})

describe('names', () => {
  const p = problemOf(project({ items: [{ id: 'wall', footprint: 'wall' }], footprints: [part('wall', 50, 20)] }))
  const at = placed(p, { wall: [10, 10] })

  it('make way for distances and for what a hold costs, and are left away where they cannot', () => {
    const middle = boxOfLabel(labelOf('wall', { x: 10, y: 10, w: 50, h: 20 }, [], scale)!, scale)
    expect(nameTexts(p, at, 0, scale, []).map((n) => n.box)).toEqual([middle])
    const [moved] = nameTexts(p, at, 0, scale, [middle])
    expect(meetArea(moved!.box, middle)).toBe(0)
    expect(nameTexts(p, at, 0, scale, [{ x: 10, y: 10, w: 50, h: 20 }])).toEqual([])
  })

  it('know where a mark is and what stands beside it, to the side where there is more of the deck', () => {
    const costs = new Map([['wall', 'Held here: nothing fits.']])
    const [mark] = holdMarks(p, at, 0, ['wall'], scale, 100_000, 'wall', costs)
    expect(mark).toMatchObject({ x: 57, y: 27, said: { anchor: 'start' } })
    const [disc, said] = holdBoxes([mark!], scale)
    expect(disc).toEqual({ x: 52, y: 22, w: 10, h: 10 })
    expect(said!.x).toBeGreaterThan(mark!.x)
    const [other] = holdMarks(p, at, 0, ['wall'], scale, 20_000, 'wall', costs)
    expect(holdBoxes([other!], scale)[1]!.x).toBeLessThan(mark!.x)
    // where that side has no room in what is seen, to the other, and under the mark where none has: all of it is seen
    const within = (from: number, to: number) => {
      const [one] = holdMarks(p, at, 0, ['wall'], scale, 100_000, 'wall', costs, { from, to })
      const box = holdBoxes([one!], scale)[1]!
      expect([box.x >= from, box.x + box.w <= to]).toEqual([true, true])
      return one!.said!.anchor
    }
    expect([within(0, 200), within(-60, 70), within(0, 90), within(20, 110)]).toEqual([
      'start',
      'end',
      'middle',
      'middle',
    ])
    // said only of what is in hand
    expect(holdBoxes(holdMarks(p, at, 0, ['wall'], scale, 20_000, undefined, costs), scale)).toHaveLength(1)
  })

  it('know where a distance is written: over the middle of its line', () => {
    const distance = { side: 'left', item: 0, gap: 12_660, from: { x: 0, y: 20_000 }, to: { x: 20_000, y: 20_000 } }
    const [box] = gapBoxes([distance as Parameters<typeof gapBoxes>[0][number]], scale)
    const text = gapText(distance as Parameters<typeof gapText>[0], scale)
    expect(text).toMatchObject({ text: '12.66', x: 10 })
    expect([box!.x + box!.w / 2, box!.y > 20]).toEqual([10, true])
  })
})

describe('names of outlines', () => {
  const box: Box = { x: 10, y: 10, w: 50, h: 20 }
  const boxesOf = (outlines: Parameters<typeof outlineTexts>[0], taken: readonly Box[]): Box[] =>
    outlineTexts(outlines, taken, scale).map(({ label }) => boxOfLabel(label, scale))

  it('stand in the middle, or clear of what is written there, and of one another', () => {
    const [alone] = boxesOf([{ name: 'sensor', box }], [])
    expect(alone!.x + alone!.w / 2).toBe(35)
    const body: Box = { x: 30, y: 12, w: 30, h: 16 }
    const two = boxesOf(
      [
        { name: 'sensor', box },
        { name: 'sensor-two', box },
      ],
      [body],
    )
    expect(two.map((b) => meetArea(b, body))).toEqual([0, 0])
    expect(meetArea(two[0]!, two[1]!)).toBe(0)
  })

  it('stand beside an outline that has no room, and are never left away', () => {
    const [beside] = boxesOf([{ name: 'sensor', box }], [box])
    expect(meetArea(beside!, box)).toBe(0)
    expect(beside!.y).toBeGreaterThan(box.y + box.h)
    // not on the caption of the deck whose front edge it stands at
    const caption = captionBox('upper deck, front', { x: 0, y: 0, w: 100, h: 30 }, scale)
    const [low] = boxesOf([{ name: 'sensor', box }], [box, caption])
    expect(meetArea(low!, caption)).toBe(0)
    expect(low!.y + low!.h).toBeLessThan(box.y)
    expect(boxesOf([{ name: 'sensor', box }], [{ x: -500, y: -500, w: 1000, h: 1000 }])).toHaveLength(1)
  })
})
