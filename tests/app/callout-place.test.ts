/** The note on what is carried covers none of it, wherever it hangs. */
import { expect, it } from 'vitest'
import { besideBody, NOTE, type Pixels } from '../../src/store/callout-place.ts'

const over = (a: Pixels, b: Pixels): boolean => a.x < b.x + b.w && b.x < a.x + a.w && a.y < b.y + b.h && b.y < a.y + a.h
const noteOf = (body: Pixels, room: { w: number; h: number }): Pixels => {
  const { x, y, above } = besideBody(body, room)
  return { x, y: above ? y - NOTE.h : y, ...NOTE }
}

it('stands beside the body at every place, and in the picture wherever that has room', () => {
  const room = { w: 560, h: 400 }
  for (const size of [
    { w: 30, h: 20 },
    { w: 260, h: 150 },
    { w: 90, h: 380 },
  ])
    for (let x = -40; x < room.w; x += 35)
      for (let y = -40; y < room.h; y += 35) {
        const body = { x, y, ...size }
        const note = noteOf(body, room)
        expect(over(note, body), `${JSON.stringify(body)} ${JSON.stringify(note)}`).toBe(false)
        const space =
          room.h - (y + size.h) >= NOTE.h + 10 ||
          y >= NOTE.h + 10 ||
          room.w - (x + size.w) >= NOTE.w + 10 ||
          x >= NOTE.w + 10
        if (space)
          expect(
            note.x >= 0 && note.y >= 0 && note.x + note.w <= room.w && note.y + note.h <= room.h,
            `${JSON.stringify(body)} ${JSON.stringify(note)}`,
          ).toBe(true)
      }
})

it('stays at the left of a picture narrower than itself, under the body', () => {
  expect(besideBody({ x: 20, y: 10, w: 90, h: 150 }, { w: 180, h: 170 })).toEqual({ x: 0, y: 170, above: false })
})
