/** What a plate has of its own, said on paper: holes taken to be there already, and what is cut with a new plate. Worked out by hand. */
import { describe, expect, it } from 'vitest'
import { mm } from '../../solver/index.ts'
import { sheet, svg, template } from '../../src/export/index.ts'
import { ownCuts } from '../../src/export/own-cuts.ts'
import { pdfPages } from '../../src/export/pdf.ts'
import { drillNotes } from '../../src/export/tables.ts'
import { deck, problem, pt, rect, round } from './decks.ts'
import { reading } from './pdf-read.ts'

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

describe('what a plate has of its own', () => {
  it('is listed with its size and the place of its centre from the datum', () => {
    const rows = ownCuts(p, 0).map((o) => [o.kind, o.id, ...o.size, o.round, o.radius, o.fromLeft, o.fromLower])
    expect(rows).toEqual([
      ['opening', 'window', 20, 11, false, 1, 30, 25.5],
      ['slot', 'slit', 40, 4, false, 2, 70, 22],
      ['opening', 'eye', 12, 12, true, 0, 100, 70],
      ['exit', 'lead', 8, 8, true, 0, 12, 55],
      ['pass', 'up', 6.5, 6.5, true, 0, 30, 45],
      ['hole', 'a', 3.4, 3.4, true, 0, 10, 10],
      ['hole', 'b', 3.4, 3.4, true, 0, 110, 10],
      ['hole', 'again', 3.4, 3.4, true, 0, 110, 10],
      ['hole', 'c', 5, 5, true, 0, 60, 75],
    ])
    expect(ownCuts(p, 1).map((o) => [o.kind, o.id, o.fromLeft, o.fromLower])).toEqual([['pass', 'up', 40, 50]])
  })

  it('is printed of a new plate, and not of one that has it', async () => {
    const text = async (asMade: boolean): Promise<string> => {
      let all = ''
      await reading(await pdfPages(p, [], { parts: ['template'], asMade }), async (pages) => {
        all = pages
          .map((page) => page.text)
          .join(' ')
          .replaceAll(/\s+/g, ' ')
      })
      return all
    }
    const fresh = await text(false)
    for (const words of ['window 20 × 11, corners r 1 30 25.5', 'slit 40 × 4, round ends 70 22', 'eye ⌀12 100 70'])
      expect(fresh).toContain(words)
    for (const words of ['hole for a lead lead ⌀8 12 55', 'up ⌀6.5 30 45']) expect(fresh).toContain(words)
    expect(fresh).toContain(
      'The grey circles, 1 × 5 mm, 2 × 3.4 mm, are holes that the project takes to be there already',
    )
    const made = await text(true)
    expect(made).not.toContain('Openings and holes of the plate itself')
    expect(made).toContain('are holes that are there already: lay them on theirs')
  })
})
