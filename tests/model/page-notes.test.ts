import { describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import { filesWith } from '../../src/store/files.ts'

const files = filesWith(loadLibrary())
const block = {
  id: 'block',
  source: 'invented',
  body: { width: 20, depth: 20, height: 5 },
  mount: { kind: 'adhesive' },
}
const file = {
  format: 'deckwright-project',
  version: 1,
  units: 'mm',
  name: 'two blocks',
  decks: [{ id: 'main', z: 50, thickness: 3, outline: { rect: [0, 0, 100, 60] } }],
  footprints: [block],
  items: [
    { id: 'brain', footprint: 'block' },
    { id: 'cells', footprint: 'block' },
  ],
}
const at = (item: string, x: number) => ({ item, deck: 'main', at: [x, 0], turn: 0 })
const photo = {
  picture: 'p',
  file: 'p.png',
  size: [90, 60],
  points: [
    [0, 0],
    [50, 0],
  ],
  distance: 20,
  at: [0, 0],
  angle: 0,
}
const page = {
  holds: { base: ['cells'] },
  built: {},
  placements: { base: [at('brain', 0), at('cells', 40)] },
  notes: { base: 'looks well' },
  marked: 'base',
  underlays: { main: photo },
}
/** What is said of the file with that in its `page`, and what of it counts. */
const opened = (changed: unknown) => {
  const read = files.open(JSON.stringify({ ...file, page: changed }), 'two.json')
  if (read.kind !== 'opened') throw new Error(JSON.stringify(read.problems))
  const [sheet] = read.doc.sheets
  return {
    said: read.notices.map((n) => `${n.path}: found ${n.found}, expected ${n.expected}`),
    holds: sheet!.holds,
    placed: (sheet!.placements ?? []).map((p) => sheet!.problem.items[p.item]!.id),
  }
}

describe('what the page keeps in a file', () => {
  it('is taken without a word where it is sound', () => {
    expect(opened(page)).toEqual({ said: [], holds: ['cells'], placed: ['brain', 'cells'] })
    expect(opened(undefined)).toEqual({ said: [], holds: [], placed: [] })
    expect(opened({})).toEqual({ said: [], holds: [], placed: [] })
  })

  it('is named where it is not, and what is good in it counts', () => {
    const places = (...base: unknown[]) => ({ ...page, placements: { base } })
    const unheld = 'page.holds.base[0]: found "cells", expected an item that has a place in page.placements.base'
    const both = ['brain', 'cells']
    const cases: [unknown, string[], string[], string[]][] = [
      [null, ['page: found null, expected an object'], [], []],
      ['x', ['page: found "x", expected an object'], [], []],
      [
        { ...page, holds: { base: ['cellz', 'cells'] } },
        ['page.holds.base[0]: found "cellz", expected one of "brain", "cells" (did you mean "cells"?)'],
        ['cells'],
        both,
      ],
      [{ ...page, holds: { base: 'cells' } }, ['page.holds.base: found "cells", expected a list'], [], both],
      [{ ...page, built: { bse: ['cells'] } }, ['page.built.bse: found "bse", expected "base"'], ['cells'], both],
      [
        places(at('brain', 0), { ...at('cells', 40), at: ['x', 3] }),
        ['page.placements.base[1].at[0]: found "x", expected a number of mm from -15000000 to 15000000', unheld],
        [],
        ['brain'],
      ],
      [
        places({ ...at('brain', 0), turn: 7 }, at('cells', 40)),
        ['page.placements.base[0].turn: found 7, expected one of 0, 1, 2, 3 (quarter turns)'],
        ['cells'],
        ['cells'],
      ],
      [
        places(at('brian', 0), { ...at('cells', 40), deck: 'man' }),
        [
          'page.placements.base[0].item: found "brian", expected one of "brain", "cells" (did you mean "brain"?)',
          'page.placements.base[1].deck: found "man", expected "main"',
          unheld,
        ],
        [],
        [],
      ],
      [{ ...page, placements: null }, ['page.placements: found null, expected an object by id', unheld], [], []],
      [{ ...page, notes: { base: 3 } }, ['page.notes.base: found 3, expected text'], ['cells'], both],
      [{ ...page, marked: 'bass' }, ['page.marked: found "bass", expected "base"'], ['cells'], both],
      [
        { ...page, underlays: { main: { ...photo, distance: 0 } } },
        [expect.stringMatching(/^page\.underlays\.main: found .*, expected a photo: "picture", .* "distance"/)],
        ['cells'],
        both,
      ],
      [
        { ...page, hold: {} },
        [expect.stringMatching(/^page\.hold: found an unknown field, expected .*"holds"/)],
        ['cells'],
        both,
      ],
    ]
    for (const [changed, said, holds, placed] of cases) expect(opened(changed)).toEqual({ said, holds, placed })
  })

  it('hides no other field that begins like its own', () => {
    const read = files.open(JSON.stringify({ ...file, 'page-size': 3 }), 'two.json')
    expect(read).toMatchObject({ kind: 'opened', notices: [{ found: 'an unknown field' }] })
  })
})
