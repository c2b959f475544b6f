import { describe, expect, it } from 'vitest'
import type { Project, ProjectDeck } from '../../src/model/index.ts'
import { caliperDeck, endsOf, jawsOf, lineOf, withHole, withoutHole } from '../../src/panels/deck-caliper-form.ts'
import { type CaliperForm, emptyForm } from '../../src/store/caliper-rows.ts'
import { outsidePlate } from '../../src/store/deck-worries.ts'

const old: ProjectDeck = { id: 'main', z: 50, thickness: 3, outline: { rect: [10, 20, 100, 60] } }

/** The form with one hole and these readings, row by row. */
const typed = (...readings: string[]): CaliperForm => {
  const form = withHole(emptyForm)
  return { ...form, measures: form.measures.map((m, k) => ({ ...m, readings: readings[k] ?? '' })) }
}

describe('a caliper’s rows', () => {
  it('give a plate where the old one lay, with y to the front', () => {
    // 8.4 mm from the left edge to the near side of a hole of 3.2 mm: its centre at 10; 1 in from the front: at 90 − 25.4 − 1.6.
    const got = caliperDeck(typed('140.02; 139,98', '90', '8.4', '1 in', '3,2'), old)
    if (got.kind !== 'deck') throw new Error(JSON.stringify(got))
    expect(got.deck).toMatchObject({ id: 'main', z: 50, thickness: 3, outline: { rect: [10, 20, 140, 90] } })
    expect(got.deck.holes).toEqual([{ id: 'hole-1', at: [20, 83], diameter: 3.2 }])
    expect(got.lines[0]).toMatch(/^width 140 ± /)
  })

  it('say which readings contradict one another', () => {
    const got = caliperDeck(typed('140', '90', '20,1; 31', '25', '3,2'), old)
    // Nobody measured their mean, so no plate is made of it.
    if (got.kind !== 'loose') throw new Error(JSON.stringify(got))
    expect(got.lines.join()).toContain('the readings 20.1 and 31 of left to hole-1, near contradict one another')
  })

  it('name the slip where the other readings tell, and make the plate of these', () => {
    const form = { ...emptyForm, measures: emptyForm.measures.map((m) => ({ ...m, readings: '145.2; 145.4' })) }
    form.measures[0] = { ...form.measures[0]!, readings: '165,4; 165.6; 6 1/2"; 146' }
    const got = caliperDeck(form, old)
    if (got.kind !== 'deck') throw new Error(JSON.stringify(got))
    const lines = got.lines.join('\n')
    expect(lines).toContain('146 of left to right must be a slip: the other 3 readings say 165.1 to 165.6; left out')
    expect(lines).not.toContain('contradict')
    // s of the three is 0.252; over √3, and twice that
    expect(lines).toContain('width 165.367 ± 0.293 mm')
  })

  it('leave the name of a hole as it was typed', () => {
    const form = withHole(emptyForm)
    const [loose] = (caliperDeck(typed('140', '90', '8'), old) as { lines?: readonly string[] }).lines ?? []
    expect(lineOf(form, loose!)).toMatch(/^hole-1 \(/)
    expect(lineOf(form, 'width 140 mm')).toBe('Width 140 mm')
    expect(lineOf(form, 'hole-12: x 3 mm')).toBe('Hole-12: x 3 mm')
  })

  it('say by the row what is no length', () => {
    const got = caliperDeck(typed('140 apples', '90; -3'), old)
    expect(got).toMatchObject({
      kind: 'faults',
      faults: [
        { list: 'measures', index: 0, found: '“140 apples”' },
        { list: 'measures', index: 1, found: '“-3”' },
      ],
    })
  })

  it('say by the row which ends do not go together, counting rows without readings', () => {
    const form = typed('140', '90')
    const crossed = {
      ...form,
      measures: [...form.measures, { from: 'left', to: 'front', jaws: 'centre', readings: '5' } as const],
    }
    expect(caliperDeck(crossed, old)).toMatchObject({ kind: 'faults', faults: [{ list: 'measures', index: 5 }] })
  })

  it('say what is not settled yet', () => {
    const got = caliperDeck(typed('140', '', '8.4'), old)
    expect(got.kind).toBe('loose')
    if (got.kind === 'loose') expect(got.lines.join(' ')).toMatch(/the front edge: the measures do not say where/)
    expect(caliperDeck(emptyForm, old).kind).not.toBe('deck')
  })

  it('offer jaws that fit the ends, and forget a hole with its measures', () => {
    const form = withHole(withHole(emptyForm))
    expect(endsOf(form).slice(-2)).toEqual(['hole-1', 'hole-2'])
    expect(jawsOf({ from: 'hole-1', to: 'hole-2' })).toEqual(['centre', 'inner', 'outer'])
    expect(jawsOf({ from: 'left', to: 'hole-2' })).toEqual(['centre', 'near', 'far'])
    expect(jawsOf({ from: 'left', to: 'right' })).toEqual(['centre'])
    expect(jawsOf({ from: 'hole-1', to: '' })).toEqual(['centre'])
    expect(withoutHole(withoutHole(form, 'hole-1'), 'hole-2')).toEqual(emptyForm)
  })
})

describe('what reaches over a plate', () => {
  const project = {
    format: 'deckwright-project',
    version: 1,
    units: 'mm',
    name: 'x',
    decks: [
      {
        ...old,
        outline: { rect: [0, 0, 100, 60], radius: 10 },
        openings: [
          { id: 'in', shape: { rect: [10, 10, 20, 20] } },
          { id: 'over', shape: { rect: [90, 10, 20, 20] } },
          { id: 'round', shape: { circle: [50, 30, 31] } },
        ],
        holes: [
          { id: 'touches', at: [2, 30], diameter: 4 },
          { id: 'over', at: [1.9, 30], diameter: 4 },
          { id: 'corner', at: [2, 2], diameter: 1 },
        ],
      },
    ],
    items: [],
    zones: [{ id: 'z', kind: 'view', deck: 'main', shape: { rect: [-50, -50, 300, 300] } }],
    exits: [{ id: 'e', deck: 'main', at: [101, 30] }],
  } as unknown as Project

  it('is named, and what touches the edge from inside is not', () => {
    const found = (['openings', 'holes', 'exits', 'zones'] as const).flatMap((part) =>
      ['in', 'over', 'round', 'touches', 'corner', 'e', 'z']
        .filter((id) => outsidePlate(project, 'main', part, id))
        .map((id) => `${part} ${id}`),
    )
    expect(found).toEqual(['openings over', 'openings round', 'holes over', 'holes corner', 'exits e'])
  })
})
