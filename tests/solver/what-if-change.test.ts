/** A change made to a problem and the same change made to the project's file give the same problem. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { shapeToSolver } from '../../footprints/fields.ts'
import { loadLibrary } from '../../footprints/load.ts'
import type { ConflictMember, Place, Problem } from '../../solver/index.ts'
import { mm, um } from '../../solver/units.ts'
import { candidatesOf } from '../../solver/what-if/candidates.ts'
import { applyChanges, type Change, changesText, resized, smallerText } from '../../solver/what-if/index.ts'
import { sizeOf } from '../../solver/what-if/outline.ts'
import { asked } from '../../solver/words-asked.ts'
import { setOut } from '../../src/model/edit-variants.ts'
import { changeProject, type Project, readProject, shapeToFile, toProblem, variantsOf } from '../../src/model/index.ts'
import { deck, item, part, problem as problemOf, pt, rect, wire } from './check-kit.ts'

const library = loadLibrary()

function demo(name: string): Project {
  const r = readProject(readFileSync(join(import.meta.dirname, `../../demo-data/${name}.json`)), name, library)
  if (!r.ok) throw new Error('the demo cannot be read')
  return r.value
}

/** Every change that this problem allows, one of a kind and thing. */
function every(p: Problem): Change[] {
  const out: Change[] = []
  for (const setting of ['edgeClearance', 'itemClearance', 'minWeb'] as const)
    out.push({ kind: 'setting', setting, from: p[setting], to: mm(0.3) })
  for (const w of p.wires) out.push({ kind: 'max-length', wire: w.id, from: mm(1), to: mm(321) })
  for (const e of p.exits) out.push({ kind: 'free', exit: e.id, from: e.free ?? mm(1), to: mm(123.4) })
  for (const d of p.decks) {
    const [longer, wider] = [mm(7), mm(-2)]
    const outline = resized(d.outline, longer, wider)
    const { length, width } = sizeOf(d.outline)
    const to = { length: um(length + longer), width: um(width + wider) }
    if (outline) out.push({ kind: 'outline', deck: d.id, longer, wider, outline, to })
  }
  for (const z of p.zones) out.push({ kind: 'release', zone: z.id })
  for (const base of new Set(p.items.map((i) => i.base))) {
    const copies = p.items.filter((i) => i.base === base)
    out.push({ kind: 'optional', item: base })
    out.push({ kind: 'count', item: base, from: copies.length, to: copies.length + 1 })
    if (copies.length > 1) out.push({ kind: 'count', item: base, from: copies.length, to: copies.length - 1 })
    copies[0]!.place.forEach((place: Place, entry) => {
      out.push({ kind: 'no-place', item: base, entry, place })
      if ('within' in place) out.push({ kind: 'within', item: base, entry, place, from: place.within, to: mm(77) })
    })
  }
  return out
}

describe('changes of problem and of file', () => {
  const kinds = new Map<string, number>()
  for (const name of ['shelf-reader', 'greenhouse-scout', 'duct-inspector']) {
    const project = demo(name)
    const bare = { ...project }
    delete bare.variants
    for (const [asked, ids] of [
      [project, variantsOf(project).map((v) => v.id)],
      [bare, ['base']],
    ] as const)
      for (const id of ids)
        it(`${name}, ${id}: agree, and the file can still be read`, () => {
          const problem = toProblem(asked, id, library)
          const list = every(problem)
          const before = new Map(ids.map((other) => [other, toProblem(asked, other, library)]))
          for (const change of list) {
            kinds.set(change.kind, (kinds.get(change.kind) ?? 0) + 1)
            const { project: changed, patch } = changeProject(asked, id, [change])
            const read = readProject(JSON.stringify(changed), 'changed.json', library)
            if (!read.ok) throw new Error(`${changesText([change])} ${JSON.stringify(read.problems)}`)
            const byHand = applyChanges({ problem, pins: [] }, [change]).problem
            expect(toProblem(read.value, id, library), JSON.stringify(patch)).toEqual(byHand)
            // the other variants are not touched, but by what a variant cannot say
            for (const other of ids)
              if (other !== id && change.kind !== 'free')
                expect(toProblem(read.value, other, library)).toEqual(before.get(other))
          }
          // several at once
          const some = list.filter((c, i) => i % 3 === 0 && c.kind !== 'no-place' && c.kind !== 'count')
          const all = changeProject(asked, id, some).project
          expect(toProblem(all, id, library)).toEqual(applyChanges({ problem, pins: [] }, some).problem)
        })
  }

  it('release a zone as a variant does, so that it can be kept again', () => {
    const { variants: _, ...bare } = demo('greenhouse-scout')
    const { id } = bare.zones![0]!
    const { project, patch } = changeProject(bare, 'base', [{ kind: 'release', zone: id }])
    expect(project).toEqual(setOut(bare, 'base', 'release', id, true, 'here'))
    expect(project.zones).toEqual(bare.zones)
    expect(patch).toEqual([{ op: 'add', path: '/variants', value: [{ id: 'base', release: [id] }] }])
  })

  it('say by which step less was refuted, and no more', () => {
    const gap: Change = { kind: 'setting', setting: 'itemClearance', from: mm(2), to: mm(0.7) }
    const lead: Change = { kind: 'max-length', wire: 'w', from: mm(50.3), to: mm(57.3) }
    expect(smallerText([gap])).toBe('A change 0.1 mm smaller does not do.')
    expect(smallerText([lead])).toBe('A change 1 mm smaller does not do.')
    expect(smallerText([lead, { kind: 'release', zone: 'z' }, gap])).toBe('A change 0.1 or 1 mm smaller does not do.')
    expect(smallerText([{ kind: 'count', item: 'a', from: 3, to: 2 }])).toBe('')
  })

  it('tried every kind', () => {
    for (const kind of [
      'setting',
      'max-length',
      'free',
      'outline',
      'release',
      'optional',
      'count',
      'no-place',
      'within',
    ])
      expect(kinds.get(kind) ?? 0, kind).toBeGreaterThan(0)
  })

  /** What is offered where not all of three may be placed. */
  const fewer = (more: object, now = false): readonly string[] => {
    const footprint = { name: 'part', source: 'invented', kind: 'part', body: { width: 9, depth: 9, height: 5 } }
    const file = {
      format: 'deckwright-project',
      version: 1,
      units: 'mm',
      name: 'later copies',
      decks: [{ id: 'main', z: 50, thickness: 3, outline: { rect: [0, 0, 20, 20] } }],
      footprints: [{ id: 'f', ...footprint, mount: { kind: 'adhesive' }, terminals: [{ id: 't', at: [0, 0] }] }],
      items: [
        { id: 'add', footprint: 'f', count: 3, later: !now },
        { id: 'source', footprint: 'f' },
        { id: 'other', footprint: 'f', later: true },
      ],
      ...more,
    }
    const read = (f: unknown) => {
      const r = readProject(JSON.stringify(f), 'later.json', library)
      if (!r.ok) throw new Error(JSON.stringify(r.problems))
      return r.value
    }
    const project = read(file)
    const problem = toProblem(project, 'base', library)
    const conflict = [{ rule: 'R10' as const, items: ['add'], text: asked.placed('add') }]
    return candidatesOf({ problem, pins: [] }, conflict, new Set()).map((c) => {
      const changes = c.changes(1)!
      // whatever is offered can be read, and asks what was promised
      const after = toProblem(read(changeProject(project, 'base', changes).project), 'base', library)
      expect(after).toEqual(applyChanges({ problem, pins: [] }, changes).problem)
      return changesText(changes)
    })
  }

  it('drop no copy that a wire, a net or a supply names by its number, counted or not', () => {
    const end = (item: string) => ({ item, terminal: 't' })
    const one = ['One add fewer (3 → 2).']
    const wire = (from: string, to: string, more: object = {}) => ({
      wires: [{ id: 'w', from: end(from), to: end(to), ...more }],
    })
    expect(fewer({})).toEqual(one)
    for (const name of ['add', 'add#1', 'add#2']) expect(fewer(wire('source', name))).toEqual(one)
    expect(fewer(wire('source', 'add#3'))).toEqual([])
    expect(fewer(wire('add#3', 'source'))).toEqual([])
    expect(fewer(wire('source', 'add#3'), true)).toEqual([])
    // a wire that does not count for what is at its other end
    expect(fewer(wire('add#3', 'other'), true)).toEqual([])
    expect(fewer(wire('source', 'source', { supply: 'add#3' }), true)).toEqual([])
    const net = (more: object) => ({ nets: [{ id: 'n', ends: [end('source'), end('add#2')], ...more }] })
    expect(fewer(net({}))).toEqual(one)
    expect(fewer(net({ ends: [end('source'), end('add#3')] }))).toEqual([])
    expect(fewer(net({ switch: 'add#3' }))).toEqual([])
    expect(fewer(net({ switch: 'add#3' }), true)).toEqual([])
  })

  it('goes by the number of a copy, also where the file says it of one that is alone', () => {
    const box = { id: 'f', body: { width: 9, depth: 9, height: 5 }, mount: { kind: 'adhesive' } }
    const bare = { format: 'deckwright-project', version: 1, units: 'mm', name: 'numbers' }
    const decks = [{ id: 'main', z: 50, thickness: 3, outline: { rect: [0, 0, 90, 90] } }]
    const footprints = [{ ...box, terminals: [{ id: 't', at: [0, 0] }] }]
    const count = (of: number): Project => {
      const place = [
        { kind: 'near', item: 'add#1', within: 1 },
        { kind: 'beyond', item: 'add', side: 'left' },
      ]
      const items = [
        { id: 'add', footprint: 'f', count: of },
        { id: 'other', footprint: 'f', place },
      ]
      const [one, any] = ['add#1', 'add'].map((item) => ({ item, terminal: 't' }))
      const wires = [{ id: 'w', from: one, to: any }]
      const r = readProject(JSON.stringify({ ...bare, decks, footprints, items, wires }), 'numbers.json', library)
      if (!r.ok) throw new Error(JSON.stringify(r.problems))
      return r.value
    }
    const counted = (from: number, to: number) =>
      applyChanges({ problem: toProblem(count(from), 'base', library), pins: [] }, [
        { kind: 'count', item: 'add', from, to },
      ]).problem
    for (const [from, to] of [
      [1, 2],
      [2, 1],
      [2, 3],
      [3, 2],
    ] as const)
      expect(counted(from, to)).toEqual(toProblem(count(to), 'base', library))
  })

  it('makes no length longer than a file may say: 10 m', () => {
    const box = part(10, 10, 5, { mount: { kind: 'adhesive' } })
    const near = (within: number) => ({ kind: 'near' as const, item: { name: 'b', items: [1] }, within: mm(within) })
    const most = (side: number, of: number): readonly unknown[] => {
      const p = problemOf([item('a', box, { place: [near(of)] }), item('b', box)], {
        decks: [deck(rect(0, 0, side, side))],
        exits: [{ id: 'x', deck: 0, at: pt(0, 0), free: mm(of) }],
        wires: [
          wire(
            { kind: 'exit', exit: 0 },
            { kind: 'item', ref: { name: 'a', items: [0] }, terminal: 't', at: pt(0, 0) },
            { maxLength: mm(of) },
          ),
        ],
      })
      const conflict: ConflictMember[] = [
        { rule: 'R7', items: ['w'], text: '' },
        { rule: 'R10', items: ['a', 'b'], text: asked.place('a', near(of), p.decks) },
      ]
      const all = candidatesOf({ problem: p, pins: [] }, conflict, new Set()).flatMap((c) => c.changes(c.steps)!)
      return all.flatMap((c) => ('to' in c && typeof c.to === 'number' ? [[c.kind, c.to / 1000]] : []))
    }
    const three = (to: number) => [
      ['max-length', to],
      ['free', to],
      ['within', to],
    ]
    // there and back across a square of 1 m are 4 m, and across it once 2 m; of one of 10 m the file cannot say as much
    expect(most(1000, 500)).toEqual([...three(4000).slice(0, 2), ['within', 2000]])
    expect(most(10_000, 500)).toEqual(three(10_000))
    expect(most(10_000, 500.5)).toEqual(three(9999.5))
    expect(most(10_000, 9999.5)).toEqual([])
  })

  it('writes shapes that are read as what they were', () => {
    for (const s of [
      { rect: [1, 2, 30, 40], radius: 3 },
      { circle: [5, 6, 7.5] },
      {
        polygon: [
          [0, 0],
          [10, 0, 0.5],
          [10, 10],
        ],
      },
      { sector: [1, 1, 9, 300, 420] },
    ] as Parameters<typeof shapeToSolver>[0][])
      expect(shapeToSolver(shapeToFile(shapeToSolver(s)))).toEqual(shapeToSolver(s))
  })
})
