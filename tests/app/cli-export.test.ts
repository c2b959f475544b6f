/** `export` as it is typed: every kind of file, read back by a reader that is not ours, and what is refused. */
import { execFileSync } from 'node:child_process'
import { existsSync, mkdirSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { parse } from 'csv-parse/sync'
import DxfParser from 'dxf-parser'
import { validateBytes, validateString } from 'gltf-validator'
import { PNG } from 'pngjs'
import { afterAll, describe, expect, it } from 'vitest'
import { cautions } from '../../src/export/cautions.ts'
import { reading } from '../export/pdf-read.ts'
import { asked, bin, byHand, folder, LONG, plate, root, run, told, tower } from './cli.ts'

const here = folder()
afterAll(here.remove)
const file = (name: string): string => join(here.path, name)
const rows = (name: string): Record<string, string>[] =>
  parse<Record<string, string>>(readFileSync(file(name), 'utf8'), { columns: true })

const project = here.put('plate.json', plate())
const layout = here.put('layout.json', byHand())
const high = tower()
high.decks[1]!.outline = { rect: [5, 2, 60, 30] }
const two = here.put('tower.json', {
  ...high,
  wires: [{ id: 'up', from: { item: 'one', terminal: 't' }, to: { item: 'two', terminal: 't' }, loop: 5 }],
  passes: [{ id: 'pass', decks: ['main', 'upper'], at: [10, 5] }],
  variants: [{ id: 'near' }, { id: 'far', name: 'the far one' }],
})
const on = (variant: string, x: number, y = 20): unknown => ({
  format: 'deckwright-layout',
  version: 1,
  variant,
  placements: [
    { item: 'one', deck: 'main', at: [30, 10] },
    { item: 'two', deck: 'upper', at: [x, y] },
  ],
})
const near = here.put('near.json', on('near', 20))
const far = here.put('far.json', on('far', 40))
const off = here.put('off.json', on('far', 60))

const KINDS = ['svg', 'dxf', 'pdf', 'drill', 'hardware', 'wires', 'bill', 'headers', 'gltf', 'png', 'png-3d']

describe('export', () => {
  it('writes every kind of file in one go: one a deck of what is made of a deck, one of all else', async () => {
    const out = file('all')
    mkdirSync(out)
    const asked = KINDS.flatMap((kind) => [`--${kind}`, join(out, `${kind}.x`)])
    const ran = await run(['export', two, near, ...asked])
    expect(ran).toMatchObject({ code: 0, out: '' })
    const each = ['svg', 'dxf', 'drill']
    const names = KINDS.flatMap((k) => (each.includes(k) ? [`${k}-main.x`, `${k}-upper.x`] : [`${k}.x`]))
    expect(readdirSync(out).sort()).toEqual(names.sort())

    const read = (name: string): Buffer => readFileSync(join(out, name))
    const circles = new DxfParser()
      .parseSync(read('dxf-upper.x').toString())!
      .entities.filter((e) => e.layer === 'DRILL')
    expect(circles).toHaveLength(2)
    expect((await validateBytes(read('gltf.x'))).issues.messages).toEqual([])
    for (const png of ['png.x', 'png-3d.x']) {
      const { data } = PNG.sync.read(read(png))
      // More than the paper alone.
      expect(new Set(new Uint32Array(data.buffer, data.byteOffset, data.length / 4)).size).toBeGreaterThan(10)
    }
    await reading(read('pdf.x'), async (pages) => {
      // ISO 216 A4: 210 × 297 mm.
      expect((pages[0]!.width / 72) * 25.4).toBeCloseTo(210, 2)
      const text = pages.map((p) => p.text).join('\n')
      for (const word of ['main', 'upper', 'Assembly', '100 mm', 'Wear eye protection.']) expect(text).toContain(word)
    })
    // Hole a of the tile is at (4, 5) of it, and the tile on the upper deck at (20, 20); the deck's corner is at (5, 2).
    const drill = rows('all/drill-upper.x')
    expect(
      drill.map((r) => [r['x mm'], r['y mm'], r['from left mm'], r['from lower edge mm'], r['diameter mm']]),
    ).toEqual([
      ['24', '25', '19', '23', '3.2'],
      ['36', '25', '31', '23', '3.2'],
    ])
    expect(drill[0]!.datum).toBe(
      "0,0 lies 5 mm to the left of and 2 mm below the lower-left corner of the outline's bounding box.",
    )
    expect(rows('all/bill.x').map((r) => [r.count, r.id])).toEqual([
      ['1', 'main'],
      ['1', 'upper'],
      ['2', 'tile'],
    ])
    expect(rows('all/hardware.x').length).toBeGreaterThan(0)
    expect(rows('all/headers.x')).toEqual([])
  })

  it('says where a drill table measures from, what of it is there already, and how to stay whole', async () => {
    const ran = await asked(['export', project, layout, '--drill', '-'])
    expect(ran.code).toBe(0)
    expect(parse(ran.out, { columns: true })).toHaveLength(4)
    expect(ran.err).toContain('main: reuses 0 holes, needs 4 new')
    expect(ran.err).toContain("0,0 lies on the lower-left corner of the outline's bounding box.")
    for (const caution of cautions) expect(ran.err).toContain(caution)
  })

  it('gives the longest cut of each wire over the layouts of other variants', async () => {
    const cut = async (...args: string[]) => {
      expect(await asked(['export', two, near, '--wires', file('w.csv'), ...args])).toMatchObject({ code: 0, out: '' })
      const [row] = rows('w.csv')
      return [row!['cut length mm'], row!['longest cut over the variants mm'], row!['longest in']]
    }
    // From (30, 15) to the pass at (10, 5), 40 mm up, to (20, 25); 5 mm of loop. In the other variant the end is at (40, 25).
    expect(await cut()).toEqual(['105', '105', 'near'])
    expect(await cut('--with', far)).toEqual(['105', '125', 'far'])
  })

  it('hands out binary files on standard output byte for byte', async () => {
    const typed = (...args: string[]): Buffer =>
      execFileSync(process.execPath, [bin, 'export', two, near, ...args], { stdio: ['ignore', 'pipe', 'ignore'] })
    const bytes = typed('--pdf', '-', '--gltf', file('same.glb'))
    if (LONG) typed('--pdf', file('same.pdf'))
    else await told(['export', two, near, '--pdf', file('same.pdf')])
    expect(bytes.equals(readFileSync(file('same.pdf')))).toBe(true)
    expect(readFileSync(file('same.glb')).subarray(0, 4).toString()).toBe('glTF')
  })

  it('starts without the writers: they are fetched when a file is asked for', () => {
    const seen = new Set<string>()
    const visit = (name: string): void => {
      if (seen.has(name)) return
      seen.add(name)
      const text = readFileSync(join(root, 'dist/cli', name), 'utf8')
      for (const m of text.matchAll(/^import (?:[^;]* from )?"\.\/([^"]+)";$/gm)) visit(m[1]!)
    }
    visit('deckwright.js')
    expect(seen.size).toBeGreaterThan(1)
    for (const late of ['export-files.js', 'pdf.js', 'gltf.js', 'picture.js']) {
      expect(existsSync(join(root, 'dist/cli', late)), late).toBe(true)
      expect([...seen]).not.toContain(late)
    }
  })
})

describe('export, in this process', () => {
  const typed = (...args: string[]) => told(['export', ...args])

  it('takes one deck to exactly its file, and into the pages of the PDF', async () => {
    const args = ['--drill', file('just'), '--pdf', file('up.pdf'), '--pdf-parts', 'template', '--paper', 'Letter']
    expect((await typed(two, near, ...args, '--deck', 'upper')).code).toBe(0)
    expect(rows('just')).toHaveLength(2)
    await reading(readFileSync(file('up.pdf')), async (pages) => {
      // Letter: 8.5 in wide (from memory).
      expect(pages[0]!.width / 72).toBeCloseTo(8.5, 3)
      expect(pages.map((p) => p.text).join()).not.toMatch(/deck main|Assembly/)
    })
  })

  it('draws one deck or all in the picture of the plan', async () => {
    expect((await typed(two, near, '--png', file('all.png'))).code).toBe(0)
    expect((await typed(two, near, '--png', file('one.png'), '--deck', 'main')).code).toBe(0)
    const [all, one] = ['all.png', 'one.png'].map((f) => PNG.sync.read(readFileSync(file(f))))
    expect(all!.width * all!.height).toBeGreaterThan(1.2 * one!.width * one!.height)
  })

  it('writes glTF as text where the name says so', async () => {
    expect((await typed(two, near, '--gltf', file('robot.GLTF'))).code).toBe(0)
    const report = await validateString(readFileSync(file('robot.GLTF'), 'utf8'))
    expect(report.issues.messages).toEqual([])
  })

  it('refuses where the layout of another variant breaks a rule, and says which', async () => {
    const ran = await typed(two, near, '--wires', file('n'), '--with', off)
    expect(ran.code).toBe(1)
    expect(ran.err).toMatch(/The layout .*off\.json breaks rules/)
    expect(existsSync(file('n'))).toBe(false)
  })

  const n = file('n')
  it('names the decks whose files would have one name, and no other', async () => {
    const renamed = (path: string): string =>
      readFileSync(path, 'utf8').replaceAll('"main"', '"a/b"').replaceAll('"upper"', '"A_b"')
    const robot = JSON.parse(renamed(two))
    robot.decks.push({ ...robot.decks[0], id: 'third', z: 900 })
    const args = [here.put('alike.json', robot), here.put('alike-near.json', JSON.parse(renamed(near)))]
    const ran = await typed(...args, '--svg', n)
    expect(ran.err).toContain('--svg: the decks a/b, A_b would get the same file name, expected --deck for each')
    expect(ran).toMatchObject({ code: 2, out: '' })
  })

  const bad: [string, string[], string][] = [
    ['kerf without a drawing', ['--pdf', n, '--kerf', '0.2'], '--kerf: found without --svg F or --dxf F'],
    ['pens without an SVG', ['--dxf', n, '--stroke', 'cut=red'], '--stroke: found without --svg F, expected it beside'],
    [
      'a deck of no deck',
      ['--bill', n, '--deck', 'main'],
      '--deck: found without --svg F, --dxf F, --pdf F, --drill F or --png F',
    ],
    [
      'a deck that is not there',
      ['--drill', n, '--deck', 'mian'],
      '--deck: found "mian", expected one of "main", "upper"',
    ],
    ['variants for no list', ['--bill', n, '--with', far], '--with: found without --wires F or --pdf F'],
    ['another paper', ['--pdf', n, '--paper', 'a3'], '--paper: found "a3", expected one of "a4", "letter"'],
    [
      'other parts',
      ['--pdf', n, '--pdf-parts', 'template,cover'],
      '--pdf-parts: found "cover", expected one of "template"',
    ],
    ['two tables in one', ['--bill', n, '--wires', `${n}`], 'which --wires writes, expected another file'],
    [
      'a table of each deck on standard output',
      ['--drill', '-'],
      '--drill: found -, expected a file, or one deck of main, upper',
    ],
    [
      'a folder for a table of each deck',
      ['--drill', `${here.path}/`],
      'which is a folder, expected the name of a file',
    ],
    ['two files on standard output', ['--pdf', '-', '--png', '-'], 'found - twice'],
    ['a layout that is missing', ['--wires', n, '--with', file('none.json')], 'none.json: cannot be read'],
    ['a layout of no variant', ['--wires', n, '--with', layout], 'layout.json:4:14: variant: found "wide"'],
    ['a file that is read', ['--wires', far, '--with', far], '--wires: found'],
    ['a folder that is missing, whatever else is asked for', ['--bill', n, '--pdf', file('no/p.pdf')], '--pdf: found'],
  ]
  it.each(bad)('refuses %s, and writes nothing', async (_, args, says) => {
    const before = readFileSync(far, 'utf8')
    const ran = await typed(two, near, ...args)
    expect(ran.err).toContain(says)
    expect(ran).toMatchObject({ code: 2, out: '' })
    expect(existsSync(n)).toBe(false)
    expect(readFileSync(far, 'utf8')).toBe(before)
  })
})
