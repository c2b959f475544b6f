/** What people read before they cut: the table of `compare`, the list of wires on the page, the printed sheet. */
import { describe, expect, it } from 'vitest'
import { mm, type Placement, solve } from '../../solver/index.ts'
import type { Answer } from '../../src/cli/answers.ts'
import { cutRows, cutTable } from '../../src/cli/cut-table.ts'
import { laidLeads } from '../../src/electric/cuts.ts'
import { WIRING } from '../../src/electric/routes-settings.ts'
import { assembly } from '../../src/export/words-sheets.ts'
import { leadSaid } from '../../src/store/lead-said.ts'
import { routedLeads, tightTexts } from '../../src/store/leads.ts'
import { part, placed, problemOf, project } from '../electric/kit.ts'

/** Two exits 80 mm apart with a wall between them, past which there is so much of the deck. */
function walled(room: number, more: object = {}) {
  const problem = problemOf(
    project({
      items: [{ id: 'wall', footprint: 'wall', place: [{ kind: 'at', deck: 'main', at: [46, 0], turn: 0 }] }],
      footprints: [part('wall', 10, 80 - room)],
      exits: [
        { id: 'a', deck: 'main', at: [10, 40] },
        { id: 'b', deck: 'main', at: [90, 40] },
      ],
      wires: [{ id: 'ab', from: { exit: 'a' }, to: { exit: 'b' }, loop: 3.04, ...more }],
    }),
  )
  const result = solve(problem)
  if (!('placements' in result)) throw new Error(result.status)
  return { problem, result }
}

const answer = (name: string, of: ReturnType<typeof walled>): Answer => ({ id: name, name, ...of })
const laid = ({ problem, result }: Answer) =>
  laidLeads(problem, (result as { placements: readonly Placement[] }).placements, WIRING)
const table = (...answers: Answer[]) => cutTable(cutRows(answers, laid), answers.length > 1)

describe('before a wire is cut', () => {
  it('the table says what reaches round what is in the way', () => {
    // 80 mm straight; 40 to 61 and back past the wall: 42 more; 3.04 of loop, rounded up
    const row = ['  ab', '125.1 mm', '']
    expect(table(answer('one', walled(20)))).toEqual({
      heading: 'Cut the wires to these lengths, laid round what is in their way:',
      cells: [row],
    })
    // past 30 mm it is 102
    expect(table(answer('one', walled(30)), answer('two', walled(20)))).toEqual({
      heading: 'Cut the wires to these lengths, laid round what is in their way, and they serve every variant:',
      cells: [row],
    })
  })

  it('and of one that cannot be laid, or does not reach, in which variant', () => {
    const shut = answer('shut', walled(0.5))
    expect(table(shut).cells).toEqual([
      [
        '  ab',
        '–',
        'no way is open on the deck, wall and deck main shut it in; do not cut it yet, make room or measure it with a thread',
      ],
    ])
    const two = table(answer('wide', walled(30)), answer('tight', walled(20, { maxLength: 110 })), shut)
    expect(two.heading).not.toContain('serve every variant')
    expect(two.cells[0]!.slice(0, 2)).toEqual(['  ab', '125.1 mm'])
    expect(two.cells[0]![2]).toMatch(
      /^tight: needs 125.1 mm, there are 110 mm: it does not reach; shut: no way is open/,
    )
  })

  it('so does the list on the page', () => {
    const said = ({ problem, result }: ReturnType<typeof walled>) =>
      leadSaid(result.figures.wires[0]!, routedLeads(problem, result.placements, WIRING, result.figures))
    expect(said(walled(45))).toBe('80 mm, cut to 83.1 mm')
    expect(said(walled(20))).toBe('80 mm straight; round what is there, cut to 125.1 mm')
    expect(said(walled(20, { maxLength: 110 }))).toBe(
      '80 mm straight; round what is there, cut to 125.1 mm, but there are 110 mm of it: it does not reach',
    )
    expect(said(walled(0.5))).toBe('no way is open on the deck; 80 mm straight, do not cut it yet')
  })

  it('and the plan, where nothing is to spare of what has no way', () => {
    const { problem, result } = walled(0.5, { maxLength: 300 })
    expect(routedLeads(problem, result.placements, WIRING, result.figures)).toMatchObject([
      { way: 'barred', spare: undefined, cut: undefined },
    ])
  })

  it('and the findings sheet, which says what is to spare of a lead as it has to be laid', () => {
    const said = ({ problem, result }: ReturnType<typeof walled>) =>
      tightTexts(problem, routedLeads(problem, result.placements, WIRING, result.figures))
    // straight 83.1 of 90 would do: the inspection says that it does not reach
    expect(said(walled(20, { maxLength: 90 }))).toEqual([])
    expect(said(walled(0.5, { maxLength: 90 }))).toEqual([])
    expect(said(walled(45, { maxLength: 90 }))).toEqual([
      'Wire 1, ab, needs 83.1 mm of the 90 mm that there are: 6.9 mm to spare.',
    ])
    expect(said(walled(20, { maxLength: 130 }))).toEqual([
      'Wire 1, ab, needs 125.1 mm of the 130 mm that there are: 4.9 mm to spare.',
    ])
    expect(said(walled(20, { maxLength: 140 }))).toEqual([])
    expect(said(walled(20))).toEqual([])
  })

  it('and a sheet that does not know how leads lie says that it is for straight ways', () => {
    expect(assembly.wiresNote(false, true)).not.toContain('straight')
    expect(assembly.wiresNote(false, false)).toContain('check each with a thread before you cut')
    expect(assembly.wiresNote(false, true)).toContain('cut no shorter than this')
    expect(assembly.wiresNote(false, false)).not.toContain('cut no shorter')
  })
})

it('rows come in the order of the wires', () => {
  const p = problemOf(
    project({
      items: [],
      exits: [0, 1, 2].map((k) => ({ id: `e${k}`, deck: 'main', at: [10 + 30 * k, 10] })),
      wires: [
        { id: 'z', from: { exit: 'e0' }, to: { exit: 'e1' } },
        { id: 'a', from: { exit: 'e1' }, to: { exit: 'e2' } },
      ],
    }),
  )
  expect(laidLeads(p, placed(p, {}), WIRING).map((l) => [l.wire, l.way!.cut])).toEqual([
    [0, mm(30)],
    [1, mm(30)],
  ])
})
