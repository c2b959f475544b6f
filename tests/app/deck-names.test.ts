/** People know decks by their names; files and programs by their ids. */
import { describe, expect, it } from 'vitest'
import { calledIn, check, mm, type Placement, type Problem, smallestDeck, solve } from '../../solver/index.ts'
import { orderOfWork } from '../../src/export/assembly-order.ts'
import { template } from '../../src/export/template.ts'
import { accessReport } from '../../src/statics/index.ts'
import { part, placed, problemOf, project } from '../electric/kit.ts'

const plate = { thickness: 3, outline: { rect: [0, 0, 100, 80] } }
const two = (lid: object = {}, more: object = {}): Problem =>
  problemOf(
    project({
      decks: [
        { ...plate, id: 'd1', name: 'cellar', z: 10 },
        { ...plate, id: 'd2', name: 'top deck', z: 60, ...lid },
      ],
      footprints: [
        part('cells', 40, 20, {
          corridors: [{ id: 'out', shape: { rect: [0, 0, 40, 20] }, z: [10, 60], access: 'cells' }],
        }),
        part('tower', 10, 10, { body: { width: 10, depth: 10, height: 50 } }),
      ],
      items: [{ id: 'cells', footprint: 'cells', decks: ['d1'] }],
      ...more,
    }),
  )
const texts = (list: readonly { readonly text: string }[]): string => list.map((f) => f.text).join('\n')
const at = (p: Problem, x = 30): Placement[] => placed(p, { cells: [x, 30] })

describe('a deck is called by its name', () => {
  it('in findings, whose items are ids as before', () => {
    const p = two()
    const off = check(p, placed(p, { cells: [70, 30] }))
    expect(texts(off)).toBe('cells reaches 10 mm over the right edge of deck cellar.')
    expect(accessReport(p, at(p)).findings).toMatchObject([
      {
        text: 'The cells of cells cannot be reached with nothing taken off: top deck stands in the way.',
        items: ['cells', 'd2'],
      },
    ])
  })

  it('in conflicts and what would loosen them', () => {
    const p = two({}, { items: [{ id: 'tower', footprint: 'tower', decks: ['d1'] }] })
    const r = solve(p)
    if (r.status !== 'infeasible') throw new Error(r.status)
    expect(texts(r.conflict)).toContain('tower lacks at least 3 mm of height to stand under top deck')
    expect(r.conflict.flatMap((m) => m.items)).toContain('d2')
    const s = smallestDeck(two(), 'length')
    if (s.status !== 'found') throw new Error(s.status)
    expect(s).toMatchObject({ deck: 'd1', changes: [{ deck: 'd1', name: 'cellar' }] })
  })

  it('in the order of work and where a kerf is refused', () => {
    const p = two()
    const steps = orderOfWork(p, at(p)).join('\n')
    expect(steps).toContain('Deck cellar: cut the outline last')
    expect(steps).toContain('Look deck cellar over, then set top deck above it')
    expect(steps).toContain('Top deck: cut the outline last')
    const slit = two({ openings: [{ id: 'o', shape: { rect: [20, 20, 1, 30] } }] })
    expect(() => template(slit, [], 1, { kerf: mm(1.5) })).toThrow(/opening o of top deck: /)
  })

  it('and two of one name are told apart', () => {
    const p = two({ name: 'cellar' })
    expect(p.decks.map((d) => d.name)).toEqual(['cellar (d1)', 'cellar (d2)'])
    expect([calledIn(p, 'd2'), calledIn(p, 'cells'), calledIn(p, 'x')]).toEqual(['deck cellar (d2)', 'cells', 'x'])
  })
})
