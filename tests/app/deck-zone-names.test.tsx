/** Names of zones on the workshop's plan. */
import { renderToStaticMarkup } from 'react-dom/server'
import { expect, it } from 'vitest'
import { DeckNames } from '../../src/panels/deck-names.tsx'
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
