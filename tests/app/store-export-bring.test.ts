/** What the page makes of drawings, boards and measures, and what it reads back of its own files. */
import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import { solve } from '../../solver/index.ts'
import { dxf, template } from '../../src/export/index.ts'
import { TAB_WIDTH } from '../../src/export/tabs.ts'
import { ownPlates } from '../../src/model/edit-deck-variant.ts'
import type { ProjectDeck } from '../../src/model/index.ts'
import { type Project, readProject, toProblem, writeProject } from '../../src/model/index.ts'
import { boardAsks, boardFrom, deckFrom, measuresFrom, withDeck, withFootprint } from '../../src/panels/bring-files.ts'
import { dxfView, pathOf } from '../../src/panels/export-dxf-view.ts'
import type { Asked } from '../../src/panels/export-files.ts'
import { solidView } from '../../src/panels/export-solid-view.ts'
import { filesOf } from '../../src/panels/export-write.ts'
import { numberIn, wrongLength, wrongNumber } from '../../src/panels/typed.ts'
import { SHOP } from '../../src/store/export-settings.ts'
import { viewOf } from '../../src/store/view.ts'
import { solvedSample } from './store-sample.ts'

const old: ProjectDeck = {
  id: 'main',
  name: 'old plate',
  z: 55,
  thickness: 4,
  outline: { rect: [10, 20, 50, 40] },
  openings: [{ id: 'gone', shape: { rect: [20, 30, 5, 5] } }],
  material: 'plywood',
}

const around: Project = {
  format: 'deckwright-project',
  version: 1,
  units: 'mm',
  name: 'Moss minder',
  decks: [old],
  items: [],
  variants: [{ id: 'plain' }, { id: 'own', decks: { main: { holes: [] } } }],
}

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text)
const svg = (head: string, inner: string) => ({
  name: 'mine.svg',
  bytes: bytes(`<svg xmlns="http://www.w3.org/2000/svg" ${head}>${inner}</svg>`),
})
const fixture = (path: string): Uint8Array =>
  new Uint8Array(readFileSync(new URL(`../fixtures/bring-in/${path}`, import.meta.url)))
const sound = (project: Project) => readProject(writeProject(project), 'p.json', loadLibrary())

describe('a deck from a drawing', () => {
  const plate = '<rect width="60" height="30"/><circle cx="10" cy="10" r="1.6"/>'

  it('asks for the unit where the file does not say it, with sizes to choose by', () => {
    const got = deckFrom(svg('', plate), old, {})
    expect(got.kind).toBe('unit')
    if (got.kind === 'unit') expect(got.text).toMatch(/does not say what its unit is.*mm \(60 × 30 mm\)/)
    if (got.kind === 'unit') expect(got.text).not.toContain('--')
  })

  it('takes the place of the old one at its corner, and leaves height, name and material', () => {
    const got = deckFrom(svg('', plate), old, { unit: 'mm' })
    if (got.kind !== 'deck') throw new Error(got.kind)
    expect(got.lines[0]).toBe('60 × 30 mm, 0 openings, 1 hole.')
    const project = withDeck(around, got.deck)
    const [deck] = project.decks
    expect(deck).toMatchObject({ id: 'main', name: 'old plate', z: 55, thickness: 4, material: 'plywood' })
    expect(deck!.outline).toEqual({ rect: [10, 20, 60, 30] })
    // Down in the drawing is to the back: 20 + 30 − 10.
    expect(deck!.holes).toEqual([{ id: 'hole-1', at: [20, 40], diameter: 3.2 }])
    expect(deck!.openings).toBeUndefined()
    expect(sound(project).ok).toBe(true)
    expect(ownPlates(project, 'main')).toEqual(['own'])
  })

  it('asks which of several outlines it is', () => {
    const two = svg('', `${plate}<rect x="80" width="20" height="20"/>`)
    const got = deckFrom(two, old, { unit: 'mm' })
    expect(got.kind).toBe('outline')
    const second = deckFrom(two, old, { unit: 'mm', outline: 2 })
    if (second.kind !== 'deck') throw new Error(second.kind)
    expect(second.deck.outline).toEqual({ rect: [10, 20, 20, 20] })
    expect(second.lines.join(' ')).toContain('Not used')
  })

  it('says why a file is of no use', () => {
    const got = deckFrom({ name: 'notes.txt', bytes: bytes('buy screws') }, old, {})
    expect(got).toMatchObject({ kind: 'refused', problems: [{ file: 'notes.txt', found: '"buy screws"' }] })
  })
})

describe('a board from its files', () => {
  it('becomes a footprint of the project, and an item where that is wanted', () => {
    const files = ['notched.emn', 'notched.emp'].map((name) => ({ name, bytes: fixture(`boards/${name}`) }))
    const got = boardFrom(files, 'sensor-board', undefined)
    if (got.kind !== 'footprint') throw new Error(JSON.stringify(got))
    expect(got.footprint.id).toBe('sensor-board')
    const placed = withFootprint(around, got.footprint, true)
    expect(placed.items).toEqual([{ id: 'sensor-board', footprint: 'sensor-board' }])
    expect(sound(placed).ok).toBe(true)
    const again = withFootprint(placed, got.footprint, false)
    expect(again.footprints).toHaveLength(1)
    expect(again.items).toHaveLength(1)
  })

  it('asks what its numbers mean where its files do not say', () => {
    const drill = new TextDecoder().decode(fixture('boards/inch-tz.drl')).replace('INCH,TZ', '')
    const files = [
      { name: 'outline.gbr', bytes: fixture('boards/inch-outline.gbr') },
      { name: 'holes.drl', bytes: bytes(drill) },
    ]
    expect(boardAsks(boardFrom(files, 'b', 9))).toEqual({ units: true, zeros: true })
    expect(boardAsks(boardFrom(files, 'b', 9, { units: 'inch' }))).toEqual({ units: false, zeros: true })
    const got = boardFrom(files, 'b', 9, { units: 'inch', suppressed: 'leading' })
    expect(got.kind).toBe('footprint')
    expect(boardAsks(got)).toEqual({ units: false, zeros: false })
  })

  it('is refused without its height, where no file gives one', () => {
    const files = ['plain-outline.gbr', 'plain-NPTH.drl'].map((name) => ({ name, bytes: fixture(`boards/${name}`) }))
    expect(boardFrom(files, 'b', undefined).kind).toBe('refused')
    expect(boardFrom(files, 'b', 9).kind).toBe('footprint')
  })
})

it('measures by caliper become a deck or a footprint, and say how well they fit', () => {
  const got = measuresFrom({ name: 'plate.json', bytes: fixture('measures/plate.json') }, old)
  if (got.kind !== 'deck') throw new Error(got.kind)
  expect(got.deck.id).toBe('main')
  expect(got.lines.length).toBeGreaterThan(3)
  expect(sound(withDeck(around, got.deck)).ok).toBe(true)
})

describe('files read back for their previews', () => {
  const asked = async (): Promise<Asked> => {
    const { store } = await solvedSample()
    return { view: viewOf(store.getState(), 0)!, file: 'moss.json', shop: SHOP, asMade: false, others: [] }
  }

  it('DXF, old and new, has on each layer what the drawing has', async () => {
    const { view } = await asked()
    const drawing = template(view.problem, view.placements, 0)
    for (const version of ['r2000', 'r12'] as const) {
      const back = dxfView(dxf(drawing, { version }))
      const layer = (name: string) => back.layers.find((l) => l.name === name)
      expect(back.unit).toBe('mm')
      expect(layer('CUT')!.lines).toHaveLength(drawing.cut.length)
      expect(layer('MARK')!.lines).toHaveLength(drawing.mark.length)
      expect(layer('NOTES')!.texts).toHaveLength(drawing.notes.texts.length)
      const { x0, x1 } = drawing.view
      // Nothing that is drawn lies beyond the drawing's own view; the preview has 4 mm around it.
      expect(back.box[0] + 4).toBeGreaterThanOrEqual(x0)
      expect(back.box[0] + back.box[2] - 4).toBeLessThanOrEqual(x1)
    }
  })

  it('DXF is shown whole where arcs reach beyond all corners', () => {
    // A sector from the lower left round over the top to the lower right, of radius 400 about 0,0.
    const outline = { sector: [0, 0, 400, -30, 210] as [number, number, number, number, number] }
    const read = sound({ ...around, decks: [{ id: 'main', z: 55, thickness: 4, outline }], variants: [] })
    if (!read.ok) throw new Error('unsound')
    const problem = toProblem(read.value, 'base', loadLibrary())
    const [x, y, w] = dxfView(dxf(template(problem, [], 0))).box
    expect(y).toBeLessThanOrEqual(-400)
    expect(x + w).toBeGreaterThanOrEqual(400)
  })

  it('arcs bend the way their bulge says, and the larger part where it is larger', () => {
    // A half circle from (0,0) to (2,0), anticlockwise: under the line with y up, over it in numbers that grow downwards.
    const points = [
      { x: 0, y: 0, bulge: 1 },
      { x: 2, y: 0, bulge: 0 },
    ]
    expect(pathOf({ points, closed: false })).toBe('M0 0A1 1 0 0 0 2 0')
    const large = pathOf({ points: [{ x: 0, y: 0, bulge: -2 }, points[1]!], closed: false })
    // Half the chord over the sine of half the sweep: r = (1 + b²)·chord/(4·b) = 5·2/8.
    const [, r, flags] = /^M0 0A(\S+) \S+ 0 (1 1) 2 0$/.exec(large)!
    expect(Number(r)).toBeCloseTo(1.25, 9)
    expect(flags).toBe('1 1')
  })

  it('glTF names every deck, item and wire', async () => {
    const a = await asked()
    const [made] = await filesOf('gltf', a)
    const back = solidView(made!.data as Uint8Array)
    expect(back.parts).toEqual(['deck main', 'one', 'two', 'board', 'peg', 'wire link'])
    expect(back.triangles).toBeGreaterThan(12 * 4)
    expect(back.bytes).toBe(made!.data.length)
  })

  it('tables show the rows that the file has, wires with their longest over the variants', async () => {
    const a = await asked()
    const { problem } = a.view
    const found = solve(problem)
    if (!('placements' in found)) throw new Error(found.status)
    const made = await filesOf('tables', { ...a, others: [{ id: 'bare', problem, placements: found.placements }] })
    for (const { shows, data } of made) {
      if (shows.kind !== 'table') throw new Error(shows.kind)
      expect(String(data).split('\r\n')).toHaveLength(shows.rows.length + 2)
      expect(String(data).split('\r\n')[0]!.split(',')).toHaveLength(shows.columns.length)
    }
    expect(made.map((m) => m.name)).toContain('moss-whole-wires.csv')
    // A file travels alone, so each row says what it measures from, as the command's file does.
    expect(made.find((m) => m.name === 'moss-whole-drill.csv')!.shows).toMatchObject({
      columns: expect.arrayContaining(['datum']),
    })
  })
})

it('a tab is as wide on the page as on the command line, where nobody says', () => {
  expect(SHOP.tabWidth).toBe(TAB_WIDTH)
})

it('typed numbers are taken with a point or a comma, and said to be wrong in words', () => {
  expect(['1,5', ' 2.25 ', '-3', '.5', '5.'].map(numberIn)).toEqual([1.5, 2.25, -3, 0.5, 5])
  for (const text of ['', '1e3', '0x10', '1.2.3', '1 2', 'Infinity', '-']) expect(numberIn(text)).toBeUndefined()
  expect(wrongNumber('3', { least: 0, most: 3 })).toBeUndefined()
  expect(wrongNumber('', { least: 0, most: 3 })).toBe('Nothing stands here; needed is a number from 0 to 3.')
  expect(wrongNumber('1.5', { least: 0, most: 3, whole: true })).toContain('a whole number from 0 to 3')
  expect(wrongLength('2 cm', { least: 0, most: 20 })).toBeUndefined()
  expect(wrongLength(' ')).toMatch(/^Nothing stands here; needed is a length such as /)
  expect(wrongLength('3 cm', { least: 0, most: 20 })).toBe('This is “3 cm”; needed is 0 to 20 mm.')
})
