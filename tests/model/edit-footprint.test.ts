import { describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import type { FootprintFile } from '../../footprints/schema.ts'
import { emptyProject } from '../../src/model/edit.ts'
import {
  copyOfFootprint,
  cornerHoles,
  cornersApart,
  emptyFootprint,
  footprintProblems,
  footprintsOf,
  footprintText,
  freeFootprintId,
  mountedBy,
  oddities,
  pinRows,
  readFootprint,
  usersOf,
  withAt,
  withOwnFootprint,
} from '../../src/model/edit-footprint.ts'
import { addPart, setItem } from '../../src/model/edit-items.ts'

const library = loadLibrary()
const sourced = (f: FootprintFile): FootprintFile => ({ ...f, source: 'measured by hand' })

describe('a draft', () => {
  it('lacks nothing but its source, from nothing or from a copy of any part', () => {
    const drafts = [emptyFootprint('mine'), ...[...library.values()].map((f) => copyOfFootprint(f, 'mine'))]
    for (const draft of drafts) {
      expect(footprintProblems(draft)).toEqual([
        { path: 'source', found: 'nothing', expected: expect.stringContaining('measured by hand') },
      ])
      expect(footprintProblems(sourced(draft))).toEqual([])
    }
  })

  it('changes nothing that it was copied from', () => {
    const before = JSON.stringify(library.get('driver-2x6'))
    const draft = copyOfFootprint(library.get('driver-2x6')!, 'mine')
    withAt(draft, ['plug', 'pins', 0, 'at', 0], 99)
    draft.body.width = 1
    expect(JSON.stringify(library.get('driver-2x6'))).toBe(before)
  })

  it('goes through every way to be held, and only the fields of that way stay', () => {
    for (const f of library.values())
      for (const kind of ['screw', 'adhesive', 'strap', 'drop-in', 'plug-in'] as const) {
        const next = mountedBy(sourced(f), kind)
        expect(next.mount.kind).toBe(kind)
        expect(footprintProblems(next), `${f.id} ${kind}`).toEqual([])
      }
    const holes = mountedBy(library.get('computer-65x30')!, 'drop-in').mount
    expect('holes' in holes && holes.holes).toHaveLength(4)
  })

  it('names the field of what is wrong', () => {
    const wrong = withAt(withAt(sourced(emptyFootprint('mine')), ['body', 'width'], -4), ['mass'], 2e6)
    expect(
      footprintProblems(wrong)
        .map((p) => p.path)
        .sort(),
    ).toEqual(['body.width', 'mass'])
    const twice = withAt(
      sourced(emptyFootprint('mine')),
      ['terminals'],
      [
        { id: 't', at: [1, 1] },
        { id: 't', at: [2, 2] },
      ],
    )
    expect(footprintProblems(twice)[0]?.path).toBe('terminals[1].id')
  })

  it('finds nothing odd in the library but what stands out on purpose', () => {
    const odd = [...library.values()].flatMap((f) => oddities(f).map((o) => [f.id, o.kind, 'what' in o ? o.what : '']))
    expect(odd.filter(([, kind]) => kind === 'off-pitch' || kind === 'no-holes')).toEqual([])
  })

  it('finds what is odd', () => {
    let f = mountedBy(emptyFootprint('mine'), 'screw')
    expect(oddities(f)).toEqual([{ kind: 'no-holes' }])
    f = withAt(f, ['mount', 'holes', 0], { id: 'h1', at: [1, 5], diameter: 3.4 })
    expect(oddities(f)).toEqual([{ kind: 'outside', what: 'hole', id: 'h1' }])
    const plug = mountedBy(emptyFootprint('mine'), 'plug-in')
    const pins = [
      { id: '1', at: [1, 1] },
      { id: '2', at: [3.55, 1] },
      { id: '3', at: [6.1, 1] },
    ]
    // 2.55 and 5.1 apart: 0.01 and 0.02 off the pitch; the first is what R6 still allows
    expect(oddities(withAt(plug, ['plug', 'pins'], pins))).toEqual([{ kind: 'off-pitch', pin: '3' }])
  })
})

describe('measurements', () => {
  it('puts four holes in the middle, as far apart as measured', () => {
    const holes = cornerHoles({ width: 65, depth: 30, height: 9 }, 58, 23, { diameter: 2.9 })
    expect(holes.map((h) => h.at)).toEqual([
      [3.5, 3.5],
      [61.5, 3.5],
      [3.5, 26.5],
      [61.5, 26.5],
    ])
  })

  it('puts them as far apart as typed to the micrometre, whatever the body', () => {
    // 1 5/8 in and 1 1/8 in: half of what is left over ends in half a micrometre
    const body = { width: 41.275, depth: 28.575, height: 9 }
    const [a, b, c] = cornerHoles(body, 34, 22, { diameter: 2.9 }).map((h) => h.at)
    expect([b![0] - a![0], c![1] - a![1]]).toEqual([34, 22])
    expect(cornersApart(body.width)).toBe(34)
    const [first, , , last] = pinRows(body, 2, 2, 7.62).map((p) => p.at)
    expect(last![1] - first![1]).toBeCloseTo(7.62, 9)
  })

  it('numbers two rows of pins anticlockwise, on the pitch', () => {
    const body = { width: 12, depth: 10, height: 3 }
    const pins = pinRows(body, 4, 2, 7.62)
    expect(pins.map((p) => p.id)).toEqual(['1', '2', '3', '4', '5', '6', '7', '8'])
    expect(pins[4]!.at[0]).toBe(pins[3]!.at[0])
    expect(pins[7]!.at).toEqual([pins[0]!.at[0], pins[0]!.at[1] + 7.62])
    const part = { ...sourced(mountedBy(emptyFootprint('p'), 'plug-in')), body, plug: { pins } }
    expect(footprintProblems(part)).toEqual([])
    expect(oddities(part)).toEqual([])
  })
})

describe('saving', () => {
  const project = emptyProject(160, 120)
  const mine = sourced(emptyFootprint('mine'))

  it('stands in the project once, and beats the library', () => {
    const one = withOwnFootprint(project, mine)
    const two = withOwnFootprint(one, { ...mine, name: 'better' })
    expect(two.footprints).toEqual([{ ...mine, name: 'better' }])
    const odd = withOwnFootprint(project, { ...mine, id: 'breadboard-400' })
    expect(footprintsOf(odd, library).get('breadboard-400')?.name).toBe('a new part')
    expect(footprintsOf(odd, library).size).toBe(library.size)
    expect(freeFootprintId(one, library, 'mine')).toBe('mine-2')
    expect(freeFootprintId(one, library, 'breadboard-400')).toBe('breadboard-400-2')
  })

  it('knows who uses a footprint', () => {
    const used = addPart(withOwnFootprint(project, mine), 'mine').project
    const asked = { ...used, variants: [{ id: 'v', items: { mine: { footprint: 'mine' } } }] }
    expect(usersOf(asked, 'mine')).toEqual(['mine', 'mine (v)'])
    expect(usersOf(setItem(used, 'base', 'mine', { footprint: 'lamp-mast' }), 'mine')).toEqual([])
  })

  it('is a file of its own that comes back the same', () => {
    for (const f of library.values()) {
      const read = readFootprint(footprintText(f), 'part.json')
      expect(read.ok && read.value).toEqual(f)
    }
  })

  it('says what is wrong with a file, and never throws', () => {
    const read = readFootprint('{"format":"deckwright-footprint","version":1,"id":"x","body":{"width":-1}}', 'x.json')
    expect(read.ok).toBe(false)
    expect(!read.ok && read.problems.map((p) => p.path)).toEqual(
      expect.arrayContaining(['mount', 'body.width', 'body.depth', 'body.height']),
    )
    for (const text of ['', '[]', '{', '{"format":"deckwright-project","version":1}', '{"version":7}'])
      expect(readFootprint(text, 'x.json').ok).toBe(false)
  })
})
