/** `bring-in` as it is typed. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { asked as ask, folder, plate, root, run, some } from './cli.ts'

const files = folder()
afterAll(files.remove)

const svg = (body: string, size = 'width="90mm" height="50mm"'): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" ${size} viewBox="0 0 90 50">${body}</svg>`
const body =
  '<rect x="10" y="10" width="70" height="30" rx="3"/><circle cx="15" cy="15" r="1.6"/><path d="M30 20h10v5h-10.05v-5"/><text>x</text>'

describe('bring-in', () => {
  it('prints a deck, and tells what it did', async () => {
    const drawing = files.put('plate.svg', svg(body))
    const ran = await run(['bring-in', drawing, '--z', '40'])
    expect(ran.code).toBe(0)
    expect(JSON.parse(ran.out)).toEqual({
      id: 'deck',
      z: 40,
      thickness: 3,
      outline: { rect: [0, 0, 70, 30], radius: 3 },
      openings: [{ id: 'opening-1', shape: { rect: [19.95, 15, 10.05, 5] } }],
      holes: [{ id: 'hole-1', at: [5, 25], diameter: 3.2 }],
    })
    expect(ran.err).toContain('one unit of the drawing is 1 mm, as the file says')
    expect(ran.err).toMatch(/closed a gap of 0\.05 mm at \(29\.975, 30\) of the drawing, line 1/)
    expect(ran.err).toContain('not used: <text> (line 1): text cannot be cut')
    expect(ran.err).toContain('assumed: thickness 3')
  })

  it('puts a deck into a project in place of an old one, which then solves', async () => {
    const project = files.put('project.json', plate())
    const drawing = files.put('plate.svg', svg(body))
    const out = join(files.path, 'new.json')
    const ran = await ask(['bring-in', drawing, '--into', project, '--deck', 'main', '--out', out])
    expect(ran.err).toContain('variant "tight" still gives this deck an outline of its own')
    expect(ran.code).toBe(0)
    expect(ran.out).toBe('')
    const made = JSON.parse(readFileSync(out, 'utf8'))
    expect(made.decks).toHaveLength(1)
    expect(made.decks[0]).toMatchObject({
      id: 'main',
      z: 40,
      thickness: 3,
      outline: { rect: [0, 0, 70, 30], radius: 3 },
    })
    const solved = await ask(['solve', out, '--steps', '200'])
    expect(solved.code).toBe(0)
  })

  it('asks for the unit, and takes it', async () => {
    const drawing = files.put('bare.svg', svg(body, ''))
    const no = await ask(['bring-in', drawing])
    expect(no.code).toBe(2)
    expect(no.out).toBe('')
    expect(no.err).toContain('--unit')
    expect(no.err).toContain('in (1778 × 762 mm)')
    const yes = await run(['bring-in', '-', '--unit', 'in'], svg(body, ''))
    expect(yes.code).toBe(0)
    expect(JSON.parse(yes.out).outline).toEqual({ rect: [0, 0, 1778, 762], radius: 76.2 })
  })

  it('makes a footprint of a board from several files, and puts it into a project', async () => {
    const boards = join(root, 'tests/fixtures/bring-in/boards')
    const project = files.put('project.json', plate())
    const ran = await ask([
      ...['bring-in', join(boards, 'plain-outline.gbr'), '--with', join(boards, 'plain-NPTH.drl')],
      ...['--board', 'brain', '--height', '12', '--into', project],
    ])
    expect(ran.err).toContain('assumed: ')
    expect(ran.code).toBe(0)
    const { footprints } = JSON.parse(ran.out)
    expect(footprints.map((f: { id: string }) => f.id)).toEqual(['tile', 'brain'])
    expect(footprints[1]).toMatchObject({ kind: 'board', body: { height: 12 }, mount: { kind: 'screw' } })
  })

  it('asks for what a board does not say by the option that says it', async () => {
    const outline = join(root, 'tests/fixtures/bring-in/boards/inch-outline.gbr')
    const text = readFileSync(join(root, 'tests/fixtures/bring-in/boards/inch-tz.drl'), 'utf8')
    const drill = files.put('holes.drl', text.replace('INCH,TZ', ''))
    const asked = ['bring-in', outline, '--with', drill, '--board', 'b']
    const no = await ask(asked)
    expect(no).toMatchObject({ code: 2, out: '' })
    for (const option of ['--unit', '--zeros']) expect(no.err).toContain(`with ${option}`)
    const low = await ask([...asked, '--unit', 'in', '--zeros', 'leading'])
    expect(low).toMatchObject({ code: 2, out: '' })
    expect(low.err).toMatch(/^--height: found no height in the files/m)
    const yes = await ask([...asked, '--unit', 'in', '--zeros', 'leading', '--digits', '2,4', '--height', '9'])
    expect(yes.code).toBe(0)
    // Four holes of 1/8 in, the first at 0.15, 0.15 in.
    const { holes } = JSON.parse(yes.out).mount
    expect(holes).toHaveLength(4)
    expect(holes[0]).toMatchObject({ diameter: 3.175, at: [3.81, 3.81] })
    const bad = await ask([...asked, '--unit', 'cm', '--zeros', 'both', '--digits', '3'])
    for (const option of ['--unit', '--zeros', '--digits']) expect(bad.err).toContain(`${option}: found`)
  })

  it('refuses bad input with all that is wrong, and writes nothing', async () => {
    const project = files.put('project.json', plate())
    const drawing = files.put('plate.svg', svg(body))
    const rows: [string[], string][] = [
      [['bring-in'], 'DRAWING: found nothing, expected a drawing or board file'],
      [['bring-in', drawing, '--unit', 'ell'], '--unit: found "ell", expected one of mm, cm'],
      [['bring-in', drawing, '--into', project], '--deck: found nothing, expected one of main'],
      [['bring-in', drawing, '--height', '3'], '--height: found it, expected --board ID with it'],
      [['bring-in', drawing, '--layer', 'cutt'], 'found "cutt", expected a layer'],
      [['bring-in', drawing, '--board', 'b'], 'plate.svg'],
      [['bring-in', join(files.path, 'none.dxf')], 'cannot be read'],
    ]
    for (const [row, [args, said]] of rows.entries()) {
      const ran = await some(row)(args)
      expect(ran.err).toContain(said)
      expect(ran.code).toBe(2)
      expect(ran.out).toBe('')
    }
  })

  const measures = join(root, 'tests/fixtures/bring-in/measures/plate.json')

  it('makes a deck of measures, with how sure each is on stderr', async () => {
    const ran = await ask(['bring-in', measures, '--measures'])
    expect(ran.code).toBe(0)
    const deck = JSON.parse(ran.out)
    // The fixture's invented plate: 140 × 90, read to some 0.05.
    expect(Math.abs(deck.outline.rect[2] - 140)).toBeLessThan(0.1)
    expect(deck.holes.map((h: { id: string }) => h.id)).toEqual(['post-1', 'post-2', 'cable'])
    expect(ran.err).toMatch(/post-1: x 9\.\d+ ± 0\.\d+/)
    const into = await ask(['bring-in', measures, '--measures', '--into', files.put('p.json', plate()), '--out', '-'])
    expect(JSON.parse(into.out).decks.map((d: { id: string }) => d.id)).toEqual(['main', deck.id])
  })

  it('refuses measures that leave a place open, and says which', async () => {
    const open = JSON.parse(readFileSync(measures, 'utf8'))
    open.measures = open.measures.filter((m: { from: string; to?: string }) => ![m.from, m.to].includes('cable'))
    const ran = await ask(['bring-in', files.put('open.json', open), '--measures'])
    expect(ran).toMatchObject({ code: 2, out: '' })
    expect(ran.err).toMatch(/open\.json: cable.*the measures do not say where/)
    expect((await ask(['bring-in', measures])).err).toContain('a file of measures is read with --measures')
    const both = await ask(['bring-in', measures, '--measures', '--board', 'x', '--z', '3'])
    expect(both.err).toContain('--measures: found together with --board')
  })
})
