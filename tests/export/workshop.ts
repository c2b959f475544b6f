/** One deck with every kind of thing in it, and a tower of two; every number ours. */
import { mm } from '../../solver/index.ts'
import { at, deck, item, part, problem, pt, rect, round, screws } from './decks.ts'

export const board = part('board', 30, 20, screws([3, 3, 3.2], [27, 4, 3.2], [15, 17, 2.7]))
const strapped = part('pack', 40, 18, {
  kind: 'strap',
  slots: [
    { x: mm(10), y: mm(-4), w: mm(12), h: mm(3) },
    { x: mm(10), y: mm(19), w: mm(12), h: mm(3) },
  ],
})
const dropIn = part('servo', 24, 14, {
  kind: 'drop-in',
  cutout: { x: mm(1), y: mm(1), w: mm(22), h: mm(12) },
  holes: [],
  below: mm(10),
})
const plug = part('driver', 10, 8, { kind: 'plug-in' }, { plug: { pins: [{ id: '1', at: pt(1, 1) }] } })

/** One deck with every kind of thing in it. */
export const full = problem(
  [
    deck('main', rect(-5, 10, 120, 100, 6), {
      openings: [
        { id: 'bay', shape: rect(60.05, 80, 22, 12), mayCover: true },
        { id: 'ring', shape: round(100, 30, 5), mayCover: false },
      ],
      holes: [
        { id: 'p1', at: pt(5, 100), diameter: mm(4) },
        { id: 'near', at: pt(73.05, 33), diameter: mm(3.5) },
      ],
    }),
  ],
  [
    item('first', board),
    item('second', board),
    item('someday', board, { later: true }),
    item('pack', strapped),
    item('old', dropIn),
    item('new', dropIn),
    item('driver', plug),
    item('someday-servo', dropIn, { later: true }),
  ],
  {
    exits: [
      { id: 'lead', deck: 0, at: pt(55, 60), diameter: mm(7) },
      { id: 'free', deck: 0, at: pt(50, 50) },
    ],
    passes: [{ id: 'up', decks: [0, 0], at: pt(10, 50), diameter: mm(9) }],
  },
)
export const placements = [
  at(0, 20, 20),
  at(1, 70, 30),
  at(2, 70, 60),
  at(3, 10, 70),
  at(4, 59, 79),
  at(5, 85, 60, 1),
  at(6, 30, 60),
  at(7, 20, 92),
]

/** Two decks in one frame, the upper one smaller; the third board stands on it. */
export const tower = problem(
  [
    deck('main', rect(0, 0, 110, 80, 5), {
      material: '3 mm birch plywood',
      openings: [{ id: 'bay', shape: rect(60, 50, 30, 20, 3), mayCover: false }],
    }),
    deck('upper', rect(20, 10, 50, 40), { name: 'Lid' }),
  ],
  [item('left', board), item('right', board), item('top', board, { decks: [1] })],
)
export const towered = [at(0, 5, 5), at(1, 60, 5), at(2, 30, 20, 0, 1)]
