/** What was built as an edit of the project: ids, variants, twice is once, holes moved by hand, and all errors in words. */
import { describe, expect, it } from 'vitest'
import { check, mm, type Placement } from '../../solver/index.ts'
import { built, moveHole, newHoles, type Project, toProblem } from '../../src/model/index.ts'
import { none, read } from './full-project.ts'

const hole = (id: string, x: number, y: number, diameter = 3.4) => ({ id, at: [x, y] as [number, number], diameter })

/** Two boards, a part in a cut-out, a strapped pack, and one board that comes later, on two plates. */
const robot = (): Project =>
  read({
    format: 'deckwright-project',
    version: 1,
    units: 'mm',
    name: 'shed walker',
    decks: [
      { id: 'main', z: 40, thickness: 3, outline: { rect: [0, 0, 200, 120] }, holes: [hole('built-2', 190, 110, 4)] },
      { id: 'top', z: 90, thickness: 3, outline: { rect: [0, 0, 100, 80] } },
    ],
    footprints: [
      {
        id: 'board',
        source: 'invented',
        body: { width: 40, depth: 30, height: 10 },
        mount: { kind: 'screw', holes: [hole('a', 4, 4), hole('b', 36, 26)] },
      },
      {
        id: 'servo',
        source: 'invented',
        body: { width: 40, depth: 20, height: 30 },
        mount: { kind: 'drop-in', cutout: [10, 5, 20, 10], below: 10, holes: [hole('a', 4, 10, 2.4)] },
      },
      {
        id: 'pack',
        source: 'invented',
        body: { width: 40, depth: 20, height: 10 },
        mount: {
          kind: 'strap',
          slots: [
            [12, 1, 16, 3],
            [12, 16, 16, 3],
          ],
        },
      },
    ],
    items: [
      { id: 'left', footprint: 'board' },
      { id: 'right', footprint: 'board' },
      { id: 'neck', footprint: 'servo', decks: ['main'] },
      { id: 'cells', footprint: 'pack', required: false },
      { id: 'arm', footprint: 'board', later: true },
    ],
    variants: [
      { id: 'plain' },
      { id: 'other', decks: { main: { holes: [hole('own', 14, 14), hole('more', 60, 110)] } } },
      { id: 'thick', decks: { main: { thickness: 5 } } },
    ],
  })

const at = (item: number, deck: number, x: number, y: number, turn: 0 | 1 | 2 | 3 = 0): Placement => ({
  item,
  deck,
  at: { x: mm(x), y: mm(y) },
  turn,
})
const placed = [at(0, 0, 10, 10), at(1, 1, 10, 10, 1), at(2, 0, 60, 10), at(3, 0, 60, 60), at(4, 0, 120, 10)]
const build = (project: Project, variant = 'plain', deck?: string) => {
  const done = built(project, toProblem(project, variant, none), placed, deck)
  if (!done.ok) throw new Error(JSON.stringify(done.problems))
  return done
}

describe('built', () => {
  it('adds what was drilled and cut, with ids of its own, and nothing for what comes later', () => {
    const before = robot()
    const { project, added } = build(before)
    expect(added).toEqual([
      {
        deck: 'main',
        holes: ['built-1', 'built-3', 'built-4'],
        openings: ['built-cutout-1', 'built-slot-1', 'built-slot-2'],
      },
      { deck: 'top', holes: ['built-1', 'built-2'], openings: [] },
    ])
    // The narrow hole first, then by x: the servo's at (60 + 4, 10 + 10), the board's at (14, 14) and (46, 36).
    expect(project.decks[0]!.holes).toEqual([
      hole('built-2', 190, 110, 4),
      hole('built-1', 64, 20, 2.4),
      hole('built-3', 14, 14),
      hole('built-4', 46, 36),
    ])
    // Turned once, (4, 4) of a 40 × 30 body goes to (26, 4), and (36, 26) to (4, 36).
    expect(project.decks[1]!.holes).toEqual([hole('built-1', 14, 46), hole('built-2', 36, 14)])
    expect(project.decks[0]!.openings).toEqual([
      { id: 'built-cutout-1', shape: { rect: [70, 15, 20, 10] } },
      { id: 'built-slot-1', shape: { rect: [72, 61, 16, 3] }, mayCover: true, strap: true },
      { id: 'built-slot-2', shape: { rect: [72, 76, 16, 3] }, mayCover: true, strap: true },
    ])
    expect(project.decks[1]!.openings).toBeUndefined()
    expect(before).toEqual(robot())
    read(project)
  })

  it('goes into the lists that a variant keeps for the deck, where it is not there already', () => {
    const { project } = build(robot())
    const [plain, other, thick] = project.variants!
    expect(plain).toEqual({ id: 'plain' })
    expect(thick).toEqual({ id: 'thick', decks: { main: { thickness: 5 } } })
    expect(other!.decks!.main!.holes!.map((h) => h.id)).toEqual(['own', 'more', 'built-1', 'built-4'])
    expect(other!.decks!.main!.openings).toBeUndefined()
    for (const v of ['plain', 'other', 'thick']) {
      const count = newHoles(toProblem(project, v, none), placed)
      expect(count.map((c) => [c.deck, c.reused, c.new])).toEqual([
        ['main', 3, 0],
        ['top', 2, 0],
      ])
    }
  })

  it('adds nothing where nothing was drilled: a hole that the layout reused stays in the lists that have it', () => {
    const before = robot()
    before.decks[0]!.holes!.push(hole('x', 14, 14, 3.6))
    before.variants!.push({ id: 'fresh', decks: { main: { holes: [] } } })
    const ids = (project: Project, variant?: string) =>
      (variant === undefined
        ? project.decks[0]!
        : project.variants!.find((v) => v.id === variant)!.decks!.main!
      ).holes!.map((h) => h.id)
    const { project, added } = build(before)
    expect(added[0]!.holes).toEqual(['built-1', 'built-3'])
    expect(ids(project)).toEqual(['built-2', 'x', 'built-1', 'built-3'])
    expect(ids(project, 'fresh')).toEqual(['built-1', 'built-3'])
    // The other way round: what the variant's own plate has was not drilled into the others' either.
    const mine = build(robot(), 'other').project
    expect(mine.decks[0]!.holes).toEqual([
      hole('built-2', 190, 110, 4),
      hole('built-1', 64, 20, 2.4),
      hole('built-3', 46, 36),
    ])
    // And one that is there for some, and drilled for this layout, goes where it is missing.
    const anew = build(before, 'fresh').project
    expect(ids(anew)).toEqual(['built-2', 'x', 'built-1', 'built-4'])
    expect(ids(anew, 'fresh')).toEqual(['built-1', 'built-3', 'built-4'])
  })

  it('does twice what it does once, also when the layout was read before the first time', () => {
    const once = build(robot())
    const twice = build(once.project)
    expect(twice).toEqual({ ok: true, project: once.project, added: [] })
    const stale = built(once.project, toProblem(robot(), 'plain', none), placed)
    expect(stale).toEqual({ ok: true, project: once.project, added: [] })
  })

  it('builds one deck alone where asked', () => {
    const { project, added } = build(robot(), 'plain', 'top')
    expect(added.map((a) => a.deck)).toEqual(['top'])
    expect(project.decks[0]).toEqual(robot().decks[0])
  })

  it('adds a hole over one that is too narrow or too wide to be it', () => {
    for (const [diameter, ids] of [
      [3.39, ['built-1', 'built-2']],
      [3.4, ['built-1']],
      [3.9, ['built-1']],
      [3.91, ['built-1', 'built-2']],
    ] as const) {
      const project = robot()
      project.decks[1]!.holes = [hole('there', 14, 46, diameter)]
      expect(build(project, 'plain', 'top').added[0]!.holes, String(diameter)).toEqual(ids)
    }
  })

  it('refuses a deck that is not there', () => {
    const done = built(robot(), toProblem(robot(), 'plain', none), placed, 'topp')
    expect(done).toEqual({
      ok: false,
      problems: [{ path: 'deck', found: '"topp"', expected: 'one of "main", "top" (did you mean "top"?)' }],
    })
  })

  it('refuses what the project could not say: a deck may reach farther out than its numbers', () => {
    const project = robot()
    project.decks[0]!.outline = { rect: [9900, 9900, 200, 200] }
    const far = (x: number) =>
      built(project, toProblem(project, 'plain', none), [at(0, 0, x, 9900), at(2, 0, 10_000, 9950)])
    const said = (place: string) => ({
      path: 'at',
      found: place,
      expected:
        'a place on deck "main" with both numbers from -10000 to 10000: a project file has no holes and openings beyond',
    })
    const neck = ['[10004, 9960]', '[10010, 9955]'].map(said)
    expect(far(9964)).toEqual({ ok: false, problems: neck })
    expect(far(9964.001)).toEqual({ ok: false, problems: [said('[10000.001, 9926]'), ...neck] })
  })

  it('leaves a layout legal, slots reused with the rest', () => {
    const before = toProblem(robot(), 'plain', none)
    expect(check(before, placed)).toEqual([])
    const after = toProblem(build(robot()).project, 'plain', none)
    expect(check(after, placed)).toEqual([])
    // 0.1 mm aside is still the same slot, more is not.
    const aside = (by: number) => check(after, [...placed.slice(0, 3), at(3, 0, 60 + by, 60), placed[4]!])
    expect(aside(0.1).filter((f) => f.rule === 'R5')).toEqual([])
    expect(
      new Set(
        aside(0.101)
          .filter((f) => f.rule === 'R5')
          .map((f) => f.items[0]),
      ),
    ).toEqual(new Set(['cells']))
  })

  it('lets no slot be an opening that was not cut for a strap', () => {
    const { project } = build(robot())
    for (const o of project.decks[0]!.openings!) delete o.strap
    const findings = check(toProblem(project, 'plain', none), placed)
    expect(new Set(findings.map((f) => `${f.rule} ${f.items[0]}`))).toEqual(new Set(['R5 cells']))
  })
})

describe('newHoles', () => {
  it('counts what is there and what is to be made', () => {
    const p = robot()
    expect(newHoles(toProblem(p, 'plain', none), placed)).toEqual([
      { deck: 'main', reused: 0, new: 3, reusedCuts: 0, newCuts: 3 },
      { deck: 'top', reused: 0, new: 2, reusedCuts: 0, newCuts: 0 },
    ])
    // The left board goes 5 mm to the right: its two holes are new, the servo's and its cut-out stay.
    const moved = [at(0, 0, 15, 10), ...placed.slice(1)]
    const after = toProblem(build(p).project, 'plain', none)
    expect(newHoles(after, moved)[0]).toMatchObject({ deck: 'main', reused: 1, new: 2, reusedCuts: 3, newCuts: 0 })
  })
})

describe('moveHole', () => {
  const project = build(robot()).project
  const move = (...args: Parameters<typeof moveHole> extends [Project, ...infer Rest] ? Rest : never) =>
    moveHole(project, ...args)

  it('puts a hole where it was really drilled, in all lists that have it', () => {
    const done = move('main', 'built-4', [46.1234, 35.8])
    if (!done.ok) throw new Error('refused')
    expect(done.project.decks[0]!.holes!.at(-1)).toEqual(hole('built-4', 46.123, 35.8))
    expect(done.project.variants![1]!.decks!.main!.holes!.at(-1)).toEqual(hole('built-4', 46.123, 35.8))
    expect(done.project.decks[1]).toBe(project.decks[1])
    // 0.234 mm off is no longer the same hole.
    expect(newHoles(toProblem(done.project, 'plain', none), placed)[0]).toMatchObject({ reused: 2, new: 1 })
    const near = move('main', 'built-4', [46.05, 36])
    expect(near.ok && newHoles(toProblem(near.project, 'plain', none), placed)[0]).toMatchObject({ reused: 3, new: 0 })
  })

  it('takes the width that it came out with', () => {
    const done = move('top', 'built-1', [14, 46], 3.6)
    expect(done.ok && done.project.decks[1]!.holes![0]).toEqual(hole('built-1', 14, 46, 3.6))
  })

  it('refuses in words what cannot be', () => {
    const told = (...args: Parameters<typeof move>) => {
      const done = move(...args)
      return done.ok ? [] : done.problems.map((p) => `${p.path}: found ${p.found}, expected ${p.expected}`)
    }
    expect(told('mian', 'built-1', [1, 1])).toEqual([
      'deck: found "mian", expected one of "main", "top" (did you mean "main"?)',
    ])
    expect(told('top', 'built-7', [Number.NaN, 1e9], -1)).toEqual([
      'hole: found "built-7", expected one of "built-1", "built-2" (did you mean "built-1"?)',
      'at[0]: found a number too large, expected a number of mm from -10000 to 10000',
      'at[1]: found 1000000000, expected a number of mm from -10000 to 10000',
      'diameter: found -1, expected a length in mm from 0.001 to 10000',
    ])
    expect(told('top', 'built-1', [101, 40])).toEqual([
      'at: found [101, 40], expected a place on deck "top", within its outline',
    ])
  })
})
