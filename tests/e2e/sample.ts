/** A deck with room to spare, invented: three bricks on a wide plate, one at each end and one between. */
const brick = {
  format: 'deckwright-footprint',
  version: 1,
  id: 'brick',
  name: 'brick',
  source: 'invented',
  kind: 'part',
  body: { width: 30, depth: 30, height: 12 },
  mount: { kind: 'adhesive' },
}

const at = (x: number) =>
  [
    { item: 'left', x: 0 },
    { item: 'middle', x: 65 },
    { item: 'right', x: 130 },
  ].map((p) => ({ item: p.item, deck: 'main', at: [p.x + x, 30], turn: 0 }))

export const bricks = {
  format: 'deckwright-project',
  version: 1,
  units: 'mm',
  name: 'Brick carrier',
  decks: [{ id: 'main', z: 40, thickness: 3, outline: { rect: [0, 0, 160, 90] } }],
  footprints: [brick],
  items: ['left', 'middle', 'right'].map((id) => ({ id, footprint: 'brick' })),
  page: { holds: {}, placements: { base: at(0) } },
}

/** The same with two decks, one over the other, and an item that may stand on both. */
export const storeys = {
  ...bricks,
  name: 'Two storeys',
  decks: [
    { id: 'low', name: 'low deck', z: 40, thickness: 3, outline: { rect: [0, 0, 160, 90] } },
    { id: 'high', name: 'high deck', z: 100, thickness: 3, outline: { rect: [20, 10, 120, 70], radius: 10 } },
  ],
  passes: [{ id: 'well', decks: ['low', 'high'], at: [150, 5] }],
  page: { holds: {}, placements: { base: at(0).map((p) => ({ ...p, deck: 'low' })) } },
}
