/** Names on the workshop's plan: those of zones. */
import { renderToStaticMarkup } from 'react-dom/server'
import { expect, it } from 'vitest'
import { DeckNames } from '../../src/panels/deck-names.tsx'
import { deckTexts } from '../../src/store/deck-texts.ts'
import { part, project } from '../electric/kit.ts'

it('stand in the middle of their zone, or as near to it as they are not cut', () => {
  const zone = (id: string, x: number) => ({ id, kind: 'keep-out', deck: 'd', shape: { rect: [x, 10, 10, 10] } })
  const p = project({
    footprints: [part('tile', 10, 10)],
    items: [{ id: 'tile', footprint: 'tile' }],
    decks: [{ id: 'd', z: 10, thickness: 3, outline: { rect: [0, 0, 100, 80] } }],
    zones: [
      zone('zone-left', 0),
      zone('zone-mid', 45),
      zone('zone-right', 90),
      zone('zone-far', 130),
      zone('z'.repeat(41), 0),
    ],
  })
  const html = renderToStaticMarkup(<DeckNames project={p} deck="d" scale={0.5} right={100} room={[-4, 108]} />)
  const middles = [...html.matchAll(/translate\(([\d.]+) /g)].map((m) => Number(m[1]))
  // nine letters of about 5.6 pixels are 25.2 mm here, ten 28, eight 22.4, and forty-one have no room
  expect(middles).toEqual([8.6, 50, 94, 96.8, 5])
})

it('make way for leads and their names, which make way for one another', () => {
  const p = project({
    footprints: [part('tile', 10, 10)],
    items: [{ id: 'tile', footprint: 'tile' }],
    decks: [{ id: 'd', z: 10, thickness: 3, outline: { rect: [0, 0, 200, 140] } }],
    // one lead beside the middle of its zone, as a motor's is, one in the middle of another, one far from any
    exits: [
      { id: 'exit-left', deck: 'd', at: [12, 74], kind: 'motor-pair' },
      { id: 'exit-right', deck: 'd', at: [188, 30], kind: 'motor-pair' },
      { id: 'exit-near', deck: 'd', at: [140, 30], kind: 'motor-pair' },
      { id: 'exit-low', deck: 'd', at: [100, 20], kind: 'motor-pair' },
    ],
    zones: [
      { id: 'gearbox-left', kind: 'underside', deck: 'd', shape: { rect: [0, 48, 26, 40] } },
      { id: 'foot', kind: 'keep-out', deck: 'd', shape: { circle: [100, 20, 5] } },
      { id: 'lid', kind: 'keep-out', deck: 'd', shape: { rect: [140, 100, 20, 20] } },
    ],
  })
  // 0.6 mm for a pixel, about as on a phone
  const texts = deckTexts(p, 'd', 0.6, 200, [-4, 208])
  const of = (id: string) => texts.find((t) => t.id === id)!
  const apart = (a: string, b: string) => Math.abs(of(a).y - of(b).y) / 0.6
  // eleven pixels high, with what goes below the line
  expect(apart('gearbox-left', 'exit-left')).toBeGreaterThanOrEqual(13)
  expect(apart('foot', 'exit-low')).toBeGreaterThan(6)
  // between two leads there is room for one name
  expect(of('exit-right').anchor).toBe('end')
  expect(of('exit-near').anchor).toBe('end')
  // neither leaves its zone by more than a line, and who is in nobody's way stays
  expect(of('gearbox-left').y).toBeGreaterThan(48)
  expect(Math.abs(of('foot').y - 20)).toBeLessThan(5 + 13 * 0.6)
  expect(of('lid')).toMatchObject({ x: 150, y: 110 - 4 * 0.6 })
})

it('of a pillar’s zone does not cover the pillar’s hole', () => {
  const p = project({
    footprints: [part('tile', 10, 10)],
    items: [{ id: 'tile', footprint: 'tile' }],
    decks: [
      {
        id: 'd',
        z: 10,
        thickness: 3,
        outline: { rect: [0, 0, 120, 90] },
        holes: [{ id: 'pillar-1', at: [60, 45], diameter: 3.4 }],
      },
    ],
    zones: [{ id: 'pillar-1-d', kind: 'keep-out', deck: 'd', shape: { circle: [60, 45, 4] } }],
  })
  const [name] = deckTexts(p, 'd', 0.2, 120, [-4, 124])
  // eleven pixels high over its foot: over the hole, or under it
  const above = name!.y - 45 > 1.7
  const below = 45 - 1.7 > name!.y + 9.5 * 0.2
  expect(above || below).toBe(true)
})
