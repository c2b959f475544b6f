/** What stands on what a layout cuts: hand-made decks, at, just inside and just outside each limit. */
import { describe, expect, it } from 'vitest'
import { check, mm, type Placement, type Problem } from '../../solver/index.ts'
import { onceCut } from '../../src/inspect/once-cut.ts'
import { built } from '../../src/model/built.ts'
import { readProject, toProblem } from '../../src/model/index.ts'

const library = new Map()
const board = (kind: string, more: object = {}) => ({
  id: kind,
  body: { width: 20, depth: 20, height: 10 },
  mount: { kind, ...more },
})
const pack = board('strap', { slots: [[21, 5, 3, 10]] })
/** A servo in a cut-out of 14 × 10 mm, its screw 3 mm beside it. */
const servo = (land: number) =>
  board('drop-in', { cutout: [3, 5, 14, 10], below: 8, holes: [{ id: 'l', at: [20, 10], diameter: 2, land }] })

function laid(footprints: readonly { id: string }[], at: readonly (readonly [number, number])[]) {
  const text = JSON.stringify({
    format: 'deckwright-project',
    version: 1,
    units: 'mm',
    name: 'cuts',
    settings: { grid: 0.5, edgeClearance: 1, minWeb: 0.5 },
    decks: [{ id: 'm', z: 30, thickness: 3, outline: { rect: [0, 0, 80, 60] } }],
    footprints,
    items: footprints.map(({ id }) => ({ id, footprint: id, turns: [0] })),
  })
  const read = readProject(new TextEncoder().encode(text), 'cuts.json', library)
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  const problem: Problem = toProblem(read.value, 'base', library)
  const placements = at.map(([x, y], item): Placement => ({ item, deck: 0, at: { x: mm(x), y: mm(y) }, turn: 0 }))
  expect(check(problem, placements)).toEqual([])
  const done = built(read.value, problem, placements)
  if (!done.ok) throw new Error('not built')
  /** The rules that the same layout breaks on the deck as it is then. */
  const after = check(toProblem(done.project, 'base', library), placements).map((f) => f.rule)
  return { found: onceCut(problem, placements), after }
}

describe('once it is cut', () => {
  it('what is stuck down shuts a strap’s slot, but not where it touches; what is screwed down does not', () => {
    // the slot goes from x 26 to 29, y 10 to 20
    const over = laid(
      [pack, board('adhesive')],
      [
        [5, 5],
        [28.5, 5],
      ],
    )
    expect(over.found).toEqual([
      {
        kind: 'slot-covered',
        topic: 'cut',
        weight: 'stops',
        items: ['adhesive', 'strap'],
        text: 'adhesive is stuck down over strap slot 1 of strap, so that no strap can be passed through it.',
      },
    ])
    expect(over.after).toEqual(['R1'])
    for (const at of [
      [29, 5],
      [28, 20],
    ] as const)
      expect(laid([pack, board('adhesive')], [[5, 5], at])).toEqual({ found: [], after: [] })
    expect(
      laid(
        [pack, board('screw', { holes: [] })],
        [
          [5, 5],
          [28, 5],
        ],
      ).found,
    ).toEqual([])
  })

  it('a washer over the edge of its own part’s cut-out bears on less', () => {
    // 3 mm from the hole to the cut-out
    expect(laid([servo(6)], [[10, 10]])).toEqual({ found: [], after: [] })
    const wide = laid([servo(7)], [[10, 10]])
    expect(wide.after).toEqual(['R5'])
    expect(wide.found).toMatchObject([{ kind: 'land-cut', weight: 'worth-knowing', items: ['drop-in'] }])
    expect(wide.found[0]!.text).toBe(
      'The head or washer of hole l of drop-in reaches 0.5 mm into the cut-out of drop-in, once that is cut: it bears on less.',
    )
  })

  it('a part over another’s cut-out has nothing under it', () => {
    const beyond = board('drop-in', { cutout: [5, 5, 22, 10], below: 8, holes: [] })
    const over = laid(
      [beyond, board('adhesive')],
      [
        [5, 5],
        [31.5, 5],
      ],
    )
    expect(over.found).toMatchObject([{ kind: 'cut-out-covered', items: ['adhesive', 'drop-in'] }])
    expect(over.after).toEqual(['R1'])
    // clearance is the rules' own to ask: what stands beside it stands
    expect(
      laid(
        [beyond, board('adhesive')],
        [
          [5, 5],
          [33, 5],
        ],
      ),
    ).toEqual({ found: [], after: [] })
  })
})
