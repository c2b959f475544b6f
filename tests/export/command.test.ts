/** `export` with the options of SVG and DXF, run as the command runs it, in this process. */
import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import DxfParser from 'dxf-parser'
import { afterAll, describe, expect, it } from 'vitest'
import { main } from '../../src/cli/main.ts'
import { byHand, folder, plate, standing, tower } from '../app/cli.ts'

const here = folder()
afterAll(here.remove)
const project = here.put('plate.json', plate())
const layout = here.put('layout.json', byHand())
const two = here.put('tower.json', tower())
const stand = here.put('stand.json', standing())
const file = (name: string): string => join(here.path, name)
const read = (name: string): string => readFileSync(file(name), 'utf8')

async function run(...args: string[]): Promise<{ code: number; out: string; err: string }> {
  let [out, err] = ['', '']
  const code = await main(['export', ...args], {
    out: (text) => {
      out += text
    },
    err: (line) => {
      err += `${line}\n`
    },
  })
  return { code, out, err }
}

describe('export', () => {
  it('writes SVG and DXF of one layout in one go, one file a deck', async () => {
    expect(await run(two, stand, '--svg', file('a.svg'), '--dxf', file('a.dxf'))).toMatchObject({ code: 0, out: '' })
    for (const name of ['a-main.svg', 'a-upper.svg', 'a-main.dxf', 'a-upper.dxf'])
      expect(existsSync(file(name))).toBe(true)
    const circles = new DxfParser().parseSync(read('a-upper.dxf'))!.entities.filter((e) => e.type === 'CIRCLE')
    expect(circles.map((e) => e.layer)).toEqual(['DRILL', 'DRILL'])
  })

  it('writes DXF alone, as R12 too, and to standard output', async () => {
    const old = await run(project, layout, '--dxf', '-', '--dxf-version', 'R12')
    expect(old.code).toBe(0)
    expect(old.out).toContain('AC1009')
    expect((await run(project, layout, '--dxf', '-')).out).toContain('AC1015')
  })

  it('draws all decks into exactly one file with --sheet', async () => {
    expect((await run(two, stand, '--svg', file('all.svg'), '--dxf', file('all.dxf'), '--sheet')).code).toBe(0)
    expect(read('all.svg').match(/<g id="cut"/g)).toHaveLength(1)
    expect(read('all.svg')).toContain('>deck upper<')
    expect(new DxfParser().parseSync(read('all.dxf'))!.entities.filter((e) => e.layer === 'CUT')).toHaveLength(2)
    expect(existsSync(file('all-main.svg'))).toBe(false)
  })

  it('takes laser holes, marks as paths and tabs', async () => {
    await run(
      project,
      layout,
      '--svg',
      file('o.svg'),
      '--laser-holes',
      '--marks-as-paths',
      '--tabs',
      '2,1',
      '--kerf',
      '0.2',
    )
    const text = read('o.svg')
    expect(text.match(/r="1\.5"/g)).toHaveLength(4)
    expect(text).toMatch(/<g id="drill"[^>]*>\s*<\/g>/)
    expect(text).not.toContain('>one<')
    expect(text).toContain('up to 2 of 1 mm')
  })

  const bad: [string, string[], string][] = [
    ['nothing to write', [], '--svg: found nothing, expected at least one of --svg F, --dxf F'],
    ['too many tabs', ['--svg', file('n'), '--tabs', '99'], '--tabs: found "99", expected N or N,WIDTH like 4,1.5'],
    ['tabs of no width', ['--svg', file('n'), '--tabs', '3,0'], '--tabs: found "3,0"'],
    ['tabs in words', ['--svg', file('n'), '--tabs', 'many'], '--tabs: found "many"'],
    ['another version', ['--dxf', file('n'), '--dxf-version', 'r14'], '--dxf-version: found "r14", expected one of'],
    ['a version of no file', ['--svg', file('n'), '--dxf-version', 'r12'], '--dxf-version: found without --dxf'],
    ['a sheet of one deck', ['--svg', file('n'), '--sheet', '--deck', 'main'], '--sheet: found together with --deck'],
    ['two files in one', ['--svg', file('n'), '--dxf', `${here.path}/./n`], 'which --svg writes'],
    ['two to standard output', ['--svg', '-', '--dxf', '-'], 'found - twice'],
    ['a hole that the kerf fills', ['--svg', file('n'), '--laser-holes', '--kerf', '4'], 'a hole of'],
  ]
  for (const [what, args, says] of bad) {
    it(`refuses ${what}, and writes nothing`, async () => {
      const ran = await run(project, layout, ...args)
      expect(ran.code).toBe(2)
      expect(ran.err).toContain(says)
      expect(ran.out).toBe('')
      expect(existsSync(file('n'))).toBe(false)
    })
  }

  it('refuses an illegal layout, whatever the format', async () => {
    const over = byHand()
    over.placements[0]!.at = [8, 10]
    const ran = await run(project, here.put('over.json', over), '--dxf', file('n'))
    expect(ran.code).toBe(1)
    expect(existsSync(file('n'))).toBe(false)
  })
})
