/** Names stand inside their bodies and clear of what is plugged in: what anybody who draws plans does, no source. */
import { expect, it } from 'vitest'
import { type Box, type Label, labelOf } from '../../src/store/item-label.ts'
import fc from '../seeded.ts'

const body = (w: number, h: number): Box => ({ x: 10, y: 20, w, h })

/** A letter of the page's type is at most so wide, in sizes. */
function roomOf({ lines, size, upright, x, y }: Label, scale: number): Box {
  const along = Math.max(...lines.map((l) => l.length)) * size * 0.56 * scale
  const across = lines.length * size * 1.1 * scale
  const [w, h] = upright ? [across, along] : [along, across]
  return { x: x - w / 2, y: y - h / 2, w, h }
}

it('is one line in the middle where there is room', () => {
  expect(labelOf('controller', body(70, 50), [], 0.4)).toEqual({
    lines: ['controller'],
    x: 45,
    y: 45,
    upright: false,
    size: 11,
  })
})

it('is broken at its signs, smaller, or upright, before it is left away', () => {
  expect(labelOf('head-micro-drop-in', body(40, 20), [], 0.4)?.lines).toEqual(['head-micro-', 'drop-in'])
  expect(labelOf('battery', body(12, 60), [], 0.4)).toMatchObject({ upright: true, lines: ['battery'] })
  expect(labelOf('driver-2x6', body(15, 12.6), [], 0.39)).toMatchObject({ lines: ['driver-', '2x6'], size: 9.5 })
  expect(labelOf('ultrasonic', body(5, 5), [], 0.4)).toBeUndefined()
})

it('makes way for what is plugged into the middle', () => {
  const board = body(47, 35)
  const guest: Box = { x: 25, y: 30, w: 16, h: 13 }
  const label = labelOf('breadboard-170 1', board, [guest], 0.4)!
  const room = roomOf(label, 0.4)
  expect(room.y >= guest.y + guest.h || room.y + room.h <= guest.y || room.x >= guest.x + guest.w).toBe(true)
})

it('never stands out of its body or on a guest', () => {
  const some = fc.integer({ min: 2, max: 120 })
  fc.assert(
    fc.property(
      some,
      some,
      fc.stringMatching(/^[a-z]{1,9}([- ][a-z0-9]{1,6}){0,3}$/),
      fc.double({ min: 0.1, max: 1, noNaN: true }),
      some,
      (w, h, name, scale, g) => {
        const board = body(w, h)
        const guest: Box = { x: 10 + g / 4, y: 20 + g / 5, w: w / 3, h: h / 3 }
        const label = labelOf(name, board, [guest], scale)
        if (!label) return
        expect(label.lines.join('').replace(/ /g, '')).toBe(name.replace(/ /g, ''))
        const room = roomOf(label, scale)
        expect(room.x).toBeGreaterThanOrEqual(board.x - 1e-9)
        expect(room.x + room.w).toBeLessThanOrEqual(board.x + w + 1e-9)
        expect(room.y).toBeGreaterThanOrEqual(board.y - 1e-9)
        expect(room.y + room.h).toBeLessThanOrEqual(board.y + h + 1e-9)
        const apart =
          room.x >= guest.x + guest.w - 1e-9 ||
          room.x + room.w <= guest.x + 1e-9 ||
          room.y >= guest.y + guest.h - 1e-9 ||
          room.y + room.h <= guest.y + 1e-9
        expect(apart).toBe(true)
      },
    ),
  )
})
