/** Template out, deck in: the same deck within a micrometre, whatever the writer. */
import { describe, expect, it } from 'vitest'
import { dxf } from '../../src/export/dxf.ts'
import { svg, template } from '../../src/export/index.ts'
import { type Project, type ProjectDeck, toProblem } from '../../src/model/index.ts'
import { deckApart, LONG, randomDeck, taken } from './deck-kit.ts'

const problemOf = (deck: ProjectDeck) => {
  const project: Project = {
    format: 'deckwright-project',
    version: 1,
    units: 'mm',
    name: 'trip',
    decks: [deck],
    items: [],
  }
  return toProblem(project, 'base', new Map())
}

/** Lower left corner of what the template draws of the outline: where the deck has to go back to. */
const cornerOf = (deck: ProjectDeck): [number, number] => {
  const o = deck.outline
  if ('rect' in o) return [o.rect[0], o.rect[1]]
  if ('circle' in o) return [o.circle[0] - o.circle[2], o.circle[1] - o.circle[2]]
  return [Number.NaN, Number.NaN]
}

describe('a template brought in again', () => {
  for (const asMade of [false, true]) {
    it(`is the same deck to 1 µm from DXF of both kinds, ${asMade ? 'as made' : 'to be cut'}`, () => {
      for (let seed = 1; seed <= (LONG ? 400 : 10); seed++) {
        const deck = randomDeck(seed)
        const drawing = template(problemOf(deck), [], 0, { asMade })
        for (const version of ['r2000', 'r12'] as const) {
          const got = taken(dxf(drawing, { version }), 'trip.dxf', { corner: 'as-drawn', z: 40, thickness: 3 })
          expect(got.decks).toHaveLength(1)
          const plain = asMade ? roundOpeningsAreHoles(deck) : deck
          expect(deckApart(plain, got.decks[0]!), `seed ${seed} ${version}`).toBeLessThanOrEqual(0.001)
          expect(got.report.flattened.count).toBe(0)
        }
      }
    })
  }

  it('is the same deck to 1 µm from SVG', () => {
    for (let seed = 1; seed <= (LONG ? 400 : 10); seed++) {
      const deck = randomDeck(seed)
      // A polygon's corner is known by its drawing: SVG moves all by whole millimetres.
      const drawing = template(problemOf(deck), [], 0)
      const known = cornerOf(deck)
      const corner: [number, number] | 'as-drawn' = Number.isNaN(known[0]) ? 'as-drawn' : known
      const got = taken(svg(drawing), 'trip.svg', { corner, z: 40, thickness: 3 })
      const back = corner === 'as-drawn' ? shifted(got.decks[0]!, drawing.view.x0, drawing.view.y0) : got.decks[0]!
      expect(got.decks).toHaveLength(1)
      expect(deckApart(deck, back), `seed ${seed}`).toBeLessThanOrEqual(0.001)
      expect(got.report.flattened.count).toBe(0)
      expect(got.report.closedGaps).toEqual([])
    }
  })

  it('keeps the kind of shape, not only its place', () => {
    const deck = randomDeck(1)
    const got = taken(dxf(template(problemOf(deck), [], 0)), 'a.dxf', { corner: 'as-drawn' }).decks[0]!
    expect(got.outline).toEqual(deck.outline)
    const kinds = (d: ProjectDeck) => (d.openings ?? []).map((o) => Object.keys(o.shape)[0]).sort()
    expect(kinds(got)).toEqual(kinds(deck))
  })

  it('leaves marks and notes out, and says so', () => {
    const got = taken(svg(template(problemOf(randomDeck(3)), [], 0)), 'a.svg')
    expect(got.report.unused.map((u) => u.what).join()).toMatch(/things on mark.*things on notes/)
  })
})

/** Among what is there already, a template does not say which circles were cut and which drilled. */
function roundOpeningsAreHoles(deck: ProjectDeck): ProjectDeck {
  const openings = (deck.openings ?? []).filter((o) => !('circle' in o.shape))
  const round = (deck.openings ?? []).flatMap((o) =>
    'circle' in o.shape
      ? [{ id: o.id, at: [o.shape.circle[0], o.shape.circle[1]] as [number, number], diameter: 2 * o.shape.circle[2] }]
      : [],
  )
  return { ...deck, openings, holes: [...(deck.holes ?? []), ...round] }
}

/** By whole millimetres. */
function shifted(deck: ProjectDeck, dx: number, dy: number): ProjectDeck {
  const move = (s: ProjectDeck['outline']): ProjectDeck['outline'] => {
    if ('rect' in s) return { ...s, rect: [s.rect[0] + dx, s.rect[1] + dy, s.rect[2], s.rect[3]] }
    if ('circle' in s) return { circle: [s.circle[0] + dx, s.circle[1] + dy, s.circle[2]] }
    if ('polygon' in s) {
      return { polygon: s.polygon.map(([x, y, b]) => (b === undefined ? [x + dx, y + dy] : [x + dx, y + dy, b])) }
    }
    throw new Error('no sector is ever brought in')
  }
  return {
    ...deck,
    outline: move(deck.outline),
    openings: (deck.openings ?? []).map((o) => ({ ...o, shape: move(o.shape) })),
    holes: (deck.holes ?? []).map((h) => ({ ...h, at: [h.at[0] + dx, h.at[1] + dy] as [number, number] })),
  }
}
