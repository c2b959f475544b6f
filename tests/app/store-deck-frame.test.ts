/** What the workshop's plan shows: whatever can be taken there is on it. */
import { describe, expect, it } from 'vitest'
import type { Project } from '../../src/model/index.ts'
import { deckFrame } from '../../src/store/deck-frame.ts'

const frame = (deck: object, more: object = {}) => {
  const main = { id: 'main', z: 50, thickness: 3, outline: { rect: [10, 0, 100, 60] }, ...deck }
  return deckFrame({ decks: [main], items: [], ...more } as unknown as Project, 'main')
}
const plate = { x: 10, y: 0, w: 100, h: 60 }

describe('the plan in the workshop', () => {
  it('is as large as the plate where all is in it', () => {
    expect(frame({ holes: [{ id: 'h', at: [20, 20], diameter: 4 }] })).toEqual({ plate, all: plate })
  })

  it('reaches round what lies outside, or over the edge', () => {
    // A hole of 4 mm at 120 ends at 122, so 112 mm from 10; a round opening about 20, 60 of 10 mm ends at 70.
    const holes = [{ id: 'h', at: [120, 20], diameter: 4 }]
    const openings = [{ id: 'o', shape: { circle: [20, 60, 10] } }]
    expect(frame({ holes, openings })).toEqual({ plate, all: { x: 10, y: 0, w: 112, h: 70 } })
    // A lead without an opening is drawn 3 mm wide; a pass belongs to both its decks.
    const exits = [{ id: 'e', deck: 'main', at: [5, 30] }]
    const passes = [{ id: 'p', decks: ['roof', 'main'], at: [50, -20], diameter: 8 }]
    expect(frame({}, { exits, passes }).all).toEqual({ x: 3.5, y: -24, w: 106.5, h: 84 })
  })

  it('does not reach after a zone that the plate is in, but after one that is off it', () => {
    const zone = (rect: number[]) => ({ zones: [{ id: 'z', kind: 'view', deck: 'main', shape: { rect } }] })
    expect(frame({}, zone([-500, -500, 2000, 2000])).all).toEqual(plate)
    expect(frame({}, zone([130, 10, 20, 20])).all).toEqual({ x: 10, y: 0, w: 140, h: 60 })
  })
})
