/** What a plate has of its own, said on paper: holes taken to be there already, and what is cut with a new plate. Worked out by hand. */
import { describe, expect, it } from 'vitest'
import { mm } from '../../solver/index.ts'
import { sheet, svg, template } from '../../src/export/index.ts'
import { drillNotes } from '../../src/export/tables.ts'
import { deck, problem, pt, rect, round } from './decks.ts'

const hole = (id: string, x: number, y: number, diameter: number) => ({ id, at: pt(x, y), diameter: mm(diameter) })
const opening = (id: string, shape: ReturnType<typeof rect>) => ({ id, shape, mayCover: false })
const p = problem(
  [
    deck('low', rect(10, 5, 120, 90, 4), {
      openings: [
        opening('window', rect(30, 25, 20, 11, 1)),
        opening('slit', rect(60, 25, 40, 4, 2)),
        opening('eye', round(110, 75, 6)),
      ],
      holes: [hole('a', 20, 15, 3.4), hole('b', 120, 15, 3.4), hole('again', 120, 15, 3.4), hole('c', 70, 80, 5)],
    }),
    deck('bare', rect(0, 0, 60, 60), { z: mm(90) }),
  ],
  [],
  {
    exits: [
      { id: 'lead', deck: 0, at: pt(22, 60), diameter: mm(8) },
      { id: 'mark', deck: 0, at: pt(30, 60) },
    ],
    passes: [{ id: 'up', decks: [1, 0], at: pt(40, 50), diameter: mm(6.5) }],
  },
)
const said = (t: ReturnType<typeof template>): string => t.notes.texts.map((text) => text.text).join(' ')

describe('holes that are taken to be there already', () => {
  const grey = 'Grey (existing): 1 × 5 mm, 2 × 3.4 mm, holes taken to be there already.'
  it('are told on the template, of a new plate with what to do', () => {
    expect(said(template(p, [], 0))).toContain(`${grey} On a new plate make these first, or have them made.`)
    expect(said(template(p, [], 0, { asMade: true }))).toContain(grey)
    expect(said(template(p, [], 0, { asMade: true }))).not.toContain('new plate')
    expect(said(sheet(p, []))).toContain(grey)
    expect(said(template(p, [], 1))).not.toContain('Grey')
    expect(svg(template(p, [], 0))).toContain('Grey (existing)')
  })

  it('are told beside the drill table, which leaves them out', () => {
    const last =
      'Not in this table: 1 × 5 mm, 2 × 3.4 mm, holes taken to be there already (grey in the drawings). On a new plate make these first, or have them made.'
    expect(drillNotes(p, 0).at(-1)).toBe(last)
    expect(drillNotes(p, 1).join()).not.toContain('already')
  })
})
