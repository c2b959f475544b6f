/** What readers tell of plates that cannot be made as they are drawn: cuts beside the plate or over its edge, holes across an edge. */
import { describe, expect, it } from 'vitest'
import { type Project, readProject } from '../../src/model/index.ts'
import { none, small } from './full-project.ts'

describe('an exit or a pass beside its deck', () => {
  const warned = (more: Partial<Project>) => {
    const top = { id: 'top', z: 60, thickness: 3, outline: { circle: [20, 40, 20] as [number, number, number] } }
    const r = readProject(JSON.stringify({ ...small(), decks: [...small().decks, top], ...more }), 'f.json', none)
    expect(r.ok).toBe(true)
    return r.warnings.map((w) => [w.path, w.found, w.expected])
  }
  const over = (deck: string) => `a place over deck "${deck}", within its outline; it is taken as it stands`

  it('is not told of one on a slanted or round rim whose coordinates are rounded', () => {
    const outline = {
      polygon: [
        [0, 0],
        [100, 33],
        [90, 97],
        [-10, 61],
      ] as [number, number][],
    }
    const slant = { id: 'slant', z: 90, thickness: 3, outline }
    // on the circle of 20 about 20,40 every 0.37 of a radian, and along the slope of 100,33: to 0.001 mm as files have them
    const to = (v: number) => Math.round(v * 1000) / 1000
    const all = Array.from({ length: 20 }, (_, k): [string, number, number][] => [
      ['top', 20 + 20 * Math.cos(0.37 * k), 40 + 20 * Math.sin(0.37 * k)],
      ['slant', 5.123 * (k % 19) + 1.001, 0.33 * (5.123 * (k % 19) + 1.001)],
    ]).flat()
    const exits = all.map(([deck, x, y], k) => ({ id: `e${k}`, deck, at: [to(x), to(y)] as [number, number] }))
    const top = { id: 'top', z: 60, thickness: 3, outline: { circle: [20, 40, 20] as [number, number, number] } }
    const decks = [...small().decks, top, slant]
    expect(warned({ decks, exits })).toEqual([])
    // two micrometres out it is beside it
    expect(warned({ decks, exits: [{ id: 'e', deck: 'top', at: [20, 60.002] }] })).toHaveLength(1)
  })
  const exit = (x: number, y: number, deck = 'd') => ({ id: `${deck}${x},${y}`, deck, at: [x, y] as [number, number] })

  it('is told with its place, and stays: on the edge is on the deck, by a micrometre is not', () => {
    // (20 + 12, 40 + 16) is on the circle: 12² + 16² = 20²
    const exits = [exit(100, 80), exit(100.001, 40), exit(300, 50), exit(32, 56, 'top'), exit(36, 56, 'top')]
    expect(warned({ exits })).toEqual([
      ['exits[1].at', '[100.001, 40]', over('d')],
      ['exits[2].at', '[300, 50]', over('d')],
      ['exits[4].at', '[36, 56]', over('top')],
    ])
  })

  it('is told of a pass only where that is a hole: leads may go round an edge', () => {
    const pass = { id: 'up', decks: ['d', 'top'] as [string, string], at: [60, 40] as [number, number] }
    expect(warned({ passes: [pass] })).toEqual([])
    expect(warned({ passes: [{ ...pass, diameter: 8 }] })).toEqual([['passes[0].at', '[60, 40]', over('top')]])
  })

  it('is told of the variant in which it is, and not of a deck that is dropped', () => {
    const decks = { d: { outline: { rect: [0, 0, 50, 80] as [number, number, number, number] } } }
    const exits = [exit(60, 40), exit(60, 40, 'top')]
    const short = { id: 'short', decks, drop: ['top'] }
    expect(warned({ exits, variants: [{ id: 'long', drop: ['top'] }, short] })).toEqual([
      ['exits[0].at', '[60, 40]', `${over('d')}, in variant "short"`],
    ])
    // where every variant has an outline of its own, nobody stands on the deck's
    const wide = { d: { outline: { rect: [0, 0, 400, 80] as [number, number, number, number] } } }
    expect(warned({ exits: [exit(300, 50)], variants: [{ id: 'wide', decks: wide }] })).toEqual([])
  })
})
describe('what cannot be made as drawn', () => {
  type Rect = [number, number, number, number]
  type Deck = Project['decks'][number]
  const hole = (id: string, x: number, y: number, diameter = 4) => ({ id, at: [x, y] as [number, number], diameter })
  const opening = (id: string, ...rect: Rect) => ({ id, shape: { rect } })
  /** The plate of `small` is 100 × 80 from 0,0. */
  const warned = (deck: Partial<Deck>, more: Partial<Project> = {}) => {
    const [d] = small().decks
    const r = readProject(JSON.stringify({ ...small(), decks: [{ ...d, ...deck }], ...more }), 'f.json', none)
    expect(r.ok).toBe(true)
    return r.warnings.map((w) => [w.path, w.found, w.expected])
  }
  const as = 'it is taken as it stands'
  const all = `all of it over deck "d", within its outline; ${as}`
  const apart = `a hole wholly clear of it, or wholly within it; ${as}`

  it('is told of an opening over the edge or beside the plate, and of none along the edge', () => {
    const openings = [opening('over', 95, 10, 5.002, 5), opening('off', 200, 10, 5, 5), opening('along', 95, 20, 5, 5)]
    expect(warned({ openings })).toEqual([
      ['decks[0].openings[0].shape', 'x 95 to 100.002, y 10 to 15, over the edge of the plate', all],
      ['decks[0].openings[1].shape', 'x 200 to 205, y 10 to 15, wholly beside the plate', all],
    ])
  })

  it('is told of an opening whose corners are on the plate and whose side is not', () => {
    // a notch from the right, 40 deep: the opening goes across it
    const outline = { polygon: [[0, 0], [100, 0], [100, 30], [60, 30], [60, 50], [100, 50], [100, 80], [0, 80]] } // biome-ignore format: corners
    const across = { id: 'across', shape: { polygon: [[70, 10], [90, 10], [90, 70], [70, 70]] } } // biome-ignore format: corners
    const around = opening('beside', 20, 10, 40, 60)
    const told = warned({ outline, openings: [across, around] } as unknown as Partial<Deck>)
    expect(told).toEqual([['decks[0].openings[0].shape', 'x 70 to 90, y 10 to 70, over the edge of the plate', all]])
  })

  it('is told of a circle that leaves the outline, by as much as it may come near', () => {
    const exits = [{ id: 'e', deck: 'd', at: [97, 40] as [number, number], diameter: 8 }]
    const near = (r: number) => `a place over deck "d", ${r} mm or more inside its outline; ${as}`
    expect(warned({ holes: [hole('a', 2, 2), hole('b', 1.99, 40), hole('c', -1, 60)] }, { exits })).toEqual([
      ['decks[0].holes[1].at', '[1.99, 40] with a diameter of 4', near(2)],
      ['decks[0].holes[2].at', '[-1, 60]', `a place over deck "d", within its outline; ${as}`],
      ['exits[0].at', '[97, 40] with a diameter of 8', near(4)],
    ])
  })

  it('is told of a hole that an edge cuts into; openings that merge, and holes that touch or lie in one another, are meant', () => {
    const openings = [opening('slot', 10, 10, 40, 4), opening('leg', 10, 10, 4, 40)]
    const holes = [
      hole('across', 30, 15),
      hole('touching', 40, 16),
      hole('within', 20, 12),
      hole('one', 80, 40),
      hole('twin', 83.9, 40),
      hole('next', 87.9, 40),
      hole('wide', 80, 60, 6),
      hole('middle', 80, 60, 3),
    ]
    const passes = [{ id: 'e', deck: 'd', at: [80, 43] as [number, number], diameter: 3 }]
    expect(warned({ openings, holes }, { exits: passes })).toEqual([
      ['decks[0].holes[0].at', '[30, 15] with a diameter of 4, across the edge of opening "slot"', apart],
      ['decks[0].holes[3].at', '[80, 40] with a diameter of 4, across the edge of exit "e"', apart],
      ['decks[0].holes[4].at', '[83.9, 40] with a diameter of 4, across the edge of hole "one"', apart],
    ])
  })

  it('is told once, where it is written, with the variant that makes it so', () => {
    const openings = [opening('over', 95, 10, 10, 5), opening('in', 60, 30, 10, 10)]
    const short = { id: 'short', decks: { d: { outline: { rect: [0, 0, 65, 80] as Rect } } } }
    const drilled = { id: 'drilled', decks: { d: { holes: [hole('h', 60, 35)] } } }
    const variants = [
      short,
      { id: 'plain' },
      drilled,
      { id: 'both', decks: { d: { ...short.decks.d, ...drilled.decks.d } } },
    ]
    expect(warned({ openings }, { variants })).toEqual([
      ['decks[0].openings[0].shape', 'x 95 to 105, y 10 to 15, over the edge of the plate', all],
      [
        'decks[0].openings[1].shape',
        'x 60 to 70, y 30 to 40, over the edge of the plate',
        `${all}, in variant "short"`,
      ],
      ['variants[2].decks.d.holes[0].at', '[60, 35] with a diameter of 4, across the edge of opening "in"', apart],
      ['variants[3].decks.d.holes[0].at', '[60, 35] with a diameter of 4, across the edge of opening "in"', apart],
    ])
  })
})
