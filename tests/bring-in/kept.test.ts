/** A deck brought in over an old one: what the drawing cannot say stays. */
import { describe, expect, it } from 'vitest'
import { keptFrom } from '../../src/bring-in/kept.ts'
import type { ProjectDeck } from '../../src/model/index.ts'

const deck = (more: Partial<ProjectDeck>): ProjectDeck => ({
  id: 'd',
  z: 40,
  thickness: 3,
  outline: { rect: [0, 0, 100, 60] },
  ...more,
})

describe('what a drawing cannot say', () => {
  const old = deck({
    openings: [
      { id: 'opening-1', shape: { rect: [10, 10, 20, 5] }, mayCover: true, strap: true },
      { id: 'well', shape: { circle: [60, 30, 8] }, mayCover: true },
    ],
    holes: [
      { id: 'built-4', at: [5, 5], diameter: 3.4 },
      { id: 'hole-1', at: [90, 5], diameter: 3.4 },
    ],
  })

  it('stays with openings and holes in the same place, and no two get one name', () => {
    const made = deck({
      openings: [
        { id: 'opening-1', shape: { rect: [70, 40, 9, 9] } },
        { id: 'opening-2', shape: { rect: [10.05, 10, 19.95, 5.1] } },
        {
          id: 'opening-3',
          shape: {
            polygon: [
              [52, 30, 1],
              [68, 30, 1],
            ],
          },
        },
        { id: 'opening-4', shape: { rect: [10.3, 10, 19.7, 5] } },
      ],
      holes: [
        { id: 'hole-1', at: [5.05, 5], diameter: 3.45 },
        { id: 'hole-2', at: [90, 5], diameter: 3.6 },
      ],
    })
    const kept = keptFrom(old, made)
    expect(kept.openings).toEqual([
      { id: 'opening-2', shape: { rect: [70, 40, 9, 9] } },
      { id: 'opening-1', shape: { rect: [10.05, 10, 19.95, 5.1] }, mayCover: true, strap: true },
      {
        id: 'well',
        shape: {
          polygon: [
            [52, 30, 1],
            [68, 30, 1],
          ],
        },
        mayCover: true,
      },
      { id: 'opening-3', shape: { rect: [10.3, 10, 19.7, 5] } },
    ])
    expect(kept.holes).toEqual([
      { id: 'built-4', at: [5.05, 5], diameter: 3.45 },
      // As wide as it is now, it is another one.
      { id: 'hole-1', at: [90, 5], diameter: 3.6 },
    ])
  })

  it('takes nothing away, and needs no old deck', () => {
    const made = deck({ openings: [{ id: 'opening-1', shape: { circle: [20, 20, 4] } }] })
    expect(keptFrom(undefined, made)).toBe(made)
    expect(keptFrom(old, deck({}))).toEqual(deck({}))
  })
})
