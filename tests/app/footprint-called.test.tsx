/** What is wrong with a part on its bench is told by the labels that stand there, not by a file's fields. */
import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import type { Path } from '../../footprints/problems.ts'
import type { FootprintFile } from '../../footprints/schema.ts'
import { emptyFootprint, footprintProblems } from '../../src/model/edit-footprint.ts'
import { fieldCalled, inForm } from '../../src/panels/footprint-called.ts'
import FootprintEditor from '../../src/panels/footprint-editor.tsx'
import { Desk } from '../../src/panels/parts-use.ts'
import { Here } from '../../src/panels/use.ts'
import { createPartsDesk } from '../../src/store/parts-desk.ts'
import { createDeckwright } from '../../src/store/store.ts'
import { words } from '../../src/words/index.ts'
import { files, handPool, text } from './store-sample.ts'

const part = (more: object): FootprintFile => ({ ...emptyFootprint('x'), source: 'invented', ...more }) as FootprintFile
const told = (more: object): string[] => {
  const draft = part(more)
  return footprintProblems(draft).map((p) => {
    const { field, found, expected } = inForm(draft, p)
    return words.footprint.refusedAt(field, found, expected)
  })
}

/** Paths of all that a value is made of. */
function leaves(value: unknown, path: Path = []): Path[] {
  if (typeof value !== 'object' || value === null) return [path]
  const entries = Array.isArray(value) ? value.map((v, k) => [k, v] as const) : Object.entries(value)
  return entries.flatMap(([key, v]) => leaves(v, [...path, key]))
}

const hole = { id: 'h1', at: [3, 3], diameter: 3.2, land: 6, screw: 'M3' }
const carries = {
  id: 'a',
  at: [1, 1],
  name: 'plus',
  kind: 'supply-in',
  volts: [5, 6],
  conductors: 2,
  plug: 'p',
  program: true,
  also: ['digital'],
}
const look = { from: [1, 2, 3], towards: 10, width: 30, height: 20, range: 400 }
const rooms = [
  { rect: [0, 0, 9, 9], radius: 1 },
  { circle: [5, 5, 3] },
  { sector: [5, 5, 3, 0, 90] },
  {
    polygon: [
      [0, 0],
      [9, 0, 0.5],
      [9, 9],
    ],
  },
].map((shape, k) => ({ id: `r${k}`, shape, z: [0, 5], why: 'plug', access: 'cells' }))
const solid = { id: 's', box: [0, 0, 0, 1, 1, 1] }
/** Together they have every field that a part can have. */
const whole: object[] = [
  { mount: { kind: 'screw', standoff: 5, holes: [hole] }, mass: 3, above: 4, corridors: rooms, terminals: [carries] },
  {
    mount: { kind: 'drop-in', cutout: [1, 1, 9, 9], below: 3, holes: [hole] },
    indicators: [{ id: 'l', at: [1, 1], name: 'on' }],
  },
  { mount: { kind: 'strap', slots: [[1, 1, 9, 3]] }, view: look },
  { mount: { kind: 'plug-in' }, plug: { pins: [carries], lamps: 'front' } },
  {
    breadboard: {
      pitch: 2.54,
      blocks: [
        { at: [2, 2], columns: 9, rows: 2, strip: 'row' },
        { at: [2, 20], columns: 9, rows: 2, strip: 'row' },
      ],
      joined: [[0, 1]],
    },
  },
  {
    head: {
      pivot: [5, 5],
      pan: [-90, 90],
      reach: 30,
      tail: 9,
      z: [5, 20],
      tilt: [-30, 30],
      tiltAxis: [2, 15],
      payload: [solid],
      bracket: [solid],
      view: { from: [0, 0, 0], width: 60, height: 40, range: 100 },
    },
  },
  {
    power: {
      part: 'motor',
      rating: 3,
      load: { idle: 1, running: 2, stall: 3, min: 4, max: 6 },
      supply: { cells: 2, parallel: 2, volts: 1.5, ohms: 0.1, capacity: 2, fuse: 3, switched: true },
      output: { volts: 5, efficiency: 0.9 },
    },
  },
]

describe('what is wrong with a part', () => {
  it('is told in the words of its form', () => {
    expect(told({ source: '' })[0]).toMatch(/^Where the numbers are from: found nothing; expected /)
    expect(told({ mount: { kind: 'screw', holes: [hole, hole] }, terminals: [{ id: 'a#', at: [1, 1] }] })).toEqual([
      'Hole h1, Id: found "h1"; expected another id: Hole h1 has it already.',
      'Terminal a#, Id: found "a#"; expected a name without the sign #, and not empty.',
    ])
    expect(told({ terminals: [{ ...carries, volts: [9, 5] }] })).toEqual([
      'Terminal a, Volts at least and Volts at most: found 9, 5; expected the lower voltage first, and not above the other.',
    ])
    expect(told({ mount: { kind: 'adhesive' }, plug: { pins: [carries] } })).toEqual([
      'Pins: found pins on a part that is stuck down; expected none, or a part that is plugged into a breadboard.',
    ])
    expect(told({ mount: { kind: 'plug-in' } })).toEqual([
      'Pins: found nothing; expected the pins of what is plugged into a breadboard.',
    ])
    const columns = { at: [2, 2], columns: 3, rows: 3, strip: 'column' }
    const rows = 'Contacts, Rows that are one conductor, such as “3 and 4; 5 and 6”'
    expect(told({ breadboard: { pitch: 2.54, blocks: [columns], joined: [[0, 7]] } })).toEqual([
      `${rows}: found 1; expected the number of a block whose conductors are rows.`,
      `${rows}: found 8; expected the number of a block whose conductors are rows.`,
    ])
    expect(told({ terminals: [{ id: '', at: [1, 1] }] })[0]).toMatch(/^Terminal 1, Id: found ""/)
    expect(
      told({
        corridors: [
          { id: 'plug', shape: { rect: [0, 0, 20, 10], radius: 9 }, z: [10, 5] },
          {
            id: 'hand',
            shape: {
              polygon: [
                [0, 0],
                [10, 10],
                [10, 0],
                [0, 10],
              ],
            },
            z: [0, 5],
          },
        ],
        breadboard: { blocks: [] },
        head: { pivot: [1, 1], pan: [90, -90], reach: 10, tail: 5, z: [9, 3], tilt: [40, 20] },
      }),
    ).toEqual([
      'Room plug, Corners rounded by: found 9; expected at most half the smaller side.',
      'Room plug, From height and To height: found 10, 5; expected a lower height that is not above the upper one.',
      'Room hand, an outline of corners: found [[0, 0], [10, 10], [10, 0], [0, 10]]; expected a simple contour: the edges that start at Corner 1 and Corner 3 meet.',
      'Contacts: found none; expected one block or more.',
      'A head that turns, Turns from, degrees and Turns to, degrees: found 90, -90; expected a first angle below the second, and at most 360 degrees between them.',
      'A head that turns, Moves from height and Moves up to height: found 9, 3; expected a lower height that is not above the upper one.',
      'A head that turns, Tilts from, degrees and Tilts to, degrees: found 40, 20; expected a first angle that is not above the second, both from -180 to 180.',
    ])
  })

  it('names each field of a part by a label that its form has', () => {
    const opened = files.open(text(), 'moss.json')
    if (opened.kind !== 'opened') throw new Error('the sample is broken')
    const here = createDeckwright(files, handPool().pool, opened.doc)
    let looked = 0
    for (const more of whole) {
      const draft = part(more)
      expect(footprintProblems(draft)).toEqual([])
      const form = renderToStaticMarkup(
        <Here value={here}>
          <Desk value={createPartsDesk(() => undefined)}>
            <FootprintEditor describing={{ draft }} />
          </Desk>
        </Here>,
      ).replaceAll('&#x27;', '’')
      for (const path of leaves(draft)) {
        if (path[0] === 'format' || path[0] === 'version') continue
        const called = fieldCalled(draft, path)
        // Its last words: what stands before them is the row or the title.
        const label = ['', ...called.split(', ').map((_, k, all) => all.slice(-1 - k).join(', '))].findLast(
          (l) => l !== '' && form.includes(`>${l}<`),
        )
        expect([path.join('.'), called, label !== undefined]).toEqual([path.join('.'), called, true])
        looked++
      }
    }
    here.end()
    expect(looked).toBeGreaterThan(120)
  })

  it('is told so of every part of the library too', () => {
    for (const footprint of loadLibrary().values())
      for (const path of leaves(footprint))
        if (path[0] !== 'format' && path[0] !== 'version') {
          const called = fieldCalled(footprint, path)
          expect([path, called === words.footprint.part]).toEqual([path, false])
        }
    expect(fieldCalled({}, [])).toBe('The part')
  })
})
